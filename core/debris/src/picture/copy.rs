//! A copy of a photo that carries its pixels and nothing else.

use image::codecs::jpeg::JpegEncoder;
use image::imageops::FilterType;
use image::{DynamicImage, RgbImage};

use super::decode::{Unreadable, Upright, decode};

/// JPEG quality of copies: no blocks to be seen on a particle's edge, a tenth of the size.
const QUALITY: u8 = 85;
/// What is tried, one after the other, to make a copy lighter.
const LIGHTER: [u8; 4] = [QUALITY, 75, 62, 48];

/// A JPEG of the upright picture without any metadata, its longer side at most `max_side_px`.
pub fn copy_without_metadata(bytes: &[u8], max_side_px: u32) -> Result<Vec<u8>, Unreadable> {
    encoded(&smaller(whole(decode(bytes)?)?, max_side_px), QUALITY)
}

/// The same of a picture that is decoded already, of at most `most_bytes`: the
/// quality gives way first, and the size where that is not enough.
pub fn copy_within(
    upright: Upright,
    max_side_px: u32,
    most_bytes: usize,
) -> Result<Vec<u8>, Unreadable> {
    let mut image = smaller(whole(upright)?, max_side_px);
    loop {
        let mut copy = Vec::new();
        for quality in LIGHTER {
            copy = encoded(&image, quality)?;
            if copy.len() <= most_bytes {
                return Ok(copy);
            }
        }
        let side = image.width().max(image.height());
        if side <= 64 {
            return Ok(copy);
        }
        image = smaller(image, side * 3 / 4);
    }
}

fn whole(upright: Upright) -> Result<DynamicImage, Unreadable> {
    let (width, height) = (upright.width as u32, upright.height as u32);
    RgbImage::from_raw(width, height, upright.rgb)
        .map(DynamicImage::ImageRgb8)
        .ok_or(Unreadable::NotAPhoto)
}

fn smaller(image: DynamicImage, max_side_px: u32) -> DynamicImage {
    let side = max_side_px.max(1);
    let longer = image.width().max(image.height());
    if longer <= side {
        return image;
    }
    // Bring it near by plain averaging first, which is fast; then filter.
    let near = if longer > 3 * side {
        image.thumbnail(2 * side, 2 * side)
    } else {
        image
    };
    near.resize(side, side, FilterType::Triangle)
}

fn encoded(image: &DynamicImage, quality: u8) -> Result<Vec<u8>, Unreadable> {
    let mut out = Vec::new();
    image
        .write_with_encoder(JpegEncoder::new_with_quality(&mut out, quality))
        .map_err(|_| Unreadable::Damaged)?;
    Ok(out)
}
