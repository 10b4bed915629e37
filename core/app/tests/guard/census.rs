//! Censuses without photos: what the reading of a picture might have said.

use swarfbook_job::census::{
    Census, Count, DebrisClass, FluidColour, MagnetCover, Particle, PhotoKind, Scale, ScaleFrom,
    SizeClass,
};
use swarfbook_job::garwood::garwood;

use super::action::Drawn;

/// Longest sides, mm.
const SIZES_MM: [f64; 7] = [0.3, 0.7, 0.12, 1.2, 2.5, 0.05, 5.0];

/// The census that a photo of this kind gave.
pub fn census(drawn: &Drawn, kind: PhotoKind) -> Census {
    let mut census = Census {
        kind,
        size_px: Some([400, 300]),
        problem: None,
        limits: Vec::new(),
        card: None,
        scale: None,
        smallest_mm: None,
        searched_cm2: Some(100.0),
        particles: Vec::new(),
        counts: Default::default(),
        magnet: None,
        fluid: None,
        unusual: None,
        doubt: None,
        calibration: None,
        lens: None,
    };
    if drawn.unread {
        census.problem = Some("This is not a photo that can be read.".into());
        return census;
    }
    let smallest_mm = f64::from(drawn.smallest) / 10.0;
    if drawn.scale {
        census.scale = Some(Scale {
            px_per_mm: 20.0,
            u_rel: 0.01,
            from: ScaleFrom::Card,
        });
        census.smallest_mm = Some(smallest_mm);
    }
    for (at, (class, size)) in drawn.pieces.iter().enumerate() {
        let class = DebrisClass::LEARNED[usize::from(*class) % DebrisClass::LEARNED.len()];
        let mm = SIZES_MM[usize::from(*size) % SIZES_MM.len()];
        census
            .particles
            .push(piece(at, class, if drawn.scale { mm } else { 0.0 }));
    }
    for class in DebrisClass::LEARNED {
        let n = census.particles.iter().filter(|p| p.class == class).count() as u32;
        if n > 0 {
            let (lo, hi) = garwood(n, 0.90);
            census.counts.insert(class, Count { n, lo, hi });
        }
    }
    if kind == PhotoKind::Magnet {
        let cover = f64::from(drawn.cover.min(100)) / 100.0;
        census.magnet = Some(MagnetCover {
            cover,
            cover_lo: (cover - 0.13).max(0.0),
            cover_hi: (cover + 0.16).min(1.0),
        });
    }
    if kind == PhotoKind::Patch && drawn.fluid {
        census.fluid = Some(FluidColour {
            lab: [34.0, 38.0, 22.0],
            u_de: 2.4,
        });
    }
    census
}

/// A piece in a place of its own, 20 px apart.
fn piece(at: usize, class: DebrisClass, mm: f64) -> Particle {
    let (x, y) = (
        10.0 + 20.0 * (at % 19) as f64,
        10.0 + 20.0 * (at / 19) as f64,
    );
    let other = if class == DebrisClass::Grit {
        DebrisClass::Plastic
    } else {
        DebrisClass::Grit
    };
    Particle {
        x_px: x,
        y_px: y,
        class,
        p: [(other, 0.1), (class, 0.9)].into(),
        feret_max_mm: mm,
        feret_max_lo: mm * 0.97,
        feret_max_hi: mm * 1.03,
        feret_min_mm: mm * 0.6,
        area_mm2: mm * mm * 0.4,
        real: None,
        iso16232: SizeClass::of_feret_max_mm(mm).unwrap_or(SizeClass::B),
        outline_px: vec![
            [x - 4.0, y - 4.0],
            [x + 4.0, y - 4.0],
            [x + 4.0, y + 4.0],
            [x - 4.0, y + 4.0],
        ],
    }
}
