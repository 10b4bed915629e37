//! What the bench offers and makes of what is read, at the door.

#![allow(clippy::expect_used, clippy::panic, clippy::unwrap_used)] // a test stops by panicking

mod bay;

use bay::Bay;
use swarfbook_app::App;
use swarfbook_app::command::Command;
use swarfbook_app::reply::Reply;
use swarfbook_app::view::{JobView, NearView, ReadingView};
use swarfbook_job::fact::*;
use swarfbook_job::id::EntryId;
use swarfbook_job::procedure::Evidence;

impl Bay {
    fn write(&self, fact: Fact) -> (EntryId, Box<JobView>) {
        let fact = Box::new(fact);
        let (job, sure) = (self.job, true);
        match self.app.call(Command::Write { job, fact, sure }).unwrap() {
            Reply::Written { entry, job } => (entry, job),
            other => panic!("{other:?}"),
        }
    }

    fn note(&self, name: &str, kind: ComponentKind, number: &str) -> EntryId {
        let component = Component {
            name: name.into(),
            kind,
            connector: String::new(),
            part_number: number.into(),
            codes: Vec::new(),
            grounded_by_case: false,
        };
        self.write(Fact::ComponentNoted { component }).0
    }

    fn read(&self, component: EntryId, reading: Reading) -> ReadingView {
        let (_, view) = self.write(Fact::ReadingTaken { component, reading });
        let mut parts = view.components.into_iter();
        let part = parts.find(|part| part.entry == component).unwrap();
        part.readings.last().unwrap().clone()
    }

    fn near(&self, quantity: ReadingKind) -> Vec<NearView> {
        let Reply::Job { job } = self.app.call(Command::Job { job: self.job }).unwrap() else {
            panic!("no job");
        };
        let mut wants = job
            .stages
            .iter()
            .flat_map(|s| &s.steps)
            .flat_map(|s| &s.wants);
        let of =
            |want: &Evidence| matches!(want, Evidence::Readings { quantity: q } if *q == quantity);
        wants
            .find(|want| of(&want.want.evidence))
            .unwrap()
            .near
            .clone()
    }
}

fn new_job() -> Bay {
    Bay::with(|dir| App::open(dir).unwrap())
}

/// Meters of ± (0.2 % + 2 counts).
fn taken(quantity: ReadingKind, samples: &[&str]) -> Reading {
    Reading {
        quantity,
        samples: samples.iter().map(|s| (*s).to_owned()).collect(),
        leads: None,
        part_c: None,
        meter: MeterUsed {
            name: "Fine meter".into(),
            percent: 0.2,
            counts: 2.0,
        },
        contact_shown: true,
        part_within_k: None,
        part_from: None,
        test_volts: None,
        sibling: None,
        range_top: None,
        guard: None,
    }
}

/// The middle of what like parts read, two digits to either side; from readings of this job,
/// so that nobody is led to the limits.
#[test]
fn numbers_near_like_parts_have_a_key_each_and_come_from_readings_alone() {
    let bay = new_job();
    let parts = ["A", "B", "C"].map(|name| bay.note(name, ComponentKind::OnOffSolenoid, "7"));
    let other = bay.note("Line", ComponentKind::LinearSolenoid, "");
    bay.write(Fact::SpecEntered {
        component: parts[1],
        spec: SpecEntered {
            quantity: ReadingKind::Resistance,
            low: Some(11.0),
            high: Some(15.0),
            at_c: Some(20.0),
            source: "invented sheet".into(),
            sensor: None,
        },
    });
    assert_eq!(
        bay.near(ReadingKind::Resistance),
        [],
        "limits offer nothing"
    );
    let ohms = |typed: &str| taken(ReadingKind::Resistance, &[typed; 3]);
    bay.read(parts[0], ohms("13.1"));
    let typed = ["12.9", "13.0", "13.1", "13.2", "13.3"].map(String::from);
    let near = |component| NearView {
        component,
        typed: typed.to_vec(),
    };
    assert_eq!(
        bay.near(ReadingKind::Resistance),
        [near(parts[1]), near(parts[2])]
    );
    // One that is far off leaves the middle where it was; a part of another kind offers nothing.
    bay.read(parts[1], ohms("37.8"));
    assert_eq!(bay.near(ReadingKind::Resistance), [near(parts[2])]);
    assert!(bay.near(ReadingKind::Insulation).is_empty());
    bay.read(other, ohms("OL"));
    assert_eq!(bay.near(ReadingKind::Resistance), [near(parts[2])]);
}
