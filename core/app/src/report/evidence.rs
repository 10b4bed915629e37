//! What an expert asks beside the figures.

use swarfbook_job::census::{Census, Particle, PointPx};
use swarfbook_job::class_table::ClassRow;
use swarfbook_job::fact::{Correction, Fact as Line};
use swarfbook_job::fold::PhotoState;
use swarfbook_job::id::EntryId;
use swarfbook_job::procedure::TopicRole;
use swarfbook_report::content::{Evidence, Said};
use swarfbook_report::words::Words;
use swarfbook_words::fixed;

use super::figures::Figures;
use super::instruments::{ToolsNow, instruments};
use super::photos::counted;
use super::rule;
use crate::present;

pub(super) fn evidence(
    figures: &Figures<'_>,
    words: &Words,
    guard: Option<f64>,
    tools: &ToolsNow,
) -> Evidence {
    let percent = rule::levels(figures, guard);
    Evidence {
        instruments: instruments(figures, words, tools),
        conditions: conditions(figures, words),
        corrections: corrections(figures, words),
        reference: Vec::new(),
        decision_rule: words.fill("annex.rule_words", &[("percent", &percent)]),
    }
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
