//! Numbers of 16 bits (IEEE 754 binary16), as weights are kept.

/// The number that these bits stand for; exact.
pub(super) fn of_half(bits: u16) -> f32 {
    let sign = if bits & 0x8000 == 0 { 1.0 } else { -1.0 };
    let fraction = f32::from(bits & 0x03FF);
    match bits >> 10 & 0x1F {
        0 => sign * fraction * 2f32.powi(-24),
        31 if fraction == 0.0 => sign * f32::INFINITY,
        31 => f32::NAN,
        exponent => sign * (1024.0 + fraction) * 2f32.powi(i32::from(exponent) - 25),
    }
}

#[cfg(test)]
mod tests {
    use super::of_half;

    /// Values of IEEE 754-2019, table 3.5 and clause 3.4, as they follow for binary16.
    #[test]
    fn known_numbers() {
        for (bits, value) in [
            (0x0000, 0.0),
            (0x0001, 2f32.powi(-24)),
            (0x03FF, 1023.0 / 1024.0 * 2f32.powi(-14)),
            (0x0400, 2f32.powi(-14)),
            (0x3555, 0.333_251_95),
            (0x3C00, 1.0),
            (0xC000, -2.0),
            (0x7BFF, 65504.0),
            (0x7C00, f32::INFINITY),
        ] {
            assert_eq!(of_half(bits), value, "{bits:04x}");
        }
        assert!(of_half(0x7E00).is_nan());
    }
}
