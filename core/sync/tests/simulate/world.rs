//! A shop: a hub, phones, the true time, and what happens one after another.

use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::fmt::Display;
use std::path::Path;
use std::rc::Rc;

use swarfbook_job::fact::{Fact, PhotoSubject};
use swarfbook_job::id::{CustomerId, JobId};
use swarfbook_store::{PairedDevice, ProcedureText, Store};
use swarfbook_sync::auth::{Gate, Signed};
use swarfbook_sync::{Outcome, PeerError, Request, Response, SyncError, serve, sync};
use uuid::Uuid;

use crate::device::{Device, shown};
use crate::dice::Dice;
use crate::network::{Late, Wire};

pub const MINUTE: u64 = 60_000;
pub const HOUR: u64 = 60 * MINUTE;
pub const DAY: u64 = 24 * HOUR;

/// How far clocks are set off, in minutes: within what the hub lets pass, a day, and more.
const AHEAD_MINUTES: [i64; 9] = [0, 0, 3, -4, 60, -1440, 1430, 1500, 4000];

/// A message of a phone to the hub, as it goes over the wire.
#[derive(Clone)]
pub struct Message {
    pub header: String,
    pub request: Request,
}

pub struct World {
    pub dice: Dice,
    pub hub: Device,
    pub phones: Vec<Device>,
    /// The last phone lies to the hub.
    pub has_liar: bool,
    /// What phones are told in the hub's name is changed on the way.
    pub hub_lies: Cell<bool>,
    pub now: Cell<u64>,
    /// Messages that are still on their way, or were listened in to.
    pub late: RefCell<Vec<Late>>,
    pub counts: RefCell<BTreeMap<&'static str, u64>>,
    /// What happened, for whoever looks at one seed.
    pub told: RefCell<Vec<String>>,
    aloud: bool,
    root: String,
    gate: RefCell<Gate>,
    depth: Cell<u32>,
}

impl World {
    pub fn new(seed: u64, root: &Path, aloud: bool) -> World {
        let dice = Dice::of(seed);
        let spare = Rc::new(RefCell::new(Some(
            Store::open(&root.join("spare")).expect("opens"),
        )));
        let hub = Device::new(root, "hub", &spare);
        let phones: Vec<Device> = (1..=dice.within(2..6))
            .map(|n| Device::new(root, &format!("phone-{n}"), &spare))
            .collect();
        for phone in &phones {
            let paired = PairedDevice {
                device: phone.id,
                name: phone.name.clone(),
                public_key: phone.key.public_hex(),
                paired: shown(0),
            };
            assert!(hub.store().add_peer(&paired).expect("kept"));
        }
        World {
            has_liar: dice.one_in(3),
            hub_lies: Cell::new(dice.one_in(5)),
            dice,
            hub,
            phones,
            now: Cell::new(1_772_434_800_000),
            late: RefCell::default(),
            counts: RefCell::default(),
            told: RefCell::default(),
            aloud,
            root: root.display().to_string(),
            gate: RefCell::default(),
            depth: Cell::new(0),
        }
    }

    pub fn tell(&self, words: impl Display) {
        // Where it all lies is another folder each time.
        let words = words.to_string().replace(&self.root, "");
        if self.aloud {
            println!("{:1$}{words}", "", 2 * self.depth.get() as usize);
        }
        self.told.borrow_mut().push(words);
    }

    pub fn count(&self, what: &'static str) {
        *self.counts.borrow_mut().entry(what).or_default() += 1;
    }

    pub fn honest(&self) -> &[Device] {
        &self.phones[..self.phones.len() - usize::from(self.has_liar)]
    }

    pub fn liar(&self) -> Option<&Device> {
        self.phones.last().filter(|_| self.has_liar)
    }

    pub fn devices(&self) -> impl Iterator<Item = &Device> {
        std::iter::once(&self.hub).chain(&self.phones)
    }

    fn somebody(&self) -> &Device {
        match self.dice.below(self.phones.len() + 1) {
            0 => &self.hub,
            n => &self.phones[n - 1],
        }
    }

