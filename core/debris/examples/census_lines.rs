//! Writes the JSON lines of a census: `census_lines PHOTO... [--hints FILE] [--finder MODEL]
//! [--proposals TREES] [--lengths FOREST]`.

use std::collections::HashMap;
use std::error::Error;
use std::path::Path;
use std::time::Instant;

use swarfbook_debris::fit::{Finder, Judges, LengthForest, PieceTrees, read_by};
use swarfbook_debris::{CensusLine, Settings, decode, unread};
use swarfbook_job::census::{PhotoHints, PhotoKind};

fn main() -> Result<(), Box<dyn Error>> {
    let mut photos = Vec::new();
    let mut hints: HashMap<String, PhotoHints> = HashMap::new();
    let mut judges = Judges::built_in()?;
    let mut arguments = std::env::args().skip(1);
    while let Some(argument) = arguments.next() {
        match argument.as_str() {
            "--hints" => {
                let file = arguments.next().ok_or("--hints needs a file")?;
                hints = serde_json::from_str(&std::fs::read_to_string(file)?)?;
            }
            "--finder" => {
                let file = arguments.next().ok_or("--finder needs a file")?;
                judges.finder = Finder::from_bytes(&std::fs::read(file)?)?;
            }
            "--proposals" => {
                let file = arguments.next().ok_or("--proposals needs a file")?;
                judges.proposals = PieceTrees::from_bytes(&std::fs::read(file)?);
            }
            "--lengths" => {
                let file = arguments.next().ok_or("--lengths needs a file")?;
                judges.lengths = LengthForest::from_bytes(&std::fs::read(file)?);
            }
            _ => photos.push(argument),
        }
    }
    for photo in photos {
        let file = Path::new(&photo)
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        let hints = hints.get(&file).cloned().unwrap_or_default();
        let kind = hints.kind.unwrap_or(match file.split('-').next() {
            Some("pan") => PhotoKind::Pan,
            Some("magnet") => PhotoKind::Magnet,
            _ => PhotoKind::Patch,
        });
        let bytes = std::fs::read(&photo)?;
        let start = Instant::now();
        let upright = decode(&bytes);
        let decode_ms = start.elapsed().as_secs_f64() * 1e3;
        let census = match &upright {
            Ok(upright) => read_by(&judges, upright, &hints, &Settings { kind }),
            Err(error) => unread(kind, error),
        };
        let ms = start.elapsed().as_secs_f64() * 1e3;
        println!(
            "{}",
            serde_json::to_string(&CensusLine {
                file,
                census,
                decode_ms,
                ms
            })?
        );
    }
    Ok(())
}
