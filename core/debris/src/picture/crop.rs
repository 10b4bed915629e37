//! A part of a picture as a file of its own.

use image::codecs::png::PngEncoder;
use image::{ExtendedColorType, ImageEncoder};

use super::decode::{Unreadable, Upright};

/// A PNG of the pixels from `from` to before `to` (x, y), without any metadata; what lies outside the picture is left off.
pub fn crop_png(
    upright: &Upright,
    from: [usize; 2],
    to: [usize; 2],
) -> Result<Vec<u8>, Unreadable> {
    let to = [to[0].min(upright.width), to[1].min(upright.height)];
    let (width, height) = (to[0].saturating_sub(from[0]), to[1].saturating_sub(from[1]));
    if width == 0 || height == 0 {
        return Err(Unreadable::NotAPhoto);
    }
    let mut rgb = Vec::with_capacity(3 * width * height);
    for y in from[1]..to[1] {
        let line = 3 * (y * upright.width + from[0]);
        rgb.extend_from_slice(&upright.rgb[line..line + 3 * width]);
    }
    let mut png = Vec::new();
    PngEncoder::new(&mut png)
        .write_image(&rgb, width as u32, height as u32, ExtendedColorType::Rgb8)
        .map_err(|_| Unreadable::Damaged)?;
    Ok(png)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_pixels_of_the_part_and_no_others() {
        let upright = Upright {
            width: 5,
            height: 4,
            rgb: (0..60).collect(),
            lens: None,
        };
        let png = crop_png(&upright, [1, 2], [4, 9]).unwrap();
        let back = image::load_from_memory(&png).unwrap().into_rgb8();
        assert_eq!(back.dimensions(), (3, 2));
        let line = |from: u8| (from..from + 9).collect::<Vec<_>>();
        assert_eq!(back.into_raw(), [line(33), line(48)].concat());
        assert!(crop_png(&upright, [5, 0], [9, 4]).is_err());
    }
}
