//! The door itself: what carriers ask, in the language of the device.

use std::path::Path;

use swarfbook_job::id::{JobId, Sha256Hex};
use swarfbook_store::{BackedUp, Exported};
use swarfbook_words::Language;

use crate::caller::Profile;
use crate::command::{Command, CopyAsked, Sheet};
use crate::problem::Problem;
use crate::reply::{Reply, answers};
use crate::serve;
use crate::serve::lessons::Lessons;
use crate::state::App;

impl App {
    /// Does what is asked. Lines it writes are on disk when it returns.
    ///
    /// # Errors
    /// A [`Problem`] in the user's words; nothing was changed then.
    pub fn call(&self, command: Command) -> Result<Reply, Problem> {
        let is_its_own = answers(&command);
        let reply = serve::speak(self, || serve::serve(self, command));
        debug_assert!(reply.iter().all(is_its_own), "another reply: {reply:?}");
        if reply.as_ref().is_err_and(|problem| problem.damaged) {
            self.read_only_from_now_on();
        }
        reply
    }

    /// Why nothing can be written to the store, and what to do; `None` as usual.
    pub fn read_only(&self) -> Option<Problem> {
        let store = self.store();
        let why = store.read_only()?.clone();
        Some(Problem::from(swarfbook_store::StoreError::ReadOnly(why)))
    }

    /// Writes a backup of the store, while it is in use, to a folder.
    ///
    /// # Errors
    /// A [`Problem`] when the folder can't be used, or the database is damaged.
    pub fn backup(&self, to: &Path) -> Result<BackedUp, Problem> {
        Ok(self.store().backup(to)?)
    }

    /// Photos that this device had and that are gone.
    ///
    /// # Errors
    /// A [`Problem`] when the store can't be read.
    pub fn photos_lost(&self) -> Result<Vec<Sha256Hex>, Problem> {
        Ok(self.store().photos_lost()?)
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
        serve::speak(self, || serve::photo::put(self, bytes))
    }

    /// A copy of a photo, upright and without metadata, JPEG; at most `max_width` px wide.
    ///
    /// # Errors
    /// A [`Problem`] when it is not here.
    pub fn photo(&self, photo: Sha256Hex, max_width: Option<u32>) -> Result<Vec<u8>, Problem> {
        serve::speak(self, || serve::photo::copy(self, photo, max_width))
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
        serve::export::write(self, to)
    }

    /// Writes the pieces that technicians confirmed or corrected to one file that can be handed on: crops, outlines and
    /// classes, no names, plates or times; tells how much it holds. The file is there whole or not at all.
    ///
    /// # Errors
    /// A [`Problem`] when the file can't be written, or this is the invented demo.
    pub fn export_lessons(&self, to: &Path) -> Result<Lessons, Problem> {
        serve::lessons::export(self, to)
    }

    /// Takes in what an export holds and this store lacks; tells what was new.
    ///
    /// # Errors
    /// A [`Problem`] when the file is no whole export, was changed, or its lines
    /// do not fit those here; no line came in then.
    pub fn import(&self, from: &Path) -> Result<Exported, Problem> {
        serve::export::read(self, from)
    }

    /// The language of the report that a customer's link opens; this device's
    /// where it opens none.
    pub fn language_of_link(&self, secret: &str) -> Language {
        serve::speak(self, || serve::share::language(self, secret))
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
        serve::speak(self, || serve::report::pdf(self, job, sheet, copy))
    }

    /// Does `what` with everything that `swarfbook_words` says in the language of this device,
    /// for what a carrier has to say itself. What it asks of the door within is answered in
    /// the same: the language is decided once a call.
    pub fn speaking<T>(&self, what: impl FnOnce() -> T) -> T {
        serve::speak(self, what)
    }
}
