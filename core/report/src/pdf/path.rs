//! Reads the paths that [`crate::plot`] writes: M, L, l, m, Q and Z.

use krilla::geom::{Path, PathBuilder};

/// How far the handles of a quarter circle stand out, as a part of its radius.
const KAPPA: f32 = 0.552_284_8;

/// A path from its text; `None` when there is nothing to draw.
pub(crate) fn read(text: &str) -> Option<Path> {
    let mut path = PathBuilder::new();
    let mut numbers = Vec::new();
    let mut here = [0.0_f32; 2];
    let mut start = here;
    let mut rest = text;
    while let Some(command) = rest.chars().next() {
        let after = rest.get(command.len_utf8()..).unwrap_or_default();
        let end = after
            .find(|letter: char| letter.is_ascii_alphabetic())
            .unwrap_or(after.len());
        let (inside, next) = after.split_at(end);
        rest = next;
        numbers.clear();
        read_numbers(inside, &mut numbers);
        let relative = command.is_ascii_lowercase();
        let from = |here: [f32; 2], x: f32, y: f32| {
            if relative {
                [here[0] + x, here[1] + y]
            } else {
                [x, y]
            }
        };
        match command {
            'M' | 'm' | 'L' | 'l' => {
                for (n, pair) in numbers.chunks_exact(2).enumerate() {
                    let [x, y] = pair else { continue };
                    here = from(here, *x, *y);
                    if n == 0 && matches!(command, 'M' | 'm') {
                        path.move_to(here[0], here[1]);
                        start = here;
                    } else {
                        path.line_to(here[0], here[1]);
                    }
                }
            }
            'Q' => {
                for four in numbers.chunks_exact(4) {
                    let [a, b, x, y] = four else { continue };
                    path.quad_to(*a, *b, *x, *y);
                    here = [*x, *y];
                }
            }
            'Z' | 'z' => {
                path.close();
                here = start;
            }
            _ => return None,
        }
    }
    path.finish()
}

/// Numbers as SVG packs them: a minus begins the next one.
fn read_numbers(text: &str, numbers: &mut Vec<f32>) {
    let mut begin = 0;
    let mut take = |from: usize, to: usize| {
        if let Some(number) = text.get(from..to).and_then(|part| part.parse().ok()) {
            numbers.push(number);
        }
    };
    for (at, letter) in text.char_indices() {
        match letter {
            ' ' | ',' => {
                take(begin, at);
                begin = at + 1;
            }
            '-' if at > begin => {
                take(begin, at);
                begin = at;
            }
            _ => {}
        }
    }
    take(begin, text.len());
}

pub(crate) fn circle([x, y]: [f32; 2], r: f32) -> Option<Path> {
    let k = r * KAPPA;
    let mut path = PathBuilder::new();
    path.move_to(x + r, y);
    path.cubic_to(x + r, y + k, x + k, y + r, x, y + r);
    path.cubic_to(x - k, y + r, x - r, y + k, x - r, y);
    path.cubic_to(x - r, y - k, x - k, y - r, x, y - r);
    path.cubic_to(x + k, y - r, x + r, y - k, x + r, y);
    path.close();
    path.finish()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn packed_numbers_are_told_apart() {
        let mut numbers = Vec::new();
        read_numbers("20-2 0 12-25 0.5", &mut numbers);
        assert_eq!(numbers, [20.0, -2.0, 0.0, 12.0, -25.0, 0.5]);
    }

    #[test]
    fn every_command_of_ours_is_known() {
        for text in [
            "M1 2l3-4 5 6Z",
            "M0 0L1 1",
            "M1 1m0 -8l8 8l-8 8l-8 -8Z",
            "M0 0Q1 1 2 0Z",
        ] {
            assert!(read(text).is_some(), "{text}");
        }
        assert!(read("M0 0C1 1 2 2 3 3").is_none());
    }
}
