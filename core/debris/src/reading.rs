//! The whole reading of one photo.

use swarfbook_job::census::{
    CardFound, Census, Particle, PhotoHints, PhotoKind, Scale, ScaleFrom, SizeClass,
};

use crate::Settings;
use crate::colour::{linear_table, white_of_card};
use crate::find::search;
use crate::particle::{Forest, Measured, NAMES, Scene, judge, looks_of, measure};
use crate::picture::{Unreadable, Upright, decode};
use crate::plane::drawing::{CORNERS, SIZE};
use crate::plane::{Plane, plane_of};
use crate::{counts, fluid, magnet};

/// Least length of a piece that is reported, mm: below it a phone's pixels tell no shape.
const LEAST_MM: f64 = 0.2;

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
    read_with(&Forest::built_in(), picture, hints, settings)
}

/// Reads an upright picture with a forest of one's own.
pub(crate) fn read_with(
    forest: &Forest,
    picture: &Upright,
    hints: &PhotoHints,
    settings: &Settings,
) -> Census {
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
    let (seen, searched_px) = seen(picture, &plane, settings.kind, hints);
    census.searched_cm2 = Some(searched_px / plane.px_per_mm.powi(2) / 100.0);
    census.particles = particles(seen, &plane, forest);
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

/// A piece with its looks, before it is judged.
#[derive(Debug, Clone)]
pub(crate) struct Seen {
    pub(crate) measured: Measured,
    pub(crate) looks: [f32; NAMES.len()],
}

/// All that may be particles, and the area searched, px.
pub(crate) fn seen(
    picture: &Upright,
    plane: &Plane,
    kind: PhotoKind,
    hints: &PhotoHints,
) -> (Vec<Seen>, f64) {
    // The card, its border and its shadow.
    const BORDER_MM: f64 = 1.5;
    let hidden = plane.card.map(|c| {
        let out = |v: f64, size: f64| {
            if v > 0.0 {
                size + BORDER_MM
            } else {
                -BORDER_MM
            }
        };
        CORNERS.map(|[x, y]| c.pose.project([out(x, SIZE[0]), out(y, SIZE[1])], 0.0))
    });
    let search = search(picture, plane.px_per_mm, hidden.as_ref());
    let linear = linear_table();
    let Some(back) = plane.subject.inverse() else {
        return (Vec::new(), 0.0);
    };
    let white = plane.card.and_then(|c| white_of_card(picture, &c));
    let scene = Scene {
        kind,
        px_per_mm: plane.px_per_mm,
        white: white.map_or_else(|| search.ground.brightest(), |w| w.gain.map(|g| 1.0 / g)),
        stain: search.ground.stain(),
        subject: hints.subject_at.filter(|_| kind == PhotoKind::Magnet),
    };
    let mut all = Vec::new();
    for candidate in &search.candidates {
        for m in measure(
            picture,
            &linear,
            candidate,
            search.step,
            &search.ground,
            &back,
        ) {
            if !m.cut && m.feret.max >= LEAST_MM {
                let looks = looks_of(&m, &scene);
                all.push(Seen { measured: m, looks });
            }
        }
    }
    (all, search.searched_px)
}

fn particles(seen: Vec<Seen>, plane: &Plane, forest: &Forest) -> Vec<Particle> {
    let mut found = Vec::new();
    for Seen { measured: m, looks } in seen {
        let Some(p) = judge(forest, &looks) else {
            continue;
        };
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
    found
}
