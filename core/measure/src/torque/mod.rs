//! Tightening: is the torque sane, what to set with an adapter, in which order,
//! in which passes. A torque always comes from the maker's data; nothing here
//! invents one.

mod adapter;
mod passes;
mod sequence;
mod thread;
mod tool;

pub use adapter::{AdapterError, reaches, set_for};
pub use passes::{Finish, Pass, PassKind, Plan, PlanCaution, PlanError, check_angle};
pub use sequence::cross_sequence;
pub use thread::{PropertyClass, Thread, ThreadError, Tightness, tightness};
pub use tool::{ToolError, accuracy_percent, least_nm, tool_uncertainty};

use serde::{Deserialize, Serialize};
use swarfbook_words::say;
use ts_rs::TS;

use crate::unit::{NewtonMetres, Unit, show_number};

/// A question before an entered torque is believed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct TorqueDoubt {
    /// The most that can be, N·m.
    pub most_nm: f64,
    /// The question, in words.
    pub question: String,
    /// The unit in which the same number would be a torque of that size.
    pub instead: Option<Unit>,
}

/// Above this no fastener of a pan, plug or brace is tightened (ours).
const MOST_WITHOUT_THREAD_NM: f64 = 300.0;
/// Below this a wrench shows nothing (ours).
const LEAST_NM: f64 = 0.5;

/// The most that a bolt of this size takes: of the strongest class (12.9,
/// ISO 898-1) at the highest usual friction, by VDI 2230. A bolt in a light-metal
/// case takes far less.
pub fn most_nm(thread: Thread) -> f64 {
    thread::tightness(thread, PropertyClass::C12_9, 0.14).torque_nm
}

/// Whether an entered torque must be asked about; `unit` is the one it was typed in.
/// A number that is too much in its unit and could be in pounds and inches is asked
/// about as that: the two are taken for each other most often.
pub fn doubt(torque: NewtonMetres, unit: Unit, thread: Option<Thread>) -> Option<TorqueDoubt> {
    let most = thread.map_or(MOST_WITHOUT_THREAD_NM, most_nm);
    let nm = torque.get();
    let typed = |unit: Unit| format!("{} {}", show_number(unit.from_base(nm)), unit.symbol());
    if !nm.is_finite() || nm < LEAST_NM {
        return Some(TorqueDoubt {
            most_nm: most,
            question: say!("nm-n-m-is-less-than-a-wrench", nm = show_number(nm)),
            instead: None,
        });
    }
    if nm <= most {
        return None;
    }
    let inches = Unit::PoundForceInch;
    let as_inches = inches.to_base(unit.from_base(nm));
    let instead = (unit != inches && (LEAST_NM..=most).contains(&as_inches)).then_some(inches);
    let mut question = match thread {
        Some(thread) => say!(
            "typed-on-thread-even-the-strongest-bolt-of",
            typed = typed(unit),
            thread = thread,
            round = show_number((most * 10.0).round() / 10.0)
        ),
        None => say!("typed-is-more-than-any-bolt-of-a", typed = typed(unit)),
    };
    question.push(' ');
    question.push_str(&match instead {
        Some(instead) => say!(
            "is-the-unit-right-or-is-it-from",
            from_base = show_number(unit.from_base(nm)),
            unit = instead.symbol(),
            round = show_number((as_inches * 10.0).round() / 10.0)
        ),
        None => say!("is-the-torque-the-unit-or-the-thread"),
    });
    Some(TorqueDoubt {
        most_nm: most,
        question,
        instead,
    })
}

/// The thread in a size as it was noted: `M6`, `M6 x 25` (the bolt's length is no
/// pitch), `M8x1 x 30`; `None` where there is none.
pub fn thread_of_size(size: &str) -> Option<Thread> {
    size.match_indices(['M', 'm'])
        .find_map(|(at, m)| thread_after(size.get(at + m.len()..)?))
}

fn thread_after(m: &str) -> Option<Thread> {
    let mut numbers = m
        .split(['x', 'X', '×', '*'])
        .map(|part| part.trim().trim_end_matches("mm").trim());
    let diameter = numbers.next()?;
    let with_pitch = numbers
        .next()
        .and_then(|pitch| format!("M{diameter}x{pitch}").parse().ok());
    with_pitch.or_else(|| format!("M{diameter}").parse().ok())
}

#[cfg(test)]
mod tests;
