//! Filling of holes in small masks.

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
}
