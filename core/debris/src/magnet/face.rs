//! The outline of a magnet's face: of the rectangles and circles around the tap, the one whose
//! border shows best on all its sides.

use super::sheet::Sheet;

/// A face, mm around the middle of the sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Face {
    /// Half sides, turn (radians), middle.
    Block {
        half: [f64; 2],
        turn: f64,
        at: [f64; 2],
    },
    /// Outer radius, radius of the hole (0 without), middle.
    Ring { outer: f64, hole: f64, at: [f64; 2] },
}

/// Radii that are tried, mm: pan magnets are some 12 to 44 mm across (common practice, no
/// published source).
const RADII_MM: [f64; 2] = [5.5, 23.0];
/// Distances of a block's sides from the tap, mm, and of opposite sides from each other: a tap lies
/// on the magnet, not always in its middle.
const SIDES_MM: [f64; 2] = [3.0, 30.0];
const ACROSS_MM: [f64; 2] = [12.0, 48.0];
const OFF_MM: f64 = 12.0;
/// Step of a ring's middle that is tried first, and of its radius, mm: within [`BESIDE_MM`] a border
/// is seen.
const MIDDLE_STEP_MM: f64 = 1.0;
const RADIUS_STEP_MM: f64 = 0.5;
/// Rings that are tried at finer steps, and how far around, mm.
const RINGS: usize = 6;
const AROUND_MM: f64 = 0.5;
/// Step of radii and sides, mm; half the length of a side that is looked at first, mm.
const STEP_MM: f64 = 0.25;
const ALONG_MM: f64 = 3.5;
/// Distance from a border at which its two sides are looked at, mm.
const BESIDE_MM: f64 = 0.8;
/// A step counts no more than this (ln of light), lest one bright side outweigh three.
const MOST_STEP: f64 = 0.7;
/// From how far the foot is seen beyond the face it has a border of its own, mm, and how much the
/// fainter of the two counts.
const SIDE_SHOWS_MM: f64 = 0.8;
const BOTH: f64 = 0.5;
/// Shares of a side's samples that may miss their step: paste and pieces hide parts of a border, and
/// an outline that only crosses it misses more.
const HIDDEN: [f64; 2] = [0.4, 0.15];
/// How much a larger face is preferred: within it lie paste's borders, which are as steep.
const SIZE_POWER: f64 = 0.5;
/// Pairs of opposite sides kept an axis.
const PAIRS: usize = 5;
/// A hole's border has at least this step.
const HOLE_STEP: f64 = 0.12;

impl Face {
    /// Whether a place, mm, is on the face, `inset` mm or more from its border.
    pub(crate) fn holds(&self, [x, y]: [f64; 2], inset: f64) -> bool {
        match *self {
            Face::Block { half, turn, at } => {
                let (s, c) = turn.sin_cos();
                let (dx, dy) = (x - at[0], y - at[1]);
                (c * dx + s * dy).abs() < half[0] - inset
                    && (c * dy - s * dx).abs() < half[1] - inset
            }
            Face::Ring { outer, hole, at } => {
                let r = (x - at[0]).hypot(y - at[1]);
                let within = if hole > 0.0 { hole + inset } else { 0.0 };
                r < outer - inset && r >= within
            }
        }
    }
}

/// The face around the tap, and how well its border shows.
pub(crate) fn find(sheet: &Sheet) -> (Face, f64) {
    let all = (rings(sheet).into_iter())
        .chain((0..45).flat_map(|k| blocks(sheet, f64::from(k) * std::f64::consts::PI / 90.0)));
    let scored = all.map(|face| (weighed(sheet, &face), face));
    let best = scored.max_by(|a, b| a.0.total_cmp(&b.0));
    let best = best.map_or_else(|| ring_of(8.0, [0.0; 2]), |b| b.1);
    let alone = |face: &Face| score(sheet, face, MOST_STEP);
    let less = without_sides(&best, sheet.foot);
    let mut face = if alone(&less) > alone(&best) {
        less
    } else {
        best
    };
    // A capped step is as high somewhat off the border; the border itself is where the whole one is
    // highest.
    let sharp = |face: &Face| score(sheet, face, f64::INFINITY);
    let mut most = sharp(&face);
    for step in [0.5, 0.25, 0.12] {
        for _ in 0..4 {
            let before = most;
            for near in moved(&face, step) {
                let s = sharp(&near);
                if s > most {
                    (face, most) = (near, s);
                }
            }
            if most <= before {
                break;
            }
        }
    }
    if let Face::Ring { outer, at, .. } = face {
        // The foot is the outer border's.
        let across = |at, out| border(sheet, at, out, MOST_STEP);
        let holes = steps([2.0, 0.65 * outer], STEP_MM).map(|r| (r, circle(r, at, across)));
        let best = holes.max_by(|a, b| a.1.total_cmp(&b.1));
        let hole = best.filter(|b| b.1 > HOLE_STEP).map_or(0.0, |b| b.0);
        face = Face::Ring { outer, hole, at };
    }
    (face, score(sheet, &face, MOST_STEP))
}

