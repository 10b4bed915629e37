//! Grows the two forests that a census judges by, from photos with truth:
//!
//! `fit_classes OUT FOLDER...` writes `OUT/pixels.bin` and `OUT/forest.bin`, grown on all photos;
//! `fit_classes --folds N LINES.jsonl FOLDER...` parts the photos into N folds and writes, for each
//! photo, the census by forests that have not seen its fold, for `score.py`;
//! `fit_classes --apart LINES.jsonl FOLDER...` does so with each folder as one fold, which shows
//! what carries over from one renderer to another.
//!
//! A folder holds photos, `hints.json` and `truth/NAME.json`. Same photos, same forests. Pieces are
//! learned from as forests that had not seen their photo outline them: as they will be met.

mod dice;
mod grow;
mod truth;

use std::error::Error;
use std::fs;
use std::io::Write;
use std::path::Path;

use swarfbook_debris::fit::{Forest, Judges, Node, PixelForest, PixelNode, read_by};
use swarfbook_debris::{CensusLine, Settings};

use grow::{Grown, How, Lessons, grow};
use truth::{Photo, PieceLesson, load, piece_lessons};

/// Common values, not searched: enough trees that more change little, figures near the root of their
/// number, leaves that hold a few lessons.
const PIXELS: How = How {
    trees: 12,
    outcomes: 2,
    figures: 7,
    limits: 10,
    leaf: 20,
    judged: 1500,
    drawn: 120_000,
};
const PIECES: How = How {
    trees: 80,
    outcomes: 10,
    figures: 9,
    limits: 12,
    leaf: 2,
    judged: 2000,
    drawn: 40_000,
};

fn main() -> Result<(), Box<dyn Error>> {
    let mut arguments: Vec<String> = std::env::args().skip(1).collect();
    let mut folds = None;
    let mut apart = false;
    match arguments.first().map(String::as_str) {
        Some("--folds") => {
            folds = Some(
                arguments
                    .get(1)
                    .ok_or("--folds needs a number")?
                    .parse::<usize>()?,
            );
            arguments.drain(..2);
        }
        Some("--apart") => {
            apart = true;
            arguments.remove(0);
        }
        _ => {}
    }
    let (out, folders) = arguments
        .split_first()
        .ok_or("say where to write, and the folders")?;
    let mut photos = Vec::new();
    for (k, folder) in folders.iter().enumerate() {
        load(Path::new(folder), k, &mut photos)?;
    }
    let pixels: usize = photos.iter().map(|p| p.pixels.len()).sum();
    eprintln!("{} photos, {pixels} pixels", photos.len());
    let count = if apart {
        folders.len()
    } else {
        folds.unwrap_or(5)
    };
    let fold_of = |p: &Photo| if apart { p.folder } else { p.group % count };
    let by_fold: Vec<PixelForest> = (0..count)
        .map(|k| pixel_forest(&photos, |p| fold_of(p) != k))
        .collect();
    eprintln!("pixels are learned");
    let lessons: Vec<Vec<PieceLesson>> = photos
        .iter()
        .map(|p| piece_lessons(&p.lesson.pieces(&p.upright, &by_fold[fold_of(p)]), p))
        .collect();
    eprintln!("{} pieces", lessons.iter().map(Vec::len).sum::<usize>());
    if folds.is_none() && !apart {
        let out = Path::new(out);
        fs::write(
            out.join("pixels.bin"),
            pixel_forest(&photos, |_| true).to_bytes(),
        )?;
        fs::write(
            out.join("forest.bin"),
            piece_forest(lessons.iter().flatten()).to_bytes(),
        )?;
        return Ok(());
    }
    let mut file = fs::File::create(out)?;
    for (k, pixels) in by_fold.into_iter().enumerate() {
        let kept = photos.iter().zip(&lessons).filter(|(p, _)| fold_of(p) != k);
        let judges = Judges {
            pixels,
            pieces: piece_forest(kept.flat_map(|(_, l)| l)),
        };
        for photo in photos.iter().filter(|p| fold_of(p) == k) {
            let settings = Settings {
                kind: photo.kind,
                threads: 1,
            };
            let census = read_by(&judges, &photo.upright, &photo.hints, &settings);
            let line = CensusLine {
                file: photo.file.clone(),
                census,
                decode_ms: 0.0,
                ms: 0.0,
            };
            writeln!(file, "{}", serde_json::to_string(&line)?)?;
        }
    }
    Ok(())
}

fn pixel_forest(photos: &[Photo], keep: impl Fn(&Photo) -> bool) -> PixelForest {
    let all: Vec<_> = photos
        .iter()
        .filter(|p| keep(p))
        .flat_map(|p| &p.pixels)
        .collect();
    let lessons = Lessons {
        looks: all.iter().map(|l| l.looks.as_slice()).collect(),
        outcomes: all.iter().map(|l| usize::from(l.piece)).collect(),
    };
    let node = |n: Grown| match n {
        Grown::Split {
            figure,
            limit,
            below,
        } => PixelNode::Split {
            figure,
            limit,
            below,
        },
        Grown::Leaf(shares) => PixelNode::Leaf(shares[1] as f32),
    };
    PixelForest {
        trees: grow(&lessons, PIXELS)
            .into_iter()
            .map(|t| t.into_iter().map(node).collect())
            .collect(),
    }
}

fn piece_forest<'a>(lessons: impl Iterator<Item = &'a PieceLesson>) -> Forest {
    let all: Vec<_> = lessons.collect();
    let lessons = Lessons {
        looks: all.iter().map(|l| l.looks.as_slice()).collect(),
        outcomes: all.iter().map(|l| l.outcome).collect(),
    };
    let node = |n: Grown| match n {
        Grown::Split {
            figure,
            limit,
            below,
        } => Node::Split {
            figure,
            limit,
            below,
        },
        Grown::Leaf(shares) => {
            Node::Leaf(std::array::from_fn(|k| (shares[k] * 255.0).round() as u8))
        }
    };
    Forest {
        trees: grow(&lessons, PIECES)
            .into_iter()
            .map(|t| t.into_iter().map(node).collect())
            .collect(),
    }
}
