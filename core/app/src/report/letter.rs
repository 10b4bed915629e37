//! What the first two pages say beside the answer.

use swarfbook_job::fold::ReplacedState;
use swarfbook_job::id::EntryId;
use swarfbook_job::procedure::TopicRole;
use swarfbook_judge::situation::{Situation, before_report};
use swarfbook_judge::{fluid, level};
use swarfbook_report::answer::mended;
use swarfbook_report::content::{KindSaid, Letter, Made, Overruled, Row, Said, WearSaid, number};
use swarfbook_report::words::Words;
use swarfbook_wear::Band;
use swarfbook_words::{fixed, id, shipped};

use super::figures::Figures;
use super::pieces::Pieces;
use crate::present::{self, reading::spec_words};
use crate::view::{ComponentView, ReadingVerdict, ReadingView};

/// What the letter is made from, beside the job.
pub(super) struct Parts<'a> {
    pub made: &'a Made,
    pub findings: &'a [Said],
    pub wear: Option<&'a WearSaid>,
    pub pieces: &'a Pieces,
    pub beside: Vec<Said>,
    pub overruled: Option<Overruled>,
}

pub(super) fn letter(figures: &Figures<'_>, words: &Words, parts: Parts<'_>) -> Letter {
    let situation = Situation::of(figures.state, figures.procedure, figures.judged);
    let complaint = figures.state.complaint.as_ref();
    let complained = complaint.is_some_and(|told| !told.words.trim().is_empty());
    let road_test = figures.state.answer(TopicRole::RoadTest);
    Letter {
        number: number(parts.made),
        mended: figures.said(
            mended(&situation, complained, words),
            road_test.map(|seen| seen.stamp.entry),
        ),
        found: found(figures, words, &parts),
        done: done(figures, words),
        measured: measured(figures, words, &parts),
        beside: parts.beside,
        overruled: parts.overruled,
        costs: Vec::new(),
        close_ups: Vec::new(),
    }
}

fn band(words: &Words, band: Band) -> (String, String) {
    let numeral = band as usize + 1;
    let name = words.get(match band {
        Band::Clean => id!("report-band-clean-name"),
        Band::Settled => id!("report-band-settled-name"),
        Band::Active => id!("report-band-active-name"),
        Band::Heavy => id!("report-band-heavy-name"),
        Band::Failing => id!("report-band-failing-name"),
    });
    (numeral.to_string(), name.to_owned())
}

/// The lines of every count that the score is of.
fn counts(figures: &Figures<'_>) -> Vec<EntryId> {
    let photos = figures.state.photos.iter();
    photos
        .filter_map(|photo| Some(photo.census_stamp.as_ref()?.entry))
        .collect()
}

/// Of all kinds, the one with the largest piece.
fn largest(pieces: &Pieces) -> Option<&KindSaid> {
    let sized = pieces.kinds.iter().filter(|kind| kind.largest.is_some());
    let mm = |kind: &KindSaid| kind.largest.as_ref().map_or(0.0, |size| size.mm.get());
    sized.max_by(|a, b| mm(a).total_cmp(&mm(b)))
}

fn found(figures: &Figures<'_>, words: &Words, parts: &Parts<'_>) -> Vec<Said> {
    let mut found: Vec<Said> = parts.findings.iter().take(2).cloned().collect();
    let from = counts(figures);
    if !from.is_empty() {
        let n: u32 = parts.pieces.kinds.iter().map(|kind| kind.n).sum();
        let (lo, hi) = swarfbook_job::garwood::whole_interval(n);
        let [n_words, lo, hi] = [n, lo, hi].map(|n| n.to_string());
        let mut values = vec![("n", n_words.as_str()), ("lo", &lo), ("hi", &hi)];
        let (mm, class);
        let path = match largest(parts.pieces) {
            _ if n == 0 => id!("report-brief-pieces-none"),
            Some(kind) => {
                mm = kind
                    .largest
                    .as_ref()
                    .map_or_else(String::new, |size| fixed(size.mm.get(), 1));
                class = swarfbook_job::class_table::ClassRow::of(kind.class).one;
                values.extend([("mm", mm.as_str()), ("class", class)]);
                id!("report-brief-pieces")
            }
            None => id!("report-brief-pieces-unsized"),
        };
        found.push(figures.said(words.fill(path, &values), from.clone()));
    }
    if let Some(wear) = parts.wear {
        let (numeral, name) = band(words, wear.band);
        let values = [
            ("numeral", numeral.as_str()),
            ("band", &name),
            ("plain", words.band_plain(wear.band)),
        ];
        found.push(figures.said(words.fill(id!("report-brief-band"), &values), from));
    }
    found
}

