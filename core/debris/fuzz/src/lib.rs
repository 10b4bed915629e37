//! The whole path that a photo's bytes take: decoding, guidance, census, the
//! copy for a report, and laying the census on another one. The first bytes
//! are what the technician tapped, so that a fuzzer reaches the hints too.

use swarfbook_debris::patch::{after_magnet, merge, parted, waist};
use swarfbook_debris::{Settings, census, copy_without_metadata, decode, guide};
use swarfbook_job::census::{Census, PhotoHints, PhotoKind, TapsOn};

/// Bytes before the photo.
pub const TAPPED: usize = 24;

/// Runs it all; the census is given back for the next one to be laid on.
pub fn whole_path(data: &[u8], before: Option<&Census>) -> Option<Census> {
    let (tapped, photo) = data.split_at_checked(TAPPED)?;
    let (kind, hints) = hints(tapped);
    let _ = copy_without_metadata(photo, 200);
    if let Ok(picture) = decode(photo) {
        let _ = guide(&picture, &picture, 4000);
    }
    let read = census(photo, &hints, &Settings { kind }).ok()?;
    for particle in read.particles.iter().take(20) {
        if let Some(line) = waist(&particle.outline_px) {
            let _ = parted(&read, particle, line);
        }
    }
    for particle in &read.particles {
        assert!(particle.feret_max_mm.is_finite() && particle.area_mm2.is_finite());
        assert!(particle.feret_max_lo <= particle.feret_max_mm);
        assert!(particle.feret_max_mm <= particle.feret_max_hi);
    }
    if let Some(before) = before {
        let _ = after_magnet(before, &read);
        let merged = merge(&[before, &read]);
        assert!(merged.pieces.len() <= before.particles.len() + read.particles.len());
    }
    Some(read)
}

fn hints(tapped: &[u8]) -> (PhotoKind, PhotoHints) {
    let byte = |at: usize| tapped.get(at).copied().unwrap_or(0);
    // Most within a small photo, some far outside, some that are no number.
    let place = |at: usize| match byte(at) {
        255 => f64::NAN,
        254 => f64::INFINITY,
        253 => -1e9,
        252 => 1e300,
        small => f64::from(small) * (1.0 + f64::from(byte(at + 1)) / 16.0),
    };
    let kind = match byte(0) % 3 {
        0 => PhotoKind::Patch,
        1 => PhotoKind::Pan,
        _ => PhotoKind::Magnet,
    };
    let point = |at: usize| [place(at), place(at + 2)];
    let on = |bit: u8| byte(1) & bit != 0;
    let hints = PhotoHints {
        kind: None,
        fluid_at: on(1).then(|| point(2)),
        subject_at: on(2).then(|| point(6)),
        subject_height_mm: on(4).then(|| place(10) - 20.0),
        taps: on(8).then(|| [point(12), point(16)]),
        tap_mm: on(8).then(|| place(20) / 4.0),
        taps_height_mm: on(16).then(|| place(22) - 20.0),
        taps_on: on(32).then_some(if on(64) {
            TapsOn::Ground
        } else {
            TapsOn::Subject
        }),
    };
    (kind, hints)
}
