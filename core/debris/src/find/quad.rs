//! Which pixels lie within a convex quad, such as the card's corners.

use std::ops::Range;

/// The places of a plane's pixels whose middles lie in a convex quad, in px: one range for each row that it meets.
pub(crate) fn row_spans(
    quad: &[[f64; 2]; 4],
    width: usize,
    height: usize,
) -> impl Iterator<Item = Range<usize>> {
    (0..height).filter_map(move |y| {
        let middle = y as f64 + 0.5;
        let (mut x0, mut x1) = (f64::INFINITY, f64::NEG_INFINITY);
        for (a, b) in quad.iter().zip(quad.iter().cycle().skip(1)) {
            if (a[1] <= middle) != (b[1] <= middle) {
                let x = a[0] + (middle - a[1]) / (b[1] - a[1]) * (b[0] - a[0]);
                x0 = x0.min(x);
                x1 = x1.max(x);
            }
        }
        let place = |x: f64| y * width + x.clamp(0.0, width as f64) as usize;
        (x0 < x1).then(|| place(x0)..place(x1))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn covered(quad: [[f64; 2]; 4], width: usize, height: usize) -> Vec<usize> {
        row_spans(&quad, width, height).flatten().collect()
    }

    #[test]
    fn a_square_covers_its_pixels() {
        let square = [[1.0, 0.0], [3.0, 0.0], [3.0, 2.0], [1.0, 2.0]];
        assert_eq!(covered(square, 4, 3), [1, 2, 5, 6]);
    }

    #[test]
    fn what_reaches_beyond_the_plane_is_cut() {
        let tilted = [[-2.0, 1.0], [1.0, -2.0], [9.0, 1.0], [1.0, 9.0]];
        assert_eq!(covered(tilted, 2, 2), [0, 1, 2, 3]);
        let beside = [[5.0, 0.0], [9.0, 0.0], [9.0, 2.0], [5.0, 2.0]];
        assert!(covered(beside, 4, 2).is_empty());
    }
}
