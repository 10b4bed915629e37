//! Turning stored pixels upright by the EXIF orientation.

/// Orientation by EXIF tag 0x0112 (JEITA CP-3451): where the stored row 0 and
/// column 0 lie in the upright picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Orientation {
    transpose: bool,
    flip_x: bool,
    flip_y: bool,
}

impl Orientation {
    /// From the tag's value; anything but 1 to 8 counts as upright.
    pub(crate) fn from_exif(value: u32) -> Self {
        // After the transposition (5 to 8) the flips are of the upright picture.
        let (transpose, flip_x, flip_y) = match value {
            2 => (false, true, false),
            3 => (false, true, true),
            4 => (false, false, true),
            5 => (true, false, false),
            6 => (true, true, false),
            7 => (true, true, true),
            8 => (true, false, true),
            _ => (false, false, false),
        };
        Orientation {
            transpose,
            flip_x,
            flip_y,
        }
    }
}

/// The upright picture of `rgb` (row by row, three bytes a pixel), with its width and height.
pub(crate) fn turn(
    rgb: Vec<u8>,
    width: usize,
    height: usize,
    orientation: Orientation,
) -> (Vec<u8>, usize, usize) {
    if orientation == Orientation::from_exif(1) {
        return (rgb, width, height);
    }
    let (out_w, out_h) = if orientation.transpose {
        (height, width)
    } else {
        (width, height)
    };
    let mut out = vec![0u8; rgb.len()];
    // Squares of 32 px keep both the rows read and the rows written in the cache.
    const SQUARE: usize = 32;
    for y0 in (0..out_h).step_by(SQUARE) {
        for x0 in (0..out_w).step_by(SQUARE) {
            for y in y0..(y0 + SQUARE).min(out_h) {
                let v = if orientation.flip_y { out_h - 1 - y } else { y };
                for x in x0..(x0 + SQUARE).min(out_w) {
                    let u = if orientation.flip_x { out_w - 1 - x } else { x };
                    let from = if orientation.transpose {
                        u * width + v
                    } else {
                        v * width + u
                    };
                    let to = y * out_w + x;
                    out[3 * to..3 * to + 3].copy_from_slice(&rgb[3 * from..3 * from + 3]);
                }
            }
        }
    }
    (out, out_w, out_h)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Stored [[0,1,2],[3,4,5]]; upright grids as Pillow 13 gives them (ImageOps.exif_transpose).
    #[test]
    fn grids_of_all_eight_orientations() {
        let expected: [(u32, usize, &[u8]); 8] = [
            (1, 3, &[0, 1, 2, 3, 4, 5]),
            (2, 3, &[2, 1, 0, 5, 4, 3]),
            (3, 3, &[5, 4, 3, 2, 1, 0]),
            (4, 3, &[3, 4, 5, 0, 1, 2]),
            (5, 2, &[0, 3, 1, 4, 2, 5]),
            (6, 2, &[3, 0, 4, 1, 5, 2]),
            (7, 2, &[5, 2, 4, 1, 3, 0]),
            (8, 2, &[2, 5, 1, 4, 0, 3]),
        ];
        for (value, width, grid) in expected {
            let stored: Vec<u8> = (0..6u8).flat_map(|v| [v; 3]).collect();
            let (out, w, h) = turn(stored, 3, 2, Orientation::from_exif(value));
            let seen: Vec<u8> = out.chunks(3).map(|p| p[0]).collect();
            assert_eq!(
                (w, h, seen.as_slice()),
                (width, 6 / width, grid),
                "orientation {value}"
            );
        }
    }
}
