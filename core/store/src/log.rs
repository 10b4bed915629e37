//! The log: appending one's own lines, taking in those of others.

use chrono::{DateTime, FixedOffset};
use rusqlite::{Connection, OptionalExtension, params};
use swarfbook_job::clock::Hlc;
use swarfbook_job::entry::{Body, Entry, Sealed, Signature};
use swarfbook_job::fact::Fact;
use swarfbook_job::id::{DeviceId, EntryId, JobId, Sha256Hex};
use swarfbook_words::say;
use uuid::{NoContext, Timestamp, Uuid};

use crate::{Store, StoreError, key, list, waiting, writer};

/// A line to append: what, where, when.
#[derive(Debug, Clone)]
pub struct NewEntry {
    /// The job.
    pub job: JobId,
    /// The line.
    pub fact: Fact,
    /// Wall time as the device shows it.
    pub now: DateTime<FixedOffset>,
}

impl Store {
    /// Appends lines of this device, all or none, and gives them back sealed.
    /// They are on disk when this returns.
    ///
    /// # Errors
    /// [`StoreError::Photo`] when a line names a photo that is not here;
    /// [`StoreError::Full`], [`StoreError::Entry`], [`StoreError::Busy`].
    pub fn append(&mut self, lines: &[NewEntry]) -> Result<Vec<Sealed>, StoreError> {
        for line in lines {
            if let Some(file) = file_named(&line.fact)
                && !self.has_photo(file)
            {
                return Err(StoreError::Photo(say!(
                    "the photo {} is not in the store",
                    file
                )));
            }
        }
        let device = self.device();
        self.at_once(|db| write(db, device, lines))
    }

    /// Does `work` as a whole or not at all: in a transaction of its own, or within
    /// [`Store::together`] as a part of what that commits.
    pub(crate) fn at_once<T>(
        &mut self,
        work: impl FnOnce(&Connection) -> Result<T, StoreError>,
    ) -> Result<T, StoreError> {
        self.writable()?;
        if !self.db.is_autocommit() {
            let part = self.db.savepoint()?;
            let done = work(&part)?;
            part.commit()?;
            return Ok(done);
        }
        // Immediate: two programs on one store must not give out one number twice.
        let tx = self
            .db
            .transaction_with_behavior(rusqlite::TransactionBehavior::Immediate)?;
        let done = work(&tx)?;
        tx.commit()?;
        self.say_head();
        Ok(done)
    }

    /// Does `work` in one transaction: all that it appends is there, or nothing.
    /// What it reads holds what it has appended so far.
    ///
    /// # Errors
    /// What `work` gives, and SQLite's. Nothing was written then.
    pub fn together<T, E: From<StoreError>>(
        &mut self,
        work: impl FnOnce(&mut Store) -> Result<T, E>,
    ) -> Result<T, E> {
        self.writable()?;
        let run = |store: &Store, sql| store.db.execute_batch(sql).map_err(StoreError::from);
        run(self, "BEGIN IMMEDIATE")?;
        // A panic must not leave the transaction open: what follows would never be committed.
        let done = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| work(self)));
        let committed = match &done {
            Ok(Ok(_)) => run(self, "COMMIT"),
            _ => Ok(()),
        };
        // The work failed, or the commit did (a full disk) and left it open.
        if !self.db.is_autocommit() {
            run(self, "ROLLBACK")?;
        }
        match done {
            Ok(Ok(value)) => {
                committed?;
                self.say_head();
                Ok(value)
            }
            Ok(Err(why)) => Err(why),
            Err(panic) => std::panic::resume_unwind(panic),
        }
    }

    /// All lines of a job that count, in the order in which they came in: those that
    /// another device dated far ahead wait.
    ///
    /// # Errors
    /// [`StoreError::Damaged`] and the like; a line that can't be read is an error, not left out.
    pub fn entries(&self, job: JobId) -> Result<Vec<Entry>, StoreError> {
        let counted = self.counted(job)?;
        let mut query = self.db.prepare_cached(&format!(
            "SELECT hash, bytes FROM entry WHERE {counted} ORDER BY rowid"
        ))?;
        let mut rows = query.query(params![job.to_string()])?;
        let mut entries = Vec::new();
        while let Some(row) = rows.next()? {
            entries.push(read(&row.get::<_, String>(0)?, &row.get::<_, String>(1)?)?);
        }
        Ok(entries)
    }

    /// The job whose report a link opens, or once opened.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn job_of_link(&self, link: Sha256Hex) -> Result<Option<JobId>, StoreError> {
        let job: Option<String> = self
            .db
            .prepare_cached("SELECT job FROM link_named WHERE link = ?1")?
            .query_row(params![link.to_string()], |row| row.get(0))
            .optional()?;
        Ok(job.and_then(|job| job.parse().ok()))
    }

    /// Lines of `device` after number `seq`, in order, until about `max_bytes`
    /// are together (at least one when there is one).
    ///
    /// # Errors
    /// As SQLite's, and [`StoreError::Entry`].
    pub fn entries_after(
        &self,
        device: DeviceId,
        seq: u64,
        max_bytes: usize,
    ) -> Result<Vec<Sealed>, StoreError> {
        let mut query = self.db.prepare_cached(
            "SELECT hash, bytes, signature FROM entry WHERE device = ?1 AND seq > ?2 ORDER BY seq",
        )?;
        let key = writer::key_of(&self.db, device)?;
        let mut rows = query.query(params![device.to_string(), seq])?;
        let mut lines = Vec::new();
        let mut together = 0;
        while let Some(row) = rows.next()? {
            let mut line = sealed(&row.get::<_, String>(0)?, &row.get::<_, String>(1)?)?;
            line.signature = key
                .clone()
                .zip(row.get(2)?)
                .map(|(key, signature)| Signature { key, signature });
            together += line.bytes.len();
            if together > max_bytes && !lines.is_empty() {
                break;
            }
            lines.push(line);
        }
        Ok(lines)
    }

    /// Number and hash of a device's last line; 0 and zeros before the first.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn head(&self, device: DeviceId) -> Result<(u64, Sha256Hex), StoreError> {
        head(&self.db, device)
    }
}

