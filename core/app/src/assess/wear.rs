//! The wear score and the advice for a job as it stands.

use swarfbook_job::census::Census;
use swarfbook_job::fact::{AdviceChoice, Fact};
use swarfbook_job::fold::{JobState, PhotoState};
use swarfbook_job::id::EntryId;
use swarfbook_measure::code::{Answer, Explanation};
use swarfbook_measure::conformity::Verdict;
use swarfbook_measure::unit::Units;
use swarfbook_wear::{
    Assessment, CodeSeen, Evidence, Explained, HazardTable, Observation, Observed, Overrule,
    PhotoSeen, ReadingSeen, ReadingVerdict, Symptom, SymptomSeen, assess as judge,
};
use swarfbook_words::{say, term};

use super::history::Visit;
use super::{patch, reading};
use crate::problem::Problem;
use crate::serve::Loaded;
use crate::view::{ComponentView, ReasonView, TrendView, WearView};

/// The judgement; `None` while nothing was read from the pan.
pub(super) fn assessment(
    state: &JobState,
    components: &[ComponentView],
    explanations: &[Explanation],
    earlier: &[Visit],
) -> Result<Option<Assessment>, Problem> {
    let evidence = evidence(state, components, explanations, earlier);
    if evidence.photos.is_empty() && evidence.observations.is_empty() {
        return Ok(None);
    }
    let judged = judge(&evidence, &table()?).map_err(unscored)?;
    Ok(Some(judged))
}

/// The weights in force.
pub(crate) fn table() -> Result<HazardTable, Problem> {
    HazardTable::built_in().map_err(unscored)
}

fn unscored(why: swarfbook_wear::WearProblem) -> Problem {
    Problem::bad_input(
        say!("The wear score can't be worked out: {}", why),
        say!("Correct the line that it names."),
    )
}

/// An advice in words.
pub(crate) fn choice_words(choice: AdviceChoice) -> &'static str {
    match choice {
        AdviceChoice::CarryOn => term!("Carry on"),
        AdviceChoice::Watch => term!("Watch"),
        AdviceChoice::OpenUp => term!("Open up"),
    }
}

fn evidence(
    state: &JobState,
    components: &[ComponentView],
    explanations: &[Explanation],
    earlier: &[Visit],
) -> Evidence {
    let car = state.car.clone().unwrap_or_default();
    // What was entered of the last change counts unless the pan was cleaned here since.
    let changed = car.fluid_changed_at_km.filter(|changed| {
        let later = |v: &Visit| v.seen.odometer_km.is_some_and(|km| km > *changed);
        !earlier.iter().any(later)
    });
    Evidence {
        photos: photos(state),
        observations: state
            .observed
            .values()
            .filter_map(|o| {
                Some(Observed {
                    id: o.stamp.entry.to_string(),
                    observation: Observation::from_answer(&o.topic, &o.choice, &o.text)?,
                })
            })
            .collect(),
        km_since_clean: car
            .odometer_km
            .zip(changed)
            .map(|(now, changed)| now - changed),
        odometer_km: car.odometer_km,
        earlier: earlier.iter().map(|visit| visit.seen.clone()).collect(),
        symptoms: symptoms(state),
        codes: codes(state, explanations),
        readings: readings(components),
        overrule: state
            .decision
            .as_ref()
            .filter(|d| d.chosen != d.advised)
            .map(|d| Overrule {
                id: d.stamp.entry.to_string(),
                chosen: d.chosen,
                after_km: None,
                reason: d.reason.clone().unwrap_or_else(|| say!("not said")),
            }),
    }
}

fn symptoms(state: &JobState) -> Vec<SymptomSeen> {
    let Some(complaint) = &state.complaint else {
        return Vec::new();
    };
    let id = last_line(state, |fact| matches!(fact, Fact::ComplaintNoted { .. }));
    complaint
        .symptoms
        .iter()
        .map(|choice| SymptomSeen {
            id: id.map_or_else(String::new, |id| id.to_string()),
            symptom: Symptom::from_answer(choice),
        })
        .collect()
}

/// The last line of a kind that counts.
fn last_line(state: &JobState, wanted: fn(&Fact) -> bool) -> Option<EntryId> {
    state
        .lines
        .iter()
        .rev()
        .find(|line| line.retracted_by.is_none() && line.fact.as_ref().is_some_and(wanted))
        .map(|line| line.stamp.entry)
}

