//! A phone, or the hub: a real store in a folder of its own, its clock, and what it was told
//! that it has for certain.

use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::rc::Rc;
use std::sync::{Mutex, MutexGuard};

use chrono::{DateTime, FixedOffset};
use swarfbook_job::entry::Sealed;
use swarfbook_job::fact::Fact;
use swarfbook_job::id::{CustomerId, DeviceId, JobId, Sha256Hex};
use swarfbook_store::{Customer, DeviceKey, NewEntry, Store, StoreError};

/// What a kill leaves of the database: all that was written, none of it tidied up.
const DATABASE: [&str; 3] = ["swarfbook.db", "swarfbook.db-wal", "swarfbook.head"];

/// Stands in a store's place while that is closed.
pub type Spare = Rc<RefCell<Option<Store>>>;

pub struct Device {
    pub name: String,
    pub id: DeviceId,
    pub key: DeviceKey,
    /// How far its clock is ahead, in milliseconds.
    pub ahead: Cell<i64>,
    /// How often it was started.
    pub starts: Cell<u32>,
    /// How many exchanges it began.
    pub exchanges: Cell<u32>,
    /// Lines that it was told are written.
    pub written: RefCell<Vec<Sealed>>,
    /// Photos that it was told are kept and that a written line names.
    pub photos: RefCell<BTreeMap<Sha256Hex, usize>>,
    /// Customers as it was told they are kept.
    pub customers: RefCell<Vec<Customer>>,
    /// How far it was told that the hub has each device's lines.
    pub at_the_hub: RefCell<BTreeMap<DeviceId, u64>>,
    dir: PathBuf,
    store: Mutex<Store>,
    spare: Spare,
}

impl Device {
    pub fn new(root: &Path, name: &str, spare: &Spare) -> Device {
        let dir = root.join(name);
        let store = Store::open(&dir).expect("opens");
        Device {
            name: name.to_owned(),
            id: store.device(),
            key: store.own_key().expect("a key"),
            ahead: Cell::new(0),
            starts: Cell::new(1),
            exchanges: Cell::new(0),
            written: RefCell::default(),
            photos: RefCell::default(),
            customers: RefCell::default(),
            at_the_hub: RefCell::default(),
            dir,
            store: Mutex::new(store),
            spare: spare.clone(),
        }
    }

    pub fn store(&self) -> MutexGuard<'_, Store> {
        // Nothing here runs beside anything else: whoever has to wait would wait for ever.
        self.store.try_lock().expect("held by nobody")
    }

    pub fn is_held(&self) -> bool {
        self.store().read_only().is_some()
    }

    pub fn now(&self, true_millis: u64) -> u64 {
        true_millis.saturating_add_signed(self.ahead.get())
    }

    fn mark(&self) -> PathBuf {
        self.dir.with_extension("full")
    }

    pub fn is_full(&self) -> bool {
        self.mark().exists()
    }

    pub fn fill(&self, full: bool) {
        if full {
            fs::write(self.mark(), b"").expect("marked");
        } else if self.is_full() {
            fs::remove_file(self.mark()).expect("unmarked");
        }
    }

    /// Starts it again; `killed` had no time to close anything.
    pub fn restart(&self, killed: bool) {
        let files = DATABASE.map(|name| (name, fs::read(self.dir.join(name)).ok()));
        let spare = self.spare.borrow_mut().take();
        let old = std::mem::replace(&mut *self.store(), spare.expect("back from the last time"));
        drop(old);
        if killed {
            for (name, bytes) in files {
                let path = self.dir.join(name);
                match bytes {
                    Some(bytes) => unhindered(self, || fs::write(&path, bytes)).expect("left so"),
                    None => drop(fs::remove_file(&path)),
                }
            }
        }
        let new = Store::open(&self.dir).unwrap_or_else(|why| {
            assert!(self.is_full(), "{} does not start: {why}", self.name);
            // As a person would.
            self.fill(false);
            Store::open(&self.dir).expect("opens, now that there is room")
        });
        let spare = std::mem::replace(&mut *self.store(), new);
        *self.spare.borrow_mut() = Some(spare);
        self.starts.set(self.starts.get() + 1);
        if !self.is_held() {
            assert_eq!(self.store().device(), self.id, "{}'s own name", self.name);
        }
    }

    /// Writes lines; what can't be because there is no room leaves nothing.
    pub fn write(&self, job: JobId, facts: Vec<Fact>, true_millis: u64) -> bool {
        let now = shown(self.now(true_millis));
        let lines: Vec<NewEntry> = facts
            .into_iter()
            .map(|fact| NewEntry { job, fact, now })
            .collect();
        let done = self.store().append(&lines);
        match done {
            Ok(lines) => self.written.borrow_mut().extend(lines),
            Err(why) => return self.may_fail(&why),
        }
        true
    }

    /// Keeps a photo, then names it in a line.
    pub fn take_photo(&self, bytes: &[u8]) -> Option<Sha256Hex> {
        let kept = self.store().put_photo(bytes);
        kept.map_err(|why| self.may_fail(&why)).ok()
    }

    pub fn change_customer(&self, id: CustomerId, words: Option<&str>, true_millis: u64) -> bool {
        let now = shown(self.now(true_millis));
        let done = match words {
            Some(words) => self.store().save_customer(id, words, words, now),
            None => self.store().erase_customer(id, now),
        };
        if let Err(why) = done {
            return self.may_fail(&why);
        }
        let kept = self.store().customer(id).expect("reads").expect("there");
        self.customers.borrow_mut().push(kept);
        true
    }

    /// Only for want of room.
    pub fn may_fail(&self, why: &StoreError) -> bool {
        let hindered = self.is_full() || self.is_held();
        assert!(hindered, "{} has room, and: {why}", self.name);
        false
    }

    pub fn last_own_line(&self) -> u64 {
        self.written
            .borrow()
            .last()
            .map_or(0, |line| line.entry.seq)
    }
}

/// What the simulator itself does is not hindered by a full disk.
fn unhindered<T>(device: &Device, work: impl FnOnce() -> T) -> T {
    let full = device.is_full();
    device.fill(false);
    let done = work();
    device.fill(full);
    done
}

/// A time as a device shows it.
pub fn shown(millis: u64) -> DateTime<FixedOffset> {
    let zone = FixedOffset::east_opt(3600).expect("a zone");
    let millis = i64::try_from(millis).expect("a time");
    DateTime::from_timestamp_millis(millis)
        .expect("a time")
        .with_timezone(&zone)
}
