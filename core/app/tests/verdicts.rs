//! What a reading, a torque and a level are said to be, at the door: as far as they reach and
//! no further.

#![allow(clippy::expect_used, clippy::panic, clippy::unwrap_used)] // a test stops by panicking

mod bay;
mod carried;
mod plan;
mod taken;

use bay::Bay;
use serde_json::Value;
use swarfbook_app::App;
use swarfbook_app::command::{Command, TighteningAsked};
use swarfbook_app::problem::{Problem, ProblemKind};
use swarfbook_app::reply::Reply;
use swarfbook_app::view::{
    ComponentView, JobView, ReadingVerdict, ReadingView, Standing, TighteningView,
};
use swarfbook_job::fact::*;
use swarfbook_job::id::EntryId;
use taken::taken;

fn new_job() -> Bay {
    Bay::with(|dir| App::open(dir).unwrap())
}

impl Bay {
    fn try_write(&self, fact: Fact, sure: bool) -> Result<(EntryId, Box<JobView>), Problem> {
        match self.app.call(Command::Write {
            job: self.job,
            fact: Box::new(fact),
            sure,
        })? {
            Reply::Written { entry, job } => Ok((entry, job)),
            other => panic!("{other:?}"),
        }
    }

    fn write(&self, fact: Fact) -> EntryId {
        self.try_write(fact, true).unwrap().0
    }

    /// The question that is asked before the line is written.
    fn asked(&self, fact: Fact) -> String {
        let problem = self.try_write(fact, false).expect_err("must be asked");
        assert_eq!(problem.kind, ProblemKind::Doubtful, "{problem}");
        problem.to_string()
    }

    fn view(&self) -> Box<JobView> {
        match self.app.call(Command::Job { job: self.job }).unwrap() {
            Reply::Job { job } => job,
            other => panic!("{other:?}"),
        }
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
        self.write(Fact::ReadingTaken { component, reading });
        self.last(component)
    }

