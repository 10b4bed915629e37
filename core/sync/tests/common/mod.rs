//! Several stores in one process, each a device or the hub.
#![allow(dead_code)]

use std::cell::Cell;
use std::path::Path;
use std::sync::{Mutex, MutexGuard};

use chrono::{DateTime, FixedOffset};
use swarfbook_job::fact::{Fact, PhotoSubject};
use swarfbook_job::fold::{JobState, fold};
use swarfbook_job::id::{DeviceId, JobId, Sha256Hex};
use swarfbook_store::{NewEntry, Store};
use swarfbook_sync::{InProcess, Outcome, Peer, PeerError, Request, Response, SyncError, sync};
use tempfile::TempDir;
use uuid::Uuid;

pub const NOW_MILLIS: u64 = 1_772_434_800_000;

pub fn at(minute: u32) -> DateTime<FixedOffset> {
    DateTime::parse_from_rfc3339("2026-03-02T08:00:00+01:00").expect("a time")
        + chrono::Duration::minutes(i64::from(minute))
}

pub fn job(n: u128) -> JobId {
    JobId(Uuid::from_u128(n))
}

/// A store in a folder of its own, as a phone or the hub has it.
pub struct Device {
    dir: TempDir,
    store: Mutex<Store>,
}

impl Device {
    pub fn new() -> Device {
        let dir = tempfile::tempdir().expect("folder");
        let store = Mutex::new(Store::open(dir.path()).expect("opens"));
        Device { dir, store }
    }

    pub fn store(&self) -> MutexGuard<'_, Store> {
        self.store.lock().expect("not poisoned")
    }

    pub fn dir(&self) -> &Path {
        self.dir.path()
    }

    pub fn id(&self) -> DeviceId {
        self.store().device()
    }

    /// As after a kill: the same folder, opened anew.
    pub fn restart(&self) {
        *self.store() = Store::open(self.dir.path()).expect("opens again");
    }

    pub fn write(&self, job: JobId, facts: impl IntoIterator<Item = Fact>, minute: u32) {
        let lines: Vec<NewEntry> = facts
            .into_iter()
            .map(|fact| NewEntry {
                job,
                fact,
                now: at(minute),
            })
            .collect();
        self.store().append(&lines).expect("written");
    }

    pub fn tick(&self, job: JobId, step: &str, minute: u32) {
        self.write(job, [Fact::StepTicked { step: step.into() }], minute);
    }

    pub fn take_photo(&self, job: JobId, bytes: &[u8], minute: u32) -> Sha256Hex {
        let photo = self.store().put_photo(bytes).expect("kept");
        let fact = Fact::PhotoTaken {
            step: "pan-photo".into(),
            photo,
            subject: PhotoSubject::Pan,
        };
        self.write(job, [fact], minute);
        photo
    }

    pub fn sync_with(&self, hub: &Device) -> Result<Outcome, SyncError> {
        self.sync_over(&InProcess::new(|| hub.store(), self.id(), NOW_MILLIS))
    }

    pub fn sync_over(&self, hub: &dyn Peer) -> Result<Outcome, SyncError> {
        sync(|| self.store(), hub, NOW_MILLIS)
    }

    pub fn state(&self, job: JobId) -> JobState {
        fold(job, &self.store().entries(job).expect("reads"))
    }

    /// All that must be the same on two stores that are level.
    pub fn content(&self) -> Content {
        let store = self.store();
        let mut lines = Vec::new();
        for device in store.heads().expect("heads").into_keys() {
            let of_device = store.entries_after(device, 0, usize::MAX).expect("lines");
            lines.extend(of_device.into_iter().map(|line| line.bytes));
        }
        let mut customers = store.customers().expect("customers");
        customers.sort_by_key(|customer| customer.id);
        let photos = store.photos_named().expect("named");
        Content {
            lines,
            customers,
            procedures: store.procedures().expect("procedures"),
            photos: photos
                .into_iter()
                .map(|photo| (photo, store.photo(photo).ok()))
                .collect(),
        }
    }
}

#[derive(Debug, PartialEq)]
pub struct Content {
    pub lines: Vec<String>,
    pub customers: Vec<swarfbook_store::Customer>,
    pub procedures: Vec<swarfbook_store::ProcedureText>,
    pub photos: Vec<(Sha256Hex, Option<Vec<u8>>)>,
}

/// A connection that breaks once so many bytes went over it. A request that is
/// cut was never seen there; an answer that is cut was, and what it says was done.
pub struct CutAfter<'a> {
    hub: &'a dyn Peer,
    left: Cell<usize>,
}

impl<'a> CutAfter<'a> {
    pub fn bytes(hub: &'a dyn Peer, bytes: usize) -> CutAfter<'a> {
        CutAfter {
            hub,
            left: Cell::new(bytes),
        }
    }

    fn go(&self, bytes: usize) -> Result<(), PeerError> {
        match self.left.get().checked_sub(bytes) {
            Some(left) => {
                self.left.set(left);
                Ok(())
            }
            None => {
                self.left.set(0);
                Err(PeerError::Cut("cut".into()))
            }
        }
    }
}

impl Peer for CutAfter<'_> {
    fn ask(&self, request: &Request) -> Result<Response, PeerError> {
        self.go(request.target.len() + request.body.len())?;
        let response = self.hub.ask(request)?;
        self.go(response.body.len() + 1)?;
        Ok(response)
    }
}

/// A hub whose answers are changed on their way.
pub struct Changed<'a, F> {
    pub hub: &'a dyn Peer,
    pub change: F,
}

impl<F: Fn(&Request, Response) -> Response> Peer for Changed<'_, F> {
    fn ask(&self, request: &Request) -> Result<Response, PeerError> {
        Ok((self.change)(request, self.hub.ask(request)?))
    }
}

/// Counts what goes over it.
pub struct Counted<'a> {
    pub hub: &'a dyn Peer,
    pub calls: Cell<usize>,
    pub bytes: Cell<usize>,
}

impl Peer for Counted<'_> {
    fn ask(&self, request: &Request) -> Result<Response, PeerError> {
        let response = self.hub.ask(request)?;
        self.calls.set(self.calls.get() + 1);
        let bytes = request.target.len() + request.body.len() + response.body.len() + 1;
        self.bytes.set(self.bytes.get() + bytes);
        Ok(response)
    }
}