    /// One thing happens. Within an exchange others happen too, of all kinds.
    pub fn step(&self) {
        self.depth.set(self.depth.get() + 1);
        self.now
            .set(self.now.get() + self.dice.a_length(20 * MINUTE as usize) as u64);
        match self.dice.below(26) {
            0..8 => self.write(self.somebody()),
            8..10 => self.photo(self.somebody()),
            10..12 => self.customer(self.somebody()),
            12 if self.dice.one_in(6) => self.procedure(self.somebody()),
            13..18 if self.depth.get() < 3 => {
                self.exchange(self.dice.of_these(&self.phones), true);
            }
            18 => self.set_clock(self.somebody()),
            19..21 => self.restart(self.somebody()),
            21 => {
                let device = self.somebody();
                let full = !device.is_full() && self.dice.one_in(2);
                self.tell(format_args!("{} full: {full}", device.name));
                device.fill(full);
            }
            22 => self.something_late(),
            23..25 if self.has_liar => self.lie(),
            _ => {}
        }
        self.depth.set(self.depth.get() - 1);
    }

    pub fn write(&self, device: &Device) {
        let job = self.job();
        let there = device.store().entries(job).expect("reads");
        let mut facts = Vec::new();
        for n in 0..self.dice.within(1..4) {
            let step = format!("step {}", self.dice.below(5));
            facts.push(match self.dice.below(4) {
                0 if !there.is_empty() => Fact::Retracted {
                    entry: self.dice.of_these(&there).id,
                    reason: None,
                },
                1 => Fact::Noted {
                    step,
                    topic: None,
                    text: format!("{n} \u{1f6e2} \"\\ ").repeat(self.dice.a_length(400)),
                    private: false,
                },
                _ => Fact::StepTicked { step },
            });
        }
        self.tell(format_args!("{} writes {}", device.name, facts.len()));
        if !device.write(job, facts, self.now.get()) {
            self.count("lines refused for want of room");
        }
    }

    fn photo(&self, device: &Device) {
        let size = 1 + self.dice.a_length(1_300_000);
        self.tell(format_args!("{} takes a photo of {size}", device.name));
        let Some(photo) = device.take_photo(&self.dice.bytes(size)) else {
            self.count("photos refused for want of room");
            return;
        };
        let fact = Fact::PhotoTaken {
            step: "pan-photo".into(),
            photo,
            subject: PhotoSubject::Pan,
        };
        if device.write(self.job(), vec![fact], self.now.get()) {
            device.photos.borrow_mut().insert(photo, size);
        }
    }

    fn customer(&self, device: &Device) {
        let id = CustomerId(Uuid::from_u128(1 + self.dice.below(4) as u128));
        let words = format!("Invented {}", self.dice.below(1000));
        let words = (!self.dice.one_in(12)).then_some(words);
        self.tell(format_args!("{} keeps customer {words:?}", device.name));
        device.change_customer(id, words.as_deref(), self.now.get());
    }

    fn procedure(&self, device: &Device) {
        let version = 1 + self.dice.below(3) as u32;
        let text = PROCEDURE
            .replace("ID", &device.name)
            .replace("VERSION", &version.to_string());
        let id = device.name.clone();
        self.tell(format_args!("{id} keeps a procedure"));
        let kept = device
            .store()
            .add_procedure(&ProcedureText { id, version, text });
        if let Err(why) = kept {
            device.may_fail(&why);
        }
    }

    fn job(&self) -> JobId {
        JobId(Uuid::from_u128(1 + self.dice.below(3) as u128))
    }

    fn set_clock(&self, device: &Device) {
        let minutes = *self.dice.of_these(&AHEAD_MINUTES);
        self.tell(format_args!("{}'s clock: {minutes} min", device.name));
        device.ahead.set(minutes * MINUTE as i64);
    }

    pub fn restart(&self, device: &Device) {
        let killed = self.dice.one_in(2);
        self.tell(format_args!(
            "{} starts again, killed: {killed}",
            device.name
        ));
        self.count(if killed { "kills" } else { "restarts" });
        device.restart(killed);
        if device.is_held() {
            self.count("starts without room");
        }
        if device.id == self.hub.id {
            // It forgot which messages it got: who listened in tries them again.
            self.gate.take();
            while self.dice.one_in(2) && !self.late.borrow().is_empty() {
                self.something_late();
            }
        }
        self.nothing_that_was_promised_is_gone(device);
    }

