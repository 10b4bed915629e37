//! What the templates are given: the content, and the pictures made from it.

use std::collections::{BTreeMap, BTreeSet};
use swarfbook_words::id;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use minijinja::Value;
use serde::Serialize;
use swarfbook_job::census::DebrisClass;
use swarfbook_job::class_table::ClassRow;
use swarfbook_job::garwood::whole_interval;
use swarfbook_wear::Band;

use super::pads::pads;
use super::{Key, style};
use crate::ReportError;
use crate::content::{CloseUp, Content, KindSaid, PairRow, PhotoSaid, Photos, Said, SizeMm};
use crate::plot::{
    Gauge, band_name, close_up, histogram, letters_of, line_sample, outlines, reading_plot, shape,
    trend_plot,
};
use crate::words::Words;

/// How many of the largest pieces are named under a photo.
const LARGEST: usize = 3;

/// The root of what the templates see.
#[derive(Serialize)]
pub(super) struct View<'a> {
    c: &'a Content,
    style: Value,
    key: Option<&'a Key>,
    fingerprint: String,
    /// Number, day and car, at the head of each sheet.
    running_head: String,
    /// Places and names of the annex's parts.
    contents: Vec<(&'static str, &'a str)>,
    gauge: Option<Value>,
    /// The same on the first page: no two pictures share an id.
    gauge_1: Option<Value>,
    close_ups: Vec<CloseUpView<'a>>,
    /// Digits of room before what was measured, row by row.
    measured_pads: Vec<usize>,
    /// The same before the largest piece of each kind.
    kind_pads: Vec<usize>,
    /// The close-ups were drawn by a renderer.
    rendered: bool,
    bands: Vec<BandRow<'a>>,
    sizes: Value,
    visits: Option<Value>,
    photos: Vec<PhotoView<'a>>,
    pairs: Vec<PairView<'a>>,
    /// Where a line's photo stands among the photos, from 1.
    shown: BTreeMap<String, usize>,
    deciding: Option<usize>,
    /// Plots by component and reading.
    plots: Vec<Vec<Option<Value>>>,
    classes: BTreeMap<DebrisClass, ClassView>,
    /// All pieces that the score counts.
    together: Together,
    /// Some of the sizes can't all be seen.
    below_seen: bool,
    /// The classes that were counted, explained once.
    kinds: BTreeSet<DebrisClass>,
    /// Work done by stage, in the order of doing.
    stages: Vec<(&'a str, Vec<&'a Said>)>,
    /// Readings that say how they were worked out.
    worked_out: Vec<(&'a str, &'a [String])>,
}

/// A count with its interval in whole pieces.
#[derive(Serialize)]
struct Together {
    n: u32,
    lo: u32,
    hi: u32,
}

/// A band for the table beside the gauge.
#[derive(Serialize)]
struct BandRow<'a> {
    shape: Value,
    name: &'a str,
    plain: &'a str,
    yours: bool,
}

/// A class of debris as the legends show it.
#[derive(Serialize)]
struct ClassView {
    #[serde(flatten)]
    row: ClassRow,
    line: Value,
}

/// Two photos by their places.
#[derive(Serialize)]
struct PairView<'a> {
    before: usize,
    after: usize,
    said: &'a Said,
    rows: &'a [PairRow],
}

/// A close-up with its picture.
#[derive(Serialize)]
struct CloseUpView<'a> {
    c: &'a CloseUp,
    data: Value,
    outline: Value,
    said: String,
    alt: String,
}

/// A photo with its picture.
#[derive(Serialize)]
struct PhotoView<'a> {
    /// Its number, from 1.
    n: usize,
    /// The pair it is shown in.
    pair: Option<usize>,
    /// It has a place of its own: it is not second in a pair.
    shown_here: bool,
    p: &'a PhotoSaid,
    data: Option<Value>,
    outlines: Value,
    lettered: usize,
    largest: Vec<(DebrisClass, &'a SizeMm)>,
}

