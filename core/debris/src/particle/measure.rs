//! The exact edge of a candidate, at full resolution and in linear light: where
//! the picture is half way between the ground and the piece.

use crate::find::label::Component;
use crate::find::{Candidate, Ground, threshold};
use crate::picture::Upright;
use crate::plane::Homography;

use super::level::{Level, best_level};
use super::mask::fill_holes;
use super::outline::{simplify, trace};
use super::shape::{Feret, feret, hull, polygon_area};

/// A piece in its box of the full picture.
#[derive(Debug, Clone)]
pub(crate) struct Measured {
    /// Width of the box, px.
    pub(crate) width: usize,
    /// Set where the piece is.
    pub(crate) mask: Vec<u8>,
    /// Linear colour in the box.
    pub(crate) colour: Vec<[f32; 3]>,
    /// Linear ground colour at the piece.
    pub(crate) ground: [f32; 3],
    /// Mean fall over one pixel at the edge, over the contrast.
    pub(crate) edge_step: f32,
    /// Mean distance to the ground four pixels outside, over the contrast.
    pub(crate) outside: f32,
    /// Largest difference over the least that counts.
    pub(crate) over_noise: f32,
    /// Spread of the ground's brightness, of 255.
    pub(crate) noise: f32,
    pub(crate) area_px: f64,
    pub(crate) centre_px: [f64; 2],
    pub(crate) feret: Feret,
    pub(crate) area_mm2: f64,
    pub(crate) hull_mm2: f64,
    pub(crate) outline_px: Vec<[f64; 2]>,
    /// Whether it touches the picture's border.
    pub(crate) cut: bool,
}

/// Gaps within a piece that are closed, mm: streaks of a flake where it is as bright as the ground.
const GAP_MM: f64 = 0.16;
/// A highlight counts no more than this many times the ground: else it alone would set the level.
const MOST_BRIGHT: f32 = 1.5;
/// Pixels around a piece that are looked at too.
const MARGIN: usize = 6;

/// A part of the full picture beside its ground, linear.
struct Patch {
    x0: usize,
    y0: usize,
    width: usize,
    colour: Vec<[f32; 3]>,
    ground: Vec<[f32; 3]>,
    /// Length of colour less ground, negative where it is darker.
    signed: Vec<f32>,
}

/// The pieces in a candidate. `back` takes px to mm.
pub(crate) fn measure(
    picture: &Upright,
    linear: &[f32; 256],
    candidate: &Candidate,
    step: usize,
    ground: &Ground,
    back: &Homography,
) -> Vec<Measured> {
    let c = &candidate.component;
    let Some(patch) = patch_of(picture, linear, c, step, ground) else {
        return Vec::new();
    };
    let width = patch.width;
    let mut inside: Vec<usize> = Vec::new();
    for r in &c.runs {
        for v in 0..step {
            let line = (r.y as usize * step + v - patch.y0) * width;
            let from = line + r.x0 as usize * step - patch.x0;
            inside.extend(from..from + (r.x1 - r.x0) as usize * step);
        }
    }
    let middle = |a: u32, b: u32| f64::from(a + b) / 2.0;
    let noise = ground
        .at(middle(c.x0, c.x1), middle(c.y0, c.y1))
        .map_or(0.0, |g| g.1);
    let mm_per_px = back.local_scale([patch.x0 as f64, patch.y0 as f64]);
    let gap = (GAP_MM / mm_per_px / 2.0).round() as usize;
    let Some(level) = best_level(&patch.signed, &inside, width, gap.clamp(1, 4)) else {
        return Vec::new();
    };
    level
        .parts
        .iter()
        .map(|part| {
            let mut m = piece(&patch, part, &level, back);
            let (left, top) = (patch.x0 + part.x0 as usize, patch.y0 + part.y0 as usize);
            let (right, bottom) = (patch.x0 + part.x1 as usize, patch.y0 + part.y1 as usize);
            m.cut = left == 0 || top == 0 || right == picture.width || bottom == picture.height;
            m.noise = noise as f32;
            m.over_noise = f32::from(candidate.peak) / threshold(noise as f32);
            m
        })
        .collect()
}

