//! Evidence in, judgement out.

use serde::{Deserialize, Serialize};
use swarfbook_words::say;
use ts_rs::TS;

use crate::advice::{self, AdviceGiven, Known};
use crate::check::check;
use crate::count::{Size, Weighing};
use crate::doubt;
use crate::exposure::{Exposure, KmFrom};
use crate::findings::{Finding, findings};
use crate::hazard::{reasons, score};
use crate::interval::interval;
use crate::limits::limits;
use crate::named::Names;
use crate::shown::Shown;
use crate::trend::{Visit, trend};
use crate::{Advice, Band, EarlierVisit, Evidence, HazardTable, Reason, Trend, WearProblem, words};

/// The wear score with its reasons, and what is advised.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Assessment {
    /// The hazard table it was made with.
    pub table: String,
    /// The wear score, 0 to 100.
    pub score: f64,
    /// Lower end of its 90 % interval.
    pub score_lo: f64,
    /// Upper end of its 90 % interval.
    pub score_hi: f64,
    /// The hazard `H`: the sum of all reasons.
    pub hazard: f64,
    /// The band of the score.
    pub band: Band,
    /// The band of the lower end.
    pub band_lo: Band,
    /// The band of the upper end.
    pub band_hi: Band,
    /// Distance and area that the debris is held against.
    pub exposure: Exposure,
    /// What makes the score, heaviest first.
    pub reasons: Vec<Reason>,
    /// What stands beside the score.
    pub findings: Vec<Finding>,
    /// What is advised, and what the technician decided.
    pub advice: AdviceGiven,
    /// The visits of this car, when there were earlier ones.
    pub trend: Option<Trend>,
    /// What was not looked at, in sentences.
    pub limits: Vec<String>,
    /// Photos that count and that nobody stood by yet.
    #[serde(default)]
    pub unconfirmed: usize,
    /// What score and advice would be without the pieces that nobody looked at and that
    /// are not sure; `None` where there are none.
    #[serde(default)]
    pub without_doubtful: Option<Without>,
}

/// Score and advice without pieces that are in doubt.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Without {
    /// As it would be shown.
    pub score: Shown,
    /// The one in which that score lies.
    pub band: Band,
    /// What would be advised.
    pub advised: Advice,
    /// How many pieces are in doubt.
    pub pieces: usize,
}

impl Assessment {
    /// The score as it is told everywhere.
    pub fn shown(&self) -> Shown {
        Shown::of(self.score, self.score_lo, self.score_hi)
    }

    /// The bands that the evidence also allows, from none to worst.
    pub fn bands_also(&self) -> Vec<Band> {
        Band::ALL
            .into_iter()
            .filter(|band| (self.band_lo..=self.band_hi).contains(band) && *band != self.band)
            .collect()
    }

    /// The band in words, with its neighbours that the evidence also allows.
    pub fn band_words(&self) -> String {
        let also = self.bands_also();
        if also.is_empty() {
            return self.band.words().to_owned();
        }
        let also: Vec<&str> = also.iter().map(|band| band.words()).collect();
        say!(
            "band-the-evidence-also-allows-also",
            band = self.band.words(),
            also = words::list(&also)
        )
    }

    /// That nobody stood by the counts yet: the first line of score and advice. `None`
    /// where somebody did.
    pub fn not_confirmed(&self) -> Option<String> {
        match self.unconfirmed {
            0 => None,
            1 => Some(say!("not-yet-confirmed-1-photo-was-counted-by")),
            n => Some(say!("not-yet-confirmed-n-photos-were-counted-by", n = n)),
        }
    }
}

