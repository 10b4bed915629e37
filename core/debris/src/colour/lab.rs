//! sRGB (IEC 61966-2-1) to linear light and to CIELAB under D65.

/// Linear light 0 to 1 of an sRGB value 0 to 255.
pub(crate) fn linear_of_srgb(value: f64) -> f64 {
    let v = value / 255.0;
    if v <= 0.04045 {
        v / 12.92
    } else {
        ((v + 0.055) / 1.055).powf(2.4)
    }
}

/// Linear light of each of the 256 stored values.
pub(crate) fn linear_table() -> [f32; 256] {
    std::array::from_fn(|v| linear_of_srgb(v as f64) as f32)
}

/// Linear light between stored values, by [`linear_table`].
pub(crate) fn linear_between(table: &[f32; 256], v: f64) -> f32 {
    let low = (v as usize).min(254);
    table[low] + (table[low + 1] - table[low]) * (v - low as f64) as f32
}

/// CIELAB of linear sRGB 0 to 1, white D65 (2 degrees).
pub(crate) fn lab_of_linear([r, g, b]: [f64; 3]) -> [f64; 3] {
    let x = (0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.95047;
    let y = 0.2126 * r + 0.7152 * g + 0.0722 * b;
    let z = (0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.08883;
    let f = |t: f64| {
        if t > 216.0 / 24389.0 {
            t.cbrt()
        } else {
            (24389.0 / 27.0 * t + 16.0) / 116.0
        }
    };
    let (x, y, z) = (f(x), f(y), f(z));
    [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The curve's second derivative is below 3.5: a straight line between neighbours misses it by less
    /// than an eighth of that times the square of 1/255.
    #[test]
    fn between_stored_values_as_by_the_curve() {
        let table = linear_table();
        for tenth in 0..=2550 {
            let v = f64::from(tenth) / 10.0;
            let told = f64::from(linear_between(&table, v));
            assert!((told - linear_of_srgb(v)).abs() < 7e-6, "{v}");
        }
    }
}
