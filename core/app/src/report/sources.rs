//! The appendix: the lines that figures rest on, with their raw values.

use std::collections::BTreeMap;
use swarfbook_words::rounding::up;
use swarfbook_words::{decimals, fixed, say, term};

use swarfbook_job::fact::{Fact, MeterUsed};
use swarfbook_job::fold::LineState;
use swarfbook_job::id::EntryId;
use swarfbook_measure::unit::show_number;
use swarfbook_report::content::{LogCount, Raw, Source, Untold};

use super::figures::{Figures, private};
use crate::present;

/// How many lines are told, and what the others are. Made last, when all are named.
pub(super) fn log_count(figures: &Figures<'_>) -> LogCount {
    let named = figures.named();
    let mut count = LogCount::default();
    let mut untold: BTreeMap<&str, u32> = BTreeMap::new();
    for line in figures.state.lines.iter().filter(|line| !private(line)) {
        count.lines += 1;
        if line.retracted_by.is_some() {
            count.taken_back += 1;
        } else if named.contains(&line.stamp.entry) {
            count.told += 1;
        } else {
            *untold.entry(untold_words(line)).or_default() += 1;
        }
    }
    count.untold = untold
        .into_iter()
        .map(|(what, n)| Untold {
            what: what.to_owned(),
            n,
        })
        .collect();
    count
}

fn untold_words(line: &LineState) -> &'static str {
    match &line.fact {
        Some(fact) => kind_words(fact),
        None => term!("lines-by-a-newer-version-of-the-app"),
    }
}

/// The lines that were named, in order of their ids.
pub(super) fn sources(figures: &Figures<'_>) -> BTreeMap<EntryId, Source> {
    let named = figures.named();
    figures
        .live()
        .filter(|line| named.contains(&line.stamp.entry))
        .filter_map(|line| Some((line.stamp.entry, source(figures, line, line.fact.as_ref()?))))
        .collect()
}

fn source(figures: &Figures<'_>, line: &LineState, fact: &Fact) -> Source {
    let machine = matches!(fact, Fact::CensusMade { .. });
    Source {
        at: line.stamp.wall,
        by: if machine {
            say!("the-tool")
        } else if matches!(fact, Fact::CustomerAnswered { .. }) {
            say!("the-customer")
        } else {
            present::line_by(line)
        },
        what: kind_words(fact).to_owned(),
        raw: raw(figures, line, fact),
        photo: match fact {
            Fact::PhotoTaken { photo, .. } => Some(*photo),
            _ => None,
        },
    }
}

/// What kind of line it is, for the appendix.
fn kind_words(fact: &Fact) -> &'static str {
    match fact {
        Fact::Opened { .. } => term!("job-opened"),
        Fact::WrittenBy { .. } => term!("written-by"),
        Fact::WrittenIn { .. } => term!("units"),
        Fact::MeasuredWith { .. } => term!("tools"),
        Fact::CarNoted { .. } => term!("car"),
        Fact::CustomerLinked { .. } => term!("customer"),
        Fact::ComplaintNoted { .. } => term!("complaint"),
        Fact::CodesRead { .. } => term!("codes-read"),
        Fact::GoAheadGiven { .. } => term!("go-ahead"),
        Fact::StepTicked { .. } => term!("step-done"),
        Fact::StepSettled { .. } => term!("step-settled"),
        Fact::StepSkipped { .. } => term!("step-skipped"),
        Fact::Noted { .. } => term!("note-2"),
        Fact::Observed { .. } => term!("what-was-seen"),
        Fact::Measured { .. } => term!("measured"),
        Fact::PhotoTaken { .. } => term!("photo-2"),
        Fact::PhotoHinted { .. } => term!("taps-on-the-photo-2"),
        Fact::CensusMade { .. } => term!("pieces-counted"),
        Fact::ParticleCorrected { .. } => term!("piece-corrected"),
        Fact::PhotoLinked { .. } => term!("photos-of-one-place"),
        Fact::CensusConfirmed { .. } => term!("count-confirmed"),
        Fact::PartOff { .. } => term!("part-off"),
        Fact::PartBack { .. } => term!("part-back"),
        Fact::PartLost { .. } => term!("part-lost"),
        Fact::ComponentNoted { .. } => term!("part-under-test"),
        Fact::SpecEntered { .. } => term!("spec-entered"),
        Fact::ReadingTaken { .. } => term!("reading"),
        Fact::HarnessRead { .. } => term!("wires-read"),
        Fact::PartReplaced { .. } => term!("part-replaced"),
        Fact::Tightened { .. } => term!("tightened"),
        Fact::Decided { .. } => term!("decision"),
        Fact::CostGiven { .. } => term!("price"),
        Fact::ReportMade { .. } => term!("report-made-3"),
        Fact::ReportWithdrawn { .. } => term!("report-withdrawn"),
        Fact::ReportShared { .. } => term!("report-shared"),
        Fact::CustomerAnswered { .. } => term!("customers-answer"),
        Fact::Retracted { .. } => term!("undone"),
    }
}

