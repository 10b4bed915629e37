//! Whether a report is whole and genuine, and whether it is of this shop.

use swarfbook_job::id::DeviceId;
pub use swarfbook_report::seal::{Fault, Statement, fingerprint};

use crate::app::App;
use crate::problem::Problem;

/// Checks a report's file, HTML or PDF. Needs no store.
///
/// # Errors
/// All that is wrong with it.
pub fn check(file: &[u8]) -> Result<Statement, Vec<Fault>> {
    swarfbook_report::seal::verify(file)
}

/// What this store knows of a report that is whole.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Known {
    /// Whose key it is: this device's, or a paired one's by its name.
    pub signer: Option<String>,
    /// Lines that the report was made from and this store does not have.
    pub absent: Vec<(DeviceId, u64)>,
    /// Lines that this store has otherwise than the report states.
    pub other: Vec<(DeviceId, u64)>,
}

impl App {
    /// Holds a report against the log and the keys of this store.
    ///
    /// # Errors
    /// A [`Problem`] when the store can't be read.
    pub fn knows(&self, statement: &Statement) -> Result<Known, Problem> {
        let mut store = self.store();
        let own = crate::serve::sync::own_key(&mut store)?.public_hex();
        let signer = if own == statement.key {
            Some("this device".to_owned())
        } else {
            let mut peers = store.peers()?.into_iter();
            peers
                .find(|peer| peer.public_key == statement.key)
                .map(|peer| peer.name)
        };
        let mut known = Known {
            signer,
            absent: Vec::new(),
            other: Vec::new(),
        };
        for (device, head) in &statement.made.heads {
            let before = head.seq.saturating_sub(1);
            match store.entries_after(*device, before, 1)?.first() {
                Some(line) if line.entry.seq == head.seq && line.hash == head.hash => {}
                Some(line) if line.entry.seq == head.seq => known.other.push((*device, head.seq)),
                _ => known.absent.push((*device, head.seq)),
            }
        }
        Ok(known)
    }
}
