//! The terms of the hazard, each a reason.

use std::collections::{BTreeMap, BTreeSet};
use swarfbook_words::{say, term};

use crate::count::{self, Cell, Size};
use crate::exposure::Exposure;
use crate::table::{HazardTable, Weighed};
use crate::{
    Evidence, FilterFound, FluidLook, Observation, Paste, Reason, ReasonKind, Smell, words,
};

/// Hazard per score: `score = 100 (1 - exp(-H))`.
pub(crate) fn score(hazard: f64) -> f64 {
    100.0 * -(-hazard).exp_m1()
}

/// Every term, heaviest first; terms of nothing are left out.
pub(crate) fn reasons(
    evidence: &Evidence,
    cells: &[Cell],
    exposure: &Exposure,
    table: &HazardTable,
) -> Vec<Reason> {
    let mut reasons: Vec<Reason> = cells.iter().map(|cell| debris(cell, table)).collect();
    reasons.extend(paste(evidence, exposure, table));
    reasons.extend(observations(evidence, exposure, table));
    reasons.extend(chunks(evidence, table));
    reasons.retain(|reason| reason.hazard > 0.0);
    reasons.sort_by(|a, b| {
        b.hazard
            .total_cmp(&a.hazard)
            .then_with(|| a.words.cmp(&b.words))
    });
    let total: f64 = reasons.iter().map(|reason| reason.hazard).sum();
    for reason in &mut reasons {
        reason.share = reason.hazard / total;
    }
    reasons
}

fn debris(cell: &Cell, table: &HazardTable) -> Reason {
    let row = cell.row;
    let to_mm = table.upper_mm(row);
    Reason {
        reason: ReasonKind::Debris {
            class: row.class,
            from_mm: row.from_mm,
            to_mm,
            n: cell.n,
        },
        words: words::pieces(cell.n, row.class, row.from_mm, to_mm),
        hazard: cell.hazard,
        share: 0.0,
        sources: cell.sources.iter().map(|id| (*id).to_owned()).collect(),
        provenance: row.provenance.clone(),
    }
}

/// Paste on the worst magnet, in films, with the ids that tell of it.
pub(crate) struct PasteSeen<'a> {
    pub thickness: f64,
    pub thick: bool,
    /// Best value, lower and upper end.
    pub cover: [f64; 3],
    pub sources: BTreeSet<&'a str>,
}

/// What the finger and the photos say about paste; `None` for nothing seen.
pub(crate) fn paste_seen<'a>(evidence: &'a Evidence, table: &HazardTable) -> Option<PasteSeen<'a>> {
    let felt = evidence
        .observations
        .iter()
        .filter_map(|observed| match observed.observation {
            Observation::Paste { paste } => Some(paste),
            _ => None,
        })
        .max();
    let row = &table.paste;
    let covers: Vec<_> = evidence
        .photos
        .iter()
        .filter_map(|photo| Some((photo.id.as_str(), photo.cover?)))
        .collect();
    let thick = felt == Some(Paste::ThickPaste);
    let thickness = match felt {
        // The finger is believed before the photo.
        Some(Paste::None) => return None,
        Some(Paste::ThickPaste) => row.thick,
        Some(Paste::ThinFilm) => row.film,
        None if covers.iter().any(|(_, cover)| cover.cover > 0.0) => row.film,
        None => return None,
    };
    let most = |share: fn(&swarfbook_job::census::MagnetCover) -> f64| {
        covers
            .iter()
            .map(|(_, cover)| share(cover))
            .fold(0.0, f64::max)
    };
    let cover = if covers.is_empty() {
        [row.cover_unseen, row.cover_unseen_lo, row.cover_unseen_hi]
    } else {
        [
            most(|c| c.cover),
            most(|c| c.cover_lo),
            most(|c| c.cover_hi),
        ]
    };
    let by_eye = covers.iter().map(|(id, _)| *id);
    let by_finger = evidence
        .observations
        .iter()
        .filter(|observed| matches!(observed.observation, Observation::Paste { paste } if Some(paste) == felt))
        .map(|observed| observed.id.as_str());
    Some(PasteSeen {
        thickness,
        thick,
        cover,
        sources: by_eye.chain(by_finger).collect(),
    })
}

/// Films that the distance explains.
fn films_explained(exposure: &Exposure, table: &HazardTable) -> f64 {
    (exposure.km / table.paste.km_per_film).min(table.paste.explained_most)
}

/// Films on the magnet at a cover.
fn films(seen: &PasteSeen, cover: f64, table: &HazardTable) -> f64 {
    let bare = table.paste.bare;
    seen.thickness * (bare + (1.0 - bare) * cover)
}

/// Hazard of the paste at a cover: what no distance explains.
pub(crate) fn paste_hazard(
    seen: &PasteSeen,
    cover: f64,
    exposure: &Exposure,
    table: &HazardTable,
) -> f64 {
    let beyond = films(seen, cover, table) - films_explained(exposure, table);
    table.paste.k * beyond.max(0.0)
}