/// What the photos show: those of one patch as one, what was taken after a magnet not again.
pub(super) fn photos(state: &JobState) -> Vec<PhotoSeen> {
    state
        .photos
        .iter()
        .filter_map(|photo| seen(state, photo))
        .collect()
}

fn seen(state: &JobState, photo: &PhotoState) -> Option<PhotoSeen> {
    let census = patch::census(state, photo)?;
    let id = photo.stamp.entry;
    let mut seen = PhotoSeen::from_census(&id.to_string(), &census)?;
    match patch::counted(state, photo).as_slice() {
        [alone] if alone.stamp.entry == id => {}
        [first, ..] if first.stamp.entry == id => {
            let patch = patch::together(state, photo)?;
            let particles = patch.pieces.iter().map(|(_, piece)| piece.particle());
            let whole = Census {
                particles: particles.collect(),
                searched_cm2: patch.searched_cm2,
                ..census
            };
            seen = PhotoSeen::from_census(&id.to_string(), &whole)?;
        }
        // Its pieces are told with the first photo of the patch.
        _ => seen.again = true,
    }
    for particle in &mut seen.particles {
        for p in particle.p.values_mut() {
            // Sums of a classifier may end a rounding error above one.
            *p = p.clamp(0.0, 1.0);
        }
    }
    Some(seen)
}

fn codes(state: &JobState, explanations: &[Explanation]) -> Vec<CodeSeen> {
    let Some(read) = state.codes.get(&swarfbook_job::fact::Moment::Before) else {
        return Vec::new();
    };
    explanations
        .iter()
        .map(|explanation| CodeSeen {
            id: read.stamp.entry.to_string(),
            code: explanation.code.to_string(),
            explained: match explanation.answer {
                Answer::Explains => Explained::Explains,
                Answer::DoesNotExplain => Explained::DoesNotExplain,
                Answer::CantTell => Explained::CantTell,
            },
            by: (!explanation.by.is_empty()).then(|| explanation.by.join(", ")),
        })
        .collect()
}

fn readings(components: &[ComponentView]) -> Vec<ReadingSeen> {
    components
        .iter()
        .filter_map(|component| {
            Some(ReadingSeen {
                id: component.entry.to_string(),
                component: component.name.clone(),
                verdict: match reading::last_verdict(component)? {
                    Verdict::InSpec => ReadingVerdict::InSpec,
                    Verdict::OutOfSpec => ReadingVerdict::OutOfSpec,
                    Verdict::TooCloseToCall => ReadingVerdict::TooCloseToCall,
                },
            })
        })
        .collect()
}

/// Score and advice as screens show them.
pub(crate) fn view(loaded: &Loaded, assessment: &Assessment) -> WearView {
    let Loaded {
        state,
        beside,
        units,
        ..
    } = loaded;
    let unconfirmed = state
        .photos
        .iter()
        .filter(|p| p.census.as_ref().is_some_and(|c| c.problem.is_none()))
        .filter(|p| p.confirmed.is_none())
        .count();
    let mut missing = assessment.limits.clone();
    if unconfirmed > 0 {
        missing.push(say!(
            "{} not confirmed by the technician yet.",
            if unconfirmed == 1 {
                "1 census is".to_owned()
            } else {
                say!("{} censuses are", unconfirmed)
            }
        ));
    }
    for patch in patch::patches(state) {
        let apart = patch.apart.iter();
        missing.extend(apart.map(|(photo, why)| patch::apart_words(photo, *why)));
    }
    WearView {
        score: assessment.score,
        lo: assessment.score_lo,
        hi: assessment.score_hi,
        band: assessment.band,
        numeral: assessment.band.numeral(),
        band_words: assessment.band.words().to_owned(),
        reasons: assessment
            .reasons
            .iter()
            .map(|reason| ReasonView {
                photo: reason
                    .sources
                    .iter()
                    .filter_map(|id| id.parse().ok())
                    .find(|id| state.photo(*id).is_some()),
                words: reason.words.clone(),
                share: reason.share,
            })
            .collect(),
        advice: assessment.advice.advised.choice(),
        advice_words: assessment.advice.advised.words(),
        advice_reasons: assessment
            .advice
            .rules
            .iter()
            .map(|r| r.words.clone())
            .collect(),
        findings: assessment
            .findings
            .iter()
            .map(|f| f.words.clone())
            .collect(),
        missing,
        trend: trend_view(state, &beside.earlier, assessment, *units),
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
    Some(super::trend::view(trend, earlier, opened, units))
}
