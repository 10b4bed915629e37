//! Three looks at the ground: a wide one that large pieces can't bend, then a middle and a
//! narrow one, with what stands out left out, that follow stains closely.

use swarfbook_job::census::PhotoKind;

use super::detect::{Candidate, candidates, difference, pixels};
use super::ground::{Ground, Sampling, ground_of};
use super::label::Component;
use super::quad::row_spans;
use super::work::{HIDDEN, Work, work_of};
use crate::picture::Upright;

/// Half a side of the wide neighbourhood, mm: pieces up to some 6 mm fill less than half of it.
const WIDE_MM: f64 = 4.5;
/// Half a side of the middle one, mm: on a mottled stain the wide one varies too much to show a
/// dark piece, and the narrow one lies within a large piece.
const MIDDLE_MM: f64 = 2.4;
/// Half a side of the narrow one, mm: a stain's edge is followed within about this distance,
/// and what the wide look left in it, up to some 1.5 mm, fills less than half.
const NARROW_MM: f64 = 1.3;
/// Largest piece that is looked for, mm across.
const LARGEST_MM: f64 = 14.0;

/// Length from which a thing that stands out is large, mm: of smaller ones the finder sees all at once.
const LARGE_MM: f64 = 2.0;

/// px per mm below which a picture is not reduced to be searched: 0.3 mm, the smallest size asked
/// for, then still spans about two pixels.
const FINEST_PX_PER_MM: f64 = 7.0;
/// The same in a pan, whose own grain is as coarse: 0.5 mm spans two and a half. In six pans and two,
/// of 288 pieces of 0.5 mm and more 11 were missed by it and 13 at the above, with 1,140 candidates
/// rather than 4,548.
const PAN_FINEST_PX_PER_MM: f64 = 5.0;

/// Share of the least difference at which things are hidden from the ground: their steps tell them.
const FAINT: f32 = 0.5;

/// The ground, and what stands out from it.
#[derive(Debug)]
pub(crate) struct Search {
    pub(crate) step: usize,
    pub(crate) ground: Ground,
    /// Things of [`LARGE_MM`] and more with a step at their border, in pixels of the search.
    pub(crate) large: Vec<Component>,
    /// Difference from the ground, of 255, and the width of its rows.
    pub(crate) difference: Vec<u8>,
    pub(crate) width: usize,
    /// Pixels of the full picture that were searched.
    pub(crate) searched_px: f64,
    /// Which way shadows fall, unit length, and how much the pieces agree on it, 0 to 1.
    pub(crate) shadow: ([f32; 2], f32),
}

/// Looks at the ground; `hidden` corners (the card's, px) are left out.
pub(crate) fn search(
    picture: &Upright,
    px_per_mm: f64,
    kind: PhotoKind,
    hidden: Option<&[[f64; 2]; 4]>,
) -> Search {
    let finest = match kind {
        PhotoKind::Pan => PAN_FINEST_PX_PER_MM,
        _ => FINEST_PX_PER_MM,
    };
    let work = work_of(picture, px_per_mm, finest);
    let scale = px_per_mm / work.step as f64;
    let mut mask = vec![0u8; work.width * work.height];
    if let Some(quad) = hidden {
        let quad = quad.map(|p| p.map(|v| v / work.step as f64));
        for covered in row_spans(&quad, work.width, work.height) {
            mask[covered].fill(1);
        }
    }
    let (ground, open) = ground_without(&work, &mask, scale);
    let narrow = Sampling {
        half: (NARROW_MM * scale).clamp(5.0, 500.0),
        samples: 4,
        nodes: 1.5,
    };
    let ground = ground_of(&work, &open, narrow, Some(&ground));
    drop(open);
    let near = difference(&work, &ground);
    let small = |c: &Candidate| c.size() < LARGEST_MM * scale;
    let found = candidates(&near, work.width, &ground, &mask, 1.0, small);
    let shadow = shadow(&found, &near, work.width);
    let large = found
        .into_iter()
        .filter(|c| c.size() >= LARGE_MM * scale && is_step(c, &near, work.width))
        .map(|c| c.component);
    let searched = mask.iter().filter(|m| **m == 0).count();
    Search {
        step: work.step,
        ground,
        shadow,
        large: large.collect(),
        width: work.width,
        difference: near,
        searched_px: (searched * work.step * work.step) as f64,
    }
}