fn paste(evidence: &Evidence, exposure: &Exposure, table: &HazardTable) -> Option<Reason> {
    let seen = paste_seen(evidence, table)?;
    let what = if seen.thick {
        say!("Thick grey paste")
    } else {
        say!("A grey film")
    };
    Some(Reason {
        reason: ReasonKind::Paste {
            films: films(&seen, seen.cover[0], table),
            explained: films_explained(exposure, table),
        },
        words: say!(
            "{} on the magnet, more than {} explain",
            what,
            words::km(exposure.km)
        ),
        hazard: paste_hazard(&seen, seen.cover[0], exposure, table),
        share: 0.0,
        sources: seen.sources.iter().map(|id| (*id).to_owned()).collect(),
        provenance: table.paste.provenance.clone(),
    })
}

/// Each observation counts once, however often it was entered.
fn observations(evidence: &Evidence, exposure: &Exposure, table: &HazardTable) -> Vec<Reason> {
    let mut seen: BTreeMap<Weighed, BTreeSet<&str>> = BTreeMap::new();
    for observed in &evidence.observations {
        if let Some(what) = weighed(&observed.observation) {
            seen.entry(what).or_default().insert(&observed.id);
        }
    }
    seen.into_iter()
        .filter_map(|(what, ids)| {
            let row = table.observation(what)?;
            let e = if row.excused { exposure.distance } else { 1.0 };
            Some(Reason {
                reason: ReasonKind::Observation,
                words: told(what).to_owned(),
                hazard: row.k / e,
                share: 0.0,
                sources: ids.into_iter().map(str::to_owned).collect(),
                provenance: row.provenance.clone(),
            })
        })
        .collect()
}

/// The row of an observation; milky and foamy fluid have none: they are findings.
fn weighed(observation: &Observation) -> Option<Weighed> {
    match observation {
        Observation::Fluid { look } => match look {
            FluidLook::Dark => Some(Weighed::Dark),
            FluidLook::Glittering => Some(Weighed::Glittering),
            FluidLook::Clear | FluidLook::Milky | FluidLook::Foamy => None,
        },
        Observation::Smell { smell } => match smell {
            Smell::None => None,
            Smell::Sharp => Some(Weighed::SharpSmell),
            Smell::Burnt => Some(Weighed::BurntSmell),
        },
        Observation::Filter { found } => match found {
            FilterFound::Clean => None,
            FilterFound::Some => Some(Weighed::FilterSome),
            FilterFound::LiningDust => Some(Weighed::FilterLiningDust),
            FilterFound::Metal => Some(Weighed::FilterMetal),
            FilterFound::Choked => Some(Weighed::FilterChoked),
        },
        Observation::Paste { .. } | Observation::Chunk { .. } => None,
    }
}

fn told(what: Weighed) -> &'static str {
    match what {
        Weighed::Dark => term!("Dark fluid"),
        Weighed::Glittering => term!("Metal glittering in the fluid"),
        Weighed::SharpSmell => term!("Sharp smell: the fluid is oxidised"),
        Weighed::BurntSmell => term!("Burnt smell: something slipped or ran too hot"),
        Weighed::Chunk => term!("A piece of a known part"),
        Weighed::FilterSome => term!("Some debris in the filter"),
        Weighed::FilterLiningDust => term!("Lining dust in the filter"),
        Weighed::FilterMetal => term!("Metal in the filter"),
        Weighed::FilterChoked => term!("The filter is choked"),
    }
}

/// Each chunk is a broken part of its own.
fn chunks(evidence: &Evidence, table: &HazardTable) -> Vec<Reason> {
    let Some(row) = table.observation(Weighed::Chunk) else {
        return Vec::new();
    };
    evidence
        .observations
        .iter()
        .filter_map(|observed| match &observed.observation {
            Observation::Chunk { part } => Some(Reason {
                reason: ReasonKind::Chunk { part: part.clone() },
                words: say!("A piece of a known part: {}", part),
                hazard: row.k,
                share: 0.0,
                sources: vec![observed.id.clone()],
                provenance: row.provenance.clone(),
            }),
            _ => None,
        })
        .collect()
}

/// Hazard of the observations, which no count or scale makes doubtful.
pub(crate) fn observed_hazard(
    evidence: &Evidence,
    exposure: &Exposure,
    table: &HazardTable,
) -> f64 {
    observations(evidence, exposure, table)
        .iter()
        .chain(&chunks(evidence, table))
        .map(|reason| reason.hazard)
        .fold(0.0, |sum, hazard| sum + hazard)
}

/// Hazard of the debris alone at one end of the sizes.
pub(crate) fn debris_hazard(
    evidence: &Evidence,
    exposure: &Exposure,
    table: &HazardTable,
    size: Size,
) -> f64 {
    count::cells(&evidence.photos, exposure, table, size)
        .iter()
        .map(|cell| cell.hazard)
        .sum()
}
