//! The camera over the card: a pinhole with square pixels and its axis at the
//! picture's centre. Fewer unknowns than a free homography, so that scale holds
//! beyond the card, and the planes above and below it follow.

use super::homography::Homography;

/// Camera pose in the card's frame (x right, y down, z away from the camera; mm).
#[derive(Debug, Clone, Copy)]
pub(crate) struct Pose {
    /// Focal length, px.
    pub(crate) focal: f64,
    centre: [f64; 2],
    /// Columns: the card's x, y and z axes as the camera sees them.
    axes: [[f64; 3]; 3],
    /// The card's origin as the camera sees it, mm.
    origin: [f64; 3],
}

/// Unknowns of a pose: turn (3), shift (3), ln of the focal length.
pub(crate) const UNKNOWNS: usize = 7;

fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

fn scaled(a: [f64; 3], s: f64) -> [f64; 3] {
    a.map(|v| v * s)
}

fn norm(a: [f64; 3]) -> f64 {
    (a[0] * a[0] + a[1] * a[1] + a[2] * a[2]).sqrt()
}

impl Pose {
    /// From a homography of the card's plane and a focal length.
    pub(crate) fn from_homography(h: &Homography, focal: f64, centre: [f64; 2]) -> Option<Pose> {
        let column = |j: usize| {
            let (x, y, w) = (h.m[0][j], h.m[1][j], h.m[2][j]);
            [(x - centre[0] * w) / focal, (y - centre[1] * w) / focal, w]
        };
        let (a, b, t) = (column(0), column(1), column(2));
        let mut s = 2.0 / (norm(a) + norm(b));
        if t[2] < 0.0 {
            s = -s;
        }
        // Gram-Schmidt, shared evenly between the two axes.
        let (a, b) = (scaled(a, s), scaled(b, s));
        let (a, b) = (scaled(a, 1.0 / norm(a)), scaled(b, 1.0 / norm(b)));
        let sum = [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
        let difference = [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
        let (ns, nd) = (norm(sum), norm(difference));
        if !(ns > 1e-9 && nd > 1e-9) {
            return None;
        }
        let (u, v) = (
            scaled(sum, 0.5f64.sqrt() / ns),
            scaled(difference, 0.5f64.sqrt() / nd),
        );
        let x = [u[0] + v[0], u[1] + v[1], u[2] + v[2]];
        let y = [u[0] - v[0], u[1] - v[1], u[2] - v[2]];
        let pose = Pose {
            focal,
            centre,
            axes: [x, y, cross(x, y)],
            origin: scaled(t, s),
        };
        (pose.origin[2] > 0.0).then_some(pose)
    }

    /// Where a point of the card's frame is seen; `height` is towards the camera, mm.
    pub(crate) fn project(&self, [x, y]: [f64; 2], height: f64) -> [f64; 2] {
        let p: [f64; 3] = std::array::from_fn(|i| {
            self.axes[0][i] * x + self.axes[1][i] * y - self.axes[2][i] * height + self.origin[i]
        });
        let z = p[2].max(1e-6);
        [
            self.centre[0] + self.focal * p[0] / z,
            self.centre[1] + self.focal * p[1] / z,
        ]
    }

    /// The camera's axis off the card's normal, degrees.
    pub(crate) fn tilt_deg(&self) -> f64 {
        self.axes[2][2].abs().min(1.0).acos().to_degrees()
    }

    /// Where the card's plane comes nearer, in the picture: degrees clockwise from its upper edge.
    /// The phone's edge on that side is lifted to hold it level.
    pub(crate) fn near_side_deg(&self) -> f64 {
        let [x, y, _] = self.axes[2];
        x.atan2(-y).to_degrees().rem_euclid(360.0)
    }

    /// The plane `height` mm above the card.
    pub(crate) fn plane(&self, height: f64) -> Homography {
        let row = |i: usize| {
            [
                self.axes[0][i],
                self.axes[1][i],
                self.origin[i] - self.axes[2][i] * height,
            ]
        };
        let (x, y, z) = (row(0), row(1), row(2));
        let lens = |c: f64, r: [f64; 3]| std::array::from_fn(|j| self.focal * r[j] + c * z[j]);
        let m = [lens(self.centre[0], x), lens(self.centre[1], y), z];
        Homography {
            m: m.map(|r| r.map(|v| v / m[2][2])),
        }
    }

    /// The pose after a small step of its unknowns.
    pub(crate) fn stepped(&self, step: &[f64; UNKNOWNS]) -> Pose {
        let turn = [step[0], step[1], step[2]];
        let angle = norm(turn);
        let rotate = |v: [f64; 3]| {
            if angle < 1e-12 {
                return v;
            }
            let k = scaled(turn, 1.0 / angle);
            let (sin, cos) = angle.sin_cos();
            let kv = cross(k, v);
            let dot = k[0] * v[0] + k[1] * v[1] + k[2] * v[2];
            std::array::from_fn(|i| v[i] * cos + kv[i] * sin + k[i] * dot * (1.0 - cos))
        };
        Pose {
            focal: self.focal * step[6].exp(),
            centre: self.centre,
            axes: self.axes.map(rotate),
            origin: std::array::from_fn(|i| self.origin[i] + step[3 + i]),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_near_side_is_where_the_card_is_seen_larger() {
        let centre = [1632.0, 1224.0];
        let level = Homography {
            m: [[20.0, 0.0, 700.0], [0.0, 20.0, 300.0], [0.0, 0.0, 1.0]],
        };
        let start = Pose::from_homography(&level, 2500.0, centre).unwrap();
        for (about_x, about_y) in [
            (0.3, 0.0),
            (-0.3, 0.0),
            (0.0, 0.3),
            (0.0, -0.3),
            (0.2, -0.15),
        ] {
            let pose = start.stepped(&[about_x, about_y, 0.0, 0.0, 0.0, 0.0, 0.0]);
            let deg: f64 = pose.near_side_deg();
            let back = pose.plane(0.0).inverse().unwrap();
            // px per mm, by steps of the picture away from its centre on that side and the other.
            let scale = |step: f64| {
                let (sin, cos) = deg.to_radians().sin_cos();
                1.0 / back.local_scale([centre[0] + step * sin, centre[1] - step * cos])
            };
            assert!(
                scale(400.0) > 1.05 * scale(-400.0),
                "{about_x} {about_y}: {deg}"
            );
        }
    }

    #[test]
    fn a_pose_survives_its_homography() {
        let level = Homography {
            m: [[20.0, 0.0, 700.0], [0.0, 20.0, 300.0], [0.0, 0.0, 1.0]],
        };
        let start = Pose::from_homography(&level, 2500.0, [1632.0, 1224.0]).unwrap();
        let tilted = start.stepped(&[0.2, -0.15, 0.4, 30.0, 5.0, 20.0, 0.05]);
        let again =
            Pose::from_homography(&tilted.plane(0.0), tilted.focal, [1632.0, 1224.0]).unwrap();
        for mm in [[0.0, 0.0], [85.6, 53.98], [10.0, 100.0]] {
            for height in [0.0, 6.0, -0.25] {
                let (a, b) = (tilted.project(mm, height), again.project(mm, height));
                assert!((a[0] - b[0]).abs() < 1e-6 && (a[1] - b[1]).abs() < 1e-6);
                let c = tilted.plane(height).apply(mm);
                assert!((a[0] - c[0]).abs() < 1e-6 && (a[1] - c[1]).abs() < 1e-6);
            }
        }
        // A level camera 125 mm away sees a plane 5 mm nearer by 125/120 larger.
        let nearer = start.plane(5.0).local_scale([0.0, 0.0]);
        assert!((nearer - 20.0 * 125.0 / 120.0).abs() < 1e-6, "{nearer}");
    }
}
