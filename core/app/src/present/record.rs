//! How often the machine was right, in words.

use swarfbook_debris::LEAST_PIECES;
use swarfbook_debris::patch::{Repeatability, Repeats};
use swarfbook_job::census::Calibration;
use swarfbook_job::class_table::ClassRow;
use swarfbook_job::fold::JobState;
use swarfbook_job::wilson::{Z_90, wilson};
use swarfbook_words::rounding::{down, up};
use swarfbook_words::{fixed, say, term};

use super::count_words;
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
        return say!("The jobs of the demo are invented: they do not count here.");
    }
    let all = record.all();
    if all.n == 0 {
        return say!("No pieces looked at yet. Those of a photo count once you confirm its count.");
    }
    said(all)
}

/// "412 pieces looked at, 391 right: 95 %, 92 to 97."
fn said(tally: Tally) -> String {
    let [share, lo, hi] = percents(tally);
    say!(
        "{} pieces looked at, {} right: {} %, {} to {}.",
        tally.n,
        tally.right,
        share,
        lo,
        hi
    )
}

fn tally_words(tally: Tally) -> String {
    let [share, lo, hi] = percents(tally);
    say!(
        "{} of {} right: {} %, {} to {}",
        tally.right,
        tally.n,
        share,
        lo,
        hi
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
            "{} were wrong: {} of another class, {} no debris, {} with an outline that was cut or joined.",
            all.n - all.right,
            class,
            none,
            redrawn
        ),
        say!(
            "From {} photos whose count was confirmed. Right is a piece that is debris, of the class that the machine said. The interval is 90 % (Wilson) and takes the pieces for independent. Pieces that the machine missed are not in it.",
            record.photos
        ),
    ]
}

/// What stands beside a score and in a report's method; `None` for too few pieces.
pub(crate) fn cited(record: &ShopRecord) -> Option<String> {
    let all = record.all();
    (all.n >= ShopRecord::CITED_FROM).then(|| {
        say!(
            "How often the machine was right in this shop's own photos, over all jobs: {} The interval is 90 % (Wilson). Pieces that it missed are not in it.",
            said(all)
        )
    })
}

/// How to find out how well photos repeat.
pub(crate) fn repeat_offer() -> String {
    say!(
        "How well do you and your phone repeat? Take three photos of one patch, each from another side and height, and say of the second and third that they show the same place. You then see how far counts and sizes differ."
    )
}

/// What calibrating does, and what it would change now.
pub(crate) fn calibration(record: &ShopRecord, by: Option<&Calibration>) -> Vec<String> {
    let mut said = vec![say!(
        "The probabilities of the classes in new counts can be calibrated to the pieces above: ten numbers that are pulled towards no change, so that few pieces change little. Outlines, sizes, and what is debris at all stay as they are. Each count keeps what it was calibrated by; counts made before stay as they were."
    )];
    said.push(match by {
        Some(by) => by_words(by),
        None => say!(
            "It takes {} pieces of debris in confirmed counts; {} are there.",
            LEAST_PIECES,
            record.teaching()
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
            "From {} pieces: temperature {} (above 1: the machine was too sure of its classes), no class moved.",
            by.pieces,
            temperature
        );
    }
    say!(
        "From {} pieces: temperature {} (above 1: the machine was too sure of its classes); ln of the probability moved by {}.",
        by.pieces,
        temperature,
        moved.join(", ")
    )
}

/// That counts of a job are calibrated, and by how many pieces; `None` where all are the machine's own.
pub(crate) fn calibrated_words(state: &JobState) -> Option<String> {
    let counts = state.photos.iter().filter_map(|p| p.census.as_ref());
    let by: Vec<&Calibration> = counts.filter_map(|c| c.calibration.as_ref()).collect();
    let pieces = by.iter().map(|by| by.pieces).max()?;
    let photos = u32::try_from(by.len()).unwrap_or(u32::MAX);
    Some(say!(
        "Class probabilities of {} were calibrated to what this shop's technicians had confirmed by then, up to {} pieces.",
        count_words(photos, term!("photo"), term!("photos")),
        pieces
    ))
}

fn shop_repeats(record: &ShopRecord) -> Vec<String> {
    let Some(counts) = record.counts() else {
        return Vec::new();
    };
    let patches = u32::try_from(record.takes.len()).unwrap_or(u32::MAX);
    let mut said = vec![say!(
        "Repeatability (ISO 5725), from {}, each in three photos or more:",
        count_words(patches, term!("patch"), term!("patches"))
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
        "On the ground that all {} photos show the machine counts {} pieces of {} mm and more.",
        told.counts.len(),
        each.join(", "),
        fixed(up(told.least_mm, 2), 2)
    )];
    said.push(counts_words(&counts));
    said.extend(lengths(told).map(|lengths| lengths_words(lengths.s_r)));
    said
}

fn counts_words(counts: &Repeatability) -> String {
    say!(
        "Counts: repeatability standard deviation s_r = {} pieces at {} on average; two counts of one patch differ by no more than r = {} in 95 of 100 cases.",
        fixed(up(counts.s_r, 1), 1),
        fixed(counts.mean, 0),
        fixed(up(counts.limit(), 1), 1)
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
        "Lengths of pieces: s_r = {} % of the length, r = {} %.",
        fixed(up(100.0 * s_r, 1), 1),
        fixed(up(100.0 * limit, 1), 1)
    )
}
