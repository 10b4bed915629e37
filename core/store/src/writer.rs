//! Who may write as whom: each device's lines are taken in under its own key.

use std::collections::BTreeSet;

use swarfbook_job::entry::Sealed;
use swarfbook_job::id::{DeviceId, EntryId, JobId};

use crate::key::{self, verify};
use crate::rows::Rows;
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
        let unsigned = self.rows(|rows| rows.unsigned(job))?;
        Ok(unsigned.into_iter().collect())
    }

    /// The device whose lines are taken in under this key, paired or not.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn writer_with(&self, public_key: &str) -> Result<Option<DeviceId>, StoreError> {
        self.rows(|rows| rows.writer_with(public_key))
    }
}

/// Whether a device's last line here is signed: then each that follows must be.
pub(crate) fn signs(rows: &dyn Rows, device: DeviceId) -> Result<bool, StoreError> {
    Ok(rows.last(device)?.is_some_and(|last| last.is_signed))
}

/// Whether a line that fits its device's chain was written by that device. A first signed
/// line of a device that is not paired here brings the key that it is known by from then on.
/// Since each line names the one before, it stands for all of its device's lines up to it.
pub(crate) fn check(
    rows: &dyn Rows,
    own: DeviceId,
    from: Source,
    line: &Sealed,
) -> Result<(), StoreError> {
    let device = line.entry.device;
    let known = if device == own {
        Some(key::own(rows)?.public_hex())
    } else {
        rows.writer(device)?
    };
    let its_own = match &line.signature {
        Some(by) => {
            known.as_ref().is_none_or(|known| *known == by.key)
                && verify(&by.key, &line.to_sign(), &by.signature)
        }
        None => !signs(rows, device)? && on_the_word_of(from, device, own, known.is_some()),
    };
    if !its_own {
        return Err(StoreError::NotItsWriters {
            device,
            seq: line.entry.seq,
        });
    }
    match &line.signature {
        Some(by) if rows.writer(device)?.is_none() => rows.set_writer(device, &by.key),
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
