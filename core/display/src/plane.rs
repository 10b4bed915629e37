//! A rectangle laid over a picture.

/// From places in a rectangle to places in a picture.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Homography([f64; 9]);

/// Four corners: top left, top right, bottom right, bottom left.
pub(crate) type Quad = [[f64; 2]; 4];

impl Homography {
    /// Lays a rectangle over a quad; nothing where that has no area.
    pub(crate) fn over(quad: Quad, width: f64, height: f64) -> Option<Homography> {
        let from = [[0.0, 0.0], [width, 0.0], [width, height], [0.0, height]];
        let mut rows = [[0.0; 9]; 8];
        for (k, ([x, y], [u, v])) in from.into_iter().zip(quad).enumerate() {
            rows[2 * k] = [x, y, 1.0, 0.0, 0.0, 0.0, -x * u, -y * u, u];
            rows[2 * k + 1] = [0.0, 0.0, 0.0, x, y, 1.0, -x * v, -y * v, v];
        }
        let h = solve(rows)?;
        let [a, b, c, d, e, f, g, i] = h;
        Some(Homography([a, b, c, d, e, f, g, i, 1.0]))
    }

    pub(crate) fn at(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        let [a, b, c, d, e, f, g, h, i] = self.0;
        let w = g * x + h * y + i;
        let w = if w.abs() < 1e-9 { 1e-9 } else { w };
        [(a * x + b * y + c) / w, (d * x + e * y + f) / w]
    }
}

/// Eight equations, by Gauss with the largest pivot.
fn solve(mut rows: [[f64; 9]; 8]) -> Option<[f64; 8]> {
    for k in 0..8 {
        let best = (k..8).max_by(|a, b| rows[*a][k].abs().total_cmp(&rows[*b][k].abs()))?;
        let told_apart = rows[best][k].abs() > 1e-9;
        if !told_apart {
            return None;
        }
        rows.swap(k, best);
        let pivot = rows[k];
        for (at, row) in rows.iter_mut().enumerate() {
            if at != k {
                let times = row[k] / pivot[k];
                for (to, from) in row.iter_mut().zip(pivot) {
                    *to -= times * from;
                }
            }
        }
    }
    let mut out = [0.0; 8];
    for (k, to) in out.iter_mut().enumerate() {
        *to = rows[k][8] / rows[k][k];
    }
    out.iter().all(|v| v.is_finite()).then_some(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn corners_lie_on_corners() {
        let quad = [[10.0, 12.0], [200.0, 30.0], [190.0, 90.0], [15.0, 80.0]];
        let plane = Homography::over(quad, 300.0, 50.0).expect("a plane");
        for (from, to) in [[0.0, 0.0], [300.0, 0.0], [300.0, 50.0], [0.0, 50.0]]
            .into_iter()
            .zip(quad)
        {
            let [x, y] = plane.at(from);
            assert!((x - to[0]).abs() < 1e-6 && (y - to[1]).abs() < 1e-6);
        }
    }

    #[test]
    fn a_line_is_no_plane() {
        let line = [[0.0, 0.0], [1.0, 1.0], [2.0, 2.0], [3.0, 3.0]];
        assert!(Homography::over(line, 10.0, 10.0).is_none());
    }
}
