//! Guidance on preview frames of the demo's rendered photos, against the
//! renderer's own truth (tilt and px per mm at the centre, from its scene).

#![allow(clippy::unwrap_used)] // in helpers of tests, too

use std::fs;
use std::path::Path;

use swarfbook_debris::{Advice, Upright, decode, guide};

fn photo(name: &str) -> Upright {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../app/demo");
    decode(&fs::read(path.join(name)).unwrap()).unwrap()
}

/// The mean of squares of `step` px: what a camera's preview shows.
fn preview(photo: &Upright, step: usize) -> Upright {
    let (width, height) = (photo.width / step, photo.height / step);
    let mut rgb = Vec::with_capacity(3 * width * height);
    for y in 0..height {
        for x in 0..width {
            for c in 0..3 {
                let mut sum = 0;
                for v in 0..step {
                    for u in 0..step {
                        let at = (y * step + v) * photo.width + x * step + u;
                        sum += usize::from(photo.rgb[3 * at + c]);
                    }
                }
                rgb.push((sum / (step * step)) as u8);
            }
        }
    }
    Upright {
        width,
        height,
        rgb,
        lens: None,
    }
}

#[test]
fn tilt_and_scale_of_a_preview_frame() {
    // Truth of the renderer: name, step, tilt in degrees, px per mm of a photo of so
    // many px on its longer side; the demo's copies are smaller.
    for (name, step, tilt, scale, rendered) in [
        ("patch-06.jpg", 3, 2.95, 19.381, 3264.0),
        ("patch-10.jpg", 3, 23.124, 25.730, 4032.0),
        ("pan-01.jpg", 2, 7.676, 10.793, 3264.0),
        ("pan-05.jpg", 2, 16.099, 11.384, 3264.0),
    ] {
        let photo = photo(name);
        let side = photo.width.max(photo.height);
        let scale = scale * side as f64 / rendered;
        let seen = guide(&preview(&photo, step), &photo, side);
        assert!(seen.corners_px.is_some(), "{name}: no card");
        assert!((seen.tilt_deg - tilt).abs() < 3.0, "{name}: {seen:?}");
        assert!(
            (seen.px_per_mm / scale - 1.0).abs() < 0.05,
            "{name}: {seen:?}"
        );
        let told = seen.advice == Advice::Tilted;
        assert_eq!(told, tilt > 20.0, "{name}: {seen:?}");
    }
}

#[test]
fn what_is_wrong_is_told_first_things_first() {
    let good = preview(&photo("patch-06.jpg"), 3);
    let advice = |change: &dyn Fn(usize, u8) -> u8| {
        let rgb = good.rgb.iter().enumerate();
        let frame = Upright {
            rgb: rgb.map(|(at, v)| change(at, *v)).collect(),
            ..good.clone()
        };
        guide(&frame, &frame, 3 * frame.width).advice
    };
    assert_eq!(advice(&|_, v| v), Advice::Good);
    assert_eq!(advice(&|_, v| v / 12), Advice::Dark);
    let lit = good.rgb.len() / 10;
    assert_eq!(
        advice(&|at, v| if at < lit { 255 } else { v }),
        Advice::Glare
    );
    assert_eq!(advice(&|_, _| 120), Advice::NoCard);
    // From so far away that a millimetre has few pixels.
    assert_eq!(guide(&good, &good, 1000).advice, Advice::Far);
    // A hand that shakes: every row smeared over twelve pixels.
    let mut smeared = photo("patch-06.jpg");
    for row in smeared.rgb.chunks_exact_mut(3 * smeared.width) {
        let sharp = row.to_vec();
        for at in 36..row.len() {
            let sum: u32 = (0..12).map(|k| u32::from(sharp[at - 3 * k])).sum();
            row[at] = (sum / 12) as u8;
        }
    }
    let side = smeared.width;
    let seen = guide(&preview(&smeared, 3), &smeared, side);
    assert_eq!(seen.advice, Advice::Blurred, "{seen:?}");
}