impl<'a> View<'a> {
    pub(super) fn of(
        content: &'a Content,
        photos: &Photos,
        words: &'a Words,
        key: Option<&'a Key>,
    ) -> Result<View<'a>, ReportError> {
        let safe = Value::from_safe_string;
        let plots = content
            .components
            .iter()
            .enumerate()
            .map(|(at, component)| {
                let readings = component.readings.iter().enumerate();
                readings
                    .map(|(n, reading)| {
                        let plot = reading.plot.as_ref()?;
                        let id = format!("plot-{at}-{n}");
                        reading_plot(plot, reading.verdict, words, &id).map(safe)
                    })
                    .collect()
            });
        Ok(View {
            c: content,
            style: safe(style()),
            key,
            fingerprint: content
                .fingerprint()
                .map_err(ReportError::Words)?
                .to_string(),
            running_head: running_head(content, words),
            contents: contents(words),
            gauge: content
                .wear
                .as_ref()
                .map(|wear| safe(Gauge::from(wear).svg(words, "gauge"))),
            gauge_1: content
                .wear
                .as_ref()
                .map(|wear| safe(Gauge::from(wear).svg(words, "gauge-1"))),
            close_ups: close_ups(content, photos, words),
            measured_pads: pads(
                content
                    .letter
                    .measured
                    .iter()
                    .map(|row| row.value.words.as_str()),
            ),
            kind_pads: kind_pads(content),
            rendered: content.photos.iter().any(|photo| photo.rendered),
            bands: bands(content, words),
            sizes: safe(histogram(&content.sizes, words, "sizes")),
            visits: content
                .wear
                .as_ref()
                .and_then(|wear| trend_plot(&wear.visits, words, "visits"))
                .map(safe),
            photos: photo_views(content, photos),
            pairs: pairs(content),
            shown: content
                .photos
                .iter()
                .enumerate()
                .map(|(at, photo)| (photo.entry.to_string(), at + 1))
                .collect(),
            deciding: content
                .deciding
                .and_then(|entry| content.photos.iter().position(|photo| photo.entry == entry)),
            plots: plots.collect(),
            classes: classes(),
            together: together(content),
            below_seen: content.sizes.iter().any(|bar| bar.below_seen),
            kinds: content
                .photos
                .iter()
                .flat_map(|photo| photo.counts.iter().map(|count| count.class))
                .collect(),
            stages: stages(content),
            worked_out: worked_out(content),
        })
    }
}

fn kind_pads(content: &Content) -> Vec<usize> {
    let largest = |kind: &KindSaid| {
        let size = kind.largest.as_ref();
        size.map_or_else(String::new, |size| swarfbook_words::fixed(size.mm.get(), 2))
    };
    let column: Vec<String> = content.kinds.iter().map(largest).collect();
    pads(column.iter().map(String::as_str))
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

fn running_head(content: &Content, words: &Words) -> String {
    let number = words.fill(
        id!("report-page-number"),
        &[("number", &content.letter.number)],
    );
    let car = [&content.car.plate, &content.car.description];
    let day = words.day(content.made.at);
    let said = [number.as_str(), day.as_str()]
        .into_iter()
        .chain(car.into_iter().map(String::as_str));
    let said: Vec<&str> = said.filter(|part| !part.is_empty()).collect();
    said.join(" · ")
}

/// The parts of the annex, in their order.
fn contents(words: &Words) -> Vec<(&'static str, &str)> {
    [
        ("method", id!("report-page-method")),
        ("found", id!("report-page-found")),
        ("wear", id!("report-page-wear")),
        ("readings", id!("report-page-readings")),
        ("fluid", id!("report-page-fluid")),
        ("told", id!("report-page-complaint")),
        ("done", id!("report-page-done")),
        ("advice", id!("report-page-advice")),
        ("not-done", id!("report-page-not-done")),
        ("evidence", id!("report-annex-evidence")),
        ("sources", id!("report-page-sources")),
    ]
    .into_iter()
    .map(|(id, path)| (id, words.get(path)))
    .collect()
}

fn close_ups<'a>(content: &'a Content, photos: &Photos, words: &Words) -> Vec<CloseUpView<'a>> {
    let each = content.letter.close_ups.iter().enumerate();
    each.filter_map(|(at, one)| {
        let data = STANDARD.encode(photos.get(&one.copy)?);
        let class = ClassRow::of(one.class).one;
        let said = match &one.size {
            Some(size) => {
                // How far off it may be stands in the annex.
                let mm = swarfbook_words::fixed(size.mm.get(), 2);
                words.fill(
                    id!("report-letter-close-said"),
                    &[("class", class), ("mm", &mm)],
                )
            }
            None => format!("{class}, {}", words.get(id!("report-page-no-size"))),
        };
        let n = (at + 1).to_string();
        Some(CloseUpView {
            c: one,
            data: Value::from_safe_string(format!("data:image/jpeg;base64,{data}")),
            outline: Value::from_safe_string(close_up(one)),
            alt: words.fill(
                id!("report-letter-close-alt"),
                &[("n", &n), ("said", &said)],
            ),
            said: capital(&said),
        })
    })
    .collect()
}

