//! What the app was opened with.

use std::path::{Path, PathBuf};

use serde::Serialize;
use swarfbook_app::PairLink;
use swarfbook_app::problem::{Problem, ProblemKind};
use swarfbook_words::term;
use tauri::{AppHandle, Manager, Runtime};

use super::Handover;
use crate::call::aside;
use crate::door::Door;

/// What came in and waits for an answer of the technician's.
#[derive(Debug, PartialEq, Eq, Serialize)]
#[serde(tag = "what", rename_all = "snake_case")]
pub(crate) enum HandedIn {
    Nothing,
    /// A link of the shop's hub.
    Pair {
        address: String,
        code: String,
        /// Of the hub's certificate; empty where the link has none.
        fingerprint: String,
    },
    /// An export, by its name.
    Export {
        name: String,
    },
}

/// What was taken in of an export.
#[derive(Serialize)]
pub(crate) struct TakenIn {
    lines: u64,
    photos: u64,
    /// Lines of them that nobody signed.
    unsigned: u64,
}

/// Tells what the app was opened with. A link is told once; a file waits until
/// it is taken in or another comes.
#[tauri::command]
pub(crate) async fn handed_in<R: Runtime>(shell: AppHandle<R>) -> Result<HandedIn, Problem> {
    aside(shell, move |shell| {
        // Asked before the lock is taken: a large file is waited for.
        #[cfg(target_os = "android")]
        let new = super::phone::opened(shell)?;
        #[cfg(not(target_os = "android"))]
        let new = None;
        let handover = shell.state::<Handover>();
        let mut opened = handover.opened();
        if new.is_some() {
            *opened = new;
        }
        let handed = opened.as_deref().map_or(HandedIn::Nothing, told);
        if !matches!(handed, HandedIn::Export { .. }) {
            *opened = None;
        }
        Ok(handed)
    })
    .await
}

fn told(opened: &str) -> HandedIn {
    if let Some(link) = PairLink::read(opened) {
        let fingerprint = link.fingerprint;
        return HandedIn::Pair {
            address: link.hub,
            code: link.code,
            fingerprint: fingerprint.map_or(String::new(), |digits| digits.as_str().to_owned()),
        };
    }
    let path = Path::new(opened);
    match (path.extension(), path.file_name()) {
        (Some(ending), Some(name)) if ending.eq_ignore_ascii_case("zip") => HandedIn::Export {
            name: name.to_string_lossy().into_owned(),
        },
        _ => HandedIn::Nothing,
    }
}

/// Takes in the export that waits, on the technician's word.
#[tauri::command]
pub(crate) async fn take_in<R: Runtime>(shell: AppHandle<R>) -> Result<TakenIn, Problem> {
    aside(shell, move |shell| {
        let handover = shell.state::<Handover>();
        let waiting = handover.opened().clone().ok_or_else(|| {
            Problem::new(
                ProblemKind::NotFound,
                term!("no-export-waits-to-be-taken-in"),
                term!("open-the-file-with-this-app-again"),
            )
        })?;
        let path = PathBuf::from(waiting);
        let holds = shell.state::<Door>().app()?.import(&path)?;
        *handover.opened() = None;
        // On a phone it is a copy of the app's own.
        if cfg!(target_os = "android") {
            let _ = std::fs::remove_file(&path);
        }
        Ok(TakenIn {
            lines: holds.entries,
            photos: holds.photos,
            unsigned: holds.unsigned,
        })
    })
    .await
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn links_and_exports_are_told_and_nothing_else() {
        let digits = "0123456789abcdef".repeat(4);
        let pair = format!(
            "swarfbook://pair?hub=https%3A%2F%2F192.0.2.7%3A8350&code=12345678&sha256={digits}"
        );
        assert_eq!(
            told(&pair),
            HandedIn::Pair {
                address: "https://192.0.2.7:8350".into(),
                code: "12345678".into(),
                fingerprint: digits,
            }
        );
        assert_eq!(
            told("/tmp/all my jobs.ZIP"),
            HandedIn::Export {
                name: "all my jobs.ZIP".into()
            }
        );
        for other in [
            "",
            "--flag",
            "swarfbook://erase",
            "/etc/passwd",
            "http://192.0.2.7/a",
        ] {
            assert_eq!(told(other), HandedIn::Nothing, "{other}");
        }
    }
}
