//! The gauge card's print (`gauge-card.md`): reflectance at a place of it, mm from its corner.

use crate::chance::noise;

pub const SIZE: [f64; 2] = [85.60, 53.98];

fn linear(v: f64) -> f64 {
    let v = v / 255.0;
    if v <= 0.04045 {
        v / 12.92
    } else {
        ((v + 0.055) / 1.055).powf(2.4)
    }
}

pub fn colour([x, y]: [f64; 2]) -> [f64; 3] {
    const GREY: [f64; 6] = [243.0, 200.0, 160.0, 122.0, 85.0, 52.0];
    const COLOUR: [[f64; 3]; 6] = [
        [176.0, 52.0, 44.0],
        [222.0, 180.0, 44.0],
        [70.0, 132.0, 72.0],
        [52.0, 92.0, 150.0],
        [122.0, 76.0, 48.0],
        [150.0, 72.0, 128.0],
    ];
    let (paper, print) = ([246.0; 3], [22.0; 3]);
    let mut srgb = paper;
    for [cx, cy] in [[5.0, 5.0], [80.6, 5.0], [80.6, 48.98], [5.0, 48.98]] {
        let r = (x - cx).hypot(y - cy);
        if (1.2..2.5).contains(&r) {
            srgb = print;
        }
    }
    for i in 0..6 {
        let step = f64::from(i);
        if (14.0 + 10.0 * step..21.0 + 10.0 * step).contains(&x) && (3.0..10.0).contains(&y) {
            srgb = [GREY[i as usize]; 3];
        }
        if (30.0 + 8.4 * step..37.0 + 8.4 * step).contains(&x) && (13.5..20.5).contains(&y) {
            srgb = COLOUR[i as usize];
        }
    }
    // Not the code itself: squares as dense, and its three finder patterns.
    let (u, v) = ((x - 5.0) / 0.8, (y - 16.99) / 0.8);
    if (0.0..25.0).contains(&u) && (0.0..25.0).contains(&v) {
        let finder = [(3.5, 3.5), (21.5, 3.5), (3.5, 21.5)]
            .iter()
            .map(|(a, b)| f64::max((u - a).abs(), (v - b).abs()))
            .find(|d| *d < 4.5);
        let dark = match finder {
            Some(d) => d < 1.5 || (2.5..3.5).contains(&d),
            None => noise(u.floor(), v.floor(), 7) < 0.5,
        };
        if dark {
            srgb = print;
        }
    }
    let mark = x - x.floor();
    if (15.0..75.1).contains(&x) && mark < 0.12 && y > 51.0 {
        srgb = print;
    }
    srgb.map(|v| 0.9 * linear(v))
}