fn together(content: &Content) -> Together {
    let n = content.kinds.iter().map(|kind| kind.n).sum();
    let (lo, hi) = whole_interval(n);
    Together { n, lo, hi }
}

fn bands<'a>(content: &Content, words: &'a Words) -> Vec<BandRow<'a>> {
    let yours = content.wear.as_ref().map(|wear| wear.band);
    let row = |band: Band| {
        let name = band_name(band);
        let yours = yours == Some(band);
        BandRow {
            shape: Value::from_safe_string(format!(
                "<svg class=\"shape\" viewBox=\"0 0 28 28\" aria-hidden=\"true\" \
                 xmlns=\"http://www.w3.org/2000/svg\">{}</svg>",
                shape(band, [14.0, 14.0], yours)
            )),
            name: words.get(name),
            plain: words.band_plain(band),
            yours,
        }
    };
    Band::ALL.into_iter().map(row).collect()
}

fn classes() -> BTreeMap<DebrisClass, ClassView> {
    ClassRow::all()
        .into_iter()
        .map(|row| {
            let line = Value::from_safe_string(line_sample(row.class));
            (row.class, ClassView { row, line })
        })
        .collect()
}

fn photo_views<'a>(content: &'a Content, photos: &Photos) -> Vec<PhotoView<'a>> {
    let pairs = pairs(content);
    let pair_of = |at: usize| pairs.iter().position(|p| p.before == at || p.after == at);
    let each = content.photos.iter().enumerate();
    each.map(|(at, photo)| {
        let pair = pair_of(at);
        let second = pair.is_some_and(|pair| pairs.get(pair).is_some_and(|p| p.after == at));
        let bytes = photo.copy.and_then(|copy| photos.get(&copy));
        PhotoView {
            n: at + 1,
            pair,
            shown_here: !second,
            p: photo,
            data: bytes.map(|bytes| {
                let data = STANDARD.encode(bytes);
                Value::from_safe_string(format!("data:image/jpeg;base64,{data}"))
            }),
            outlines: Value::from_safe_string(outlines(photo, &format!("o{at}"))),
            lettered: letters_of(photo),
            largest: largest(photo),
        }
    })
    .collect()
}

fn place(content: &Content, entry: swarfbook_job::id::EntryId) -> Option<usize> {
    content.photos.iter().position(|photo| photo.entry == entry)
}

/// Pairs of which both photos are in the file; a photo is in one pair at most.
fn pairs(content: &Content) -> Vec<PairView<'_>> {
    let mut taken = BTreeSet::new();
    let seen = |at: &usize| content.photos.get(*at).is_some_and(|p| p.copy.is_some());
    content
        .pairs
        .iter()
        .filter_map(|pair| {
            let before = place(content, pair.before).filter(seen)?;
            let after = place(content, pair.after).filter(seen)?;
            let free = before != after && !taken.contains(&before) && !taken.contains(&after);
            free.then(|| {
                taken.extend([before, after]);
                PairView {
                    before,
                    after,
                    said: &pair.said,
                    rows: &pair.rows,
                }
            })
        })
        .collect()
}

/// Steps that follow each other in one stage stand together.
fn stages(content: &Content) -> Vec<(&str, Vec<&Said>)> {
    let mut stages: Vec<(&str, Vec<&Said>)> = Vec::new();
    for done in &content.done {
        match stages.last_mut() {
            Some((stage, steps)) if *stage == done.stage => steps.push(&done.said),
            _ => stages.push((&done.stage, vec![&done.said])),
        }
    }
    stages
}

fn worked_out(content: &Content) -> Vec<(&str, &[String])> {
    let components = content.components.iter();
    components
        .flat_map(|component| {
            let readings = component.readings.iter();
            readings.map(|reading| (component.name.as_str(), reading.steps.as_slice()))
        })
        .filter(|(_, steps)| !steps.is_empty())
        .collect()
}

/// The largest pieces with a size, lint left out.
fn largest(photo: &PhotoSaid) -> Vec<(DebrisClass, &SizeMm)> {
    let mut sized: Vec<_> = photo
        .outlines
        .iter()
        .filter(|outline| outline.class.counts())
        .filter_map(|outline| Some((outline.class, outline.size.as_ref()?)))
        .collect();
    sized.sort_by(|(_, a), (_, b)| b.mm.get().total_cmp(&a.mm.get()));
    sized.truncate(LARGEST);
    sized
}
