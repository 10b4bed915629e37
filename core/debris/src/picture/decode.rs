//! Bytes to an upright picture, with limits on what is accepted.

use std::io::Cursor;

use image::{DynamicImage, ImageDecoder, ImageFormat, ImageReader, Limits};
use swarfbook_job::census::Lens;

use super::orient::{Orientation, turn};

/// Pixels that are read at most: twice what a 50 MP phone gives.
const MAX_PIXELS: u64 = 100_000_000;
/// Sides that are read at most, px.
const MAX_SIDE: u32 = 30_000;
/// Below this a side holds nothing to measure, px.
const MIN_SIDE: u32 = 64;

/// Why a photo can't be read, and what to do.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Unreadable {
    /// No bytes.
    #[error("The file is empty. Take the photo again.")]
    Empty,
    /// Neither JPEG, PNG nor WebP.
    #[error("This file is not a photo that can be read (JPEG, PNG or WebP).")]
    NotAPhoto,
    /// An HEIF container.
    #[error("HEIC photos are not supported. Take the photo in the app, or send it as JPEG.")]
    Heic,
    /// A JPEG of a process that few programs read.
    #[error(
        "This JPEG is stored in a rare way that is not supported. Take the photo in the app, or \
         save it as an ordinary JPEG."
    )]
    RareJpeg,
    /// The data ends before the picture does.
    #[error("The photo is cut short: its file ends too early. Copy it again or take it again.")]
    CutShort,
    /// The decoder gave up.
    #[error("The photo is damaged and can't be read. Copy it again or take it again.")]
    Damaged,
    /// More pixels than are read.
    #[error("The photo is too big ({width} x {height} px). At most 100 megapixels are read.")]
    TooBig {
        /// Width as the header says, px.
        width: u32,
        /// Height as the header says, px.
        height: u32,
    },
    /// Fewer pixels than can show anything.
    #[error(
        "The photo is only {width} x {height} px: nothing can be measured in it. Send the original."
    )]
    TooSmall {
        /// Width, px.
        width: u32,
        /// Height, px.
        height: u32,
    },
}

/// A decoded picture, turned upright.
#[derive(Debug, Clone, PartialEq)]
pub struct Upright {
    /// Width, px.
    pub width: usize,
    /// Height, px.
    pub height: usize,
    /// sRGB, three bytes a pixel, row by row.
    pub rgb: Vec<u8>,
    /// What the file says of the lens; `None` where it says nothing. The camera's name is not read.
    pub lens: Option<Lens>,
}

impl Upright {
    /// Focal length as for a 36 x 24 mm frame, mm, when the file says it.
    pub(crate) fn focal_35mm(&self) -> Option<f64> {
        self.lens?.focal_35mm
    }
}

/// Decodes a photo and turns it upright. The size is checked before any pixel is read.
pub fn decode(bytes: &[u8]) -> Result<Upright, Unreadable> {
    if bytes.is_empty() {
        return Err(Unreadable::Empty);
    }
    let format = image::guess_format(bytes).ok();
    if !matches!(
        format,
        Some(ImageFormat::Jpeg | ImageFormat::Png | ImageFormat::WebP)
    ) {
        return Err(if is_heif(bytes) {
            Unreadable::Heic
        } else {
            Unreadable::NotAPhoto
        });
    }
    let jpeg = (format == Some(ImageFormat::Jpeg)).then(|| jpeg_of(bytes));
    if jpeg.is_some_and(|j| j.rare) {
        return Err(Unreadable::RareJpeg);
    }
    let mut reader = ImageReader::new(Cursor::new(bytes));
    if let Some(format) = format {
        reader.set_format(format);
    }
    let mut limits = Limits::default();
    limits.max_alloc = Some(8 * MAX_PIXELS);
    reader.limits(limits);
    let decoder = reader.into_decoder().map_err(damaged)?;
    let (width, height) = decoder.dimensions();
    if u64::from(width) * u64::from(height) > MAX_PIXELS || width.max(height) > MAX_SIDE {
        return Err(Unreadable::TooBig { width, height });
    }
    if width.min(height) < MIN_SIDE {
        return Err(Unreadable::TooSmall { width, height });
    }
    if jpeg.is_some_and(|j| !j.ends || !jpeg_can_fill(bytes.len(), width, height)) {
        return Err(Unreadable::CutShort);
    }
    let rgb = DynamicImage::from_decoder(decoder)
        .map_err(damaged)?
        .into_rgb8()
        .into_raw();
    let (orientation, lens) = exif(bytes);
    let (rgb, width, height) = turn(rgb, width as usize, height as usize, orientation);
    Ok(Upright {
        width,
        height,
        rgb,
        lens,
    })
}

/// Width and height of a JPEG that has its end, without decoding it.
pub fn jpeg_size_px(bytes: &[u8]) -> Option<[u32; 2]> {
    if image::guess_format(bytes).ok()? != ImageFormat::Jpeg || !jpeg_of(bytes).ends {
        return None;
    }
    let (width, height) = ImageReader::with_format(Cursor::new(bytes), ImageFormat::Jpeg)
        .into_dimensions()
        .ok()?;
    Some([width, height])
}

fn damaged(error: image::ImageError) -> Unreadable {
    let words = error.to_string();
    if words.contains("UnexpectedEof") || words.contains("unexpected end") {
        return Unreadable::CutShort;
    }
    Unreadable::Damaged
}

/// ISO base media: a `ftyp` box with one of the HEIF brands.
fn is_heif(bytes: &[u8]) -> bool {
    let brand = |at: usize| bytes.get(at..at + 4);
    brand(4) == Some(b"ftyp")
        && [
            b"heic", b"heix", b"hevc", b"heim", b"mif1", b"msf1", b"avif",
        ]
        .iter()
        .any(|b| brand(8) == Some(b.as_slice()))
}

