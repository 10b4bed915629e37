//! Codes, the fluid, and what proves the work.

use swarfbook_job::fact::{CodeState, Fact as Line, Moment};
use swarfbook_job::procedure::Evidence;
use swarfbook_report::content::{CodeSaid, CodesSaid, Fact, FluidSaid, Swatch};
use swarfbook_words::{fixed, say, term, within};

use super::figures::Figures;
use crate::assess::{explain, fluid as balance};

pub(super) fn codes(figures: &Figures<'_>) -> CodesSaid {
    CodesSaid {
        before: read(figures, Moment::Before),
        after: read(figures, Moment::After),
        explained: explain::explains(&figures.assessed.explanations)
            .into_iter()
            .map(|e| {
                let from = figures
                    .state
                    .codes
                    .get(&Moment::Before)
                    .map(|c| c.stamp.entry);
                figures.said(
                    say!(
                        "{}: what was found {}. {}",
                        e.code,
                        e.verdict_words,
                        e.reason
                    ),
                    from,
                )
            })
            .chain(explain::changes(figures.state).into_iter().map(|words| {
                let read = figures.state.codes.values().map(|c| c.stamp.entry);
                figures.said(words, read)
            }))
            .collect(),
    }
}

fn read(figures: &Figures<'_>, moment: Moment) -> Option<Vec<CodeSaid>> {
    let read = figures.state.codes.get(&moment)?;
    Some(
        read.codes
            .iter()
            .map(|seen| {
                let held = match seen.state {
                    CodeState::Stored => term!("stored"),
                    CodeState::Pending => term!("pending"),
                };
                CodeSaid {
                    code: seen.code.clone(),
                    said: figures.said(
                        seen.status
                            .map_or_else(Vec::new, explain::status_words)
                            .into_iter()
                            .fold(
                                format!("{held}; {}", explain::code_words(&seen.code)),
                                |words, more| format!("{words}. {}", more.trim_end_matches('.')),
                            ),
                        [read.stamp.entry],
                    ),
                }
            })
            .collect(),
    )
}

/// Topics that are told with the fluid.
fn of_fluid(topic: &str) -> bool {
    topic.starts_with("fluid_") || topic.starts_with("level_")
}

pub(super) fn fluid(figures: &Figures<'_>) -> FluidSaid {
    let mut facts = answers(figures, of_fluid);
    for state in &figures.state.photos {
        if let Some(words) = crate::present::photo_census(figures.state, state).fluid_words {
            facts.push(Fact {
                label: say!("Colour as measured"),
                said: figures.said(words, [state.stamp.entry]),
            });
        }
    }
    let lines: Vec<_> = figures
        .live()
        .filter(|line| matches!(&line.fact, Some(Line::Measured { measured }) if of_fluid(&measured.topic)))
        .map(|line| line.stamp.entry)
        .collect();
    facts.extend(
        balance::words(figures.state, figures.loaded.units)
            .into_iter()
            .map(|words| Fact {
                label: say!("What that means"),
                said: figures.said(words, lines.clone()),
            }),
    );
    FluidSaid {
        facts,
        swatches: swatches(figures),
    }
}

/// A usual dye of fresh fluid, sRGB (common practice, no published source).
const FRESH: [u8; 3] = [190, 42, 48];

/// The colour as measured, beside fresh fluid.
fn swatches(figures: &Figures<'_>) -> Vec<Swatch> {
    let mut swatches: Vec<Swatch> = figures
        .state
        .photos
        .iter()
        .filter_map(|photo| {
            let lab = photo.census.as_ref()?.fluid.as_ref()?.lab;
            let [l, a, b] = lab;
            Some(Swatch {
                label: term!("Yours:").to_owned(),
                rgb: Swatch::rgb_of_lab(lab),
                said: figures.said(
                    say!(
                        "as measured in the photo (L {}, a {}, b {})",
                        fixed(l, 0),
                        fixed(a, 0),
                        fixed(b, 0)
                    ),
                    [photo.stamp.entry],
                ),
            })
        })
        .collect();
    if !swatches.is_empty() {
        swatches.push(Swatch {
            label: say!("Fresh, to compare:"),
            rgb: FRESH,
            said: figures.said(say!("often a clear red; some makers dye it otherwise"), []),
        });
    }
    swatches
}

/// Leak checks and road test.
pub(super) fn proof(figures: &Figures<'_>) -> Vec<Fact> {
    answers(figures, |topic| {
        topic == "leak" || topic.starts_with("road_test")
    })
}

/// Observations and numbers of the topics asked for, in the order of writing.
fn answers(figures: &Figures<'_>, wanted: impl Fn(&str) -> bool) -> Vec<Fact> {
    figures
        .live()
        .filter_map(|line| {
            let (step, topic) = match line.fact.as_ref()? {
                Line::Observed { observed } => (&observed.step, &observed.topic),
                Line::Measured { measured } => (&measured.step, &measured.topic),
                _ => return None,
            };
            if !wanted(topic) {
                return None;
            }
            let (_, at) = figures.procedure.step(step)?;
            let label = match &figures.procedure.topic(step, topic)?.evidence {
                Evidence::Observe { label, .. } | Evidence::Measure { label, .. } => label.clone(),
                _ => return None,
            };
            let words = crate::present::line_words(figures.loaded, line);
            let value = words
                .strip_prefix(&format!("{label}: "))
                .unwrap_or(&words)
                .to_owned();
            Some(Fact {
                label: format!("{} – {}", at.title, within(&label)),
                said: figures.said(value, [line.stamp.entry]),
            })
        })
        .collect()
}
