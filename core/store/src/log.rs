//! The log: appending one's own lines, taking in those of others.

use chrono::{DateTime, FixedOffset};
use swarfbook_job::clock::Hlc;
use swarfbook_job::entry::{Body, Entry, Sealed, Signature};
use swarfbook_job::fact::Fact;
use swarfbook_job::id::{DeviceId, EntryId, JobId, Sha256Hex};
use swarfbook_job::shown;
use swarfbook_words::say;
use uuid::{NoContext, Timestamp, Uuid};

use crate::rows::Rows;
use crate::{Store, StoreError, key, list, waiting};

/// The setting with this device's name.
pub(crate) const DEVICE: &str = "device";
/// The setting with this device's clock.
const CLOCK: &str = "clock";

/// A line to append: what, where, when.
#[derive(Debug, Clone)]
pub struct NewEntry {
    /// The one it belongs to.
    pub job: JobId,
    /// What it says.
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
    pub fn append(&self, lines: &[NewEntry]) -> Result<Vec<Sealed>, StoreError> {
        for line in lines {
            if let Some(file) = file_named(&line.fact)
                && !self.has_photo(file)
            {
                return Err(StoreError::Photo(say!(
                    "the-photo-file-is-not-in-the-store",
                    file = file
                )));
            }
        }
        let device = self.device();
        self.at_once(|rows| write(rows, device, lines))
    }

    /// All lines of a job that count, in the order in which they came in: those that
    /// another device dated far ahead wait.
    ///
    /// # Errors
    /// [`StoreError::Damaged`] and the like; a line that can't be read is an error, not left out.
    pub fn entries(&self, job: JobId) -> Result<Vec<Entry>, StoreError> {
        self.rows(|rows| {
            let mut entries = Vec::new();
            rows.of_job(job, 0, &mut |line| {
                entries.push(read(&line.hash, &line.bytes)?);
                Ok(true)
            })?;
            Ok(entries)
        })
    }

    /// The job whose report a link opens, or once opened.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn job_of_link(&self, link: Sha256Hex) -> Result<Option<JobId>, StoreError> {
        self.rows(|rows| rows.job_of_link(link))
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
        self.rows(|rows| {
            let key = rows.writer(device)?;
            let mut lines = Vec::new();
            let mut together = 0;
            rows.after(device, seq, &mut |kept| {
                let mut line = sealed(&kept.hash, &kept.bytes)?;
                line.signature = key
                    .clone()
                    .zip(kept.signature.clone())
                    .map(|(key, signature)| Signature { key, signature });
                together += line.bytes.len();
                let fits = together <= max_bytes || lines.is_empty();
                if fits {
                    lines.push(line);
                }
                Ok(fits)
            })?;
            Ok(lines)
        })
    }

    /// Number and hash of a device's last line; 0 and zeros before the first.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn head(&self, device: DeviceId) -> Result<(u64, Sha256Hex), StoreError> {
        self.rows(|rows| head(rows, device))
    }
}

/// A line as it is folded, its longest texts cut: its bytes are those that its hash is over.
pub(crate) fn read(hash: &str, bytes: &str) -> Result<Entry, StoreError> {
    if Sha256Hex::of(bytes.as_bytes()).to_string() != hash {
        return Err(StoreError::Damaged("swarfbook.db".into()));
    }
    Ok(shown::read(bytes)?)
}

/// The same with its bytes and hash.
pub(crate) fn sealed(hash: &str, bytes: &str) -> Result<Sealed, StoreError> {
    match Sealed::read(bytes) {
        Ok(line) if line.hash.to_string() == hash => Ok(line),
        _ => Err(StoreError::Damaged("swarfbook.db".into())),
    }
}

/// The file that a line names: a photo, or a report that is kept as photos are.
pub(crate) fn file_named(fact: &Fact) -> Option<Sha256Hex> {
    match fact {
        Fact::PhotoTaken { photo, .. } => Some(*photo),
        Fact::ReportShared { share } => Some(share.report),
        _ => None,
    }
}

pub(crate) fn head(rows: &dyn Rows, device: DeviceId) -> Result<(u64, Sha256Hex), StoreError> {
    Ok(match rows.last(device)? {
        Some(last) => (
            last.seq,
            last.hash
                .parse()
                .map_err(|_| StoreError::Damaged("swarfbook.db".into()))?,
        ),
        None => (0, Sha256Hex::ZERO),
    })
}

/// Adds a line, and notes what is found by what it names.
pub(crate) fn insert(rows: &dyn Rows, line: &Sealed) -> Result<(), StoreError> {
    rows.insert(line)?;
    let job = line.entry.job;
    let Some(fact) = line.entry.body.known() else {
        return Ok(());
    };
    if let Some(file) = file_named(fact) {
        rows.name_photo(file)?;
    }
    match fact {
        Fact::ReportShared { share } => rows.name_link(share.link, job),
        Fact::CustomerLinked { customer } => rows.name_customer(*customer, job),
        Fact::CarNoted { car } => list::name_car(rows, car, job),
        _ => Ok(()),
    }
}

/// The job has a line more.
pub(crate) fn touch(rows: &dyn Rows, entry: &Entry) -> Result<(), StoreError> {
    rows.touch(entry.job, entry.wall)
}

/// The first to write names the device; whoever comes second finds that.
pub(crate) fn name_device(rows: &dyn Rows) -> Result<(), StoreError> {
    rows.set_first(DEVICE, &Uuid::new_v4().to_string())?;
    Ok(())
}

/// This device's name in the log.
pub(crate) fn device(rows: &dyn Rows) -> Result<DeviceId, StoreError> {
    let kept = rows.setting(DEVICE)?.and_then(|name| name.parse().ok());
    kept.ok_or_else(|| StoreError::Damaged("swarfbook.db".into()))
}

/// Seals lines behind this device's last and inserts them.
fn write(rows: &dyn Rows, device: DeviceId, lines: &[NewEntry]) -> Result<Vec<Sealed>, StoreError> {
    let mut hlc = clock(rows)?;
    let key = key::own(rows)?;
    if rows.writer(device)?.is_none() {
        rows.set_writer(device, &key.public_hex())?;
    }
    let mut sealed = Vec::with_capacity(lines.len());
    for line in lines {
        let (seq, prev) = head(rows, device)?;
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
        insert(rows, &entry)?;
        touch(rows, &entry.entry)?;
        waiting::release(rows, now_millis)?;
        sealed.push(entry);
    }
    keep_clock(rows, hlc)?;
    Ok(sealed)
}

pub(crate) fn clock(rows: &dyn Rows) -> Result<Hlc, StoreError> {
    Ok(match rows.setting(CLOCK)? {
        Some(text) => serde_json::from_str(&text)?,
        None => Hlc::default(),
    })
}

pub(crate) fn keep_clock(rows: &dyn Rows, hlc: Hlc) -> Result<(), StoreError> {
    rows.set(CLOCK, &serde_json::to_string(&hlc)?)
}
