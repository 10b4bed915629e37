//! One action, read against the job as it stands. What there is nothing for does nothing.

use swarfbook_app::command::{Command, Sheet};
use swarfbook_app::reply::Reply;
use swarfbook_job::census::DebrisClass;
use swarfbook_job::fact::*;
use swarfbook_job::id::{EntryId, JobId};
use swarfbook_job::procedure::Evidence;
use uuid::Uuid;

use super::Shop;
use super::pick::{CODES, pick, quantity, some, wants};
use crate::guard::action::Action;
use crate::guard::{typed, usual};

impl Shop {
    /// Does it.
    pub fn act(&mut self, action: &Action) {
        match action.clone() {
            Action::Device(at) => {
                self.writer = usize::from(at) % self.devices.len();
                self.explained.clear();
                self.look();
            }
            Action::Sync => {
                self.explained.clear();
                self.exchange();
            }
            Action::Technician(name) => self.technician(name),
            Action::Units(at) => self.units(at),
            Action::Language(at) => self.language(at),
            Action::Tools(at) => self.tools(at),
            Action::Wait(minutes) => self.wait(60 * i64::from(minutes)),
            Action::Visit(km) => self.visit(km),
            Action::OldJob(at) => {
                let old = Uuid::from_u128(1000 + self.jobs.len() as u128);
                self.open_old(JobId(old), "pan-service-electrical", 1 + u32::from(at % 2));
            }
            Action::ShopsOwn(at) => self.own_procedure(at),
            // What follows is about a job, which another device may not know yet.
            _ if self.view.is_none() => {}
            other => self.in_job(other),
        }
    }

