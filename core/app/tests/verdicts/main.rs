//! What a reading, a torque and a level are said to be, at the door: as far as they reach and
//! no further.

#![allow(clippy::expect_used, clippy::panic, clippy::unwrap_used)] // a test stops by panicking

#[path = "../bay/mod.rs"]
mod bay;
#[path = "../carried/mod.rs"]
mod carried;
mod fluid;
#[path = "../plan/mod.rs"]
mod plan;
mod sensors;
#[path = "../taken/mod.rs"]
mod taken;
mod tightening;

use bay::Bay;
use fluid::measured;
use serde_json::Value;
use swarfbook_app::command::TighteningAsked;
use swarfbook_app::problem::{Problem, ProblemKind};
use swarfbook_app::view::{ComponentView, ReadingVerdict, ReadingView, Standing, TighteningView};
use swarfbook_job::fact::*;
use swarfbook_job::id::EntryId;
use taken::taken;

impl Bay {
    /// The question that is asked before the line is written.
    fn asked(&self, fact: Fact) -> String {
        let problem = self.try_write(fact, false).expect_err("must be asked");
        assert_eq!(problem.kind, ProblemKind::Doubtful, "{problem}");
        problem.to_string()
    }

    fn part(&self, entry: EntryId) -> ComponentView {
        let view = self.view();
        let mut parts = view.components.into_iter();
        parts.find(|part| part.entry == entry).unwrap()
    }

    fn last(&self, part: EntryId) -> ReadingView {
        self.part(part).readings.last().unwrap().clone()
    }

    fn note(&self, name: &str, kind: ComponentKind) -> EntryId {
        self.note_with(name, kind, "", &[])
    }

    fn note_with(&self, name: &str, kind: ComponentKind, number: &str, codes: &[&str]) -> EntryId {
        self.write(Fact::ComponentNoted {
            component: Component {
                name: name.into(),
                kind,
                connector: String::new(),
                part_number: number.into(),
                codes: codes.iter().map(|code| (*code).to_owned()).collect(),
                grounded_by_case: false,
            },
        })
    }

    fn limit(&self, part: EntryId, quantity: ReadingKind, low: f64, high: f64, at_c: Option<f64>) {
        self.write(Fact::SpecEntered {
            component: part,
            spec: SpecEntered {
                quantity,
                low: Some(low),
                high: Some(high),
                at_c,
                source: "invented data sheet".into(),
                sensor: None,
            },
        });
    }

    fn read(&self, component: EntryId, reading: Reading) -> ReadingView {
        self.insist(Fact::ReadingTaken { component, reading });
        self.last(component)
    }

    fn content(&self) -> Value {
        carried::content(&self.report())
    }

    fn plan(&self, change: impl Fn(&mut TighteningAsked)) -> Result<TighteningView, Problem> {
        plan::tightening(&self.app, self.job, change)
    }

    fn off(&self, step: &str, item: &str, place: &str, size: &str) {
        self.write(Fact::PartOff {
            part: PartOff {
                step: step.into(),
                item: item.into(),
                place: place.into(),
                count: 1,
                size: size.into(),
                length_mm: None,
                photo: None,
                at_px: vec![],
            },
        });
    }

    fn standing(&self, id: &str) -> Standing {
        let view = self.view();
        let mut steps = view.stages.iter().flat_map(|stage| &stage.steps);
        steps.find(|step| step.id == id).expect("a step").standing
    }
}

/// 12.0 V with a digit of 0.1 V: half width 0.224 V, u = 0.129 V (GUM 4.3.7). Between 11.9
/// and 12.1 V the best that could be is 56 %; between 11.77 and 12.23 V it is 92 %, short of
/// the 95 % that are asked for (normal distribution, worked by hand).
#[test]
fn a_meter_too_coarse_for_the_limits_is_told_by_place_on_screen_and_in_the_report() {
    for (low, high, volts, place) in [
        (11.9, 12.1, "12.0", "in the middle"),
        (11.77, 12.23, "12.0", "in the middle"),
        (11.9, 12.13, "12.1", "within the limits"),
        (11.9, 12.1, "12.2", "outside the limits"),
    ] {
        let bay = Bay::new();
        let supply = bay.note("Supply", ComponentKind::Other);
        bay.limit(supply, ReadingKind::Voltage, low, high, None);
        let read = bay.read(supply, taken(ReadingKind::Voltage, &[volts; 3]));
        assert_eq!(read.verdict, ReadingVerdict::TooCloseToCall, "{read:?}");
        let words = format!("{place}; this meter tells only ± 0.26 V here");
        assert_eq!(read.verdict_words, words);
        let content = bay.content();
        let said = content["components"][0]["readings"][0]["verdict_words"]
            .as_str()
            .unwrap();
        assert!(said.contains(&words), "{said}");
        assert!(!said.contains('%'), "{said}");
    }
}

