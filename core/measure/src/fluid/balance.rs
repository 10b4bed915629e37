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
            steps.push(say!(
                "word-litres-l-at-celsius-deg-c-at",
                word = word,
                litres = show_number(p.litres),
                celsius = show_number(p.celsius),
                at_15 = show_number(at_15.value),
                u = show_number(at_15.u),
                kg_m3 = show_number(density.kg_m3)
            ));
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
        return say!("out-and-in-can-be-compared-once-both");
    }
    let by = say!(
        "difference-k-2-both-at-15-deg-c",
        difference = units.show_pm(
            difference.value.abs(),
            difference.expanded(),
            Quantity::Volume
        )
    );
    if difference.value.abs() <= difference.expanded() {
        say!("as-much-went-in-as-came-out-as", by = by)
    } else if difference.value > 0.0 {
        say!("more-went-in-than-came-out-by-by", by = by)
    } else {
        say!("less-went-in-than-came-out-by-by", by = by)
    }
}
