//! Codes and VIN in words, and whether what was found explains a code.

use swarfbook_job::fact::{ComponentKind, Moment};
use swarfbook_job::fold::JobState;
use swarfbook_measure::code::{
    Code, Explanation, Finding, Origin, PartKind, System, Table, explain_all,
};
use swarfbook_measure::vin::{Market, Vin};

use super::reading;
use crate::view::{ComponentView, ExplainView};

/// What codes and readings say about each other, as screens show it.
pub(crate) fn explains(explanations: &[Explanation]) -> Vec<ExplainView> {
    explanations
        .iter()
        .map(|e| ExplainView {
            code: e.code.to_string(),
            verdict_words: e.answer.words().to_owned(),
            reason: e.reasons.join(" "),
        })
        .collect()
}

/// What codes and readings say about each other; empty without codes.
pub(super) fn explanations(state: &JobState, components: &[ComponentView]) -> Vec<Explanation> {
    let Some(read) = state.codes.get(&Moment::Before) else {
        return Vec::new();
    };
    // The shipped table is checked by a test of its own crate.
    let Ok(table) = Table::shipped() else {
        return Vec::new();
    };
    let codes: Vec<Code> = read
        .codes
        .iter()
        .filter_map(|c| c.code.parse().ok())
        .collect();
    let findings: Vec<Finding> = components
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
            verdict: reading::last_verdict(component),
        })
        .collect();
    explain_all(&table, &codes, &findings)
}

/// The log's kind of part, as the bench knows it.
pub(super) fn part_kind(kind: ComponentKind) -> PartKind {
    match kind {
        ComponentKind::OnOffSolenoid => PartKind::OnOffSolenoid,
        ComponentKind::LinearSolenoid => PartKind::LinearSolenoid,
        ComponentKind::TemperatureSensor => PartKind::TemperatureSensor,
        ComponentKind::SpeedSensor => PartKind::SpeedSensor,
        ComponentKind::Other => PartKind::Other,
    }
}

/// What a code's structure says; no copied text lists.
pub(crate) fn code_words(code: &str) -> String {
    let Ok(code) = code.parse::<Code>() else {
        return String::new();
    };
    let structure = code.structure();
    let system = match structure.system {
        System::Powertrain if structure.transmission => "transmission",
        System::Powertrain => "powertrain",
        System::Chassis => "chassis",
        System::Body => "body",
        System::Network => "network",
    };
    let origin = match structure.origin {
        Origin::Standard => "meaning set by the standard",
        Origin::Maker => "meaning set by the maker",
        Origin::Reserved => "reserved by the standard",
    };
    format!("{system}, {origin}")
}

/// What a VIN says beside itself: a check digit that does not agree (advice
/// only, since most markets have none) and the model years it can mean.
pub(crate) fn vin_words(vin: &str, this_year: u32) -> Vec<String> {
    let Ok(vin) = vin.parse::<Vin>() else {
        return Vec::new();
    };
    let year = vin.model_year(Market::Unknown, this_year + 1);
    vin.check_digit(Market::Unknown)
        .ask
        .into_iter()
        .chain([year.words])
        .collect()
}
