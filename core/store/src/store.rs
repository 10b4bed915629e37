//! A store: its rows, its photos, and the device's own name.

use std::path::{Path, PathBuf};
use std::sync::mpsc::Sender;
use std::sync::{Arc, Mutex};

use swarfbook_job::id::{DeviceId, Sha256Hex};

use crate::files::Folder;
use crate::rows::{Log, Rows, Work};
use crate::{Blobs, Photos, StoreError, sqlite};

/// A folder with the log and the photos. Used by several threads at once: who reads waits for
/// nobody, and one writes after another.
#[derive(Debug, Clone)]
pub struct Store {
    pub(crate) log: Arc<dyn Log>,
    /// The folder that it lies in.
    pub(crate) dir: PathBuf,
    pub(crate) photos: Photos,
    pub(crate) arrivals: Option<Sender<Sha256Hex>>,
    /// Held while a piece of a photo is put in its place: the next may be of the same photo.
    pub(crate) arriving: Arc<Mutex<()>>,
    pub(crate) device: DeviceId,
}

impl Store {
    /// Opens the store in `dir`, making it when it is not there. One whose folder can't be
    /// written, or whose database is not as it was left, is opened to read only, with what can
    /// be saved: [`Store::read_only`] then says why.
    ///
    /// # Errors
    /// [`StoreError::Gone`] when a log was there and is not, [`StoreError::Unsaved`] when
    /// nothing can be saved, [`StoreError::Newer`], [`StoreError::Busy`],
    /// [`StoreError::Full`], [`StoreError::File`].
    pub fn open(dir: &Path) -> Result<Store, StoreError> {
        Store::over(Arc::new(sqlite::open(dir)?), dir)
    }

    pub(crate) fn over(log: Arc<dyn Log>, dir: &Path) -> Result<Store, StoreError> {
        let device = given(|work| log.read(work), crate::log::device)?;
        Ok(Store {
            log,
            dir: dir.to_owned(),
            photos: Photos::of(Folder::at(dir)),
            arrivals: None,
            arriving: Arc::default(),
            device,
        })
    }

    /// Shows `what` the rows as they are at one moment.
    pub(crate) fn rows<T>(
        &self,
        what: impl FnOnce(&dyn Rows) -> Result<T, StoreError>,
    ) -> Result<T, StoreError> {
        given(|work| self.log.read(work), what)
    }

    /// Does `work` as a whole or not at all: by itself, or within [`Store::together`] as a part
    /// of what that does.
    pub(crate) fn at_once<T>(
        &self,
        work: impl FnOnce(&dyn Rows) -> Result<T, StoreError>,
    ) -> Result<T, StoreError> {
        self.writable()?;
        self.for_this_run(work)
    }

    /// The same also in a store that can only be read, where it holds until the program ends.
    pub(crate) fn for_this_run<T>(
        &self,
        work: impl FnOnce(&dyn Rows) -> Result<T, StoreError>,
    ) -> Result<T, StoreError> {
        given(|each| self.log.write(each), work)
    }

    /// Does `work` in one transaction: all that it appends is there, or nothing.
    /// What it reads holds what it has appended so far. Nobody else writes meanwhile.
    ///
    /// # Errors
    /// What `work` gives, and the backend's. Nothing was written then.
    pub fn together<T, E: From<StoreError>>(
        &self,
        work: impl FnOnce(&Store) -> Result<T, E>,
    ) -> Result<T, E> {
        self.writable()?;
        self.together_for_this_run(work)
    }

    /// The same also in a store that can only be read, for what the program makes for itself: it
    /// holds there until the program ends.
    ///
    /// # Errors
    /// As [`Store::together`].
    pub fn together_for_this_run<T, E: From<StoreError>>(
        &self,
        work: impl FnOnce(&Store) -> Result<T, E>,
    ) -> Result<T, E> {
        self.within(|each| self.log.write(each), work)
    }

    /// Does `work` with all that it reads as it is at one moment, whoever writes meanwhile. What
    /// it writes itself it reads only afterwards: let that be done before.
    ///
    /// # Errors
    /// What `work` gives, and the backend's.
    pub fn at_one_moment<T, E: From<StoreError>>(
        &self,
        work: impl FnOnce(&Store) -> Result<T, E>,
    ) -> Result<T, E> {
        self.within(|each| self.log.read(each), work)
    }

    fn within<T, E: From<StoreError>>(
        &self,
        run: impl FnOnce(Work<'_>) -> Result<(), StoreError>,
        work: impl FnOnce(&Store) -> Result<T, E>,
    ) -> Result<T, E> {
        let (mut work, mut done) = (Some(work), None);
        let ended = run(&mut |_| {
            if let Some(work) = work.take() {
                done = Some(work(self));
            }
            match done {
                Some(Ok(_)) => Ok(()),
                // What it is, `done` says.
                _ => Err(StoreError::Busy),
            }
        });
        match done {
            Some(Ok(value)) => {
                ended?;
                Ok(value)
            }
            Some(Err(why)) => Err(why),
            None => Err(ended.err().unwrap_or(StoreError::Busy).into()),
        }
    }

    /// This device's name in the log.
    pub fn device(&self) -> DeviceId {
        self.device
    }

    /// The same store with its photos kept elsewhere than in its folder.
    #[must_use]
    pub fn with_blobs(self, blobs: Arc<dyn Blobs>) -> Store {
        Store {
            photos: Photos { blobs },
            ..self
        }
    }

    /// From now on, photos that come in whole from another store are told there.
    pub fn tell_arrivals(&mut self, to: Sender<Sha256Hex>) {
        self.arrivals = Some(to);
    }

    pub(crate) fn arrived_whole(&self, photo: Sha256Hex) {
        if let Some(to) = &self.arrivals {
            // Whoever wanted to know may be gone; the photo is here all the same.
            let _ = to.send(photo);
        }
    }

    /// Bytes that can still be written where the store lies.
    ///
    /// # Errors
    /// [`StoreError::File`].
    pub fn free_bytes(&self) -> Result<u64, StoreError> {
        self.photos.blobs.free_bytes()
    }
}

/// What `what` gives, done once by `run`: a [`Log`] behind a trait object hands nothing on itself.
fn given<T>(
    run: impl FnOnce(Work<'_>) -> Result<(), StoreError>,
    what: impl FnOnce(&dyn Rows) -> Result<T, StoreError>,
) -> Result<T, StoreError> {
    let (mut what, mut given) = (Some(what), None);
    run(&mut |rows| {
        if let Some(what) = what.take() {
            given = Some(what(rows)?);
        }
        Ok(())
    })?;
    given.ok_or(StoreError::Busy)
}
