//! From a card or two taps to the planes that matter: the ground's and the subject's.

use swarfbook_job::census::{PhotoHints, PhotoKind, ScaleFrom, TapsOn};

use super::card::{Card, find};
use super::homography::Homography;
use crate::picture::Upright;

/// Thickness of the card: what lies on the ground is this much below its print.
/// A laminated print is 0.2 to 0.4 mm (measured prints are to replace this).
const CARD_THICKNESS_MM: f64 = 0.25;

/// What is known of the geometry of a photo.
#[derive(Debug, Clone)]
pub(crate) struct Plane {
    pub(crate) card: Option<Card>,
    pub(crate) from: ScaleFrom,
    /// mm of the subject's plane (the magnet's face, else the ground) to px.
    pub(crate) subject: Homography,
    /// The same mm, straight below on the ground, to px.
    pub(crate) ground: Homography,
    /// Relative standard uncertainty of the scale.
    pub(crate) u_rel: f64,
    /// px per mm of the ground at the picture's centre; 0 without a scale.
    pub(crate) px_per_mm: f64,
}

/// Finds plane and scale: the card first, then taps, then nothing.
pub(crate) fn plane_of(picture: &Upright, hints: &PhotoHints, kind: PhotoKind) -> Plane {
    let centre = [picture.width as f64 / 2.0, picture.height as f64 / 2.0];
    let height = match kind {
        PhotoKind::Magnet => hints.subject_height_mm.unwrap_or(0.0),
        PhotoKind::Patch | PhotoKind::Pan => 0.0,
    };
    if let Some(card) = find(picture) {
        let ground = card.pose.plane(-CARD_THICKNESS_MM);
        let subject = if height > 0.0 {
            card.pose.plane(height)
        } else {
            ground
        };
        let px_per_mm = ground
            .inverse()
            .map_or(0.0, |back| 1.0 / back.local_scale(centre));
        return Plane {
            u_rel: card.u_rel,
            card: Some(card),
            from: ScaleFrom::Card,
            subject,
            ground,
            px_per_mm,
        };
    }
    if let (Some([a, b]), Some(mm)) = (hints.taps, hints.tap_mm) {
        let px = (a[0] - b[0]).hypot(a[1] - b[1]);
        if px > 4.0 && mm > 0.0 && (px / mm).is_finite() {
            return from_taps(picture, px, mm, hints, height);
        }
    }
    Plane {
        card: None,
        from: ScaleFrom::None,
        subject: Homography::uniform(1.0),
        ground: Homography::uniform(1.0),
        u_rel: 0.0,
        px_per_mm: 0.0,
    }
}

/// Two taps: no perspective; a plane nearer to the camera by `dz` is larger by `dz / distance`.
fn from_taps(picture: &Upright, px: f64, mm: f64, hints: &PhotoHints, height: f64) -> Plane {
    let at_taps = px / mm;
    let side = picture.width.max(picture.height) as f64;
    let focal = picture.focal_35mm().unwrap_or(27.0) / 36.0 * side;
    let above = match hints.taps_on {
        Some(TapsOn::Subject) => height,
        Some(TapsOn::Ground) | None => hints.taps_height_mm.unwrap_or(0.0),
    };
    let distance = focal / at_taps;
    // A plane at the lens or behind it comes out without bounds; the caller refuses that.
    let at_height = |h: f64| at_taps * distance / (distance + above - h).max(f64::MIN_POSITIVE);
    // Each tap is good to about 2 px or 0.3 mm; tilt is not seen (25 degrees: up to 10 %, 4 % typical).
    let u_tap = (2.0f64.sqrt() * (2.0f64.hypot(0.3 * at_taps))) / px;
    let (ground, face) = (at_height(0.0), at_height(height));
    // What lies lower is seen nearer to the middle.
    let nearer = |side: usize| side as f64 / 2.0 * (1.0 - ground / face);
    Plane {
        card: None,
        from: ScaleFrom::Taps,
        subject: Homography::uniform(face),
        ground: Homography {
            m: [
                [ground, 0.0, nearer(picture.width)],
                [0.0, ground, nearer(picture.height)],
                [0.0, 0.0, 1.0],
            ],
        },
        u_rel: u_tap.hypot(0.04).max(0.01),
        px_per_mm: ground,
    }
}
