//! The appendix: the lines that figures rest on, with their raw values.

use std::collections::BTreeMap;
use swarfbook_words::{fixed, say};

use swarfbook_job::fact::Fact;
use swarfbook_job::fold::LineState;
use swarfbook_job::id::EntryId;
use swarfbook_report::content::{Raw, Source};

use super::figures::{Figures, kind_of};
use crate::present;

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
            say!("the tool")
        } else {
            figures
                .state
                .people
                .get(&line.stamp.device)
                .cloned()
                .unwrap_or_default()
        },
        what: kind_of(fact).replace('_', " "),
        raw: raw(figures, line, fact),
        photo: match fact {
            Fact::PhotoTaken { photo, .. } => Some(*photo),
            _ => None,
        },
    }
}

/// What was entered, before any working out.
fn raw(figures: &Figures<'_>, line: &LineState, fact: &Fact) -> Vec<Raw> {
    let value = |name: &str, value: String| Raw {
        name: name.to_owned(),
        value,
    };
    match fact {
        Fact::ReadingTaken { reading, .. } => {
            let mut raw = vec![value("samples", reading.samples.join(", "))];
            raw.extend(
                reading
                    .leads
                    .as_ref()
                    .map(|l| value("leads", say!("{} ohm", l))),
            );
            raw.extend(reading.part_c.map(|c| value("part", format!("{c} °C"))));
            raw.push(value(
                "meter",
                say!(
                    "{}, ± ({} % + {} counts)",
                    reading.meter.name,
                    reading.meter.percent,
                    reading.meter.counts
                ),
            ));
            raw
        }
        Fact::Measured { measured } => vec![value("typed", measured.typed.clone())],
        Fact::CensusMade { census, .. } => {
            let mut raw = vec![value("pieces", census.particles.len().to_string())];
            raw.extend(census.scale.as_ref().map(|s| {
                value(
                    "scale",
                    say!(
                        "{} px/mm, ± {} %",
                        fixed(s.px_per_mm, 2),
                        fixed(s.u_rel * 100.0, 1)
                    ),
                )
            }));
            raw.extend(
                census
                    .smallest_mm
                    .map(|mm| value("smallest", say!("{} mm", fixed(mm, 2)))),
            );
            raw
        }
        _ => vec![value("line", present::line_words(figures.loaded, line))],
    }
}
