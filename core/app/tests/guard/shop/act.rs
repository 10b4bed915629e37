//! One action, read against the job as it stands. What there is nothing for does nothing.

use swarfbook_app::command::{Command, ItemAnswer, Sheet};
use swarfbook_app::reply::Reply;
use swarfbook_app::view::{JobView, WantView};
use swarfbook_job::census::PhotoKind;
use swarfbook_job::fact::*;
use swarfbook_job::id::{EntryId, JobId};
use swarfbook_job::procedure::Evidence;
use swarfbook_measure::unit::Units;
use swarfbook_words::Language;
use uuid::Uuid;

use super::Shop;
use crate::guard::action::{Action, Drawn};
use crate::guard::{census, typed, usual};

/// Codes that may be set: of the standard and of makers, of solenoids, sensors and wear.
pub const CODES: [&str; 6] = ["P0741", "P0750", "P0711", "P0720", "P0894", "P1740"];

/// One of what there is, counted around.
pub fn pick<T>(all: &[T], at: u8) -> Option<&T> {
    all.get(usize::from(at).checked_rem(all.len())?)
}

/// Those whose bits are set.
fn some<T>(all: &[T], bits: u8) -> impl Iterator<Item = &T> {
    let set = move |at: usize| bits >> (at % 8) & 1 == 1;
    all.iter()
        .enumerate()
        .filter(move |(at, _)| set(*at))
        .map(|(_, one)| one)
}

/// Every wish with its step.
pub fn wants(view: &JobView) -> Vec<(String, WantView)> {
    view.stages
        .iter()
        .flat_map(|stage| &stage.steps)
        .flat_map(|step| {
            step.wants
                .iter()
                .map(|want| (step.id.clone(), want.clone()))
        })
        .collect()
}

