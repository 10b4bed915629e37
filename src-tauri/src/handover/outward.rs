//! Files out.

use std::fs;
use std::path::{Path, PathBuf};

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use serde::{Deserialize, Serialize};
use swarfbook_app::problem::{Problem, ProblemKind};
use swarfbook_words::{say, term};
use tauri::{AppHandle, Manager, Runtime};

use super::Handover;
use crate::call::aside;
use crate::door::Door;

/// A file that a screen made.
#[derive(Deserialize)]
pub(crate) struct Outward {
    /// "report TEST 101.pdf".
    name: String,
    base64: String,
}

/// What became of it.
#[derive(Serialize)]
pub(crate) struct HandedOver {
    /// Where it lies; `None` where the share sheet has it.
    place: Option<PathBuf>,
}

/// Hands a file of a screen over.
#[tauri::command]
pub(crate) async fn hand_over<R: Runtime>(
    shell: AppHandle<R>,
    file: Outward,
) -> Result<HandedOver, Problem> {
    aside(shell, move |shell| {
        let bytes = STANDARD.decode(&file.base64).map_err(|_| {
            Problem::new(
                ProblemKind::BadRequest,
                term!("the-file-did-not-arrive-whole"),
                term!("try-again-nothing-was-written"),
            )
        })?;
        let kind = kind(&file.name)?;
        let path = free_place(shell, &file.name)?;
        fs::write(&path, bytes).map_err(|error| cannot(&path, &error))?;
        handed(shell, path, kind)
    })
    .await
}

/// Hands everything that the store holds over as one export.
#[tauri::command]
pub(crate) async fn hand_over_everything<R: Runtime>(
    shell: AppHandle<R>,
    name: String,
) -> Result<HandedOver, Problem> {
    aside(shell, move |shell| {
        let kind = kind(&name)?;
        let path = free_place(shell, &name)?;
        shell.state::<Door>().app()?.export(&path)?;
        handed(shell, path, kind)
    })
    .await
}

/// Only what the app makes goes out, each by the media type of its ending.
fn kind(name: &str) -> Result<&'static str, Problem> {
    match name.rsplit_once('.').map(|(_, ending)| ending) {
        Some("html") => Ok("text/html"),
        Some("pdf") => Ok("application/pdf"),
        Some("zip") => Ok("application/zip"),
        _ => Err(Problem::new(
            ProblemKind::BadRequest,
            say!("name-is-no-file-that-this-app-makes", name = name),
            term!("save-a-report-the-gauge-card-or-an"),
        )),
    }
}

/// A path in the outbox that nothing lies at. On a phone what was shared before goes:
/// the share sheet has read it, or will not.
fn free_place<R: Runtime>(shell: &AppHandle<R>, name: &str) -> Result<PathBuf, Problem> {
    let outbox = &shell.state::<Handover>().outbox;
    if cfg!(target_os = "android") {
        let _ = fs::remove_dir_all(outbox);
    }
    fs::create_dir_all(outbox).map_err(|error| cannot(outbox, &error))?;
    Ok(free_in(outbox, name))
}

fn free_in(outbox: &Path, name: &str) -> PathBuf {
    let plain: String = name
        .chars()
        .map(|c| {
            if c.is_alphanumeric() || " .-_".contains(c) {
                c
            } else {
                '_'
            }
        })
        .collect();
    // No name that begins with a point: neither hidden, nor the folder above.
    let plain = plain.trim_start_matches('.');
    let (stem, ending) = plain.rsplit_once('.').unwrap_or((plain, ""));
    let mut path = outbox.join(plain);
    let mut n = 2;
    while path.exists() {
        path = outbox.join(format!("{stem} {n}.{ending}"));
        n += 1;
    }
    path
}

fn handed<R: Runtime>(
    shell: &AppHandle<R>,
    path: PathBuf,
    kind: &str,
) -> Result<HandedOver, Problem> {
    #[cfg(target_os = "android")]
    {
        super::phone::share(shell, &path, kind)?;
        Ok(HandedOver { place: None })
    }
    #[cfg(not(target_os = "android"))]
    {
        let _ = (shell, kind);
        Ok(HandedOver { place: Some(path) })
    }
}

fn cannot(path: &Path, error: &std::io::Error) -> Problem {
    Problem::new(
        ProblemKind::Storage,
        say!(
            "path-cant-be-written-error",
            path = path.display(),
            error = error
        ),
        term!("make-room-or-choose-another-folder-for-downloads"),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_stays_in_the_outbox_and_replaces_nothing() {
        let outbox = tempfile::tempdir().unwrap();
        let place = |name: &str| free_in(outbox.path(), name);
        assert_eq!(
            place("report A 1.pdf"),
            outbox.path().join("report A 1.pdf")
        );
        for name in ["../../x.pdf", "/etc/x.pdf", "..\\x.pdf", ".x.pdf"] {
            let place = place(name);
            assert_eq!(place.parent(), Some(outbox.path()), "{name}");
            let file = place.file_name().unwrap().to_str().unwrap();
            assert!(!file.starts_with('.') && !file.contains('/'), "{file}");
        }
        fs::write(place("a.zip"), "first").unwrap();
        assert_eq!(place("a.zip"), outbox.path().join("a 2.zip"));
    }

    #[test]
    fn only_what_the_app_makes_goes_out() {
        assert_eq!(kind("a.b.html").ok(), Some("text/html"));
        for name in ["a.apk", "a", "a.sh", ""] {
            assert!(kind(name).is_err(), "{name}");
        }
    }
}
