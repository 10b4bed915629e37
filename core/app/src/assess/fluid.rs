//! The fluid balance and the level, in words.

use swarfbook_job::fold::JobState;

/// What the numbers say; nothing when there are none.
pub(crate) fn words(state: &JobState) -> Vec<String> {
    let mut words = Vec::new();
    let out = state.sum_of_measures("fluid_out_l");
    let filled = state.sum_of_measures("fluid_in_l");
    match (out, filled) {
        (Some(out), Some(filled)) => words.push(format!(
            "{out:.1} l came out, {filled:.1} l went in: {}.",
            difference(filled - out)
        )),
        (Some(out), None) => words.push(format!("{out:.1} l came out.")),
        (None, Some(filled)) => words.push(format!("{filled:.1} l went in.")),
        (None, None) => {}
    }
    words.extend(level(state));
    words
}

fn difference(litres: f64) -> String {
    if litres.abs() < 0.05 {
        "as much as came out".to_owned()
    } else if litres > 0.0 {
        format!("{litres:.1} l more than came out")
    } else {
        format!("{:.1} l less than came out", -litres)
    }
}

/// What the trickle says, and what to do next.
fn level(state: &JobState) -> Option<String> {
    let low = state.last_measure("level_low_c")?;
    let high = state.last_measure("level_high_c")?;
    let now = state.last_measure("level_c")?;
    if low >= high {
        return Some(format!(
            "The maker's window can't go from {low} to {high} °C. Look at it again."
        ));
    }
    if now < low {
        return Some(format!(
            "At {now} °C the fluid is too cold to judge: wait until it is between {low} and {high} °C."
        ));
    }
    if now > high {
        return Some(format!(
            "At {now} °C the fluid is too hot to judge: let it cool to between {low} and {high} °C."
        ));
    }
    let seen = state.answer("level_seen")?;
    Some(match seen.choice.as_str() {
        "nothing" => {
            format!("Nothing runs out at {now} °C: the level is low. Add fluid, and look again.")
        }
        "trickle" => format!(
            "A thin steady trickle at {now} °C, within {low} to {high} °C: that is the level."
        ),
        _ => format!("A stream at {now} °C: the level is high. Let it run down to a trickle."),
    })
}
