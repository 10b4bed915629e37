//! The bench at the door: readings, tightening, codes, and the car's earlier visits.

#![allow(clippy::expect_used, clippy::panic, clippy::unwrap_used)] // a test stops by panicking

#[path = "../bay/mod.rs"]
mod bay;
mod codes;
#[path = "../plan/mod.rs"]
mod plan;
#[path = "../taken/mod.rs"]
mod taken;
mod tightening;
mod visits;

use std::sync::atomic::{AtomicI64, Ordering};

use bay::Bay;
use chrono::{DateTime, FixedOffset};
use swarfbook_app::App;
use swarfbook_app::clock::Clock;
use swarfbook_app::command::{Command, TighteningAsked};
use swarfbook_app::problem::{Problem, ProblemKind};
use swarfbook_app::reply::Reply;
use swarfbook_app::view::{CodeView, JobView, ReadingVerdict, ReadingView, TighteningView};
use swarfbook_job::census::{
    Census, DebrisClass, Particle, PhotoKind, Scale, ScaleFrom, SizeClass,
};
use swarfbook_job::fact::*;
use swarfbook_job::id::{EntryId, JobId, Sha256Hex};
use swarfbook_store::NewEntry;
use visits::{a_photo, visit};

/// A clock that goes on by an hour at each look.
#[derive(Default)]
struct Hours(AtomicI64);

impl Clock for Hours {
    fn now(&self) -> DateTime<FixedOffset> {
        let start = DateTime::parse_from_rfc3339("2026-03-02T08:00:00+01:00").unwrap();
        start + chrono::Duration::hours(self.0.fetch_add(1, Ordering::Relaxed))
    }
}

fn by_hours() -> Bay {
    Bay::with(|dir| App::open_with(dir, Box::new(Hours::default())).unwrap())
}

impl Bay {
    fn refused(&self, job: JobId, fact: Fact, part: &str) {
        let problem = self
            .try_write_to(job, fact, true)
            .expect_err("must be refused");
        assert_eq!(problem.kind, ProblemKind::BadInput, "{problem}");
        assert!(problem.to_string().contains(part), "{problem}");
    }

    /// Lines that the app writes itself, put there as a sync would.
    fn append(&self, job: JobId, fact: Fact) -> EntryId {
        let now = DateTime::parse_from_rfc3339("2026-03-02T08:00:00+01:00").unwrap();
        let line = NewEntry { job, fact, now };
        self.app.store().append(&[line]).unwrap()[0].entry.id
    }
}

fn car(odometer_km: f64, changed: Option<f64>) -> Fact {
    Fact::CarNoted {
        car: Car {
            plate: "TEST 7".into(),
            description: "invented".into(),
            odometer_km: Some(odometer_km),
            fluid_changed_at_km: changed,
            ..Car::default()
        },
    }
}

fn component(name: &str, kind: ComponentKind) -> Fact {
    Fact::ComponentNoted {
        component: Component {
            name: name.into(),
            kind,
            connector: String::new(),
            part_number: String::new(),
            codes: vec![],
            grounded_by_case: false,
        },
    }
}

fn limits(component: EntryId, quantity: ReadingKind, low: Option<f64>, high: Option<f64>) -> Fact {
    Fact::SpecEntered {
        component,
        spec: SpecEntered {
            quantity,
            low,
            high,
            at_c: None,
            source: "invented data sheet".into(),
            sensor: None,
        },
    }
}

/// Contact was not shown.
fn taken(quantity: ReadingKind, samples: [&str; 3]) -> Reading {
    Reading {
        contact_shown: false,
        ..taken::taken(quantity, &samples)
    }
}

fn last(view: &JobView, component: EntryId) -> ReadingView {
    let of = view.components.iter().find(|c| c.entry == component);
    of.unwrap().readings.last().unwrap().clone()
}

/// The maker's table of a fluid temperature sensor (names left out): at 20 °C
/// 2.441 to 2.894 kohm, at 40 °C 1.193 to 1.374 kohm.
fn sensor_table() -> SensorData {
    let row = |celsius, low_ohms, high_ohms| SensorRow {
        celsius,
        low_ohms,
        high_ohms,
    };
    SensorData::Table {
        rows: vec![row(20.0, 2441.0, 2894.0), row(40.0, 1193.0, 1374.0)],
    }
}

