//! The whole reading of one photo.

use swarfbook_job::census::{
    CardFound, Census, Particle, PhotoHints, PhotoKind, Scale, ScaleFrom, SizeClass,
};

use crate::Settings;
use crate::colour::{linear_table, white_of_card};
use crate::find::{candidates, ground_of, work_of};
use crate::particle::{Looks, judge, measure};
use crate::picture::{Unreadable, Upright, decode};
use crate::plane::drawing::SIZE;
use crate::plane::{Homography, Plane, plane_of};
use crate::{counts, fluid, magnet};

/// Reads a photo: `bytes` as taken, `hints` as tapped.
pub fn census(bytes: &[u8], hints: &PhotoHints, settings: &Settings) -> Result<Census, Unreadable> {
    Ok(read(&decode(bytes)?, hints, settings))
}

/// The census of a photo that can't be read: its problem and nothing else.
pub fn unread(kind: PhotoKind, why: &Unreadable) -> Census {
    Census {
        problem: Some(why.to_string()),
        ..empty(kind)
    }
}

fn empty(kind: PhotoKind) -> Census {
    Census {
        kind,
        size_px: None,
        problem: None,
        limits: Vec::new(),
        card: None,
        scale: None,
        smallest_mm: None,
        searched_cm2: None,
        particles: Vec::new(),
        counts: Default::default(),
        magnet: None,
        fluid: None,
    }
}

/// Reads an upright picture.
pub fn read(picture: &Upright, hints: &PhotoHints, settings: &Settings) -> Census {
    let plane = plane_of(picture, hints, settings.kind);
    let mut census = empty(settings.kind);
    census.size_px = Some([picture.width as u32, picture.height as u32]);
    if plane.from == ScaleFrom::None {
        census.problem = Some(
            "No gauge card and no two taps: nothing can be measured. Lay the card in the picture \
             and take it again, or tap the two ends of a known length."
                .to_owned(),
        );
        return census;
    }
    census.card = plane.card.map(|c| CardFound {
        corners_px: c.corners_px(),
    });
    census.scale = Some(Scale {
        px_per_mm: plane.px_per_mm,
        u_rel: plane.u_rel,
        from: plane.from,
    });
    census.particles = particles(picture, &plane);
    census.smallest_mm = Some(3.0 / plane.px_per_mm);
    census.counts = counts::count(&census.particles);
    if settings.kind == PhotoKind::Magnet {
        let at = hints
            .subject_at
            .unwrap_or([picture.width as f64 / 2.0, picture.height as f64 / 2.0]);
        census.magnet = magnet::cover(picture, at, plane.px_per_mm);
    }
    if let (Some(at), Some(card)) = (hints.fluid_at, &plane.card) {
        census.fluid = white_of_card(picture, card)
            .and_then(|white| fluid::fluid_at(picture, at, plane.px_per_mm, &white));
    }
    census
}

fn particles(picture: &Upright, plane: &Plane) -> Vec<Particle> {
    let work = work_of(picture, plane.px_per_mm);
    let step = work.step as f64;
    let card_back = plane.card.and_then(|c| c.pose.plane(0.0).inverse());
    let hidden =
        |x: usize, y: usize| on_card(card_back.as_ref(), [x as f64 * step, y as f64 * step]);
    let ground = ground_of(&work, plane.px_per_mm / step, &hidden);
    let linear = linear_table();
    let Some(back) = plane.subject.inverse() else {
        return Vec::new();
    };
    let mut found = Vec::new();
    for candidate in candidates(&work, &ground, &hidden) {
        let area_mm2 = candidate.component.area as f64 * (step / plane.px_per_mm).powi(2);
        if area_mm2 > 60.0 {
            continue;
        }
        for m in measure(picture, &linear, &candidate, work.step, &ground, &back) {
            if m.cut || m.feret.max < 0.2 {
                continue;
            }
            let p = judge(&Looks::of(&m));
            let Some((&class, _)) = p.iter().max_by(|a, b| a.1.total_cmp(b.1)) else {
                continue;
            };
            let u = m.feret.max * plane.u_rel.hypot(0.5 / plane.px_per_mm / m.feret.max);
            found.push(Particle {
                x_px: m.centre_px[0],
                y_px: m.centre_px[1],
                class,
                p,
                feret_max_mm: m.feret.max,
                feret_max_lo: (m.feret.max - 1.645 * u).max(0.0),
                feret_max_hi: m.feret.max + 1.645 * u,
                feret_min_mm: m.feret.min,
                area_mm2: m.area_mm2,
                iso16232: SizeClass::of_feret_max_mm(m.feret.max).unwrap_or(SizeClass::B),
                outline_px: m.outline_px,
            });
        }
    }
    found
}

/// Whether a pixel shows the card or its border.
fn on_card(back: Option<&Homography>, px: [f64; 2]) -> bool {
    const BORDER_MM: f64 = 1.5;
    back.is_some_and(|back| {
        let [x, y] = back.apply(px);
        x > -BORDER_MM && y > -BORDER_MM && x < SIZE[0] + BORDER_MM && y < SIZE[1] + BORDER_MM
    })
}
