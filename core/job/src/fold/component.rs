//! Electrical parts: their limits, what was read of them, what took their place.

use std::collections::BTreeMap;

use super::state::Stamp;
use crate::fact::{Component, HarnessRead, Reading, ReadingKind, Replacement, SpecEntered, StepId};

/// A reading as typed.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadingState {
    /// Who and when.
    pub stamp: Stamp,
    /// As it was typed; no verdict.
    pub reading: Reading,
}

/// An electrical part with its limits and readings.
#[derive(Debug, Clone, PartialEq)]
pub struct ComponentState {
    /// Who and when.
    pub stamp: Stamp,
    /// As it was noted.
    pub component: Component,
    /// Its limits, one a quantity.
    pub specs: BTreeMap<ReadingKind, SpecEntered>,
    /// Readings in order.
    pub readings: Vec<ReadingState>,
    /// Its wires, as they were read last.
    pub harness: Option<HarnessState>,
}

/// The wires of a part, as they were read.
#[derive(Debug, Clone, PartialEq)]
pub struct HarnessState {
    /// Who and when.
    pub stamp: Stamp,
    /// What was typed.
    pub read: HarnessRead,
}

/// A part out and in.
#[derive(Debug, Clone, PartialEq)]
pub struct ReplacedState {
    /// Who and when.
    pub stamp: Stamp,
    /// The one it was done at, by its id in the procedure.
    pub step: StepId,
    /// Out and in.
    pub replacement: Replacement,
}
