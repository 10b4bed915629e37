//! Grows the trees that a census judges by, from photos with truth:
//!
//! `fit_classes OUT FOLDER...` writes `first.bin`, `second.bin`, `pieces.bin` and `lengths.bin`, grown on all
//! photos;
//! `fit_classes --folds N LINES.jsonl FOLDER...` parts the photos into N folds and writes, for each
//! photo, the census by trees that have not seen its fold, for `score.py`;
//! `fit_classes --apart LINES.jsonl FOLDER...` does so with each folder as one fold, which shows
//! what carries over from one renderer to another.
//!
//! All photos are searched by the finder that ships, whatever it learned from, so these trees know nothing of what
//! it says. The trees that do learn from photos which the finder that searched them had not met:
//!
//! `fit_classes --lessons FINDER LESSONS.jsonl FOLDER...` searches photos by a finder and writes their pieces;
//! `fit_classes --proposals OUT.bin LESSONS.jsonl|PACK.zip...` grows the trees on them, each file being a folder. A pack is
//! what a shop handed on (`swarfbook lessons export`): pieces that its technicians confirmed or corrected, with their
//! figures by the finder that shipped then; one by another finder than this program's is refused;
//! `fit_classes --lengths OUT.bin LESSONS.jsonl|PACK.zip...` grows the forest of lengths on them.
//!
//! A folder holds photos, `hints.json` and `truth/NAME.json`. Same photos, same trees. Pieces are
//! learned from as trees that had not seen their photo outline them: as they will be met.

mod boost;
mod dice;
mod grow;
mod pack;
mod truth;

use std::error::Error;
use std::fs;
use std::io::{BufWriter, Write};
use std::path::Path;

use swarfbook_debris::fit::{
    Finder, Judges, LengthForest, OWN_LOOKS, PieceTrees, PixelTrees, Sights, read_by,
};
use swarfbook_debris::{CensusLine, Settings};

use boost::{Boost, boost};
use grow::{How, Lessons, grow, mean};
use truth::{Photo, PieceLesson, PixelLesson, at_scale, load, piece_lessons, pixel_lessons};

/// Pixels: many lessons, little time for each pixel of a photo.
const PIXELS: Boost = Boost {
    rounds: 80,
    rate: 0.1,
    leaves: 31,
    deep: 6,
    leaf: 30,
    drawn: 130_000,
    share: 1.0,
    figures: 0.5,
};
/// Pieces: few lessons, so small steps and small trees.
const PIECES: Boost = Boost {
    rounds: 120,
    rate: 0.06,
    leaves: 15,
    deep: 14,
    leaf: 10,
    drawn: 40_000,
    share: 0.7,
    figures: 0.4,
};
/// Pieces as a finder proposes them: more figures, so smaller steps.
const PROPOSALS: Boost = Boost {
    rounds: 300,
    rate: 0.024,
    ..PIECES
};

/// Lengths: a forest, whose spread is needed too. Common values, not searched.
const LENGTHS: How = How {
    trees: 40,
    figures: 13,
    limits: 12,
    leaf: 8,
    judged: 2000,
    drawn: 40_000,
};

