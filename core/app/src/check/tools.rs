//! Tools: serial numbers, days of calibration, the check of the gauge card.

use swarfbook_job::fact::{ToolMark, Tools};
use swarfbook_words::term;

use super::{SHORT, number, text};
use crate::problem::Problem;

/// The most characters of a serial number.
const SERIAL: usize = 60;
/// More than these millimetres of the card's line of 150 mm either way is a slip, no print.
const LINE_MM: [f64; 2] = [100.0, 200.0];

pub(crate) fn tools(tools: &Tools) -> Result<(), Problem> {
    for (name, meter) in &tools.meters {
        text(term!("the-meters-name"), name, SHORT)?;
        mark(meter)?;
    }
    mark(&tools.wrench)?;
    mark(&tools.clamp)?;
    if let Some(card) = &tools.card {
        let [least, most] = LINE_MM;
        let what = term!("the-line-on-the-gauge-cards-sheet");
        number(what, card.line_mm, least, most, "mm")?;
    }
    Ok(())
}

fn mark(mark: &ToolMark) -> Result<(), Problem> {
    text(term!("the-serial-number"), &mark.serial, SERIAL)
}
