//! A second blob store, in memory, for tests only: what the rules of photos say must not
//! rest on files.

use std::collections::BTreeMap;
use std::sync::{Mutex, MutexGuard};

use swarfbook_job::id::{DeviceId, Sha256Hex};
use swarfbook_store::{Blobs, StoreError};

#[derive(Debug, Default)]
struct Kept {
    blobs: BTreeMap<Sha256Hex, Vec<u8>>,
    aside: BTreeMap<Sha256Hex, Vec<u8>>,
    staged: BTreeMap<(Sha256Hex, DeviceId), Vec<u8>>,
    copies: BTreeMap<(Sha256Hex, String), Vec<u8>>,
}

/// Blobs as long as the process.
#[derive(Debug, Default)]
pub struct Memory(Mutex<Kept>);

impl Memory {
    fn kept(&self) -> MutexGuard<'_, Kept> {
        self.0.lock().expect("not poisoned")
    }

    /// Flips a bit of what is kept, as a memory does.
    pub fn flip(&self, name: Sha256Hex, byte: usize) {
        self.kept().blobs.get_mut(&name).expect("kept")[byte] ^= 1;
    }

    /// The same of a copy.
    pub fn flip_copy(&self, name: Sha256Hex, form: &str, byte: usize) {
        let copy = (name, form.to_owned());
        self.kept().copies.get_mut(&copy).expect("kept")[byte] ^= 1;
    }

    /// How many blobs there are, those set aside too.
    pub fn count(&self) -> usize {
        let kept = self.kept();
        kept.blobs.len() + kept.aside.len()
    }
}

impl Blobs for Memory {
    fn put(&self, name: Sha256Hex, bytes: &[u8]) -> Result<(), StoreError> {
        self.kept().blobs.insert(name, bytes.to_vec());
        Ok(())
    }

    fn get(&self, name: Sha256Hex) -> Result<Option<Vec<u8>>, StoreError> {
        Ok(self.kept().blobs.get(&name).cloned())
    }

    fn has(&self, name: Sha256Hex) -> bool {
        self.kept().blobs.contains_key(&name)
    }

    fn range(
        &self,
        name: Sha256Hex,
        from: u64,
        most: usize,
    ) -> Result<Option<(u64, Vec<u8>)>, StoreError> {
        Ok(self.kept().blobs.get(&name).map(|bytes| {
            let from = usize::try_from(from).unwrap_or(usize::MAX);
            let rest = bytes.get(from..).unwrap_or_default();
            (bytes.len() as u64, rest[..rest.len().min(most)].to_vec())
        }))
    }

    fn forget(&self, name: Sha256Hex) {
        self.kept().blobs.remove(&name);
    }

    fn set_aside(&self, name: Sha256Hex) -> Option<Vec<u8>> {
        let mut kept = self.kept();
        let bytes = kept.blobs.remove(&name)?;
        kept.aside.insert(name, bytes.clone());
        Some(bytes)
    }

    fn is_aside(&self, name: Sha256Hex) -> bool {
        self.kept().aside.contains_key(&name)
    }

    fn forget_aside(&self, name: Sha256Hex) {
        self.kept().aside.remove(&name);
    }

    fn staged(&self, name: Sha256Hex, source: DeviceId) -> Result<Option<u64>, StoreError> {
        let kept = self.kept();
        Ok(kept
            .staged
            .get(&(name, source))
            .map(|bytes| bytes.len() as u64))
    }

    fn stage(
        &self,
        name: Sha256Hex,
        source: DeviceId,
        at: u64,
        piece: &[u8],
    ) -> Result<(), StoreError> {
        let mut kept = self.kept();
        let bytes = kept.staged.entry((name, source)).or_default();
        bytes.truncate(usize::try_from(at).expect("small"));
        bytes.extend_from_slice(piece);
        Ok(())
    }

    fn staged_bytes(
        &self,
        name: Sha256Hex,
        source: DeviceId,
    ) -> Result<Option<Vec<u8>>, StoreError> {
        Ok(self.kept().staged.get(&(name, source)).cloned())
    }

    fn finish(&self, name: Sha256Hex, source: DeviceId) -> Result<(), StoreError> {
        let mut kept = self.kept();
        let bytes = kept.staged.remove(&(name, source)).expect("has arrived");
        kept.blobs.insert(name, bytes);
        Ok(())
    }

    fn forget_staged(&self, name: Sha256Hex, source: DeviceId) {
        self.kept().staged.remove(&(name, source));
    }

    fn copy(&self, name: Sha256Hex, form: &str) -> Option<Vec<u8>> {
        self.kept().copies.get(&(name, form.to_owned())).cloned()
    }

    fn keep_copy(&self, name: Sha256Hex, form: &str, bytes: &[u8]) -> Result<(), StoreError> {
        let copy = (name, form.to_owned());
        self.kept().copies.insert(copy, bytes.to_vec());
        Ok(())
    }

    fn free_bytes(&self) -> Result<u64, StoreError> {
        Ok(u64::MAX)
    }
}
