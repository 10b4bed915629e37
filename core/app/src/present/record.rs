//! How often the machine was right, in words.

use swarfbook_debris::LEAST_PIECES;
use swarfbook_debris::patch::{Repeatability, Repeats};
use swarfbook_job::census::Calibration;
use swarfbook_job::class_table::ClassRow;
use swarfbook_job::fold::JobState;
use swarfbook_job::wilson::{Z_90, wilson};
use swarfbook_words::rounding::{down, up};
use swarfbook_words::{fixed, say};

use super::photo::size_words;
use crate::view::{RecordRow, RecordView};
use swarfbook_judge::record::{ShopRecord, Tally, lengths};

/// A bias below this changes no probability by much and is not named.
const LEAST_BIAS: f64 = 0.05;

pub(crate) fn record(record: &ShopRecord, demo: bool) -> RecordView {
    let by_class = record.by_class();
    let by_size = record.by_size();
    RecordView {
        words: words(record, demo),
        notes: notes(record),
        by_class: (by_class.into_iter())
            .map(|(class, tally)| RecordRow {
                class: Some(class),
                label: ClassRow::of(class).name.to_owned(),
                words: tally_words(tally),
            })
            .collect(),
        by_size: (by_size.into_iter())
            .map(|(size, tally)| RecordRow {
                class: None,
                label: size_words(size),
                words: tally_words(tally),
            })
            .collect(),
        cited: cited(record),
        repeats: shop_repeats(record),
        repeat_offer: (!demo && record.takes.is_empty()).then(repeat_offer),
        calibrated: false,
        calibration: Vec::new(),
    }
}

fn words(record: &ShopRecord, demo: bool) -> String {
    if demo {
        return say!("the-jobs-of-the-demo-are-invented-they");
    }
    let all = record.all();
    if all.n == 0 {
        return say!("no-pieces-looked-at-yet-those-of-a");
    }
    said(all)
}

/// "412 pieces looked at, 391 right: 95 %, 92 to 97."
fn said(tally: Tally) -> String {
    let [share, lo, hi] = percents(tally);
    say!(
        "n-pieces-looked-at-right-right-share-percent",
        n = tally.n,
        right = tally.right,
        share = share,
        lo = lo,
        hi = hi
    )
}

fn tally_words(tally: Tally) -> String {
    let [share, lo, hi] = percents(tally);
    say!(
        "right-of-n-right-share-percent-lo-to",
        right = tally.right,
        n = tally.n,
        share = share,
        lo = lo,
        hi = hi
    )
}

/// The share that was right with the ends of its 90 % interval, in whole per cents, the ends rounded outwards.
fn percents(tally: Tally) -> [String; 3] {
    let share = f64::from(tally.right) / f64::from(tally.n.max(1));
    let (lo, hi) = wilson(tally.right, tally.n, Z_90);
    [
        fixed(100.0 * share, 0),
        fixed(down(100.0 * lo, 0), 0),
        fixed(up(100.0 * hi, 0), 0),
    ]
}

fn notes(record: &ShopRecord) -> Vec<String> {
    let all = record.all();
    if all.n == 0 {
        return Vec::new();
    }
    let [none, redrawn] = record.none_and_redrawn();
    let class = all.n - all.right - none - redrawn;
    vec![
        say!(
            "right-were-wrong-class-of-another-class-none",
            right = all.n - all.right,
            class = class,
            none = none,
            redrawn = redrawn
        ),
        say!(
            "from-photos-photos-whose-count-was-confirmed-right",
            photos = record.photos
        ),
    ]
}

/// What stands beside a score and in a report's method; `None` for too few pieces.
pub(crate) fn cited(record: &ShopRecord) -> Option<String> {
    let all = record.all();
    (all.n >= ShopRecord::CITED_FROM)
        .then(|| say!("how-often-the-machine-was-right-in-this", said = said(all)))
}

