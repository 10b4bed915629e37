//! One piece parted into two along a line, two joined into one: what the
//! technician says of an outline, measured anew.

use swarfbook_job::census::{Census, Particle, PointPx, SizeClass};

use super::sheet::plane_of_census;
use crate::particle::shape::{Feret, feret, hull, polygon_area};
use crate::plane::Homography;

/// A part has at least this share of the whole: a line along the edge cuts nothing off.
const LEAST_PART: f64 = 0.05;
/// A waist leaves at least this share on either side.
const LEAST_LOBE: f64 = 0.15;
/// Corners of an outline that are tried for a waist.
const CORNERS_TRIED: usize = 72;

/// Both parts of a piece, the greater first; `None` where the line does not cut it, or the census
/// has no scale.
pub fn parted(census: &Census, piece: &Particle, line: [PointPx; 2]) -> Option<[Particle; 2]> {
    let to_mm = plane_of_census(census)?;
    let [one, other] = split(&piece.outline_px, line)?;
    let whole = polygon_area(&piece.outline_px);
    let (a, b) = (polygon_area(&one), polygon_area(&other));
    if a.min(b) < LEAST_PART * whole {
        return None;
    }
    let (one, other) = if a >= b { (one, other) } else { (other, one) };
    let ruler = Ruler::of(&to_mm, &[piece])?;
    Some([one, other].map(|outline| ruler.piece(piece, outline)))
}

/// Two pieces as one, of the greater one's class; `None` where the census has no scale.
pub fn joined(census: &Census, a: &Particle, b: &Particle) -> Option<Particle> {
    let to_mm = plane_of_census(census)?;
    let ruler = Ruler::of(&to_mm, &[a, b])?;
    let (greater, less) = if a.area_mm2 >= b.area_mm2 {
        (a, b)
    } else {
        (b, a)
    };
    let mut piece = ruler.piece(greater, bridged(&greater.outline_px, &less.outline_px));
    let whole = a.area_mm2 + b.area_mm2;
    // The bridge between them has no width.
    piece.area_mm2 = whole;
    let share = if whole > 0.0 {
        less.area_mm2 / whole
    } else {
        0.5
    };
    piece.x_px = greater.x_px + share * (less.x_px - greater.x_px);
    piece.y_px = greater.y_px + share * (less.y_px - greater.y_px);
    Some(piece)
}

/// Where a piece is narrowest between two lobes, as a line across it; `None` where it has none.
pub fn waist(outline: &[PointPx]) -> Option<[PointPx; 2]> {
    let step = outline.len().div_ceil(CORNERS_TRIED).max(1);
    let points: Vec<PointPx> = outline.iter().copied().step_by(step).collect();
    let n = points.len();
    let whole = polygon_area(&points);
    let mut along = vec![0.0];
    for i in 0..n {
        let last = along.last().copied().unwrap_or(0.0);
        along.push(last + distance(points[i], points[(i + 1) % n]));
    }
    let round = along.last().copied().unwrap_or(0.0);
    let mut best: Option<(f64, [PointPx; 2])> = None;
    for i in 0..n {
        for j in i + 2..n {
            let way = along[j] - along[i];
            let chord = distance(points[i], points[j]);
            let neck = chord / way.min(round - way).max(f64::MIN_POSITIVE);
            if best.is_some_and(|(least, _)| neck >= least) {
                continue;
            }
            let lobe = polygon_area(&points[i..=j]);
            let inside = (LEAST_LOBE..=1.0 - LEAST_LOBE).contains(&(lobe / whole));
            let middle = between(points[i], points[j], 0.5);
            if inside && contains(outline, middle) {
                best = Some((neck, [points[i], points[j]]));
            }
        }
    }
    best.map(|(_, line)| line)
}

/// The point lies within the outline (even-odd rule).
pub fn contains(outline: &[PointPx], [x, y]: PointPx) -> bool {
    let n = outline.len();
    (0..n).fold(false, |inside, i| {
        let ([ax, ay], [bx, by]) = (outline[i], outline[(i + 1) % n]);
        let crosses = (ay > y) != (by > y) && x < ax + (y - ay) / (by - ay) * (bx - ax);
        inside != crosses
    })
}

/// How the machine's lengths and areas stand to those of its outlines: what it knows of a piece's
/// soft edge holds for its parts too.
struct Ruler<'a> {
    to_mm: &'a Homography,
    length: f64,
    area: f64,
}