fn done(figures: &Figures<'_>, words: &Words) -> Vec<Said> {
    let state = figures.state;
    let mut done = Vec::new();
    let name = |part: &&ReplacedState| present::capital(shipped(&part.replacement.what));
    let mut parts = |path: &str, of: Vec<&ReplacedState>| {
        if of.is_empty() {
            return;
        }
        let names: Vec<String> = of.iter().map(name).collect();
        let from: Vec<EntryId> = of.iter().map(|part| part.stamp.entry).collect();
        done.push(figures.said(words.fill(path, &[("parts", &names.join(", "))]), from));
    };
    parts(
        id!("report-brief-replaced"),
        state.replaced.iter().collect(),
    );
    let kept = state.replaced.iter();
    parts(
        id!("report-brief-kept"),
        kept.filter(|part| part.replacement.kept_for_customer)
            .collect(),
    );
    let poured = fluid::balance(state, figures.loaded.units);
    if poured.in_l.is_some() {
        let said = present::fluid::balance_words(state, figures.loaded.units);
        if let Some(first) = said.first() {
            // What it comes to at 15 °C is for the annex.
            let short = first.split(';').next().unwrap_or(first);
            let short = super::plain::sentence(short);
            let lines = state.measured_as(TopicRole::FluidInL);
            let from: Vec<EntryId> = lines.map(|m| m.stamp.entry).collect();
            done.push(figures.said(
                words.fill(id!("report-brief-oil"), &[("words", &short)]),
                from,
            ));
        }
    }
    let off: Vec<EntryId> = state.parts.iter().map(|part| part.stamp.entry).collect();
    if !off.is_empty() {
        let n = state.still_off();
        let path = if n == 0 {
            id!("report-brief-all-back")
        } else {
            id!("report-brief-still-off")
        };
        done.push(figures.said(words.fill(path, &[("n", &n.to_string())]), off));
    }
    if done.is_empty() && !state.tightened.is_empty() {
        let tightened = state.tightened.iter().map(|one| one.stamp.entry);
        done.push(figures.said(
            words.get(id!("report-brief-tightened")).to_owned(),
            tightened,
        ));
    }
    let all = before_report(figures.procedure).count();
    let ticked = before_report(figures.procedure)
        .filter(|(_, step)| {
            let step = state.steps.get(&step.id);
            step.is_some_and(|step| step.mark == swarfbook_job::fold::Mark::Ticked)
        })
        .count();
    if ticked == 0 && done.is_empty() {
        done.push(Said::new(words.get(id!("report-brief-nothing-done")), []));
    } else if ticked > 0 {
        let (n, all) = (ticked.to_string(), all.to_string());
        let values = [
            ("n", n.as_str()),
            ("all", &all),
            ("procedure", &figures.procedure.title),
        ];
        done.push(Said::new(
            words.fill(id!("report-brief-steps"), &values),
            [],
        ));
    }
    done
}

/// Value, limit and meaning, what lies outside first.
fn measured(figures: &Figures<'_>, words: &Words, parts: &Parts<'_>) -> Vec<Row> {
    let mut rows: Vec<Row> = figures
        .components
        .iter()
        .flat_map(|part| part.readings.iter().map(move |reading| (part, reading)))
        .filter(|(_, reading)| reading.verdict != ReadingVerdict::TakeAgain)
        .map(|(part, reading)| electrical(figures, words, part, reading))
        .collect();
    rows.sort_by_key(|row| !row.outside);
    rows.extend(of_the_pan(figures, words, parts));
    rows.extend(codes(figures, words));
    rows.extend(oil_level(figures, words));
    rows
}

fn electrical(
    figures: &Figures<'_>,
    words: &Words,
    part: &ComponentView,
    reading: &ReadingView,
) -> Row {
    let value = match (reading.value, reading.u) {
        (Some(value), Some(u)) if u > 0.0 && value.abs() < 10_000.0 => {
            // Value and uncertainty end at the same digit.
            let places = (1.0 - u.log10().floor()).clamp(0.0, 3.0) as usize;
            let unit = reading.quantity.quantity().base().symbol();
            format!("{} ± {} {unit}", fixed(value, places), fixed(u, places))
        }
        _ => reading.value_words.clone(),
    };
    let spec = part.specs.iter().find(|s| s.quantity == reading.quantity);
    let replaced = reading.of_replaced;
    let meaning = match reading.verdict {
        ReadingVerdict::InSpec => id!("report-row-in-spec"),
        ReadingVerdict::OutOfSpec if replaced => id!("report-row-out-replaced"),
        ReadingVerdict::OutOfSpec => id!("report-row-out-of-spec"),
        ReadingVerdict::TooCloseToCall => id!("report-row-too-close-to-call"),
        ReadingVerdict::TakeAgain => id!("report-row-take-again"),
        ReadingVerdict::NoSpec => id!("report-row-no-spec"),
    };
    Row {
        what: part.name.clone(),
        value: figures.said(value, [reading.entry]),
        limit: spec.map_or_else(
            || words.get(id!("report-row-no-spec")).to_owned(),
            spec_words,
        ),
        meaning: words.get(meaning).to_owned(),
        outside: reading.verdict == ReadingVerdict::OutOfSpec,
    }
}

