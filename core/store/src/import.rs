//! Taking in lines of other devices, each in its place in that device's chain.

use std::collections::BTreeMap;

use swarfbook_job::entry::Sealed;
use swarfbook_job::id::DeviceId;

use crate::gap::{LostLines, fills, is_followed, is_lost};
use crate::log::{clock, head, insert, keep_clock, touch};
use crate::rows::Rows;
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
    pub fn import(&self, lines: &[Sealed], now_millis: u64) -> Result<Vec<Imported>, StoreError> {
        self.import_from(Source::Hand, lines, now_millis)
    }

    /// The same from another device: what is not signed by its writer comes on the word of
    /// who brings it, as far as [`Source`] reaches.
    ///
    /// # Errors
    /// As [`Store::import`].
    pub fn import_from(
        &self,
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
        &self,
        from: Source,
        now_millis: u64,
        lost: &[LostLines],
        feed: impl FnOnce(
            &mut dyn FnMut(&Sealed) -> Result<Imported, StoreError>,
        ) -> Result<(), StoreError>,
    ) -> Result<(), StoreError> {
        let own = self.device();
        self.at_once(|rows| {
            let mut hlc = clock(rows)?;
            let mut unvouched = Unvouched::default();
            waiting::release(rows, now_millis)?;
            feed(&mut |line| {
                hlc = hlc.seen(line.entry.hlc, now_millis);
                if !has_place(rows, line, lost)? {
                    return Ok(Imported::Known);
                }
                // What a line behind it names as the one before needs no word of its own.
                if line.signature.is_some() || !is_followed(rows, line)? {
                    let checked = writer::check(rows, own, from, line);
                    unvouched.see(from, line, checked)?;
                }
                insert(rows, line)?;
                match waiting::until(&line.entry, now_millis) {
                    Some(until) => rows.hold(line.entry.id, line.entry.job, until)?,
                    None => touch(rows, &line.entry)?,
                }
                Ok(Imported::New)
            })?;
            unvouched.none_is_left()?;
            keep_clock(rows, hlc)
        })
    }
}

/// Lines of an export that a disk left without their signatures, behind signed ones: a signed
/// line that follows without a gap stands for them, since each names the one before.
#[derive(Default)]
struct Unvouched(BTreeMap<DeviceId, (u64, u64)>);

impl Unvouched {
    fn see(
        &mut self,
        from: Source,
        line: &Sealed,
        checked: Result<(), StoreError>,
    ) -> Result<(), StoreError> {
        let (device, seq) = (line.entry.device, line.entry.seq);
        if let Some((first, last)) = self.0.get_mut(&device) {
            if seq != *last + 1 {
                let seq = *first;
                return Err(StoreError::NotItsWriters { device, seq });
            }
            *last = seq;
        }
        match checked {
            Ok(()) if line.signature.is_some() => drop(self.0.remove(&device)),
            Err(StoreError::NotItsWriters { .. })
                if from == Source::Hand && line.signature.is_none() =>
            {
                self.0.entry(device).or_insert((seq, seq));
            }
            checked => return checked,
        }
        Ok(())
    }

    fn none_is_left(mut self) -> Result<(), StoreError> {
        match self.0.pop_first() {
            Some((device, (seq, _))) => Err(StoreError::NotItsWriters { device, seq }),
            None => Ok(()),
        }
    }
}

/// Whether a line is the next of its device, fills a gap, or stands behind one that is known;
/// `false` where it is here already.
fn has_place(rows: &dyn Rows, line: &Sealed, lost: &[LostLines]) -> Result<bool, StoreError> {
    let entry = &line.entry;
    let fork = || StoreError::Fork {
        device: entry.device,
        seq: entry.seq,
        named: entry.prev,
    };
    if let Some(hash) = rows.hash(entry.device, entry.seq)? {
        return if hash == line.hash.to_string() {
            Ok(false)
        } else {
            Err(fork())
        };
    }
    let (seq, hash) = head(rows, entry.device)?;
    if entry.seq == seq + 1 {
        return if entry.prev == hash {
            Ok(true)
        } else {
            Err(fork())
        };
    }
    let fits = if entry.seq <= seq {
        fills(rows, line)?
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

#[cfg(test)]
mod tests {
    #![allow(clippy::expect_used)]

    use chrono::DateTime;
    use swarfbook_job::entry::Entry;
    use swarfbook_job::fact::Fact;
    use swarfbook_job::id::{EntryId, JobId, Sha256Hex};
    use uuid::Uuid;

    use super::*;
    use crate::DeviceKey;

    fn chain(lines: u64) -> Vec<Sealed> {
        let mut prev = Sha256Hex::ZERO;
        let mut chain = Vec::new();
        for seq in 1..=lines {
            let wall = DateTime::parse_from_rfc3339("2026-03-02T08:00:00+01:00");
            let entry = Entry {
                id: EntryId(Uuid::from_u128(seq.into())),
                job: JobId(Uuid::from_u128(7)),
                device: DeviceId(Uuid::from_u128(3)),
                seq,
                wall: wall.expect("a time"),
                hlc: Default::default(),
                prev,
                body: Fact::StepTicked { step: "a".into() }.into(),
            };
            chain.push(entry.seal().expect("sealed"));
            prev = chain.last().expect("one").hash;
        }
        chain
    }

    /// What came to be of lines of which some are signed, with a gap that is said to be known.
    fn taken(signed: &[u64], come: &[u64]) -> Result<u64, StoreError> {
        let dir = tempfile::tempdir().expect("folder");
        let store = Store::open(dir.path()).expect("opens");
        let key = DeviceKey::make().expect("random");
        let lost = [LostLines {
            device: DeviceId(Uuid::from_u128(3)),
            first: 1,
            last: 9,
        }];
        store.import_fed(Source::Hand, 0, &lost, |take| {
            for line in chain(6) {
                let seq = line.entry.seq;
                let line = match signed.contains(&seq) {
                    true => key.signed(line),
                    false => line,
                };
                if come.contains(&seq) {
                    take(&line)?;
                }
            }
            Ok(())
        })?;
        Ok(store.head(DeviceId(Uuid::from_u128(3)))?.0)
    }

    #[test]
    fn a_line_that_lost_its_signature_comes_in_only_where_a_signed_one_names_it() {
        let all = [1, 2, 3, 4, 5, 6];
        assert_eq!(taken(&[1, 2, 5, 6], &all).expect("vouched for"), 6);
        assert_eq!(taken(&[], &all).expect("of before"), 6);
        assert_eq!(taken(&[4, 5, 6], &all).expect("of before"), 6);
        let refused = |signed: &[u64], come: &[u64]| {
            let why = taken(signed, come);
            assert!(
                matches!(why, Err(StoreError::NotItsWriters { seq: 3, .. })),
                "{why:?}"
            );
        };
        refused(&[1, 2], &all);
        // The signed line behind a gap names another one.
        refused(&[1, 2, 5], &[1, 2, 3, 5]);
        refused(&[1, 2, 6], &[1, 2, 3, 4, 6]);
    }
}
