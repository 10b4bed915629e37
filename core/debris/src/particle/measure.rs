//! The exact edge of a candidate, at full resolution and in linear light: where
//! the picture is half way between the ground and the piece.

use crate::find::label::components_of;
use crate::find::{Candidate, Ground};
use crate::picture::Upright;
use crate::plane::Homography;

use super::outline::{simplify, trace};
use super::shape::{Feret, feret, hull, polygon_area};

/// A piece in its box of the full picture.
#[derive(Debug, Clone)]
pub(crate) struct Measured {
    /// Left, top of the box, and its width; px.
    pub(crate) x0: usize,
    pub(crate) y0: usize,
    pub(crate) width: usize,
    /// Set where the piece is.
    pub(crate) mask: Vec<u8>,
    /// Linear colour in the box.
    pub(crate) colour: Vec<[f32; 3]>,
    /// Linear ground colour at the piece.
    pub(crate) ground: [f32; 3],
    /// Distance of the two colours that the edge is half of.
    pub(crate) contrast: f32,
    pub(crate) area_px: f64,
    pub(crate) centre_px: [f64; 2],
    pub(crate) feret: Feret,
    pub(crate) area_mm2: f64,
    pub(crate) hull_mm2: f64,
    pub(crate) outline_px: Vec<[f64; 2]>,
    /// Whether it touches the picture's border.
    pub(crate) cut: bool,
}

/// Least area of a piece, px: fewer tell nothing of a shape.
const LEAST_PX: u64 = 6;

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
    let size = (c.x1 - c.x0).max(c.y1 - c.y0) as usize * step;
    let margin = (size / 4).clamp(4, 24);
    let x0 = (c.x0 as usize * step).saturating_sub(margin);
    let y0 = (c.y0 as usize * step).saturating_sub(margin);
    let x1 = (c.x1 as usize * step + margin).min(picture.width);
    let y1 = (c.y1 as usize * step + margin).min(picture.height);
    let width = x1 - x0;
    let mut colour = Vec::with_capacity(width * (y1 - y0));
    let mut distance = Vec::with_capacity(width * (y1 - y0));
    let mut grounds = Vec::with_capacity(width * (y1 - y0));
    for y in y0..y1 {
        for x in x0..x1 {
            let (wx, wy) = (
                (x as f64 + 0.5) / step as f64,
                (y as f64 + 0.5) / step as f64,
            );
            let Some((g, _)) = ground.at(wx, wy) else {
                return Vec::new();
            };
            let g = g.map(|v| crate::colour::linear_of_srgb(v) as f32);
            let p = &picture.rgb[3 * (y * picture.width + x)..];
            let rgb = [0, 1, 2].map(|i| linear[usize::from(p[i])]);
            let d: f32 = (0..3).map(|i| (rgb[i] - g[i]).powi(2)).sum();
            colour.push(rgb);
            distance.push(d.sqrt());
            grounds.push(g);
        }
    }
    let mut inside: Vec<f32> = Vec::new();
    for r in &c.runs {
        for v in 0..step {
            let y = r.y as usize * step + v;
            for x in r.x0 as usize * step..r.x1 as usize * step {
                if y < y1 && x < x1 {
                    inside.push(distance[(y - y0) * width + x - x0]);
                }
            }
        }
    }
    if inside.is_empty() {
        return Vec::new();
    }
    let at = inside.len() * 3 / 4;
    let contrast = *inside.select_nth_unstable_by(at, f32::total_cmp).1;
    let half = contrast / 2.0;
    let mask: Vec<u8> = distance.iter().map(|d| u8::from(*d > half)).collect();
    components_of(&mask, width)
        .iter()
        .filter(|p| p.area >= LEAST_PX && p.area * 8 >= inside.len() as u64)
        .filter_map(|p| {
            let mut own = vec![0u8; mask.len()];
            for r in &p.runs {
                let from = r.y as usize * width;
                own[from + r.x0 as usize..from + r.x1 as usize].fill(1);
            }
            fill_holes(&mut own, width);
            let cut = x0 + p.x0 as usize == 0
                || y0 + p.y0 as usize == 0
                || x0 + p.x1 as usize == picture.width
                || y0 + p.y1 as usize == picture.height;
            piece(
                x0, y0, width, own, &colour, &distance, &grounds, contrast, back, cut,
            )
        })
        .collect()
}

