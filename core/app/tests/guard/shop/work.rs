//! What an action is made of: a part, a reading, a report, a sync.

use swarfbook_app::command::{Command, ItemAnswer};
use swarfbook_app::reply::Reply;
use swarfbook_app::view::WantView;
use swarfbook_job::census::PhotoKind;
use swarfbook_job::fact::*;
use swarfbook_job::id::EntryId;
use swarfbook_job::procedure::Number;
use swarfbook_words::Language;

use super::Shop;
use super::pick::{CODES, some};
use crate::guard::action::Drawn;
use crate::guard::{census, typed};

impl Shop {
    /// A technician takes the device in hand.
    pub fn technician(&mut self, name: u8) {
        let name = typed::name(name.wrapping_add(3)).to_owned();
        self.set(|settings| settings.technician = name);
        if !self.jobs.is_empty() {
            self.look();
        }
    }

    pub fn car(&mut self, km: f64, since: Option<u8>, vin: bool) {
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

    pub fn visit(&mut self, km: u8) {
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
        let Some(Number { min, max, unit, .. }) = want.want.evidence.number() else {
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
            ComponentKind::PressurePort,
            ComponentKind::Converter,
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
    pub fn noted(&mut self, kind: u8, codes: u8) -> Option<EntryId> {
        self.component(kind, codes);
        self.view.as_ref()?.components.last().map(|part| part.entry)
    }

    pub fn read_with_limits(&mut self, component: EntryId, of: ReadingKind, how: u8) {
        self.limits(component, of);
        self.reading(component, of, how);
    }

    /// The maker's limits: 11 to 15 ohm, 1 Mohm to ground, 11 to 15 V, 100 to 200 Hz.
    pub fn limits(&mut self, component: EntryId, of: ReadingKind) {
        let (low, high) = match of {
            ReadingKind::Insulation => (Some(1e6), None),
            ReadingKind::Frequency => (Some(100.0), Some(200.0)),
            ReadingKind::Current => (Some(0.5), Some(1.0)),
            ReadingKind::DutyCycle => (Some(40.0), Some(60.0)),
            _ => (Some(11.0), Some(15.0)),
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
    pub fn reading(&mut self, component: EntryId, of: ReadingKind, how: u8) {
        let samples = match (of, how) {
            (ReadingKind::Insulation, 0) => ["40M", "40M", "41M"],
            (ReadingKind::Insulation, 1) => ["12", "12", "13"],
            (ReadingKind::Insulation, 4) => ["1.0M", "1.0M", "1.0M"],
            (ReadingKind::Insulation, 5) => ["300k", "300k", "301k"],
            (_, 2) => ["OL", "OL", "OL"],
            (_, 3) => ["13.0", "44.0", "2.1"],
            (ReadingKind::Frequency, 1) => ["900", "900", "901"],
            (ReadingKind::Frequency, 4) => ["200", "200", "200"],
            (ReadingKind::Frequency, _) => ["150", "150", "151"],
            (ReadingKind::Current, 0) => ["0.75", "0.75", "0.76"],
            (ReadingKind::Applied, 0) => ["0.91", "0.91", "0.92"],
            (ReadingKind::Applied, 1) => ["0.00", "0.00", "0.00"],
            (ReadingKind::DutyCycle, 0) => ["50", "50", "51"],
            (_, 1) => ["64.0", "64.0", "64.1"],
            (_, 4) => ["15.0", "15.0", "15.0"],
            _ => ["13.0", "13.0", "13.1"],
        };
        let reading = Reading {
            quantity: of,
            samples: samples.iter().map(|s| (*s).to_owned()).collect(),
            leads: (of == ReadingKind::Resistance).then(|| "0.2".to_owned()),
            part_c: Some(20.0),
            part_from: None,
            test_volts: (of == ReadingKind::Insulation).then_some(500.0),
            part_within_k: None,
            meter: MeterUsed {
                name: "Fine meter".into(),
                percent: 0.2,
                counts: 2.0,
            },
            contact_shown: true,
            sibling: None,
            range_top: (of == ReadingKind::Insulation).then(|| "40M".to_owned()),
            guard: None,
            applied: (of == ReadingKind::Applied).then(|| Applied {
                volts: "12.4".into(),
                by: if how.is_multiple_of(2) {
                    AmpsBy::Meter
                } else {
                    AmpsBy::Clamp
                },
                click: [None, Some(true), Some(false)][usize::from(how) % 3],
            }),
            display: None,
        };
        self.write(Fact::ReadingTaken { component, reading });
    }

    /// Its wires: sound, open, to ground, together, or half read.
    pub fn harness(&mut self, component: EntryId, how: u8) {
        let (across, first, second, alone) = match how {
            0 => ("13.2", "OL", "OL", "12.8"),
            1 => ("OL", "OL", "OL", "12.8"),
            2 => ("13.2", "0.4", "13.4", "12.8"),
            3 => ("0.4", "OL", "OL", "OL"),
            _ => ("13.2", "", "", ""),
        };
        let typed = |text: &str| (!text.is_empty()).then(|| text.to_owned());
        let read = HarnessRead {
            pins: ["14".into(), String::new()],
            control: SideRead {
                across: typed(across),
                to_ground: [typed(first), typed(second)],
            },
            part: SideRead {
                across: typed(alone),
                to_ground: [typed("OL"), None],
            },
            wires: [None, None],
            leads: typed("0.2"),
            meter: MeterUsed {
                name: "Fine meter".into(),
                percent: 0.2,
                counts: 2.0,
            },
        };
        self.write(Fact::HarnessRead { component, read });
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

    pub fn answer(&mut self, item: u8, choice: u8, text: u8) {
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
    pub fn own_procedure(&mut self, at: u8) {
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
    pub fn exchange(&mut self) {
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
        let (from, to) = (from.app.store(), to.app.store());
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
        to.merge_customers(&from.customers().expect("reads"), 0)
            .expect("fits");
        for procedure in from.procedures().expect("reads") {
            to.add_procedure(&procedure).expect("fits");
        }
    }
}
