//! What an expert asks beside the figures.

use std::collections::BTreeMap;

use swarfbook_job::census::{Census, DebrisClass};
use swarfbook_job::class_table::ClassRow;
use swarfbook_job::fact::{Correction, Fact as Line};
use swarfbook_job::fold::PhotoState;
use swarfbook_job::id::EntryId;
use swarfbook_job::procedure::TopicRole;
use swarfbook_judge::corrected::{Change, changes};
use swarfbook_report::content::{CountRow, Evidence, Said, WearSaid};
use swarfbook_report::words::Words;
use swarfbook_words::{fixed, id};

use super::figures::Figures;
use super::instruments::{ToolsNow, instruments};
use super::photos::{counted, sized};
use super::rule;
use crate::present;

pub(super) fn evidence(
    figures: &Figures<'_>,
    words: &Words,
    guard: Option<f64>,
    tools: &ToolsNow,
    wear: Option<&WearSaid>,
) -> Evidence {
    let percent = rule::levels(figures, guard);
    Evidence {
        instruments: instruments(figures, words, tools),
        conditions: conditions(figures, words),
        corrections: corrections(figures, words),
        counts: counts(figures),
        reference: reference(words, wear),
        decision_rule: words.fill(id!("report-annex-rule-words"), &[("percent", &percent)]),
    }
}

/// The car's earlier visits that the pieces are held against, whose pan was left clean.
fn reference(words: &Words, wear: Option<&WearSaid>) -> Vec<Said> {
    let visits = wear.into_iter().flat_map(|wear| &wear.visits);
    let earlier: Vec<Said> = visits
        .filter(|visit| !visit.now)
        .map(|visit| {
            let said = visit.said.words.as_str();
            let words = words.fill(id!("report-annex-reference-visit"), &[("visit", said)]);
            Said::new(words, visit.said.from.clone())
        })
        .collect();
    if earlier.is_empty() {
        return earlier;
    }
    let no_blank = Said::new(words.get(id!("report-annex-reference-none")), []);
    earlier.into_iter().chain([no_blank]).collect()
}

fn conditions(figures: &Figures<'_>, words: &Words) -> Vec<Said> {
    let unit = figures.loaded.units.temperature;
    let warm = |c: f64| format!("{} {}", fixed(unit.from_base(c), 0), unit.symbol());
    let mut said = Vec::new();
    let parts = figures.live().filter_map(|line| match &line.fact {
        Some(Line::ReadingTaken { reading, .. }) => Some((reading.part_c?, line.stamp.entry)),
        _ => None,
    });
    let parts: Vec<(f64, EntryId)> = parts.collect();
    if let Some((first, _)) = parts.first() {
        let (low, high) = parts
            .iter()
            .fold((*first, *first), |(a, b), (c, _)| (a.min(*c), b.max(*c)));
        let values = [("low", warm(low)), ("high", warm(high))];
        let values = values
            .each_ref()
            .map(|(name, value)| (*name, value.as_str()));
        said.push(figures.said(
            words.fill(id!("report-annex-parts-at"), &values),
            parts.iter().map(|(_, entry)| *entry),
        ));
    }
    if let Some(out) = figures.state.measured_as(TopicRole::FluidOutC).next_back() {
        let at = warm(out.value);
        let words = words.fill(id!("report-annex-oil-at"), &[("at", &at)]);
        said.push(figures.said(words, [out.stamp.entry]));
    }
    said
}

/// Who corrected which piece from what to what.
fn corrections(figures: &Figures<'_>, words: &Words) -> Vec<Said> {
    let photos = figures.state.photos.iter();
    photos
        .flat_map(|photo| {
            let sized = sized(photo);
            let each = changes(photo).into_iter();
            each.map(move |change| corrected(figures, words, photo, &change, sized))
        })
        .collect()
}

fn corrected(
    figures: &Figures<'_>,
    words: &Words,
    photo: &PhotoState,
    change: &Change<'_>,
    sized: bool,
) -> Said {
    let line = change.line;
    let at = line.at_px.map(|at| format!("{at:.0}"));
    let by = line.stamp.hand.name.as_str();
    let is = match &line.to {
        Correction::Debris { class } => ClassRow::of(*class).one,
        Correction::NotDebris => words.get(id!("report-annex-no-debris")),
        Correction::Parted { .. } => words.get(id!("report-annex-parted")),
        Correction::Joined { .. } => words.get(id!("report-annex-joined")),
    };
    let mut values = vec![
        ("photo", present::subject_words(photo.subject)),
        ("x", at[0].as_str()),
        ("y", &at[1]),
        ("is", is),
        (
            "by",
            if by.is_empty() {
                words.get(id!("report-annex-technician"))
            } else {
                by
            },
        ),
    ];
    let (piece, machine, was);
    let path = match &change.was {
        None => id!("report-annex-corrected-nothing"),
        Some(before) => {
            let mm = fixed(before.machine.feret_max_mm, 2);
            piece = if sized {
                words.fill(id!("report-annex-piece-of"), &[("mm", &mm)])
            } else {
                words.get(id!("report-annex-piece")).to_owned()
            };
            machine = ClassRow::of(before.machine.class).one;
            was = if before.not_debris {
                words.get(id!("report-annex-no-debris"))
            } else {
                ClassRow::of(before.class).one
            };
            values.extend([
                ("piece", piece.as_str()),
                ("machine", machine),
                ("was", was),
            ]);
            if before.redrawn || before.corrected {
                id!("report-annex-corrected-again")
            } else {
                id!("report-annex-corrected")
            }
        }
    };
    figures.said(words.fill(path, &values), [line.stamp.entry])
}

