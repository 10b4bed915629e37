//! What was done, what went back, and what was not done.

use swarfbook_job::fact::Fact as Line;
use swarfbook_job::fold::Mark;
use swarfbook_job::id::EntryId;
use swarfbook_job::procedure::{Evidence, Step};
use swarfbook_judge::situation::before_report;
use swarfbook_report::content::{Done, Fact, NotDone, PartOffSaid, PartReplaced, PartsOff};
use swarfbook_words::{say, shipped};

use super::figures::Figures;
use super::noted::replaced;
use super::plain::listed;
use crate::present;
use crate::state::hand;

pub(super) fn done(figures: &Figures<'_>) -> Vec<Done> {
    figures
        .procedure
        .steps()
        .filter_map(|(stage, step)| {
            let state = figures.state.steps.get(&step.id)?;
            (state.mark == Mark::Ticked).then(|| Done {
                stage: stage.title.clone(),
                said: figures.said(step.title.clone(), [state.stamp.entry]),
            })
        })
        .collect()
}

/// Steps that are not marked as done: begun ones, and those of which no line tells.
pub(super) struct Open {
    pub begun: Vec<NotDone>,
    pub not_done: Vec<NotDone>,
}

pub(super) fn open(figures: &Figures<'_>) -> Open {
    let mut ahead = Vec::new();
    let mut open = Open {
        begun: Vec::new(),
        not_done: Vec::new(),
    };
    let before = before_report(figures.procedure).count();
    for (at, (_, step)) in figures.procedure.steps().enumerate() {
        let state = figures.state.steps.get(&step.id);
        let skipped = state.is_some_and(|state| matches!(state.mark, Mark::Skipped(_)));
        // What follows the report can't be reached yet, but can have been left out already.
        if at >= before && !skipped {
            continue;
        }
        let touched = touched(figures, step);
        match state {
            None if touched.is_empty() => ahead.push(step.title.as_str()),
            None => open.begun.push(NotDone {
                what: figures.said(step.title.clone(), touched),
                reason: say!("begun-not-marked-as-done"),
            }),
            Some(state) => {
                let Mark::Skipped(reason) = &state.mark else {
                    continue;
                };
                let from = std::iter::once(state.stamp.entry).chain(touched.iter().copied());
                let left_out = NotDone {
                    what: figures.said(step.title.clone(), from),
                    reason: reason.clone(),
                };
                if touched.is_empty() {
                    open.not_done.push(left_out);
                } else {
                    open.begun.push(left_out);
                }
            }
        }
    }
    if !ahead.is_empty() {
        // One line: a job that goes on has many.
        open.not_done.push(NotDone {
            what: figures.said(listed(&ahead), []),
            reason: say!("not-reached-yet"),
        });
    }
    open
}

/// The lines that tell something of a step, beside that it is done or left out.
fn touched(figures: &Figures<'_>, step: &Step) -> Vec<EntryId> {
    figures
        .live()
        .filter(|line| {
            let Some(fact) = &line.fact else {
                return false;
            };
            if replaced(figures, line) {
                return false;
            }
            match fact {
                Line::StepTicked { .. } | Line::StepSettled { .. } | Line::StepSkipped { .. } => {
                    false
                }
                _ => {
                    let own = present::step_of(figures.state, fact) == Some(step.id.as_str());
                    let mut wants = step.evidence.iter().filter(|want| !want.optional);
                    own || wants.any(|want| brought(&want.evidence, fact))
                }
            }
        })
        .map(|line| line.stamp.entry)
        .collect()
}

/// Whether a line that names no step is what a step asks for.
fn brought(wanted: &Evidence, fact: &Line) -> bool {
    match (wanted, fact) {
        (Evidence::Car, Line::CarNoted { .. })
        | (Evidence::Complaint { .. }, Line::ComplaintNoted { .. })
        | (Evidence::GoAhead, Line::GoAheadGiven { .. })
        | (Evidence::Components, Line::ComponentNoted { .. } | Line::SpecEntered { .. })
        | (Evidence::PartsBack, Line::PartBack { .. } | Line::PartLost { .. })
        | (
            Evidence::Census,
            Line::CensusMade { .. } | Line::CensusConfirmed { .. } | Line::ParticleCorrected { .. },
        )
        | (Evidence::Decision, Line::Decided { .. }) => true,
        (Evidence::Codes { moment }, Line::CodesRead { moment: read, .. }) => moment == read,
        (Evidence::Readings { quantity }, Line::ReadingTaken { reading, .. }) => {
            *quantity == reading.quantity
        }
        _ => false,
    }
}

pub(super) fn parts_replaced(figures: &Figures<'_>) -> Vec<PartReplaced> {
    figures
        .state
        .replaced
        .iter()
        .map(|r| PartReplaced {
            what: figures.said(
                present::capital(shipped(&r.replacement.what)),
                [r.stamp.entry],
            ),
            number: r.replacement.number.clone(),
            batch: r.replacement.batch.clone(),
            kept_for_customer: r.replacement.kept_for_customer,
        })
        .collect()
}

pub(super) fn tightened(figures: &Figures<'_>) -> Vec<Fact> {
    figures
        .state
        .tightened
        .iter()
        .map(|t| {
            let words = present::tightened_words(&t.tightened, hand::units(&t.stamp));
            let (label, how) = words.split_once(": ").unwrap_or((&words, ""));
            Fact {
                label: label.to_owned(),
                said: figures.said(how.to_owned(), [t.stamp.entry]),
            }
        })
        .collect()
}

/// The line that took a part off, and those that say what became of it.
fn part_lines(figures: &Figures<'_>, part: EntryId) -> Vec<EntryId> {
    let of = |fact: &Line| match fact {
        Line::PartBack { part: of, .. } | Line::PartLost { part: of, .. } => *of == part,
        _ => false,
    };
    let later = figures
        .live()
        .filter(|line| line.fact.as_ref().is_some_and(of));
    std::iter::once(part)
        .chain(later.map(|line| line.stamp.entry))
        .collect()
}

pub(super) fn parts_off(figures: &Figures<'_>) -> PartsOff {
    PartsOff {
        still_off: figures.state.still_off(),
        items: figures
            .state
            .parts
            .iter()
            .map(|p| {
                let mut remark = p.lost_text.clone();
                if p.replaced > 0 {
                    remark.push(say!("replaced-new", replaced = p.replaced));
                }
                PartOffSaid {
                    said: figures.said(
                        present::part_words(&p.part, p.part.count, figures.loaded.units),
                        part_lines(figures, p.stamp.entry),
                    ),
                    count: p.part.count,
                    off: p.off(),
                    remark: (!remark.is_empty()).then(|| remark.join("; ")),
                }
            })
            .collect(),
    }
}