fn patch_of(
    picture: &Upright,
    linear: &[f32; 256],
    c: &Component,
    step: usize,
    ground: &Ground,
) -> Option<Patch> {
    let size = (c.x1 - c.x0).max(c.y1 - c.y0) as usize * step;
    let margin = (size / 4).clamp(6, 24);
    let x0 = (c.x0 as usize * step).saturating_sub(margin);
    let y0 = (c.y0 as usize * step).saturating_sub(margin);
    let x1 = (c.x1 as usize * step + margin).min(picture.width);
    let y1 = (c.y1 as usize * step + margin).min(picture.height);
    let area = (x1 - x0) * (y1 - y0);
    let mut patch = Patch {
        x0,
        y0,
        width: x1 - x0,
        colour: Vec::with_capacity(area),
        ground: Vec::with_capacity(area),
        signed: Vec::with_capacity(area),
    };
    let lit = |v: f64| {
        let low = (v as usize).min(254);
        linear[low] + (linear[low + 1] - linear[low]) * (v - low as f64) as f32
    };
    // The ground changes over millimetres: every fourth pixel of it is enough.
    const COARSE: usize = 4;
    let mut line: Vec<[f32; 3]> = Vec::new();
    for y in y0..y1 {
        if (y - y0).is_multiple_of(COARSE) {
            line.clear();
            for x in (x0..x1).step_by(COARSE) {
                let middle = COARSE as f64 / 2.0;
                let at = |v: usize| (v as f64 + middle) / step as f64;
                let g = ground.at(at(x), at(y))?.0.map(lit);
                line.extend([g; COARSE]);
            }
        }
        let from = 3 * (y * picture.width + x0);
        let row = &picture.rgb[from..from + 3 * (x1 - x0)];
        for (p, g) in row.chunks_exact(3).zip(&line) {
            let rgb = [0, 1, 2].map(|i| linear[usize::from(p[i])]);
            let d: [f32; 3] = std::array::from_fn(|i| rgb[i] - g[i]);
            let length = (d[0] * d[0] + d[1] * d[1] + d[2] * d[2]).sqrt();
            let whole = (g[0] * g[0] + g[1] * g[1] + g[2] * g[2]).sqrt();
            let brighter = 0.3 * d[0] + 0.6 * d[1] + 0.1 * d[2] > 0.0;
            let signed = if brighter {
                length.min(MOST_BRIGHT * whole)
            } else {
                -length
            };
            patch.signed.push(signed);
            patch.colour.push(rgb);
            patch.ground.push(*g);
        }
    }
    Some(patch)
}

/// Cuts one part out of a patch and measures it.
fn piece(patch: &Patch, part: &Component, reading: &Level, back: &Homography) -> Measured {
    let (half, contrast) = (reading.level, reading.contrast);
    let patch_height = patch.signed.len() / patch.width;
    let x0 = (part.x0 as usize).saturating_sub(MARGIN);
    let y0 = (part.y0 as usize).saturating_sub(MARGIN);
    let width = (part.x1 as usize + MARGIN).min(patch.width) - x0;
    let height = (part.y1 as usize + MARGIN).min(patch_height) - y0;
    let mut mask = vec![0u8; width * height];
    for r in &part.runs {
        let line = (r.y as usize - y0) * width;
        mask[line + r.x0 as usize - x0..line + r.x1 as usize - x0].fill(1);
    }
    fill_holes(&mut mask, width);
    let far = |at: usize| reading.distance[(at / width + y0) * patch.width + at % width + x0];
    let (left, top) = ((patch.x0 + x0) as f64, (patch.y0 + y0) as f64);
    let mut edge = Vec::new();
    let (mut area, mut sx, mut sy, mut ground) = (0.0, 0.0, 0.0, [0f32; 3]);
    let (mut falls, mut beyond) = (Vec::new(), Vec::new());
    let mut colour = Vec::with_capacity(mask.len());
    for at in 0..mask.len() {
        let (x, y) = (at % width, at / width);
        let in_patch = (y + y0) * patch.width + x + x0;
        colour.push(patch.colour[in_patch]);
        if mask[at] == 0 {
            continue;
        }
        area += 1.0;
        let (cx, cy) = (x as f64 + 0.5 + left, y as f64 + 0.5 + top);
        sx += cx;
        sy += cy;
        for (sum, v) in ground.iter_mut().zip(patch.ground[in_patch]) {
            *sum += v;
        }
        for (dx, dy) in [(-1i64, 0i64), (1, 0), (0, -1), (0, 1)] {
            let place = |k: i64| {
                let (u, v) = (x as i64 + k * dx, y as i64 + k * dy);
                let inside = u >= 0 && v >= 0 && u < width as i64 && v < height as i64;
                inside.then(|| v as usize * width + u as usize)
            };
            let t = match place(1) {
                Some(o) if mask[o] != 0 => continue,
                Some(o) => {
                    falls.push(far(at) - far(o));
                    beyond.extend(place(4).filter(|p| mask[*p] == 0).map(far));
                    let crosses = far(at) > half && far(o) < half;
                    if crosses {
                        f64::from((far(at) - half) / (far(at) - far(o)))
                    } else {
                        0.5
                    }
                }
                None => 0.5,
            };
            edge.push([cx + dx as f64 * t, cy + dy as f64 * t]);
        }
    }
    let centre_px = [sx / area, sy / area];
    let mm: Vec<[f64; 2]> = edge.iter().map(|p| back.apply(*p)).collect();
    let convex = hull(&mm);
    let mm_per_px = back.local_scale(centre_px);
    let outline = simplify(&trace(&mask, width));
    let share = |v: &[f32]| v.iter().sum::<f32>() / (v.len().max(1) as f32 * contrast.max(1e-6));
    Measured {
        width,
        colour,
        ground: ground.map(|v| v / area as f32),
        edge_step: share(&falls),
        outside: share(&beyond),
        over_noise: 0.0,
        noise: 0.0,
        area_px: area,
        centre_px,
        feret: feret(&convex),
        area_mm2: area * mm_per_px * mm_per_px,
        hull_mm2: polygon_area(&convex),
        outline_px: outline.iter().map(|p| [p[0] + left, p[1] + top]).collect(),
        mask,
        cut: false,
    }
}
