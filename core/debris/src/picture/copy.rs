//! A copy of a photo that carries its pixels and nothing else.

use image::codecs::jpeg::JpegEncoder;
use image::imageops::FilterType;
use image::{DynamicImage, RgbImage};

use super::decode::{Unreadable, decode};

/// JPEG quality of copies: no blocks to be seen on a particle's edge, a tenth of the size.
const QUALITY: u8 = 85;

/// A JPEG of the upright picture without any metadata, its longer side at most `max_side_px`.
pub fn copy_without_metadata(bytes: &[u8], max_side_px: u32) -> Result<Vec<u8>, Unreadable> {
    let upright = decode(bytes)?;
    let (width, height) = (upright.width as u32, upright.height as u32);
    let image = RgbImage::from_raw(width, height, upright.rgb)
        .map(DynamicImage::ImageRgb8)
        .ok_or(Unreadable::NotAPhoto)?;
    let side = max_side_px.max(1);
    let image = if width.max(height) > side {
        // Bring it near by plain averaging first, which is fast; then filter.
        let near = if width.max(height) > 3 * side {
            image.thumbnail(2 * side, 2 * side)
        } else {
            image
        };
        near.resize(side, side, FilterType::Triangle)
    } else {
        image
    };
    let mut out = Vec::new();
    image
        .write_with_encoder(JpegEncoder::new_with_quality(&mut out, QUALITY))
        .map_err(|error| Unreadable::Damaged(error.to_string()))?;
    Ok(out)
}
