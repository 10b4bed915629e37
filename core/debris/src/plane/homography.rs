//! The projective map between a plane in mm and the picture in px.

use super::solve::solve;

/// mm to px.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Homography {
    /// Row by row.
    pub(crate) m: [[f64; 3]; 3],
}

impl Homography {
    /// From four pairs, no three of them on a line; `None` otherwise.
    pub(crate) fn from_four(mm: &[[f64; 2]; 4], px: &[[f64; 2]; 4]) -> Option<Self> {
        let mut a = [[0.0; 8]; 8];
        let mut b = [0.0; 8];
        for i in 0..4 {
            let ([x, y], [u, v]) = (mm[i], px[i]);
            a[2 * i] = [x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y];
            a[2 * i + 1] = [0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y];
            b[2 * i] = u;
            b[2 * i + 1] = v;
        }
        let h = solve(a, b)?;
        Some(Homography {
            m: [[h[0], h[1], h[2]], [h[3], h[4], h[5]], [h[6], h[7], 1.0]],
        })
    }

    /// Equal scale in all places, no turn.
    pub(crate) fn uniform(px_per_mm: f64) -> Self {
        Homography {
            m: [
                [px_per_mm, 0.0, 0.0],
                [0.0, px_per_mm, 0.0],
                [0.0, 0.0, 1.0],
            ],
        }
    }

    /// Seen from straight above: from two pairs; `None` when the points fall together.
    pub(crate) fn level([a, b]: [[f64; 2]; 2], [pa, pb]: [[f64; 2]; 2]) -> Option<Self> {
        let (mx, my) = (b[0] - a[0], b[1] - a[1]);
        let (px, py) = (pb[0] - pa[0], pb[1] - pa[1]);
        let length = mx * mx + my * my;
        // Turn and scale as one complex number.
        let (re, im) = ((px * mx + py * my) / length, (py * mx - px * my) / length);
        if !(length > 0.0 && re.hypot(im) > 0.0) {
            return None;
        }
        let at = |x: f64, y: f64| [re * x - im * y, im * x + re * y];
        let [x, y] = at(a[0], a[1]);
        Some(Homography {
            m: [[re, -im, pa[0] - x], [im, re, pa[1] - y], [0.0, 0.0, 1.0]],
        })
    }

    /// Where a point goes.
    pub(crate) fn apply(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        let m = &self.m;
        let w = m[2][0] * x + m[2][1] * y + m[2][2];
        [
            (m[0][0] * x + m[0][1] * y + m[0][2]) / w,
            (m[1][0] * x + m[1][1] * y + m[1][2]) / w,
        ]
    }

    /// px to mm; `None` when the plane is seen from its edge.
    pub(crate) fn inverse(&self) -> Option<Homography> {
        let m = &self.m;
        let c = |r0: usize, c0: usize, r1: usize, c1: usize| {
            m[r0][c0] * m[r1][c1] - m[r0][c1] * m[r1][c0]
        };
        let adj = [
            [c(1, 1, 2, 2), -c(0, 1, 2, 2), c(0, 1, 1, 2)],
            [-c(1, 0, 2, 2), c(0, 0, 2, 2), -c(0, 0, 1, 2)],
            [c(1, 0, 2, 1), -c(0, 0, 2, 1), c(0, 0, 1, 1)],
        ];
        let det = m[0][0] * adj[0][0] + m[0][1] * adj[1][0] + m[0][2] * adj[2][0];
        if det.abs() < 1e-300 || !det.is_finite() {
            return None;
        }
        Some(Homography {
            m: adj.map(|row| row.map(|v| v / det)),
        })
    }

    /// How many target units one source unit makes at `at`: the root of the local area scale.
    pub(crate) fn local_scale(&self, at: [f64; 2]) -> f64 {
        const D: f64 = 0.01;
        let p = |dx, dy| self.apply([at[0] + dx, at[1] + dy]);
        let (x0, x1, y0, y1) = (p(-D, 0.0), p(D, 0.0), p(0.0, -D), p(0.0, D));
        let (ux, uy) = (x1[0] - x0[0], x1[1] - x0[1]);
        let (vx, vy) = (y1[0] - y0[0], y1[1] - y0[1]);
        ((ux * vy - uy * vx).abs()).sqrt() / (2.0 * D)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const MM: [[f64; 2]; 4] = [[0.0, 0.0], [85.6, 0.0], [85.6, 53.98], [0.0, 53.98]];
    const PX: [[f64; 2]; 4] = [
        [102.0, 210.0],
        [905.0, 188.0],
        [940.0, 702.0],
        [80.0, 731.0],
    ];

    /// Computed with skimage 0.26 ProjectiveTransform; OpenCV 5.0 agrees to 1e-8 relative.
    #[test]
    fn against_skimage_and_opencv() {
        let h = Homography::from_four(&MM, &PX).unwrap();
        let expected = [
            [9.4850489544, -0.50638045054, 102.0],
            [-0.23536175178, 8.7487359618, 210.0],
            [1.1514677668e-4, -1.2352761949e-3, 1.0],
        ];
        for (row, exp) in h.m.iter().zip(expected) {
            for (v, e) in row.iter().zip(exp) {
                assert!((v - e).abs() <= 1e-8 * e.abs().max(1e-2), "{v} {e}");
            }
        }
        let back = h.inverse().unwrap();
        for (px, mm) in [
            ([500.0, 450.0], [41.89736532, 27.08678671]),
            ([300.0, 300.0], [21.1020494, 10.49371856]),
            ([800.0, 600.0], [72.08440058, 43.40888837]),
        ] {
            let seen = back.apply(px);
            assert!(
                (seen[0] - mm[0]).abs() < 1e-7 && (seen[1] - mm[1]).abs() < 1e-7,
                "{seen:?}"
            );
        }
        assert!((h.local_scale([42.8, 26.99]).powi(2) - 92.93673).abs() < 1e-3);
        assert!((h.local_scale([0.0, 0.0]).powi(2) - 85.23816).abs() < 1e-3);
    }

    proptest::proptest! {
        #[test]
        fn inverse_undoes(x in 0.0..85.6f64, y in 0.0..54.0f64, jitter in proptest::array::uniform8(-40.0..40.0f64)) {
            let px = std::array::from_fn(|i| [PX[i][0] + jitter[2 * i], PX[i][1] + jitter[2 * i + 1]]);
            let h = Homography::from_four(&MM, &px).unwrap();
            let seen = h.inverse().unwrap().apply(h.apply([x, y]));
            proptest::prop_assert!((seen[0] - x).abs() < 1e-6 && (seen[1] - y).abs() < 1e-6);
        }
    }
}
