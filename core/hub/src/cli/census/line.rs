//! One photo to its line, whatever is wrong with it.

use std::path::Path;
use std::time::Instant;

use swarfbook_debris::{CensusLine, Settings, Unreadable, decode, read, unread};
use swarfbook_job::census::{Census, PhotoKind};

use super::hints::Hints;
use crate::cli::bytes::{bytes_of, name_of};

pub(super) fn of(photo: &Path, as_told: Option<PhotoKind>, hints: &Hints) -> CensusLine {
    let file = name_of(photo);
    let hints = hints.of(&file);
    let kind = as_told.or(hints.kind).or_else(|| kind_by_name(&file));
    // What nothing tells apart is read as a patch, the most common subject.
    let kind = kind.unwrap_or(PhotoKind::Patch);
    let start = Instant::now();
    let since = || start.elapsed().as_secs_f64() * 1e3;
    let (census, decode_ms) = match bytes_of(photo) {
        Err(problem) => (unreadable_file(kind, problem), since()),
        Ok(bytes) => {
            let upright = decode(&bytes);
            let decode_ms = since();
            let census = match upright {
                Ok(upright) => read(&upright, &hints, &Settings { kind }),
                Err(why) => unread(kind, &why),
            };
            (census, decode_ms)
        }
    };
    CensusLine {
        file,
        census,
        decode_ms,
        ms: since(),
    }
}

fn unreadable_file(kind: PhotoKind, problem: String) -> Census {
    Census {
        problem: Some(problem),
        ..unread(kind, &Unreadable::Empty)
    }
}

/// `pair` is the same patch before and after a magnet.
fn kind_by_name(file: &str) -> Option<PhotoKind> {
    match file.split_once('-')?.0 {
        "patch" | "pair" => Some(PhotoKind::Patch),
        "pan" => Some(PhotoKind::Pan),
        "magnet" => Some(PhotoKind::Magnet),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_name_up_to_the_first_dash_tells_the_kind() {
        for (name, kind) in [
            ("patch-01.jpg", Some(PhotoKind::Patch)),
            ("pair-1b.jpg", Some(PhotoKind::Patch)),
            ("pan-02-late.jpg", Some(PhotoKind::Pan)),
            ("magnet-3.jpg", Some(PhotoKind::Magnet)),
            ("magnets.jpg", None),
            ("IMG-01.jpg", None),
        ] {
            assert_eq!(kind_by_name(name), kind, "{name}");
        }
    }

    #[test]
    fn a_file_that_is_not_there_still_gives_its_line() {
        let line = of(Path::new("nowhere/pan-9.jpg"), None, &Hints::default());
        assert_eq!(line.file, "pan-9.jpg");
        assert_eq!(line.census.kind, PhotoKind::Pan);
        assert!(line.census.problem.is_some_and(|p| p.contains("opened")));
    }
}