/// A line as it was written: its bytes are those that its hash is over.
pub(crate) fn read(hash: &str, bytes: &str) -> Result<Entry, StoreError> {
    if Sha256Hex::of(bytes.as_bytes()).to_string() != hash {
        return Err(StoreError::Damaged("swarfbook.db".into()));
    }
    Ok(serde_json::from_str(bytes).map_err(swarfbook_job::entry::EntryError::from)?)
}

/// The same with its bytes and hash.
pub(crate) fn sealed(hash: &str, bytes: &str) -> Result<Sealed, StoreError> {
    match Sealed::read(bytes) {
        Ok(line) if line.hash.to_string() == hash => Ok(line),
        _ => Err(StoreError::Damaged("swarfbook.db".into())),
    }
}

/// The file that a line names: a photo, or a report that is kept as photos are.
fn file_named(fact: &Fact) -> Option<Sha256Hex> {
    match fact {
        Fact::PhotoTaken { photo, .. } => Some(*photo),
        Fact::ReportShared { share } => Some(share.report),
        _ => None,
    }
}

pub(crate) fn head(db: &Connection, device: DeviceId) -> Result<(u64, Sha256Hex), StoreError> {
    let last: Option<(u64, String)> = db
        .prepare_cached("SELECT seq, hash FROM entry WHERE device = ?1 ORDER BY seq DESC LIMIT 1")?
        .query_row(params![device.to_string()], |row| {
            Ok((row.get(0)?, row.get(1)?))
        })
        .optional()?;
    Ok(match last {
        Some((seq, hash)) => (
            seq,
            hash.parse()
                .map_err(|_| StoreError::Damaged("swarfbook.db".into()))?,
        ),
        None => (0, Sha256Hex::ZERO),
    })
}

pub(crate) fn insert(db: &Connection, line: &Sealed) -> Result<(), StoreError> {
    let entry = &line.entry;
    db.prepare_cached(
        "INSERT INTO entry (id, job, device, seq, hash, bytes, signature)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
    )?
    .execute(params![
        entry.id.to_string(),
        entry.job.to_string(),
        entry.device.to_string(),
        entry.seq,
        line.hash.to_string(),
        line.bytes,
        line.signature.as_ref().map(|by| &by.signature),
    ])?;
    if let Some(file) = entry.body.known().and_then(file_named) {
        db.prepare_cached("INSERT OR IGNORE INTO photo_named (photo) VALUES (?1)")?
            .execute(params![file.to_string()])?;
    }
    match entry.body.known() {
        Some(Fact::ReportShared { share }) => {
            db.prepare_cached("INSERT OR IGNORE INTO link_named (link, job) VALUES (?1, ?2)")?
                .execute(params![share.link.to_string(), entry.job.to_string()])?;
        }
        Some(Fact::CustomerLinked { customer }) => {
            db.prepare_cached(
                "INSERT OR IGNORE INTO customer_named (customer, job) VALUES (?1, ?2)",
            )?
            .execute(params![customer.to_string(), entry.job.to_string()])?;
        }
        Some(Fact::CarNoted { car }) => list::name_car(db, car, entry.job)?,
        _ => {}
    }
    Ok(())
}

