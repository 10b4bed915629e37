//! Codes and VIN in words.

use swarfbook_job::fact::{CodeState, Moment};
use swarfbook_job::fold::JobState;
use swarfbook_measure::code::{
    Code, Explanation, Held, Origin, Status, System, changes as changed,
};
use swarfbook_measure::vin::{Market, Vin};
use swarfbook_words::{say, term};

use crate::view::{CodeView, ExplainView};

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

/// The part of the car that a code speaks of.
pub(crate) fn system_words(code: &str) -> Option<&'static str> {
    let structure = code.parse::<Code>().ok()?.structure();
    Some(match structure.system {
        System::Powertrain if structure.transmission => term!("transmission"),
        System::Powertrain => term!("powertrain"),
        System::Chassis => term!("chassis"),
        System::Body => term!("body"),
        System::Network => term!("network"),
    })
}

/// What a code's structure says; no copied text lists.
pub(crate) fn code_words(code: &str) -> String {
    let (Ok(parsed), Some(system)) = (code.parse::<Code>(), system_words(code)) else {
        return String::new();
    };
    let structure = parsed.structure();
    let origin = match structure.origin {
        Origin::Standard => say!("meaning-set-by-the-standard"),
        Origin::Maker => say!("meaning-set-by-the-maker"),
        Origin::Reserved => say!("reserved-by-the-standard"),
    };
    format!("{system}, {origin}")
}

/// A code taken apart, for the screens.
pub(crate) fn code_view(code: Code, state: CodeState, status: Option<u8>) -> CodeView {
    let [a, b] = code.to_bytes();
    let mut bytes = format!("{a:02X} {b:02X}");
    if let Some(failure) = code.failure_type() {
        bytes.push_str(&format!(" {failure:02X}"));
    }
    let code = code.to_string();
    CodeView {
        words: code_words(&code),
        code,
        state,
        bytes,
        status,
        status_words: status.map_or_else(Vec::new, status_words),
    }
}

/// The status byte in a sentence and in its bits.
pub(crate) fn status_words(byte: u8) -> Vec<String> {
    let status = Status::from_byte(byte);
    let bits = status.set_bits();
    let bits = if bits.is_empty() {
        say!("no-bit-set")
    } else {
        bits.join(", ")
    };
    vec![
        status.words().to_owned(),
        say!(
            "status-value-bits",
            value = format_args!("{byte:02X}"),
            bits = bits
        ),
    ]
}

/// What became of each code; nothing until both moments were read.
pub(crate) fn changes(state: &JobState) -> Vec<String> {
    let held = |moment| -> Option<Vec<Held>> {
        let read = state.codes.get(&moment)?;
        let held = read.codes.iter().filter_map(|seen| {
            Some(Held {
                code: seen.code.parse().ok()?,
                stored: seen.state == CodeState::Stored,
                status: seen.status.map(Status::from_byte),
            })
        });
        Some(held.collect())
    };
    match (held(Moment::Before), held(Moment::After)) {
        (Some(before), Some(after)) => changed(&before, &after)
            .into_iter()
            .map(|change| change.words)
            .collect(),
        _ => Vec::new(),
    }
}

/// What a VIN says beside itself: a check digit that does not agree (advice
/// only where the market has none) and the model years it can mean.
pub(crate) fn vin_words(vin: &str, this_year: u32, market: Market) -> Vec<String> {
    let Ok(vin) = vin.parse::<Vin>() else {
        return Vec::new();
    };
    let year = vin.model_year(market, this_year + 1);
    let years: Vec<String> = year.years.iter().map(u32::to_string).collect();
    let either = |first: String, second: String| say!("either-or", first = first, second = second);
    let years = match years.into_iter().reduce(either) {
        None => year.words,
        Some(years) => say!("model-year-value-words", value = years, words = year.words),
    };
    vin.check_digit(market)
        .ask
        .into_iter()
        .chain([years])
        .collect()
}
