//! The app behind the shell, opened when it is first asked.

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

use swarfbook_app::App;
use swarfbook_app::problem::Problem;

/// Opens the app once. When that fails, the asker gets the problem in words and
/// the next asker tries again: a full disk is mended without a restart.
pub(crate) struct Door {
    app: Mutex<Option<Arc<App>>>,
    folder: PathBuf,
    demo: bool,
}

impl Door {
    /// A door onto the data in `folder`.
    pub(crate) fn at(folder: PathBuf, demo: bool) -> Door {
        Door {
            app: Mutex::new(None),
            folder,
            demo,
        }
    }

    /// A door that is open.
    pub(crate) fn open(app: App) -> Door {
        Door {
            app: Mutex::new(Some(Arc::new(app))),
            folder: PathBuf::new(),
            demo: false,
        }
    }

    /// The app. Reads and writes files: not for the thread of the window.
    pub(crate) fn app(&self) -> Result<Arc<App>, Problem> {
        let mut held = self.app.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(app) = held.as_ref() {
            return Ok(Arc::clone(app));
        }
        let app = Arc::new(open(&self.folder, self.demo)?);
        *held = Some(Arc::clone(&app));
        Ok(app)
    }

    /// Does `what` in the language of the device; in English where the app can't be opened.
    pub(crate) fn speaking<T>(&self, what: impl FnOnce() -> T) -> T {
        match self.app() {
            Ok(app) => app.speaking(what),
            Err(_) => what(),
        }
    }
}

fn open(folder: &Path, demo: bool) -> Result<App, Problem> {
    #[cfg(feature = "demo")]
    if demo {
        return swarfbook_app::demo::open(folder);
    }
    // Without the feature, `start` has refused the wish.
    let _ = demo;
    App::open(folder)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_folder_that_can_not_be_used_is_told_and_tried_again() {
        let place = tempfile::tempdir().unwrap();
        let folder = place.path().join("data");
        std::fs::write(&folder, "a file stands where the folder should").unwrap();
        let door = Door::at(folder.clone(), false);
        assert!(door.app().is_err());
        std::fs::remove_file(&folder).unwrap();
        let (first, second) = (door.app().unwrap(), door.app().unwrap());
        assert!(Arc::ptr_eq(&first, &second), "opened once");
    }
}
