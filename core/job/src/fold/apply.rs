//! What each kind of line does to the state.

use std::collections::BTreeMap;

use super::component::{ComponentState, HarnessState, ReadingState, ReplacedState};
use super::cost::CostState;
use super::state::{
    AnswerState, CodesState, CorrectionState, Decision, JobState, LinkState, Mark, MeasuredAt,
    NoteState, ObservedAt, PartState, PhotoState, ReportState, ShareState, Stamp, StepState,
    TightenedState, Withdrawn,
};
use crate::census::PhotoHints;
use crate::fact::Fact;
use crate::id::EntryId;

impl JobState {
    pub(super) fn apply(&mut self, stamp: Stamp, fact: &Fact) {
        if says_of_the_car(fact) {
            self.told = self.told.saturating_add(1);
        }
        match fact.clone() {
            Fact::Opened {
                procedure,
                procedure_version,
            } => {
                // The first one counts: a job can't change its procedure half-way.
                if self.opened.is_none() {
                    self.opened = Some(stamp);
                    self.procedure = Some((procedure, procedure_version));
                }
            }
            Fact::CarNoted { car } => self.car = Some(car),
            Fact::CustomerLinked { customer } => self.customer = Some(customer),
            Fact::ComplaintNoted { complaint } => self.complaint = Some(complaint),
            Fact::CodesRead { moment, codes } => {
                self.codes.insert(moment, CodesState { stamp, codes });
            }
            Fact::GoAheadGiven { go_ahead } => self.go_ahead = Some(go_ahead),
            Fact::StepTicked { step } | Fact::StepSettled { step, .. } => {
                self.mark(step, stamp, Mark::Ticked);
            }
            Fact::StepSkipped { step, reason } => self.mark(step, stamp, Mark::Skipped(reason)),
            Fact::Noted {
                step,
                topic,
                text,
                private,
            } => self.notes.push(NoteState {
                stamp,
                step,
                topic,
                text,
                private,
            }),
            Fact::Observed { observed } => {
                let at = ObservedAt {
                    stamp,
                    step: observed.step,
                    topic: observed.topic,
                    choice: observed.choice,
                    also: observed.also,
                    text: observed.text,
                };
                self.observed
                    .insert((at.step.clone(), at.topic.clone()), at);
            }
            Fact::Measured { measured } => self.measured.push(MeasuredAt {
                stamp,
                step: measured.step,
                topic: measured.topic,
                value: measured.value,
            }),
            Fact::PhotoTaken {
                step,
                photo,
                subject,
            } => self.photos.push(PhotoState {
                stamp,
                step,
                photo,
                subject,
                hints: PhotoHints::default(),
                census: None,
                census_stamp: None,
                corrections: Vec::new(),
                confirmed: None,
                link: None,
            }),
            Fact::PhotoLinked { photo, to, link } => {
                self.on_photo(photo, |p| p.link = Some(LinkState { stamp, to, link }));
            }
            Fact::PhotoHinted { photo, hints } => self.on_photo(photo, |p| p.hints = hints),
            Fact::CensusMade { photo, census } => self.on_photo(photo, |p| {
                p.census = Some(census);
                p.census_stamp = Some(stamp);
                p.confirmed = None;
            }),
            Fact::ParticleCorrected { photo, at_px, to } => self.on_photo(photo, |p| {
                p.corrections.push(CorrectionState { stamp, at_px, to });
                p.confirmed = None;
            }),
            Fact::CensusConfirmed { photo } => self.on_photo(photo, |p| p.confirmed = Some(stamp)),
            Fact::PartOff { part } => self.parts.push(PartState {
                stamp,
                part,
                back: 0,
                replaced: 0,
                lost: 0,
                lost_text: Vec::new(),
            }),
            Fact::PartBack {
                part,
                count,
                replacement,
            } => self.on_part(part, |p| {
                p.back = p.back.saturating_add(count);
                if replacement {
                    p.replaced = p.replaced.saturating_add(count);
                }
            }),
            Fact::PartLost { part, count, text } => self.on_part(part, |p| {
                p.lost = p.lost.saturating_add(count);
                p.lost_text.push(text);
            }),
            Fact::ComponentNoted { component } => self.components.push(ComponentState {
                stamp,
                component,
                specs: BTreeMap::new(),
                readings: Vec::new(),
                harness: None,
            }),
            Fact::SpecEntered { component, spec } => self.on_component(component, |c| {
                c.specs.insert(spec.quantity, spec);
            }),
            Fact::ReadingTaken { component, reading } => self.on_component(component, |c| {
                c.readings.push(ReadingState { stamp, reading });
            }),
            Fact::HarnessRead { component, read } => self.on_component(component, |c| {
                c.harness = Some(HarnessState { stamp, read });
            }),
            Fact::PartReplaced { step, replacement } => self.replaced.push(ReplacedState {
                stamp,
                step,
                replacement,
            }),
            Fact::Tightened { step, tightened } => self.tightened.push(TightenedState {
                stamp,
                step,
                tightened,
            }),
            Fact::Decided {
                advised,
                chosen,
                reason,
            } => {
                self.decision = Some(Decision {
                    stamp,
                    advised,
                    chosen,
                    reason,
                });
            }
            Fact::CostGiven { cost } => {
                self.costs.insert(cost.of, CostState { stamp, cost });
            }
            Fact::ReportMade { sha256, form, .. } => self.reports.push(ReportState {
                stamp,
                sha256,
                form,
                told: self.told,
                withdrawn: None,
            }),
            Fact::ReportWithdrawn { report, reason } => {
                let made = self.reports.iter_mut();
                if let Some(made) = made.into_iter().find(|r| r.stamp.entry == report) {
                    made.withdrawn = Some(Withdrawn { stamp, reason });
                }
            }
            Fact::ReportShared { share } => self.shares.push(ShareState { stamp, share }),
            Fact::CustomerAnswered { answer } => {
                // The last answer to an item counts; what was said before stays in the log.
                self.answers.retain(|had| {
                    had.answer.share != answer.share || had.answer.item != answer.item
                });
                self.answers.push(AnswerState { stamp, answer });
            }
            // Their effect is on the lines that follow; see `Hand`.
            Fact::WrittenBy { .. } | Fact::WrittenIn { .. } | Fact::MeasuredWith { .. } => {}
            // Its effect is that another line is left out; see `live`.
            Fact::Retracted { .. } => {}
        }
    }

