//! Writes an invented report, to look at:
//! `sample_report OUT.html|OUT.pdf [PHOTO...] [--letter] [--lang TAG] [--without FIELD]`.
//!
//! The photos are shrunk and re-encoded, and stand in the places of the sample's: a
//! patch, a magnet, the pan, the patch after the magnet; more are added. Outlines are
//! invented too. Without photos the report says that they are not in the file.
//! `--without` empties a field of the content (`wear`, `fluid.swatches`), to see that
//! its absence is noticed. The same arguments give the same bytes.

use std::error::Error;
use std::path::{Path, PathBuf};
use std::time::Instant;

use serde_json::Value;
use swarfbook_job::id::Sha256Hex;
use swarfbook_report::content::{Content, Photos};
use swarfbook_report::{Paper, render, render_pdf};

#[path = "../tests/common/mod.rs"]
mod sample;

#[derive(Default)]
struct Asked {
    out: PathBuf,
    photos: Vec<PathBuf>,
    letter: bool,
    lang: Option<String>,
    without: Option<String>,
}

fn main() -> Result<(), Box<dyn Error>> {
    let asked = asked()?;
    let mut content = sample::content();
    let mut photos = Photos::new();
    for (at, path) in asked.photos.iter().enumerate() {
        show(&mut content, &mut photos, at, shrunk(path)?);
    }
    if let Some(path) = asked.photos.first() {
        close_ups(&mut content, &mut photos, path)?;
    }
    if let Some(lang) = asked.lang {
        content.lang = lang;
    }
    if let Some(field) = asked.without {
        content = without(&content, &field)?;
    }
    let paper = if asked.letter {
        Paper::Letter
    } else {
        Paper::A4
    };
    let begun = Instant::now();
    let bytes = match asked.out.extension().and_then(|form| form.to_str()) {
        Some("pdf") => render_pdf(&content, &photos, paper)?,
        _ => render(&content, &photos)?.into_bytes(),
    };
    let took = begun.elapsed();
    std::fs::write(&asked.out, &bytes)?;
    println!("{} bytes, {} ms", bytes.len(), took.as_millis());
    Ok(())
}

fn asked() -> Result<Asked, Box<dyn Error>> {
    let mut asked = Asked::default();
    let mut arguments = std::env::args().skip(1);
    asked.out = arguments
        .next()
        .ok_or("say where to write: OUT.html or OUT.pdf")?
        .into();
    while let Some(word) = arguments.next() {
        match word.as_str() {
            "--letter" => asked.letter = true,
            "--lang" => asked.lang = arguments.next(),
            "--without" => asked.without = arguments.next(),
            photo => asked.photos.push(photo.into()),
        }
    }
    Ok(asked)
}

/// Three squares of a photo as close-ups.
fn close_ups(
    content: &mut Content,
    photos: &mut Photos,
    path: &Path,
) -> Result<(), Box<dyn Error>> {
    let picture = image::open(path)?.to_rgb8();
    let side = picture.width().min(picture.height()) / 6;
    let mut copies = Vec::new();
    for n in 2..5 {
        let square = image::imageops::crop_imm(&picture, side * n, side * 2, side, side);
        let mut bytes = Vec::new();
        image::codecs::jpeg::JpegEncoder::new_with_quality(&mut bytes, 85)
            .encode_image(&square.to_image())?;
        let copy = Sha256Hex::of(&bytes);
        photos.insert(copy, bytes);
        copies.push((copy, [side, side]));
    }
    content.letter.close_ups = sample::close_ups(&copies);
    Ok(())
}

/// The content with one field empty; dots lead into fields of fields.
fn without(content: &Content, field: &str) -> Result<Content, Box<dyn Error>> {
    let mut tree = serde_json::to_value(content)?;
    let mut place = &mut tree;
    for name in field.split('.') {
        place = place
            .get_mut(name)
            .ok_or_else(|| format!("the content has no field {field}"))?;
    }
    *place = if place.is_array() {
        Value::Array(Vec::new())
    } else {
        Value::Null
    };
    // What pointed into it must not point into nothing.
    if field == "photos" {
        tree["deciding"] = Value::Null;
    }
    Ok(serde_json::from_value(tree)?)
}

/// At most 1200 px, JPEG, nothing but the picture.
fn shrunk(path: &Path) -> Result<(Vec<u8>, [u32; 2]), Box<dyn Error>> {
    let picture = image::open(path)?.thumbnail(1200, 1200).to_rgb8();
    let mut bytes = Vec::new();
    image::codecs::jpeg::JpegEncoder::new_with_quality(&mut bytes, 78).encode_image(&picture)?;
    Ok((bytes, [picture.width(), picture.height()]))
}

/// Puts a photo in the place of the sample's photo of that number, else adds one.
fn show(
    content: &mut Content,
    photos: &mut Photos,
    at: usize,
    (bytes, size_px): (Vec<u8>, [u32; 2]),
) {
    let copy = Sha256Hex::of(&bytes);
    photos.insert(copy, bytes);
    while content.photos.len() <= at {
        content.photos.extend(content.photos.last().cloned());
    }
    if let Some(photo) = content.photos.get_mut(at) {
        photo.copy = Some(copy);
        photo.size_px = size_px;
        photo.rendered = true;
    }
}