#[expect(
    clippy::too_many_arguments,
    reason = "one step of `measure`, split off to be read"
)]
fn piece(
    x0: usize,
    y0: usize,
    width: usize,
    mask: Vec<u8>,
    colour: &[[f32; 3]],
    distance: &[f32],
    grounds: &[[f32; 3]],
    contrast: f32,
    back: &Homography,
    cut: bool,
) -> Option<Measured> {
    let half = contrast / 2.0;
    let height = mask.len() / width;
    let mut edge = Vec::new();
    let (mut area, mut sx, mut sy, mut ground) = (0.0, 0.0, 0.0, [0f32; 3]);
    for y in 0..height {
        for x in 0..width {
            let at = y * width + x;
            if mask[at] == 0 {
                continue;
            }
            area += 1.0;
            let (cx, cy) = (x as f64 + 0.5, y as f64 + 0.5);
            sx += cx;
            sy += cy;
            for c in 0..3 {
                ground[c] += grounds[at][c];
            }
            let mut reach = |outside: Option<usize>, dx: f64, dy: f64| {
                let t = match outside {
                    Some(o) if mask[o] != 0 => return,
                    Some(o) if distance[at] > half && distance[o] < half => {
                        f64::from((distance[at] - half) / (distance[at] - distance[o]))
                    }
                    _ => 0.5,
                };
                edge.push([cx + dx * t + x0 as f64, cy + dy * t + y0 as f64]);
            };
            reach((x > 0).then(|| at - 1), -1.0, 0.0);
            reach((x + 1 < width).then(|| at + 1), 1.0, 0.0);
            reach((y > 0).then(|| at - width), 0.0, -1.0);
            reach((y + 1 < height).then(|| at + width), 0.0, 1.0);
        }
    }
    let centre_px = [sx / area + x0 as f64, sy / area + y0 as f64];
    let mm: Vec<[f64; 2]> = edge.iter().map(|p| back.apply(*p)).collect();
    let around = hull(&mm);
    let mm_per_px = back.local_scale(centre_px);
    let outline: Vec<[f64; 2]> = simplify(&trace(&mask, width))
        .iter()
        .map(|p| [p[0] + x0 as f64, p[1] + y0 as f64])
        .collect();
    Some(Measured {
        x0,
        y0,
        width,
        colour: colour.to_vec(),
        ground: ground.map(|v| v / area as f32),
        contrast,
        area_px: area,
        centre_px,
        feret: feret(&around),
        area_mm2: area * mm_per_px * mm_per_px,
        hull_mm2: polygon_area(&around),
        outline_px: outline,
        mask,
        cut,
    })
}

/// Sets what the mask encloses.
fn fill_holes(mask: &mut [u8], width: usize) {
    let height = mask.len() / width;
    let mut outside = vec![false; mask.len()];
    let mut stack = Vec::new();
    let border = (0..width)
        .flat_map(|x| [x, (height - 1) * width + x])
        .chain((0..height).flat_map(|y| [y * width, y * width + width - 1]));
    for at in border {
        if mask[at] == 0 && !outside[at] {
            outside[at] = true;
            stack.push(at);
        }
    }
    while let Some(at) = stack.pop() {
        let (x, y) = (at % width, at / width);
        let near = [
            (x > 0).then(|| at - 1),
            (x + 1 < width).then(|| at + 1),
            (y > 0).then(|| at - width),
            (y + 1 < height).then(|| at + width),
        ];
        for to in near.into_iter().flatten() {
            if mask[to] == 0 && !outside[to] {
                outside[to] = true;
                stack.push(to);
            }
        }
    }
    for (m, out) in mask.iter_mut().zip(outside) {
        if !out {
            *m = 1;
        }
    }
}
