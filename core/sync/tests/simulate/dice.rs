//! What a schedule draws: the same seed, the same draws.

use std::cell::Cell;
use std::ops::Range;

/// splitmix64 (Steele, Lea and Flood, 2014).
pub struct Dice(Cell<u64>);

impl Dice {
    pub fn of(seed: u64) -> Dice {
        Dice(Cell::new(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15)))
    }

    fn next(&self) -> u64 {
        let state = self.0.get().wrapping_add(0x9E37_79B9_7F4A_7C15);
        self.0.set(state);
        let z = (state ^ (state >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    pub fn below(&self, n: usize) -> usize {
        (self.next() % n.max(1) as u64) as usize
    }

    pub fn within(&self, range: Range<usize>) -> usize {
        range.start + self.below(range.len())
    }

    /// One in `n`.
    pub fn one_in(&self, n: usize) -> bool {
        self.below(n) == 0
    }

    pub fn of_these<'a, T>(&self, these: &'a [T]) -> &'a T {
        &these[self.below(these.len())]
    }

    /// Bytes of a length between 0 and `most`, short ones as likely as long ones.
    pub fn a_length(&self, most: usize) -> usize {
        self.below(most >> self.below(12).min(most.ilog2() as usize))
    }

    pub fn bytes(&self, n: usize) -> Vec<u8> {
        let mut bytes = Vec::with_capacity(n + 8);
        while bytes.len() < n {
            bytes.extend(self.next().to_le_bytes());
        }
        bytes.truncate(n);
        bytes
    }
}
