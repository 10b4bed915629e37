//! Check values from outside the project beside ours, one row each; the same
//! table stands in `docs/check-values.md`.

use swarfbook_job::fact::{AdapterUsed, SensorData, SensorRow, TorqueTool};
use swarfbook_measure::code::{Code, Status};
use swarfbook_measure::conformity::{Guard, Limits, Verdict, probability, verdict};
use swarfbook_measure::contact::Sample;
use swarfbook_measure::fluid::{Balance, Density, Poured, balance, volume_correction};
use swarfbook_measure::judge::{Conductor, Leads, Reading, read_without_limits};
use swarfbook_measure::meter::{Accuracy, Meter};
use swarfbook_measure::resistance::copper;
use swarfbook_measure::resistance::ntc::{self, Ntc};
use swarfbook_measure::siblings;
use swarfbook_measure::torque::{
    PropertyClass, Thread, cross_sequence, set_for, tightness, tool_uncertainty,
};
use swarfbook_measure::unit::{NewtonMetres, Quantity, Unit, Units};
use swarfbook_measure::vin::{Market, Vin};

struct Row {
    check: String,
    source: Source,
    value: f64,
    ours: f64,
    within: f64,
}

struct Rows(Vec<Row>);

impl Rows {
    fn add(&mut self, check: &str, source: Source, value: f64, ours: f64, within: f64) {
        self.0.push(Row {
            check: check.to_owned(),
            source,
            value,
            ours,
            within,
        });
    }
}

/// How a value was come by: what agreement with it is worth.
#[derive(Clone, Copy)]
enum By {
    /// Printed where the source says.
    Printed,
    /// Another program's own function.
    Library,
    /// The same formula, evaluated by another program: it finds a slip in ours, not
    /// a wrong formula.
    SameFormula,
    /// Another formula for the same thing.
    OtherFormula,
    /// Drawn at random.
    Simulated,
    /// Known by heart, or from a place that was not kept: agreement says little.
    FromMemory,
}

impl By {
    const fn words(self) -> &'static str {
        match self {
            By::Printed => "printed",
            By::Library => "library",
            By::SameFormula => "same formula",
            By::OtherFormula => "other formula",
            By::Simulated => "simulated",
            By::FromMemory => "from memory",
        }
    }
}