/// Pieces are learned from at these scales, too: lengths must not hang on the pixels a millimetre.
const SCALES: [f64; 2] = [0.7, 1.4];

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
        Some("--lessons") => return write_lessons(&arguments[1..]),
        Some("--proposals") => return grow_proposals(&arguments[1..]),
        Some("--lengths") => return grow_lengths(&arguments[1..]),
        Some("--apart") => {
            apart = true;
            arguments.remove(0);
        }
        _ => {}
    }
    let (out, folders) = arguments
        .split_first()
        .ok_or("say where to write, and the folders")?;
    let finder = Finder::built_in()?;
    let mut photos = Vec::new();
    for (k, folder) in folders.iter().enumerate() {
        load(Path::new(folder), k, &finder, &mut photos)?;
    }
    let count = if apart {
        folders.len()
    } else {
        folds.unwrap_or(5)
    };
    let fold_of = |p: &Photo| if apart { p.folder } else { p.group % count };
    // Without the k-th fold, or with all at k = count.
    let without = |pixels: &[Vec<PixelLesson>], k: usize| {
        let kept = photos.iter().zip(pixels).filter(|(p, _)| fold_of(p) != k);
        pixel_trees(&kept.flat_map(|(_, l)| l).collect::<Vec<_>>())
    };
    let pixels: Vec<_> = photos.iter().map(|p| pixel_lessons(p, None)).collect();
    let total: usize = pixels.iter().map(Vec::len).sum();
    eprintln!("{} photos, {total} pixels", photos.len());
    let first: Vec<PixelTrees> = (0..=count).map(|k| without(&pixels, k)).collect();
    eprintln!("first sight is learned");
    let pixels: Vec<_> = photos
        .iter()
        .map(|p| pixel_lessons(p, Some(&first[fold_of(p)])))
        .collect();
    let by_fold: Vec<Sights> = (first.into_iter().enumerate())
        .map(|(k, first)| Sights {
            first,
            second: without(&pixels, k),
        })
        .collect();
    drop(pixels);
    eprintln!("second sight is learned");
    let lessons: Vec<Vec<PieceLesson>> = photos
        .iter()
        .map(|p| {
            let sights = &by_fold[fold_of(p)];
            let of = |p: &Photo| piece_lessons(&p.lesson.pieces(&p.upright, sights), p);
            let mut all = of(p);
            SCALES
                .iter()
                .for_each(|s| all.extend(of(&at_scale(p, &finder, *s))));
            all
        })
        .collect();
    eprintln!("{} pieces", lessons.iter().map(Vec::len).sum::<usize>());
    if folds.is_none() && !apart {
        let out = Path::new(out);
        let all: Vec<_> = lessons.iter().flatten().collect();
        fs::write(out.join("first.bin"), by_fold[count].first.to_bytes())?;
        fs::write(out.join("second.bin"), by_fold[count].second.to_bytes())?;
        fs::write(
            out.join("pieces.bin"),
            piece_trees(&all, OWN_LOOKS, PIECES).to_bytes(),
        )?;
        fs::write(
            out.join("lengths.bin"),
            length_forest(&all, OWN_LOOKS).to_bytes(),
        )?;
        return Ok(());
    }
    let mut file = fs::File::create(out)?;
    for (k, pixels) in by_fold.into_iter().take(count).enumerate() {
        let kept = photos.iter().zip(&lessons).filter(|(p, _)| fold_of(p) != k);
        let kept: Vec<_> = kept.flat_map(|(_, l)| l).collect();
        let judges = Judges {
            finder: finder.clone(),
            pixels,
            pieces: piece_trees(&kept, OWN_LOOKS, PIECES),
            proposals: PieceTrees::default(),
            lengths: length_forest(&kept, OWN_LOOKS),
        };
        for photo in photos.iter().filter(|p| fold_of(p) == k) {
            let settings = Settings { kind: photo.kind };
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

fn pixel_trees(all: &[&PixelLesson]) -> PixelTrees {
    PixelTrees::new(boost(
        &boost::Lessons {
            looks: all.iter().map(|l| l.looks.as_slice()).collect(),
            outcome: all.iter().map(|l| usize::from(l.piece)).collect(),
            folder: all.iter().map(|l| l.folder).collect(),
        },
        PIXELS,
    ))
}

/// The pieces of photos as a finder proposes them and the pixel trees that ship outline them.
fn write_lessons(arguments: &[String]) -> Result<(), Box<dyn Error>> {
    let [finder, out, folders @ ..] = arguments else {
        return Err("say the finder, where to write, and the folders".into());
    };
    let finder = Finder::from_bytes(&fs::read(finder)?)?;
    let sights = Judges::built_in()?.pixels;
    let mut file = BufWriter::new(fs::File::create(out)?);
    for folder in folders {
        let mut photos = Vec::new();
        load(Path::new(folder), 0, &finder, &mut photos)?;
        for photo in &photos {
            let seen = photo.lesson.pieces(&photo.upright, &sights);
            for lesson in piece_lessons(&seen, photo) {
                writeln!(file, "{}", serde_json::to_string(&lesson)?)?;
            }
        }
    }
    Ok(file.flush()?)
}

/// Lessons as written, each file being a folder.
fn read_lessons(files: &[String]) -> Result<Vec<PieceLesson>, Box<dyn Error>> {
    let mut lessons = Vec::new();
    for (folder, file) in files.iter().enumerate() {
        if file.ends_with(".zip") {
            let pack = pack::lessons(Path::new(file), folder)?;
            eprintln!("{file}: {} lessons", pack.len());
            lessons.extend(pack);
            continue;
        }
        for line in fs::read_to_string(file)?.lines() {
            let lesson: PieceLesson = serde_json::from_str(line)?;
            lessons.push(PieceLesson { folder, ..lesson });
        }
    }
    Ok(lessons)
}

/// Trees by all figures.
fn grow_proposals(arguments: &[String]) -> Result<(), Box<dyn Error>> {
    let (out, files) = arguments
        .split_first()
        .ok_or("say where to write, and the lessons")?;
    let lessons = read_lessons(files)?;
    let all: Vec<_> = lessons.iter().collect();
    fs::write(out, piece_trees(&all, usize::MAX, PROPOSALS).to_bytes())?;
    Ok(())
}

/// A forest of lengths by all figures.
fn grow_lengths(arguments: &[String]) -> Result<(), Box<dyn Error>> {
    let (out, files) = arguments
        .split_first()
        .ok_or("say where to write, and the lessons")?;
    let lessons = read_lessons(files)?;
    let all: Vec<_> = lessons.iter().collect();
    fs::write(out, length_forest(&all, usize::MAX).to_bytes())?;
    Ok(())
}

/// Trees by the first so many figures.
fn piece_trees(all: &[&PieceLesson], figures: usize, how: Boost) -> PieceTrees {
    boost(
        &boost::Lessons {
            looks: (all.iter())
                .map(|l| &l.looks[..figures.min(l.looks.len())])
                .collect(),
            outcome: all.iter().map(|l| l.outcome).collect(),
            folder: all.iter().map(|l| l.folder).collect(),
        },
        how,
    )
}

/// A forest by the first so many figures.
fn length_forest(all: &[&PieceLesson], figures: usize) -> LengthForest {
    let (looks, longer) = all
        .iter()
        .filter_map(|l| Some((&l.looks[..figures.min(l.looks.len())], l.longer?)))
        .unzip();
    grow(&Lessons { looks, longer }, LENGTHS, mean)
}
