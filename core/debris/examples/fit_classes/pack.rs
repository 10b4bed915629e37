//! A pack of lessons that a shop handed on.

use std::error::Error;
use std::fs::File;
use std::io::Read;
use std::path::Path;

use serde::Deserialize;
use swarfbook_debris::fit::{finder_sha256, names};
use zip::ZipArchive;

use super::truth::PieceLesson;

/// The most that a part may weigh unpacked: a pack comes from somebody else.
const MAX_PART_BYTES: u64 = 512 * 1024 * 1024;

#[derive(Deserialize)]
struct Manifest {
    form: String,
    version: u32,
    finder: String,
    figures: Vec<String>,
}

/// A line; what else it has is for other readers.
#[derive(Deserialize)]
struct Line {
    looks: Option<Vec<f32>>,
    outcome: usize,
}

/// The pieces of a pack that carry figures. Their lengths teach nothing: nobody measured them.
pub fn lessons(path: &Path, folder: usize) -> Result<Vec<PieceLesson>, Box<dyn Error>> {
    let mut zip = ZipArchive::new(File::open(path)?)?;
    let manifest: Manifest = serde_json::from_str(&part(&mut zip, "pack.json")?)?;
    if manifest.form != "swarfbook-lessons" || manifest.version != 1 {
        return Err(format!("{} is no pack of lessons of version 1", path.display()).into());
    }
    if manifest.finder != finder_sha256() || manifest.figures != names() {
        return Err(format!(
            "{}: its figures are by another finder than this program's. Export the lessons again by this version.",
            path.display()
        )
        .into());
    }
    let mut lessons = Vec::new();
    for (number, line) in part(&mut zip, "lessons.jsonl")?.lines().enumerate() {
        let line: Line = serde_json::from_str(line)
            .map_err(|error| format!("{}: lesson {}: {error}", path.display(), number + 1))?;
        let Some(looks) = line.looks else { continue };
        if looks.len() != names().len() || line.outcome > 9 {
            return Err(format!("{}: lesson {} is damaged", path.display(), number + 1).into());
        }
        lessons.push(PieceLesson {
            folder,
            looks,
            outcome: line.outcome,
            longer: None,
        });
    }
    Ok(lessons)
}

fn part(zip: &mut ZipArchive<File>, name: &str) -> Result<String, Box<dyn Error>> {
    let mut text = String::new();
    let part = zip.by_name(name)?;
    part.take(MAX_PART_BYTES).read_to_string(&mut text)?;
    Ok(text)
}