#[test]
fn a_temperature_sensor_is_held_against_its_table_at_its_own_temperature() {
    let bay = by_hours();
    let job = bay.new_job();
    let sensor = bay.write_to(
        job,
        component("Fluid temperature", ComponentKind::TemperatureSensor),
    );
    let spec = |data| Fact::SpecEntered {
        component: sensor,
        spec: SpecEntered {
            quantity: ReadingKind::Resistance,
            low: None,
            high: None,
            at_c: None,
            source: "invented data sheet".into(),
            sensor: Some(data),
        },
    };
    bay.write_to(job, spec(sensor_table()));
    let take = |samples, part_c| {
        let mut reading = taken(ReadingKind::Resistance, samples);
        reading.part_c = part_c;
        reading.part_within_k = Some(1.0);
        reading.leads = Some("0.2".into());
        bay.write_to(
            job,
            Fact::ReadingTaken {
                component: sensor,
                reading,
            },
        );
        last(&bay.view_of(job), sensor)
    };
    // The same ohms: right at 20 °C, far off at 40 °C, nothing without a temperature.
    let good = take(["2.65k", "2.65k", "2.65k"], Some(20.0));
    assert_eq!(good.verdict, ReadingVerdict::InSpec, "{good:?}");
    assert_eq!((good.low, good.high), (Some(2441.0), Some(2894.0)));
    let bad = take(["2.65k", "2.65k", "2.65k"], Some(40.0));
    assert_eq!(bad.verdict, ReadingVerdict::OutOfSpec, "{bad:?}");
    let blind = take(["2.65k", "2.65k", "2.65k"], None);
    assert_eq!(blind.verdict, ReadingVerdict::TakeAgain);
    assert!(blind.ask.unwrap().contains("temperature"));
    // A thermometer that may be 3 K off can't tell: 59.8 ohm a kelvin here.
    let mut rough = taken(ReadingKind::Resistance, ["2.65k", "2.65k", "2.65k"]);
    rough.part_c = Some(20.0);
    let fact = Fact::ReadingTaken {
        component: sensor,
        reading: rough,
    };
    bay.write_to(job, fact);
    let rough = last(&bay.view_of(job), sensor);
    assert_eq!(rough.verdict, ReadingVerdict::TooCloseToCall, "{rough:?}");
    let view = bay.view_of(job);
    assert!(view.components[0].spec_words.contains("table of 2 rows"));
    // One B value says the same at its own temperature.
    bay.write_to(
        job,
        spec(SensorData::BValue {
            ohms: 2667.5,
            reference_c: 20.0,
            b_kelvin: 3432.0,
            tolerance_percent: 8.5,
        }),
    );
    assert_eq!(
        take(["2.65k", "2.65k", "2.65k"], Some(20.0)).verdict,
        ReadingVerdict::InSpec
    );
    let rising = SensorData::Table {
        rows: vec![
            SensorRow {
                celsius: 20.0,
                low_ohms: 100.0,
                high_ohms: 120.0,
            },
            SensorRow {
                celsius: 40.0,
                low_ohms: 300.0,
                high_ohms: 320.0,
            },
        ],
    };
    bay.refused(job, spec(rising), "does not fall");
}

#[test]
fn open_to_ground_is_good_only_after_contact_and_up_to_the_meters_top() {
    let bay = by_hours();
    let job = bay.new_job();
    let coil = bay.write_to(job, component("Solenoid A", ComponentKind::OnOffSolenoid));
    bay.refused(
        job,
        limits(coil, ReadingKind::Insulation, None, Some(1e7)),
        "least resistance",
    );
    bay.write_to(job, limits(coil, ReadingKind::Insulation, Some(1e7), None));
    let take = |top: Option<&str>, shown| {
        let mut reading = taken(ReadingKind::Insulation, ["OL", "OL", "OL"]);
        reading.range_top = top.map(str::to_owned);
        reading.contact_shown = shown;
        bay.write_to(
            job,
            Fact::ReadingTaken {
                component: coil,
                reading,
            },
        );
        last(&bay.view_of(job), coil)
    };
    assert_eq!(take(Some("40M"), false).verdict, ReadingVerdict::TakeAgain);
    assert!(take(None, true).ask.unwrap().contains("most the meter"));
    assert_eq!(take(Some("2M"), true).verdict, ReadingVerdict::TakeAgain);
    assert_eq!(take(Some("40M"), true).verdict, ReadingVerdict::InSpec);
}

#[test]
fn a_sibling_read_with_the_same_leads_shows_contact() {
    let bay = by_hours();
    let job = bay.new_job();
    let a = bay.write_to(job, component("Solenoid A", ComponentKind::OnOffSolenoid));
    let b = bay.write_to(job, component("Solenoid B", ComponentKind::OnOffSolenoid));
    bay.write_to(
        job,
        limits(b, ReadingKind::Resistance, Some(11.0), Some(15.0)),
    );
    let open = |sibling| {
        let mut reading = taken(ReadingKind::Resistance, ["OL", "OL", "OL"]);
        reading.sibling = sibling;
        bay.write_to(
            job,
            Fact::ReadingTaken {
                component: b,
                reading,
            },
        );
        last(&bay.view_of(job), b).verdict
    };
    assert_eq!(open(None), ReadingVerdict::TakeAgain);
    assert_eq!(open(Some(a)), ReadingVerdict::TakeAgain, "A was not read");
    bay.write_to(
        job,
        Fact::ReadingTaken {
            component: a,
            reading: taken(ReadingKind::Resistance, ["12.4", "12.4", "12.5"]),
        },
    );
    assert_eq!(open(Some(a)), ReadingVerdict::OutOfSpec);
}