    fn content(&self) -> Value {
        let made = self.app.call(Command::MakeReport {
            job: self.job,
            leave_out: LeaveOut::default(),
            language: None,
        });
        let Ok(Reply::Report { html, .. }) = made else {
            panic!("{made:?}")
        };
        carried::content(&html)
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
        let bay = new_job();
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
        let bay = new_job();
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
    let bay = new_job();
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
        let bay = new_job();
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
    let bay = new_job();
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
    let bay = new_job();
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
    let bay = new_job();
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
    let bay = new_job();
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
    let bay = new_job();
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
    let bay = new_job();
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

fn tightened(what: &str, typed: &str, torque_nm: Option<f64>, angle_deg: Option<f64>) -> Fact {
    Fact::Tightened {
        step: if what == "pan bolts" {
            "pan-bolts"
        } else {
            "drain-plug"
        }
        .into(),
        tightened: Tightened {
            what: what.into(),
            torque_nm,
            by_hand_first: true,
            passes: 2,
            typed: Some(typed.into()),
            angle_deg,
            ..Tightened::default()
        },
    }
}

/// At 12.9 an M6 takes 19.4 N·m and an M10 about 85 (VDI 2230, ISO 898-1): 106 is too much
/// for either.
#[test]
fn the_size_that_was_noted_bounds_the_torque_of_bolts_and_plugs() {
    let bay = new_job();
    bay.write(tightened("drain plug", "106", Some(106.0), None));
    let bay = new_job();
    bay.off("covers-off", "bolt", "pan", "M6 x 25");
    bay.off("covers-off", "drain plug", "pan, front", "M10");
    for (what, size) in [("pan bolts", "M6"), ("drain plug", "M10")] {
        let asked = bay.asked(tightened(what, "106", Some(106.0), None));
        assert!(asked.contains(&format!("on {size}")), "{asked}");
        assert!(asked.contains("106 lb-in"), "{asked}");
        let plan = bay
            .plan(|a| {
                a.what = what.into();
                a.torque = "106".into();
            })
            .unwrap();
        assert!(plan.doubt.unwrap().contains(&format!("on {size}")));
        assert_eq!(plan.doubt_instead.unwrap(), "106 lb-in");
        // No pass is put to a bolt by a figure that is in doubt.
        assert!(plan.passes.iter().all(|pass| pass.torque_nm.is_none()));
    }
    let inches = tightened("pan bolts", "106 lb-in", Some(11.976), None);
    bay.try_write(inches, false).unwrap();
    let plug = tightened("drain plug", "40", Some(40.0), None);
    bay.try_write(plug, false).unwrap();
}

/// A third of 10 N·m is below the fifth of a scale that ends at 40 N·m (ISO 6789: accuracy
/// from 20 % of the scale up).
#[test]
fn passes_below_the_tools_scale_say_so() {
    let bay = new_job();
    let plan = bay
        .plan(|a| a.tool = Some(TorqueTool::Scale { most_nm: 40.0 }))
        .unwrap();
    let below: Vec<bool> = plan
        .passes
        .iter()
        .map(|p| p.scale_words.is_some())
        .collect();
    // By hand, 3.3, 6.7, 10, 10 N·m; the scale begins at 8.
    assert_eq!(below, [false, true, true, false, false]);
    let words = plan.passes[1].scale_words.as_ref().unwrap();
    assert!(words.contains("begins at 8 N·m"), "{words}");
}

#[test]
fn torque_and_angle_is_planned_and_written_and_no_angle_goes_without_a_torque() {
    let bay = new_job();
    let plan = bay.plan(|a| a.angle = "90".into()).unwrap();
    let last = &plan.passes.last().unwrap().words;
    assert!(last.contains("on by 90°"), "{last}");
    assert_eq!(plan.passes.len(), 5, "no last round after an angle");
    for what in ["pan bolts", "drain plug"] {
        let alone = bay.plan(|a| {
            a.what = what.into();
            a.torque = String::new();
            a.angle = "90".into();
        });
        assert!(alone.unwrap_err().to_string().contains("torque is missing"));
        let alone = bay.try_write(tightened(what, "", None, Some(90.0)), true);
        assert!(alone.unwrap_err().to_string().contains("torque is missing"));
    }
    let written = tightened("pan bolts", "10", Some(10.0), Some(90.0));
    let (_, view) = bay.try_write(written, false).unwrap();
    let said = |line: &&swarfbook_app::view::LineView| line.words.contains("90°");
    assert!(
        view.recent.iter().any(|line| said(&line)),
        "{:?}",
        view.recent
    );
    assert!(bay.content()["tightened"].to_string().contains("90°"));
}

fn measured(topic: &str, value: f64, typed: &str) -> Fact {
    let step = match topic {
        "fluid_out_l" | "fluid_out_c" => "drained",
        "fluid_in_l" => "first-fill",
        _ => "level",
    };
    Fact::Measured {
        measured: Measured {
            step: step.into(),
            topic: topic.into(),
            value,
            typed: typed.into(),
        },
    }
}

fn seen(choice: &str) -> Fact {
    Fact::Observed {
        observed: Observed {
            step: "level".into(),
            topic: "level_seen".into(),
            choice: choice.into(),
            ..Observed::default()
        },
    }
}

#[test]
fn a_level_is_read_with_gears_that_were_cycled_not_left_out() {
    let window = [
        ("level_low_c", 35.0),
        ("level_high_c", 45.0),
        ("level_c", 40.0),
    ];
    for choice in ["trickle", "dipstick_between"] {
        let bay = new_job();
        bay.write(Fact::StepSkipped {
            step: "gears".into(),
            reason: "no time".into(),
        });
        for (topic, value) in window {
            bay.write(measured(topic, value, ""));
        }
        bay.write(seen(choice));
        assert_eq!(bay.standing("level"), Standing::Later, "{choice}");
        let words = bay.view().fluid_words.join(" ");
        assert!(words.contains("start the engine"), "{words}");
        let bay = new_job();
        bay.write(Fact::StepTicked {
            step: "gears".into(),
        });
        for (topic, value) in window {
            bay.write(measured(topic, value, ""));
        }
        bay.write(seen(choice));
        assert_eq!(bay.standing("level"), Standing::Done, "{choice}");
    }
}

#[test]
fn windows_and_temperatures_that_no_level_is_read_at_are_asked_about() {
    let bay = new_job();
    let low = bay.asked(measured("level_low_c", 0.0, "0 °C"));
    assert!(low.contains("0 °C"), "{low}");
    bay.write(measured("level_low_c", 0.0, "0 °C"));
    let wide = bay.asked(measured("level_high_c", 120.0, "120 °C"));
    assert!(wide.contains("0 °C to 120 °C"), "{wide}");
    // 95 to 104 °F, typed on a device that is set to °C.
    let bay = new_job();
    let low = bay.asked(measured("level_low_c", 95.0, "95 °C"));
    assert!(low.contains("95 °F, which is 35 °C"), "{low}");
    bay.write(measured("level_low_c", 95.0, "95 °C"));
    let high = bay.asked(measured("level_high_c", 104.0, "104 °C"));
    assert!(high.contains("104 °F, which is 40 °C"), "{high}");
    // A dipstick's window for hot fluid is believed.
    let bay = new_job();
    bay.try_write(measured("level_low_c", 65.0, "65 °C"), false)
        .unwrap();
    bay.try_write(measured("level_high_c", 95.0, "95 °C"), false)
        .unwrap();
    for topic in ["level_c", "fluid_out_c"] {
        let hot = bay.asked(measured(topic, 104.0, "104 °C"));
        assert!(hot.contains("104 °F, which is 40 °C"), "{hot}");
    }
}

#[test]
fn the_fluids_name_and_specification_are_asked_for_and_its_batch_is_not() {
    let bay = new_job();
    let noted = |topic: &str| Fact::Noted {
        step: "first-fill".into(),
        topic: Some(topic.into()),
        text: "invented".into(),
        private: false,
    };
    let done = |bay: &Bay| bay.standing("first-fill") == Standing::Done;
    bay.write(measured("fluid_in_l", 4.5, "4.5 l"));
    bay.write(noted("fluid_in_batch"));
    assert!(!done(&bay));
    bay.write(noted("fluid_in_name"));
    assert!(!done(&bay));
    bay.write(noted("fluid_in_spec"));
    assert!(done(&bay));
    let bay = new_job();
    bay.write(noted("fluid_in_spec"));
    bay.write(noted("fluid_in_name"));
    bay.write(measured("fluid_in_l", 4.5, "4.5 l"));
    assert!(done(&bay), "without a batch");
}

#[test]
fn ohms_say_nothing_of_a_hall_sensor_or_of_contacts_among_their_like() {
    for kind in [
        ComponentKind::HallSensor,
        ComponentKind::Switch,
        ComponentKind::RangeSensor,
    ] {
        let bay = new_job();
        for (at, ohms) in ["5.2", "5.2", "5.3", "5.1", "900.0"].iter().enumerate() {
            let part = bay.note_with(&format!("Part {at}"), kind, "S 100", &[]);
            bay.read(part, taken(ReadingKind::Resistance, &[*ohms; 3]));
        }
        for part in &bay.view().components {
            assert_eq!(part.sibling_words, None, "{kind:?}");
        }
        assert!(
            !bay.content().to_string().contains("Stands out"),
            "{kind:?}"
        );
    }
}

#[test]
fn ohms_of_a_hall_sensor_are_no_verdict_and_an_open_contact_is_a_position() {
    let bay = new_job();
    let hall = bay.note("Output speed", ComponentKind::HallSensor);
    bay.limit(hall, ReadingKind::Resistance, 500.0, 900.0, None);
    for (quantity, samples) in [
        (ReadingKind::Resistance, ["5.2", "5.2", "5.3"]),
        (ReadingKind::Resistance, ["OL", "OL", "OL"]),
        (ReadingKind::Insulation, ["12.4", "12.4", "12.5"]),
    ] {
        let read = bay.read(hall, taken(quantity, &samples));
        assert_eq!(read.verdict, ReadingVerdict::NoSpec, "{read:?}");
        assert!(read.verdict_words.contains("active sensor"), "{read:?}");
    }
    assert_eq!(bay.part(hall).standing, None);
    bay.limit(hall, ReadingKind::Voltage, 4.5, 5.5, None);
    let supply = bay.read(hall, taken(ReadingKind::Voltage, &["3.00", "3.00", "3.01"]));
    assert_eq!(supply.verdict, ReadingVerdict::OutOfSpec);
    for kind in [ComponentKind::Switch, ComponentKind::RangeSensor] {
        let contact = bay.note("Contact", kind);
        bay.limit(contact, ReadingKind::Resistance, 0.0, 1.0, None);
        let take = |samples: &[&str; 3]| {
            let mut reading = taken(ReadingKind::Resistance, samples);
            reading.leads = Some("0.2".into());
            bay.read(contact, reading)
        };
        let open = take(&["OL", "OL", "OL"]);
        assert_eq!(open.verdict, ReadingVerdict::NoSpec, "{open:?}");
        assert!(open.verdict_words.contains("position"), "{open:?}");
        assert_eq!(take(&["0.5", "0.5", "0.5"]).verdict, ReadingVerdict::InSpec);
        // Burnt contacts stay so when they are opened.
        let burnt = take(&["45.0", "45.0", "45.0"]);
        assert_eq!(burnt.verdict, ReadingVerdict::OutOfSpec);
        take(&["OL", "OL", "OL"]);
        assert_eq!(
            bay.part(contact).standing,
            Some(ReadingVerdict::OutOfSpec),
            "{kind:?}"
        );
    }
}

#[test]
fn what_can_mean_two_things_is_asked_at_the_door() {
    let bay = new_job();
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