impl<'a> Ruler<'a> {
    fn of(to_mm: &'a Homography, pieces: &[&Particle]) -> Option<Ruler<'a>> {
        let (mut told, mut drawn) = ([0.0; 2], [0.0; 2]);
        for piece in pieces {
            let (feret, area) = measured(to_mm, &piece.outline_px);
            told = [told[0] + piece.feret_max_mm, told[1] + piece.area_mm2];
            drawn = [drawn[0] + feret.max, drawn[1] + area];
        }
        let ratio = |i: usize| (told[i] / drawn[i]).clamp(0.5, 2.0);
        (drawn[0] > 0.0 && drawn[1] > 0.0).then(|| Ruler {
            to_mm,
            length: ratio(0),
            area: ratio(1),
        })
    }

    /// A piece like `of` with another outline.
    fn piece(&self, of: &Particle, outline_px: Vec<PointPx>) -> Particle {
        let (feret, area) = measured(self.to_mm, &outline_px);
        let feret_max_mm = feret.max * self.length;
        let scale = feret_max_mm / of.feret_max_mm.max(f64::MIN_POSITIVE);
        let [x_px, y_px] = centre(&outline_px);
        Particle {
            x_px,
            y_px,
            feret_max_mm,
            feret_max_lo: of.feret_max_lo * scale,
            feret_max_hi: of.feret_max_hi * scale,
            feret_min_mm: (feret.min * self.length).min(feret_max_mm),
            area_mm2: area * self.area,
            iso16232: SizeClass::of_feret_max_mm(feret_max_mm).unwrap_or(SizeClass::B),
            outline_px,
            ..of.clone()
        }
    }
}

fn measured(to_mm: &Homography, outline: &[PointPx]) -> (Feret, f64) {
    let mm: Vec<[f64; 2]> = outline.iter().map(|p| to_mm.apply(*p)).collect();
    (feret(&hull(&mm)), polygon_area(&mm))
}

/// Centre of area.
fn centre(points: &[PointPx]) -> PointPx {
    let n = points.len();
    // From a corner of its own, so that small pieces far from the origin lose no digits.
    let [ox, oy] = points.first().copied().unwrap_or_default();
    let (mut twice, mut x, mut y) = (0.0, 0.0, 0.0);
    for i in 0..n {
        let (a, b) = (points[i], points[(i + 1) % n]);
        let (a, b) = ([a[0] - ox, a[1] - oy], [b[0] - ox, b[1] - oy]);
        let cross = a[0] * b[1] - a[1] * b[0];
        twice += cross;
        x += (a[0] + b[0]) * cross;
        y += (a[1] + b[1]) * cross;
    }
    if twice.abs() < 1e-9 {
        return [ox, oy];
    }
    [ox + x / (3.0 * twice), oy + y / (3.0 * twice)]
}

/// The outline cut in two by the stretch of the line within it that is most meant; `None` where the
/// line does not cross it.
fn split(outline: &[PointPx], [from, to]: [PointPx; 2]) -> Option<[Vec<PointPx>; 2]> {
    let n = outline.len();
    let d = [to[0] - from[0], to[1] - from[1]];
    let square = d[0] * d[0] + d[1] * d[1];
    if n < 3 || !(square > 0.0 && square.is_finite()) {
        return None;
    }
    let off = |p: PointPx| d[0] * (p[1] - from[1]) - d[1] * (p[0] - from[0]);
    let along = |p: PointPx| (d[0] * (p[0] - from[0]) + d[1] * (p[1] - from[1])) / square;
    // Where the border crosses the line: behind which corner, where, how far along.
    let mut crossings: Vec<(f64, usize, PointPx)> = Vec::new();
    for i in 0..n {
        let (a, b) = (outline[i], outline[(i + 1) % n]);
        let (oa, ob) = (off(a), off(b));
        if (oa > 0.0) != (ob > 0.0) {
            let at = between(a, b, oa / (oa - ob));
            crossings.push((along(at), i, at));
        }
    }
    crossings.sort_by(|a, b| a.0.total_cmp(&b.0));
    let meant = |c: &&[(f64, usize, PointPx)]| {
        let overlap = c[1].0.min(1.0) - c[0].0.max(0.0);
        if overlap > 0.0 {
            overlap
        } else {
            -((c[0].0 + c[1].0) / 2.0 - 0.5).abs()
        }
    };
    let stretch = crossings
        .chunks_exact(2)
        .max_by(|a, b| meant(a).total_cmp(&meant(b)))?;
    let (mut p, mut q) = (stretch[0], stretch[1]);
    if p.1 > q.1 {
        (p, q) = (q, p);
    }
    let mut one = vec![p.2];
    one.extend_from_slice(&outline[p.1 + 1..=q.1]);
    one.push(q.2);
    let mut other = vec![q.2];
    other.extend_from_slice(&outline[q.1 + 1..]);
    other.extend_from_slice(&outline[..=p.1]);
    other.push(p.2);
    Some([one, other])
}

/// Two outlines in one stroke, over a bridge without width where they are nearest.
fn bridged(a: &[PointPx], b: &[PointPx]) -> Vec<PointPx> {
    let mut best = (f64::INFINITY, 0, 0);
    for (i, p) in a.iter().enumerate() {
        for (j, q) in b.iter().enumerate() {
            let d = distance(*p, *q);
            if d < best.0 {
                best = (d, i, j);
            }
        }
    }
    let (_, i, j) = best;
    // Both round the same way, else one would be taken from the other.
    let signed = |points: &[PointPx]| -> f64 {
        (0..points.len())
            .map(|k| (points[k], points[(k + 1) % points.len()]))
            .map(|(p, q)| p[0] * q[1] - p[1] * q[0])
            .sum()
    };
    let mut second: Vec<PointPx> = b[j..].iter().chain(&b[..=j]).copied().collect();
    if signed(a) * signed(b) < 0.0 {
        second.reverse();
    }
    let first = a[i..].iter().chain(&a[..=i]).copied();
    first.chain(second).collect()
}

fn between(a: PointPx, b: PointPx, t: f64) -> PointPx {
    [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]
}

fn distance(a: PointPx, b: PointPx) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}