#[test]
fn the_guard_decides_what_is_too_close_to_call() {
    let bay = by_hours();
    let job = bay.new_job();
    let supply = bay.write_to(job, component("Supply", ComponentKind::Other));
    bay.write_to(
        job,
        limits(supply, ReadingKind::Voltage, Some(11.0), Some(14.0)),
    );
    let take = |guard| {
        let mut reading = taken(ReadingKind::Voltage, ["11.2", "11.2", "11.2"]);
        reading.guard = guard;
        let fact = Fact::ReadingTaken {
            component: supply,
            reading,
        };
        bay.try_write_to(job, fact, true)
            .map(|_| last(&bay.view_of(job), supply))
    };
    // ± (0.2 % + 2 counts of 0.1 V): u = 0.1284 V, p = Φ(0.2 / 0.1284) = 0.940.
    let usual = take(None).unwrap();
    assert_eq!(usual.verdict, ReadingVerdict::TooCloseToCall);
    assert!(
        (usual.p_in_spec.unwrap() - 0.940).abs() < 0.002,
        "{usual:?}"
    );
    assert_eq!(take(Some(0.9)).unwrap().verdict, ReadingVerdict::InSpec);
    assert!(take(Some(0.3)).is_err());
}

#[test]
fn a_symptom_is_tapped_and_weighs_in_the_advice() {
    let bay = by_hours();
    let job = visit(&bay, 60_000.0, Some(20_000.0), 12, true);
    let complain = |symptoms: &[&str]| Fact::ComplaintNoted {
        complaint: Complaint {
            words: "whines in second".into(),
            when: vec![],
            symptoms: symptoms.iter().map(|s| (*s).to_owned()).collect(),
        },
    };
    let reasons = |bay: &Bay| bay.view_of(job).wear.unwrap().advice_reasons.join(" ");
    bay.write_to(job, complain(&[]));
    assert!(!reasons(&bay).contains("Noise or no drive"));
    bay.write_to(job, complain(&["noise"]));
    assert!(
        reasons(&bay).contains("Noise or no drive"),
        "{}",
        reasons(&bay)
    );
    bay.refused(job, complain(&["levitates"]), "none of the answers");
}

/// Bar codes written by python-barcode 0.16, segno 1.6 and ppf.datamatrix, turned,
/// blurred, keystoned and with noise: pictures made for this test, not photos.
#[test]
fn a_vin_is_read_from_the_photo_of_its_bar_code() {
    let bay = by_hours();
    let read = |bytes: &[u8]| {
        let photo = bay.app.put_photo(bytes).unwrap();
        match bay.app.call(Command::ReadVin { photo })? {
            Reply::Vin { vin } => Ok(vin),
            other => panic!("{other:?}"),
        }
    };
    let pictures: [(&[u8], &str); 4] = [
        (include_bytes!("../vin/code-39.jpg"), "Code 39"),
        (include_bytes!("../vin/code-128.jpg"), "Code 128"),
        (include_bytes!("../vin/data-matrix.jpg"), "Data Matrix"),
        (include_bytes!("../vin/qr.jpg"), "QR code"),
    ];
    for (bytes, format) in pictures {
        let vin = read(bytes).unwrap_or_else(|why: Problem| panic!("{format}: {why}"));
        assert_eq!(
            (vin.vin.as_str(), vin.format.as_str()),
            ("1M8GDM9AXKP042788", format)
        );
    }
    let none = read(include_bytes!("../../demo/patch-10.jpg")).expect_err("debris is no bar code");
    assert!(none.to_string().contains("No bar code"), "{none}");
}

/// 1FTFW1ET5DFC10312 has 5 where 49 CFR 565.15(c) gives 9 (vininfo 1.11 agrees).
#[test]
fn a_wrong_check_digit_is_a_doubt_only_where_the_market_has_one() {
    let bay = by_hours();
    let job = bay.new_job();
    let write = |vin: &str, sure| {
        let car = Car {
            vin: Some(vin.into()),
            odometer_km: Some(1000.0),
            ..Car::default()
        };
        let fact = Box::new(Fact::CarNoted { car });
        bay.app.call(Command::Write { job, fact, sure })
    };
    let sold = |market| {
        let settings = swarfbook_app::settings::Settings {
            market: Some(market),
            ..Default::default()
        };
        bay.app.call(Command::SaveSettings { settings }).unwrap();
    };
    use swarfbook_measure::vin::Market;
    sold(Market::Elsewhere);
    write("1FTFW1ET5DFC10312", false).unwrap();
    assert!(
        bay.view_of(job)
            .car_words
            .iter()
            .any(|w| w.contains("filler"))
    );
    sold(Market::NorthAmerica);
    let doubt = write("1FTFW1ET5DFC10312", false).expect_err("a doubt");
    assert_eq!(doubt.kind, ProblemKind::Doubtful);
    write("1FTFW1ET5DFC10312", true).unwrap();
    write("1M8GDM9AXKP042788", false).unwrap();
    // The 10th place K is 1989 or 2019; a digit in the 7th says before 2010.
    assert!(
        bay.view_of(job)
            .car_words
            .iter()
            .any(|w| w.starts_with("Model year 1989:"))
    );
    sold(Market::Unknown);
    let words = bay.view_of(job).car_words;
    assert!(
        words
            .iter()
            .any(|w| w.starts_with("Model year 1989 or 2019:")),
        "{words:?}"
    );
}
