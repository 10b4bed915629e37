//! Photos that the phone's own camera took and that never came back to the app.
//!
//! The webview's file chooser has that camera write into a folder of the app's own (wry 0.57:
//! `JPEG_<time>_<number>.jpg` in `Pictures/`), and hands the file to the page that asked. Where
//! the system ends the app meanwhile, for want of memory, that page is gone: the answer reaches
//! nobody, and the photo lies there. Nor does the chooser ever take a file away, whether it
//! arrived or not, or was never written since the camera was left again.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime, UNIX_EPOCH};

use serde::Serialize;
use swarfbook_app::App;
use swarfbook_app::problem::{Problem, ProblemKind};
use swarfbook_job::id::Sha256Hex;
use swarfbook_words::{say, term};
use tauri::{AppHandle, Manager, Runtime};

use crate::call::aside;
use crate::door::Door;

/// The camera may stand open over an empty file for a while; not for a day.
const LEFT_EMPTY: Duration = Duration::from_secs(24 * 60 * 60);

/// Where the phone's camera writes; none on a desk.
pub(crate) struct Taken(pub(crate) Option<PathBuf>);

/// A photo in that folder that no job has.
#[derive(Debug, PartialEq, Eq, Serialize)]
pub(crate) struct Stray {
    /// Its name, as for any photo.
    photo: Sha256Hex,
    /// When it was taken, in milliseconds since 1970.
    taken: u64,
    /// Whether it is a whole picture. Then it is kept by now, and a line may name it.
    whole: bool,
}

/// Photos that no job has, the newest first. What a job has is taken away here.
///
/// To be asked when a page begins: while one waits for its photo, that photo is no stray.
#[tauri::command]
pub(crate) async fn strays<R: Runtime>(shell: AppHandle<R>) -> Result<Vec<Stray>, Problem> {
    aside(shell, move |shell| match &shell.state::<Taken>().0 {
        Some(folder) => look(folder, shell.state::<Door>().app()?.as_ref()),
        None => Ok(Vec::new()),
    })
    .await
}

/// Takes a stray out of the folder, on the technician's word: it is wanted in no job.
#[tauri::command]
pub(crate) async fn drop_stray<R: Runtime>(
    shell: AppHandle<R>,
    photo: Sha256Hex,
) -> Result<(), Problem> {
    aside(shell, move |shell| match &shell.state::<Taken>().0 {
        Some(folder) => drop_from(folder, photo),
        None => Ok(()),
    })
    .await
}

fn look(folder: &Path, app: &App) -> Result<Vec<Stray>, Problem> {
    let mut strays = BTreeMap::new();
    for file in files(folder)? {
        if file.bytes == 0 {
            if file.taken.elapsed().is_ok_and(|age| age > LEFT_EMPTY) {
                remove(&file.path)?;
            }
            continue;
        }
        let bytes = fs::read(&file.path).map_err(|error| cannot(&file.path, &error))?;
        let photo = Sha256Hex::of(&bytes);
        if app.has_in_a_job(photo)? {
            remove(&file.path)?;
            continue;
        }
        let whole = match app.put_photo(&bytes) {
            Ok(_) => true,
            Err(problem) if problem.kind == ProblemKind::BadInput => false,
            Err(problem) => return Err(problem),
        };
        let taken = file.taken.duration_since(UNIX_EPOCH).unwrap_or_default();
        let stray = Stray {
            photo,
            taken: u64::try_from(taken.as_millis()).unwrap_or(u64::MAX),
            whole,
        };
        strays.insert(photo, stray);
    }
    let mut strays: Vec<Stray> = strays.into_values().collect();
    strays.sort_by_key(|stray| std::cmp::Reverse(stray.taken));
    Ok(strays)
}

fn drop_from(folder: &Path, photo: Sha256Hex) -> Result<(), Problem> {
    for file in files(folder)? {
        let bytes = fs::read(&file.path).map_err(|error| cannot(&file.path, &error))?;
        if Sha256Hex::of(&bytes) == photo {
            remove(&file.path)?;
        }
    }
    Ok(())
}

struct File {
    path: PathBuf,
    bytes: u64,
    taken: SystemTime,
}

/// The files that the chooser had made; others in the folder are not the app's business.
fn files(folder: &Path) -> Result<Vec<File>, Problem> {
    let listed = match fs::read_dir(folder) {
        Ok(listed) => listed,
        // Made by the first photo.
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(Vec::new()),
        Err(error) => return Err(cannot(folder, &error)),
    };
    let mut files = Vec::new();
    for entry in listed {
        let entry = entry.map_err(|error| cannot(folder, &error))?;
        let name = entry.file_name();
        let name = name.to_string_lossy();
        if !(name.starts_with("JPEG_") && name.ends_with(".jpg")) {
            continue;
        }
        let path = entry.path();
        let about = entry.metadata().map_err(|error| cannot(&path, &error))?;
        if about.is_file() {
            files.push(File {
                bytes: about.len(),
                taken: about.modified().unwrap_or(UNIX_EPOCH),
                path,
            });
        }
    }
    Ok(files)
}

fn remove(path: &Path) -> Result<(), Problem> {
    fs::remove_file(path).map_err(|error| {
        Problem::new(
            ProblemKind::Storage,
            say!(
                "path-cant-be-taken-away-error",
                path = path.display(),
                error = error
            ),
            term!("start-the-app-again-no-photo-is-lost"),
        )
    })
}

fn cannot(path: &Path, error: &std::io::Error) -> Problem {
    Problem::new(
        ProblemKind::Storage,
        say!(
            "what-the-phones-camera-left-at-path-cant",
            path = path.display(),
            error = error
        ),
        term!("start-the-app-again-no-photo-is-lost"),
    )
}
