//! The exact edge of a candidate, at full resolution: where a pixel is as likely the piece's as
//! the ground's or the shadow's.

use crate::find::label::{Component, Run, components_of};
use crate::find::{Candidate, Ground, threshold};
use crate::picture::Upright;
use crate::plane::Homography;

use super::field::{Field, View};
use super::mask::fill_holes;
use super::outline::{simplify, trace};
use super::pixel::{COUNT, PixelForest};
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
    /// Mean probability of its pixels.
    pub(crate) likely: f32,
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

/// A pixel belongs to a piece when its likelihood reaches this share of the candidate's likeliest.
const LEVEL: f32 = 0.5;
/// How much a pixel's own difference from the ground tells beside its likelihood, which is smooth:
/// tips and edges are where the difference is half of the piece's.
const CRISP: f32 = 0.6;
/// Least probability of a candidate's likeliest pixel.
const LEAST_PEAK: f32 = 0.2;
/// Least area of a part, px: fewer tell nothing of a shape.
const LEAST_PX: u64 = 6;
/// Pixels around a piece that are looked at too.
const MARGIN: usize = 6;

/// A part of the full picture beside its ground, linear.
struct Patch {
    x0: usize,
    y0: usize,
    width: usize,
    colour: Vec<[f32; 3]>,
    ground: Vec<[f32; 3]>,
    /// Length of colour less ground.
    apart: Vec<f32>,
}

/// Where pieces are in a patch.
struct Reading {
    /// Probability that a pixel is a piece's.
    likely: Vec<f32>,
    /// The probability that borders lie at.
    level: f32,
    /// Difference that half of the piece exceeds.
    contrast: f32,
}

/// What is the same for all candidates of a photo.
pub(crate) struct Photo<'a> {
    pub(crate) picture: &'a Upright,
    pub(crate) linear: &'a [f32; 256],
    pub(crate) ground: &'a Ground,
    /// Pixels of the picture a side of one of the search's.
    pub(crate) step: usize,
    /// px to mm.
    pub(crate) back: &'a Homography,
    /// Linear brightness of white.
    pub(crate) white: f32,
    pub(crate) px_per_mm: f64,
    /// Which way shadows fall, and how sure that is.
    pub(crate) shadow: ([f32; 2], f32),
}

/// The pieces in a candidate.
pub(crate) fn measure(photo: &Photo, candidate: &Candidate, pixels: &PixelForest) -> Vec<Measured> {
    let Some((patch, inside)) = patch_of(photo, &candidate.component) else {
        return Vec::new();
    };
    let noise = noise_at(photo, candidate);
    let field = field_of(photo, &patch, &inside, noise);
    let judged = field.judged(pixels);
    let peak = field.asked.iter().map(|at| judged[*at]).fold(0.0, f32::max);
    if peak < LEAST_PEAK {
        return Vec::new();
    }
    let width = patch.width;
    let sure: Vec<usize> = (inside.iter().copied())
        .filter(|at| field.between(&judged, at % width, at / width) > 0.5 * peak)
        .collect();
    let mut apart: Vec<f32> = sure.iter().map(|at| patch.apart[*at]).collect();
    if apart.is_empty() {
        return Vec::new();
    }
    let half = apart.len() / 2;
    let contrast = apart
        .select_nth_unstable_by(half, f32::total_cmp)
        .1
        .max(1e-4);
    let mut likely = Vec::with_capacity(patch.apart.len());
    for (at, apart) in patch.apart.iter().enumerate() {
        let p = field.between(&judged, at % width, at / width) / peak;
        let bright = (apart / contrast).min(1.0) - 0.5;
        likely.push(if p > 0.02 { p + CRISP * bright } else { p });
    }
    let reading = Reading {
        likely,
        level: LEVEL,
        contrast,
    };
    let mask: Vec<u8> = reading
        .likely
        .iter()
        .map(|p| u8::from(*p > reading.level))
        .collect();
    let mut parts = components_of(&mask, width);
    parts.retain(|p| p.area >= LEAST_PX && touches(p, &mask, &inside, width));
    parts
        .iter()
        .map(|part| {
            let mut m = piece(&patch, part, &reading, photo.back);
            let (left, top) = (patch.x0 + part.x0 as usize, patch.y0 + part.y0 as usize);
            let (right, bottom) = (patch.x0 + part.x1 as usize, patch.y0 + part.y1 as usize);
            m.cut = left == 0
                || top == 0
                || right == photo.picture.width
                || bottom == photo.picture.height;
            m.likely *= peak;
            m.noise = noise;
            m.over_noise = f32::from(candidate.peak) / threshold(noise);
            m
        })
        .collect()
}

/// Spread of the ground's brightness at a candidate, of 255.
fn noise_at(photo: &Photo, candidate: &Candidate) -> f32 {
    let c = &candidate.component;
    let middle = |a: u32, b: u32| f64::from(a + b) / 2.0;
    let at = photo.ground.at(middle(c.x0, c.x1), middle(c.y0, c.y1));
    at.map_or(0.0, |g| g.1 as f32)
}

