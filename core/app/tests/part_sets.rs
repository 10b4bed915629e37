//! The parts of a gearbox kept by its name, and what a reading comes to in one word.

#![allow(clippy::expect_used, clippy::panic, clippy::unwrap_used)] // a test stops by panicking

mod bay;
mod taken;

use bay::Bay;
use swarfbook_app::App;
use swarfbook_app::command::Command;
use swarfbook_app::problem::Problem;
use swarfbook_app::reply::Reply;
use swarfbook_app::view::{PartSet, ReadingCall};
use swarfbook_job::fact::*;
use swarfbook_job::id::{EntryId, JobId};
use taken::taken;

fn solenoid(name: &str) -> Component {
    Component {
        name: name.into(),
        kind: ComponentKind::OnOffSolenoid,
        connector: "grey".into(),
        part_number: "S 100".into(),
        codes: vec!["P0758".into()],
        grounded_by_case: false,
    }
}

fn spec() -> SpecEntered {
    SpecEntered {
        quantity: ReadingKind::Resistance,
        low: Some(11.0),
        high: Some(15.0),
        at_c: Some(20.0),
        source: "invented manual, page 7".into(),
        sensor: None,
    }
}

fn note(bay: &Bay, name: &str) -> EntryId {
    let component = solenoid(name);
    let component = bay.write(Fact::ComponentNoted { component });
    let spec = spec();
    bay.write(Fact::SpecEntered { component, spec });
    component
}

fn sets(answer: Result<Reply, Problem>) -> Vec<PartSet> {
    match answer.unwrap() {
        Reply::PartSets { sets } => sets,
        other => panic!("{other:?}"),
    }
}

fn save(job: JobId, name: &str) -> Command {
    let name = name.into();
    Command::SavePartSet { job, name }
}

#[test]
fn parts_are_kept_by_the_gearbox_with_limits_and_source_for_the_next_job() {
    let bay = Bay::new();
    assert!(
        bay.app.call(save(bay.job, "Invented 6")).is_err(),
        "no part yet"
    );
    note(&bay, "Solenoid A");
    assert!(bay.app.call(save(bay.job, "  ")).is_err(), "no name");
    assert_eq!(sets(bay.app.call(save(bay.job, "Invented 6"))).len(), 1);

    // The same name, however it is written, is the same gearbox.
    note(&bay, "Solenoid B");
    sets(bay.app.call(save(bay.job, " invented 6 ")));
    let bay = bay.again(|dir| App::open(dir).unwrap());
    let kept = sets(bay.app.call(Command::PartSets {}));
    assert_eq!(kept.len(), 1);
    assert_eq!(kept[0].name, "invented 6");
    let names: Vec<_> = kept[0].parts.iter().map(|p| &p.component).collect();
    assert_eq!(names, [&solenoid("Solenoid A"), &solenoid("Solenoid B")]);
    assert!(kept[0].parts.iter().all(|part| part.specs == [spec()]));

    let name = "INVENTED 6".into();
    assert_eq!(sets(bay.app.call(Command::ForgetPartSet { name })), []);
}

#[test]
fn a_reading_comes_to_one_word() {
    let bay = Bay::new();
    let read = |quantity, shown: &str, contact_shown| {
        let component = note(&bay, shown);
        let reading = Reading {
            part_c: Some(20.0),
            part_from: Some(TemperatureFrom::ProbeAtPart),
            contact_shown,
            ..taken(quantity, &[shown; 3])
        };
        bay.insist(Fact::ReadingTaken { component, reading });
        let job = bay.view();
        let part = job.components.iter().find(|one| one.entry == component);
        let reading = part.unwrap().readings[0].clone();
        (reading.call, reading.call_words)
    };
    use ReadingKind::{Insulation, Resistance, Voltage};
    for (quantity, shown, contact, call, word) in [
        (Resistance, "13.1", false, ReadingCall::Good, "in spec"),
        (Resistance, "37.8", false, ReadingCall::Out, "out of spec"),
        (
            Resistance,
            "15.0",
            false,
            ReadingCall::TooClose,
            "too close to call",
        ),
        (Resistance, "OL", false, ReadingCall::Again, "take it again"),
        (Resistance, "OL", true, ReadingCall::Open, "open"),
        (Insulation, "12.0", true, ReadingCall::Short, "short"),
        (Insulation, "OL", true, ReadingCall::Good, "no path: good"),
        (Voltage, "12.1", false, ReadingCall::NotJudged, "no limits"),
    ] {
        let (is, says) = read(quantity, shown, contact);
        assert_eq!((is, says.as_str()), (call, word), "{quantity:?} {shown}");
    }
}
