//! Which entries count.

use std::collections::BTreeMap;

use crate::entry::Entry;
use crate::fact::Fact;
use crate::id::EntryId;

/// Entries that do not count, each with the retraction that says so.
/// `ordered` is by the order of the fold. A retraction counts unless a later
/// one that counts retracts it; it can only name what stands before it, so
/// going backwards settles each before it is needed.
pub fn retractions(ordered: &[&Entry]) -> BTreeMap<EntryId, EntryId> {
    let place: BTreeMap<EntryId, usize> = ordered
        .iter()
        .enumerate()
        .map(|(index, entry)| (entry.id, index))
        .collect();
    let mut retracted = BTreeMap::new();
    for (index, entry) in ordered.iter().enumerate().rev() {
        if let Some(Fact::Retracted { entry: target, .. }) = entry.body.known()
            && !retracted.contains_key(&entry.id)
            && place.get(target).is_some_and(|at| *at < index)
        {
            retracted.insert(*target, entry.id);
        }
    }
    retracted
}
