//! A small piece of real work, and what it acknowledges: words, one for each thing.

use std::path::{Path, PathBuf};

use chrono::{DateTime, FixedOffset};
use swarfbook_job::clock::Hlc;
use swarfbook_job::entry::{Entry, Sealed};
use swarfbook_job::fact::{Fact, PhotoSubject};
use swarfbook_job::id::{CustomerId, DeviceId, EntryId, JobId, Sha256Hex};
use swarfbook_store::{DeviceKey, NewEntry, PairedDevice, ProcedureText, Store, StoreError};
use uuid::Uuid;

pub const CUSTOMER: CustomerId = CustomerId(Uuid::from_u128(9));
pub const JOB: JobId = JobId(Uuid::from_u128(7));
pub const OTHER: DeviceId = DeviceId(Uuid::from_u128(5));
pub const DRAFT: &str = "note";

/// The folders of a shop, of its backup, and of what is restored from that.
pub const SHOP: &str = "shop";
pub const SAFE: &str = "safe";
pub const AGAIN: &str = "again";

type Done = Result<Vec<String>, StoreError>;

/// What is worked with: below one folder.
pub struct Work {
    root: PathBuf,
    store: Option<Store>,
    /// Lines of another device, as sync brings them.
    theirs: Vec<Sealed>,
}

/// One after another; each is acknowledged with what it gives.
pub const STEPS: [fn(&mut Work) -> Done; 22] = [
    Work::open,
    |work| work.note("a first line"),
    |work| work.photo(1, 3_000),
    |work| work.draft("half ty"),
    |work| work.customer("Ada Invented"),
    |work| work.pieces(2, 9_000),
    |work| work.pair("pair one"),
    Work::back_up,
    |work| work.draft("half typed"),
    |work| work.customer("Ada Invented of Elsewhere"),
    Work::open,
    |work| work.note(&"longer than a page ".repeat(300)),
    Work::beside,
    |work| work.photo(3, 700),
    Work::take_in,
    |work| work.pair("pair two"),
    |work| work.draft(""),
    |work| work.customer(""),
    Work::back_up,
    Work::restore,
    |work| work.note("a last line"),
    Work::open,
];

impl Work {
    /// Made before anything fails.
    pub fn below(root: &Path) -> Work {
        Work {
            root: root.to_owned(),
            store: None,
            theirs: lines_of_another(),
        }
    }

    fn store(&mut self) -> Result<&Store, StoreError> {
        if self.store.is_none() {
            self.store = Some(Store::open(&self.root.join(SHOP))?);
        }
        Ok(self.store.as_mut().expect("just opened"))
    }

    fn open(&mut self) -> Done {
        self.store = None;
        let store = self.store()?;
        let mut done = vec![format!("device {}", store.device())];
        if let Some(why) = store.read_only() {
            done = vec![format!("held {}", why.words)];
        }
        Ok(done)
    }

    fn append(&mut self, facts: Vec<Fact>) -> Done {
        append(self.store()?, facts)
    }

    fn note(&mut self, text: &str) -> Done {
        self.append(vec![noted(text)])
    }

    fn photo(&mut self, number: u8, length: usize) -> Done {
        let photo = self.store()?.put_photo(&picture(number, length))?;
        let mut done = self.append(vec![taken(photo)])?;
        done.push(format!("photo {photo}"));
        Ok(done)
    }

    /// As sync brings it: from another device, in three pieces.
    fn pieces(&mut self, number: u8, length: usize) -> Done {
        let picture = picture(number, length);
        let photo = Sha256Hex::of(&picture);
        let mut done = Vec::new();
        let mut at = 0;
        for piece in picture.chunks(length.div_ceil(3)) {
            self.store()?
                .arrive(photo, OTHER, at, piece, length as u64)?;
            at += piece.len() as u64;
        }
        done.append(&mut self.append(vec![taken(photo)])?);
        done.push(format!("photo {photo}"));
        Ok(done)
    }

