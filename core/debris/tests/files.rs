//! Every way in which a photo may be stored, from files that other programs
//! wrote (`bad/make.py` tells how): read rightly, or refused with a clear word.

#![allow(clippy::unwrap_used, clippy::panic)] // in helpers of tests, too

use std::path::Path;

use swarfbook_debris::{Settings, Unreadable, census, decode};
use swarfbook_job::census::{PhotoHints, PhotoKind};

fn file(name: &str) -> Vec<u8> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/bad");
    std::fs::read(folder.join(name)).unwrap()
}

/// The colours of the four quarters, as `make.py` painted them.
const COLOURS: [[u8; 3]; 4] = [[200, 40, 40], [40, 160, 60], [40, 60, 180], [128, 128, 128]];

fn shows(name: &str, colours: [[u8; 3]; 4], within: u8) {
    let picture = decode(&file(name)).unwrap_or_else(|why| panic!("{name}: {why}"));
    assert_eq!((picture.width, picture.height), (96, 72), "{name}");
    for (at, colour) in colours.iter().enumerate() {
        let (x, y) = (24 + 48 * (at % 2), 18 + 36 * (at / 2));
        let pixel = &picture.rgb[3 * (y * 96 + x)..][..3];
        let off = pixel
            .iter()
            .zip(colour)
            .map(|(a, b)| a.abs_diff(*b))
            .max()
            .unwrap();
        assert!(off <= within, "{name}: {pixel:?} for {colour:?}");
    }
}

#[test]
fn what_phones_and_programs_write_is_read_with_its_colours() {
    for name in [
        "baseline.jpg",
        "subsampled.jpg",
        "progressive.jpg",
        "restarts.jpg",
        "stored-as-rgb.jpg",
        "lossless.webp",
        "alpha.png",
        "palette.png",
    ] {
        shows(name, COLOURS, 3);
    }
    // Lossy WebP keeps colour at half the width and in a narrower range.
    shows("lossy.webp", COLOURS, 8);
    // Of a moving picture the first one counts.
    shows("moving.webp", COLOURS, 3);
    // Four inks, as an image program may save it: Pillow's plain inversion of the colours.
    shows("cmyk.jpg", COLOURS, 4);
}

#[test]
fn grey_ones_are_read_as_grey() {
    // Rec. 601, as Pillow makes grey: 0.299 R + 0.587 G + 0.114 B.
    let grey = COLOURS.map(|[r, g, b]| {
        let v = 0.299 * f64::from(r) + 0.587 * f64::from(g) + 0.114 * f64::from(b);
        [v.round() as u8; 3]
    });
    shows("grey.jpg", grey, 3);
    shows("grey-progressive.jpg", grey, 3);
}

#[test]
fn what_is_not_read_is_named_and_says_what_to_do() {
    for name in ["arithmetic.jpg", "arithmetic-progressive.jpg"] {
        assert_eq!(decode(&file(name)), Err(Unreadable::RareJpeg), "{name}");
    }
    assert_eq!(decode(&file("other.avif")), Err(Unreadable::Heic));
    for name in ["other.tiff", "other.gif"] {
        assert_eq!(decode(&file(name)), Err(Unreadable::NotAPhoto), "{name}");
    }
    assert_eq!(
        decode(&file("200-megapixels.png")),
        Err(Unreadable::TooBig {
            width: 20_000,
            height: 10_000
        })
    );
    for why in [Unreadable::RareJpeg, Unreadable::Heic] {
        assert!(
            why.to_string().contains("Take the photo in the app"),
            "{why}"
        );
    }
}

/// Cut anywhere, each is refused or read as far as it is whole; none panics.
#[test]
fn cut_at_every_byte() {
    let settings = Settings {
        kind: PhotoKind::Patch,
    };
    for name in [
        "baseline.jpg",
        "progressive.jpg",
        "cmyk.jpg",
        "restarts.jpg",
        "grey-progressive.jpg",
        "lossy.webp",
        "lossless.webp",
        "moving.webp",
        "palette.png",
        "alpha.png",
        "arithmetic.jpg",
        "other.avif",
    ] {
        let whole = file(name);
        for end in 0..whole.len() {
            let read = census(&whole[..end], &PhotoHints::default(), &settings);
            // A JPEG without its end marker would be filled with grey, which passes for clean paper.
            if name.ends_with("jpg") && end + 2 <= whole.len() {
                assert!(read.is_err(), "{name} cut at {end}");
            }
        }
    }
}

/// The frame header of a JPEG says anything; what comes out has the size that it says, or a word.
#[test]
fn any_size_in_a_jpeg_s_header() {
    for name in ["baseline.jpg", "progressive.jpg", "cmyk.jpg"] {
        let whole = file(name);
        let frame = |w: &[u8]| w[0] == 0xFF && (w[1] == 0xC0 || w[1] == 0xC2);
        let at = whole.windows(2).position(frame).unwrap();
        for [lines, samples] in [
            [0u16, 0],
            [0, 96],
            [72, 0],
            [1, 60_000],
            [60_000, 1],
            [65_535, 65_535],
            [30_000, 3_000],
            [10_000, 10_000],
            [71, 96],
            [72, 95],
            [80, 104],
        ] {
            let mut photo = whole.clone();
            photo[at + 5..at + 7].copy_from_slice(&lines.to_be_bytes());
            photo[at + 7..at + 9].copy_from_slice(&samples.to_be_bytes());
            match decode(&photo) {
                Ok(read) => {
                    assert_eq!(
                        (read.width, read.height),
                        (samples.into(), lines.into()),
                        "{name}"
                    );
                    // Small lies of a few lines can't be told from the bytes; large ones must be.
                    assert!(
                        read.width * read.height < 10_000,
                        "{name} {lines} {samples}"
                    );
                }
                Err(why) => assert!(why.to_string().len() > 20, "{name} {lines} {samples}"),
            }
        }
    }
}
