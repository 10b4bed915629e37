//! Bytes that are no photo, or a bad one: a clear word each, no panic.

use std::io::Cursor;

use image::{DynamicImage, ImageFormat, RgbImage};
use swarfbook_debris::{
    Settings, Unreadable, census, copy_within, copy_without_metadata, decode, jpeg_size_px,
};
use swarfbook_job::census::{PhotoHints, PhotoKind};

const PATCH: Settings = Settings {
    kind: PhotoKind::Patch,
};

fn encoded(image: &DynamicImage, format: ImageFormat) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    let written = image.write_to(&mut bytes, format);
    assert!(written.is_ok());
    bytes.into_inner()
}

fn grey(width: u32, height: u32) -> DynamicImage {
    DynamicImage::ImageRgb8(RgbImage::from_pixel(width, height, image::Rgb([180; 3])))
}

#[test]
fn no_photo_at_all() {
    assert_eq!(decode(&[]), Err(Unreadable::Empty));
    assert_eq!(
        decode(b"complaint: slips in third"),
        Err(Unreadable::NotAPhoto)
    );
    assert_eq!(
        decode(b"\0\0\0\x18ftypheic\0\0\0\0mif1heic"),
        Err(Unreadable::Heic)
    );
    assert!(decode(&[0xFF, 0xD8, 0xFF, 0xE0]).is_err());
    // A byte of a PNG's data is another than its checksum says.
    let mut damaged = encoded(&grey(80, 80), ImageFormat::Png);
    let middle = damaged.len() / 2;
    damaged[middle] ^= 1;
    assert_eq!(decode(&damaged), Err(Unreadable::Damaged));
}

#[test]
fn too_small_and_too_long() {
    let one = encoded(&grey(1, 1), ImageFormat::Png);
    assert_eq!(
        decode(&one),
        Err(Unreadable::TooSmall {
            width: 1,
            height: 1
        })
    );
    let line = encoded(&grey(60_000, 1), ImageFormat::Png);
    assert_eq!(
        decode(&line),
        Err(Unreadable::TooBig {
            width: 60_000,
            height: 1
        })
    );
}

/// The header says 20,000 x 20,000; nothing of that size is reserved.
#[test]
fn a_header_that_lies() {
    let mut png = encoded(&grey(100, 100), ImageFormat::Png);
    png[16..24].copy_from_slice(&[0, 0, 0x4E, 0x20, 0, 0, 0x4E, 0x20]);
    // The header's own check sum (CRC-32 of ISO 3309), so that only the size is a lie.
    let mut crc = 0xFFFF_FFFFu32;
    for byte in &png[12..29] {
        crc ^= u32::from(*byte);
        for _ in 0..8 {
            crc = if crc & 1 == 1 {
                crc >> 1 ^ 0xEDB8_8320
            } else {
                crc >> 1
            };
        }
    }
    png[29..33].copy_from_slice(&(!crc).to_be_bytes());
    assert_eq!(
        decode(&png),
        Err(Unreadable::TooBig {
            width: 20_000,
            height: 20_000
        })
    );
}

#[test]
fn cut_short_at_any_byte() {
    for format in [ImageFormat::Jpeg, ImageFormat::Png] {
        let whole = encoded(&grey(200, 150), format);
        assert!(decode(&whole).is_ok());
        for end in (0..whole.len() - 12).step_by(37) {
            assert!(decode(&whole[..end]).is_err(), "{format:?} cut at {end}");
        }
    }
}

/// A small JPEG whose frame header claims far more: the decoder would pad it with grey.
#[test]
fn a_jpeg_that_claims_more_than_it_holds() {
    let mut photo = encoded(&grey(64, 64), ImageFormat::Jpeg);
    let frame = photo.windows(2).position(|w| w == [0xFF, 0xC0]).unwrap();
    // ITU-T T.81, B.2.2: marker, length, precision, then lines and samples per line.
    photo[frame + 5..frame + 9].copy_from_slice(&[0x0B, 0xB8, 0x0F, 0xA0]);
    assert_eq!(decode(&photo), Err(Unreadable::CutShort));
    // The barest true picture is still read.
    assert!(decode(&encoded(&grey(4000, 3000), ImageFormat::Jpeg)).is_ok());
}

/// Frame markers of lossless, hierarchical and arithmetic processes (ITU-T T.81, table B.1).
#[test]
fn a_jpeg_of_a_rare_process() {
    let whole = encoded(&grey(200, 150), ImageFormat::Jpeg);
    let frame = whole.windows(2).position(|w| w == [0xFF, 0xC0]).unwrap();
    for marker in [0xC3, 0xC5, 0xC6, 0xC7, 0xC9, 0xCA, 0xCB, 0xCD, 0xCE, 0xCF] {
        let mut photo = whole.clone();
        photo[frame + 1] = marker;
        assert_eq!(decode(&photo), Err(Unreadable::RareJpeg), "{marker:x}");
    }
}

#[test]
fn deep_and_grey_pictures_are_read() {
    let grey16 = DynamicImage::ImageLuma16(image::ImageBuffer::from_pixel(
        90,
        70,
        image::Luma([0x8000]),
    ));
    let upright = decode(&encoded(&grey16, ImageFormat::Png)).unwrap();
    assert_eq!(
        (upright.width, upright.height, upright.rgb[0]),
        (90, 70, 128)
    );
    let grey8 = grey(90, 70).to_luma8();
    assert!(
        decode(&encoded(
            &DynamicImage::ImageLuma8(grey8),
            ImageFormat::Jpeg
        ))
        .is_ok()
    );
}

