//! The app behind the door: a store, a clock, and what it does with them.

use std::path::Path;
use std::sync::{Mutex, MutexGuard, PoisonError};

use swarfbook_job::id::{JobId, Sha256Hex};
use swarfbook_store::{Exported, Store};
use swarfbook_words::Language;

use crate::caller::Profile;
use crate::clock::{Clock, SystemClock};
use crate::command::{Command, CopyAsked, Sheet};
use crate::problem::Problem;
use crate::reply::Reply;
use crate::state::Jobs;

/// One store with its door. Shared between threads by reference.
pub struct App {
    store: Mutex<Store>,
    jobs: Jobs,
    clock: Box<dyn Clock>,
    is_hub: bool,
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
        crate::report::copies::follow(&mut store);
        Ok(App {
            store: Mutex::new(store),
            jobs: Jobs::default(),
            clock,
            is_hub: false,
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

    /// Does what is asked. Lines it writes are on disk when it returns.
    ///
    /// # Errors
    /// A [`Problem`] in the user's words; nothing was changed then.
    pub fn call(&self, command: Command) -> Result<Reply, Problem> {
        crate::serve::speak(self, || crate::serve::serve(self, command))
    }

    /// Does `what` with all that it asks of the door asked by this browser of the hub, or by
    /// the device itself.
    pub fn asked_by<T>(&self, profile: Option<Profile>, what: impl FnOnce() -> T) -> T {
        crate::caller::asked_by(profile, what)
    }

    /// Keeps a photo as taken and gives its name; a line may name it from then on.
    ///
    /// # Errors
    /// A [`Problem`] when it is empty, too large, not a picture, or the storage is full.
    pub fn put_photo(&self, bytes: &[u8]) -> Result<Sha256Hex, Problem> {
        crate::serve::speak(self, || crate::serve::photo::put(self, bytes))
    }

    /// A copy of a photo, upright and without metadata, JPEG; at most `max_width` px wide.
    ///
    /// # Errors
    /// A [`Problem`] when it is not here.
    pub fn photo(&self, photo: Sha256Hex, max_width: Option<u32>) -> Result<Vec<u8>, Problem> {
        crate::serve::speak(self, || crate::serve::photo::copy(self, photo, max_width))
    }

    /// Whether a job has this photo: it is here whole, and a line names it.
    ///
    /// # Errors
    /// A [`Problem`] when the store can't be read.
    pub fn has_in_a_job(&self, photo: Sha256Hex) -> Result<bool, Problem> {
        let store = self.store();
        Ok(store.has_photo(photo) && store.is_photo_named(photo)?)
    }

    /// Writes everything to one file that opens without this program; tells how
    /// much it holds. The file is there whole or not at all.
    ///
    /// # Errors
    /// A [`Problem`] when the file can't be written.
    pub fn export(&self, to: &Path) -> Result<Exported, Problem> {
        crate::serve::export::write(self, to)
    }

    /// Takes in what an export holds and this store lacks; tells what was new.
    ///
    /// # Errors
    /// A [`Problem`] when the file is no whole export, was changed, or its lines
    /// do not fit those here; no line came in then.
    pub fn import(&self, from: &Path) -> Result<Exported, Problem> {
        crate::serve::export::read(self, from)
    }

    /// The language of the report that a customer's link opens; this device's
    /// where it opens none.
    pub fn language_of_link(&self, secret: &str) -> Language {
        crate::serve::speak(self, || crate::serve::share::language(self, secret))
    }

    /// Makes the report of a job as a PDF and writes that it was made.
    ///
    /// # Errors
    /// A [`Problem`] when there is no such job, or it can't be made.
    pub fn report_pdf(
        &self,
        job: JobId,
        sheet: Sheet,
        copy: CopyAsked,
    ) -> Result<Vec<u8>, Problem> {
        crate::serve::speak(self, || crate::serve::report::pdf(self, job, sheet, copy))
    }

    /// Does `what` with everything that `swarfbook_words` says in the language of this device,
    /// for what a carrier has to say itself. What it asks of the door within is answered in
    /// the same: the language is decided once a call.
    pub fn speaking<T>(&self, what: impl FnOnce() -> T) -> T {
        crate::serve::speak(self, what)
    }

    /// The store, for what carries entries between stores. A thread that
    /// panicked while holding it left a whole store: SQLite rolls back.
    pub fn store(&self) -> MutexGuard<'_, Store> {
        self.store.lock().unwrap_or_else(PoisonError::into_inner)
    }

    pub(crate) fn jobs(&self) -> &Jobs {
        &self.jobs
    }

    pub(crate) fn is_hub(&self) -> bool {
        self.is_hub
    }

    pub(crate) fn clock(&self) -> &dyn Clock {
        self.clock.as_ref()
    }
}
