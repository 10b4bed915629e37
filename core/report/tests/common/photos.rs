//! The invented job's content with copies of its photos.

use image::RgbImage;
use image::codecs::jpeg::JpegEncoder;
use swarfbook_job::id::Sha256Hex;
use swarfbook_report::content::{Content, Photos};

/// A JPEG: nothing but the picture.
pub fn encoded(picture: &RgbImage) -> Vec<u8> {
    let mut bytes = Vec::new();
    JpegEncoder::new(&mut bytes).encode_image(picture).unwrap();
    bytes
}

/// Each photo a copy of what `jpeg` makes of its number.
pub fn with_photos(mut content: Content, jpeg: impl Fn(u8) -> Vec<u8>) -> (Content, Photos) {
    let mut photos = Photos::new();
    for (shade, photo) in (10..).zip(&mut content.photos) {
        let bytes = jpeg(shade);
        let copy = Sha256Hex::of(&bytes);
        photo.copy = Some(copy);
        photos.insert(copy, bytes);
    }
    (content, photos)
}
