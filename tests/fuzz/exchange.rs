//! What phones send the hub, and what a hub answers.

use std::cell::Cell;
use std::collections::BTreeSet;
use std::sync::{Mutex, MutexGuard};

use chrono::DateTime;
use swarfbook_job::fact::Fact;
use swarfbook_job::id::{DeviceId, JobId};
use swarfbook_store::{NewEntry, Store};
use swarfbook_sync::auth::{PairCode, admit};
use swarfbook_sync::{InProcess, Peer, PeerError, Request, Response, serve, sync};
use tempfile::TempDir;
use uuid::Uuid;

use crate::hammer;

const NOW_MILLIS: u64 = 1_772_434_800_000;

struct Device {
    _dir: TempDir,
    store: Mutex<Store>,
}

impl Device {
    fn new() -> Device {
        let dir = tempfile::tempdir().expect("folder");
        let store = Store::open(dir.path()).expect("opens");
        let now = DateTime::from_timestamp_millis(NOW_MILLIS as i64).expect("a time");
        let line = NewEntry {
            job: JobId(Uuid::from_u128(1)),
            fact: Fact::StepTicked { step: "a".into() },
            now: now.fixed_offset(),
        };
        store.append(&[line]).expect("written");
        Device {
            _dir: dir,
            store: Mutex::new(store),
        }
    }

    /// What panicked meanwhile is what is looked for.
    fn store(&self) -> MutexGuard<'_, Store> {
        self.store
            .lock()
            .unwrap_or_else(std::sync::PoisonError::into_inner)
    }

    fn lines(&self) -> BTreeSet<String> {
        let store = self.store();
        let devices = store.heads().expect("reads").into_keys();
        let lines = devices.flat_map(|of| store.entries_after(of, 0, usize::MAX).expect("reads"));
        lines.map(|line| line.bytes).collect()
    }
}

/// A first row "POST /sync/lines", then the body.
fn request(bytes: &[u8]) -> Request {
    let (row, body) = match bytes.iter().position(|byte| *byte == b'\n') {
        Some(at) => (&bytes[..at], &bytes[at + 1..]),
        None => (bytes, &[][..]),
    };
    let row = String::from_utf8_lossy(row);
    let (method, target) = row.split_once(' ').unwrap_or(("", &row));
    Request {
        method: if method == "GET" { "GET" } else { "POST" },
        target: target.to_owned(),
        body: body.to_vec(),
    }
}

#[test]
fn a_request_of_a_paired_phone() {
    let hub = Device::new();
    let phone = DeviceId(Uuid::from_u128(5));
    let mut own = hub.lines();
    hammer("request", |bytes| {
        let answer = serve::answer(&hub.store(), phone, NOW_MILLIS, &request(bytes));
        assert!((200..500).contains(&answer.status), "{answer:?}");
    });
    // Its own line stays, and it never answers for a line that it does not have.
    own.retain(|line| !hub.lines().contains(line));
    assert!(own.is_empty());
}

#[test]
fn a_request_to_pair() {
    let hub = Device::new();
    let now = DateTime::from_timestamp_millis(NOW_MILLIS as i64).expect("a time");
    let code = PairCode::default();
    hammer("pair", |bytes| {
        let admitted = admit(&hub.store(), &code, bytes, now.fixed_offset());
        assert!(admitted.response.status >= 400, "nobody knows a code");
    });
    assert!(hub.store().peers().expect("reads").is_empty());
}

/// The true hub, but for one answer.
struct OneChanged<'a> {
    hub: &'a dyn Peer,
    left: Cell<u8>,
    instead: &'a [u8],
}

impl Peer for OneChanged<'_> {
    fn ask(&self, request: &Request) -> Result<Response, PeerError> {
        let left = self.left.get();
        self.left.set(left.wrapping_sub(1));
        match left {
            0 => Ok(Response {
                status: 200,
                body: self.instead.to_vec(),
            }),
            _ => self.hub.ask(request),
        }
    }
}

/// In the end both have the same, whatever a liar put in between.
#[test]
fn an_answer_of_a_hub() {
    let (hub, phone) = (Device::new(), Device::new());
    let peer = InProcess::new(|| hub.store(), DeviceId(Uuid::from_u128(6)), NOW_MILLIS);
    hammer("answer", |bytes| {
        let (which, body) = bytes.split_first().unwrap_or((&0, &[]));
        let lying = OneChanged {
            hub: &peer,
            left: Cell::new(which % 8),
            instead: body,
        };
        let _ = sync(|| phone.store(), &lying, NOW_MILLIS);
    });
    sync(|| phone.store(), &peer, NOW_MILLIS).expect("an honest hub");
    assert_eq!(phone.lines(), hub.lines());
}