    /// Two lines that are there both or not at all.
    fn pair(&mut self, step: &str) -> Done {
        let ticked = || vec![Fact::StepTicked { step: step.into() }];
        self.store()?.together(|store| {
            let mut done = append(store, ticked())?;
            done.append(&mut append(store, ticked())?);
            Ok(done)
        })
    }

    fn draft(&mut self, text: &str) -> Done {
        self.store()?.keep_draft(JOB, DRAFT, text)?;
        Ok(vec![format!("draft {text}")])
    }

    /// Without a name it is erased.
    fn customer(&mut self, name: &str) -> Done {
        let store = self.store()?;
        if name.is_empty() {
            store.erase_customer(CUSTOMER, now())?;
        } else {
            store.save_customer(CUSTOMER, name, "none", now())?;
        }
        Ok(vec![format!("customer {name}")])
    }

    fn beside(&mut self) -> Done {
        let store = self.store()?;
        store.set("shown", &"bay")?;
        store.add_procedure(&ProcedureText {
            id: "own".into(),
            version: 1,
            text: "title".into(),
        })?;
        let paired = store.add_peer(&PairedDevice {
            device: OTHER,
            name: "a phone".into(),
            public_key: other_key().public_hex(),
            paired: now(),
        })?;
        assert!(paired);
        Ok(vec!["beside".into()])
    }

    fn take_in(&mut self) -> Done {
        let theirs = self.theirs.clone();
        self.store()?.import(&theirs, 0)?;
        Ok(vec![format!("taken in {}", theirs.len())])
    }

    fn back_up(&mut self) -> Done {
        let safe = self.root.join(SAFE);
        let done = self.store()?.backup(&safe)?;
        assert!(done.photos_damaged.is_empty() && done.photos_missing == 0);
        Ok(vec![format!("backup {} {}", done.lines, done.photos)])
    }

    fn restore(&mut self) -> Done {
        let done = Store::restore(&self.root.join(SAFE), &self.root.join(AGAIN))?;
        Ok(vec![format!("restored {}", done.lines)])
    }
}

pub fn append(store: &Store, facts: Vec<Fact>) -> Done {
    let lines: Vec<NewEntry> = facts
        .into_iter()
        .map(|fact| NewEntry {
            job: JOB,
            fact,
            now: now(),
        })
        .collect();
    let lines = store.append(&lines)?;
    let told = lines.iter();
    Ok(told
        .map(|line| format!("line {} {}", line.entry.seq, line.hash))
        .collect())
}

pub fn noted(text: &str) -> Fact {
    Fact::Noted {
        step: "look".into(),
        topic: None,
        text: text.into(),
        private: false,
    }
}

fn taken(photo: Sha256Hex) -> Fact {
    Fact::PhotoTaken {
        photo,
        subject: PhotoSubject::Pan,
        step: "pan".into(),
    }
}

/// Bytes that no other photo has.
fn picture(number: u8, length: usize) -> Vec<u8> {
    (0..length).map(|at| (at % 251) as u8 ^ number).collect()
}

pub fn now() -> DateTime<FixedOffset> {
    DateTime::parse_from_rfc3339("2026-03-02T08:00:00+01:00").expect("a time")
}

fn other_key() -> DeviceKey {
    DeviceKey::read(&"7".repeat(64)).expect("a key")
}

fn lines_of_another() -> Vec<Sealed> {
    let mut prev = Sha256Hex::ZERO;
    let mut lines = Vec::new();
    for seq in 1..=3 {
        let entry = Entry {
            id: EntryId(Uuid::from_u128(100 + u128::from(seq))),
            job: JOB,
            device: OTHER,
            seq,
            wall: now(),
            hlc: Hlc::default(),
            prev,
            body: noted("another's").into(),
        };
        let line = other_key().signed(entry.seal().expect("sealed"));
        prev = line.hash;
        lines.push(line);
    }
    lines
}
