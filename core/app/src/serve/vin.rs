//! A VIN out of a photo of its bar code: Code 39, Code 128, Data Matrix, QR.

use std::collections::HashSet;
use swarfbook_words::{say, term};

use chrono::Datelike;
use rxing::{BarcodeFormat, DecodeHints};
use swarfbook_debris::Upright;
use swarfbook_job::id::Sha256Hex;
use swarfbook_measure::vin::Vin;

use crate::present;
use crate::problem::Problem;
use crate::reply::Reply;
use crate::state::App;
use crate::view::VinView;

/// Longest sides that are tried, px: most codes are read in the small picture,
/// thin bars only in the large one.
const SIDES_PX: [usize; 3] = [1000, 1800, 3200];

pub(super) fn read(app: &App, photo: Sha256Hex) -> Result<Reply, Problem> {
    let bytes = app.store().photo(photo)?;
    let upright = swarfbook_debris::decode(&bytes).map_err(super::photo::unreadable)?;
    let Some((vin, format)) = find(&upright) else {
        return Err(Problem::bad_input(
            say!("no-bar-code-with-a-vin-was-found"),
            say!("come-nearer-straight-from-the-front-without-glare"),
        ));
    };
    let vin = vin.to_string();
    let market = crate::state::settings::market(app.store())?;
    let this_year = u32::try_from(app.clock().now().year()).unwrap_or(0);
    Ok(Reply::Vin {
        vin: VinView {
            words: present::codes::vin_words(&vin, this_year, market),
            vin,
            format: format_words(format).to_owned(),
        },
    })
}

/// The first bar code that holds a VIN.
fn find(picture: &Upright) -> Option<(Vin, BarcodeFormat)> {
    let mut last = 0;
    SIDES_PX.into_iter().find_map(|side| {
        let by = picture.width.max(picture.height).div_ceil(side).max(1);
        // The same picture is not searched twice.
        if by == last {
            return None;
        }
        last = by;
        let (luma, width, height) = grey(picture, by);
        found(luma, width, height)
            .into_iter()
            .find_map(|(text, format)| Some((Vin::in_bar_code(&text)?, format)))
    })
}

/// Texts of the bar codes in a grey picture.
fn found(luma: Vec<u8>, width: u32, height: u32) -> Vec<(String, BarcodeFormat)> {
    // The decoder sees whatever a camera sees; should it ever stumble, there is
    // no code, and the phone goes on.
    std::panic::catch_unwind(move || {
        let mut hints = DecodeHints {
            PossibleFormats: Some(HashSet::from([
                BarcodeFormat::CODE_39,
                BarcodeFormat::CODE_128,
                BarcodeFormat::DATA_MATRIX,
                BarcodeFormat::QR_CODE,
            ])),
            TryHarder: Some(true),
            AlsoInverted: Some(true),
            ..DecodeHints::default()
        };
        rxing::helpers::detect_multiple_in_luma_with_hints(luma, width, height, &mut hints)
            .unwrap_or_default()
            .into_iter()
            .map(|code| (code.getText().to_owned(), *code.getBarcodeFormat()))
            .collect()
    })
    .unwrap_or_default()
}

/// Grey by the luma weights of Rec. 709, each pixel the mean of `by` × `by`.
fn grey(picture: &Upright, by: usize) -> (Vec<u8>, u32, u32) {
    let (width, height) = (picture.width / by, picture.height / by);
    let mut luma = Vec::with_capacity(width * height);
    for y in 0..height {
        for x in 0..width {
            let mut sum = 0_u32;
            for row in y * by..(y + 1) * by {
                let from = 3 * (row * picture.width + x * by);
                let pixels = picture.rgb.get(from..from + 3 * by).unwrap_or_default();
                sum += pixels
                    .chunks_exact(3)
                    .map(|p| {
                        (54 * u32::from(p[0]) + 183 * u32::from(p[1]) + 19 * u32::from(p[2])) / 256
                    })
                    .sum::<u32>();
            }
            let mean = sum / u32::try_from(by * by).unwrap_or(1);
            luma.push(u8::try_from(mean).unwrap_or(u8::MAX));
        }
    }
    let side = |n: usize| u32::try_from(n).unwrap_or(0);
    (luma, side(width), side(height))
}

fn format_words(format: BarcodeFormat) -> &'static str {
    match format {
        BarcodeFormat::CODE_39 => term!("code-39"),
        BarcodeFormat::CODE_128 => term!("code-128"),
        BarcodeFormat::DATA_MATRIX => term!("data-matrix"),
        _ => term!("qr-code"),
    }
}