    fn in_job(&mut self, action: Action) {
        let view = self.view.clone().expect("looked at");
        let steps: Vec<String> = view
            .stages
            .iter()
            .flat_map(|stage| stage.steps.iter().map(|step| step.id.clone()))
            .collect();
        let job = self.job();
        match action {
            Action::Usual(n) => (0..n).for_each(|_| usual::step(self)),
            Action::LeaveOutTheRest => {
                let open: Vec<String> = view
                    .stages
                    .iter()
                    .flat_map(|stage| &stage.steps)
                    .filter(|step| {
                        use swarfbook_app::view::Standing::{InHand, Later};
                        matches!(step.standing, InHand | Later)
                    })
                    .map(|step| step.id.clone())
                    .collect();
                for step in open {
                    let reason = "not asked for".to_owned();
                    self.write(Fact::StepSkipped { step, reason });
                }
            }
            Action::Car { km, since, vin } => self.car(f64::from(km) * 1000.0, since, vin),
            Action::Customer(at) => {
                let name = typed::name(at).to_owned();
                self.names.push(name.clone());
                self.steps += 1;
                let contact = "tel 555 0199".to_owned();
                self.call(Command::SaveCustomer { job, name, contact })
                    .expect("kept");
                self.look();
            }
            Action::EraseCustomer => {
                if let Some(customer) = &view.customer {
                    let customer = customer.id;
                    self.call(Command::EraseCustomer { customer })
                        .expect("erased");
                    self.look();
                }
            }
            Action::Complaint {
                text,
                symptoms,
                when,
            } => {
                let offered =
                    wants(&view)
                        .into_iter()
                        .find_map(|(_, want)| match want.want.evidence {
                            Evidence::Complaint { when, symptoms } => Some((when, symptoms)),
                            _ => None,
                        });
                let (times, shown) = offered.unwrap_or_default();
                let token = self.token();
                let complaint = Complaint {
                    words: typed::text(text, &token),
                    when: some(&times, when).map(|c| c.id.clone()).collect(),
                    symptoms: some(&shown, symptoms).map(|c| c.id.clone()).collect(),
                };
                self.write_with(Fact::ComplaintNoted { complaint }, Some(token));
            }
            Action::Codes { before, which } => {
                let moment = if before {
                    Moment::Before
                } else {
                    Moment::After
                };
                let codes = some(&CODES, which).map(|code| CodeSeen {
                    code: (*code).to_owned(),
                    state: if which % 3 == 0 {
                        CodeState::Pending
                    } else {
                        CodeState::Stored
                    },
                    status: None,
                });
                let codes = codes.collect();
                self.write(Fact::CodesRead { moment, codes });
            }
            Action::GoAhead { by, limit } => {
                let by = typed::name(by).to_owned();
                self.names.push(by.clone());
                let go_ahead = GoAhead {
                    by,
                    how: GoAheadHow::Phone,
                    limit: limit.map(|minor| Money {
                        minor: u32::from(minor) * 100,
                        currency: "EUR".into(),
                    }),
                };
                self.write(Fact::GoAheadGiven { go_ahead });
            }
            Action::Price { of, minor, text } => self.price(of, minor, text),
            Action::Tick(at) => {
                if let Some(step) = pick(&steps, at).cloned() {
                    self.write(Fact::StepTicked { step });
                }
            }
            Action::Skip { step, text } => {
                if let Some(step) = pick(&steps, step).cloned() {
                    let token = self.token();
                    let reason = typed::text(text, &token);
                    self.write_with(Fact::StepSkipped { step, reason }, Some(token));
                }
            }
            Action::Note {
                step,
                text,
                private,
            } => {
                if let Some(step) = pick(&steps, step).cloned() {
                    let token = self.token();
                    let note = Fact::Noted {
                        step,
                        topic: None,
                        text: typed::text(text, &token),
                        private,
                    };
                    self.write_with(note, Some(token));
                }
            }
            Action::Observe {
                topic,
                choice,
                text,
            } => {
                let all: Vec<_> = wants(&view)
                    .into_iter()
                    .filter_map(|(step, want)| match want.want.evidence {
                        Evidence::Observe { topic, choices, .. } => Some((step, topic, choices)),
                        _ => None,
                    })
                    .collect();
                if let Some((step, topic, choices)) = pick(&all, topic).cloned()
                    && let Some(choice) = pick(&choices, choice)
                {
                    let token = text.map(|_| self.token());
                    let text = text.zip(token.clone());
                    let observed = Observed {
                        step,
                        topic,
                        choice: choice.id.clone(),
                        text: text.map_or_else(String::new, |(at, token)| typed::text(at, &token)),
                        ..Observed::default()
                    };
                    self.write_with(Fact::Observed { observed }, token);
                }
            }
            Action::Measure { topic, at } => {
                let all: Vec<_> = wants(&view)
                    .into_iter()
                    .filter_map(|(step, want)| {
                        let topic = want.want.evidence.number()?.topic.to_owned();
                        Some((step, topic, want))
                    })
                    .collect();
                if let Some((step, topic, want)) = pick(&all, topic).cloned() {
                    self.measure(step, topic, &want, f64::from(at) / 255.0);
                }
            }
            Action::Photo { which, census } => {
                let all: Vec<_> = wants(&view)
                    .into_iter()
                    .filter_map(|(step, want)| match want.want.evidence {
                        Evidence::Photo { subject, .. } => Some((step, subject)),
                        _ => None,
                    })
                    .collect();
                if let Some((step, subject)) = pick(&all, which).cloned()
                    && let Some(photo) = self.photo(step, subject)
                    && let (Some(kind), Some(drawn)) = (subject.kind(), census)
                {
                    self.count(photo, &drawn, kind);
                }
            }
            Action::Count { photo, census } => {
                if let Some(photo) = pick(&view.photos, photo)
                    && let Some(kind) = photo.subject.kind()
                {
                    self.count(photo.entry, &census, kind);
                }
            }
            Action::Correct { photo, piece, to } => {
                if let Some(photo) = pick(&view.photos, photo)
                    && let Some(found) = &self
                        .state()
                        .photo(photo.entry)
                        .and_then(|p| p.census.clone())
                    && let Some(piece) = pick(&found.particles, piece)
                {
                    let to = match to {
                        Some(class) => Correction::Debris {
                            class: DebrisClass::ALL[usize::from(class) % DebrisClass::ALL.len()],
                        },
                        None => Correction::NotDebris,
                    };
                    self.write(Fact::ParticleCorrected {
                        photo: photo.entry,
                        at_px: [piece.x_px, piece.y_px],
                        to,
                    });
                }
            }
            Action::Confirm(at) => {
                let counted: Vec<EntryId> = view
                    .photos
                    .iter()
                    .filter(|photo| photo.census.is_some())
                    .map(|photo| photo.entry)
                    .collect();
                if let Some(photo) = pick(&counted, at).copied() {
                    self.write(Fact::CensusConfirmed { photo });
                }
            }
            Action::Link { photo, to, how } => {
                if let (Some(photo), Some(to)) = (pick(&view.photos, photo), pick(&view.photos, to))
                {
                    let all = [
                        PhotoLink::SamePatch,
                        PhotoLink::AfterMagnet,
                        PhotoLink::Apart,
                    ];
                    self.write(Fact::PhotoLinked {
                        photo: photo.entry,
                        to: to.entry,
                        link: all[usize::from(how % 3)],
                    });
                }
            }
            Action::Off { count, text } => {
                let token = self.token();
                let part = PartOff {
                    step: steps.get(6).or(steps.last()).cloned().unwrap_or_default(),
                    item: "bolt".into(),
                    place: typed::text(text, &token)
                        .chars()
                        .rev()
                        .take(60)
                        .collect::<Vec<_>>()
                        .into_iter()
                        .rev()
                        .collect(),
                    count: u32::from(count),
                    size: "M6".into(),
                    length_mm: Some(25.0),
                    photo: None,
                    at_px: Vec::new(),
                };
                self.write_with(Fact::PartOff { part }, Some(token));
            }
            Action::Back { part, count, new } => {
                let off: Vec<_> = view.parts.iter().filter(|part| part.off > 0).collect();
                if let Some(part) = pick(&off, part) {
                    self.write(Fact::PartBack {
                        part: part.entry,
                        count: u32::from(count).min(part.off),
                        replacement: new,
                    });
                }
            }
            Action::Lost { part, text } => {
                let off: Vec<_> = view.parts.iter().filter(|part| part.off > 0).collect();
                if let Some(part) = pick(&off, part) {
                    let token = self.token();
                    let text = typed::text(text, &token);
                    let part = part.entry;
                    let count = 1;
                    self.write_with(Fact::PartLost { part, count, text }, Some(token));
                }
            }
            Action::Component { kind, codes } => self.component(kind, codes),
            Action::Limits { part, quantity: of } => {
                if let Some(part) = pick(&view.components, part) {
                    self.limits(part.entry, quantity(of));
                }
            }
            Action::Reading {
                part,
                quantity: of,
                how,
            } => {
                if let Some(part) = pick(&view.components, part) {
                    self.reading(part.entry, quantity(of), how);
                }
            }
            Action::Harness { part, how } => {
                if let Some(part) = pick(&view.components, part) {
                    self.harness(part.entry, how);
                }
            }
            Action::Bench { kind, bad, good } => {
                if let Some(part) = self.noted(kind, 0) {
                    self.read_with_limits(part, quantity(bad), 1);
                    self.read_with_limits(part, quantity(good), 0);
                }
            }
            Action::Mend(which) => {
                let before = true;
                self.act(&Action::Codes { before, which });
                if let Some(part) = self.noted(0, which) {
                    self.read_with_limits(part, ReadingKind::Resistance, 1);
                    let parts = self.view.as_ref().map_or(0, |view| view.components.len());
                    let part_at = u8::try_from(parts.saturating_sub(1)).unwrap_or(0);
                    self.act(&Action::Replace {
                        part: Some(part_at),
                        text: which,
                    });
                    self.reading(part, ReadingKind::Resistance, 0);
                }
            }
            Action::Replace { part, text } => {
                let component = part
                    .and_then(|at| pick(&view.components, at))
                    .map(|part| part.entry);
                let token = self.token();
                let what = typed::text(text, &token);
                let replacement = Replacement {
                    component,
                    what: what
                        .chars()
                        .rev()
                        .take(60)
                        .collect::<Vec<_>>()
                        .into_iter()
                        .rev()
                        .collect(),
                    number: "N 7".into(),
                    batch: "B 3".into(),
                    kept_for_customer: true,
                };
                let asked = wants(&view).into_iter().find(|(_, want)| {
                    matches!(want.want.evidence, Evidence::Replace { electrical, .. } if electrical == part.is_some())
                });
                let step = asked.map(|(step, _)| step).or(steps.first().cloned());
                let step = step.unwrap_or_default();
                self.write_with(Fact::PartReplaced { step, replacement }, Some(token));
            }
            Action::Tighten { step, torque } => {
                let all: Vec<_> = wants(&view)
                    .into_iter()
                    .filter_map(|(step, want)| match want.want.evidence {
                        Evidence::Tighten { what, .. } => Some((step, what)),
                        _ => None,
                    })
                    .collect();
                if let Some((step, what)) = pick(&all, step).cloned() {
                    let tightened = Tightened {
                        what,
                        torque_nm: torque.map(f64::from),
                        by_hand_first: true,
                        passes: 2,
                        ..Tightened::default()
                    };
                    self.write(Fact::Tightened { step, tightened });
                }
            }
            Action::Decide { chosen, text } => {
                let Some(advised) = view.wear.as_ref().map(|wear| wear.advice) else {
                    return;
                };
                let all = [
                    AdviceChoice::CarryOn,
                    AdviceChoice::Watch,
                    AdviceChoice::TestFirst,
                    AdviceChoice::OpenUp,
                ];
                let chosen = all[usize::from(chosen % 4)];
                let token = (chosen != advised).then(|| self.token());
                let reason = token.as_ref().map(|token| typed::text(text, token));
                let decided = Fact::Decided {
                    advised,
                    chosen,
                    reason,
                };
                self.write_with(decided, token);
            }
            Action::Undo => {
                self.steps += 1;
                self.explained.clear();
                let _ = self.call(Command::Undo { job });
                self.look();
            }
            Action::Retract { line, text } => {
                let lines = match self.call(Command::Log { job }) {
                    Ok(Reply::Log { lines }) => lines,
                    other => panic!("{other:?}"),
                };
                let lines: Vec<EntryId> = lines.iter().rev().map(|line| line.entry).collect();
                if let Some(entry) = pick(&lines, line).copied() {
                    self.steps += 1;
                    self.explained.clear();
                    let reason = text.map(|at| {
                        let token = self.token();
                        typed::text(at, &token)
                    });
                    let _ = self.call(Command::Retract { job, entry, reason });
                    self.look();
                }
            }
            Action::Report { paper } => {
                self.steps += 1;
                let (leave_out, language) = (LeaveOut::default(), None);
                let command = if paper {
                    Command::MakeReportPdf {
                        job,
                        sheet: Sheet::default(),
                        leave_out,
                        language,
                    }
                } else {
                    Command::MakeReport {
                        job,
                        leave_out,
                        language,
                    }
                };
                self.made(command);
            }
            Action::Withdraw { report, text } => {
                if let Some(report) = pick(&view.reports, report) {
                    let token = self.token();
                    let report = report.entry;
                    let reason = typed::text(text, &token);
                    self.write(Fact::ReportWithdrawn { report, reason });
                }
            }
            Action::Share => {
                self.steps += 1;
                self.share(LeaveOut::default(), None);
            }
            Action::Answer { item, choice, text } => self.answer(item, choice, text),
            Action::Device(_)
            | Action::Sync
            | Action::Technician(_)
            | Action::Units(_)
            | Action::Tools(_)
            | Action::Language(_)
            | Action::Wait(_)
            | Action::Visit(_)
            | Action::OldJob(_)
            | Action::ShopsOwn(_) => {}
        }
    }
}
