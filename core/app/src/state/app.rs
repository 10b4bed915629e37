//! What the door stands on: a store, a clock, the jobs that are kept.

use std::path::Path;
use std::sync::OnceLock;

use swarfbook_store::Store;

use super::Jobs;
use super::copies;
use crate::clock::{Clock, SystemClock};
use crate::problem::Problem;

/// One store with its door. Shared between threads by reference.
pub struct App {
    store: Store,
    /// What can be saved of it, from when it was found damaged.
    saved: OnceLock<Store>,
    jobs: Jobs,
    clock: Box<dyn Clock>,
    is_hub: bool,
    finder: Option<Vec<u8>>,
}

impl App {
    /// Opens the store in `dir`, making it when it is not there.
    ///
    /// # Errors
    /// A [`Problem`] of kind `storage` when the folder or database can't be used.
    pub fn open(dir: &Path) -> Result<App, Problem> {
        App::open_with(dir, Box::new(SystemClock))
    }

    /// The same with a clock of the caller's.
    ///
    /// # Errors
    /// As [`App::open`].
    pub fn open_with(dir: &Path, clock: Box<dyn Clock>) -> Result<App, Problem> {
        let mut store = Store::open(dir)?;
        copies::follow(&mut store);
        Ok(App {
            store,
            saved: OnceLock::new(),
            jobs: Jobs::default(),
            clock,
            is_hub: false,
            finder: None,
        })
    }

    /// The same as the shop's hub: phones pair with it, it pairs with nobody.
    #[must_use]
    pub fn as_hub(self) -> App {
        App {
            is_hub: true,
            ..self
        }
    }

    /// The same with photos read by this model file instead of the one that ships, so that it can be checked what happens
    /// when that file is no good.
    #[doc(hidden)]
    #[must_use]
    pub fn reading_by(self, finder: Vec<u8>) -> App {
        App {
            finder: Some(finder),
            ..self
        }
    }

    /// The store. No thread waits for another that reads; what reads and then writes does both
    /// within one [`Store::together`].
    pub fn store(&self) -> &Store {
        self.saved.get().unwrap_or(&self.store)
    }

    /// Goes on with what can be saved of a database that was found damaged.
    pub(crate) fn read_only_from_now_on(&self) {
        if self.store().read_only().is_some() {
            return;
        }
        // Where nothing can be saved, each call says so.
        if let Ok(saved) = self.store.saved() {
            // Of two threads that found it out at once the first is as good as the other.
            let _ = self.saved.set(saved);
        }
    }

    pub(crate) fn jobs(&self) -> &Jobs {
        &self.jobs
    }

    pub(crate) fn finder(&self) -> Option<&[u8]> {
        self.finder.as_deref()
    }

    pub(crate) fn is_hub(&self) -> bool {
        self.is_hub
    }

    pub(crate) fn clock(&self) -> &dyn Clock {
        self.clock.as_ref()
    }
}
