//! Score and advice as screens show them.

use std::collections::BTreeMap;

use swarfbook_job::fold::JobState;
use swarfbook_job::id::EntryId;
use swarfbook_judge::grave::Grave;
use swarfbook_judge::history::Visit;
use swarfbook_judge::{patch, wear as judge};
use swarfbook_measure::unit::Units;
use swarfbook_wear::{Assessment, Band, HazardTable};

use super::advice::{Told, advice_words, told, without_words};
use super::patch::apart_words;
use super::record::calibrated_words;
use super::trend;
use crate::state::Loaded;
use crate::view::{BandOnScale, ReasonPieces, ReasonView, TrendView, WearView};

/// Every band on the scale; none where the table of weights can't be read, which the score says.
fn bands(assessment: &Assessment) -> Vec<BandOnScale> {
    let from = judge::table().map_or_else(|_| Vec::new(), HazardTable::band_limits);
    let allowed = assessment.band_lo..=assessment.band_hi;
    Band::ALL
        .into_iter()
        .zip(from)
        .map(|(band, from)| BandOnScale {
            numeral: band.numeral(),
            from,
            allowed: allowed.contains(&band),
        })
        .collect()
}

/// The judgement in views.
pub(super) fn view(loaded: &Loaded, assessment: &Assessment, grave: &Grave) -> WearView {
    let Loaded { state, units, .. } = loaded;
    let mut missing = assessment.limits.clone();
    for patch in patch::patches(state) {
        let apart = patch.apart.iter();
        missing.extend(apart.map(|(photo, why)| apart_words(photo, *why)));
    }
    let advice = &assessment.advice;
    let shown = assessment.shown();
    WearView {
        score: f64::from(shown.score),
        lo: f64::from(shown.lo),
        hi: f64::from(shown.hi),
        hazard: assessment.hazard,
        not_confirmed: assessment.not_confirmed(),
        calibrated: calibrated_words(state),
        without_doubtful: without_words(assessment),
        band: assessment.band,
        numeral: assessment.band.numeral(),
        band_name: assessment.band.words().to_owned(),
        bands_also: assessment.bands_also(),
        bands: bands(assessment),
        band_words: assessment.band_words(),
        reasons: told(assessment)
            .into_iter()
            .map(|reason| {
                let pieces = shown_pieces(state, &reason);
                ReasonView {
                    photo: pieces.first().map(|p| p.photo).or_else(|| {
                        let ids = reason.sources.iter().filter_map(|id| id.parse().ok());
                        ids.into_iter().find(|id| state.photo(*id).is_some())
                    }),
                    pieces,
                    words: reason.words,
                    share: reason.share,
                }
            })
            .collect(),
        advice: advice.advised.choice(),
        advice_words: advice_words(assessment, grave),
        advice_reasons: advice.rules.iter().map(|r| r.words.clone()).collect(),
        next_tests: advice.tests.iter().map(|t| t.words().to_owned()).collect(),
        findings: assessment
            .findings
            .iter()
            .map(|f| f.words.clone())
            .collect(),
        missing,
        trend: trend_view(state, &loaded.beside().earlier, assessment, *units),
        table: assessment.table.clone(),
    }
}

/// The visits of this car beside each other; `None` without an earlier one.
pub(crate) fn trend_view(
    state: &JobState,
    earlier: &[Visit],
    assessment: &Assessment,
    units: Units,
) -> Option<TrendView> {
    let opened = state.opened.as_ref()?.wall;
    let trend = assessment.trend.as_ref()?;
    Some(trend::view(trend, earlier, opened, units))
}

/// The pieces of a reason, by photo.
fn shown_pieces(state: &JobState, reason: &Told) -> Vec<ReasonPieces> {
    let mut by_photo: BTreeMap<EntryId, Vec<u32>> = BTreeMap::new();
    for at in &reason.pieces {
        if let Ok(photo) = at.photo.parse()
            && state.photo(photo).is_some()
        {
            by_photo.entry(photo).or_default().push(at.piece);
        }
    }
    by_photo
        .into_iter()
        .map(|(photo, pieces)| ReasonPieces { photo, pieces })
        .collect()
}
