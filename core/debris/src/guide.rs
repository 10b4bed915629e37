//! Guidance for one preview frame of the camera, before the shutter.
//!
//! The same search for the card and the same figures as in the reading, so that
//! what is good here is good there; only lengths are of the frame, not of the photo.

use crate::limits::{BLURRED_PX, DARK, FEW_PX_PER_MM, GLARE, quality};
use crate::picture::Upright;
use crate::plane::{Card, find};

/// What one frame shows.
#[derive(Debug, Clone, PartialEq)]
pub struct Guidance {
    /// The card's outline in the frame, px, as printed from its top left; `None` without a card.
    pub corners_px: Option<[[f64; 2]; 4]>,
    /// The camera's axis off the card's normal, degrees; 0 without a card.
    pub tilt_deg: f64,
    /// The phone's edge to lift so that it is level, degrees clockwise from the upper edge of the
    /// picture; `None` without a card.
    pub lift_deg: Option<f64>,
    /// px per mm of the photo that would be taken now; 0 without a card.
    pub px_per_mm: f64,
    /// Standard deviation of the blur at the sharpest edges, px of the photo.
    pub blur_px: f64,
    /// Share of the frame that is as bright as can be.
    pub glare: f64,
    /// Median brightness, of 255.
    pub brightness: f64,
    /// What to do first; `Good` when the shutter may be pressed.
    pub advice: Advice,
}

/// What to do first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Advice {
    /// Nothing: take it.
    Good,
    /// Bring a light.
    Dark,
    /// Turn the light or the camera aside.
    Glare,
    /// Show all of the card.
    NoCard,
    /// Hold the camera straight above.
    Tilted,
    /// Go nearer.
    Far,
    /// Hold still, focus.
    Blurred,
}

/// Tilt beyond which one side of the photo is much nearer than the other, degrees
/// (common practice, no published source).
const MOST_TILT_DEG: f64 = 20.0;

/// Looks at one frame. `detail` is a cut of it in the photo's own pixels, for
/// the sharpness that a reduced frame can't show; `photo_side` is the longer
/// side of the photo that the shutter would give, px.
pub fn guide(frame: &Upright, detail: &Upright, photo_side: usize) -> Guidance {
    let blur_px = quality(detail).blur_px;
    let quality = quality(frame);
    let card = find(frame);
    let larger = photo_side as f64 / frame.width.max(frame.height).max(1) as f64;
    let px_per_mm = card.map_or(0.0, |card| larger * frame_px_per_mm(frame, &card));
    let tilt_deg = card.map_or(0.0, |card| card.pose.tilt_deg());
    let advice = if quality.brightness < DARK {
        Advice::Dark
    } else if quality.glare > GLARE {
        Advice::Glare
    } else if card.is_none() {
        Advice::NoCard
    } else if tilt_deg > MOST_TILT_DEG {
        Advice::Tilted
    } else if px_per_mm < FEW_PX_PER_MM {
        Advice::Far
    } else if blur_px > BLURRED_PX {
        Advice::Blurred
    } else {
        Advice::Good
    };
    Guidance {
        corners_px: card.map(|card| card.corners_px()),
        tilt_deg,
        lift_deg: card.map(|card| card.pose.near_side_deg()),
        px_per_mm,
        blur_px,
        glare: quality.glare,
        brightness: quality.brightness,
        advice,
    }
}

fn frame_px_per_mm(frame: &Upright, card: &Card) -> f64 {
    let centre = [frame.width as f64 / 2.0, frame.height as f64 / 2.0];
    let ground = card.pose.plane(0.0).inverse();
    ground.map_or(0.0, |back| 1.0 / back.local_scale(centre))
}
