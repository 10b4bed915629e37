//! Photos and their copies as files: `photos/ab/abcdef...` and `copies/FORM/ab/abcdef...`.

mod whole;

use std::fs::{self, File, OpenOptions};
use std::io::{ErrorKind, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};
use std::time::Duration;

use swarfbook_job::id::{DeviceId, Sha256Hex};
use swarfbook_words::say;

use crate::private::{owned, private_folder};
use crate::{Blobs, StoreError};
use whole::{HALF, into_place};

pub(crate) use whole::{sync_folder, sync_name, write_whole};

/// A half-written file this old was left by a kill; a younger one may be
/// another program's, at work on the same store.
const ABANDONED: Duration = Duration::from_secs(10 * 60);

/// A folder of photos.
#[derive(Debug, Clone)]
pub(crate) struct Folder {
    dir: PathBuf,
}

impl Folder {
    /// What is in `dir`, without making or changing anything there.
    pub(crate) fn at(dir: &Path) -> Folder {
        Folder {
            dir: dir.to_owned(),
        }
    }

    /// The same, made where it is not there.
    pub(crate) fn make(dir: &Path) -> std::io::Result<Folder> {
        private_folder(&dir.join("photos"))?;
        Ok(Folder::at(dir))
    }

    /// What a kill left half written was never named by a line. Where it can't be removed
    /// it does no harm.
    pub(crate) fn sweep(&self) {
        let files = fs::read_dir(self.dir.join("photos"));
        for file in files.into_iter().flatten().flatten() {
            let old = file
                .metadata()
                .and_then(|meta| meta.modified())
                .map(|at| at.elapsed().is_ok_and(|age| age > ABANDONED))
                .unwrap_or(false);
            if old && file.file_name().to_string_lossy().starts_with(HALF) {
                let _ = fs::remove_file(file.path());
            }
        }
    }

    /// Half-written files lie there, whatever they become, so that what a kill leaves is swept.
    fn write(&self, target: &Path, bytes: &[u8]) -> std::io::Result<()> {
        write_whole(&self.dir.join("photos"), target, bytes)
    }

    fn path(&self, name: Sha256Hex) -> PathBuf {
        photo_path(&self.dir, name)
    }

    fn aside(&self, name: Sha256Hex) -> PathBuf {
        self.path(name).with_extension("damaged")
    }

    /// One file for each source: what one sends wrongly spoils nothing of another's.
    fn partial(&self, name: Sha256Hex, source: DeviceId) -> PathBuf {
        self.dir
            .join("photos")
            .join(format!("part-{name}-{source}"))
    }

    fn copy_path(&self, name: Sha256Hex, form: &str) -> PathBuf {
        shelved(&self.dir.join("copies").join(form), name)
    }
}

impl Blobs for Folder {
    fn put(&self, name: Sha256Hex, bytes: &[u8]) -> Result<(), StoreError> {
        self.write(&self.path(name), bytes)
            .map_err(StoreError::file(say!("the-photo-cant-be-written")))
    }

    fn get(&self, name: Sha256Hex) -> Result<Option<Vec<u8>>, StoreError> {
        found(fs::read(self.path(name))).map_err(StoreError::file(say!("the-photo-cant-be-read")))
    }

    fn has(&self, name: Sha256Hex) -> bool {
        self.path(name).is_file()
    }

    fn range(
        &self,
        name: Sha256Hex,
        from: u64,
        most: usize,
    ) -> Result<Option<(u64, Vec<u8>)>, StoreError> {
        let read = || {
            let mut file = File::open(self.path(name))?;
            let total = file.metadata()?.len();
            file.seek(SeekFrom::Start(from))?;
            let mut bytes = Vec::new();
            file.take(most as u64).read_to_end(&mut bytes)?;
            Ok((total, bytes))
        };
        found(read()).map_err(StoreError::file(say!("the-photo-cant-be-read")))
    }

    fn forget(&self, name: Sha256Hex) {
        let _ = fs::remove_file(self.path(name));
    }

    fn set_aside(&self, name: Sha256Hex) -> Option<Vec<u8>> {
        // In a folder that can't be written it stays, and each reading finds it damaged.
        fs::rename(self.path(name), self.aside(name)).ok()?;
        fs::read(self.aside(name)).ok()
    }

    fn is_aside(&self, name: Sha256Hex) -> bool {
        self.aside(name).is_file()
    }

    fn forget_aside(&self, name: Sha256Hex) {
        let _ = fs::remove_file(self.aside(name));
    }

    fn staged(&self, name: Sha256Hex, source: DeviceId) -> Result<Option<u64>, StoreError> {
        found(fs::metadata(self.partial(name, source)).map(|file| file.len()))
            .map_err(StoreError::file(say!("a-half-arrived-photo-cant-be-read")))
    }

    fn stage(
        &self,
        name: Sha256Hex,
        source: DeviceId,
        at: u64,
        piece: &[u8],
    ) -> Result<(), StoreError> {
        let write = || {
            let mut options = OpenOptions::new();
            let options = options.write(true).create(true).truncate(false);
            let mut file = owned(options).open(self.partial(name, source))?;
            file.seek(SeekFrom::Start(at))?;
            file.write_all(piece)
        };
        write().map_err(StoreError::file(say!(
            "a-photo-that-arrives-cant-be-written"
        )))
    }

    fn staged_bytes(
        &self,
        name: Sha256Hex,
        source: DeviceId,
    ) -> Result<Option<Vec<u8>>, StoreError> {
        found(fs::read(self.partial(name, source)))
            .map_err(StoreError::file(say!("a-half-arrived-photo-cant-be-read")))
    }

    fn finish(&self, name: Sha256Hex, source: DeviceId) -> Result<(), StoreError> {
        let path = self.partial(name, source);
        let lasting = || {
            File::options().write(true).open(&path)?.sync_all()?;
            into_place(&path, &self.path(name))
        };
        lasting().map_err(StoreError::file(say!("a-photo-that-arrived-cant-be-kept")))
    }

    fn forget_staged(&self, name: Sha256Hex, source: DeviceId) {
        let _ = fs::remove_file(self.partial(name, source));
    }

    fn copy(&self, name: Sha256Hex, form: &str) -> Option<Vec<u8>> {
        fs::read(self.copy_path(name, form)).ok()
    }

    fn keep_copy(&self, name: Sha256Hex, form: &str, bytes: &[u8]) -> Result<(), StoreError> {
        self.write(&self.copy_path(name, form), bytes)
            .map_err(StoreError::file("a photo's copy can't be kept"))
    }

    fn free_bytes(&self) -> Result<u64, StoreError> {
        fs4::available_space(&self.dir)
            .map_err(StoreError::file(say!("the-free-space-cant-be-read")))
    }
}

/// Where the photo of this name lies, or would lie, in the folder of a store.
pub fn photo_path(dir: &Path, photo: Sha256Hex) -> PathBuf {
    shelved(&dir.join("photos"), photo)
}

/// In a folder of its own by how its name begins: no folder gets too many files.
fn shelved(folder: &Path, photo: Sha256Hex) -> PathBuf {
    let name = photo.to_string();
    let shelf: String = name.chars().take(2).collect();
    folder.join(shelf).join(name)
}

/// What is not there is no error.
fn found<T>(read: std::io::Result<T>) -> std::io::Result<Option<T>> {
    match read {
        Ok(it) => Ok(Some(it)),
        Err(why) if why.kind() == ErrorKind::NotFound => Ok(None),
        Err(why) => Err(why),
    }
}
