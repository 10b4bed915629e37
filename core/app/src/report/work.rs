//! What was done, what went back, and what was not done.

use swarfbook_job::fold::Mark;
use swarfbook_report::content::{Done, Fact, NotDone, PartOffSaid, PartReplaced, PartsOff};
use swarfbook_words::{say, translated};

use super::figures::Figures;
use crate::present;
use crate::serve::hand;

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

pub(super) fn not_done(figures: &Figures<'_>) -> Vec<NotDone> {
    let mut ahead = Vec::new();
    let mut all = Vec::new();
    for (_, step) in figures.steps_before_report() {
        match figures.state.steps.get(&step.id) {
            None => ahead.push(step.title.as_str()),
            Some(state) => {
                if let Mark::Skipped(reason) = &state.mark {
                    all.push(NotDone {
                        what: figures.said(step.title.clone(), [state.stamp.entry]),
                        reason: reason.clone(),
                    });
                }
            }
        }
    }
    if !ahead.is_empty() {
        // One line: a job that goes on has many.
        all.push(NotDone {
            what: figures.said(ahead.join("; "), []),
            reason: say!("not reached yet"),
        });
    }
    all
}

pub(super) fn replaced(figures: &Figures<'_>) -> Vec<PartReplaced> {
    figures
        .state
        .replaced
        .iter()
        .map(|r| PartReplaced {
            what: figures.said(
                present::capital(translated(&r.replacement.what)),
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
                    remark.push(say!("{} new", p.replaced));
                }
                PartOffSaid {
                    said: figures.said(
                        present::part_words(&p.part, p.part.count, hand::units(&p.stamp)),
                        [p.stamp.entry],
                    ),
                    count: p.part.count,
                    off: p.off(),
                    remark: (!remark.is_empty()).then(|| remark.join("; ")),
                }
            })
            .collect(),
    }
}
