//! A photo with its truth, searched once.

use std::collections::HashMap;
use std::error::Error;
use std::fs;
use std::path::Path;

use image::RgbImage;
use image::imageops::{FilterType, resize};
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use swarfbook_debris::fit::{Finder, Lesson, PixelTrees, Sample};
use swarfbook_debris::{Upright, decode};
use swarfbook_job::census::{DebrisClass, PhotoHints, PhotoKind};

/// Pixels of a candidate that are learned from, at most.
const PIXELS: usize = 24;

/// ln of true over measured length is taken as this at most: beyond it they are not the same piece.
const MOST_LONGER: f64 = 0.6;

pub struct Photo {
    pub file: String,
    /// Folder and place in it; the two of a pair have one.
    pub folder: usize,
    pub group: usize,
    pub upright: Upright,
    pub hints: PhotoHints,
    pub kind: PhotoKind,
    pub lesson: Lesson,
    truth: Value,
}

#[derive(Clone)]
pub struct PixelLesson {
    pub folder: usize,
    pub looks: Vec<f32>,
    pub piece: bool,
}

#[derive(Clone, Serialize, Deserialize)]
pub struct PieceLesson {
    #[serde(skip)]
    pub folder: usize,
    pub looks: Vec<f32>,
    pub outcome: usize,
    /// ln of true over measured length, of a particle.
    pub longer: Option<f64>,
}

/// Loads a folder: photos, `hints.json` and `truth/NAME.json`.
pub fn load(
    path: &Path,
    folder: usize,
    finder: &Finder,
    photos: &mut Vec<Photo>,
) -> Result<(), Box<dyn Error>> {
    let hints: HashMap<String, PhotoHints> =
        serde_json::from_str(&fs::read_to_string(path.join("hints.json"))?)?;
    let mut files: Vec<_> = fs::read_dir(path)?
        .filter_map(|e| Some(e.ok()?.path()))
        .collect();
    files.sort();
    let mut group = 0;
    for path_of in files
        .iter()
        .filter(|p| p.extension().is_some_and(|e| e == "jpg"))
    {
        let stem = path_of
            .file_stem()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        let truth = path.join("truth").join(format!("{stem}.json"));
        let Ok(truth) = fs::read_to_string(truth) else {
            continue;
        };
        let truth: Value = serde_json::from_str(&truth)?;
        let file = format!("{stem}.jpg");
        let hints = hints.get(&file).cloned().unwrap_or_default();
        let kind = hints.kind.unwrap_or(match stem.split('-').next() {
            Some("pan") => PhotoKind::Pan,
            Some("magnet") => PhotoKind::Magnet,
            _ => PhotoKind::Patch,
        });
        let upright = decode(&fs::read(path_of)?)?;
        let lesson = Lesson::new(&upright, &hints, kind, finder);
        if !stem.ends_with("1b") {
            group += 1;
        }
        photos.push(Photo {
            file,
            folder,
            group,
            upright,
            hints,
            kind,
            lesson,
            truth,
        });
    }
    Ok(())
}

/// The same photo with so many times the pixels a millimetre: what another camera, or one not as
/// sharp, makes of the same pieces.
pub fn at_scale(photo: &Photo, finder: &Finder, scale: f64) -> Photo {
    let Upright { width, height, .. } = photo.upright;
    let size = |v: usize| (v as f64 * scale).round() as u32;
    let (wide, high) = (size(width), size(height));
    let whole = RgbImage::from_raw(width as u32, height as u32, photo.upright.rgb.clone());
    let upright = Upright {
        width: wide as usize,
        height: high as usize,
        rgb: resize(
            &whole.unwrap_or_default(),
            wide,
            high,
            FilterType::CatmullRom,
        )
        .into_raw(),
        lens: photo.upright.lens,
    };
    let mut hints = photo.hints.clone();
    let to = |p: [f64; 2]| p.map(|v| v * scale);
    hints.fluid_at = hints.fluid_at.map(to);
    hints.subject_at = hints.subject_at.map(to);
    hints.taps = hints.taps.map(|taps| taps.map(to));
    let pieces: Vec<Value> = particles(&photo.truth)
        .iter()
        .map(|q| {
            let mut q = q.clone();
            q["x_px"] = json!(number(&q["x_px"]) * scale);
            q["y_px"] = json!(number(&q["y_px"]) * scale);
            q["visible_px"] = json!(number(&q["visible_px"]) * scale * scale);
            q["polygon_px"] = Value::Null;
            q
        })
        .collect();
    Photo {
        file: photo.file.clone(),
        folder: photo.folder,
        group: photo.group,
        lesson: Lesson::new(&upright, &hints, photo.kind, finder),
        upright,
        hints,
        kind: photo.kind,
        truth: json!({ "particles": pieces }),
    }
}