/// A most of 0.2 V over the ground path of a solenoid, read with a meter of ± (0.2 % + 2 counts),
/// a digit of 0.01 V: half width 0.02 V, far from either value (GUM 4.3.7; the limit is invented).
#[test]
fn a_voltage_drop_is_held_against_its_most() {
    for (volts, verdict) in [
        ("0.05", ReadingVerdict::InSpec),
        ("0.20", ReadingVerdict::TooCloseToCall),
        ("0.45", ReadingVerdict::OutOfSpec),
    ] {
        let bay = Bay::new();
        let coil = bay.note("Solenoid A", ComponentKind::OnOffSolenoid);
        bay.write(Fact::SpecEntered {
            component: coil,
            spec: SpecEntered {
                quantity: ReadingKind::VoltageDrop,
                low: None,
                high: Some(0.2),
                at_c: None,
                source: "invented sheet".into(),
                sensor: None,
            },
        });
        let read = bay.read(coil, taken(ReadingKind::VoltageDrop, &[volts; 3]));
        assert_eq!(read.verdict, verdict, "{read:?}");
        let content = bay.content();
        let said = content["components"][0]["readings"][0]["said"]["words"].clone();
        assert_eq!(
            said,
            format!("Voltage drop: {volts} V").replace("0.20", "0.2")
        );
        assert_eq!(bay.view().components[0].standing, Some(verdict));
    }
}

#[test]
fn a_meter_is_not_blamed_for_a_temperature_or_leads_that_were_not_entered() {
    let bay = Bay::new();
    let check = |read: &ReadingView, ask: &str| {
        assert_eq!(read.verdict, ReadingVerdict::TooCloseToCall, "{read:?}");
        assert!(
            read.verdict_words.starts_with("too close to call"),
            "{read:?}"
        );
        assert!(read.ask.as_ref().unwrap().contains(ask), "{read:?}");
    };
    let coil = bay.note("Solenoid A", ComponentKind::OnOffSolenoid);
    bay.limit(coil, ReadingKind::Resistance, 12.5, 13.5, Some(20.0));
    let mut cold = taken(ReadingKind::Resistance, &["13.20", "13.20", "13.20"]);
    cold.leads = Some("0.20".into());
    check(&bay.read(coil, cold), "Enter the part's temperature");
    let fine = bay.note("Solenoid B", ComponentKind::OnOffSolenoid);
    bay.limit(fine, ReadingKind::Resistance, 5.0, 5.6, Some(20.0));
    let mut unread = taken(ReadingKind::Resistance, &["5.30", "5.30", "5.30"]);
    unread.part_c = Some(20.0);
    check(&bay.read(fine, unread), "Hold the probes together");
    let sensor = bay.note("Fluid temperature", ComponentKind::TemperatureSensor);
    bay.write(Fact::SpecEntered {
        component: sensor,
        spec: SpecEntered {
            quantity: ReadingKind::Resistance,
            low: None,
            high: None,
            at_c: None,
            source: "invented data sheet".into(),
            sensor: Some(SensorData::Table {
                rows: [(20.0, 2441.0, 2894.0), (40.0, 1193.0, 1374.0)]
                    .map(|(celsius, low_ohms, high_ohms)| SensorRow {
                        celsius,
                        low_ohms,
                        high_ohms,
                    })
                    .into(),
            }),
        },
    });
    let mut elsewhere = taken(ReadingKind::Resistance, &["2.665k", "2.665k", "2.666k"]);
    elsewhere.leads = Some("0.2".into());
    elsewhere.part_c = Some(20.0);
    elsewhere.part_from = Some(TemperatureFrom::ScanData);
    check(&bay.read(sensor, elsewhere), "with a probe");
}

/// Makers give ohms near 20 °C (common practice, no published source), and copper has 3.9 %
/// more a 10 K (IEC 60028): 16.7 ohm at 80 °C are 13.5 at 20 °C, 13.7 are 11.1, 12.6 are 10.2.
#[test]
fn a_hot_coil_is_held_against_limits_without_a_temperature_as_if_they_held_near_20_degrees() {
    use ReadingVerdict::*;
    for (ohms, verdict) in [
        ("17.00", InSpec),
        ("14.00", TooCloseToCall),
        ("12.90", TooCloseToCall),
        ("26.00", OutOfSpec),
    ] {
        let bay = Bay::new();
        let coil = bay.note("Solenoid A", ComponentKind::OnOffSolenoid);
        bay.limit(coil, ReadingKind::Resistance, 11.0, 15.0, None);
        let mut hot = taken(ReadingKind::Resistance, &[ohms; 3]);
        hot.leads = Some("0.30".into());
        hot.part_c = Some(80.0);
        let read = bay.read(coil, hot);
        assert_eq!(read.verdict, verdict, "{ohms}: {read:?}");
        let assumed = |said: &str| said.contains("20 °C ± 10 K assumed (our own assumption");
        assert!(read.steps.iter().any(|step| assumed(step)), "{read:?}");
        let content = bay.content();
        assert!(assumed(&content["components"].to_string()), "{content}");
    }
}

