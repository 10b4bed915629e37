//! A store that can only be read: its folder is read-only or full, or its database damaged.

use std::sync::Arc;

use crate::{Store, StoreError};

/// Why a store can only be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Held {
    /// In words, as a sentence.
    pub words: String,
    /// The database is damaged: making room or a right does not help.
    pub damaged: bool,
    /// Lines that the log had and that could not be saved.
    pub lost: u64,
}

impl Store {
    /// Why this store can only be read; `None` for one that can be written.
    pub fn read_only(&self) -> Option<&Held> {
        self.log.held()
    }

    pub(crate) fn writable(&self) -> Result<(), StoreError> {
        match self.read_only() {
            None => Ok(()),
            Some(why) => Err(StoreError::ReadOnly(why.clone())),
        }
    }

    /// The same store as what can be saved of it, once something of it was found damaged.
    /// The next start finds a note of that.
    ///
    /// # Errors
    /// [`StoreError::Unsaved`] where nothing can be saved.
    pub fn saved(&self) -> Result<Store, StoreError> {
        let saved = Store::over(Arc::new(self.log.saved()?), &self.dir)?;
        Ok(Store {
            photos: self.photos.clone(),
            ..saved
        })
    }
}