    /// What the hub does with a message, whoever brings it.
    pub fn hub_answers(&self, message: &Message) -> Response {
        let Message { header, request } = message;
        let now = self.hub.now(self.now.get());
        let key_of = |device| {
            let peer = self.hub.store().peer(device).expect("reads");
            peer.map(|peer| peer.public_key)
        };
        let what = (request.method, request.target.as_str());
        let checked = self
            .gate
            .borrow()
            .check(header, what, &[self.hub.id], key_of, now);
        let allowed = match checked {
            Ok(allowed) => allowed,
            Err(denied) => return Response::refused(401, denied.to_string()),
        };
        if swarfbook_job::id::Sha256Hex::of(&request.body) != allowed.body {
            return Response::refused(401, "another body");
        }
        serve::answer(&self.hub.store(), allowed.device, now, request)
    }

    pub fn message(&self, phone: &Device, request: &Request) -> Message {
        let now = phone.now(self.now.get());
        let signed = Signed::sign(request, phone.id, self.hub.id, &phone.key, now);
        Message {
            header: signed.expect("signed").header(),
            request: request.clone(),
        }
    }

    /// A phone exchanges with the hub, over a network with `trouble` or without.
    pub fn exchange(&self, phone: &Device, trouble: bool) -> Option<Outcome> {
        self.tell(format_args!("{} exchanges {{", phone.name));
        self.count("exchanges");
        phone.exchanges.set(phone.exchanges.get() + 1);
        let wire = Wire::new(self, phone, trouble);
        let done = sync(|| phone.store(), &wire, phone.now(self.now.get()));
        let lied = trouble && self.hub_lies.get();
        match done {
            Ok(outcome) => {
                self.tell(format_args!("}} {outcome:?}"));
                self.count("exchanges that went through");
                if !lied {
                    phone.at_the_hub.replace(outcome.hub_heads.clone());
                    self.nothing_that_was_promised_is_gone(&self.hub);
                    assert!(outcome.refused.is_empty(), "{}: {outcome:?}", phone.name);
                }
                Some(outcome)
            }
            Err(why) => {
                self.tell(format_args!("}} {why}"));
                self.ended_for_a_reason(phone, &wire, &why, lied);
                None
            }
        }
    }

    fn ended_for_a_reason(&self, phone: &Device, wire: &Wire<'_>, why: &SyncError, lied: bool) {
        match why {
            SyncError::Peer(PeerError::Cut(_)) => self.count("exchanges that were cut"),
            SyncError::Peer(PeerError::Refused { status: 401, words }) => {
                assert!(words.contains("clock") || lied, "{words}");
                self.count("exchanges refused for a wrong clock");
            }
            SyncError::Peer(PeerError::Refused { status: 507, .. }) => {
                assert!(wire.hub_was_hindered(), "the hub has room");
                self.count("exchanges refused by a full hub");
            }
            SyncError::Peer(PeerError::Refused { .. }) => {
                assert!(wire.hub_was_hindered() || lied, "{why}");
            }
            SyncError::Peer(_) => {
                // Two exchanges of one phone at once bring a photo twice.
                assert!(lied || wire.was_not_alone(), "{why}");
            }
            SyncError::Store(why) => {
                phone.may_fail(why);
                self.count("exchanges ended by a full phone");
            }
        }
    }

    fn something_late(&self) {
        let mut late = self.late.borrow_mut();
        if late.is_empty() {
            return;
        }
        let at = self.dice.below(late.len());
        let Late { message, delivered } = late.swap_remove(at);
        drop(late);
        let answer = self.hub_answers(&message);
        let target = &message.request.target;
        self.tell(format_args!("late: {target}: {}", answer.status));
        if answer.status != 200 {
            return;
        }
        self.count(match delivered {
            true => "messages done again after a restart",
            false => "messages that came late",
        });
    }
}

/// The least that a procedure of a shop's own needs.
const PROCEDURE: &str = r#"
id = "ID"
version = VERSION
title = "A way of ID"

[[stage]]
id = "all"
title = "All"

[[stage.step]]
id = "look"
title = "Look"
"#;
