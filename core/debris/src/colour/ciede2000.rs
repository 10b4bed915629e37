//! The CIEDE2000 colour difference (CIE 142; ISO/CIE 11664-6), all weights 1.

/// Difference of two CIELAB colours.
pub fn ciede2000(a: [f64; 3], b: [f64; 3]) -> f64 {
    let [l1, a1, b1] = a;
    let [l2, a2, b2] = b;
    let to_seventh = |c: f64| (c.powi(7) / (c.powi(7) + 25f64.powi(7))).sqrt();
    let g = 0.5 * (1.0 - to_seventh((a1.hypot(b1) + a2.hypot(b2)) / 2.0));
    let (a1, a2) = (a1 * (1.0 + g), a2 * (1.0 + g));
    let (c1, c2) = (a1.hypot(b1), a2.hypot(b2));
    let hue = |a: f64, b: f64| {
        if a == 0.0 && b == 0.0 {
            0.0
        } else {
            b.atan2(a).to_degrees().rem_euclid(360.0)
        }
    };
    let (h1, h2) = (hue(a1, b1), hue(a2, b2));
    let grey = c1 * c2 == 0.0;
    let dh = match h2 - h1 {
        _ if grey => 0.0,
        d if d > 180.0 => d - 360.0,
        d if d < -180.0 => d + 360.0,
        d => d,
    };
    let (dl, dc) = (l2 - l1, c2 - c1);
    let dh_chord = 2.0 * (c1 * c2).sqrt() * (dh / 2.0).to_radians().sin();
    let (l, c) = ((l1 + l2) / 2.0, (c1 + c2) / 2.0);
    let h = if grey {
        h1 + h2
    } else if (h1 - h2).abs() <= 180.0 {
        (h1 + h2) / 2.0
    } else if h1 + h2 < 360.0 {
        (h1 + h2 + 360.0) / 2.0
    } else {
        (h1 + h2 - 360.0) / 2.0
    };
    let cos = |degrees: f64| degrees.to_radians().cos();
    let t = 1.0 - 0.17 * cos(h - 30.0) + 0.24 * cos(2.0 * h) + 0.32 * cos(3.0 * h + 6.0)
        - 0.20 * cos(4.0 * h - 63.0);
    let dip = (l - 50.0).powi(2);
    let s_l = 1.0 + 0.015 * dip / (20.0 + dip).sqrt();
    let s_c = 1.0 + 0.045 * c;
    let s_h = 1.0 + 0.015 * c * t;
    let turn = 60.0 * (-((h - 275.0) / 25.0).powi(2)).exp();
    let r_t = -2.0 * to_seventh(c) * turn.to_radians().sin();
    let (l, c, h) = (dl / s_l, dc / s_c, dh_chord / s_h);
    (l * l + c * c + h * h + r_t * c * h).max(0.0).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The 34 pairs of Sharma, Wu and Dalal (Color Res. Appl. 30:21, 2005), to their four decimals.
    #[test]
    fn the_34_published_pairs() {
        let table = include_str!("../../tests/ciede2000-34-pairs.csv");
        let mut seen = 0;
        for line in table
            .lines()
            .filter(|l| l.starts_with(|c: char| c.is_ascii_digit()))
        {
            let v: Vec<f64> = line.split(',').map(|f| f.trim().parse().unwrap()).collect();
            let (a, b) = ([v[0], v[1], v[2]], [v[3], v[4], v[5]]);
            for difference in [ciede2000(a, b), ciede2000(b, a)] {
                assert!((difference - v[6]).abs() < 1e-4, "{line}: {difference}");
            }
            seen += 1;
        }
        assert_eq!(seen, 34);
    }
}
