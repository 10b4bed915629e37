//! Counts a class, with Garwood's intervals widened by doubt about classes.

use std::collections::BTreeMap;

use swarfbook_job::census::{Count, DebrisClass, Particle};
use swarfbook_job::garwood::garwood;

/// Share of the pieces' expected number that may be none; `None` without pieces.
pub(crate) fn doubt(particles: &[Particle]) -> Option<f64> {
    let real: f64 = particles.iter().filter_map(|p| p.real).sum();
    let told = particles.iter().filter(|p| p.real.is_some()).count();
    (told > 0).then(|| 1.0 - real / told as f64)
}

/// Pieces a class; the interval adds the variance of each piece's own doubt to Garwood's width.
pub(crate) fn count(particles: &[Particle]) -> BTreeMap<DebrisClass, Count> {
    let mut counts = BTreeMap::new();
    for class in DebrisClass::ALL {
        let n = particles.iter().filter(|p| p.class == class).count() as u32;
        let doubt: f64 = particles
            .iter()
            .filter_map(|p| p.p.get(&class))
            .map(|p| p * (1.0 - p))
            .sum();
        if n == 0 && doubt < 0.05 {
            continue;
        }
        let (lo, hi) = garwood(n, 0.90);
        let more = 1.645f64.powi(2) * doubt;
        let at = f64::from(n);
        counts.insert(
            class,
            Count {
                n,
                lo: (at - ((at - lo).powi(2) + more).sqrt()).max(0.0),
                hi: at + ((hi - at).powi(2) + more).sqrt(),
            },
        );
    }
    counts
}
