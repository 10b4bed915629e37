//! Check values from outside the project beside ours, one row each; the same
//! table stands in `docs/check-values.md`.

mod electrical;
mod workshop;

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
    electrical::rows(&mut rows);
    workshop::rows(&mut rows);
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

What the core gives beside values from outside the project. Made by `core/measure/tests/check_values/main.rs`, which fails when
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
