//! A small generator of our own (xorshift), so that what grows is the same each time.

pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Dice {
        Dice(0x5157_4152_4642_4f4b ^ seed.wrapping_mul(0x9E37_79B9_7F4A_7C15))
    }

    pub fn below(&mut self, n: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 33) as usize % n.max(1)
    }
}
