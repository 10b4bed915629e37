//! What a piece is made of, from how it looks beside its ground.

use std::collections::BTreeMap;

use swarfbook_job::census::DebrisClass;

use super::measure::Measured;

/// How a piece looks, relative to its ground and free of scale.
#[derive(Debug, Clone)]
pub(crate) struct Looks {
    /// Mean linear colour over the ground's.
    pub(crate) ratio: [f64; 3],
    /// Standard deviation of brightness over its mean.
    pub(crate) texture: f64,
    pub(crate) aspect: f64,
    pub(crate) solidity: f64,
}

impl Looks {
    pub(crate) fn of(m: &Measured) -> Looks {
        let (mut sum, mut sum2, mut rgb, mut n) = (0.0, 0.0, [0.0; 3], 0.0);
        for (p, _) in m.colour.iter().zip(&m.mask).filter(|(_, set)| **set != 0) {
            let y = f64::from(0.2126 * p[0] + 0.7152 * p[1] + 0.0722 * p[2]);
            sum += y;
            sum2 += y * y;
            n += 1.0;
            for c in 0..3 {
                rgb[c] += f64::from(p[c]);
            }
        }
        let mean = sum / n;
        Looks {
            ratio: std::array::from_fn(|c| rgb[c] / n / f64::from(m.ground[c]).max(1e-3)),
            texture: (sum2 / n - mean * mean).max(0.0).sqrt() / mean.max(1e-3),
            aspect: m.feret.min / m.feret.max.max(1e-6),
            solidity: m.area_mm2 / m.hull_mm2.max(1e-9),
        }
    }
}

/// Probabilities of the classes, by plain rules.
pub(crate) fn judge(looks: &Looks) -> BTreeMap<DebrisClass, f64> {
    let [r, g, b] = looks.ratio;
    let bright = (r + g + b) / 3.0;
    let class = if looks.aspect < 0.2 && looks.solidity < 0.35 {
        DebrisClass::Lint
    } else if r > 1.5 * b && bright > 0.2 {
        DebrisClass::YellowMetal
    } else if bright < 0.2 {
        DebrisClass::Lining
    } else if looks.aspect < 0.3 || looks.solidity < 0.5 {
        DebrisClass::SteelSliver
    } else if bright > 0.9 {
        DebrisClass::LightMetal
    } else {
        DebrisClass::SteelFlake
    };
    BTreeMap::from([(class, 0.6)])
}
