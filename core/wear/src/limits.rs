//! What was not looked at, and what the score therefore does not know.

use swarfbook_job::census::{DebrisClass, PhotoKind};
use swarfbook_words::{fixed, say};

use crate::exposure::{Exposure, KmFrom};
use crate::{Evidence, Observation, ParticleSeen, Paste, words};

/// Sentences for the report, in a fixed order.
pub(crate) fn limits(evidence: &Evidence, exposure: &Exposure) -> Vec<String> {
    let mut limits = Vec::new();
    let has = |kind| evidence.photos.iter().any(|photo| photo.kind == kind);
    let observed = |wanted: fn(&Observation) -> bool| {
        evidence.observations.iter().any(|o| wanted(&o.observation))
    };
    if !has(PhotoKind::Patch) && !has(PhotoKind::Pan) {
        limits.push(say!("no-photo-of-the-pans-residue-pieces-were"));
    }
    let felt = observed(|o| matches!(o, Observation::Paste { .. }));
    let covered = evidence
        .photos
        .iter()
        .any(|photo| photo.cover.is_some_and(|cover| cover.cover_lo > 0.0));
    if !has(PhotoKind::Magnet) && !felt {
        limits.push(say!("the-magnets-were-not-looked-at"));
    } else if !felt {
        limits.push(say!("the-magnet-was-not-felt-what-covers-it"));
    } else if covered && only_bare(evidence) {
        limits.push(say!("a-photo-shows-the-magnet-covered-the-finger"));
    }
    if !observed(|o| matches!(o, Observation::Fluid { .. })) {
        limits.push(say!("how-the-fluid-looks-was-not-entered"));
    }
    if !observed(|o| matches!(o, Observation::Smell { .. })) {
        limits.push(say!("how-the-fluid-smells-was-not-entered"));
    }
    if !observed(|o| matches!(o, Observation::Filter { .. })) {
        limits.push(say!("the-filter-was-not-looked-into"));
    }
    if evidence.pan_stayed_on {
        limits.push(say!(
            "the-pan-stayed-on-at-the-last-fluid",
            km = words::km(exposure.km)
        ));
    }
    let compact = grains_to_feel(evidence);
    if compact > 0 {
        limits.push(say!(
            "compact-compact-pieces-of-steel-under-1-mm",
            compact = compact
        ));
    }
    if exposure.km_from == KmFrom::Unknown {
        limits.push(say!(
            "the-distance-since-the-pan-was-clean-is",
            km = words::km(exposure.km)
        ));
    }
    let counted = || evidence.photos.iter().filter(|photo| !photo.again);
    if counted().any(|photo| photo.particles.iter().any(|p| p.feret_max.is_none())) {
        limits.push(say!("some-pieces-have-no-size-since-their-photo"));
    }
    let smallest = counted()
        .filter_map(|photo| photo.smallest_mm)
        .fold(0.0, f64::max);
    if smallest > 0.0 {
        limits.push(say!(
            "pieces-under-smallest-mm-cant-be-seen-in",
            smallest = fixed(smallest, 2)
        ));
    }
    limits
}

/// From how many compact pieces of steel the finger is asked.
const GRAINS_FROM: usize = 5;

/// Compact pieces of steel that may be grains, where nobody said how they feel.
fn grains_to_feel(evidence: &Evidence) -> usize {
    let felt = evidence
        .observations
        .iter()
        .any(|seen| matches!(seen.observation, Observation::Steel { .. }));
    let small = |piece: &ParticleSeen| {
        piece.class == DebrisClass::SteelFlake
            && piece.compact.is_some_and(|c| c >= COMPACT)
            && piece.feret_max.is_some_and(|length| length.mm < 1.0)
    };
    let counted = evidence.photos.iter().filter(|photo| !photo.again);
    let n = counted
        .flat_map(|p| &p.particles)
        .filter(|p| small(p))
        .count();
    if felt || n < GRAINS_FROM { 0 } else { n }
}

/// As compact as a grain.
const COMPACT: f64 = 0.6;

fn only_bare(evidence: &Evidence) -> bool {
    evidence
        .observations
        .iter()
        .all(|o| !matches!(o.observation, Observation::Paste { paste } if paste != Paste::None))
}