/// What the markers of a JPEG tell before it is decoded.
#[derive(Debug, Clone, Copy)]
struct Jpeg {
    /// Neither baseline, extended nor progressive with Huffman codes (ITU-T T.81, table B.1).
    rare: bool,
    /// The end-of-image marker follows the first scan. Inside a scan each 0xFF is stuffed
    /// (B.1.1.5), so the marker can't occur by chance.
    ends: bool,
}

fn jpeg_of(bytes: &[u8]) -> Jpeg {
    let mut jpeg = Jpeg {
        rare: false,
        ends: false,
    };
    let mut at = 2;
    while let (Some(0xFF), Some(&marker)) = (bytes.get(at), bytes.get(at + 1)) {
        if marker == 0xDA {
            jpeg.ends = bytes[at..].windows(2).any(|w| w == [0xFF, 0xD9]);
            break;
        }
        jpeg.rare |= matches!(marker, 0xC3 | 0xC5..=0xC7 | 0xC9..=0xCB | 0xCD..=0xCF);
        let (Some(&high), Some(&low)) = (bytes.get(at + 2), bytes.get(at + 3)) else {
            break;
        };
        at += if marker == 0xFF {
            1
        } else {
            2 + usize::from(high) * 256 + usize::from(low)
        };
    }
    jpeg
}

/// Whether a file of `length` bytes can hold a picture of that size at all. Each square of 8 px
/// takes at least one bit of entropy-coded data, its DC code (ITU-T T.81, F.1.2.1); the decoder
/// fills what is missing with grey, which would pass for a clean patch.
fn jpeg_can_fill(length: usize, width: u32, height: u32) -> bool {
    let squares = u64::from(width.div_ceil(8)) * u64::from(height.div_ceil(8));
    length as u64 * 8 >= squares
}

/// How the picture is to be turned, and its lens. The camera's name is not read.
fn exif(bytes: &[u8]) -> (Orientation, Option<Lens>) {
    // Many writers leave a faulty entry behind; the entries before it still hold.
    let tags = exif::Reader::new()
        .continue_on_error(true)
        .read_from_container(&mut Cursor::new(bytes))
        .or_else(|error| error.distill_partial_result(|_| {}));
    let Ok(tags) = tags else {
        return (Orientation::from_exif(1), None);
    };
    let orientation = whole(&tags, exif::Tag::Orientation).unwrap_or(1);
    (Orientation::from_exif(orientation), lens(&tags))
}

fn whole(tags: &exif::Exif, tag: exif::Tag) -> Option<u32> {
    let field = tags.get_field(tag, exif::In::PRIMARY)?;
    field.value.get_uint(0)
}

fn lens(tags: &exif::Exif) -> Option<Lens> {
    let focal = tags.get_field(exif::Tag::FocalLength, exif::In::PRIMARY);
    let focal_mm = focal.and_then(|field| match &field.value {
        exif::Value::Rational(values) => values.first().map(exif::Rational::to_f64),
        _ => None,
    });
    let focal_35mm = whole(tags, exif::Tag::FocalLengthIn35mmFilm).map(f64::from);
    let lens = Lens {
        focal_mm: focal_mm.filter(|mm| (0.5..=1000.0).contains(mm)),
        focal_35mm: focal_35mm.filter(|mm| (10.0..=200.0).contains(mm)),
    };
    (lens.focal_mm.is_some() || lens.focal_35mm.is_some()).then_some(lens)
}

#[cfg(test)]
mod tests {
    use exif::experimental::Writer;
    use exif::{Field, In, Rational, Tag, Value};
    use image::ImageEncoder;
    use image::codecs::jpeg::JpegEncoder;

    use super::*;

    fn jpeg(tags: &[(Tag, Value)]) -> Vec<u8> {
        let fields: Vec<Field> = tags
            .iter()
            .map(|(tag, value)| Field {
                tag: *tag,
                ifd_num: In::PRIMARY,
                value: value.clone(),
            })
            .collect();
        let mut writer = Writer::new();
        fields.iter().for_each(|field| writer.push_field(field));
        let mut exif = Cursor::new(Vec::new());
        writer.write(&mut exif, true).unwrap();
        let mut bytes = Vec::new();
        let mut encoder = JpegEncoder::new(&mut bytes);
        encoder.set_exif_metadata(exif.into_inner()).unwrap();
        let grey = image::RgbImage::from_pixel(80, 64, image::Rgb([200; 3]));
        encoder.encode_image(&grey).unwrap();
        bytes
    }

    /// Tags of EXIF 2.32 (CIPA DC-008): FocalLength 0x920A, FocalLengthIn35mmFilm 0xA405.
    #[test]
    fn the_lens_is_read_and_the_camera_is_not() {
        let millimetres = |num, denom| Value::Rational(vec![Rational { num, denom }]);
        let model = (Tag::Model, Value::Ascii(vec![b"Invented".to_vec()]));
        let both = jpeg(&[
            model.clone(),
            (Tag::FocalLength, millimetres(42, 10)),
            (Tag::FocalLengthIn35mmFilm, Value::Short(vec![26])),
        ]);
        let read = Lens {
            focal_mm: Some(4.2),
            focal_35mm: Some(26.0),
        };
        let lens = |bytes: &[u8]| decode(bytes).unwrap().lens;
        assert_eq!(lens(&both), Some(read));
        assert_eq!(lens(&jpeg(&[model])), None);
        // What no lens has is a slip of the writer's.
        for (num, denom) in [(0, 1), (1, 0), (9_000, 1)] {
            let odd = jpeg(&[(Tag::FocalLength, millimetres(num, denom))]);
            assert_eq!(lens(&odd), None, "{num}/{denom}");
        }
    }
}