    fn mark(&mut self, step: String, stamp: Stamp, mark: Mark) {
        self.steps.insert(step, StepState { stamp, mark });
    }

    fn on_photo(&mut self, entry: EntryId, change: impl FnOnce(&mut PhotoState)) {
        if let Some(photo) = self.photos.iter_mut().find(|p| p.stamp.entry == entry) {
            change(photo);
        }
    }

    fn on_part(&mut self, entry: EntryId, change: impl FnOnce(&mut PartState)) {
        if let Some(part) = self.parts.iter_mut().find(|p| p.stamp.entry == entry) {
            change(part);
        }
    }

    fn on_component(&mut self, entry: EntryId, change: impl FnOnce(&mut ComponentState)) {
        if let Some(component) = self.components.iter_mut().find(|c| c.stamp.entry == entry) {
            change(component);
        }
    }
}

/// Whether a report made after this line can say more than one made before it.
fn says_of_the_car(fact: &Fact) -> bool {
    !matches!(
        fact,
        Fact::WrittenBy { .. }
            | Fact::WrittenIn { .. }
            | Fact::MeasuredWith { .. }
            // It brings nothing that the line behind it did not.
            | Fact::StepSettled { .. }
            | Fact::ReportMade { .. }
            | Fact::ReportWithdrawn { .. }
            | Fact::ReportShared { .. }
            | Fact::CustomerAnswered { .. }
            | Fact::Retracted { .. }
    )
}
