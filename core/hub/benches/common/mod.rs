//! A photo of any size, from one of the demo's.

use image::ExtendedColorType;
use image::codecs::jpeg::JpegEncoder;
use image::imageops::{FilterType, resize};

const PATCH: &[u8] = include_bytes!("../../../app/demo/patch-10.jpg");

/// The demo's patch (rendered, not photographed) drawn larger, as JPEG.
pub fn jpeg(width: u32, height: u32) -> Vec<u8> {
    let photo = image::load_from_memory(PATCH).expect("a photo").to_rgb8();
    let large = resize(&photo, width, height, FilterType::Triangle);
    let mut bytes = Vec::new();
    JpegEncoder::new_with_quality(&mut bytes, 90)
        .encode(&large, width, height, ExtendedColorType::Rgb8)
        .expect("encodes");
    bytes
}