/// A sensor of 2.44 to 2.89 kohm at 20 °C has 1.19 to 1.37 kohm at 40 °C (the maker's table
/// of the other tests): limits at one temperature say nothing at another.
#[test]
fn two_limits_of_a_temperature_sensor_hold_at_their_own_temperature_alone() {
    let bay = Bay::new();
    let sensor = bay.note("Fluid temperature", ComponentKind::TemperatureSensor);
    bay.limit(sensor, ReadingKind::Resistance, 2440.0, 2890.0, Some(20.0));
    let take = |ohms: &str, part_c, from| {
        let mut reading = taken(ReadingKind::Resistance, &[ohms; 3]);
        reading.leads = Some("0.2".into());
        reading.part_c = part_c;
        reading.part_from = from;
        bay.read(sensor, reading)
    };
    let probe = Some(TemperatureFrom::ProbeAtPart);
    let warm = take("1.280k", Some(40.0), probe);
    assert_eq!(warm.verdict, ReadingVerdict::TakeAgain, "{warm:?}");
    assert!(warm.ask.unwrap().contains("20 °C"));
    let unknown = take("1.280k", None, None);
    assert_eq!(unknown.verdict, ReadingVerdict::TakeAgain, "{unknown:?}");
    assert!(unknown.ask.unwrap().contains("temperature"));
    assert_eq!(bay.part(sensor).standing, None);
    assert_eq!(
        take("2.665k", Some(20.0), probe).verdict,
        ReadingVerdict::InSpec
    );
    assert_eq!(
        take("1.280k", Some(20.0), probe).verdict,
        ReadingVerdict::OutOfSpec
    );
    // 3 K off is a perfect sensor's whole tolerance: nothing is said to be out by that.
    let rough = take("2.360k", Some(22.0), Some(TemperatureFrom::ScanData));
    assert_eq!(rough.verdict, ReadingVerdict::TooCloseToCall, "{rough:?}");
    assert!(rough.ask.unwrap().contains("probe"));
}

#[test]
fn a_part_that_was_fitted_and_fails_is_out_of_spec_wherever_it_is_told() {
    let bay = Bay::new();
    let coil = bay.note("Solenoid A", ComponentKind::OnOffSolenoid);
    bay.read(
        coil,
        taken(ReadingKind::Insulation, &["12.4", "12.4", "12.5"]),
    );
    let fit = || {
        bay.write(Fact::PartReplaced {
            step: "part-replaced".into(),
            replacement: Replacement {
                component: Some(coil),
                what: "Solenoid A".into(),
                number: String::new(),
                batch: String::new(),
                kept_for_customer: false,
            },
        })
    };
    fit();
    let replaced = bay.content()["answer"].to_string();
    bay.read(
        coil,
        taken(ReadingKind::Insulation, &["12.4", "12.4", "12.5"]),
    );
    let part = bay.part(coil);
    assert_eq!(part.standing, Some(ReadingVerdict::OutOfSpec));
    let failed = bay.content()["answer"].to_string();
    let says = "the part that failed our test";
    assert!(!replaced.contains(says), "{replaced}");
    assert!(failed.contains(says), "{failed}");
}

#[test]
fn what_explained_a_code_is_cited_by_the_reading_that_failed() {
    let bay = Bay::new();
    bay.write(Fact::CodesRead {
        moment: Moment::Before,
        codes: vec![CodeSeen {
            code: "P0750".into(),
            state: CodeState::Stored,
            status: None,
        }],
    });
    let coil = bay.note_with("Solenoid A", ComponentKind::OnOffSolenoid, "", &["P0750"]);
    bay.limit(coil, ReadingKind::Resistance, 11.0, 15.0, None);
    let ohms = |ohms: &str| {
        let mut reading = taken(ReadingKind::Resistance, &[ohms; 3]);
        reading.leads = Some("0.2".into());
        bay.read(coil, reading).entry
    };
    let failed = ohms("64.0");
    bay.write(Fact::PartReplaced {
        step: "part-replaced".into(),
        replacement: Replacement {
            component: Some(coil),
            what: "Solenoid A".into(),
            number: String::new(),
            batch: String::new(),
            kept_for_customer: false,
        },
    });
    let good = ohms("13.2");
    let content = bay.content();
    let explained = &content["codes"]["explained"][0];
    assert!(
        explained.to_string().contains("explained by"),
        "{explained}"
    );
    let from = explained["from"].to_string();
    assert!(from.contains(&failed.to_string()), "{explained}");
    assert!(!from.contains(&good.to_string()), "{explained}");
}

