//! The gauge card's drawing (`gauge-card.md`), mm from its top left corner.

/// Width and height of the outline: ISO/IEC 7810 ID-1.
pub(crate) const SIZE: [f64; 2] = [85.60, 53.98];
/// The outline's corners: top left, top right, bottom right, bottom left.
pub(crate) const CORNERS: [[f64; 2]; 4] = [
    [0.0, 0.0],
    [SIZE[0], 0.0],
    [SIZE[0], SIZE[1]],
    [0.0, SIZE[1]],
];
/// Centres of the corner rings, same order.
pub(crate) const RINGS: [[f64; 2]; 4] = [[5.0, 5.0], [80.6, 5.0], [80.6, 48.98], [5.0, 48.98]];
/// Radii of a ring's black disc and of the white disc in it.
pub(crate) const RING_RADII: [f64; 2] = [2.5, 1.2];
/// Side of the grey and of the coloured squares.
pub(crate) const SQUARE: f64 = 7.0;
/// Left edges of the grey steps, and their top.
pub(crate) const GREY_X: [f64; 6] = [14.0, 24.0, 34.0, 44.0, 54.0, 64.0];
/// Top of the grey steps.
pub(crate) const GREY_Y: f64 = 3.0;
/// Nominal sRGB of the grey steps.
pub(crate) const GREY_SRGB: [f64; 6] = [243.0, 200.0, 160.0, 122.0, 85.0, 52.0];
/// Nominal sRGB of bare card and of black print.
pub(crate) const PAPER_SRGB: f64 = 246.0;
/// Left edge of the first coloured square, their pitch, and their top.
pub(crate) const COLOUR_X: f64 = 30.0;
/// Pitch of the coloured squares.
pub(crate) const COLOUR_PITCH: f64 = 8.4;
/// Top of the coloured squares.
pub(crate) const COLOUR_Y: f64 = 13.5;
/// Outer corners of the code's three finder patterns, and the code's own box: left, top, side.
pub(crate) const CODE: [f64; 3] = [5.0, 16.99, 20.0];
/// Side of a module of the code.
pub(crate) const MODULE: f64 = 0.8;

/// Points with what is printed there, 0 dark to 1 bright: what tells a card, and which way it lies.
pub(crate) fn pattern() -> Vec<([f64; 2], f64)> {
    let mut points = Vec::new();
    for (x, v) in GREY_X.iter().zip(GREY_SRGB).skip(1) {
        let middle = [x + SQUARE / 2.0, GREY_Y + SQUARE / 2.0];
        points.push((middle, v / 255.0));
        points.push(([x + SQUARE + 1.5, middle[1]], 0.96));
    }
    for i in 0..6 {
        let x = COLOUR_X + COLOUR_PITCH * f64::from(i) + SQUARE / 2.0;
        let bright = [0.35, 0.68, 0.42, 0.34, 0.34, 0.38][i as usize];
        points.push(([x, COLOUR_Y + SQUARE / 2.0], bright));
    }
    let [left, top, side] = CODE;
    for [fx, fy] in [[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]] {
        // Middle of a finder pattern: 3.5 modules in from its two outer sides.
        let place = |base: f64, far: f64| base + 3.5 * MODULE + far * (side - 7.0 * MODULE);
        points.push(([place(left, fx), place(top, fy)], 0.08));
    }
    // Bare card: right of the code, low in the middle, beside the rings.
    for bare in [
        [29.0, 31.0],
        [40.0, 42.0],
        [55.0, 42.0],
        [74.0, 42.0],
        [10.0, 43.5],
        [2.0, 27.0],
        [83.0, 27.0],
        [9.5, 10.5],
    ] {
        points.push((bare, 0.96));
    }
    points
}

/// An edge between dark print and bright card: a point, and the direction to the bright side.
#[derive(Debug, Clone, Copy)]
pub(crate) struct PrintEdge {
    pub(crate) at: [f64; 2],
    pub(crate) outwards: [f64; 2],
}

/// Edges that fix the card's place: the rings' two circles, the sides of the darker squares.
pub(crate) fn edges() -> Vec<PrintEdge> {
    let mut edges = Vec::new();
    for c in RINGS {
        for i in 0..24 {
            let (sin, cos) = (f64::from(i) * std::f64::consts::TAU / 24.0).sin_cos();
            for (r, sign) in [(RING_RADII[0], 1.0), (RING_RADII[1], -1.0)] {
                edges.push(PrintEdge {
                    at: [c[0] + r * cos, c[1] + r * sin],
                    outwards: [sign * cos, sign * sin],
                });
            }
        }
    }
    let greys = GREY_X.iter().skip(2).map(|x| [*x, GREY_Y]);
    let colours = [0, 2, 3, 4, 5].map(|i| [COLOUR_X + COLOUR_PITCH * f64::from(i), COLOUR_Y]);
    for [x, y] in greys.chain(colours) {
        for i in 0..5 {
            let along = SQUARE * (0.16 + 0.17 * f64::from(i));
            for (at, outwards) in [
                ([x + along, y], [0.0, -1.0]),
                ([x + along, y + SQUARE], [0.0, 1.0]),
                ([x, y + along], [-1.0, 0.0]),
                ([x + SQUARE, y + along], [1.0, 0.0]),
            ] {
                edges.push(PrintEdge { at, outwards });
            }
        }
    }
    edges
}
