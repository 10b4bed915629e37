//! The device's side of an exchange.

mod beside;
mod calls;
mod lines;
mod photos;

use std::collections::BTreeMap;
use std::ops::Deref;

use swarfbook_job::id::DeviceId;
use swarfbook_store::{Store, StoreError};

use crate::message::{Head, Refused};
use crate::peer::{Peer, PeerError};

/// What an exchange did. What was refused was left as it is on both sides.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Outcome {
    /// Lines that the hub did not have.
    pub lines_sent: u32,
    /// Lines that were not here.
    pub lines_taken: u32,
    /// Photos that the hub did not have.
    pub photos_sent: u32,
    /// Photos that were not here.
    pub photos_taken: u32,
    /// Customers and procedures that one side did not have as the other had them.
    pub beside: u32,
    /// Photos that lines here name and that neither side has.
    pub photos_nowhere: u32,
    /// What was not taken in, and why.
    pub refused: Vec<Refused>,
    /// The last line of each device on the hub, as far as this device knows.
    pub hub_heads: BTreeMap<DeviceId, u64>,
}

impl Outcome {
    /// Nothing had to be sent, taken or refused.
    pub fn was_level(&self) -> bool {
        let moved = self.lines_sent + self.lines_taken + self.photos_sent + self.photos_taken;
        moved + self.beside == 0 && self.refused.is_empty()
    }
}

/// Why an exchange ended early. What was done until then stays done.
#[derive(Debug, thiserror::Error)]
pub enum SyncError {
    /// The hub could not be reached, is another one, or its answer can't be used.
    #[error(transparent)]
    Peer(#[from] PeerError),
    /// This device's store.
    #[error(transparent)]
    Store(#[from] StoreError),
}

/// Exchanges with the hub what either lacks. `store` is taken for each step
/// and never held while the hub is asked. May be cut anywhere and run again.
///
/// # Errors
/// [`SyncError`].
pub fn sync<S: Deref<Target = Store>>(
    store: impl Fn() -> S,
    hub: &dyn Peer,
    now_millis: u64,
) -> Result<Outcome, SyncError> {
    let mut outcome = Outcome::default();
    let theirs = calls::standing(hub)?;
    outcome.hub_heads = seqs(&theirs.heads);
    // What is only here is the most precious, and lines before photos: they
    // are small and say which photos are wanted.
    lines::push(&store, hub, &theirs, &mut outcome)?;
    lines::pull(&store, hub, &theirs, now_millis, &mut outcome)?;
    beside::customers(&store, hub, &theirs, now_millis, &mut outcome)?;
    beside::procedures(&store, hub, &theirs, &mut outcome)?;
    photos::push(&store, hub, &mut outcome)?;
    photos::pull(&store, hub, theirs.store, &mut outcome)?;
    Ok(outcome)
}

fn seqs(heads: &BTreeMap<DeviceId, Head>) -> BTreeMap<DeviceId, u64> {
    heads
        .iter()
        .map(|(device, head)| (*device, head.seq))
        .collect()
}
