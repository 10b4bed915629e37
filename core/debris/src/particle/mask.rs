//! Closing of gaps and filling of holes in small masks.

/// Closes gaps up to `2 r` px wide: grown by a square, then shrunk by it. Beyond the mask's border
/// counts as set, so a mask needs `r` px of margin around what must keep its shape.
pub(crate) fn close(mask: &mut [u8], width: usize, r: usize) {
    spread(mask, width, r, 1);
    spread(mask, width, r, 0);
}

/// Spreads the pixels of one kind (1 set, 0 not set) by a square of half side `r`.
fn spread(mask: &mut [u8], width: usize, r: usize, kind: u8) {
    let lines = mask.len() / width;
    let mut line = Vec::new();
    for y in 0..lines {
        line.clear();
        line.extend_from_slice(&mask[y * width..(y + 1) * width]);
        for (x, v) in line.iter().enumerate() {
            if *v == kind {
                let (x0, x1) = (x.saturating_sub(r), (x + r + 1).min(width));
                mask[y * width + x0..y * width + x1].fill(kind);
            }
        }
    }
    for x in 0..width {
        line.clear();
        line.extend((0..lines).map(|y| mask[y * width + x]));
        for (y, v) in line.iter().enumerate() {
            if *v == kind {
                for to in y.saturating_sub(r)..(y + r + 1).min(lines) {
                    mask[to * width + x] = kind;
                }
            }
        }
    }
}

/// Sets what the mask encloses.
pub(crate) fn fill_holes(mask: &mut [u8], width: usize) {
    let height = mask.len() / width;
    let mut outside = vec![false; mask.len()];
    let mut stack: Vec<usize> = (0..width)
        .flat_map(|x| [x, (height - 1) * width + x])
        .chain((0..height).flat_map(|y| [y * width, y * width + width - 1]))
        .filter(|at| mask[*at] == 0)
        .collect();
    while let Some(at) = stack.pop() {
        if mask[at] != 0 || outside[at] {
            continue;
        }
        outside[at] = true;
        let (x, y) = (at % width, at / width);
        stack.extend((x > 0).then(|| at - 1));
        stack.extend((x + 1 < width).then(|| at + 1));
        stack.extend((y > 0).then(|| at - width));
        stack.extend((y + 1 < height).then(|| at + width));
    }
    for (m, out) in mask.iter_mut().zip(outside) {
        *m = u8::from(!out);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::particle::drawn::of;

    #[test]
    fn a_hole_is_filled_and_a_bay_is_not() {
        let (mut mask, width) = of(&["####.", "#..#.", "#..#.", "####.", "....."]);
        fill_holes(&mut mask, width);
        assert_eq!(mask, of(&["####.", "####.", "####.", "####.", "....."]).0);
        let (mut mask, width) = of(&["##.##", "#...#", "#####"]);
        let before = mask.clone();
        fill_holes(&mut mask, width);
        assert_eq!(mask, before);
    }

    #[test]
    fn a_gap_of_two_is_closed_and_one_of_three_is_not() {
        let blank = "............";
        let (mut mask, width) = of(&[blank, blank, "...##..##...", "...##..##...", blank, blank]);
        close(&mut mask, width, 1);
        let closed = of(&[blank, blank, "...######...", "...######...", blank, blank]).0;
        assert_eq!(mask, closed);
        let (mut mask, width) = of(&[blank, blank, "..##...##...", "..##...##...", blank, blank]);
        let before = mask.clone();
        close(&mut mask, width, 1);
        assert_eq!(mask, before);
    }
}