fn ring_of(outer: f64, at: [f64; 2]) -> Face {
    Face::Ring {
        outer,
        hole: 0.0,
        at,
    }
}

/// Rings that hold the tap: those whose border shows best at coarse steps, and what lies around them.
fn rings(sheet: &Sheet) -> Vec<Face> {
    let mut coarse: Vec<(f64, f64, [f64; 2])> = Vec::new();
    for at in places([0.0; 2], OFF_MM, MIDDLE_STEP_MM) {
        let off = at[0].hypot(at[1]);
        for outer in steps([RADII_MM[0].max(off), RADII_MM[1]], RADIUS_STEP_MM) {
            let weight = weighed(sheet, &ring_of(outer, at));
            coarse.push((weight, outer, at));
        }
    }
    coarse.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut kept: Vec<(f64, [f64; 2])> = Vec::new();
    for (_, outer, at) in coarse {
        let far = |k: &(f64, [f64; 2])| {
            (k.0 - outer).abs() > 1.0 || (k.1[0] - at[0]).hypot(k.1[1] - at[1]) > 1.5
        };
        if kept.iter().all(far) {
            kept.push((outer, at));
            if kept.len() == RINGS {
                break;
            }
        }
    }
    let around = |(outer, at): (f64, [f64; 2])| {
        let radii = steps([outer - AROUND_MM, outer + AROUND_MM + 0.01], STEP_MM);
        radii.flat_map(move |r| places(at, AROUND_MM, STEP_MM).map(move |at| ring_of(r, at)))
    };
    kept.into_iter().flat_map(around).collect()
}

/// Places around one, at most so far along each axis.
fn places([x, y]: [f64; 2], most: f64, step: f64) -> impl Iterator<Item = [f64; 2]> {
    let all = move || steps([-most, most + 0.01], step);
    all().flat_map(move |u| all().map(move |v| [x + u, y + v]))
}

fn steps([from, to]: [f64; 2], step: f64) -> impl Iterator<Item = f64> {
    (0..)
        .map(move |i| from + step * f64::from(i))
        .take_while(move |v| *v < to)
}

/// How well a border shows, and how large the face is.
fn weighed(sheet: &Sheet, face: &Face) -> f64 {
    score(sheet, face, MOST_STEP) * size(face).powf(SIZE_POWER)
}

/// Size as it weighs: a block has a turn and four sides to choose, a ring its middle and radius, so
/// that chance favours blocks; this makes some of it good.
fn size(face: &Face) -> f64 {
    match *face {
        Face::Block { half, .. } => (half[0] * half[1]).sqrt(),
        Face::Ring { outer, .. } => 1.2 * outer,
    }
}

/// Blocks of one turn: on each axis the pairs of opposite sides that show best near the tap.
fn blocks(sheet: &Sheet, turn: f64) -> Vec<Face> {
    let (s, c) = turn.sin_cos();
    let offsets: Vec<f64> = steps(SIDES_MM, STEP_MM).collect();
    let shown_at = |axis: usize, sign: f64| -> Vec<f64> {
        let at = |o: &f64| {
            shown::<10>(std::array::from_fn(|i| {
                let along = ALONG_MM * (i as f64 - 4.5) / 4.5;
                let side = |across, along| from_side(axis, [s, c], across, along);
                step_at(sheet, side(sign * o, along), side(sign, 0.0), MOST_STEP)
            }))
        };
        offsets.iter().map(at).collect()
    };
    let pairs = [0, 1].map(|axis| {
        let (near, far) = (shown_at(axis, 1.0), shown_at(axis, -1.0));
        let mut all = Vec::new();
        for (i, a) in near.iter().enumerate() {
            for (j, b) in far.iter().enumerate() {
                let (sum, off) = (offsets[i] + offsets[j], (offsets[i] - offsets[j]).abs());
                if (ACROSS_MM[0]..ACROSS_MM[1]).contains(&sum) && off <= OFF_MM {
                    all.push((a.min(*b) + 0.3 * (a + b), i, j));
                }
            }
        }
        all.sort_by(|p, q| q.0.total_cmp(&p.0));
        let mut kept: Vec<(usize, usize)> = Vec::new();
        for (_, i, j) in all {
            if kept
                .iter()
                .all(|k| k.0.abs_diff(i) > 3 || k.1.abs_diff(j) > 3)
            {
                kept.push((i, j));
                if kept.len() == PAIRS {
                    break;
                }
            }
        }
        kept
    });
    let middle = |(i, j): (usize, usize)| {
        (
            0.5 * (offsets[i] + offsets[j]),
            0.5 * (offsets[i] - offsets[j]),
        )
    };
    let mut faces = Vec::new();
    for p in &pairs[0] {
        for q in &pairs[1] {
            let ((a, u), (b, v)) = (middle(*p), middle(*q));
            faces.push(Face::Block {
                half: [a, b],
                turn,
                at: [c * u - s * v, s * u + c * v],
            });
        }
    }
    faces
}

