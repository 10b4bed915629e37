//! Chance from a seed, and smooth noise: the same seed draws the same photo.

/// Nearly a whole turn, radians: as the photos that the shipped trees learned from were drawn.
pub const TURN: f64 = 628.0 / 100.0;

/// A small generator (xorshift with a product, Vigna 2016).
pub struct Chance(u64);

impl Chance {
    pub fn new(seed: u64) -> Chance {
        let mut chance = Chance(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
        for _ in 0..8 {
            chance.next();
        }
        chance
    }

    pub fn next(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_F491_4F6C_DD1D)
    }

    /// Evenly from `a` to `b`.
    pub fn from(&mut self, a: f64, b: f64) -> f64 {
        a + (b - a) * (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// From `a` to `b` with even logarithms.
    pub fn log(&mut self, a: f64, b: f64) -> f64 {
        self.from(a.ln(), b.ln()).exp()
    }

    pub fn is(&mut self, share: f64) -> bool {
        self.from(0.0, 1.0) < share
    }

    pub fn below(&mut self, n: usize) -> usize {
        (self.next() >> 33) as usize % n.max(1)
    }

    /// Nearly normal, unit variance.
    pub fn normal(&mut self) -> f64 {
        (0..6).map(|_| self.from(-0.5, 0.5)).sum::<f64>() * 2f64.sqrt()
    }
}

fn lattice(x: i64, y: i64, seed: u64) -> f64 {
    let mut h =
        seed ^ (x as u64).wrapping_mul(0x8DA6_B343) ^ (y as u64).wrapping_mul(0xD816_3841_1D4F);
    h = (h ^ (h >> 31)).wrapping_mul(0x9E37_79B9_7F4A_7C15);
    h = (h ^ (h >> 29)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    ((h ^ (h >> 32)) & 0xFFFF_FFFF) as f64 / 4_294_967_296.0
}

/// Smooth noise of one size, 0 to 1; one cell is one unit.
pub fn noise(x: f64, y: f64, seed: u64) -> f64 {
    let (i, j) = (x.floor(), y.floor());
    let ease = |t: f64| t * t * (3.0 - 2.0 * t);
    let (fx, fy) = (ease(x - i), ease(y - j));
    let at = |di: i64, dj: i64| lattice(i as i64 + di, j as i64 + dj, seed);
    let top = at(0, 0) * (1.0 - fx) + at(1, 0) * fx;
    let bottom = at(0, 1) * (1.0 - fx) + at(1, 1) * fx;
    top * (1.0 - fy) + bottom * fy
}

/// Noise of several sizes, each half of the one before; 0 to 1.
pub fn cloud(x: f64, y: f64, sizes: u32, seed: u64) -> f64 {
    let (mut sum, mut weight, mut share) = (0.0, 0.0, 1.0);
    for k in 0..sizes {
        let f = f64::from(1 << k);
        sum += share * noise(x * f, y * f, seed.wrapping_add(u64::from(k) * 977));
        weight += share;
        share *= 0.55;
    }
    sum / weight
}

/// Random cells (Voronoi): a value 0 to 1 for the cell of a place.
pub fn cells(x: f64, y: f64, seed: u64) -> f64 {
    let (i, j) = (x.floor() as i64, y.floor() as i64);
    let mut best = (f64::INFINITY, 0.0);
    for (dj, di) in (-1..2).flat_map(|dj| (-1..2).map(move |di| (dj, di))) {
        let (u, v) = (i + di, j + dj);
        let (px, py) = (
            u as f64 + lattice(u, v, seed),
            v as f64 + lattice(u, v, seed ^ 77),
        );
        let d = (px - x).hypot(py - y);
        if d < best.0 {
            best = (d, lattice(u, v, seed ^ 991));
        }
    }
    best.1
}

/// 0 below `a`, 1 above `b`, smooth between.
pub fn smooth(a: f64, b: f64, x: f64) -> f64 {
    let t = ((x - a) / (b - a)).clamp(0.0, 1.0);
    t * t * (3.0 - 2.0 * t)
}
