//! The exact edge of a candidate, at full resolution: where a pixel is as likely the piece's as
//! the ground's or the shadow's.

use crate::colour::linear_between;
use crate::eye::{Proposal, Sighting};
use crate::find::label::{Component, Run, components_of};
use crate::find::{Search, threshold};
use crate::picture::Upright;
use crate::plane::Homography;

use super::field::{Field, View};
use super::mask::fill_holes;
use super::outline::{simplify, trace};
use super::pixels::PixelTrees;
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
    /// ln of the widths over this one, were its border where it is less or more likely.
    pub(crate) softer: f32,
    pub(crate) harder: f32,
    /// Length of the ellipse of its second moments, px, and its axis.
    pub(crate) ellipse_px: f64,
    pub(crate) axis: [f64; 2],
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
/// How much less or more likely the border could lie: how soft it is tells how good a length is.
const OTHER_LEVEL: f32 = 0.25;
/// Least probability of a candidate's likeliest pixel.
const LEAST_PEAK: f32 = 0.08;
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

/// What is the same for all proposals of a photo.
pub(crate) struct Photo<'a> {
    pub(crate) picture: &'a Upright,
    pub(crate) linear: &'a [f32; 256],
    pub(crate) search: &'a Search,
    pub(crate) sighting: &'a Sighting,
    /// px to mm.
    pub(crate) back: &'a Homography,
    /// Linear brightness of white.
    pub(crate) white: f32,
    pub(crate) px_per_mm: f64,
}

/// The trees that judge pixels, one after the other.
#[derive(Debug, Clone)]
pub struct Sights {
    /// By a pixel and what lies around it.
    pub first: PixelTrees,
    /// With the first one's likelihood around it.
    pub second: PixelTrees,
}

/// The pieces in a proposal.
pub(crate) fn measure(photo: &Photo, proposal: &Proposal, pixels: &Sights) -> Vec<Measured> {
    let Some((patch, inside)) = patch_of(photo, proposal) else {
        return Vec::new();
    };
    let noise = noise_at(photo, proposal);
    let width = patch.width;
    let field = field_of(photo, &patch, &inside, noise);
    let peak_of = |p: &[f32]| field.asked.iter().map(|at| p[*at]).fold(0.0, f32::max);
    let first = field.judged(&pixels.first);
    if peak_of(&first) < LEAST_PEAK {
        return Vec::new();
    }
    let judged = field.judged_again(first, &pixels.second);
    let peak = peak_of(&judged);
    if peak < LEAST_PEAK {
        return Vec::new();
    }
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
    let mut held = vec![false; mask.len()];
    inside.iter().for_each(|at| held[*at] = true);
    parts.retain(|p| p.area >= LEAST_PX && touches(p, &held, width));
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
            m.over_noise = peak_difference(photo, proposal) / threshold(noise);
            m
        })
        .collect()
}

/// Largest difference of a proposal from the ground, of 255.
fn peak_difference(photo: &Photo, proposal: &Proposal) -> f32 {
    let search = photo.search;
    let rows = search.difference.len() / search.width;
    let per = photo.sighting.ratio / search.step as f64;
    let place = |v: u32, most: usize| (((f64::from(v) + 0.5) * per) as usize).min(most - 1);
    let of_run = |r: &Run| {
        let line = place(r.y, rows) * search.width;
        let from = line + place(r.x0, search.width);
        let upto = line + place(r.x1 - 1, search.width);
        search.difference[from..=upto].iter().copied().max()
    };
    f32::from(
        proposal
            .component
            .runs
            .iter()
            .filter_map(of_run)
            .max()
            .unwrap_or(0),
    )
}

/// Spread of the ground's brightness at a proposal, of 255.
fn noise_at(photo: &Photo, proposal: &Proposal) -> f32 {
    let c = &proposal.component;
    let per = photo.sighting.ratio / photo.search.step as f64;
    let middle = |a: u32, b: u32| f64::from(a + b) / 2.0 * per;
    let at = photo
        .search
        .ground
        .at(middle(c.x0, c.x1), middle(c.y0, c.y1));
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
        shadow: photo.search.shadow,
    })
}

