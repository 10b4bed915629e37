//! Writes an invented report, to look at: `sample_report OUT.html|OUT.pdf [PHOTO.jpg...] [--letter]`.
//!
//! Photos are shrunk and re-encoded; the first is shown as the pan, the second
//! as a magnet, the rest as patches. Outlines are invented too. Without photos
//! the report says that they are not in the file.

use std::error::Error;
use std::path::{Path, PathBuf};
use std::time::Instant;

use swarfbook_job::id::Sha256Hex;
use swarfbook_report::content::{Content, Photos};
use swarfbook_report::{Paper, render, render_pdf};

#[path = "../tests/common/mod.rs"]
mod sample;

fn main() -> Result<(), Box<dyn Error>> {
    let mut arguments = std::env::args_os().skip(1);
    let out: PathBuf = arguments
        .next()
        .ok_or("say where to write: OUT.html or OUT.pdf")?
        .into();
    let mut content = sample::content();
    let mut photos = Photos::new();
    let (options, photo_paths): (Vec<_>, Vec<_>) = arguments.partition(|word| word == "--letter");
    let paper = if options.is_empty() {
        Paper::A4
    } else {
        Paper::Letter
    };
    for (at, path) in photo_paths.into_iter().enumerate() {
        let bytes = shrunk(Path::new(&path))?;
        show(&mut content, &mut photos, at, bytes);
    }
    let begun = Instant::now();
    let bytes = match out.extension().and_then(|form| form.to_str()) {
        Some("pdf") => render_pdf(&content, &photos, paper)?,
        _ => render(&content, &photos)?.into_bytes(),
    };
    let took = begun.elapsed();
    std::fs::write(&out, &bytes)?;
    println!("{} bytes, {} ms", bytes.len(), took.as_millis());
    Ok(())
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