/// The face, were its outline that of face and foot together.
fn without_sides(face: &Face, [u, v]: [f64; 2]) -> Face {
    match *face {
        Face::Block { half, turn, at } => {
            let (s, c) = turn.sin_cos();
            let along = [c * u + s * v, c * v - s * u];
            Face::Block {
                half: [0, 1].map(|k| half[k] - 0.5 * along[k].abs()),
                turn,
                at: [at[0] - 0.5 * u, at[1] - 0.5 * v],
            }
        }
        Face::Ring { outer, hole, at } => Face::Ring {
            outer: outer - 0.5 * u.hypot(v),
            hole,
            at: [at[0] - 0.5 * u, at[1] - 0.5 * v],
        },
    }
}

/// A place across one of a block's axes and along the other, by the sine and cosine of its turn.
fn from_side(axis: usize, [s, c]: [f64; 2], across: f64, along: f64) -> [f64; 2] {
    let [u, v] = if axis == 0 {
        [across, along]
    } else {
        [along, across]
    };
    [c * u - s * v, s * u + c * v]
}

/// Neighbours of a face, `step` mm away in one of its figures.
fn moved(face: &Face, step: f64) -> Vec<Face> {
    let mut all = Vec::new();
    for d in [-step, step] {
        match *face {
            Face::Block { half, turn, at } => {
                all.push(Face::Block {
                    half: [half[0] + d, half[1]],
                    turn,
                    at,
                });
                all.push(Face::Block {
                    half: [half[0], half[1] + d],
                    turn,
                    at,
                });
                all.push(Face::Block {
                    half,
                    turn: turn + d / half[0].max(half[1]),
                    at,
                });
                all.push(Face::Block {
                    half,
                    turn,
                    at: [at[0] + d, at[1]],
                });
                all.push(Face::Block {
                    half,
                    turn,
                    at: [at[0], at[1] + d],
                });
            }
            Face::Ring { outer, hole, at } => {
                all.push(Face::Ring {
                    outer: outer + d,
                    hole,
                    at,
                });
                all.push(Face::Ring {
                    outer,
                    hole,
                    at: [at[0] + d, at[1]],
                });
                all.push(Face::Ring {
                    outer,
                    hole,
                    at: [at[0], at[1] + d],
                });
            }
        }
    }
    all
}

/// How well a border shows: its worst side for the most part, so that all must.
fn score(sheet: &Sheet, face: &Face, most: f64) -> f64 {
    match *face {
        Face::Ring { outer, at, .. } => {
            circle(outer, at, |place, out| step_at(sheet, place, out, most))
        }
        Face::Block { half, turn, at } => {
            let (s, c) = turn.sin_cos();
            all_sides([(0, 1.0), (0, -1.0), (1, 1.0), (1, -1.0)].map(|(k, sign)| {
                let other = half[1 - k];
                shown::<12>(std::array::from_fn(|i| {
                    let along = other * (i as f64 - 5.5) / 6.0;
                    let side = |across, along| from_side(k, [s, c], across, along);
                    let [x, y] = side(sign * half[k], along);
                    step_at(sheet, [at[0] + x, at[1] + y], side(sign, 0.0), most)
                }))
            }))
        }
    }
}

fn all_sides(sides: [f64; 4]) -> f64 {
    let least = sides.iter().copied().fold(f64::INFINITY, f64::min);
    least + 0.5 * sides.iter().sum::<f64>() / 4.0
}

/// The same of a circle, by the step at each of its places and the way out of it there.
fn circle(r: f64, at: [f64; 2], step: impl Fn([f64; 2], [f64; 2]) -> f64) -> f64 {
    all_sides([0, 1, 2, 3].map(|quarter| {
        shown::<12>(std::array::from_fn(|i| {
            let t = std::f64::consts::FRAC_PI_2 * (f64::from(quarter) + (i as f64 + 0.5) / 12.0);
            let out = [t.cos(), t.sin()];
            step([at[0] + r * out[0], at[1] + r * out[1]], out)
        }))
    }))
}

/// The step across a face's border that runs through a place, `out` of length 1. Where the magnet's
/// side shows, its foot has a border, too: either may be the faint one, but where both are there is no
/// doubt which is which.
fn step_at(sheet: &Sheet, at: [f64; 2], out: [f64; 2], most: f64) -> f64 {
    let ([u, v], face) = (sheet.foot, border(sheet, at, out, most));
    if u * out[0] + v * out[1] < SIDE_SHOWS_MM {
        return face;
    }
    let foot = border(sheet, [at[0] + u, at[1] + v], out, most);
    face.max(foot) + BOTH * face.min(foot)
}

/// The step across a border that runs through a place, `out` of length 1.
fn border(sheet: &Sheet, [x, y]: [f64; 2], out: [f64; 2], most: f64) -> f64 {
    let beside = |mm: f64| [x + mm * out[0], y + mm * out[1]];
    sheet.apart(beside(-BESIDE_MM), beside(BESIDE_MM)).min(most)
}

/// The step that all but the hidden shares of a side's samples exceed.
fn shown<const N: usize>(mut steps: [f64; N]) -> f64 {
    steps.sort_unstable_by(f64::total_cmp);
    let [most, nearly_all] = HIDDEN.map(|share| steps[(N as f64 * share) as usize]);
    (most + nearly_all) / 2.0
}