/// The ground by a wide and a middle look, and the packed pixels with what stands out from it hidden.
/// Both look at half the pixels: what bends a ground is larger than what is sought.
fn ground_without(work: &Work, mask: &[u8], scale: f64) -> (Ground, Vec<u32>) {
    let (half, mask_of_half) = work.halved(mask);
    let scale = scale / 2.0;
    let hide = |ground: &Ground, open: &mut [u32]| {
        hide(&half, ground, &mask_of_half, open, LARGEST_MM * scale);
    };
    let wide = Sampling {
        half: (WIDE_MM * scale).clamp(8.0, 500.0),
        samples: 7,
        nodes: 1.6,
    };
    let mut open = half.packed(&mask_of_half);
    let mut ground = ground_of(&half, &open, wide, None);
    hide(&ground, &mut open);
    let middle = Sampling {
        half: (MIDDLE_MM * scale).clamp(6.0, 500.0),
        samples: 5,
        nodes: 1.5,
    };
    ground = ground_of(&half, &open, middle, Some(&ground));
    hide(&ground, &mut open);
    let mut whole = work.packed(mask);
    for (y, row) in whole.chunks_exact_mut(work.width).enumerate() {
        let hidden = &open[y / 2 * half.width..(y / 2 + 1) * half.width];
        for (pixels, hidden) in row.chunks_mut(2).zip(hidden) {
            if *hidden == HIDDEN {
                pixels.fill(HIDDEN);
            }
        }
    }
    ground.pitch *= 2;
    (ground, whole)
}

/// Hides of the packed pixels what stands out from a ground with a step at its border.
fn hide(work: &Work, ground: &Ground, mask: &[u8], open: &mut [u32], largest: f64) {
    let far = difference(work, ground);
    let thing = |c: &Candidate| {
        c.size() < largest && (is_step(c, &far, work.width) || is_steep(c, &far, work.width))
    };
    for c in candidates(&far, work.width, ground, mask, FAINT, thing) {
        for at in pixels(&c.component, work.width) {
            open[at] = HIDDEN;
        }
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

/// Whether most of the candidate's rows hold a step of two fifths of its greatest difference, as
/// at the edge of a thing that lies in its own soft shadow.
fn is_steep(c: &Candidate, difference: &[u8], width: usize) -> bool {
    let least = u32::from(c.peak) * 2 / 5;
    let (mut steep, mut rows) = (0, 0);
    let mut runs = c.component.runs.as_slice();
    while let Some(first) = runs.first() {
        let row = runs.iter().take_while(|r| r.y == first.y).count();
        let line = &difference[first.y as usize * width..(first.y as usize + 1) * width];
        rows += 1;
        steep += u32::from(runs[..row].iter().any(|r| {
            let around = (r.x0 as usize).saturating_sub(2)..(r.x1 as usize + 2).min(width);
            let here = &line[around];
            here.windows(3)
                .any(|w| u32::from(w[0].abs_diff(w[2])) >= least)
        }));
        runs = &runs[row..];
    }
    2 * steep > rows
}

/// Which way shadows fall. A piece's edges are steep and a shadow's are not, so that the middle of
/// a candidate lies off the middle of its edges towards the shadow.
fn shadow(found: &[Candidate], difference: &[u8], width: usize) -> ([f32; 2], f32) {
    let (mut sum, mut lengths) = ([0f64; 2], 0f64);
    for c in found {
        let (mut middle, mut edges, mut weight) = ([0f64; 2], [0f64; 2], 1e-9);
        for at in pixels(&c.component, width) {
            let place = [(at % width) as f64, (at / width) as f64];
            let d = |k: usize| difference.get(k).map_or(0.0, |v| f64::from(*v));
            let (dx, dy) = (
                d(at + 1) - d(at.saturating_sub(1)),
                d(at + width) - d(at.saturating_sub(width)),
            );
            let steep = dx * dx + dy * dy;
            weight += steep;
            for k in 0..2 {
                middle[k] += place[k];
                edges[k] += steep * place[k];
            }
        }
        let area = c.component.area as f64;
        let off = [0, 1].map(|k| (middle[k] / area - edges[k] / weight) / area.sqrt());
        let length = off[0].hypot(off[1]);
        // Small ones tell nothing; beyond a third of the size it is no shadow.
        if area > 12.0 && length < 0.35 {
            sum = [sum[0] + off[0], sum[1] + off[1]];
            lengths += length;
        }
    }
    let length = sum[0].hypot(sum[1]).max(1e-9);
    let way = sum.map(|v| (v / length) as f32);
    (way, (length / lengths.max(1e-6)).min(1.0) as f32)
}
