//! Values that can't be are asked back, never mended in silence.

use swarfbook_words::{say, term};

use crate::{Evidence, PhotoSeen, WearProblem};

pub(crate) fn check(evidence: &Evidence) -> Result<(), WearProblem> {
    if evidence.photos.is_empty() && evidence.observations.is_empty() {
        return Err(WearProblem::NothingLookedAt);
    }
    let km = term!("enter-the-distance-in-km-0-or-more");
    for (what, value) in [
        (
            term!("the-distance-since-the-pan-was-clean"),
            evidence.km_since_clean,
        ),
        (
            term!("the-least-distance-since-the-pan-was-clean"),
            Some(evidence.km_at_least),
        ),
        (term!("the-odometer"), evidence.odometer_km),
    ] {
        not_negative(what, value, km)?;
    }
    for visit in &evidence.earlier {
        not_negative(term!("an-earlier-odometer"), visit.odometer_km, km)?;
        not_negative(term!("an-earlier-distance"), visit.km_since_clean, km)?;
        if let (Some(now), Some(then)) = (evidence.odometer_km, visit.odometer_km)
            && then > now
        {
            return Err(bad(
                term!("the-odometer"),
                say!("now-km-less-than-the-then-km-of", now = now, then = then),
                term!("read-it-again-or-correct-the-earlier-visit"),
            ));
        }
        check_photos(&visit.photos)?;
    }
    if let Some(overrule) = &evidence.overrule {
        not_negative(
            term!("the-distance-to-the-next-look"),
            overrule.after_km,
            km,
        )?;
        if overrule.reason.trim().is_empty() {
            return Err(WearProblem::OverruleWithoutReason);
        }
    }
    check_photos(&evidence.photos)
}

pub(crate) fn check_photos(photos: &[PhotoSeen]) -> Result<(), WearProblem> {
    let again = term!("take-the-photo-again-or-correct-the-count");
    for photo in photos {
        not_negative(term!("the-area-searched"), photo.searched_cm2, again)?;
        not_negative(term!("the-smallest-piece-shown"), photo.smallest_mm, again)?;
        if let Some(cover) = photo.cover {
            for share in [cover.cover, cover.cover_lo, cover.cover_hi] {
                if !(0.0..=1.0).contains(&share) {
                    return Err(bad(term!("a-magnets-cover"), share.to_string(), again));
                }
            }
        }
        for particle in &photo.particles {
            if let Some(length) = particle.feret_max {
                for mm in [length.mm, length.lo, length.hi] {
                    not_negative(term!("the-length-of-a-piece"), Some(mm), again)?;
                }
                if length.lo > length.mm || length.mm > length.hi {
                    let value = say!(
                        "mm-mm-in-lo-to-hi-mm",
                        mm = length.mm,
                        lo = length.lo,
                        hi = length.hi
                    );
                    return Err(bad(term!("the-length-of-a-piece"), value, again));
                }
            }
            for p in particle.p.values() {
                if !(0.0..=1.0).contains(p) {
                    return Err(bad(
                        term!("the-probability-of-a-class"),
                        p.to_string(),
                        again,
                    ));
                }
            }
        }
    }
    Ok(())
}

pub(crate) fn not_negative(
    what: &str,
    value: Option<f64>,
    ask: &'static str,
) -> Result<(), WearProblem> {
    match value {
        Some(value) if !(value.is_finite() && value >= 0.0) => {
            Err(bad(what, value.to_string(), ask))
        }
        _ => Ok(()),
    }
}

fn bad(what: &str, value: String, ask: &'static str) -> WearProblem {
    WearProblem::BadValue {
        what: what.to_owned(),
        value,
        ask,
    }
}
