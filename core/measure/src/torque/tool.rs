//! How far off a torque tool can be (ISO 6789 limits for new and checked tools).

use swarfbook_job::fact::TorqueTool;
use swarfbook_words::say;

use crate::uncertainty::rectangular;
use crate::unit::{NewtonMetres, show_number};

/// Why a tool was not taken.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[allow(missing_docs)] // the messages say what each is
pub enum ToolError {
    #[error("{}", say!("the-tools-scale-ends-at-most-nm-n", most_nm = most_nm, wanted_nm = wanted_nm))]
    BeyondScale { most_nm: f64, wanted_nm: f64 },
    #[error("{}", say!("plus-minus-percent-percent-cant-be-a-torque", percent = percent))]
    Percent { percent: f64 },
    #[error("{}", say!("wanted-nm-n-m-is-below-least-nm", wanted_nm = show_number(*wanted_nm), least_nm = show_number(*least_nm)))]
    BelowScale { least_nm: f64, wanted_nm: f64 },
}

/// Accuracy is stated, and checked, from this share of the end of the scale up
/// (ISO 6789, as a maker sums it up: 20, 60 and 100 %).
const LEAST_SHARE: f64 = 0.2;

/// The least torque at which the tool's accuracy holds, N·m; `None` where its
/// scale is not known.
pub fn least_nm(tool: TorqueTool) -> Option<f64> {
    match tool {
        TorqueTool::Scale { most_nm } => Some(LEAST_SHARE * most_nm),
        TorqueTool::Percent { .. } => None,
    }
}

/// What a conversion between units may add, N·m.
const NOISE_NM: f64 = 1e-9;

/// How far off a tool may be, ± percent of the setting: by ISO 6789 6 when its scale ends at
/// 10 N·m or below, else 4; or by its certificate.
pub fn accuracy_percent(tool: TorqueTool) -> f64 {
    match tool {
        TorqueTool::Scale { most_nm } if most_nm <= 10.0 => 6.0,
        TorqueTool::Scale { .. } => 4.0,
        TorqueTool::Percent { percent } => percent,
    }
}

/// Standard uncertainty of a torque set with a tool (rectangular, GUM 4.3.7), by
/// [`accuracy_percent`].
///
/// # Errors
/// [`ToolError`] when the tool can't set that torque.
pub fn tool_uncertainty(set: NewtonMetres, tool: TorqueTool) -> Result<NewtonMetres, ToolError> {
    if let TorqueTool::Scale { most_nm } = tool {
        if !(0.0..=most_nm).contains(&set.get()) {
            return Err(ToolError::BeyondScale {
                most_nm,
                wanted_nm: set.get(),
            });
        }
        let least_nm = LEAST_SHARE * most_nm;
        if set.get() < least_nm - NOISE_NM {
            return Err(ToolError::BelowScale {
                least_nm,
                wanted_nm: set.get(),
            });
        }
    }
    let percent = accuracy_percent(tool);
    if !(0.0..=20.0).contains(&percent) {
        return Err(ToolError::Percent { percent });
    }
    Ok(NewtonMetres(rectangular(set.get() * percent / 100.0)))
}
