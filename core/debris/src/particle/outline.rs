//! The outline of a mask: traced along pixel edges, then thinned out.

/// Points of an outline at most.
const MOST: usize = 40;

/// Outer boundary of the first (topmost, leftmost) connected patch of a mask, along pixel
/// edges, corners only; px from the mask's top left corner.
pub(crate) fn trace(mask: &[u8], width: usize) -> Vec<[f64; 2]> {
    let Some(first) = mask.iter().position(|m| *m != 0) else {
        return Vec::new();
    };
    let height = mask.len() / width;
    let set = |x: i64, y: i64| {
        x >= 0
            && y >= 0
            && x < width as i64
            && y < height as i64
            && mask[y as usize * width + x as usize] != 0
    };
    let start = ((first % width) as i64, (first / width) as i64);
    // Walk with the patch on the right hand, along corners of pixels.
    let (mut x, mut y) = start;
    let (mut dx, mut dy) = (1i64, 0i64);
    let mut points = vec![[x as f64, y as f64]];
    for _ in 0..8 * mask.len() + 8 {
        // Pixels ahead, left and right of the direction of walk.
        let ahead = |side: i64| {
            // `side` -1: left of the walk, 0: right of it.
            match (dx, dy) {
                (1, 0) => (x, y + side),
                (-1, 0) => (x - 1, y - 1 - side),
                (0, 1) => (x - 1 - side, y),
                _ => (x + side, y - 1),
            }
        };
        let (left, right) = (ahead(-1), ahead(0));
        let turn = if set(left.0, left.1) {
            Some((dy, -dx))
        } else if !set(right.0, right.1) {
            Some((-dy, dx))
        } else {
            None
        };
        if let Some(to) = turn {
            points.push([x as f64, y as f64]);
            (dx, dy) = to;
        }
        x += dx;
        y += dy;
        if (x, y) == start {
            break;
        }
    }
    points
}

/// At most [`MOST`] points of a closed outline: middles of stairs first, then Douglas and
/// Peucker's thinning with a growing tolerance.
pub(crate) fn simplify(points: &[[f64; 2]]) -> Vec<[f64; 2]> {
    if points.len() <= 4 {
        return points.to_vec();
    }
    let mut tolerance = 0.4;
    loop {
        let far = (0..points.len())
            .max_by(|&i, &j| from_first(points, i).total_cmp(&from_first(points, j)))
            .unwrap_or(0);
        let mut keep = vec![false; points.len() + 1];
        let closed: Vec<[f64; 2]> = points.iter().chain(points.first()).copied().collect();
        keep[0] = true;
        keep[far] = true;
        thin(&closed, 0, far, tolerance, &mut keep);
        thin(&closed, far, points.len(), tolerance, &mut keep);
        let kept: Vec<[f64; 2]> = (0..points.len())
            .filter(|&i| keep[i])
            .map(|i| points[i])
            .collect();
        if kept.len() <= MOST {
            return kept;
        }
        tolerance *= 1.4;
    }
}

fn from_first(points: &[[f64; 2]], i: usize) -> f64 {
    (points[i][0] - points[0][0]).hypot(points[i][1] - points[0][1])
}

/// Marks the points between `i` and `j` that the straight line misses by more than `tolerance`.
fn thin(points: &[[f64; 2]], i: usize, j: usize, tolerance: f64, keep: &mut [bool]) {
    let mut spans = vec![(i, j)];
    while let Some((i, j)) = spans.pop() {
        let (a, b) = (points[i], points[j]);
        let length = (b[0] - a[0]).hypot(b[1] - a[1]);
        let off = |k: usize| {
            let p = points[k];
            if length < 1e-9 {
                return (p[0] - a[0]).hypot(p[1] - a[1]);
            }
            ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])).abs() / length
        };
        if let Some(k) = (i + 1..j).max_by(|&k, &l| off(k).total_cmp(&off(l)))
            && off(k) > tolerance
        {
            keep[k] = true;
            spans.push((i, k));
            spans.push((k, j));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::particle::drawn::of;
    use crate::particle::shape::polygon_area;

    #[test]
    fn outlines_one_can_see() {
        for (rows, area, corners) in [
            (vec!["....", ".##.", ".##.", "...."], 4.0, 4),
            (vec!["#"], 1.0, 4),
            (vec!["##.", "###"], 5.0, 6),
            (vec!["###", "#.#", "###"], 9.0, 4),
        ] {
            let (mask, width) = of(&rows);
            let outline = trace(&mask, width);
            assert_eq!(
                (polygon_area(&outline), outline.len()),
                (area, corners),
                "{rows:?} {outline:?}"
            );
        }
    }

    #[test]
    fn thinned_to_few_points_of_nearly_the_same_area() {
        let (width, radius) = (121, 58.0f64);
        let mask: Vec<u8> = (0..width * width)
            .map(|i| ((i % width) as f64 - 60.0).hypot((i / width) as f64 - 60.0))
            .map(|d| u8::from(d < radius))
            .collect();
        let outline = simplify(&trace(&mask, width));
        assert!(outline.len() <= MOST);
        let circle = std::f64::consts::PI * radius * radius;
        assert!((polygon_area(&outline) / circle - 1.0).abs() < 0.02);
    }
}
