//! Taking in lines of other devices, each in its place in that device's chain.

use rusqlite::{Connection, OptionalExtension, params};
use swarfbook_job::entry::Sealed;
use swarfbook_job::id::DeviceId;

use crate::gap::{LostLines, fills, is_followed, is_lost};
use crate::log::{clock, head, insert, keep_clock, touch};
use crate::{Source, Store, StoreError, waiting, writer};

/// What became of a line from another store.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Imported {
    /// It is new here.
    New,
    /// It was here already.
    Known,
}

impl Store {
    /// Takes in lines of other devices, all or none. Each device's lines must
    /// come in their order; those already here are passed over.
    ///
    /// # Errors
    /// [`StoreError::Gap`], [`StoreError::Fork`], [`StoreError::NotItsWriters`],
    /// [`StoreError::Full`].
    pub fn import(
        &mut self,
        lines: &[Sealed],
        now_millis: u64,
    ) -> Result<Vec<Imported>, StoreError> {
        self.import_from(Source::Hand, lines, now_millis)
    }

    /// The same from another device: what is not signed by its writer comes on the word of
    /// who brings it, as far as [`Source`] reaches.
    ///
    /// # Errors
    /// As [`Store::import`].
    pub fn import_from(
        &mut self,
        from: Source,
        lines: &[Sealed],
        now_millis: u64,
    ) -> Result<Vec<Imported>, StoreError> {
        let mut outcome = Vec::with_capacity(lines.len());
        self.import_fed(from, now_millis, &[], |take| {
            for line in lines {
                outcome.push(take(line)?);
            }
            Ok(())
        })?;
        Ok(outcome)
    }

    /// The same for lines that come one by one, too many to hold at once:
    /// `feed` hands each to the function that it is given, all or none. Those in `lost` may
    /// be missing between two that come.
    pub(crate) fn import_fed(
        &mut self,
        from: Source,
        now_millis: u64,
        lost: &[LostLines],
        feed: impl FnOnce(
            &mut dyn FnMut(&Sealed) -> Result<Imported, StoreError>,
        ) -> Result<(), StoreError>,
    ) -> Result<(), StoreError> {
        let own = self.device();
        self.at_once(|db| {
            let mut hlc = clock(db)?;
            waiting::release(db, now_millis)?;
            feed(&mut |line| {
                hlc = hlc.seen(line.entry.hlc, now_millis);
                if !has_place(db, line, lost)? {
                    return Ok(Imported::Known);
                }
                // What a line behind it names as the one before needs no word of its own.
                if line.signature.is_some() || !is_followed(db, line)? {
                    writer::check(db, own, from, line)?;
                }
                insert(db, line)?;
                match waiting::until(&line.entry, now_millis) {
                    Some(until) => waiting::hold(db, &line.entry, until)?,
                    None => touch(db, &line.entry)?,
                }
                Ok(Imported::New)
            })?;
            keep_clock(db, hlc)
        })
    }
}

/// Whether a line is the next of its device, fills a gap, or stands behind one that is known;
/// `false` where it is here already.
fn has_place(tx: &Connection, line: &Sealed, lost: &[LostLines]) -> Result<bool, StoreError> {
    let entry = &line.entry;
    let fork = || StoreError::Fork {
        device: entry.device,
        seq: entry.seq,
        named: entry.prev,
    };
    if let Some(hash) = hash_of(tx, entry.device, entry.seq)? {
        return if hash == line.hash.to_string() {
            Ok(false)
        } else {
            Err(fork())
        };
    }
    let (seq, hash) = head(tx, entry.device)?;
    if entry.seq == seq + 1 {
        return if entry.prev == hash {
            Ok(true)
        } else {
            Err(fork())
        };
    }
    let fits = if entry.seq <= seq {
        fills(tx, line)?
    } else {
        is_lost(lost, entry.device, seq + 1, entry.seq - 1)
    };
    if fits {
        return Ok(true);
    }
    Err(StoreError::Gap {
        device: entry.device,
        seq: entry.seq,
        next: seq + 1,
    })
}

fn hash_of(tx: &Connection, device: DeviceId, seq: u64) -> Result<Option<String>, StoreError> {
    Ok(tx
        .prepare_cached("SELECT hash FROM entry WHERE device = ?1 AND seq = ?2")?
        .query_row(params![device.to_string(), seq], |row| row.get(0))
        .optional()?)
}