fn field_of(photo: &Photo, patch: &Patch, inside: &[usize], noise: f32) -> Field {
    Field::new(&View {
        width: patch.width,
        colour: &patch.colour,
        ground: &patch.ground,
        inside,
        px_per_mm: photo.px_per_mm,
        white: photo.white,
        noise,
        shadow: photo.shadow,
    })
}

/// Places of a candidate's field with their figures, px of the picture: what the forest learns from.
pub(crate) fn pixel_looks(photo: &Photo, candidate: &Candidate) -> Vec<([f64; 2], [f32; COUNT])> {
    let Some((patch, inside)) = patch_of(photo, &candidate.component) else {
        return Vec::new();
    };
    let field = field_of(photo, &patch, &inside, noise_at(photo, candidate));
    let place = |at: &usize| {
        let middle = |v: usize, from: usize| from as f64 + (v as f64 + 0.5) * field.step as f64;
        let px = [
            middle(at % field.width, patch.x0),
            middle(at / field.width, patch.y0),
        ];
        (px, field.looks(*at))
    };
    field.asked.iter().map(place).collect()
}

/// Whether a part holds a pixel of the candidate.
fn touches(part: &Component, mask: &[u8], inside: &[usize], width: usize) -> bool {
    inside.iter().any(|at| {
        let (x, y) = ((at % width) as u32, (at / width) as u32);
        let in_box = (part.x0..part.x1).contains(&x) && (part.y0..part.y1).contains(&y);
        let holds = |r: &Run| r.y == y && (r.x0..r.x1).contains(&x);
        mask[*at] != 0 && in_box && part.runs.iter().any(holds)
    })
}

/// The window around a candidate, and the candidate's pixels in it.
fn patch_of(photo: &Photo, c: &Component) -> Option<(Patch, Vec<usize>)> {
    let (picture, linear, step) = (photo.picture, photo.linear, photo.step);
    let size = (c.x1 - c.x0).max(c.y1 - c.y0) as usize * step;
    let margin = (size / 4).clamp(10, 24);
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
        apart: Vec::with_capacity(area),
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
                let g = photo.ground.at(at(x), at(y))?.0.map(lit);
                line.extend([g; COARSE]);
            }
        }
        let from = 3 * (y * picture.width + x0);
        let row = &picture.rgb[from..from + 3 * (x1 - x0)];
        for (p, g) in row.chunks_exact(3).zip(&line) {
            let rgb = [0, 1, 2].map(|i| linear[usize::from(p[i])]);
            let d: [f32; 3] = std::array::from_fn(|i| rgb[i] - g[i]);
            let length = (d[0] * d[0] + d[1] * d[1] + d[2] * d[2]).sqrt();
            patch.apart.push(length);
            patch.colour.push(rgb);
            patch.ground.push(*g);
        }
    }
    let mut inside: Vec<usize> = Vec::new();
    for r in &c.runs {
        for v in 0..step {
            let line = (r.y as usize * step + v - patch.y0) * patch.width;
            let from = line + r.x0 as usize * step - patch.x0;
            inside.extend(from..from + (r.x1 - r.x0) as usize * step);
        }
    }
    Some((patch, inside))
}

/// Cuts one part out of a patch and measures it.
fn piece(patch: &Patch, part: &Component, reading: &Reading, back: &Homography) -> Measured {
    let (half, contrast) = (reading.level, reading.contrast);
    let patch_height = patch.apart.len() / patch.width;
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
    let in_patch = |at: usize| (at / width + y0) * patch.width + at % width + x0;
    let likely = |at: usize| reading.likely[in_patch(at)];
    let far = |at: usize| patch.apart[in_patch(at)];
    let (left, top) = ((patch.x0 + x0) as f64, (patch.y0 + y0) as f64);
    let mut edge = Vec::new();
    let (mut area, mut sx, mut sy, mut ground) = (0.0, 0.0, 0.0, [0f32; 3]);
    let mut sum_likely = 0.0;
    let (mut falls, mut beyond) = (Vec::new(), Vec::new());
    let mut colour = Vec::with_capacity(mask.len());
    for at in 0..mask.len() {
        let (x, y) = (at % width, at / width);
        colour.push(patch.colour[in_patch(at)]);
        if mask[at] == 0 {
            continue;
        }
        area += 1.0;
        sum_likely += f64::from(likely(at));
        let (cx, cy) = (x as f64 + 0.5 + left, y as f64 + 0.5 + top);
        sx += cx;
        sy += cy;
        for (sum, v) in ground.iter_mut().zip(patch.ground[in_patch(at)]) {
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
                    let (here, there) = (likely(at), likely(o));
                    if here > half && there < half {
                        f64::from((here - half) / (here - there))
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
        likely: (sum_likely / area) as f32,
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
