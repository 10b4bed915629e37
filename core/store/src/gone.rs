//! Photos that were here and are gone. One that another device took, and that never came, is
//! only on its way.

use std::collections::BTreeSet;

use swarfbook_job::entry::Entry;
use swarfbook_job::fact::Fact;
use swarfbook_job::id::{DeviceId, EntryId, Sha256Hex};

use crate::backup::earlier_names;
use crate::log::{device, file_named, read};
use crate::rows::Rows;
use crate::{Store, StoreError};

impl Store {
    /// Photos that this device had, as the log shows, and that are not here any more. Those
    /// that are damaged are none of them.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn photos_lost(&self) -> Result<Vec<Sha256Hex>, StoreError> {
        let blobs = &self.photos.blobs;
        self.rows(|rows| {
            let named = rows.photos_named()?.into_iter();
            let absent = named.filter(|photo| !blobs.has(*photo) && !blobs.is_aside(*photo));
            once_here(rows, absent.collect())
        })
    }
}

/// Those photos that the device of these rows had: it wrote itself that they were taken, or
/// counted pieces in them. So had the device that it was restored from.
pub(crate) fn once_here(
    rows: &dyn Rows,
    mut photos: Vec<Sha256Hex>,
) -> Result<Vec<Sha256Hex>, StoreError> {
    if photos.is_empty() {
        return Ok(photos);
    }
    let mut own = earlier_names(rows)?;
    own.push(device(rows)?);
    let (mut had, mut counted) = (BTreeSet::new(), BTreeSet::<EntryId>::new());
    for writer in &own {
        each(rows, *writer, |_, fact| match fact {
            Fact::CensusMade { photo, .. } => {
                counted.insert(*photo);
            }
            fact => had.extend(file_named(fact)),
        })?;
    }
    if !counted.is_empty() {
        for (writer, _, _) in rows.devices()? {
            each(rows, writer, |entry, fact| {
                if counted.contains(&entry.id) {
                    had.extend(file_named(fact));
                }
            })?;
        }
    }
    photos.retain(|photo| had.contains(photo));
    Ok(photos)
}

/// Shows each line of a device that can be read.
fn each(
    rows: &dyn Rows,
    writer: DeviceId,
    mut show: impl FnMut(&Entry, &Fact),
) -> Result<(), StoreError> {
    rows.after(writer, 0, &mut |line| {
        if let Ok(entry) = read(&line.hash, &line.bytes)
            && let Some(fact) = entry.body.known()
        {
            show(&entry, fact);
        }
        Ok(true)
    })
}