pub fn quantity(at: u8) -> Quantity {
    [
        Quantity::Resistance,
        Quantity::Insulation,
        Quantity::Voltage,
        Quantity::Frequency,
        Quantity::Current,
        Quantity::DutyCycle,
    ][usize::from(at % 6)]
}

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
            Action::Units(at) => {
                let units = [Units::METRIC, Units::AMERICAN, Units::BRITISH];
                let units = units[usize::from(at) % units.len()];
                self.set(|settings| settings.units = units);
                self.look();
            }
            Action::Language(at) => {
                let language = if at == 0 { Language::En } else { Language::De };
                self.set(|settings| settings.language = Some(language));
                self.look();
            }
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
                    .filter_map(|(step, want)| match &want.want.evidence {
                        Evidence::Measure { topic, .. } => Some((step, topic.clone(), want)),
                        _ => None,
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
                            class: swarfbook_job::census::DebrisClass::ALL[usize::from(class % 9)],
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
                    self.read_with_limits(part, Quantity::Resistance, 1);
                    let parts = self.view.as_ref().map_or(0, |view| view.components.len());
                    let part_at = u8::try_from(parts.saturating_sub(1)).unwrap_or(0);
                    self.act(&Action::Replace {
                        part: Some(part_at),
                        text: which,
                    });
                    self.reading(part, Quantity::Resistance, 0);
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
            | Action::Language(_)
            | Action::Wait(_)
            | Action::Visit(_)
            | Action::OldJob(_)
            | Action::ShopsOwn(_) => {}
        }
    }

    /// A technician takes the device in hand.
    pub fn technician(&mut self, name: u8) {
        let name = typed::name(name.wrapping_add(3)).to_owned();
        self.set(|settings| settings.technician = name);
        if !self.jobs.is_empty() {
            self.look();
        }
    }

    fn car(&mut self, km: f64, since: Option<u8>, vin: bool) {
        let car = Car {
            plate: self.plate.clone(),
            vin: vin.then(|| "ZZZ00000000001234".to_owned()),
            description: "invented car".into(),
            odometer_km: Some(km),
            fluid_changed_at_km: since.map(|since| (km - f64::from(since) * 1000.0).max(0.0)),
            ..Car::default()
        };
        self.write(Fact::CarNoted { car });
    }

    fn visit(&mut self, km: u8) {
        let before = self
            .view
            .as_ref()
            .and_then(|view| view.car.as_ref()?.odometer_km);
        self.wait(86_400 * 90);
        self.open(None);
        self.link = None;
        self.car(
            before.unwrap_or(90_000.0) + f64::from(km) * 1000.0,
            None,
            false,
        );
    }

    /// A number of a procedure's wish, typed in the device's unit.
    pub fn measure(&mut self, step: String, topic: String, want: &WantView, share: f64) {
        let Evidence::Measure { min, max, unit, .. } = &want.want.evidence else {
            return;
        };
        let shown = (10.0 * (min + share * (max - min))).round() / 10.0;
        let value = match want.measures {
            Some(of) => self.device().settings.units.of(of).to_base(shown),
            None => shown,
        };
        let measured = Measured {
            step,
            topic,
            value,
            typed: format!("{shown} {unit}"),
        };
        self.write(Fact::Measured { measured });
    }

    /// A census as the reading of the photo would write it.
    pub fn count(&mut self, photo: EntryId, drawn: &Drawn, kind: PhotoKind) {
        let census = census::census(drawn, kind);
        self.append(Fact::CensusMade { photo, census });
    }

    /// An electrical part.
    pub fn component(&mut self, kind: u8, codes: u8) {
        let kinds = [
            ComponentKind::OnOffSolenoid,
            ComponentKind::LinearSolenoid,
            ComponentKind::SpeedSensor,
            ComponentKind::Other,
            ComponentKind::TemperatureSensor,
            ComponentKind::HallSensor,
            ComponentKind::Switch,
            ComponentKind::RangeSensor,
        ];
        let token = self.token();
        let component = Component {
            name: format!("Part {token}"),
            kind: kinds[usize::from(kind) % kinds.len()],
            connector: "grey".into(),
            part_number: if kind.is_multiple_of(2) {
                "S 100".into()
            } else {
                String::new()
            },
            grounded_by_case: kind % 16 == 15,
            codes: some(&CODES, codes).map(|code| (*code).to_owned()).collect(),
        };
        self.write_with(Fact::ComponentNoted { component }, Some(token));
    }

    /// A part that is noted now.
    fn noted(&mut self, kind: u8, codes: u8) -> Option<EntryId> {
        self.component(kind, codes);
        self.view.as_ref()?.components.last().map(|part| part.entry)
    }

    fn read_with_limits(&mut self, component: EntryId, of: Quantity, how: u8) {
        self.limits(component, of);
        self.reading(component, of, how);
    }

    /// The maker's limits: 11 to 15 ohm, 1 Mohm to ground, 11 to 15 V, 100 to 200 Hz.
    pub fn limits(&mut self, component: EntryId, of: Quantity) {
        let (low, high) = match of {
            Quantity::Resistance | Quantity::Voltage => (Some(11.0), Some(15.0)),
            Quantity::Insulation => (Some(1e6), None),
            Quantity::Frequency => (Some(100.0), Some(200.0)),
            Quantity::Current => (Some(0.5), Some(1.0)),
            Quantity::DutyCycle => (Some(40.0), Some(60.0)),
        };
        let token = self.token();
        let spec = SpecEntered {
            quantity: of,
            low,
            high,
            at_c: None,
            source: format!("invented sheet {token}"),
            sensor: None,
        };
        self.write_with(Fact::SpecEntered { component, spec }, Some(token));
    }

    /// A reading: in the middle, far out, open, jumping, at the limit, or a short.
    pub fn reading(&mut self, component: EntryId, of: Quantity, how: u8) {
        let samples = match (of, how) {
            (Quantity::Insulation, 0) => ["40M", "40M", "41M"],
            (Quantity::Insulation, 1) => ["12", "12", "13"],
            (Quantity::Insulation, 4) => ["1.0M", "1.0M", "1.0M"],
            (Quantity::Insulation, 5) => ["300k", "300k", "301k"],
            (_, 2) => ["OL", "OL", "OL"],
            (_, 3) => ["13.0", "44.0", "2.1"],
            (Quantity::Frequency, 1) => ["900", "900", "901"],
            (Quantity::Frequency, 4) => ["200", "200", "200"],
            (Quantity::Frequency, _) => ["150", "150", "151"],
            (Quantity::Current, 0) => ["0.75", "0.75", "0.76"],
            (Quantity::DutyCycle, 0) => ["50", "50", "51"],
            (_, 1) => ["64.0", "64.0", "64.1"],
            (_, 4) => ["15.0", "15.0", "15.0"],
            _ => ["13.0", "13.0", "13.1"],
        };
        let reading = Reading {
            quantity: of,
            samples: samples.iter().map(|s| (*s).to_owned()).collect(),
            leads: (of == Quantity::Resistance).then(|| "0.2".to_owned()),
            part_c: Some(20.0),
            part_from: None,
            test_volts: (of == Quantity::Insulation).then_some(500.0),
            part_within_k: None,
            meter: MeterUsed {
                name: "Fine meter".into(),
                percent: 0.2,
                counts: 2.0,
            },
            contact_shown: true,
            sibling: None,
            range_top: (of == Quantity::Insulation).then(|| "40M".to_owned()),
            guard: None,
        };
        self.write(Fact::ReadingTaken { component, reading });
    }

    /// The report is made; none where it could not be.
    pub fn made(&mut self, command: Command) -> Option<Reply> {
        self.wait(30);
        let made = self.call(command);
        self.look();
        match made {
            Ok(reply) => Some(reply),
            Err(problem) => {
                self.found.push(super::Found {
                    rule: crate::guard::rules::TOLD,
                    place: "report".into(),
                    sentence: problem.to_string(),
                    why: "every job can be told".into(),
                });
                None
            }
        }
    }

    /// A link by which the customer reads and answers.
    pub fn share(&mut self, leave_out: LeaveOut, language: Option<Language>) -> Option<String> {
        let job = self.job();
        let shared = self.made(Command::ShareReport {
            job,
            base: Some("http://127.0.0.1:8350".into()),
            days: 30,
            with_code: false,
            leave_out,
            language,
        });
        let Some(Reply::Shared { url, .. }) = shared else {
            return None;
        };
        let secret = url.rsplit('/').next().map(str::to_owned);
        self.link.clone_from(&secret);
        secret
    }

    fn answer(&mut self, item: u8, choice: u8, text: u8) {
        let Some(secret) = self.link.clone() else {
            return;
        };
        let all = [
            AnswerChoice::Agree,
            AnswerChoice::Decline,
            AnswerChoice::Ask,
        ];
        let token = self.token();
        let name = typed::name(text).to_owned();
        self.names.push(name.clone());
        self.steps += 1;
        // An item that was not asked is refused.
        let _ = self.call(Command::AnswerShared {
            secret,
            code: String::new(),
            newest: false,
            name,
            answers: vec![ItemAnswer {
                item: u32::from(item % 3),
                choice: Some(all[usize::from(choice % 3)]),
                text: typed::text(text, &token),
            }],
        });
        self.look();
    }

    /// A job by a procedure of the shop's own, of which a new version comes after.
    fn own_procedure(&mut self, at: u8) {
        let id = format!("own-{}", self.jobs.len());
        let text = |version: u32, word: &str| {
            format!(
                "id = \"{id}\"\nversion = {version}\ntitle = \"Own {word}\"\n[[stage]]\nid = \"one\"\ntitle = \"One {word}\"\n[[stage.step]]\nid = \"look\"\ntitle = \"Look {word}\"\nevidence = [{{ kind = \"observe\", topic = \"paste\", label = \"Paste {word}\", choices = [{{ id = \"none\", label = \"none {word}\" }}, {{ id = \"thick_paste\", label = \"much {word}\" }}] }}]\n[[stage.step]]\nid = \"next\"\ntitle = \"Next {word}\"\n"
            )
        };
        let add = |shop: &mut Shop, version, word: &str| {
            let text = text(version, word);
            shop.call(Command::AddProcedure { text }).expect("taken in");
        };
        add(self, 1, "zfirstz");
        self.open(Some(id.clone()));
        if at % 2 == 1 {
            add(self, 2, "zsecondz");
            self.look();
        }
    }

    /// The devices give each other what they have, as a sync does.
    fn exchange(&mut self) {
        let known: Vec<usize> = (0..self.devices.len())
            .filter(|at| self.devices[*at].is_some())
            .collect();
        for from in &known {
            for to in &known {
                if from != to {
                    self.carry(*from, *to);
                }
            }
        }
        self.look();
    }

    fn carry(&mut self, from: usize, to: usize) {
        let (Some(from), Some(to)) = (&self.devices[from], &self.devices[to]) else {
            return;
        };
        let (from, mut to) = (from.app.store(), to.app.store());
        for photo in from.photos_named().expect("reads") {
            if from.has_photo(photo) && !to.has_photo(photo) {
                to.put_photo(&from.photo(photo).expect("reads"))
                    .expect("keeps");
            }
        }
        let heads = to.heads().expect("reads");
        for (device, _) in from.heads().expect("reads") {
            let had = heads.get(&device).copied().unwrap_or(0);
            let lines = from.entries_after(device, had, usize::MAX).expect("reads");
            let now = lines
                .iter()
                .map(|line| line.entry.hlc.millis)
                .max()
                .unwrap_or(0);
            to.import(&lines, now).expect("fits");
        }
        to.merge_customers(&from.customers().expect("reads"))
            .expect("fits");
        for procedure in from.procedures().expect("reads") {
            to.add_procedure(&procedure).expect("fits");
        }
    }
}
