//! Out against in, both at 15 °C.

use serde::{Deserialize, Serialize};
use swarfbook_words::say;
use ts_rs::TS;

use super::volume::{Density, FluidError, volume_at_15};
use crate::uncertainty::{Estimate, quadrature, rectangular};
use crate::unit::{Quantity, Units, show_number};

/// One portion drained or filled.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Poured {
    /// Litres, as measured.
    pub litres: f64,
    /// May be off by so much either way, litres: half a mark of the jug.
    pub litres_half_width: f64,
    /// Its temperature then, °C.
    pub celsius: f64,
    /// May be off by so much either way, K.
    pub celsius_half_width: f64,
}

/// Out, in and the difference, litres at 15 °C.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Balance {
    /// Came out.
    pub out_15: Estimate,
    /// Went in.
    pub in_15: Estimate,
    /// In less out; above zero: more went in.
    pub difference: Estimate,
    /// A sentence for the report.
    pub words: String,
    /// How it was worked out.
    pub steps: Vec<String>,
}

/// Compares what came out with what went in, told in `units`.
///
/// # Errors
/// [`FluidError`] for a volume, temperature or density that can't be.
pub fn balance(
    out: &[Poured],
    filled: &[Poured],
    density: Density,
    units: Units,
) -> Result<Balance, FluidError> {
    let mut steps = Vec::new();
    let mut sum = |portions: &[Poured], word: &str| -> Result<Estimate, FluidError> {
        let mut value = 0.0;
        let mut parts = Vec::new();
        for p in portions {
            let litres = Estimate {
                value: p.litres,
                u: rectangular(p.litres_half_width),
            };
            let at_15 = volume_at_15(litres, p.celsius, p.celsius_half_width, density)?;
            steps.push(say!("{} {} l at {} °C = {} l at 15 °C, standard uncertainty {} l (ASTM D1250, table 54D form, {} kg/m³).", word, show_number(p.litres), show_number(p.celsius), show_number(at_15.value), show_number(at_15.u), show_number(density.kg_m3)));
            value += at_15.value;
            parts.push(at_15.u);
        }
        Ok(Estimate {
            value,
            u: quadrature(&parts),
        })
    };
    let out_15 = sum(out, "Out:")?;
    let in_15 = sum(filled, "In:")?;
    let difference = Estimate {
        value: in_15.value - out_15.value,
        u: quadrature(&[out_15.u, in_15.u]),
    };
    Ok(Balance {
        words: words(out, filled, difference, units),
        out_15,
        in_15,
        difference,
        steps,
    })
}

fn words(out: &[Poured], filled: &[Poured], difference: Estimate, units: Units) -> String {
    if out.is_empty() || filled.is_empty() {
        return say!("Out and in can be compared once both are entered.");
    }
    let by = say!(
        "{} (k = 2, both at 15 °C)",
        units.show_pm(
            difference.value.abs(),
            difference.expanded(),
            Quantity::Volume
        )
    );
    if difference.value.abs() <= difference.expanded() {
        say!(
            "As much went in as came out, as far as it can be measured: difference {}.",
            by
        )
    } else if difference.value > 0.0 {
        say!(
            "More went in than came out, by {}: it was low, or more has drained than was caught.",
            by
        )
    } else {
        say!(
            "Less went in than came out, by {}: it was overfilled, or it is not full yet.",
            by
        )
    }
}
