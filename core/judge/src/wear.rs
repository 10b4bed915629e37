//! The wear score and the advice for a job as it stands, and whether a decision still fits it.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use swarfbook_job::census::Census;
use swarfbook_job::fact::{AdviceChoice, Car, Fact, FirstService, GearboxUnit, PanWiped};
use swarfbook_job::fold::{JobState, PhotoState};
use swarfbook_job::id::EntryId;
use swarfbook_measure::code::{Answer, Explanation};
use swarfbook_measure::conformity::ReadingVerdict;
use swarfbook_wear::{
    Assessment, CodeSeen, Evidence, Explained, HazardTable, Observation, Observed, Overrule,
    PhotoSeen, PieceAt, ReadingSeen, Symptom, SymptomSeen, WearProblem, assess as judge,
};

use crate::corrected::Piece;
use crate::history::Visit;
use crate::part::Part;
use crate::patch;

/// Stands for a reason that an early version did not ask for; the score wants one and shows none.
const UNSAID: &str = "-";

/// The judgement; `None` while nothing was read from the pan.
///
/// # Errors
/// As the score's.
pub fn assessment(
    state: &JobState,
    parts: &[Part],
    explanations: &[Explanation],
    earlier: &[Visit],
) -> Result<Option<Assessment>, WearProblem> {
    let evidence = evidence(state, parts, explanations, earlier);
    if evidence.photos.is_empty() && evidence.observations.is_empty() {
        return Ok(None);
    }
    let judged = judge(&evidence, table()?)?;
    Ok(Some(judged))
}

/// The weights in force, read once.
///
/// # Errors
/// Where the table that ships can't be used.
pub fn table() -> Result<&'static HazardTable, WearProblem> {
    static READ: LazyLock<Result<HazardTable, WearProblem>> = LazyLock::new(HazardTable::built_in);
    READ.as_ref().map_err(Clone::clone)
}

/// The pieces that the score counts, each with the photo that shows it.
///
/// # Errors
/// As the score's.
pub fn counted_pieces<'a>(
    state: &'a JobState,
    parts: &[Part],
    explanations: &[Explanation],
    earlier: &[Visit],
) -> Result<Vec<(&'a PhotoState, Piece)>, WearProblem> {
    let evidence = evidence(state, parts, explanations, earlier);
    if evidence.photos.is_empty() {
        return Ok(Vec::new());
    }
    let counted = swarfbook_wear::counted(&evidence, table()?)?;
    let mut by_photo: BTreeMap<EntryId, BTreeSet<u32>> = BTreeMap::new();
    for at in counted {
        if let Ok(photo) = at.photo.parse() {
            by_photo.entry(photo).or_default().insert(at.piece);
        }
    }
    let photos = by_photo
        .iter()
        .filter_map(|(entry, numbers)| Some((state.photo(*entry)?, numbers)));
    Ok(photos
        .flat_map(|(photo, numbers)| {
            let pieces = patch::pieces(state, photo).into_iter();
            let wanted = pieces.filter(|piece| {
                u32::try_from(piece.index).is_ok_and(|number| numbers.contains(&number))
            });
            wanted.map(move |piece| (photo, piece)).collect::<Vec<_>>()
        })
        .collect())
}

/// How far the debris goes back, as far as take-in and earlier visits tell.
struct Since {
    km: Option<f64>,
    /// Where `km` is not known: the least that it can be.
    at_least: f64,
    first_opening: bool,
    /// The fluid was changed since, with the pan on.
    stayed_on: bool,
}

fn since(car: &Car, earlier: &[Visit]) -> Since {
    let unit = &car.gearbox;
    let now = car.odometer_km;
    let later_than = |km: f64| {
        let later = move |v: &Visit| v.seen.odometer_km.is_some_and(|then| then > km);
        earlier.iter().any(later)
    };
    // What was entered of the last change counts unless the pan was cleaned here since.
    let changed = car
        .fluid_changed_at_km
        .filter(|changed| !later_than(*changed));
    // A unit that went in later brought its own debris, or none.
    let unit_at = unit.unit_at_km.unwrap_or(0.0);
    let seen_since = later_than(unit_at) || (unit.unit_at_km.is_none() && !earlier.is_empty());
    let never_open =
        unit.first_service == Some(FirstService::Yes) || unit.pan_wiped == Some(PanWiped::Never);
    let first_opening = never_open && !seen_since && unit.unit != Some(GearboxUnit::Used);
    let of_unit = now.map(|now| (now - unit_at).max(0.0));
    let of_change = now.zip(changed).map(|(now, changed)| now - changed);
    let pan_on = matches!(unit.pan_wiped, Some(PanWiped::No | PanWiped::Never));
    if !seen_since && (never_open || pan_on) {
        return Since {
            km: of_unit,
            at_least: of_change.unwrap_or(0.0),
            first_opening,
            stayed_on: pan_on && of_change.is_some(),
        };
    }
    if unit.pan_wiped == Some(PanWiped::Unknown) {
        return Since {
            km: None,
            at_least: of_change.unwrap_or(0.0),
            first_opening,
            stayed_on: false,
        };
    }
    Since {
        // Nothing is older than the unit.
        km: of_change.map(|km| of_unit.map_or(km, |unit| km.min(unit))),
        at_least: 0.0,
        first_opening,
        stayed_on: false,
    }
}