fn of_the_pan(figures: &Figures<'_>, words: &Words, parts: &Parts<'_>) -> Vec<Row> {
    let from = counts(figures);
    let mut rows = Vec::new();
    let get = |path: &str| words.get(path).to_owned();
    if let Some(wear) = parts.wear {
        let whole = |n: f64| format!("{n:.0}");
        let [score, lo, hi] = [wear.score, wear.lo, wear.hi].map(|n| whole(n.get()));
        let value = words.fill(
            id!("report-row-wear-value"),
            &[("score", score.as_str()), ("lo", &lo), ("hi", &hi)],
        );
        let (numeral, _) = band(words, wear.band);
        rows.push(Row {
            what: get(id!("report-row-wear")),
            value: figures.said(value, from.clone()),
            limit: words.fill(id!("report-row-wear-limit"), &[("numeral", &numeral)]),
            meaning: words.band_plain(wear.band).to_owned(),
            outside: false,
        });
    }
    if !from.is_empty() {
        let n: u32 = parts.pieces.kinds.iter().map(|kind| kind.n).sum();
        let (lo, hi) = swarfbook_job::garwood::whole_interval(n);
        let [n, lo, hi] = [n, lo, hi].map(|n| n.to_string());
        let values = [("n", n.as_str()), ("lo", &lo), ("hi", &hi)];
        rows.push(Row {
            what: get(id!("report-row-pieces")),
            value: figures.said(
                words.fill(id!("report-row-pieces-value"), &values),
                from.clone(),
            ),
            limit: get(id!("report-row-no-limit")),
            meaning: get(id!("report-row-in-level")),
            outside: false,
        });
    }
    if let Some(size) = largest(parts.pieces).and_then(|kind| kind.largest.as_ref()) {
        let [mm, lo, hi] = [size.mm, size.lo, size.hi].map(|n| fixed(n.get(), 2));
        let values = [("mm", mm.as_str()), ("lo", &lo), ("hi", &hi)];
        rows.push(Row {
            what: get(id!("report-row-largest")),
            value: figures.said(words.fill(id!("report-row-largest-value"), &values), from),
            limit: get(id!("report-row-no-limit")),
            meaning: get(id!("report-row-in-level")),
            outside: false,
        });
    }
    rows
}

fn codes(figures: &Figures<'_>, words: &Words) -> Vec<Row> {
    use swarfbook_job::fact::Moment;
    let row = |moment, what: &str, bad: &str| {
        let read = figures.state.codes.get(&moment)?;
        let codes: Vec<&str> = read.codes.iter().map(|seen| seen.code.as_str()).collect();
        let none = codes.is_empty();
        let value = if none {
            words.get(id!("report-row-none")).to_owned()
        } else {
            codes.join(", ")
        };
        Some(Row {
            what: words.get(what).to_owned(),
            value: figures.said(value, [read.stamp.entry]),
            limit: words.get(id!("report-row-codes-limit")).to_owned(),
            meaning: words
                .get(if none {
                    id!("report-row-codes-ok")
                } else {
                    bad
                })
                .to_owned(),
            outside: !none && moment == Moment::After,
        })
    };
    let rows = [
        row(
            Moment::Before,
            id!("report-row-codes-before"),
            id!("report-row-codes-stored"),
        ),
        row(
            Moment::After,
            id!("report-row-codes-after"),
            id!("report-row-codes-still"),
        ),
    ];
    rows.into_iter().flatten().collect()
}

fn oil_level(figures: &Figures<'_>, words: &Words) -> Option<Row> {
    let state = figures.state;
    let seen = state.answer(TopicRole::LevelSeen)?;
    let unit = figures.loaded.units.temperature;
    let warm = |role| {
        let c = state.last_measure(role)?;
        Some(format!("{} {}", fixed(unit.from_base(c), 0), unit.symbol()))
    };
    let value = warm(TopicRole::LevelC).unwrap_or_default();
    let limit = match (warm(TopicRole::LevelLowC), warm(TopicRole::LevelHighC)) {
        (Some(low), Some(high)) => words.fill(
            id!("report-row-level-window"),
            &[("low", low.as_str()), ("high", &high)],
        ),
        _ => words.get(id!("report-row-level-limit")).to_owned(),
    };
    let right = level::is_set(state);
    Some(Row {
        what: words.get(id!("report-row-level")).to_owned(),
        value: figures.said(value, [seen.stamp.entry]),
        limit,
        meaning: words
            .get(if right {
                id!("report-row-level-ok")
            } else {
                id!("report-row-level-wrong")
            })
            .to_owned(),
        outside: !right,
    })
}
