//! What the bench offers and makes of what is read, at the door.

#![allow(clippy::expect_used, clippy::panic, clippy::unwrap_used)] // a test stops by panicking

mod bay;
mod taken;

use bay::Bay;
use swarfbook_app::problem::{Problem, ProblemKind};
use swarfbook_app::view::{
    JobView, NearView, ReadingCall, ReadingVerdict, ReadingView, StretchCall, WantView,
};
use swarfbook_job::fact::*;
use swarfbook_job::id::EntryId;
use swarfbook_job::procedure::Evidence;
use taken::taken;

impl Bay {
    fn note(&self, name: &str, kind: ComponentKind, number: &str) -> EntryId {
        let component = Component {
            name: name.into(),
            kind,
            connector: String::new(),
            part_number: number.into(),
            codes: Vec::new(),
            grounded_by_case: false,
        };
        self.write(Fact::ComponentNoted { component })
    }

    fn read(&self, component: EntryId, reading: Reading) -> ReadingView {
        let reading = Fact::ReadingTaken { component, reading };
        let (_, view) = self.try_write(reading, true).unwrap();
        let mut parts = view.components.into_iter();
        let part = parts.find(|part| part.entry == component).unwrap();
        part.readings.last().unwrap().clone()
    }

    fn refused(&self, fact: Fact) -> Problem {
        let answer = self.try_write(fact, true);
        answer.expect_err("must be refused")
    }

    fn limit(&self, component: EntryId, quantity: ReadingKind, low: f64, high: f64) {
        let spec = SpecEntered {
            quantity,
            low: Some(low),
            high: Some(high),
            at_c: None,
            source: "invented sheet".into(),
            sensor: None,
        };
        self.write(Fact::SpecEntered { component, spec });
    }