fn evidence(
    state: &JobState,
    parts: &[Part],
    explanations: &[Explanation],
    earlier: &[Visit],
) -> Evidence {
    let car = state.car.clone().unwrap_or_default();
    let since = since(&car, earlier);
    Evidence {
        photos: photos(state),
        observations: observations(state),
        km_since_clean: since.km,
        km_at_least: since.at_least,
        first_opening: since.first_opening,
        pan_stayed_on: since.stayed_on,
        odometer_km: car.odometer_km,
        earlier: earlier.iter().map(|visit| visit.seen.clone()).collect(),
        symptoms: symptoms(state),
        codes: codes(state, explanations),
        readings: readings(parts),
        overrule: state
            .decision
            .as_ref()
            .filter(|d| d.chosen != d.advised)
            .map(|d| Overrule {
                id: d.stamp.entry.to_string(),
                chosen: d.chosen,
                after_km: None,
                reason: d.reason.clone().unwrap_or_else(|| UNSAID.to_owned()),
            }),
    }
}

/// What was seen, smelt and felt.
pub(crate) fn observations(state: &JobState) -> Vec<Observed> {
    state
        .observed
        .values()
        .flat_map(|o| {
            state.says(o).filter_map(|answer| {
                Some(Observed {
                    id: o.stamp.entry.to_string(),
                    observation: Observation::from_answer(answer, &o.text)?,
                })
            })
        })
        .collect()
}

fn symptoms(state: &JobState) -> Vec<SymptomSeen> {
    let Some(complaint) = &state.complaint else {
        return Vec::new();
    };
    let id = last_line(state, |fact| matches!(fact, Fact::ComplaintNoted { .. }));
    let chosen = complaint.symptoms.iter();
    let mut symptoms: Vec<Symptom> = chosen.filter_map(|c| state.roles.symptom(c)).collect();
    // In words alone it may be anything.
    if complaint.symptoms.is_empty() {
        symptoms.push(Symptom::Other);
    }
    symptoms
        .into_iter()
        .map(|symptom| SymptomSeen {
            id: id.map_or_else(String::new, |id| id.to_string()),
            symptom,
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
pub fn photos(state: &JobState) -> Vec<PhotoSeen> {
    state
        .photos
        .iter()
        .filter_map(|photo| seen(state, photo))
        .collect()
}

fn seen(state: &JobState, photo: &PhotoState) -> Option<PhotoSeen> {
    let own = patch::pieces(state, photo);
    let census = patch::census_of(photo, &own)?;
    let id = photo.stamp.entry;
    let mut seen = PhotoSeen::from_census(&id.to_string(), &census)?;
    let mut places: Vec<PieceAt> = own
        .iter()
        .filter(|piece| !piece.not_debris)
        .map(|piece| place(photo, piece))
        .collect();
    let counted = patch::counted(state, photo);
    // What was taken after a magnet changes their classes.
    let after = counted.iter().filter_map(|p| patch::told_by(state, p));
    let mut stands_on = after.chain(counted.iter().copied());
    seen.unconfirmed = stands_on.any(|photo| photo.confirmed.is_none());
    match counted.as_slice() {
        [alone] if alone.stamp.entry == id => {}
        [first, ..] if first.stamp.entry == id => {
            let patch = patch::together(state, photo)?;
            let particles = patch.pieces.iter().map(|(_, piece)| piece.particle());
            let whole = Census {
                particles: particles.collect(),
                searched_cm2: patch.searched_cm2,
                ..census
            };
            places = patch
                .pieces
                .iter()
                .map(|(photo, piece)| place(photo, piece))
                .collect();
            let unconfirmed = seen.unconfirmed;
            seen = PhotoSeen::from_census(&id.to_string(), &whole)?;
            seen.unconfirmed = unconfirmed;
        }
        // Its pieces are told with the first photo of the patch.
        _ => seen.again = true,
    }
    for (particle, at) in seen.particles.iter_mut().zip(places) {
        particle.at = Some(at);
        for p in particle.p.values_mut() {
            // Sums of a classifier may end a rounding error above one.
            *p = p.clamp(0.0, 1.0);
        }
    }
    Some(seen)
}

/// Which piece of which photo it is, by the numbers that the photo's view gives.
fn place(photo: &PhotoState, piece: &Piece) -> PieceAt {
    PieceAt {
        photo: photo.stamp.entry.to_string(),
        piece: u32::try_from(piece.index).unwrap_or(u32::MAX),
    }
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

fn readings(parts: &[Part]) -> Vec<ReadingSeen> {
    parts
        .iter()
        .filter_map(|component| {
            // What was out of spec stays a reason after it was replaced; what was only
            // too close to call then is nothing to confirm any more.
            let verdict = match component.as_found {
                found @ Some(ReadingVerdict::OutOfSpec) => found,
                _ => component.standing,
            };
            Some(ReadingSeen {
                id: component.entry.to_string(),
                component: component.name.clone(),
                verdict: verdict?.called()?,
            })
        })
        .collect()
}

/// That the decision was to test first, as advised, and the log does not advise it any more: what
/// it advises now.
pub fn tested(state: &JobState, advised: Option<AdviceChoice>) -> Option<AdviceChoice> {
    let decided = state.decision.as_ref()?;
    let first = AdviceChoice::TestFirst;
    advised.filter(|now| decided.chosen == first && decided.advised == first && *now < first)
}

/// That the decision that stands is older than the evidence: what the log holds now advises,
/// graver than it and than what was advised then. `None` where it stands.
pub fn outdated(state: &JobState, advised: Option<AdviceChoice>) -> Option<AdviceChoice> {
    let decided = state.decision.as_ref()?;
    advised.filter(|now| *now > decided.chosen && *now > decided.advised)
}
