//! Devices that this store was paired with (on the hub).

use chrono::{DateTime, FixedOffset};
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
    pub fn add_peer(&self, peer: &PairedDevice) -> Result<bool, StoreError> {
        let own = self.device();
        self.at_once(|rows| {
            let other = |known: &str| known != peer.public_key;
            let known = rows.writer(peer.device)?;
            let signs_as_another =
                known.as_deref().is_some_and(other) && writer::signs(rows, peer.device)?;
            let before = rows.peer(peer.device)?;
            let is_another = before.is_some_and(|before| other(&before.public_key));
            if peer.device == own || signs_as_another || is_another {
                return Ok(false);
            }
            rows.put_peer(peer)?;
            rows.set_writer(peer.device, &peer.public_key)?;
            Ok(true)
        })
    }

    /// One paired device.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn peer(&self, device: DeviceId) -> Result<Option<PairedDevice>, StoreError> {
        self.rows(|rows| rows.peer(device))
    }

    /// All paired devices, the oldest pairing first.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn peers(&self) -> Result<Vec<PairedDevice>, StoreError> {
        self.rows(|rows| rows.peers())
    }

    /// Ends a pairing: a device that was lost or sold. Its lines stay.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn remove_peer(&self, device: DeviceId) -> Result<bool, StoreError> {
        self.at_once(|rows| rows.remove_peer(device))
    }
}
