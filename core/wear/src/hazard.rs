//! The terms of the hazard, each a reason.

use std::collections::{BTreeMap, BTreeSet};
use swarfbook_words::{say, term};

use crate::count::Cell;
use crate::exposure::Exposure;
use crate::named::{Named, Names};
use crate::table::{Group, HazardTable, Weighed};
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
    names: &Names,
    exposure: &Exposure,
    table: &HazardTable,
) -> Vec<Reason> {
    let mut reasons: Vec<Reason> = cells.iter().map(debris).collect();
    reasons.extend(paste(evidence, exposure, table));
    reasons.extend(observations(evidence, exposure, table));
    reasons.extend(names.named.iter().map(part));
    for group in Group::ALL {
        hold(&mut reasons, group, cap(group, exposure, table));
    }
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

/// The most that a group adds.
pub(crate) fn cap(group: Group, exposure: &Exposure, table: &HazardTable) -> f64 {
    let row = table.group_row(group);
    if row.excused {
        row.cap / exposure.distance
    } else {
        row.cap
    }
}

/// Holds a group at its cap, each of its reasons in its proportion.
fn hold(reasons: &mut [Reason], group: Group, cap: f64) {
    let of = |reason: &&Reason| reason.group == Some(group);
    let all: f64 = reasons.iter().filter(of).map(|reason| reason.hazard).sum();
    if all <= cap {
        return;
    }
    for reason in reasons
        .iter_mut()
        .filter(|reason| reason.group == Some(group))
    {
        reason.hazard *= cap / all;
    }
}

fn debris(cell: &Cell) -> Reason {
    let weight = &cell.weight;
    Reason {
        reason: ReasonKind::Debris {
            class: weight.class,
            from_mm: weight.from_mm,
            to_mm: weight.to_mm,
            n: cell.n,
            grains: weight.grains,
        },
        words: words::pieces(cell.n, weight),
        hazard: cell.hazard,
        share: 0.0,
        sources: cell.sources.iter().map(|id| (*id).to_owned()).collect(),
        pieces: cell.at(),
        group: weight.group,
        provenance: weight.provenance.to_owned(),
    }
}

/// Each named part is one of its own.
fn part(named: &Named) -> Reason {
    let what = words::part(named.part, named.words);
    Reason {
        reason: ReasonKind::Chunk { part: named.part },
        words: say!("a-piece-of-a-known-part-what", what = what),
        hazard: named.hazard,
        share: 0.0,
        sources: vec![named.id.to_owned()],
        pieces: named.pieces.clone(),
        group: None,
        provenance: named.provenance.to_owned(),
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

/// Films that the distance explains, and running in at a first opening.
fn films_explained(evidence: &Evidence, exposure: &Exposure, table: &HazardTable) -> f64 {
    let running_in = if evidence.first_opening {
        table.first_opening.films
    } else {
        0.0
    };
    (exposure.km / table.paste.km_per_film + running_in).min(table.paste.explained_most)
}

/// Films on the magnet at a cover.
fn films(seen: &PasteSeen, cover: f64, table: &HazardTable) -> f64 {
    let bare = table.paste.bare;
    seen.thickness * (bare + (1.0 - bare) * cover)
}

/// Hazard of the paste at a cover: what no distance explains.
pub(crate) fn paste_hazard(
    evidence: &Evidence,
    seen: &PasteSeen,
    cover: f64,
    exposure: &Exposure,
    table: &HazardTable,
) -> f64 {
    let beyond = films(seen, cover, table) - films_explained(evidence, exposure, table);
    table.paste.k * beyond.max(0.0)
}

fn paste(evidence: &Evidence, exposure: &Exposure, table: &HazardTable) -> Option<Reason> {
    let seen = paste_seen(evidence, table)?;
    let what = if seen.thick {
        say!("thick-grey-paste")
    } else {
        say!("a-grey-film")
    };
    Some(Reason {
        reason: ReasonKind::Paste {
            films: films(&seen, seen.cover[0], table),
            explained: films_explained(evidence, exposure, table),
        },
        words: say!(
            "what-on-the-magnet-more-than-km-explain",
            what = what,
            km = words::km(exposure.km)
        ),
        hazard: paste_hazard(evidence, &seen, seen.cover[0], exposure, table),
        share: 0.0,
        sources: seen.sources.iter().map(|id| (*id).to_owned()).collect(),
        pieces: Vec::new(),
        group: Some(Group::Age),
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
                pieces: Vec::new(),
                group: row.group,
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
        Observation::Paste { .. } | Observation::Chunk { .. } | Observation::Steel { .. } => None,
    }
}

fn told(what: Weighed) -> &'static str {
    match what {
        Weighed::Dark => term!("dark-fluid"),
        Weighed::Glittering => term!("metal-glittering-in-the-fluid"),
        Weighed::SharpSmell => term!("sharp-smell-the-fluid-is-oxidised"),
        Weighed::BurntSmell => term!("burnt-smell-something-slipped-or-ran-too-hot"),
        Weighed::FilterSome => term!("some-debris-in-the-filter"),
        Weighed::FilterLiningDust => term!("dust-of-friction-material-in-the-filter"),
        Weighed::FilterMetal => term!("metal-in-the-filter"),
        Weighed::FilterChoked => term!("the-filter-is-choked"),
    }
}

/// Hazard of the observations of a group, which no count or scale makes doubtful.
pub(crate) fn observed_hazard(
    evidence: &Evidence,
    names: &Names,
    group: Option<Group>,
    exposure: &Exposure,
    table: &HazardTable,
) -> f64 {
    let parts = names.named.iter().map(part);
    observations(evidence, exposure, table)
        .into_iter()
        .chain(parts)
        .filter(|reason| reason.group == group)
        .fold(0.0, |sum, reason| sum + reason.hazard)
}
