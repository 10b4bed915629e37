//! Electrical parts in the report.

use swarfbook_job::fact::{ComponentKind, Fact as Line, Quantity};
use swarfbook_job::id::EntryId;
use swarfbook_report::content::{ComponentSaid, Plot, ReadingSaid, Verdict};
use swarfbook_words::{say, term};

use super::figures::{Figures, fixed};
use crate::present::reading::spec_words;
use crate::problem::Problem;
use crate::view::{ComponentView, ReadingVerdict, ReadingView};

pub(super) fn components(figures: &Figures<'_>) -> Result<Vec<ComponentSaid>, Problem> {
    figures
        .components
        .iter()
        .map(|component| {
            Ok(ComponentSaid {
                plain: plain(component.kind).to_owned(),
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
                    .map(|reading| said(figures, component, reading))
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
    quantity: Quantity,
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
            readings.find(|reading| reading.quantity == Quantity::Resistance)
        })
        .map(|reading| reading.entry)
        .collect()
}

/// What the part does, for who knows nothing of gearboxes.
fn plain(kind: ComponentKind) -> &'static str {
    match kind {
        ComponentKind::OnOffSolenoid => {
            term!("An electric valve that opens the way for oil when a gear is to change.")
        }
        ComponentKind::LinearSolenoid => {
            term!("An electric valve that sets how hard the oil presses the clutches.")
        }
        ComponentKind::TemperatureSensor => term!("It tells the control unit how warm the oil is."),
        ComponentKind::SpeedSensor => term!("It tells the control unit how fast a shaft turns."),
        ComponentKind::RangeSensor => term!("It tells the control unit where the lever stands."),
        ComponentKind::HallSensor | ComponentKind::Switch | ComponentKind::Other => "",
    }
}

/// What is read of it is a winding.
fn is_coil(kind: ComponentKind) -> bool {
    matches!(
        kind,
        ComponentKind::OnOffSolenoid | ComponentKind::LinearSolenoid | ComponentKind::SpeedSensor
    )
}

fn said(
    figures: &Figures<'_>,
    component: &ComponentView,
    reading: &ReadingView,
) -> Result<ReadingSaid, Problem> {
    let what = match reading.quantity {
        Quantity::Resistance if is_coil(component.kind) => term!("Winding resistance"),
        Quantity::Resistance => term!("Resistance"),
        Quantity::Insulation => term!("Resistance to ground"),
        Quantity::Voltage => term!("Voltage"),
        Quantity::Frequency => term!("Frequency"),
        Quantity::Current => term!("Current"),
        Quantity::DutyCycle => term!("Duty cycle"),
    };
    Ok(ReadingSaid {
        said: figures.said(format!("{what}: {}", reading.value_words), [reading.entry]),
        verdict: match reading.verdict {
            ReadingVerdict::InSpec => Verdict::InSpec,
            ReadingVerdict::OutOfSpec => Verdict::OutOfSpec,
            ReadingVerdict::TooCloseToCall => Verdict::TooCloseToCall,
            ReadingVerdict::TakeAgain => Verdict::TakeAgain,
            ReadingVerdict::NoSpec => Verdict::NoSpec,
        },
        verdict_words: match reading.verdict {
            // What is still to be done about it is the technician's.
            ReadingVerdict::TakeAgain => say!("This reading gives no verdict."),
            _ => reading
                .steps
                .last()
                .unwrap_or(&reading.verdict_words)
                .clone(),
        },
        plot: plot(component, reading)?,
        steps: reading
            .steps
            .iter()
            .take(reading.steps.len().saturating_sub(1))
            .cloned()
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
        unit: match reading.quantity {
            Quantity::Resistance | Quantity::Insulation => "ohm",
            Quantity::Voltage => "V",
            Quantity::Frequency => "Hz",
            Quantity::Current => "A",
            Quantity::DutyCycle => "%",
        }
        .to_owned(),
    }))
}