/// The machine's pieces beside those that count, photo by photo: together, and of each kind
/// of which there are now more or fewer.
fn counts(figures: &Figures<'_>) -> Vec<CountRow> {
    let photos = figures.state.photos.iter();
    photos.flat_map(|photo| counts_of(figures, photo)).collect()
}

fn counts_of(figures: &Figures<'_>, photo: &PhotoState) -> Vec<CountRow> {
    let Some(census) = photo.census.as_ref().filter(|c| c.problem.is_none()) else {
        return Vec::new();
    };
    if photo.corrections.is_empty() {
        return Vec::new();
    }
    let pieces = counted(figures.state, photo);
    let mut kinds: BTreeMap<DebrisClass, (u32, u32)> = BTreeMap::new();
    for particle in &census.particles {
        kinds.entry(particle.class).or_default().0 += 1;
    }
    for piece in &pieces {
        kinds.entry(piece.class).or_default().1 += 1;
    }
    let solid = kinds.iter().filter(|(class, _)| class.counts());
    let (machine, now) = solid.fold((0, 0), |sum, (_, n)| (sum.0 + n.0, sum.1 + n.1));
    let title = present::capital(present::subject_words(photo.subject));
    let line = photo.census_stamp.as_ref().map(|stamp| stamp.entry);
    let all = CountRow {
        photo: figures.said(title.clone(), line),
        class: None,
        machine,
        now,
    };
    let changed = kinds
        .into_iter()
        .filter(|(_, (machine, now))| machine != now);
    let changed = changed.map(|(class, (machine, now))| CountRow {
        photo: Said::new(title.clone(), line),
        class: Some(class),
        machine,
        now,
    });
    [all].into_iter().chain(changed).collect()
}

/// The lens as the photo's file tells it, and how far it was from the ground.
fn lens_words(census: &Census, words: &Words) -> String {
    let Some(lens) = census.lens else {
        return words.get(id!("report-annex-lens-unknown")).to_owned();
    };
    let told = |path, mm: Option<f64>| {
        let mm = fixed(mm?, 1);
        Some(words.fill(path, &[("mm", &mm)]))
    };
    let both = [
        told(id!("report-annex-focal"), lens.focal_mm),
        told(id!("report-annex-focal-frame"), lens.focal_35mm),
    ];
    let lens: Vec<String> = both.into_iter().flatten().collect();
    let lens = lens.join(", ");
    match census.distance_mm() {
        Some(mm) => {
            let mm = fixed((mm / 10.0).round() * 10.0, 0);
            let values = [("lens", lens.as_str()), ("mm", &mm)];
            words.fill(id!("report-annex-lens-distance"), &values)
        }
        None => words.fill(id!("report-annex-lens-alone"), &[("lens", &lens)]),
    }
}

/// Scale, lens, and the machine's count beside that which counts.
pub(super) fn of_photo(figures: &Figures<'_>, words: &Words, photo: &PhotoState) -> Vec<Said> {
    let Some(census) = photo.census.as_ref().filter(|c| c.problem.is_none()) else {
        return Vec::new();
    };
    let line = photo.census_stamp.as_ref().map(|stamp| stamp.entry);
    let scale = present::photo::scale_words(census);
    let mut said = vec![
        figures.said(
            words.fill(id!("report-annex-scale"), &[("scale", &scale)]),
            line,
        ),
        figures.said(lens_words(census, words), line),
    ];
    let counts = |classes: &mut dyn Iterator<Item = bool>| classes.filter(|counts| *counts).count();
    let machine = counts(&mut census.particles.iter().map(|p| p.class.counts()));
    let pieces = counted(figures.state, photo);
    let now = counts(&mut pieces.iter().map(|p| p.class.counts()));
    let (machine, now) = (machine.to_string(), now.to_string());
    let values = [("machine", machine.as_str()), ("now", &now)];
    said.push(figures.said(words.fill(id!("report-annex-machine-count"), &values), line));
    said
}