fn number(v: &Value) -> f64 {
    v.as_f64().unwrap_or(0.0)
}

fn particles(truth: &Value) -> &[Value] {
    truth["particles"].as_array().map_or(&[], Vec::as_slice)
}

/// Pixels with whether a piece covers them, at first sight or at second by the first trees; those of
/// pieces hidden for the most part are left out.
pub fn pixel_lessons(photo: &Photo, first: Option<&PixelTrees>) -> Vec<PixelLesson> {
    let (upright, truth) = (&photo.upright, &photo.truth);
    let mut cover = vec![0u8; upright.width * upright.height];
    for q in particles(truth) {
        let value = if number(&q["visible"]) < 0.5 { 2 } else { 1 };
        let polygon: Vec<[f64; 2]> =
            serde_json::from_value(q["polygon_px"].clone()).unwrap_or_default();
        fill(&mut cover, upright.width, &polygon, value);
    }
    let mut out = Vec::new();
    for (px, looks) in photo
        .lesson
        .pixels(upright, first, PIXELS)
        .into_iter()
        .flatten()
    {
        let at = px[1] as usize * upright.width + px[0] as usize;
        match cover.get(at) {
            Some(2) | None => {}
            Some(v) => out.push(PixelLesson {
                folder: photo.folder,
                looks,
                piece: *v == 1,
            }),
        }
    }
    out
}

fn fill(cover: &mut [u8], width: usize, polygon: &[[f64; 2]], value: u8) {
    let low = polygon
        .iter()
        .map(|p| p[1])
        .fold(f64::INFINITY, f64::min)
        .max(0.0) as usize;
    let high = polygon.iter().map(|p| p[1]).fold(0.0, f64::max) as usize;
    for y in low..=high.min(cover.len() / width - 1) {
        let v = y as f64 + 0.5;
        let mut ends: Vec<f64> = Vec::new();
        for i in 0..polygon.len() {
            let (a, b) = (polygon[i], polygon[(i + 1) % polygon.len()]);
            if (a[1] <= v) != (b[1] <= v) {
                ends.push(a[0] + (v - a[1]) / (b[1] - a[1]) * (b[0] - a[0]));
            }
        }
        ends.sort_by(f64::total_cmp);
        for pair in ends.chunks_exact(2) {
            let place = |x: f64| ((x + 0.5).max(0.0) as usize).min(width);
            let line = y * width;
            cover[line + place(pair[0])..line + place(pair[1]).max(place(pair[0]))].fill(value);
        }
    }
}

/// Pairs pieces with the truth, nearest and most alike in size first; a piece left over is no
/// particle, a piece on one that is hidden or too small to be seen teaches nothing.
pub fn piece_lessons(seen: &[Sample], photo: &Photo) -> Vec<PieceLesson> {
    let real = particles(&photo.truth);
    let mut pairs = Vec::new();
    for (i, s) in seen.iter().enumerate() {
        for (j, q) in real.iter().enumerate() {
            let feret = number(&q["feret_max_mm"]);
            let (dx, dy) = (
                s.centre_px[0] - number(&q["x_px"]),
                s.centre_px[1] - number(&q["y_px"]),
            );
            let distance = dx.hypot(dy) / photo.lesson.px_per_mm;
            if distance <= (0.5 * feret).max(0.3) {
                pairs.push((distance / feret + (s.feret_max_mm / feret).ln().abs(), i, j));
            }
        }
    }
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut truth_of = vec![None; seen.len()];
    let mut taken = vec![false; real.len()];
    for (_, i, j) in pairs {
        if truth_of[i].is_none() && !taken[j] {
            truth_of[i] = Some(j);
            taken[j] = true;
        }
    }
    let mut lessons = Vec::new();
    for (i, s) in seen.iter().enumerate() {
        let outcome = match truth_of[i].map(|j| &real[j]) {
            None => 0,
            Some(q) if number(&q["visible"]) < 0.5 || number(&q["visible_px"]) < 12.0 => continue,
            Some(q) => {
                let Ok(class) = serde_json::from_value::<DebrisClass>(q["class"].clone()) else {
                    continue;
                };
                DebrisClass::LEARNED
                    .iter()
                    .position(|c| *c == class)
                    .map_or(0, |k| k + 1)
            }
        };
        let longer = truth_of[i].map(|j| (number(&real[j]["feret_max_mm"]) / s.feret_max_mm).ln());
        lessons.push(PieceLesson {
            folder: photo.folder,
            looks: s.looks.clone(),
            outcome,
            longer: longer.map(|l| l.clamp(-MOST_LONGER, MOST_LONGER)),
        });
    }
    lessons
}
