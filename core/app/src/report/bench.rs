//! Electrical parts in the report.

use swarfbook_job::fact::{Fact as Line, Inside, ReadingKind};
use swarfbook_job::id::EntryId;
use swarfbook_report::content::{ComponentSaid, Plot, ReadingSaid};
use swarfbook_report::words::Words;
use swarfbook_words::{say, term};

use super::figures::{Figures, fixed};
use super::rule;
use crate::present::reading::spec_words;
use crate::problem::Problem;
use crate::view::{ComponentView, ReadingVerdict, ReadingView};

pub(super) fn components(
    figures: &Figures<'_>,
    words: &Words,
) -> Result<Vec<ComponentSaid>, Problem> {
    figures
        .components
        .iter()
        .map(|component| {
            Ok(ComponentSaid {
                plain: component.kind.row().plain.to_owned(),
                spec: component
                    .specs
                    .iter()
                    .map(|spec| {
                        let source = if spec.source.trim().is_empty() {
                            String::new()
                        } else {
                            format!(" ({})", spec.source)
                        };
                        figures.said(
                            format!("{}{source}", spec_words(spec)),
                            spec_line(figures, component, spec.quantity),
                        )
                    })
                    .collect(),
                readings: component
                    .readings
                    .iter()
                    .map(|reading| said(figures, words, component, reading))
                    .collect::<Result<_, _>>()?,
                siblings: component
                    .sibling_words
                    .clone()
                    .map(|words| figures.said(words, like_readings(figures, component))),
                replaced: component.replaced,
                from: {
                    figures.name(component.entry);
                    vec![component.entry]
                },
                kind: component.kind_words.clone(),
                name: component.name.clone(),
            })
        })
        .collect()
}

/// The last line that entered these limits of the part.
fn spec_line(
    figures: &Figures<'_>,
    component: &ComponentView,
    quantity: ReadingKind,
) -> Option<EntryId> {
    figures
        .live()
        .filter(|line| {
            matches!(&line.fact, Some(Line::SpecEntered { component: of, spec })
                if *of == component.entry && spec.quantity == quantity)
        })
        .last()
        .map(|line| line.stamp.entry)
}

/// The last resistance of each part of the same number: what is compared.
fn like_readings(figures: &Figures<'_>, component: &ComponentView) -> Vec<EntryId> {
    let number = component.part_number.trim();
    let all = figures.components.iter();
    all.filter(|other| other.part_number.trim() == number)
        .filter_map(|other| {
            let mut readings = other.readings.iter().rev();
            readings.find(|reading| reading.quantity == ReadingKind::Resistance)
        })
        .map(|reading| reading.entry)
        .collect()
}

fn said(
    figures: &Figures<'_>,
    words: &Words,
    component: &ComponentView,
    reading: &ReadingView,
) -> Result<ReadingSaid, Problem> {
    let what = match reading.quantity {
        ReadingKind::Resistance if component.kind.inside() == Inside::Winding => {
            term!("winding-resistance")
        }
        other => other.row().name,
    };
    Ok(ReadingSaid {
        said: figures.said(
            format!("{what}: {}", reading.value_words),
            [reading.entry].into_iter().chain(reading.display),
        ),
        verdict: reading.verdict,
        verdict_words: match reading.verdict {
            // What is still to be done about it is the technician's.
            ReadingVerdict::TakeAgain => say!("this-reading-gives-no-verdict"),
            _ => reading
                .steps
                .last()
                .unwrap_or(&reading.verdict_words)
                .clone(),
        },
        rule: rule::rule(figures, words, reading.entry),
        plot: plot(component, reading)?,
        steps: reading
            .steps
            .iter()
            .take(reading.steps.len().saturating_sub(1))
            .cloned()
            .chain(
                reading
                    .display
                    .map(|_| say!("the-number-was-read-off-a-photo-of")),
            )
            .collect(),
    })
}

fn plot(component: &ComponentView, reading: &ReadingView) -> Result<Option<Plot>, Problem> {
    let spec = component
        .specs
        .iter()
        .find(|s| s.quantity == reading.quantity);
    if spec.is_none()
        || matches!(
            reading.verdict,
            ReadingVerdict::TakeAgain | ReadingVerdict::NoSpec
        )
    {
        return Ok(None);
    }
    let number = |value: Option<f64>| value.map(fixed).transpose();
    Ok(Some(Plot {
        low: number(reading.low)?,
        high: number(reading.high)?,
        value: number(reading.value)?,
        expanded_u: number(reading.u)?,
        unit: reading.quantity.quantity().base().symbol().to_owned(),
    }))
}