/// At most so many places of a proposal's field with their figures, px of the picture: what the
/// trees learn from; at first sight, or at second by what the first trees told.
pub(crate) fn pixel_looks(
    photo: &Photo,
    proposal: &Proposal,
    first: Option<&PixelTrees>,
    most: usize,
) -> Vec<([f64; 2], Vec<f32>)> {
    let Some((patch, inside)) = patch_of(photo, proposal) else {
        return Vec::new();
    };
    let field = field_of(photo, &patch, &inside, noise_at(photo, proposal));
    let context = first.map(|forest| field.context(field.judged(forest)));
    let place = |at: &usize| {
        let middle = |v: usize, from: usize| from as f64 + (v as f64 + 0.5) * field.step as f64;
        let px = [
            middle(at % field.width, patch.x0),
            middle(at / field.width, patch.y0),
        ];
        let looks = match &context {
            Some(context) => field.looks_again(context, *at).to_vec(),
            None => field.looks(*at).to_vec(),
        };
        (px, looks)
    };
    let all = field.asked.len();
    let picked = all.min(most);
    (0..picked)
        .map(|k| place(&field.asked[k * all / picked]))
        .collect()
}

/// Whether a part holds one of the proposal's pixels.
fn touches(part: &Component, held: &[bool], width: usize) -> bool {
    part.runs.iter().any(|r| {
        let line = r.y as usize * width;
        held[line + r.x0 as usize..line + r.x1 as usize].contains(&true)
    })
}

/// The window around a proposal, and the proposal's pixels in it.
fn patch_of(photo: &Photo, proposal: &Proposal) -> Option<(Patch, Vec<usize>)> {
    let (picture, linear, step) = (photo.picture, photo.linear, photo.search.step);
    let [x0, y0, x1, y1] = photo
        .sighting
        .window_of(proposal, [picture.width, picture.height]);
    let area = (x1 - x0) * (y1 - y0);
    let mut patch = Patch {
        x0,
        y0,
        width: x1 - x0,
        colour: Vec::with_capacity(area),
        ground: Vec::with_capacity(area),
        apart: Vec::with_capacity(area),
    };
    let lit = |v: f64| linear_between(linear, v);
    // The ground changes over millimetres: every fourth pixel of it is enough.
    const COARSE: usize = 4;
    let mut line: Vec<[f32; 3]> = Vec::new();
    for y in y0..y1 {
        if (y - y0).is_multiple_of(COARSE) {
            line.clear();
            for x in (x0..x1).step_by(COARSE) {
                let middle = COARSE as f64 / 2.0;
                let at = |v: usize| (v as f64 + middle) / step as f64;
                let g = photo.search.ground.at(at(x), at(y))?.0.map(lit);
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
    let ratio = photo.sighting.ratio;
    let cell = |v: usize| ((v as f64 + 0.5) / ratio) as usize;
    let columns: Vec<usize> = (x0..x1)
        .map(|x| cell(x).min(photo.sighting.width - 1))
        .collect();
    let mut inside: Vec<usize> = Vec::new();
    for y in y0..y1 {
        let row = cell(y).min(photo.sighting.height() - 1);
        for (x, column) in columns.iter().enumerate() {
            if photo.sighting.is(*column, row, proposal.owner) {
                inside.push((y - y0) * patch.width + x);
            }
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
    let (ellipse_px, axis) = ellipse(&mask, width, [centre_px[0] - left, centre_px[1] - top]);
    let wider = |by: f32| {
        let over = (0..mask.len()).filter(|at| likely(*at) > half + by).count();
        (0.5 * (over.max(1) as f64 / area).ln()) as f32
    };
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
        softer: wider(-OTHER_LEVEL),
        harder: wider(OTHER_LEVEL),
        ellipse_px,
        axis,
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

/// Length of the ellipse that has a mask's second moments, px, and its axis.
fn ellipse(mask: &[u8], width: usize, [mx, my]: [f64; 2]) -> (f64, [f64; 2]) {
    let (mut n, mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0, 0.0);
    for at in (0..mask.len()).filter(|at| mask[*at] != 0) {
        let (x, y) = (
            (at % width) as f64 + 0.5 - mx,
            (at / width) as f64 + 0.5 - my,
        );
        n += 1.0;
        xx += x * x;
        xy += x * y;
        yy += y * y;
    }
    let (half, apart) = ((xx + yy) / 2.0, ((xx - yy) / 2.0).hypot(xy));
    let turn = 0.5 * (2.0 * xy).atan2(xx - yy);
    let variance = (half + apart) / f64::max(n, 1.0);
    (4.0 * variance.sqrt(), [turn.cos(), turn.sin()])
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A rectangle's variance along its side a is a² / 12 (handbook), so that 4 sigma = 2 a / sqrt 3.
    #[test]
    fn ellipse_of_a_rectangle() {
        let (width, height) = (40, 20);
        let mask: Vec<u8> = (0..width * height)
            .map(|i| u8::from((5..35).contains(&(i % width)) && (8..12).contains(&(i / width))))
            .collect();
        let (length, axis) = ellipse(&mask, width, [20.0, 10.0]);
        assert!((length - 2.0 * 30.0 / 3f64.sqrt()).abs() < 0.05, "{length}");
        assert!(axis[0].abs() > 0.999);
    }
}