/// The job has a line more.
pub(crate) fn touch(db: &Connection, entry: &Entry) -> Result<(), StoreError> {
    db.prepare_cached(
        "INSERT INTO job_row (job, touched) VALUES (?1, ?2)
         ON CONFLICT (job) DO UPDATE SET stale = 1, touched = MAX(touched, excluded.touched)",
    )?
    .execute(params![
        entry.job.to_string(),
        entry
            .wall
            .to_utc()
            .to_rfc3339_opts(chrono::SecondsFormat::Millis, true),
    ])?;
    Ok(())
}

/// Seals lines behind this device's last and inserts them.
fn write(db: &Connection, device: DeviceId, lines: &[NewEntry]) -> Result<Vec<Sealed>, StoreError> {
    let mut hlc = clock(db)?;
    let key = key::own(db)?;
    if writer::key_of(db, device)?.is_none() {
        writer::name(db, device, &key.public_hex())?;
    }
    let mut sealed = Vec::with_capacity(lines.len());
    for line in lines {
        let (seq, prev) = head(db, device)?;
        let now_millis = u64::try_from(line.now.timestamp_millis()).unwrap_or(0);
        hlc = hlc.tick(now_millis);
        let entry = Entry {
            id: EntryId(Uuid::new_v7(Timestamp::from_unix(
                NoContext,
                now_millis / 1000,
                u32::try_from(now_millis % 1000).unwrap_or(0) * 1_000_000,
            ))),
            job: line.job,
            device,
            seq: seq + 1,
            wall: line.now,
            hlc,
            prev,
            body: Body::from(line.fact.clone()),
        }
        .seal()?;
        let entry = key.signed(entry);
        insert(db, &entry)?;
        touch(db, &entry.entry)?;
        waiting::release(db, now_millis)?;
        sealed.push(entry);
    }
    keep_clock(db, hlc)?;
    Ok(sealed)
}

pub(crate) fn clock(db: &Connection) -> Result<Hlc, StoreError> {
    let kept: Option<String> = db
        .prepare_cached("SELECT value FROM setting WHERE name = 'clock'")?
        .query_row([], |row| row.get(0))
        .optional()?;
    Ok(match kept {
        Some(text) => serde_json::from_str(&text)?,
        None => Hlc::default(),
    })
}

pub(crate) fn keep_clock(db: &Connection, hlc: Hlc) -> Result<(), StoreError> {
    db.prepare_cached(
        "INSERT INTO setting (name, value) VALUES ('clock', ?1)
         ON CONFLICT (name) DO UPDATE SET value = excluded.value",
    )?
    .execute(params![serde_json::to_string(&hlc)?])?;
    Ok(())
}

#[cfg(test)]
mod tests {
    #![allow(clippy::expect_used)]

    use super::*;

    fn noted(words: String) -> NewEntry {
        NewEntry {
            job: JobId(Uuid::from_u128(7)),
            fact: Fact::Noted {
                step: "look".into(),
                topic: None,
                text: words,
                private: false,
            },
            now: DateTime::parse_from_rfc3339("2026-03-02T08:00:00+01:00").expect("a time"),
        }
    }

    fn most_pages(store: &Store, pages: u32) {
        store
            .db
            .pragma_update_and_check(None, "max_page_count", pages, |_| Ok(()))
            .expect("set");
    }

    /// SQLite's own limit stands in for a full disk: it answers the same.
    #[test]
    fn a_full_disk_refuses_the_line_loses_none_and_goes_on_when_there_is_room() {
        let dir = tempfile::tempdir().expect("folder");
        let mut store = Store::open(dir.path()).expect("opens");
        let pages: u32 = store
            .db
            .pragma_query_value(None, "page_count", |row| row.get(0))
            .expect("counted");
        most_pages(&store, pages + 20);
        let mut written = Vec::new();
        let refused = loop {
            match store.append(&[noted("long ".repeat(200))]) {
                Ok(lines) => written.extend(lines),
                Err(why) => break why,
            }
            assert!(written.len() < 1_000, "the limit does not hold");
        };
        assert!(matches!(refused, StoreError::Full), "{refused:?}");
        assert!(written.len() > 3);
        drop(store);

        let mut store = Store::open(dir.path()).expect("opens again");
        let kept = |store: &Store| {
            store
                .entries_after(store.device(), 0, usize::MAX)
                .expect("reads")
        };
        assert_eq!(kept(&store), written);
        written.extend(store.append(&[noted("on".into())]).expect("there is room"));
        assert_eq!(kept(&store), written);
    }
}
