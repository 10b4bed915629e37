//! Whether what was found explains a code.

use swarfbook_job::fact::{ComponentKind, Moment};
use swarfbook_job::fold::JobState;
use swarfbook_measure::code::{Code, Explanation, Finding, PartKind, Table, explain_all};
use swarfbook_measure::conformity::ReadingVerdict;

use crate::part::Part;

/// What codes and readings say about each other; empty without codes.
pub fn explanations(state: &JobState, parts: &[Part], table: &Table) -> Vec<Explanation> {
    let Some(read) = state.codes.get(&Moment::Before) else {
        return Vec::new();
    };
    let codes: Vec<Code> = read
        .codes
        .iter()
        .filter_map(|c| c.code.parse().ok())
        .collect();
    let findings: Vec<Finding> = parts
        .iter()
        .map(|component| Finding {
            name: component.name.clone(),
            kind: part_kind(component.kind),
            role: None,
            codes: component
                .codes
                .iter()
                .filter_map(|c| c.parse().ok())
                .collect(),
            // A code of the car as it came in speaks of the part it came in with.
            verdict: component.as_found.and_then(ReadingVerdict::called),
        })
        .collect();
    explain_all(table, &codes, &findings)
}

/// The log's kind of part, as the bench knows it.
fn part_kind(kind: ComponentKind) -> PartKind {
    match kind {
        ComponentKind::OnOffSolenoid => PartKind::OnOffSolenoid,
        ComponentKind::LinearSolenoid => PartKind::LinearSolenoid,
        ComponentKind::TemperatureSensor => PartKind::TemperatureSensor,
        // What a code says of a speed sensor it says of either kind.
        ComponentKind::SpeedSensor | ComponentKind::HallSensor => PartKind::SpeedSensor,
        ComponentKind::Switch => PartKind::PressureSensor,
        ComponentKind::RangeSensor => PartKind::RangeSensor,
        ComponentKind::PressurePort | ComponentKind::Converter | ComponentKind::Other => {
            PartKind::Other
        }
    }
}
