//! What was not looked at, and what the score therefore does not know.

use swarfbook_job::census::PhotoKind;

use crate::exposure::{Exposure, KmFrom};
use crate::{Evidence, Observation, Paste, words};

/// Sentences for the report, in a fixed order.
pub(crate) fn limits(evidence: &Evidence, exposure: &Exposure) -> Vec<String> {
    let mut limits = Vec::new();
    let has = |kind| evidence.photos.iter().any(|photo| photo.kind == kind);
    let observed = |wanted: fn(&Observation) -> bool| {
        evidence.observations.iter().any(|o| wanted(&o.observation))
    };
    if !has(PhotoKind::Patch) && !has(PhotoKind::Pan) {
        limits.push("No photo of the pan's residue: pieces were not counted.".to_owned());
    }
    let felt = observed(|o| matches!(o, Observation::Paste { .. }));
    let covered = evidence
        .photos
        .iter()
        .any(|photo| photo.cover.is_some_and(|cover| cover.cover_lo > 0.0));
    if !has(PhotoKind::Magnet) && !felt {
        limits.push("The magnets were not looked at.".to_owned());
    } else if !felt {
        limits.push(
            "The magnet was not felt: what covers it is taken as a thin film, not paste."
                .to_owned(),
        );
    } else if covered && only_bare(evidence) {
        limits.push(
            "A photo shows the magnet covered, the finger found it bare: the finger is believed. Look again.".to_owned(),
        );
    }
    if !observed(|o| matches!(o, Observation::Fluid { .. })) {
        limits.push("How the fluid looks was not entered.".to_owned());
    }
    if !observed(|o| matches!(o, Observation::Smell { .. })) {
        limits.push("How the fluid smells was not entered.".to_owned());
    }
    if !observed(|o| matches!(o, Observation::Filter { .. })) {
        limits.push("The filter was not looked into.".to_owned());
    }
    if exposure.km_from == KmFrom::Unknown {
        limits.push(format!(
            "The distance since the pan was clean is unknown; the score reckons with {}. Soon after a service the same debris weighs more.",
            words::km(exposure.km)
        ));
    }
    let counted = || evidence.photos.iter().filter(|photo| !photo.again);
    if counted().any(|photo| photo.particles.iter().any(|p| p.feret_max.is_none())) {
        limits.push(
            "Some pieces have no size, since their photo has no scale; they weigh as small ones."
                .to_owned(),
        );
    }
    let smallest = counted()
        .filter_map(|photo| photo.smallest_mm)
        .fold(0.0, f64::max);
    if smallest > 0.0 {
        limits.push(format!(
            "Pieces under {smallest:.2} mm can't be seen in every photo."
        ));
    }
    limits
}

fn only_bare(evidence: &Evidence) -> bool {
    evidence
        .observations
        .iter()
        .all(|o| !matches!(o.observation, Observation::Paste { paste } if paste != Paste::None))
}