#[test]
fn no_card_and_no_taps_is_a_problem_in_words() {
    let photo = encoded(&grey(640, 480), ImageFormat::Jpeg);
    let read = census(&photo, &PhotoHints::default(), &PATCH).unwrap();
    assert!(read.problem.unwrap().contains("gauge card"));
    assert!(read.scale.is_none() && read.particles.is_empty());
}

#[test]
fn taps_that_make_no_sense_give_no_scale() {
    let photo = encoded(&grey(640, 480), ImageFormat::Jpeg);
    for (taps, mm) in [
        ([[10.0, 10.0], [10.0, 10.0]], 14.0),
        ([[10.0, 10.0], [200.0, 10.0]], 0.0),
        ([[10.0, 10.0], [200.0, 10.0]], -3.0),
        ([[f64::NAN, 10.0], [200.0, 10.0]], 14.0),
    ] {
        let hints = PhotoHints {
            taps: Some(taps),
            tap_mm: Some(mm),
            ..PhotoHints::default()
        };
        assert!(
            census(&photo, &hints, &PATCH).unwrap().scale.is_none(),
            "{taps:?} {mm}"
        );
    }
}

#[test]
fn taps_of_an_absurd_length_are_a_problem_in_words() {
    let mut spotted = grey(640, 480).into_rgb8();
    for y in 200..260 {
        for x in 200..280 {
            spotted.put_pixel(x, y, image::Rgb([30; 3]));
        }
    }
    let photo = encoded(&DynamicImage::ImageRgb8(spotted), ImageFormat::Jpeg);
    for mm in [1e-9, 0.01, 5_000.0, 1e12] {
        let hints = PhotoHints {
            taps: Some([[10.0, 10.0], [200.0, 10.0]]),
            tap_mm: Some(mm),
            ..PhotoHints::default()
        };
        let read = census(&photo, &hints, &PATCH).unwrap();
        assert!(read.problem.unwrap().contains("no photo has"), "{mm}");
        assert!(read.scale.is_none() && read.particles.is_empty(), "{mm}");
    }
}

/// Found by `fuzz/src/bin/batter.rs`: a plane near the lens took a small photo many seconds.
#[test]
fn a_height_that_can_t_be_is_a_problem_in_words() {
    let photo = encoded(&grey(640, 480), ImageFormat::Jpeg);
    for mm in [1036.5, -400.0, f64::NAN, f64::INFINITY] {
        let subject = PhotoHints {
            subject_height_mm: Some(mm),
            ..PhotoHints::default()
        };
        let taps = PhotoHints {
            taps: Some([[10.0, 10.0], [200.0, 10.0]]),
            tap_mm: Some(14.0),
            taps_height_mm: Some(mm),
            ..PhotoHints::default()
        };
        for hints in [subject, taps] {
            let read = census(&photo, &hints, &PATCH).unwrap();
            assert!(read.problem.unwrap().contains("height"), "{mm}");
        }
    }
}

#[test]
fn a_copy_is_small_and_carries_nothing() {
    let photo = encoded(&grey(640, 480), ImageFormat::Jpeg);
    let copy = copy_without_metadata(&photo, 100).unwrap();
    let upright = decode(&copy).unwrap();
    assert_eq!((upright.width, upright.height), (100, 75));
    assert!(!copy.windows(4).any(|w| w == b"Exif"));
}

#[test]
fn a_copy_keeps_to_its_weight_whatever_the_picture() {
    // Noise is the worst that a JPEG can be given.
    let mut at = 1_u32;
    let noise = RgbImage::from_fn(900, 700, |_, _| {
        at = at.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        image::Rgb([(at >> 24) as u8, (at >> 16) as u8, (at >> 8) as u8])
    });
    let photo = encoded(&noise.into(), ImageFormat::Png);
    for most in [150_000, 40_000] {
        let copy = copy_within(decode(&photo).unwrap(), 900, most).unwrap();
        assert!(copy.len() <= most, "{} of {most}", copy.len());
        let [width, height] = jpeg_size_px(&copy).unwrap();
        assert!((f64::from(width) / f64::from(height) - 9.0 / 7.0).abs() < 0.02);
    }
    let calm = encoded(&grey(640, 480), ImageFormat::Jpeg);
    let copy = copy_within(decode(&calm).unwrap(), 900, 150_000).unwrap();
    assert_eq!(
        jpeg_size_px(&copy),
        Some([640, 480]),
        "no smaller than need be"
    );
    for broken in [
        &b""[..],
        b"no picture",
        &copy[..copy.len() - 40],
        &copy[2..],
    ] {
        assert_eq!(jpeg_size_px(broken), None);
    }
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig::with_cases(64))]
    #[test]
    fn any_bytes_are_survived(mut noise in proptest::collection::vec(proptest::num::u8::ANY, 0..400), at in 0usize..2000) {
        let mut photo = encoded(&grey(80, 70), ImageFormat::Jpeg);
        let at = at % photo.len();
        let end = (at + noise.len()).min(photo.len());
        noise.truncate(end - at);
        photo[at..end].copy_from_slice(&noise);
        let _ = census(&photo, &PhotoHints::default(), &PATCH);
        let _ = census(&noise, &PhotoHints::default(), &PATCH);
    }
}
