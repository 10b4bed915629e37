//! Devices that this store was paired with (on the hub).

use chrono::{DateTime, FixedOffset};
use rusqlite::{OptionalExtension, params};
use swarfbook_job::id::DeviceId;

use crate::{Store, StoreError, writer};

/// A paired device.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PairedDevice {
    /// Its name in the log.
    pub device: DeviceId,
    /// Its name for people.
    pub name: String,
    /// Its Ed25519 key, in hexadecimal.
    pub public_key: String,
    /// When it was paired.
    pub paired: DateTime<FixedOffset>,
}

impl Store {
    /// Keeps a paired device. One that is there already keeps its key: the
    /// answer is then `false` and nothing was changed, unless the key is the same. The same
    /// holds for a device that signed lines here under another key. From now on its lines
    /// are taken in under this key alone.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn add_peer(&mut self, peer: &PairedDevice) -> Result<bool, StoreError> {
        let own = self.device();
        self.at_once(|db| {
            let known = writer::key_of(db, peer.device)?;
            let other = known.is_some_and(|known| known != peer.public_key);
            if peer.device == own || other && writer::signs(db, peer.device)? {
                return Ok(false);
            }
            let changed = db
                .prepare_cached(
                    "INSERT INTO peer (device, name, public_key, paired) VALUES (?1, ?2, ?3, ?4)
                     ON CONFLICT (device) DO UPDATE
                     SET name = excluded.name, paired = excluded.paired
                     WHERE public_key = excluded.public_key",
                )?
                .execute(params![
                    peer.device.to_string(),
                    peer.name,
                    peer.public_key,
                    peer.paired,
                ])?;
            if changed > 0 {
                writer::name(db, peer.device, &peer.public_key)?;
            }
            Ok(changed > 0)
        })
    }

    /// One paired device.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn peer(&self, device: DeviceId) -> Result<Option<PairedDevice>, StoreError> {
        Ok(self
            .db
            .prepare_cached("SELECT device, name, public_key, paired FROM peer WHERE device = ?1")?
            .query_row(params![device.to_string()], read)
            .optional()?
            .flatten())
    }

    /// All paired devices, the oldest pairing first.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn peers(&self) -> Result<Vec<PairedDevice>, StoreError> {
        let mut query = self
            .db
            .prepare_cached("SELECT device, name, public_key, paired FROM peer ORDER BY paired")?;
        let rows = query.query_map([], read)?;
        let mut peers = Vec::new();
        for row in rows {
            peers.extend(row?);
        }
        Ok(peers)
    }

    /// Ends a pairing: a device that was lost or sold. Its lines stay.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn remove_peer(&mut self, device: DeviceId) -> Result<bool, StoreError> {
        self.writable()?;
        let removed = self
            .db
            .execute("DELETE FROM peer WHERE device = ?1", [device.to_string()])?;
        Ok(removed > 0)
    }
}

fn read(row: &rusqlite::Row<'_>) -> rusqlite::Result<Option<PairedDevice>> {
    let Ok(device) = row.get::<_, String>(0)?.parse() else {
        return Ok(None);
    };
    Ok(Some(PairedDevice {
        device,
        name: row.get(1)?,
        public_key: row.get(2)?,
        paired: row.get(3)?,
    }))
}
