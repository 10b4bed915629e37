//! A number that a machine read off a meter's display, at the door: it is judged as a typed one,
//! names the photo that it was read off, and the report says so.

#![allow(clippy::expect_used, clippy::panic, clippy::unwrap_used)] // a test stops by panicking

mod bay;
mod taken;

use bay::Bay;
use swarfbook_app::command::Command;
use swarfbook_app::problem::{Problem, ProblemKind};
use swarfbook_app::reply::Reply;
use swarfbook_app::settings::LastChoices;
use swarfbook_app::view::{JobView, ReadingVerdict};
use swarfbook_job::fact::*;
use swarfbook_job::id::EntryId;
use taken::taken;

impl Bay {
    fn photo(&self, subject: PhotoSubject) -> EntryId {
        let picture = include_bytes!("../../display/tests/photos/7020.jpg");
        let photo = self.app.put_photo(picture).expect("kept");
        let step = "resistance".into();
        self.write(Fact::PhotoTaken {
            step,
            photo,
            subject,
        })
    }

    fn coil(&self) -> EntryId {
        let component = self.write(Fact::ComponentNoted {
            component: Component {
                name: "Solenoid A".into(),
                kind: ComponentKind::OnOffSolenoid,
                connector: String::new(),
                part_number: String::new(),
                codes: Vec::new(),
                grounded_by_case: false,
            },
        });
        let spec = SpecEntered {
            quantity: ReadingKind::Resistance,
            low: Some(20.0),
            high: Some(30.0),
            at_c: None,
            source: "invented manual".into(),
            sensor: None,
        };
        self.write(Fact::SpecEntered { component, spec });
        component
    }
}

fn by_display(component: EntryId, sample: &str, photo: EntryId) -> Fact {
    let mut reading = taken(ReadingKind::Resistance, &[sample; 3]);
    reading.leads = Some("0.2".into());
    reading.display = Some(photo);
    Fact::ReadingTaken { component, reading }
}

#[test]
fn it_is_judged_as_typed_and_the_report_says_who_read_it() {
    let bay = Bay::new();
    let coil = bay.coil();
    let photo = bay.photo(PhotoSubject::Display);
    let (_, view) = bay
        .try_write(by_display(coil, "25.5", photo), false)
        .expect("no doubt");
    let JobView {
        components, recent, ..
    } = *view;
    let reading = components[0].readings.last().expect("a reading");
    assert_eq!(reading.verdict, ReadingVerdict::InSpec, "{reading:?}");
    assert_eq!(reading.display, Some(photo));
    let line = &recent.iter().find(|l| l.words.starts_with("Reading:"));
    let words = &line.expect("its line").words;
    assert!(
        words.contains("(read off the display by the machine)"),
        "{words}"
    );

    let html = bay.preview();
    // Blanks that hold words together, and however the page writes an apostrophe.
    let html = html.replace('\u{a0}', " ").replace('\u{2060}', "");
    for says in [
        "The machine read the number off a photo of the meter",
        "the technician saw it before it was written.",
        "the machine, off a photo of the display; seen by the technician",
        "s display as it was read",
    ] {
        assert!(html.contains(says), "{says}");
    }
}

#[test]
fn only_a_photo_of_a_display_of_this_job_is_named() {
    let bay = Bay::new();
    let coil = bay.coil();
    let other = bay.photo(PhotoSubject::Part);
    let wrong = bay.try_write(by_display(coil, "25.5", other), true);
    assert_eq!(wrong.expect_err("a part").kind, ProblemKind::BadInput);
    let nowhere = bay.try_write(by_display(coil, "25.5", coil), true);
    assert_eq!(nowhere.expect_err("no photo").kind, ProblemKind::NotFound);
}

/// Some meters show what is open as a 1 alone, whatever unit stands beside it.
#[test]
fn a_lone_1_is_asked_about_in_every_unit() {
    let bay = Bay::new();
    let coil = bay.coil();
    let photo = bay.photo(PhotoSubject::Display);
    for sample in ["1", "1k", "1M"] {
        let problem = bay
            .try_write(by_display(coil, sample, photo), false)
            .expect_err("a doubt");
        assert_eq!(problem.kind, ProblemKind::Doubtful);
        assert!(problem.what.contains("lone 1"), "{problem}");
    }
    // Typed with its unit, somebody meant it.
    let mut reading = taken(ReadingKind::Resistance, &["1k"; 3]);
    reading.leads = Some("0.2".into());
    let component = coil;
    let typed = bay.try_write(Fact::ReadingTaken { component, reading }, false);
    assert!(typed.is_ok());
}

impl Bay {
    fn displayed(
        &self,
        component: EntryId,
        samples: &[&str],
        sure: bool,
    ) -> Result<Reply, Problem> {
        let picture = include_bytes!("../../display/tests/photos/7020.jpg");
        let mut reading = taken(ReadingKind::Resistance, samples);
        reading.leads = Some("0.2".into());
        self.app.call(Command::WriteDisplayed {
            job: self.job,
            step: "resistance".into(),
            photo: self.app.put_photo(picture).expect("kept"),
            component,
            reading: Box::new(reading),
            sure,
        })
    }
}

#[test]
fn a_refused_reading_leaves_no_photo_behind() {
    let bay = Bay::new();
    let coil = bay.coil();
    let before = bay.view();
    let refused = bay.displayed(coil, &["twelve"; 3], true);
    assert_eq!(refused.expect_err("no number").kind, ProblemKind::BadInput);
    let doubted = bay.displayed(coil, &["1k"; 3], false);
    assert_eq!(doubted.expect_err("a doubt").kind, ProblemKind::Doubtful);
    assert_eq!(bay.view(), before, "neither the reading nor its photo");

    // Stood by, both are there, and the reading names its photo.
    let Ok(Reply::Written { entry, job }) = bay.displayed(coil, &["1k"; 3], true) else {
        panic!("written")
    };
    let reading = job.components[0].readings.last().expect("a reading");
    assert_eq!(reading.entry, entry);
    let [photo] = &job.photos[..] else {
        panic!("{:?}", job.photos)
    };
    assert_eq!(photo.subject, PhotoSubject::Display);
    assert_eq!(reading.display, Some(photo.entry));
}

#[test]
fn the_next_job_knows_the_unit_and_where_limits_stood() {
    let mut bay = Bay::new();
    assert_eq!(bay.view().last, LastChoices::default());
    let coil = bay.coil();
    let unit = |bay: &Bay| {
        let units = bay.view().last.read_in;
        let words = units
            .into_iter()
            .map(|unit| format!("{:?} {}", unit.kind, unit.symbol));
        words.collect::<Vec<_>>()
    };
    bay.displayed(coil, &["25.5"; 3], true).expect("written");
    assert_eq!(unit(&bay), ["OnOffSolenoid Ω"]);
    // What is open has no unit; the last of like parts counts.
    bay.displayed(coil, &["OL"; 3], true).expect("written");
    assert_eq!(unit(&bay), ["OnOffSolenoid Ω"]);
    bay.displayed(coil, &["2.55k"; 3], true).expect("written");
    let Ok(Reply::Job { job }) = bay.app.call(Command::OpenJob { procedure: None }) else {
        panic!("opened")
    };
    bay.job = job.id;
    assert_eq!(unit(&bay), ["OnOffSolenoid kΩ"]);
    assert_eq!(bay.view().last.source, "invented manual");
}
