//! What an expert asks beside the figures.

use std::collections::BTreeMap;

use swarfbook_job::census::{Census, Particle, PointPx, ScaleFrom};
use swarfbook_job::class_table::ClassRow;
use swarfbook_job::fact::{Correction, Fact as Line};
use swarfbook_job::fold::PhotoState;
use swarfbook_job::id::EntryId;
use swarfbook_job::procedure::TopicRole;
use swarfbook_report::content::{Evidence, InstrumentSaid, Said};
use swarfbook_report::words::Words;
use swarfbook_words::fixed;

use super::figures::Figures;
use super::photos::counted;
use crate::present;

/// In or out of spec is said when it is at least so likely, where nothing else was chosen.
const GUARD: f64 = 0.95;

pub(super) fn evidence(figures: &Figures<'_>, words: &Words, guard: Option<f64>) -> Evidence {
    let percent = swarfbook_measure::unit::show_number(guard.unwrap_or(GUARD) * 100.0);
    Evidence {
        instruments: instruments(figures, words),
        conditions: conditions(figures, words),
        corrections: corrections(figures, words),
        reference: Vec::new(),
        decision_rule: words.fill("annex.rule_words", &[("percent", &percent)]),
    }
}

fn instruments(figures: &Figures<'_>, words: &Words) -> Vec<InstrumentSaid> {
    let mut meters: BTreeMap<String, Vec<EntryId>> = BTreeMap::new();
    for line in figures.live() {
        let meter = match &line.fact {
            Some(Line::ReadingTaken { reading, .. }) => Some(&reading.meter),
            Some(Line::HarnessRead { read, .. }) => Some(&read.meter),
            _ => None,
        };
        if let Some(meter) = meter {
            let (percent, counts) = (meter.percent.to_string(), meter.counts.to_string());
            let values = [
                ("name", meter.name.as_str()),
                ("percent", &percent),
                ("counts", &counts),
            ];
            let said = words.fill("annex.meter_says", &values);
            meters.entry(said).or_default().push(line.stamp.entry);
        }
    }
    let instrument = |what: &str, said: String, from: Vec<EntryId>| InstrumentSaid {
        what: words.get(what).to_owned(),
        said: figures.said(said, from),
        serial: String::new(),
        checked: String::new(),
    };
    let mut all: Vec<InstrumentSaid> = meters
        .into_iter()
        .map(|(said, from)| instrument("annex.meter", said, from))
        .collect();
    let tightened = figures.state.tightened.iter();
    let tightened: Vec<EntryId> = tightened.map(|t| t.stamp.entry).collect();
    let not_stated = || words.get("annex.not_stated").to_owned();
    if !tightened.is_empty() {
        all.push(instrument("annex.wrench", not_stated(), tightened));
    }
    let by_card = figures.state.photos.iter().filter(|photo| {
        let scale = photo.census.as_ref().and_then(|c| c.scale.as_ref());
        scale.is_some_and(|scale| scale.from == ScaleFrom::Card)
    });
    let by_card: Vec<EntryId> = by_card.map(|photo| photo.stamp.entry).collect();
    if !by_card.is_empty() {
        all.push(instrument(
            "annex.card",
            words.get("annex.card_says").to_owned(),
            by_card,
        ));
    }
    all
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
            words.fill("annex.parts_at", &values),
            parts.iter().map(|(_, entry)| *entry),
        ));
    }
    if let Some(out) = figures.state.measured_as(TopicRole::FluidOutC).next_back() {
        let at = warm(out.value);
        let words = words.fill("annex.oil_at", &[("at", &at)]);
        said.push(figures.said(words, [out.stamp.entry]));
    }
    said
}

fn nearest(census: &Census, [x, y]: PointPx) -> Option<&Particle> {
    let far = |p: &&Particle| (p.x_px - x).hypot(p.y_px - y);
    let pieces = census.particles.iter();
    pieces.min_by(|a, b| far(a).total_cmp(&far(b)))
}

/// Who corrected which piece from what to what.
fn corrections(figures: &Figures<'_>, words: &Words) -> Vec<Said> {
    let photos = figures.state.photos.iter();
    let of = |photo: &PhotoState| -> Vec<Said> {
        let Some(census) = &photo.census else {
            return Vec::new();
        };
        let each = photo.corrections.iter();
        each.map(|correction| {
            let was = nearest(census, correction.at_px);
            let was = was.map_or("", |piece| ClassRow::of(piece.class).one);
            let is = match &correction.to {
                Correction::Debris { class } => ClassRow::of(*class).one,
                Correction::NotDebris => words.get("annex.no_debris"),
                Correction::Parted { .. } => words.get("annex.parted"),
                Correction::Joined { .. } => words.get("annex.joined"),
            };
            let at = correction.at_px.map(|at| format!("{at:.0}"));
            let by = correction.stamp.hand.name.as_str();
            let by = if by.is_empty() {
                words.get("annex.technician")
            } else {
                by
            };
            let values = [
                ("photo", present::subject_words(photo.subject)),
                ("x", &at[0]),
                ("y", &at[1]),
                ("was", was),
                ("by", by),
                ("is", is),
            ];
            figures.said(
                words.fill("annex.corrected", &values),
                [correction.stamp.entry],
            )
        })
        .collect()
    };
    photos.flat_map(of).collect()
}

/// Scale, lens, and the machine's count beside that which counts.
pub(super) fn of_photo(figures: &Figures<'_>, words: &Words, photo: &PhotoState) -> Vec<Said> {
    let Some(census) = photo.census.as_ref().filter(|c| c.problem.is_none()) else {
        return Vec::new();
    };
    let line = photo.census_stamp.as_ref().map(|stamp| stamp.entry);
    let scale = present::photo::scale_words(census);
    let mut said = vec![figures.said(words.fill("annex.scale", &[("scale", &scale)]), line)];
    let counts = |classes: &mut dyn Iterator<Item = bool>| classes.filter(|counts| *counts).count();
    let machine = counts(&mut census.particles.iter().map(|p| p.class.counts()));
    let pieces = counted(figures.state, photo);
    let now = counts(&mut pieces.iter().map(|p| p.class.counts()));
    let (machine, now) = (machine.to_string(), now.to_string());
    let values = [("machine", machine.as_str()), ("now", &now)];
    said.push(figures.said(words.fill("annex.machine_count", &values), line));
    said
}