type Source = (&'static str, By);

const JCGM: Source = ("JCGM 106:2012, worked example", By::FromMemory);
const SCIPY: Source = ("scipy.stats.norm 1.17", By::Library);
const IEC: Source = ("IEC 60028, 234.5 rule, by Python", By::SameFormula);
const GUM: Source = ("GUM (JCGM 100) 4.3.7, by Python", By::SameFormula);
const LEADS: Source = (
    "GUM (JCGM 100) 5.2.2, correlation 1 of zero and gain, by Python",
    By::SameFormula,
);
const NTC: Source = (
    "B between rows of a maker's table, by numpy",
    By::SameFormula,
);
/// Seven digits, as the table gives them.
const SP811: Source = ("NIST SP 811 (2008), appendix B.8", By::FromMemory);
const CFR: Source = ("49 CFR 565.15(c), worked example", By::Printed);
const VININFO: Source = ("vininfo 1.11", By::Library);
const J2012: Source = (
    "SAE J2012 / ISO 15031-6 bit layout (from memory), by hand",
    By::SameFormula,
);
const UDS: Source = ("udsoncan 1.26, Dtc.Status", By::Library);
const D1250: Source = (
    "ASTM D1250 table 54D form (constant from memory), by Python",
    By::SameFormula,
);
const VDI: Source = ("VDI 2230:2001, fine-thread table", By::Printed);
const ISO898: Source = ("ISO 898-1, tabulated", By::Printed);
const CROWFOOT: Source = (
    "T L / (L + E cos θ) (US Army TM 9-254, fig. 4-6), by Python",
    By::SameFormula,
);
const CROWFOOT_PAGE: Source = (
    "worked example of a web page on torque wrench extensions (agentcalc.com), 71.1",
    By::Printed,
);
const ISO6789: Source = (
    "Normal distribution with the u of a rectangular one (± 6 or 4 %, ISO 6789 as a maker sums it up), by scipy",
    By::SameFormula,
);
const HOAGLIN: Source = (
    "Iglewicz and Hoaglin 1993 (factor 0.6745 and their ten values from memory), by Python",
    By::SameFormula,
);
const STEINHART: Source = (
    "Steinhart-Hart through three rows, by numpy",
    By::OtherFormula,
);
/// Rectangular doubts of litres, temperatures and one density, drawn apart, 2 million times.
const MONTE_CARLO_U: f64 = 0.042374;
const STAR: Source = ("star in common use for round flanges", By::FromMemory);

fn electrical(rows: &mut Rows) {
    let both = |low, high| Limits { low, high };
    rows.add(
        "Zener diode, y -5.47 V, u 0.05, at most -5.40",
        JCGM,
        0.92,
        probability(-5.47, 0.05, both(None, Some(-5.40))),
        0.005,
    );
    rows.add(
        "Burst pressure, y 509.7 kPa, u 8.6, at least 490",
        JCGM,
        0.99,
        probability(509.7, 8.6, both(Some(490.0), None)),
        0.005,
    );
    rows.add(
        "SAE 40 oil, y 13.6, u 1.8, 12.5 to 16.3",
        JCGM,
        0.66,
        probability(13.6, 1.8, both(Some(12.5), Some(16.3))),
        0.005,
    );
    // The lowest reading that the code under test calls out of limits at 99.9 %.
    let guard = Guard { level: 0.999 };
    let fined = |kmh: f64| {
        let p = probability(kmh, 0.02 * kmh, both(None, Some(100.0)));
        verdict(p, guard) == Verdict::OutOfSpec
    };
    let (mut free, mut fine) = (100.0, 200.0);
    for _ in 0..60 {
        let middle = 0.5 * (free + fine);
        if fined(middle) {
            fine = middle;
        } else {
            free = middle;
        }
    }
    rows.add(
        "Speed limit 100 km/h, 2 %, 99.9 %: from where it is out of limits",
        JCGM,
        107.0,
        fine,
        0.5,
    );
    rows.add(
        "p, y 5.1, u 0.1, 5 to 6",
        SCIPY,
        0.841345,
        probability(5.1, 0.1, both(Some(5.0), Some(6.0))),
        1e-6,
    );
    rows.add(
        "p, y 5.5, u 0.4, 5 to 6",
        SCIPY,
        0.788700,
        probability(5.5, 0.4, both(Some(5.0), Some(6.0))),
        1e-6,
    );
    rows.add(
        "p, y 6.2, u 0.1, 5 to 6",
        SCIPY,
        0.022750,
        probability(6.2, 0.1, both(Some(5.0), Some(6.0))),
        1e-6,
    );
    rows.add(
        "Guard band, u 0.1, 95 %",
        SCIPY,
        0.16449,
        Guard { level: 0.95 }.band(0.1),
        5e-6,
    );
    rows.add(
        "5 ohm at 20 °C, at 80 °C",
        IEC,
        6.178782,
        5.0 * copper::factor(20.0, 80.0),
        1e-6,
    );
    rows.add(
        "6.2 ohm at 65 °C, at 20 °C",
        IEC,
        5.268447,
        6.2 * copper::factor(65.0, 20.0),
        1e-6,
    );
    rows.add(
        "5.3 ohm at 70 °C, at 20 °C",
        IEC,
        4.42972,
        5.3 * copper::factor(70.0, 20.0),
        5e-6,
    );
    rows.add(
        "Factor 25 to 100 °C",
        (
            "a table of factors, 25 to 200 °C, whose place was not kept",
            By::FromMemory,
        ),
        1.289,
        copper::factor(25.0, 100.0),
        5e-4,
    );
    let meter = |percent, counts, digit, reading| {
        let meter = Meter {
            accuracy: Accuracy { percent, counts },
            resolution: Some(digit),
        };
        meter.standard_uncertainty(reading, digit)
    };
    rows.add(
        "u of 5.6 ohm, 0.9 % + 2 x 0.1",
        GUM,
        0.144569,
        meter(0.9, 2.0, 0.1, 5.6),
        1e-6,
    );
    rows.add(
        "u of 22.4 ohm, 0.8 % + 5 x 0.1",
        GUM,
        0.392136,
        meter(0.8, 5.0, 0.1, 22.4),
        1e-6,
    );
    rows.add(
        "u of 0.250 ohm, 1 % + 2 x 0.001",
        GUM,
        0.002598,
        meter(1.0, 2.0, 0.001, 0.250),
        1e-6,
    );
    // 5.6 ohm with leads of 0.3 on one range: gain 0.9 % of 5.3 / √3, twice 0.1 / √12.
    let look = Sample::Value {
        value: 5.6,
        resolution: 0.1,
    };
    let leads_off = read_without_limits(&Reading {
        quantity: Quantity::Resistance,
        samples: vec![look; 3],
        leads: Leads::Read {
            ohms: 0.3,
            resolution: None,
        },
        part_temp: None,
        conductor: Conductor::Other,
        meter: Meter {
            accuracy: Accuracy {
                percent: 0.9,
                counts: 2.0,
            },
            resolution: None,
        },
        contact_shown: None,
    });
    rows.add(
        "u of 5.6 - 0.3 ohm on one range, 0.9 % + 2 x 0.1",
        LEADS,
        0.049245,
        leads_off.ok().and_then(|j| j.u).unwrap_or(f64::NAN),
        1e-6,
    );
    rows.add(
        "B, 20 to 100 °C",
        NTC,
        3431.97,
        ntc::b_value(2667.5, 20.0, 216.8, 100.0),
        0.01,
    );
    rows.add(
        "B, 40 to 80 °C",
        NTC,
        3441.87,
        ntc::b_value(1283.5, 40.0, 369.6, 80.0),
        0.01,
    );
    rows.add(
        "B, -20 to 130 °C",
        NTC,
        3379.39,
        ntc::b_value(15320.0, -20.0, 106.7, 130.0),
        0.01,
    );
    // Between two rows of the table the law is the B of both; a curve of three
    // constants through -20, 60 and 130 °C is the other way to say the same.
    let between = |celsius: f64, a: (f64, f64), b: (f64, f64)| {
        let row = |(celsius, ohms): (f64, f64)| SensorRow {
            celsius,
            low_ohms: ohms,
            high_ohms: ohms,
        };
        let data = SensorData::Table {
            rows: vec![row(a), row(b)],
        };
        Ntc::new(data)
            .and_then(|ntc| ntc.limits_at(celsius))
            .ok()
            .and_then(|limits| limits.low)
            .unwrap_or(f64::NAN)
    };
    let (cold, mild, warm) = ((20.0, 2667.5), (40.0, 1283.5), (60.0, 666.6));
    rows.add(
        "Sensor at 30 °C from rows at 20 and 40, ohm",
        STEINHART,
        1832.218,
        between(30.0, cold, mild),
        0.003 * 1832.218,
    );
    rows.add(
        "Sensor at 50 °C from rows at 40 and 60, ohm",
        STEINHART,
        917.002,
        between(50.0, mild, warm),
        0.003 * 917.002,
    );
    let cold_ohms = 20.0 * copper::factor(20.0, -20.0);
    rows.add(
        "20 ohm at 20 °C, at -20 °C",
        IEC,
        16.856582,
        cold_ohms,
        1e-6,
    );
    let limit = 15.0 * copper::factor(20.0, 80.0);
    rows.add("15 ohm limit at 20 °C, at 80 °C", IEC, 18.5363, limit, 5e-5);
    let z = |values: &[f64], at: usize| {
        let group = siblings::compare(values, 0.0);
        group
            .members
            .get(at)
            .and_then(|m| m.modified_z)
            .unwrap_or(f64::NAN)
    };
    let book = [2.1, 2.6, 2.4, 2.5, 2.3, 2.1, 2.3, 2.6, 8.2, 8.3];
    rows.add(
        "Modified z of 8.2 in their ten",
        HOAGLIN,
        25.8558,
        z(&book, 8),
        1e-3,
    );
    rows.add(
        "Modified z of 8.3 in their ten",
        HOAGLIN,
        26.3055,
        z(&book, 9),
        1e-3,
    );
    rows.add(
        "Modified z of 2.1 in their ten",
        HOAGLIN,
        -1.5738,
        z(&book, 0),
        1e-3,
    );
    rows.add(
        "Modified z of 7.9 in five",
        HOAGLIN,
        18.2115,
        z(&[5.1, 5.2, 5.2, 5.3, 7.9], 4),
        1e-3,
    );
}

fn workshop(rows: &mut Rows) {
    let one = |unit: Unit| unit.to_base(1.0);
    rows.add(
        "1 lbf·ft in N·m",
        SP811,
        1.355818,
        one(Unit::PoundForceFoot),
        5e-7,
    );
    rows.add(
        "1 lbf·in in N·m",
        SP811,
        0.1129848,
        one(Unit::PoundForceInch),
        5e-8,
    );
    rows.add(
        "1 kgf·m in N·m",
        SP811,
        9.80665,
        one(Unit::KilogramForceMetre),
        1e-12,
    );
    rows.add(
        "195 lbf·in in N·m",
        ("US Army TM 1-1520-238-23, 6.41", By::Printed),
        22.03,
        Unit::PoundForceInch.to_base(195.0),
        5e-3,
    );
    let set = |wanted, lever_mm, adapter_mm, angle_deg| {
        let adapter = AdapterUsed {
            lever_mm,
            adapter_mm,
            angle_deg,
        };
        set_for(adapter, NewtonMetres(wanted)).map_or(f64::NAN, NewtonMetres::get)
    };
    rows.add(
        "80 N·m, 40 + 5 cm",
        CROWFOOT_PAGE,
        71.1,
        set(80.0, 400.0, 50.0, 0.0),
        0.05,
    );
    rows.add(
        "50, 16 + 2",
        CROWFOOT,
        44.4444,
        set(50.0, 160.0, 20.0, 0.0),
        5e-5,
    );
    rows.add(
        "10, 18 + 0.5",
        CROWFOOT,
        9.7297,
        set(10.0, 180.0, 5.0, 0.0),
        5e-5,
    );
    rows.add(
        "10 N·m, 250 + 40 mm at 45°",
        CROWFOOT,
        8.983619,
        set(10.0, 250.0, 40.0, 45.0),
        1e-6,
    );
    rows.add(
        "10 N·m, 250 + 40 mm at 135°",
        CROWFOOT,
        11.275700,
        set(10.0, 250.0, 40.0, 135.0),
        1e-6,
    );
    rows.add(
        "10 N·m, 250 + 40 mm square: no change",
        (
            "T L / (L + E cos θ) with cos 90° = 0 (US Army TM 9-254, fig. 4-6); a rule in use that turns it round is not followed",
            By::SameFormula,
        ),
        10.0,
        set(10.0, 250.0, 40.0, 90.0),
        1e-9,
    );
    let thread = |text: &str| text.parse::<Thread>();
    let area = |text| thread(text).map_or(f64::NAN, Thread::stress_area_mm2);
    rows.add("Stress area M6, mm²", ISO898, 20.1, area("M6"), 0.05);
    rows.add("Stress area M8, mm²", ISO898, 36.6, area("M8"), 0.05);
    rows.add("Stress area M10, mm²", ISO898, 58.0, area("M10"), 0.05);
    let torque = |text, mu| {
        thread(text).map_or(f64::NAN, |t| {
            tightness(t, PropertyClass::C8_8, mu).torque_nm
        })
    };
    rows.add(
        "M8x1 8.8, mu 0.10, N·m",
        VDI,
        22.8,
        torque("M8x1", 0.10),
        0.35,
    );
    rows.add(
        "M8x1 8.8, mu 0.14, N·m",
        VDI,
        29.2,
        torque("M8x1", 0.14),
        0.45,
    );
    rows.add(
        "M10x1.25 8.8, mu 0.12, N·m",
        VDI,
        51.0,
        torque("M10x1.25", 0.12),
        0.75,
    );
    let within = |at: f64, most_nm| {
        let limits = Limits {
            low: Some(9.0),
            high: Some(12.0),
        };
        tool_uncertainty(NewtonMetres(at), TorqueTool::Scale { most_nm })
            .map_or(f64::NAN, |u| probability(at, u.get(), limits))
    };
    rows.add(
        "p of 9.5 N·m, 9 to 12, 6 % tool",
        ISO6789,
        0.935662,
        within(9.5, 10.0),
        1e-6,
    );
    rows.add(
        "p of 9.2 N·m, 9 to 12, 4 % tool",
        ISO6789,
        0.826733,
        within(9.2, 40.0),
        1e-6,
    );
    rows.add(
        "p of 10 N·m, 9 to 12, 4 % tool",
        ISO6789,
        0.999993,
        within(10.0, 50.0),
        1e-6,
    );
    for (n, star) in [
        (4, "1 3 2 4"),
        (8, "1 5 3 7 2 6 4 8"),
        (12, "1 7 4 10 2 8 5 11 3 9 6 12"),
        (16, "1 9 5 13 3 11 7 15 2 10 6 14 4 12 8 16"),
    ] {
        let circle: Vec<[f64; 2]> = (0..n)
            .map(|i| f64::from(i) / f64::from(n) * std::f64::consts::TAU)
            .map(|a| [a.cos(), a.sin()])
            .collect();
        let star: Vec<u32> = star.split(' ').filter_map(|s| s.parse().ok()).collect();
        let ours: Vec<u32> = cross_sequence(&circle).iter().map(|i| i + 1).collect();
        let same = star.iter().zip(&ours).filter(|(a, b)| a == b).count();
        rows.add(
            &format!("Cross sequence of {n} bolts, places alike"),
            STAR,
            f64::from(n),
            same as f64,
            0.0,
        );
    }
    let vcf = |kg_m3, celsius| {
        let density = Density {
            kg_m3,
            half_width_kg_m3: 0.0,
        };
        volume_correction(density, celsius).unwrap_or(f64::NAN)
    };
    rows.add(
        "VCF 840 kg/m³, 80 °C",
        D1250,
        0.950785,
        vcf(840.0, 80.0),
        1e-6,
    );
    rows.add("VCF 850, -10 °C", D1250, 1.018358, vcf(850.0, -10.0), 1e-6);
    rows.add("VCF 860, 60 °C", D1250, 0.966849, vcf(860.0, 60.0), 1e-6);
    rows.add(
        "VCF 850, 80 over 20 °C",
        (
            "API MPMS 11.1-2004, full form; where its factors were read was not kept",
            By::FromMemory,
        ),
        0.951777 / 0.996713,
        vcf(850.0, 80.0) / vcf(850.0, 20.0),
        2e-5,
    );
}

fn fluid_in_and_out(rows: &mut Rows) {
    let poured = |litres, celsius| Poured {
        litres,
        litres_half_width: 0.05,
        celsius,
        celsius_half_width: 5.0,
    };
    let density = Density {
        kg_m3: 855.0,
        half_width_kg_m3: 15.0,
    };
    let balance = balance(
        &[poured(5.0, 80.0)],
        &[poured(4.5, 20.0)],
        density,
        Units::default(),
    );
    // No balance is no number, and no number agrees with nothing.
    let ours = |of: fn(&Balance) -> f64| balance.as_ref().map_or(f64::NAN, of);
    rows.add(
        "5 l at 80 °C, at 15 °C, 855 kg/m³",
        D1250,
        4.758288,
        ours(|b| b.out_15.value),
        1e-6,
    );
    rows.add(
        "4.5 l at 20 °C, at 15 °C",
        D1250,
        4.483461,
        ours(|b| b.in_15.value),
        1e-6,
    );
    // In less out: below zero, less went in.
    rows.add(
        "In less out, l",
        D1250,
        -0.274828,
        ours(|b| b.difference.value),
        1e-6,
    );
    rows.add(
        "u of that difference, l",
        ("Monte Carlo, numpy, 2e6 draws", By::Simulated),
        MONTE_CARLO_U,
        ours(|b| b.difference.u),
        2e-4,
    );
}

fn numbers(rows: &mut Rows) {
    let digit = |text: &str| -> f64 {
        let Ok(vin) = text.parse::<Vin>() else {
            return f64::NAN;
        };
        let expected = vin.check_digit(Market::NorthAmerica).expected;
        expected.to_digit(10).map_or(10.0, f64::from)
    };
    rows.add(
        "Check digit 1G4AH59H45G118341",
        CFR,
        4.0,
        digit("1G4AH59H45G118341"),
        0.0,
    );
    rows.add(
        "Check digit 1M8GDM9AXKP042788 (X is 10)",
        VININFO,
        10.0,
        digit("1M8GDM9AXKP042788"),
        0.0,
    );
    rows.add(
        "Check digit 5GZCZ43D13S812715",
        VININFO,
        1.0,
        digit("5GZCZ43D13S812715"),
        0.0,
    );
    rows.add(
        "Check digit 1FTFW1ET5DFC10312 (has 5)",
        VININFO,
        9.0,
        digit("1FTFW1ET5DFC10312"),
        0.0,
    );
    for (text, bytes) in [
        ("P0741", 0x0741),
        ("B1342", 0x9342),
        ("U0100", 0xC100),
        ("C0035", 0x4035),
    ] {
        let ours = text
            .parse::<Code>()
            .map_or(f64::NAN, |c| f64::from(u16::from_be_bytes(c.to_bytes())));
        rows.add(
            &format!("{text} as bytes"),
            J2012,
            f64::from(bytes),
            ours,
            0.0,
        );
    }
    for (vin, years) in [
        ("1M8GDM9AXKP042788", [1989.0, 2019.0]),
        ("1HGCM82633A004352", [2003.0, f64::NAN]),
    ] {
        let ours = vin.parse::<Vin>().map_or_else(
            |_| Vec::new(),
            |vin| vin.model_year(Market::Unknown, 2026).years,
        );
        for (at, year) in years.into_iter().enumerate().filter(|(_, y)| y.is_finite()) {
            let ours = ours.get(at).map_or(f64::NAN, |y| f64::from(*y));
            rows.add(
                &format!("Model year {} of {vin}", at + 1),
                VININFO,
                year,
                ours,
                0.0,
            );
        }
    }
    for (byte, set) in [(0x2Fu8, 5.0), (0xAF, 6.0), (0x50, 2.0)] {
        let ours = Status::from_byte(byte)
            .bits()
            .iter()
            .filter(|b| **b)
            .count();
        rows.add(
            &format!("Status {byte:#04X}, bits set"),
            UDS,
            set,
            ours as f64,
            0.0,
        );
    }
}

fn all() -> Vec<Row> {
    let mut rows = Rows(Vec::new());
    electrical(&mut rows);
    workshop(&mut rows);
    fluid_in_and_out(&mut rows);
    numbers(&mut rows);
    rows.0
}

#[test]
fn ours_agree_with_the_outside() {
    for row in all() {
        let off = (row.ours - row.value).abs();
        assert!(
            off <= row.within,
            "{}: {} against {}",
            row.check,
            row.ours,
            row.value
        );
    }
}

/// The table that the documentation shows is the one that was checked;
/// `UPDATE=1` writes it anew.
#[test]
fn the_table_in_the_docs_is_current() {
    let seven = |value: f64| (value * 1e7).round() / 1e7;
    let mut table = String::from(HEAD);
    for row in all() {
        // What is smaller than any digit shown may vary with the platform.
        let difference = row.ours - row.value;
        let shown = if difference.abs() < 1e-9 {
            "0".to_owned()
        } else {
            format!("{difference:.0e}")
        };
        table.push_str(&format!(
            "| {} | {} | {} | {} | {} | {shown} | {:e} |\n",
            row.check,
            row.source.0,
            row.source.1.words(),
            seven(row.value),
            seven(row.ours),
            row.within
        ));
    }
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/check-values.md");
    if std::env::var_os("UPDATE").is_some() {
        std::fs::write(path, &table).expect("docs can be written");
    }
    let kept = std::fs::read_to_string(path).expect("docs/check-values.md is there");
    assert!(
        kept == table,
        "docs/check-values.md is not current: UPDATE=1 cargo test -p swarfbook-measure --test check_values"
    );
}

const HEAD: &str = "# Check values

What the core gives beside values from outside the project. Made by `core/measure/tests/check_values.rs`, which fails when
a difference is more than what is allowed. `tests/outside/measure.py` holds the same functions against reference libraries
over hundreds of drawn cases each.

How a value was come by says what agreement with it is worth. *Printed*: it stands in the source. *Library*: another program's
own function. *Same formula*: the formula named, evaluated by another program; it finds a slip in ours, not a wrong formula.
*Other formula*: another way to the same thing. *Simulated*: drawn at random. *From memory*: known by heart, or from a place
that was not kept; nobody can look it up here, so agreement says little.

Meter and tool limits are rectangular distributions; a probability is worked out with a normal one of the same standard
uncertainty (GUM 4.3.7, JCGM 106), and the rows say so.

Our own assumptions, with no published source, which no row here can check: a winding's limits that name no temperature
hold at 20 °C within ± 10 K; a winding whose temperature was not taken is within ± 20 K of that of its limits; a winding
may lag behind the place where its temperature was taken by a quarter of the distance to that of its limits.

| check | source | how | value | ours | difference | allowed |
| --- | --- | --- | --- | --- | --- | --- |
";