/// Judges a pan. Refuses evidence that can't be, or none at all: an unread pan
/// is not a clean pan.
pub fn assess(evidence: &Evidence, table: &HazardTable) -> Result<Assessment, WearProblem> {
    check(evidence)?;
    let mut got = judge(evidence, table)?;
    let sure = doubt::without_doubtful(evidence);
    got.unconfirmed = doubt::unconfirmed(evidence).count();
    if sure.left_out == 0 {
        return Ok(got);
    }
    let without = judge(&sure.evidence, table)?;
    let overrule = evidence.overrule.as_ref();
    if got.advice.advised == Advice::OpenUp && without.advice.advised != Advice::OpenUp {
        // What nobody looked at never leads to opening up.
        let mut rules = without.advice.rules.clone();
        rules.push(advice::look_first(
            doubt::words(&got, &without, sure.left_out),
            doubt::unconfirmed(evidence)
                .map(|photo| photo.id.clone())
                .collect(),
        ));
        got.advice = advice::give(rules, overrule, table.watch.active_km);
    }
    got.without_doubtful = Some(Without {
        score: without.shown(),
        band: without.band,
        advised: without.advice.advised,
        pieces: sure.left_out,
    });
    Ok(got)
}

fn judge(evidence: &Evidence, table: &HazardTable) -> Result<Assessment, WearProblem> {
    let exposure = Exposure::of(evidence, table);
    let names = Names::of(evidence, &exposure, table);
    let weighing = Weighing {
        evidence,
        exposure: &exposure,
        table,
        taken: &names.taken,
    };
    let cells = weighing.cells(Size::Best);
    let reasons = reasons(evidence, &cells, &names, &exposure, table);
    let hazard = reasons.iter().fold(0.0, |sum, reason| sum + reason.hazard);
    let (lo, hi) = interval(evidence, &exposure, table);
    // Both ends hold the score to the last bit, however the sums were rounded.
    let (hazard_lo, hazard_hi) = (lo.clamp(0.0, hazard), hi.max(hazard));
    let band = table.band_of(score(hazard));
    let band_hi = table.band_of(score(hazard_hi));
    let findings = findings(evidence, band);
    let trend = trend_of(evidence, &exposure)?;
    let rules = advice::rules(&Known {
        evidence,
        band,
        band_hi,
        km: exposure.km,
        distance_known: exposure.km_from != KmFrom::Unknown,
        reasons: &reasons,
        findings: &findings,
        trend: trend.as_ref(),
        watch: &table.watch,
    });
    Ok(Assessment {
        table: table.version.clone(),
        score: score(hazard),
        score_lo: score(hazard_lo),
        score_hi: score(hazard_hi),
        hazard,
        band,
        band_lo: table.band_of(score(hazard_lo)),
        band_hi,
        limits: limits(evidence, &exposure),
        exposure,
        reasons,
        findings,
        advice: advice::give(rules, evidence.overrule.as_ref(), table.watch.active_km),
        trend,
        unconfirmed: 0,
        without_doubtful: None,
    })
}

/// The trend of a car whose distances are known.
fn trend_of(evidence: &Evidence, exposure: &Exposure) -> Result<Option<Trend>, WearProblem> {
    if exposure.km_from == KmFrom::Unknown {
        return Ok(None);
    }
    let now = Visit {
        id: String::new(),
        odometer_km: evidence.odometer_km,
        km: exposure.km,
        photos: evidence.photos.clone(),
    };
    let earlier: Vec<Visit> = evidence
        .earlier
        .iter()
        .filter_map(|visit| {
            Some(Visit {
                id: visit.id.clone(),
                odometer_km: visit.odometer_km,
                km: km_before(visit, &evidence.earlier)?,
                photos: visit.photos.clone(),
            })
        })
        .collect();
    trend(&now, &earlier)
}

/// Distance of an earlier visit: entered, else since the visit before it.
fn km_before(visit: &EarlierVisit, all: &[EarlierVisit]) -> Option<f64> {
    visit.km_since_clean.or_else(|| {
        let then = visit.odometer_km?;
        all.iter()
            .filter_map(|other| other.odometer_km)
            .filter(|km| *km < then)
            .fold(None, |last: Option<f64>, km| {
                Some(last.map_or(km, |last| last.max(km)))
            })
            .map(|last| then - last)
    })
}
