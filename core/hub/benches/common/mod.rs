//! A photo of any size, from one of the demo's, and what a program holds.
#![allow(dead_code)] // each bench uses what it needs

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

/// The same with the grain of a sensor (rms about 4 of 255), without which a JPEG of
/// that size is lighter and read faster than a phone's.
pub fn grainy_jpeg(width: u32, height: u32) -> Vec<u8> {
    let photo = image::load_from_memory(PATCH).expect("a photo").to_rgb8();
    let mut large = resize(&photo, width, height, FilterType::Triangle);
    let mut state = 1_u32;
    for byte in large.iter_mut() {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        // Even over -7 to 7.
        let grain = (state >> 24) as u8 % 15;
        *byte = byte.saturating_add(grain).saturating_sub(7);
    }
    let mut bytes = Vec::new();
    JpegEncoder::new_with_quality(&mut bytes, 90)
        .encode(&large, width, height, ExtendedColorType::Rgb8)
        .expect("encodes");
    bytes
}

/// The most memory that a running process held, by the system's own mark.
pub fn high_water_mb(process: u32) -> Option<f64> {
    let status = std::fs::read_to_string(format!("/proc/{process}/status")).ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    let kb: f64 = line.split_whitespace().nth(1)?.parse().ok()?;
    Some(kb / 1024.0)
}
