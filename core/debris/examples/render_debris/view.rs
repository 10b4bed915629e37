//! The camera: a pinhole over the ground, by chance turned and tilted.

use crate::chance::Chance;
use crate::shape::Point;

#[derive(Clone)]
pub struct View {
    pub width: usize,
    pub height: usize,
    focal: f64,
    turn: [[f64; 3]; 3],
    distance: f64,
}

impl View {
    pub fn new(chance: &mut Chance, px_per_mm: f64, wide: bool) -> View {
        let (width, height) = if wide {
            (3000, 2250)
        } else if px_per_mm < 17.0 {
            (2000, 1500)
        } else {
            (2600, 1950)
        };
        let focal = f64::from(width as u32) * chance.from(0.68, 0.82);
        let (tilt, way, turn) = (
            chance.from(0.0, 0.3),
            chance.from(0.0, crate::chance::TURN),
            chance.from(-0.4, 0.4),
        );
        // Tilt about an axis in the ground, after a turn about the upright.
        let (s, c) = turn.sin_cos();
        let spin = [[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]];
        let (ux, uy) = (way.cos(), way.sin());
        let (ts, tc) = tilt.sin_cos();
        let lean = [
            [tc + ux * ux * (1.0 - tc), ux * uy * (1.0 - tc), uy * ts],
            [ux * uy * (1.0 - tc), tc + uy * uy * (1.0 - tc), -ux * ts],
            [-uy * ts, ux * ts, tc],
        ];
        let turn = std::array::from_fn(|i| {
            std::array::from_fn(|j| (0..3).map(|k| lean[i][k] * spin[k][j]).sum())
        });
        View {
            width,
            height,
            focal,
            turn,
            distance: focal / px_per_mm,
        }
    }

    /// Where a point `z` mm above the ground is seen, px; the ground's origin is at the centre.
    pub fn project(&self, [x, y]: Point, z: f64) -> Point {
        let p: [f64; 3] = std::array::from_fn(|i| {
            self.turn[i][0] * x + self.turn[i][1] * y - self.turn[i][2] * z
        });
        let deep = p[2] + self.distance;
        [
            self.width as f64 / 2.0 + self.focal * p[0] / deep,
            self.height as f64 / 2.0 + self.focal * p[1] / deep,
        ]
    }

    /// The point `z` mm above the ground that is seen at a pixel.
    pub fn ground(&self, [u, v]: Point, z: f64) -> Point {
        let d = [
            (u - self.width as f64 / 2.0) / self.focal,
            (v - self.height as f64 / 2.0) / self.focal,
            1.0,
        ];
        // Into the ground's frame: the ray and the camera's place.
        let back = |w: [f64; 3]| -> [f64; 3] {
            std::array::from_fn(|j| (0..3).map(|i| self.turn[i][j] * w[i]).sum())
        };
        let (ray, eye) = (back(d), back([0.0, 0.0, -self.distance]));
        let t = (-z - eye[2]) / ray[2];
        [eye[0] + t * ray[0], eye[1] + t * ray[1]]
    }

    /// px per mm at the centre.
    pub fn px_per_mm(&self) -> f64 {
        let (a, b) = (
            self.project([-0.5, 0.0], 0.0),
            self.project([0.5, 0.0], 0.0),
        );
        let (c, d) = (
            self.project([0.0, -0.5], 0.0),
            self.project([0.0, 0.5], 0.0),
        );
        ((b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0]))
            .abs()
            .sqrt()
    }
}
