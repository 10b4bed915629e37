//! A census laid on the paper: each piece where it lies in mm.

use swarfbook_job::census::{Census, Particle, PointPx, ScaleFrom};

use crate::plane::Homography;
use crate::plane::drawing::{CORNERS, SIZE};

/// A point of the paper, mm.
pub(crate) type PointMm = [f64; 2];

/// Px to mm of the plane that a census was measured in; `None` without a scale.
pub(crate) fn plane_of_census(census: &Census) -> Option<Homography> {
    let scale = census.scale.as_ref().filter(|s| s.px_per_mm > 0.0)?;
    match (&census.card, scale.from) {
        (Some(card), ScaleFrom::Card) => {
            Homography::from_four(&CORNERS, &card.corners_px)?.inverse()
        }
        (_, ScaleFrom::Card | ScaleFrom::Taps) => Homography::uniform(scale.px_per_mm).inverse(),
        (_, ScaleFrom::None) => None,
    }
}

/// A piece on the paper.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Spot {
    pub(crate) at: PointMm,
    pub(crate) feret_mm: f64,
    pub(crate) area_mm2: f64,
}

/// A photo's part of the paper.
#[derive(Debug, Clone)]
pub(crate) struct Sheet<'a> {
    pub(crate) census: &'a Census,
    pub(crate) spots: Vec<Spot>,
    to_mm: Homography,
    to_px: Homography,
    /// Relative standard uncertainty of its scale.
    pub(crate) u_rel: f64,
    card: bool,
}

impl<'a> Sheet<'a> {
    /// `None` where the photo has no scale, or no picture.
    pub(crate) fn of(census: &'a Census) -> Option<Sheet<'a>> {
        let to_mm = plane_of_census(census)?;
        let to_px = to_mm.inverse()?;
        census.size_px?;
        let spot = |p: &Particle| Spot {
            at: to_mm.apply([p.x_px, p.y_px]),
            feret_mm: p.feret_max_mm,
            area_mm2: p.area_mm2,
        };
        Some(Sheet {
            spots: census.particles.iter().map(spot).collect(),
            u_rel: census.scale.as_ref().map_or(0.0, |s| s.u_rel),
            card: census.card.is_some(),
            census,
            to_mm,
            to_px,
        })
    }

    /// The paper can be seen there, `margin` mm from the picture's edge and from the card.
    pub(crate) fn sees(&self, at: PointMm, margin: f64) -> bool {
        let [w, h] = self.census.size_px.unwrap_or([0, 0]).map(f64::from);
        let inside = |[x, y]: PointPx| x > 0.0 && y > 0.0 && x < w && y < h;
        let near = [[-margin, 0.0], [margin, 0.0], [0.0, -margin], [0.0, margin]];
        let on_card = self.card
            && (-margin..=SIZE[0] + margin).contains(&at[0])
            && (-margin..=SIZE[1] + margin).contains(&at[1]);
        !on_card
            && near
                .iter()
                .all(|[dx, dy]| inside(self.to_px.apply([at[0] + dx, at[1] + dy])))
    }

    pub(crate) fn to_px(&self, at: PointMm) -> PointPx {
        self.to_px.apply(at)
    }

    /// Points that tile what the photo sees of the paper, each with the mm² that it stands for.
    pub(crate) fn tiles(&self) -> Vec<(PointMm, f64)> {
        const STEPS: u32 = 48;
        let [w, h] = self.census.size_px.unwrap_or([0, 0]).map(f64::from);
        let (dx, dy) = (w / f64::from(STEPS), h / f64::from(STEPS));
        let middle = |i: u32, d: f64| (f64::from(i) + 0.5) * d;
        (0..STEPS * STEPS)
            .map(|i| [middle(i % STEPS, dx), middle(i / STEPS, dy)])
            .map(|px| {
                let area = self.to_mm.local_scale(px).powi(2) * dx * dy;
                (self.to_mm.apply(px), area)
            })
            .filter(|(at, area)| area.is_finite() && self.sees(*at, 0.0))
            .collect()
    }
}
