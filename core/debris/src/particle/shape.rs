//! Convex hull, Feret diameters, area.

/// Convex hull, counter-clockwise in a frame with y up, without repeated or middle points
/// (Andrew's monotone chain).
pub(crate) fn hull(points: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let mut sorted = points.to_vec();
    sorted.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    sorted.dedup();
    if sorted.len() < 3 {
        return sorted;
    }
    let turn = |o: [f64; 2], a: [f64; 2], b: [f64; 2]| {
        (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0])
    };
    let mut chain: Vec<[f64; 2]> = Vec::new();
    let mut half = |points: &mut dyn Iterator<Item = [f64; 2]>| {
        let start = chain.len();
        for p in points {
            while chain.len() >= start + 2
                && turn(chain[chain.len() - 2], chain[chain.len() - 1], p) <= 0.0
            {
                chain.pop();
            }
            chain.push(p);
        }
        chain.pop();
    };
    half(&mut sorted.iter().copied());
    half(&mut sorted.iter().rev().copied());
    chain
}

/// Feret diameters of a hull, its units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Feret {
    /// Greatest distance of parallel tangents.
    pub(crate) max: f64,
    /// Smallest distance of parallel tangents.
    pub(crate) min: f64,
}

/// Both Feret diameters by rotating calipers.
pub(crate) fn feret(hull: &[[f64; 2]]) -> Feret {
    let n = hull.len();
    let distance = |a: [f64; 2], b: [f64; 2]| (a[0] - b[0]).hypot(a[1] - b[1]);
    if n < 3 {
        let max = if n == 2 {
            distance(hull[0], hull[1])
        } else {
            0.0
        };
        return Feret { max, min: 0.0 };
    }
    let (mut max, mut min) = (0f64, f64::INFINITY);
    let mut far = 1;
    for i in 0..n {
        let (a, b) = (hull[i], hull[(i + 1) % n]);
        let edge = distance(a, b);
        let height = |p: [f64; 2]| {
            ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])).abs() / edge
        };
        while height(hull[(far + 1) % n]) > height(hull[far]) {
            far = (far + 1) % n;
        }
        min = min.min(height(hull[far]));
        // The antipodal point may be this one or, with parallel edges, the next.
        for p in [hull[far], hull[(far + 1) % n]] {
            max = max.max(distance(a, p)).max(distance(b, p));
        }
    }
    Feret { max, min }
}

/// Area of a simple polygon.
pub(crate) fn polygon_area(points: &[[f64; 2]]) -> f64 {
    let n = points.len();
    let twice: f64 = (0..n)
        .map(|i| {
            let (a, b) = (points[i], points[(i + 1) % n]);
            a[0] * b[1] - a[1] * b[0]
        })
        .sum();
    twice.abs() / 2.0
}

/// Length around a polygon.
pub(crate) fn perimeter(points: &[[f64; 2]]) -> f64 {
    let n = points.len();
    (0..n)
        .map(|i| {
            let (a, b) = (points[i], points[(i + 1) % n]);
            (a[0] - b[0]).hypot(a[1] - b[1])
        })
        .sum()
}

#[cfg(test)]
mod tests {
    use std::f64::consts::{FRAC_1_SQRT_2, SQRT_2};

    use super::*;

    fn check(points: &[[f64; 2]], max: f64, ratio: f64) {
        let f = feret(&hull(points));
        assert!((f.max - max).abs() < 2e-5 * max, "{f:?} {max}");
        assert!((f.min / f.max - ratio).abs() < 2e-5, "{f:?} {ratio}");
    }

    fn ellipse(a: f64, b: f64) -> Vec<[f64; 2]> {
        (0..20_000)
            .map(|i| f64::from(i) * std::f64::consts::TAU / 20_000.0)
            .map(|t| [a * t.cos(), b * t.sin()])
            .collect()
    }

    /// Exact values of the shapes; circularity there is the form factor 4 pi A / P².
    #[test]
    fn exact_shapes() {
        let rect = |w: f64, h: f64| [[0.0, 0.0], [w, 0.0], [w, h], [0.0, h]];
        check(&rect(1.0, 1.0), SQRT_2, FRAC_1_SQRT_2);
        check(&rect(4.0, 1.0), 4.12311, 0.24254);
        check(&rect(10.0, 1.0), 10.04988, 0.09950);
        check(&rect(20.0, 1.0), 20.02498, 0.04994);
        check(&ellipse(2.0, 1.0), 4.0, 0.5);
        check(&ellipse(5.0, 1.0), 10.0, 0.2);
        check(&ellipse(10.0, 1.0), 20.0, 0.1);
        assert!((perimeter(&ellipse(2.0, 1.0)) - 9.68845).abs() < 1e-4);
        assert!((perimeter(&ellipse(10.0, 1.0)) - 40.63974).abs() < 1e-4);
    }

    #[test]
    fn an_l_of_a_square_less_its_quarter() {
        let l = [
            [0.0, 0.0],
            [10.0, 0.0],
            [10.0, 5.0],
            [5.0, 5.0],
            [5.0, 10.0],
            [0.0, 10.0],
        ];
        let around = hull(&l);
        assert_eq!(polygon_area(&l), 75.0);
        assert_eq!(perimeter(&l), 40.0);
        assert_eq!(polygon_area(&around), 87.5);
        assert!((perimeter(&around) - 37.07107).abs() < 1e-5);
        assert!((feret(&around).max - 14.14214).abs() < 1e-5);
    }

    proptest::proptest! {
        /// Calipers against the plain double loop, and turning changes nothing.
        #[test]
        fn calipers_against_all_pairs(points in proptest::collection::vec(proptest::array::uniform2(-50.0..50.0f64), 3..40), angle in 0.0..6.3f64) {
            let around = hull(&points);
            let f = feret(&around);
            let mut max = 0f64;
            for a in &points { for b in &points { max = max.max((a[0]-b[0]).hypot(a[1]-b[1])); } }
            proptest::prop_assert!((f.max - max).abs() < 1e-9);
            let mut min = f64::INFINITY;
            for i in 0..around.len() {
                let (a, b) = (around[i], around[(i + 1) % around.len()]);
                let edge = (b[0]-a[0]).hypot(b[1]-a[1]);
                let far = around.iter().map(|p| ((b[0]-a[0])*(p[1]-a[1])-(b[1]-a[1])*(p[0]-a[0])).abs()/edge).fold(0.0, f64::max);
                min = min.min(far);
            }
            if around.len() >= 3 { proptest::prop_assert!((f.min - min).abs() < 1e-9); }
            let (s, c) = angle.sin_cos();
            let turned: Vec<[f64; 2]> = points.iter().map(|p| [c*p[0]-s*p[1], s*p[0]+c*p[1]]).collect();
            let g = feret(&hull(&turned));
            proptest::prop_assert!((f.max - g.max).abs() < 1e-9 && (f.min - g.min).abs() < 1e-6);
        }
    }
}
