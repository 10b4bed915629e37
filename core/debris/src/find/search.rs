//! Two looks at the ground: a wide one that large pieces can't bend, then a
//! narrow one, with the pieces found left out, that follows stains closely.

use super::detect::{Candidate, candidates, difference, pixels};
use super::ground::{Ground, Sampling, ground_of};
use super::work::{Work, work_of};
use crate::picture::Upright;

/// Half a side of the wide neighbourhood, mm: pieces up to some 6 mm fill less than half of it.
const WIDE_MM: f64 = 4.5;
/// Half a side of the narrow one, mm: a stain's edge is followed within about this distance,
/// and what the wide look left in it, up to some 1.5 mm, fills less than half.
const NARROW_MM: f64 = 1.3;
/// Largest piece that is looked for, mm across.
const LARGEST_MM: f64 = 14.0;

/// What was searched, and what was found.
#[derive(Debug)]
pub(crate) struct Search {
    pub(crate) step: usize,
    pub(crate) ground: Ground,
    pub(crate) candidates: Vec<Candidate>,
    /// Pixels of the full picture that were searched.
    pub(crate) searched_px: f64,
}

/// Searches the picture; `hidden` corners (the card's, px) are left out.
pub(crate) fn search(picture: &Upright, px_per_mm: f64, hidden: Option<&[[f64; 2]; 4]>) -> Search {
    let work = work_of(picture, px_per_mm);
    let scale = px_per_mm / work.step as f64;
    let mut mask = vec![0u8; work.width * work.height];
    if let Some(quad) = hidden {
        fill(&mut mask, &work, quad);
    }
    let wide = Sampling {
        half: (WIDE_MM * scale).clamp(8.0, 500.0),
        samples: 7,
        nodes: 1.6,
    };
    let ground = ground_of(&work, &mask, wide, None);
    let far = difference(&work, &ground);
    let mut solid = mask.clone();
    for c in candidates(&far, work.width, &ground, &mask) {
        let size = (c.component.x1 - c.component.x0).max(c.component.y1 - c.component.y0);
        if f64::from(size) < LARGEST_MM * scale && is_step(&c, &far, work.width) {
            for at in pixels(&c.component, work.width) {
                solid[at] = 1;
            }
        }
    }
    let narrow = Sampling {
        half: (NARROW_MM * scale).clamp(5.0, 500.0),
        samples: 4,
        nodes: 1.5,
    };
    let ground = ground_of(&work, &solid, narrow, Some(&ground));
    let near = difference(&work, &ground);
    let mut found = candidates(&near, work.width, &ground, &mask);
    found.retain(|c| {
        let size = (c.component.x1 - c.component.x0).max(c.component.y1 - c.component.y0);
        f64::from(size) < LARGEST_MM * scale
    });
    let searched = mask.iter().filter(|m| **m == 0).count();
    Search {
        step: work.step,
        ground,
        candidates: found,
        searched_px: (searched * work.step * work.step) as f64,
    }
}

/// Whether the difference falls to less than half over the two pixels outside most of the
/// candidate's border, as at the edge of a thing and not of a stain.
fn is_step(c: &Candidate, difference: &[u8], width: usize) -> bool {
    let inside: u64 = pixels(&c.component, width)
        .map(|at| u64::from(difference[at]))
        .sum();
    let mean = inside as f64 / c.component.area as f64;
    let (mut steps, mut ends) = (0, 0);
    for r in &c.component.runs {
        let line = &difference[r.y as usize * width..(r.y as usize + 1) * width];
        for outside in [(r.x0 as usize).checked_sub(2), Some(r.x1 as usize + 1)] {
            if let Some(d) = outside.and_then(|x| line.get(x)) {
                ends += 1;
                steps += u32::from(f64::from(*d) < 0.5 * mean);
            }
        }
    }
    2 * steps > ends
}

/// Sets the mask inside a convex quad of full-picture corners.
fn fill(mask: &mut [u8], work: &Work, quad: &[[f64; 2]; 4]) {
    let q = quad.map(|p| p.map(|v| v / work.step as f64));
    for y in 0..work.height {
        let v = y as f64 + 0.5;
        let (mut x0, mut x1) = (f64::INFINITY, f64::NEG_INFINITY);
        for i in 0..4 {
            let (a, b) = (q[i], q[(i + 1) % 4]);
            if (a[1] <= v) != (b[1] <= v) {
                let x = a[0] + (v - a[1]) / (b[1] - a[1]) * (b[0] - a[0]);
                x0 = x0.min(x);
                x1 = x1.max(x);
            }
        }
        if x0 < x1 {
            let clamp = |x: f64| x.clamp(0.0, work.width as f64) as usize;
            mask[y * work.width + clamp(x0)..y * work.width + clamp(x1)].fill(1);
        }
    }
}