#[test]
fn a_path_to_ground_that_comes_and_goes_is_told() {
    let bay = Bay::new();
    let coil = bay.note("Solenoid A", ComponentKind::OnOffSolenoid);
    for samples in [["3", "8", "40"], ["OL", "12", "OL"], ["40", "8", "22"]] {
        let read = bay.read(coil, taken(ReadingKind::Insulation, &samples));
        assert_eq!(read.verdict, ReadingVerdict::TakeAgain, "{read:?}");
        let ask = read.ask.unwrap();
        assert!(ask.contains("path to ground"), "{ask}");
    }
    let high = bay.read(coil, taken(ReadingKind::Insulation, &["OL", "30M", "OL"]));
    assert!(!high.ask.unwrap().contains("path to ground"));
}

#[test]
fn a_short_is_gone_when_the_newest_look_at_ground_finds_none() {
    let bay = Bay::new();
    let coil = bay.note("Solenoid A", ComponentKind::OnOffSolenoid);
    let short = bay.read(
        coil,
        taken(ReadingKind::Insulation, &["12.4", "12.4", "12.5"]),
    );
    assert_eq!(short.verdict_words, "SHORT to ground");
    assert_eq!(bay.part(coil).standing, Some(ReadingVerdict::OutOfSpec));
    // What was not steady says nothing about it.
    bay.read(coil, taken(ReadingKind::Insulation, &["OL", "30M", "OL"]));
    assert_eq!(bay.part(coil).standing, Some(ReadingVerdict::OutOfSpec));
    bay.read(
        coil,
        taken(ReadingKind::Insulation, &["5.00M", "5.00M", "5.01M"]),
    );
    assert_eq!(bay.part(coil).standing, None);
}

#[test]
fn the_voltage_of_an_insulation_tester_is_asked_for_and_bounded() {
    let bay = Bay::new();
    let coil = bay.note("Solenoid A", ComponentKind::OnOffSolenoid);
    let ground = |sample: &str, test_volts| Fact::ReadingTaken {
        component: coil,
        reading: Reading {
            test_volts,
            ..taken(ReadingKind::Insulation, &[sample; 3])
        },
    };
    let asked = bay.asked(ground(">550 Mohm", None));
    assert!(asked.contains("voltage"), "{asked}");
    assert!(bay.asked(ground("200M", None)).contains("voltage"));
    let much = bay.asked(ground(">550 Mohm", Some(500.0)));
    assert!(much.contains("500 V is much"), "{much}");
    for told in [
        ground(">550 Mohm", Some(50.0)),
        ground(">550 Mohm", Some(250.0)),
        ground(">40M", None),
        ground("OL", None),
    ] {
        bay.try_write(told, false).unwrap();
    }
}

#[test]
fn what_can_mean_two_things_is_asked_at_the_door() {
    let bay = Bay::new();
    let coil = bay.note("Solenoid A", ComponentKind::OnOffSolenoid);
    let ohms = |samples: [&str; 3], leads: Option<&str>| Fact::ReadingTaken {
        component: coil,
        reading: Reading {
            leads: leads.map(str::to_owned),
            ..taken(ReadingKind::Resistance, &samples)
        },
    };
    for fact in [
        ohms(["1", "1", "1"], None),
        ohms(["13.0", "1", "13.0"], None),
        ohms(["13.0", "13.0", "13.0"], Some("1")),
    ] {
        let asked = bay.asked(fact);
        assert!(asked.contains("A lone 1"), "{asked}");
    }
    let open = bay.asked(ohms(["13.0", "13.0", "13.0"], Some("OL")));
    assert!(open.contains("leads held together read open"), "{open}");
    let good = ohms(["1.0", "1.0", "1.0"], Some("0.1"));
    bay.try_write(good, false).unwrap();
    // A pint is one of two, and litres are what this device is set to.
    for (typed, litres) in [
        ("5 pt l", 2.366),
        ("5 pt", 2.366),
        ("5 qt", 4.73),
        ("5 qts l", 4.73),
    ] {
        let asked = bay.asked(measured("fluid_out_l", litres, typed));
        assert!(asked.contains("US") && asked.contains("imp"), "{asked}");
    }
    for typed in ["5 US pt", "5 imp pt l", "4.5 l", "4.5"] {
        let told = measured("fluid_out_l", 2.5, typed);
        bay.try_write(told, false).unwrap();
    }
}
