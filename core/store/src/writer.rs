//! Who may write as whom: each device's lines are taken in under its own key.

use std::collections::BTreeSet;

use rusqlite::{Connection, OptionalExtension, params};
use swarfbook_job::entry::Sealed;
use swarfbook_job::id::{DeviceId, EntryId, JobId};

use crate::key::{self, verify};
use crate::{Store, StoreError};

/// Whose word a line comes on that nobody signed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// Of whoever holds this store, by hand: an export that is taken in.
    Hand,
    /// Of a device that is paired with this one and signed the request.
    Device(DeviceId),
    /// Of the hub that this device is paired with.
    Hub,
}

impl Store {
    /// The lines of a job that nobody signed: those of before lines were signed, and those
    /// of devices that do not sign yet.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn unsigned(&self, job: JobId) -> Result<BTreeSet<EntryId>, StoreError> {
        let mut query = self
            .db
            .prepare_cached("SELECT id FROM entry WHERE job = ?1 AND signature IS NULL")?;
        let rows = query.query_map([job.to_string()], |row| row.get::<_, String>(0))?;
        let mut unsigned = BTreeSet::new();
        for row in rows {
            unsigned.extend(row?.parse::<EntryId>().ok());
        }
        Ok(unsigned)
    }

    /// The device whose lines are taken in under this key, paired or not.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn writer_with(&self, public_key: &str) -> Result<Option<DeviceId>, StoreError> {
        let device: Option<String> = self
            .db
            .prepare_cached("SELECT device FROM writer WHERE public_key = ?1 ORDER BY device")?
            .query_row([public_key], |row| row.get(0))
            .optional()?;
        Ok(device.and_then(|device| device.parse().ok()))
    }
}

/// The key under which a device's lines are taken in, once there is one.
pub(crate) fn key_of(db: &Connection, device: DeviceId) -> Result<Option<String>, StoreError> {
    Ok(db
        .prepare_cached("SELECT public_key FROM writer WHERE device = ?1")?
        .query_row([device.to_string()], |row| row.get(0))
        .optional()?)
}

/// From now on a device's lines are taken in under this key.
pub(crate) fn name(db: &Connection, device: DeviceId, key: &str) -> Result<(), StoreError> {
    db.prepare_cached(
        "INSERT INTO writer (device, public_key) VALUES (?1, ?2)
         ON CONFLICT (device) DO UPDATE SET public_key = excluded.public_key",
    )?
    .execute(params![device.to_string(), key])?;
    Ok(())
}

/// Whether a device's last line here is signed: then each that follows must be.
pub(crate) fn signs(db: &Connection, device: DeviceId) -> Result<bool, StoreError> {
    Ok(db
        .prepare_cached(
            "SELECT signature IS NOT NULL FROM entry WHERE device = ?1 ORDER BY seq DESC LIMIT 1",
        )?
        .query_row([device.to_string()], |row| row.get(0))
        .optional()?
        .unwrap_or(false))
}

/// Whether a line that fits its device's chain was written by that device. A first signed
/// line of a device that is not paired here brings the key that it is known by from then on.
/// Since each line names the one before, it stands for all of its device's lines up to it.
pub(crate) fn check(
    db: &Connection,
    own: DeviceId,
    from: Source,
    line: &Sealed,
) -> Result<(), StoreError> {
    let device = line.entry.device;
    let known = if device == own {
        Some(key::own(db)?.public_hex())
    } else {
        key_of(db, device)?
    };
    let its_own = match &line.signature {
        Some(by) => {
            known.as_ref().is_none_or(|known| *known == by.key)
                && verify(&by.key, &line.to_sign(), &by.signature)
        }
        None => !signs(db, device)? && on_the_word_of(from, device, own, known.is_some()),
    };
    if !its_own {
        return Err(StoreError::NotItsWriters {
            device,
            seq: line.entry.seq,
        });
    }
    match &line.signature {
        Some(by) if key_of(db, device)?.is_none() => name(db, device, &by.key),
        _ => Ok(()),
    }
}

/// Lines of before are taken in on the word of who brings them: from a device its own, and
/// those of devices that are not known here; from the hub all but this device's own.
fn on_the_word_of(from: Source, device: DeviceId, own: DeviceId, known: bool) -> bool {
    match from {
        Source::Hand => true,
        Source::Device(from) => device != own && (from == device || !known),
        Source::Hub => device != own,
    }
}
