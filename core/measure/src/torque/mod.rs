//! Tightening: is the torque sane, what to set with an adapter, in which order,
//! in which passes. A torque always comes from the maker's data; nothing here
//! invents one.

mod adapter;
mod passes;
mod sequence;
mod thread;
mod tool;

pub use adapter::{Adapter, AdapterError};
pub use passes::{Pass, PassKind, Plan, PlanError, plan};
pub use sequence::cross_sequence;
pub use thread::{PropertyClass, Thread, ThreadError, Tightness, tightness};
pub use tool::{ToolClass, ToolError, tool_uncertainty};

use serde::{Deserialize, Serialize};
use swarfbook_words::say;
use ts_rs::TS;

use crate::unit::{NewtonMetres, show_number};

/// A question before an entered torque is believed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct TorqueDoubt {
    /// The most that can be, N·m.
    pub most_nm: f64,
    /// The question, in words.
    pub question: String,
}

/// Above this no fastener of a pan, plug or brace is tightened (ours).
const MOST_WITHOUT_THREAD_NM: f64 = 300.0;
/// Below this a wrench shows nothing (ours).
const LEAST_NM: f64 = 0.5;

/// Whether an entered torque must be asked about. With a thread the bound is
/// what a bolt of the strongest class (12.9, ISO 898-1) takes at the highest
/// usual friction, by VDI 2230; a bolt in a light-metal case takes far less.
pub fn doubt(torque: NewtonMetres, thread: Option<Thread>) -> Option<TorqueDoubt> {
    let most_nm = match thread {
        Some(thread) => thread::tightness(thread, PropertyClass::C12_9, 0.14).torque_nm,
        None => MOST_WITHOUT_THREAD_NM,
    };
    let nm = torque.get();
    let question = if !nm.is_finite() || nm < LEAST_NM {
        say!(
            "{} N·m is less than a wrench can set. Is the unit right?",
            show_number(nm)
        )
    } else if nm > most_nm {
        match thread {
            Some(thread) => say!(
                "{} N·m on {}: even the strongest bolt of that size takes no more than {} N·m. Is the torque, the unit or the thread wrong?",
                show_number(nm),
                thread,
                show_number(most_nm.round())
            ),
            None => say!(
                "{} N·m is more than any bolt of a pan, plug or brace takes. Is the torque or the unit wrong?",
                show_number(nm)
            ),
        }
    } else {
        return None;
    };
    Some(TorqueDoubt { most_nm, question })
}

#[cfg(test)]
mod tests;
