//! What a row of figures says: a strip of it, sign by sign.

use crate::grey::{Grey, even};
use crate::net::{Layer, Planes, run};
use crate::plane::{Homography, Quad};

/// As `learn/nets.py` has them; `?` is what is no sign of a number.
const SIGNS: [char; 14] = [
    '0', '1', '2', '3', '4', '5', '6', '7', '8', '9', '-', '.', 'L', '?',
];
/// A strip's height, and its width for each height of the row, px.
const HIGH: usize = 32;
const WIDE: f64 = 32.0;
/// A strip's width, px.
const LONGEST: usize = 320;
const SHORTEST: usize = 32;
/// A text and how likely it is that the strip says it and nothing else.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Said {
    pub(crate) text: String,
    pub(crate) p: f64,
}

/// A quad with room around it, in shares of its height.
pub(crate) fn grown(quad: Quad, [left, top, right, end]: [f64; 4]) -> Option<Quad> {
    let aspect = aspect(quad);
    let plane = Homography::over(quad, aspect, 1.0)?;
    let (x0, y0, x1, y1) = (-left, -top, aspect + right, 1.0 + end);
    Some([[x0, y0], [x1, y0], [x1, y1], [x0, y1]].map(|p| plane.at(p)))
}

/// Width over height.
pub(crate) fn aspect(quad: Quad) -> f64 {
    let [a, b, c, d] = quad;
    let long = |p: [f64; 2], q: [f64; 2]| (p[0] - q[0]).hypot(p[1] - q[1]);
    (long(a, b) + long(d, c)) / (long(a, d) + long(b, c)).max(1e-6)
}

/// Room around what is read, in the row's heights: left, above, right, below.
pub(crate) const CLOSE: [f64; 4] = [0.25, 0.15, 0.25, 0.15];
/// Room for what the finder may have missed: a minus sign stands up to two blank cells before its digits, ...
pub(crate) const MORE_LEFT: [f64; 4] = [1.7, 0.15, 0.25, 0.15];
/// ... and a digit or the L of "over range" right behind the others.
pub(crate) const MORE_RIGHT: [f64; 4] = [0.25, 0.15, 1.2, 0.15];

/// What the row says, with some room around it.
pub(crate) fn said(layers: &[Layer], grey: &Grey, quad: Quad, room: [f64; 4]) -> Option<Said> {
    let around = grown(quad, room)?;
    let long = ((aspect(quad) + room[0] + room[2]) * WIDE / 8.0).round() as usize * 8;
    let width = long.clamp(SHORTEST, LONGEST);
    let plane = Homography::over(around, width as f64, HIGH as f64)?;
    let mut tones = grey.under(&plane, width, HIGH);
    even(&mut tones);
    Some(decode(&run(layers, Planes::of(width, HIGH, tones))))
}

/// The likeliest signs, column by column, and the likelihood of all ways to say them (the
/// forward sums of CTC: Graves and others, 2006).
fn decode(odds: &Planes) -> Said {
    let columns: Vec<Vec<f64>> = (0..odds.width)
        .map(|x| {
            let odds = odds.pixel(x, 0);
            let most = odds.iter().copied().fold(f32::MIN, f32::max);
            let shares: Vec<f64> = odds.iter().map(|o| f64::from(o - most).exp()).collect();
            let all: f64 = shares.iter().sum();
            shares.iter().map(|s| s / all).collect()
        })
        .collect();
    let mut codes = Vec::new();
    let mut before = 0;
    for column in &columns {
        let best = (0..column.len())
            .max_by(|a, b| column[*a].total_cmp(&column[*b]))
            .unwrap_or(0);
        if best != 0 && best != before {
            codes.push(best);
        }
        before = best;
    }
    let sign = |code: &usize| SIGNS.get(code - 1).copied().unwrap_or('?');
    Said {
        text: codes.iter().map(sign).collect(),
        p: likelihood(&columns, &codes),
    }
}

fn likelihood(columns: &[Vec<f64>], codes: &[usize]) -> f64 {
    // Blanks between, before and behind.
    let states: Vec<usize> = std::iter::once(0)
        .chain(codes.iter().flat_map(|code| [*code, 0]))
        .collect();
    let mut shares = vec![0.0; states.len()];
    for (t, column) in columns.iter().enumerate() {
        let before = shares.clone();
        for (s, code) in states.iter().enumerate() {
            let mut come = match (t, s) {
                (0, 0 | 1) => 1.0,
                (0, _) => 0.0,
                _ => before[s],
            };
            if t > 0 && s > 0 {
                come += before[s - 1];
            }
            if t > 0 && s > 1 && *code != 0 && states[s - 2] != *code {
                come += before[s - 2];
            }
            shares[s] = come * column.get(*code).copied().unwrap_or(0.0);
        }
    }
    shares.iter().rev().take(2).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Columns that say each code in turn, surely.
    fn columns(codes: &[usize]) -> Planes {
        let values = codes
            .iter()
            .flat_map(|code| (0..=SIGNS.len()).map(|c| if c == *code { 20.0 } else { 0.0 }))
            .collect();
        Planes {
            width: codes.len(),
            height: 1,
            depth: SIGNS.len() + 1,
            values,
        }
    }

    #[test]
    fn a_sign_that_is_twice_there_has_a_blank_between() {
        let said = decode(&columns(&[0, 2, 2, 0, 2, 12, 9, 0]));
        assert_eq!(said.text, "11.8");
        assert!(said.p > 0.999);
        assert_eq!(decode(&columns(&[0, 0])).text, "");
    }

    #[test]
    fn likelihoods_of_all_texts_add_up() {
        // Two columns over blank and two signs: all that can be said of them.
        let columns = vec![vec![0.5, 0.3, 0.2], vec![0.1, 0.6, 0.3]];
        let all: f64 = [&[][..], &[1], &[2], &[1, 2], &[2, 1]]
            .iter()
            .map(|codes| likelihood(&columns, codes))
            .sum();
        assert!((all - 1.0).abs() < 1e-12, "{all}");
    }
}