fn meter_words(meter: &MeterUsed) -> String {
    say!(
        "meter-plus-minus-percent-percent-counts-counts",
        meter = meter.name,
        percent = show_number(meter.percent),
        counts = show_number(meter.counts)
    )
}

/// Samples as they were typed, with the decimal mark of the language.
fn typed<'a>(samples: impl IntoIterator<Item = &'a String>) -> String {
    let samples: Vec<String> = samples.into_iter().map(|one| decimals(one)).collect();
    samples.join("; ")
}

/// What was entered, before any working out.
fn raw(figures: &Figures<'_>, line: &LineState, fact: &Fact) -> Vec<Raw> {
    let value = |name: &str, value: String| Raw {
        name: name.to_owned(),
        value,
    };
    match fact {
        Fact::ReadingTaken { reading, .. } => {
            let mut raw = vec![value(term!("samples"), typed(&reading.samples))];
            raw.extend(
                reading
                    .leads
                    .as_ref()
                    .map(|l| value(term!("leads"), say!("l-ohm", l = decimals(l)))),
            );
            raw.extend(reading.part_c.map(|c| {
                value(
                    term!("temperature-of-the-part"),
                    format!("{} °C", show_number(c)),
                )
            }));
            raw.extend(reading.applied.as_ref().map(|applied| {
                value(
                    term!("voltage-2"),
                    format!("{} V", decimals(&applied.volts)),
                )
            }));
            raw.push(value(term!("meter"), meter_words(&reading.meter)));
            if reading.display.is_some() {
                raw.push(value(
                    term!("read-by"),
                    term!("the-machine-off-a-photo-of-the-display").to_owned(),
                ));
            }
            raw
        }
        Fact::HarnessRead { read, .. } => {
            let mut raw = vec![value(term!("samples"), typed(read.samples()))];
            raw.extend(
                read.leads
                    .as_ref()
                    .map(|l| value(term!("leads"), say!("l-ohm", l = decimals(l)))),
            );
            raw.push(value(term!("meter"), meter_words(&read.meter)));
            raw
        }
        Fact::CodesRead { codes, .. } => codes
            .iter()
            .map(|seen| {
                let status = seen
                    .status
                    .map_or_else(Vec::new, present::codes::status_words);
                let words = [present::codes::code_words(&seen.code)];
                let told: Vec<String> = words.into_iter().chain(status).collect();
                value(&seen.code, told.join("; "))
            })
            .chain([value(
                term!("line"),
                present::line_words(figures.loaded, line),
            )])
            .collect(),
        Fact::Measured { measured } => vec![value(term!("typed"), measured.typed.clone())],
        Fact::CensusMade { census, .. } => {
            let mut raw = vec![value(term!("pieces"), census.particles.len().to_string())];
            raw.extend(census.scale.as_ref().map(|s| {
                value(
                    term!("scale"),
                    say!(
                        "px-per-mm-px-mm-plus-minus-u",
                        px_per_mm = fixed(s.px_per_mm, 2),
                        u_rel = fixed(up(s.u_rel * 100.0, 1), 1)
                    ),
                )
            }));
            raw.extend(
                census
                    .smallest_mm
                    .map(|mm| value(term!("smallest"), say!("mm-mm", mm = fixed(up(mm, 2), 2)))),
            );
            raw.extend(census.calibration.as_ref().map(|by| {
                value(
                    term!("class-probabilities"),
                    say!(
                        "calibrated-to-pieces-pieces-temperature-temperature",
                        pieces = by.pieces,
                        temperature = fixed(by.temperature, 2)
                    ),
                )
            }));
            raw
        }
        _ => vec![value(
            term!("line"),
            present::line_words(figures.loaded, line),
        )],
    }
}