    fn near(&self, quantity: ReadingKind) -> Vec<NearView> {
        let job = self.view();
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

/// The middle of what like parts read, two digits to either side; from readings of this job,
/// so that nobody is led to the limits.
#[test]
fn numbers_near_like_parts_have_a_key_each_and_come_from_readings_alone() {
    let bay = Bay::new();
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

/// 12.40 V over 0.91 A are 13.63 ohm, over 0.55 A 22.5 (by hand); limits of 11 to 16 ohm, invented.
#[test]
fn volts_and_amperes_come_to_ohms_and_tell_of_the_click() {
    let bay = Bay::new();
    let coil = bay.note("Solenoid A", ComponentKind::OnOffSolenoid, "");
    let applied = |volts: &str, amperes: &str, click| Reading {
        applied: Some(Applied {
            volts: volts.into(),
            by: AmpsBy::Meter,
            click,
        }),
        ..taken(ReadingKind::Applied, &[amperes; 3])
    };
    let read = bay.read(coil, applied("12.40", "0.91", Some(true)));
    assert_eq!(
        read.value_words,
        "13.63 ohm with 12.40 V and 0.91 A, click heard"
    );
    assert_eq!(read.verdict, ReadingVerdict::NoSpec);
    bay.limit(coil, ReadingKind::Applied, 11.0, 16.0);
    let read = bay.read(coil, applied("12.40", "0.91", Some(false)));
    assert_eq!(read.verdict, ReadingVerdict::InSpec);
    assert!(read.value_words.ends_with(", no click"), "{read:?}");
    assert!(read.ask.unwrap().starts_with("No click"));
    let worn = bay.read(coil, applied("12.40", "0.55", None));
    assert_eq!(worn.verdict, ReadingVerdict::OutOfSpec, "{worn:?}");
    assert!(!worn.value_words.contains("click"));
    // Contact was shown: nothing flows, so it is open.
    let open = bay.read(coil, applied("12.40", "0.00", None));
    assert_eq!(open.verdict, ReadingVerdict::OutOfSpec);
    assert_eq!(open.call, ReadingCall::Open);
    // The clamp is coarser than the meter: more is left in doubt of the same number.
    let u = |read: &ReadingView| read.u.unwrap();
    let by_meter = bay.read(coil, applied("12.40", "0.91", None));
    let mut clamped = applied("12.40", "0.91", None);
    clamped.applied.as_mut().unwrap().by = AmpsBy::Clamp;
    let by_clamp = bay.read(coil, clamped);
    assert!(u(&by_clamp) > 2.0 * u(&by_meter), "{by_clamp:?}");
}

#[test]
fn volts_and_amperes_belong_together() {
    let bay = Bay::new();
    let coil = bay.note("Solenoid A", ComponentKind::OnOffSolenoid, "");
    let alone = taken(ReadingKind::Applied, &["0.91"; 3]);
    let mut stray = taken(ReadingKind::Resistance, &["13.1"; 3]);
    let volts = |volts: &str| {
        Some(Applied {
            volts: volts.into(),
            by: AmpsBy::Clamp,
            click: None,
        })
    };
    stray.applied = volts("12.4");
    let refused = |reading: Reading| {
        let problem = bay.refused(Fact::ReadingTaken {
            component: coil,
            reading,
        });
        assert_eq!(problem.kind, ProblemKind::BadInput, "{problem}");
        problem.what
    };
    assert_eq!(refused(alone.clone()), "Amperes alone tell no ohms.");
    assert!(refused(stray).starts_with("Volts that were applied"));
    // A mains lead is no car battery, and nought is none.
    for wrong in ["230", "0", "OL", "twelve"] {
        let mut reading = alone.clone();
        reading.applied = volts(wrong);
        refused(reading);
    }
}

/// A port has a pressure and no ohms, a converter a stall speed, a solenoid neither: nothing is
/// asked of a part that it does not have. Limits invented.
#[test]
fn pressure_and_stall_speed_are_held_against_the_makers_limits() {
    use ReadingKind::*;
    let bay = Bay::new();
    let port = bay.note("Line pressure", ComponentKind::PressurePort, "");
    let converter = bay.note("Converter", ComponentKind::Converter, "");
    let coil = bay.note("Solenoid A", ComponentKind::OnOffSolenoid, "");
    bay.limit(port, Pressure, 3.5, 5.0);
    bay.limit(converter, Stall, 1900.0, 2300.0);
    for (part, of, typed, verdict) in [
        (port, Pressure, "4.2", ReadingVerdict::InSpec),
        (port, Pressure, "80 psi", ReadingVerdict::OutOfSpec),
        (converter, Stall, "2100", ReadingVerdict::InSpec),
        (converter, Stall, "2800", ReadingVerdict::OutOfSpec),
    ] {
        let read = bay.read(part, taken(of, &[typed; 3]));
        assert_eq!(read.verdict, verdict, "{read:?}");
    }
    let view = bay.view();
    let unread = |entry| {
        let mut parts = view.components.iter();
        &parts.find(|part| part.entry == entry).unwrap().unread
    };
    assert!(unread(coil).contains(&Pressure) && unread(coil).contains(&Stall));
    assert!(!unread(port).contains(&Pressure) && unread(port).contains(&Resistance));
    assert!(!unread(converter).contains(&Stall) && unread(converter).contains(&Pressure));
    // 80 psi are 5.516 bar.
    let read = view.components[0].readings.last().unwrap();
    assert_eq!(read.value_words, "5.516 bar");
}

/// The second wire is broken: found by the loop, then by the first wire read from end to end.
#[test]
fn the_matrix_of_a_harness_says_which_stretch_it_is_and_what_to_read_next() {
    let bay = Bay::new();
    let coil = bay.note("Solenoid A", ComponentKind::OnOffSolenoid, "");
    let typed = |text: &str| Some(text.to_owned());
    let mut read = HarnessRead {
        pins: ["14".into(), String::new()],
        control: SideRead {
            across: typed("OL"),
            to_ground: [typed("OL"), typed("OL")],
        },
        part: SideRead {
            across: typed("12.8"),
            to_ground: [None, None],
        },
        wires: [None, None],
        leads: typed("0.2"),
        meter: taken(ReadingKind::Resistance, &[]).meter,
    };
    let told = |read: &HarnessRead| {
        let read = read.clone();
        bay.insist(Fact::HarnessRead {
            component: coil,
            read,
        });
        bay.view().components[0].harness.clone().unwrap()
    };
    let first = told(&read);
    assert!(
        first
            .wires
            .iter()
            .all(|wire| wire.either && wire.call == StretchCall::Open)
    );
    assert_eq!(
        first.wires[0].words,
        "wire of pin 14: open, or the other wire is"
    );
    assert_eq!(first.part.call, StretchCall::Sound);
    assert!(first.next.unwrap().contains("end to end"));
    read.wires[0] = typed("0.4");
    let second = told(&read);
    assert_eq!(second.wires[0].call, StretchCall::Sound);
    assert_eq!(second.wires[1].words, "second wire: open");
    assert!(!second.wires[1].either);
    assert_eq!(second.next, None);
    // Numbers or nothing.
    for wrong in ["", "many"] {
        read.control = SideRead::default();
        read.part = SideRead::default();
        read.wires = [typed(wrong), None];
        let read = read.clone();
        let component = coil;
        let problem = bay.refused(Fact::HarnessRead { component, read });
        assert_eq!(problem.kind, ProblemKind::BadInput, "{problem}");
    }
}

/// Of the step that insists on nothing: its wish for a path to ground.
fn to_ground(bay: &Bay) -> WantView {
    let job = bay.view();
    let mut steps = job.stages.into_iter().flat_map(|stage| stage.steps);
    let step = steps.find(|step| step.id == "insulation").unwrap();
    let mut wants = step.wants.into_iter();
    let of = |want: &Evidence| {
        let quantity = ReadingKind::Insulation;
        *want == Evidence::Readings { quantity }
    };
    wants.find(|want| of(&want.want.evidence)).unwrap()
}

#[test]
fn the_path_to_ground_stands_open_until_it_is_read_and_ends_the_step_where_nothing_else_is_limited()
{
    let bay = Bay::new();
    assert!(!to_ground(&bay).opens, "no part to be read");
    let parts = ["A", "B"].map(|name| bay.note(name, ComponentKind::OnOffSolenoid, "7"));
    let asked = to_ground(&bay);
    assert!(asked.opens && asked.ends);
    // A maker's limit on something else of this step is not passed by.
    bay.limit(parts[0], ReadingKind::Applied, 11.0, 16.0);
    let asked = to_ground(&bay);
    assert!(asked.opens && !asked.ends);
    for part in parts {
        bay.read(part, taken(ReadingKind::Insulation, &["OL"; 3]));
    }
    let asked = to_ground(&bay);
    assert!(!asked.opens && !asked.ends);
}

#[test]
fn a_step_for_a_photo_alone_is_as_often_skipped_until_the_photo_is_there() {
    let bay = Bay::new();
    let skipped = |job: &JobView| -> Vec<String> {
        let steps = job.stages.iter().flat_map(|stage| &stage.steps);
        let often = steps.filter(|step| step.often_skipped);
        often.map(|step| step.id.clone()).collect()
    };
    assert_eq!(skipped(&bay.view()), ["fluid-sample"]);
    let picture = include_bytes!("../../display/tests/photos/7020.jpg");
    bay.write(Fact::PhotoTaken {
        step: "fluid-sample".into(),
        photo: bay.app.put_photo(picture).unwrap(),
        subject: PhotoSubject::Patch,
    });
    assert_eq!(skipped(&bay.view()), [""; 0]);
}
