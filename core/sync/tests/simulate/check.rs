//! What must hold: at any time for what was promised, and in the end everywhere.

use std::collections::{BTreeMap, BTreeSet};

use swarfbook_job::fold::{JobState, fold};
use swarfbook_job::id::{DeviceId, JobId, Sha256Hex};
use swarfbook_store::{Customer, ProcedureText};
use uuid::Uuid;

use crate::device::Device;
use crate::network::CHANGED;
use crate::world::{DAY, MINUTE, World};

/// All that must be the same everywhere in the end.
#[derive(Debug, PartialEq)]
struct Content {
    /// Bytes, and whether they are signed.
    lines: BTreeMap<(DeviceId, u64), (String, bool)>,
    customers: Vec<Customer>,
    procedures: Vec<ProcedureText>,
    photos: BTreeMap<Sha256Hex, Option<usize>>,
    jobs: Vec<JobState>,
}

impl Content {
    /// Signatures are left out of sight where a liar stood in the hub's place: it may tell a
    /// phone that the hub reads none, and lines then come in as not signed.
    fn is_as(&self, hub: &Content, name: &str, signatures: bool) {
        for (at, (line, signed)) in &self.lines {
            let there = hub.lines.get(at);
            let (there, signed_there) = there.expect("each line is at the hub");
            assert_eq!(line, there, "line {at:?} of {name}");
            let as_there = signed == signed_there || !signatures;
            assert!(as_there, "signature of line {at:?} of {name}: {signed}");
        }
        assert_eq!(self.lines.len(), hub.lines.len(), "lines of {name}");
        assert_eq!(self.customers, hub.customers, "customers of {name}");
        assert_eq!(self.procedures, hub.procedures, "procedures of {name}");
        assert_eq!(self.photos, hub.photos, "photos of {name}");
        for (here, there) in self.jobs.iter().zip(&hub.jobs) {
            assert_eq!(here.lines.len(), there.lines.len(), "job of {name}");
            assert_eq!(here, there, "job of {name}");
        }
    }
}

impl World {
    /// Whatever happens, what a device said that it has stays there: to whoever wrote it, and
    /// to the phones that were told so by the hub.
    pub fn nothing_that_was_promised_is_gone(&self, device: &Device) {
        let store = device.store();
        let (seq, _) = store.head(device.id).expect("reads");
        assert_eq!(seq, device.last_own_line(), "lines of {}", device.name);
        for photo in device.photos.borrow().keys() {
            assert!(store.has_photo(*photo), "{}: photo {photo}", device.name);
        }
        if device.id == self.hub.id {
            for phone in &self.phones {
                for (writer, told) in phone.at_the_hub.borrow().iter() {
                    let (seq, _) = store.head(*writer).expect("reads");
                    assert!(seq >= *told, "{} was told {told}: {seq}", phone.name);
                }
            }
        }
    }

    /// Trouble ends: clocks are set, disks have room, days go by, and all exchange.
    pub fn settle(&self) {
        self.tell("trouble ends");
        self.hub_lies.set(false);
        self.late.borrow_mut().clear();
        if self
            .devices()
            .any(|device| device.store().waiting().expect("reads") > 0)
        {
            self.count("lines that waited");
        }
        self.now.set(self.now.get() + 5 * DAY);
        for device in self.devices() {
            device.fill(false);
            device.ahead.set(0);
            self.restart(device);
        }
        // With a new line each lets those count that waited.
        self.devices().for_each(|device| self.write(device));
        for _ in 0..2 {
            for phone in &self.phones {
                self.now.set(self.now.get() + MINUTE);
                self.exchange(phone, false).expect("goes through");
            }
        }
    }

    pub fn all_is_well(&self) {
        for phone in &self.phones {
            let again = self.exchange(phone, false).expect("goes through");
            assert!(again.was_level(), "{}: {again:?}", phone.name);
        }
        let hub = content(&self.hub);
        let signatures = !self.counts.borrow().contains_key(CHANGED);
        let unsigned = hub.lines.values().filter(|(_, signed)| !signed).count();
        assert!(
            unsigned == 0 || !signatures,
            "{unsigned} lines without a signature"
        );
        for device in self.devices() {
            let mut here = content(device);
            if self.liar().is_some_and(|liar| liar.id == device.id) {
                // What it dated far ahead counts on the liar's own phone.
                here.jobs.clear();
            }
            here.is_as(&hub, &device.name, signatures);
            self.nothing_that_was_promised_is_gone(device);
        }
        for device in self.devices() {
            self.has_its_own(device, &hub);
        }
        let named: BTreeSet<_> = self.devices().map(|device| device.id).collect();
        assert!(hub.lines.keys().all(|(device, _)| named.contains(device)));
        // Far-dated ones of the liar wait for another year.
        for job in &hub.jobs {
            for line in &job.lines {
                assert!(!format!("{line:?}").contains("far ahead"), "{line:?}");
            }
        }
    }

    /// All that a device was told is kept is there as it was written, and nothing else in
    /// its name.
    fn has_its_own(&self, device: &Device, hub: &Content) {
        let written = device.written.borrow();
        let of_it = hub.lines.range((device.id, 0)..=(device.id, u64::MAX));
        let there: Vec<&str> = of_it.map(|(_, (bytes, _))| bytes.as_str()).collect();
        let mine: Vec<&str> = written.iter().map(|line| line.bytes.as_str()).collect();
        assert_eq!(there, mine, "lines of {}", device.name);
        for (photo, size) in device.photos.borrow().iter() {
            assert_eq!(hub.photos.get(photo), Some(&Some(*size)), "{photo}");
        }
        for kept in device.customers.borrow().iter() {
            let there = hub.customers.iter().find(|there| there.id == kept.id);
            let there = there.expect("a customer that was kept");
            let as_new = (there.hlc, there.device) >= (kept.hlc, kept.device);
            // Whose clock was behind took it for one dated ahead, and changed it after.
            let waits = kept.hlc.millis > there.hlc.millis + 24 * 60 * 60 * 1000;
            let as_new = as_new || waits;
            assert!(there.erased || as_new && !kept.erased, "{there:?} {kept:?}");
        }
    }
}

fn content(device: &Device) -> Content {
    let store = device.store();
    let mut lines = BTreeMap::new();
    for writer in store.heads().expect("reads").into_keys() {
        for line in store.entries_after(writer, 0, usize::MAX).expect("reads") {
            let signed = line.signature.is_some();
            lines.insert((writer, line.entry.seq), (line.bytes, signed));
        }
    }
    let mut customers = store.customers().expect("reads");
    customers.sort_by_key(|customer| customer.id);
    let mut procedures = store.procedures().expect("reads");
    procedures.sort_by(|a, b| (&a.id, a.version).cmp(&(&b.id, b.version)));
    let photos = store.photos_named().expect("reads").into_iter();
    let photos = photos.map(|photo| {
        let bytes = store.photo(photo).ok();
        (photo, bytes.map(|bytes| bytes.len()))
    });
    let jobs = (1..=3).map(|n| {
        let job = JobId(Uuid::from_u128(n));
        fold(job, &store.entries(job).expect("reads"))
    });
    Content {
        lines,
        customers,
        procedures,
        photos: photos.collect(),
        jobs: jobs.collect(),
    }
}
