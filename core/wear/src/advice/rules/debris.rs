//! Rules about what the pieces are of.

use swarfbook_job::census::DebrisClass;
use swarfbook_words::term;

use super::{Known, debris_of, fired};
use crate::advice::{Advice, Rule, RuleFired};
use crate::findings::sorted;
use crate::{Band, KnownPart, Observation, Reason, ReasonKind};

/// From how many flakes of yellow metal the bushings are named.
const YELLOW_FROM: u32 = 3;

pub(super) fn yellow_metal(known: &Known) -> Option<RuleFired> {
    let seen = |reason: &&Reason| matches!(reason.reason, ReasonKind::Debris { class: DebrisClass::YellowMetal, from_mm, .. } if from_mm > 0.0);
    let of = || known.reasons.iter().filter(seen);
    let n: u32 = of()
        .map(|reason| match reason.reason {
            ReasonKind::Debris { n, .. } => n,
            _ => 0,
        })
        .sum();
    (n >= YELLOW_FROM).then(|| {
        fired(
            Rule::YellowMetal,
            Advice::Watch {
                after_km: known.watch.active_km,
            },
            term!("brass-or-bronze-comes-from-bushings-and-thrust"),
            sorted(of().flat_map(|reason| reason.sources.iter().cloned())),
        )
    })
}

pub(super) fn swarf(known: &Known) -> Option<RuleFired> {
    if !known.evidence.first_opening {
        return None;
    }
    let ids = debris_of(known, |class, from_mm| {
        class == DebrisClass::SteelSliver && from_mm < 4.8
    });
    (!ids.is_empty()).then(|| {
        fired(
            Rule::Swarf,
            Advice::Watch {
                after_km: known.watch.active_km,
            },
            term!("bright-curls-at-a-first-opening-are-mostly"),
            ids,
        )
    })
}

/// A unit is running in up to this distance, km.
const RUNNING_IN_KM: f64 = 10_000.0;

pub(super) fn running_in(known: &Known) -> Option<RuleFired> {
    let worn = known.band >= Band::Settled && known.band <= Band::Active;
    (known.evidence.first_opening && known.km <= RUNNING_IN_KM && worn).then(|| {
        fired(
            Rule::RunningIn,
            Advice::Watch {
                after_km: known.watch.running_in_km,
            },
            term!("a-new-or-rebuilt-unit-is-running-in"),
            Vec::new(),
        )
    })
}

pub(super) fn sealant(known: &Known) -> Option<RuleFired> {
    let named = known.evidence.observations.iter().filter(|seen| {
        matches!(
            seen.observation,
            Observation::Chunk {
                part: KnownPart::Sealant | KnownPart::Gasket,
                ..
            }
        )
    });
    let pieces = debris_of(known, |class, from_mm| {
        class == DebrisClass::Elastomer && from_mm >= 1.0
    });
    let ids = sorted(named.map(|seen| seen.id.clone()).chain(pieces));
    (!ids.is_empty()).then(|| {
        fired(
            Rule::Sealant,
            Advice::CarryOn,
            term!("sealant-gasket-or-rubber-is-from-earlier-work"),
            ids,
        )
    })
}