/// How to find out how well photos repeat.
pub(crate) fn repeat_offer() -> String {
    say!("how-well-do-you-and-your-phone-repeat")
}

/// What calibrating does, and what it would change now.
pub(crate) fn calibration(record: &ShopRecord, by: Option<&Calibration>) -> Vec<String> {
    let mut said = vec![say!("the-probabilities-of-the-classes-in-new-counts")];
    said.push(match by {
        Some(by) => by_words(by),
        None => say!(
            "it-takes-least-pieces-pieces-of-debris-in",
            least_pieces = LEAST_PIECES,
            teaching = record.teaching()
        ),
    });
    said
}

fn by_words(by: &Calibration) -> String {
    let moved = (by.bias.iter()).filter(|(_, bias)| bias.abs() >= LEAST_BIAS);
    let moved: Vec<String> = moved
        .map(|(class, bias)| format!("{} {}", ClassRow::of(*class).name, fixed(*bias, 1)))
        .collect();
    let temperature = fixed(by.temperature, 2);
    if moved.is_empty() {
        return say!(
            "from-pieces-pieces-temperature-temperature-above-1",
            pieces = by.pieces,
            temperature = temperature
        );
    }
    say!(
        "from-pieces-pieces-temperature-temperature-above-1-the-machine",
        pieces = by.pieces,
        temperature = temperature,
        moved = moved.join(", ")
    )
}

/// That counts of a job are calibrated, and by how many pieces; `None` where all are the machine's own.
pub(crate) fn calibrated_words(state: &JobState) -> Option<String> {
    let counts = state.photos.iter().filter_map(|p| p.census.as_ref());
    let by: Vec<&Calibration> = counts.filter_map(|c| c.calibration.as_ref()).collect();
    let pieces = by.iter().map(|by| by.pieces).max()?;
    let photos = u32::try_from(by.len()).unwrap_or(u32::MAX);
    Some(say!(
        "class-probabilities-of-count-were-calibrated-to-what",
        count = say!("n-photos", n = photos),
        pieces = pieces
    ))
}

fn shop_repeats(record: &ShopRecord) -> Vec<String> {
    let Some(counts) = record.counts() else {
        return Vec::new();
    };
    let patches = u32::try_from(record.takes.len()).unwrap_or(u32::MAX);
    let mut said = vec![say!(
        "repeatability-iso-5725-from-count-each-in-three",
        count = say!("n-patches", n = patches)
    )];
    said.push(counts_words(&counts));
    said.extend(record.lengths_s_r().map(lengths_words));
    said
}

/// What the photos of one patch tell of how well they repeat.
pub(crate) fn patch_repeats(told: &Repeats) -> Vec<String> {
    let Some(counts) = Repeatability::of([told.counts.as_slice()]) else {
        return Vec::new();
    };
    let each: Vec<String> = told.counts.iter().map(|n| fixed(*n, 0)).collect();
    let mut said = vec![say!(
        "on-the-ground-that-all-counts-photos-show",
        counts = told.counts.len(),
        each = each.join(", "),
        least_mm = fixed(up(told.least_mm, 2), 2)
    )];
    said.push(counts_words(&counts));
    said.extend(lengths(told).map(|lengths| lengths_words(lengths.s_r)));
    said
}

fn counts_words(counts: &Repeatability) -> String {
    say!(
        "counts-repeatability-standard-deviation-s-r-s-r",
        s_r = fixed(up(counts.s_r, 1), 1),
        mean = fixed(counts.mean, 0),
        limit = fixed(up(counts.limit(), 1), 1)
    )
}

fn lengths_words(s_r: f64) -> String {
    let limit = Repeatability {
        mean: 1.0,
        s_r,
        degrees: 1,
    }
    .limit();
    say!(
        "lengths-of-pieces-s-r-s-r-percent",
        s_r = fixed(up(100.0 * s_r, 1), 1),
        limit = fixed(up(100.0 * limit, 1), 1)
    )
}
