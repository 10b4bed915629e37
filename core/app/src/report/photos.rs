//! Photos in the report: copies without metadata, outlines, what each says.

use swarfbook_debris::patch::{MagnetPair, NoFit};
use swarfbook_job::census::ScaleFrom;
use swarfbook_job::fact::PhotoSubject;
use swarfbook_job::fold::{JobState, PhotoState};
use swarfbook_job::id::{EntryId, Sha256Hex};
use swarfbook_judge::corrected::Piece;
use swarfbook_judge::patch;
use swarfbook_report::content::{
    Fixed, Outline, Pair, PairRow, PhotoSaid, Photos, PieceCount, Said, SizeMm,
};
use swarfbook_report::words::Words;
use swarfbook_store::Store;
use swarfbook_words::{say, term};

use super::figures::{Figures, fixed};
use super::plain;
use crate::present;
use crate::problem::Problem;
use crate::state::copies::{self, Missing};

/// More would make the file too large to send; the rest stays in the log.
const MAX_PHOTOS: usize = 24;

/// Photos of a job as its report shows them.
pub(super) struct Shown {
    pub photos: Vec<PhotoSaid>,
    pub copies: Photos,
    /// Which photos it does not show, and why, in words.
    pub missing: Vec<String>,
}

/// The photos up to [`MAX_PHOTOS`], `heaviest` among them wherever it stands; then the others.
fn chosen(all: &[PhotoState], heaviest: Option<EntryId>) -> (Vec<&PhotoState>, Vec<&PhotoState>) {
    let is_heaviest = |state: &PhotoState| Some(state.stamp.entry) == heaviest;
    let late = all.iter().skip(MAX_PHOTOS).any(is_heaviest);
    let first = MAX_PHOTOS - usize::from(late);
    let mut at = 0..;
    all.iter()
        .partition(|state| at.next().is_some_and(|at| at < first) || is_heaviest(state))
}

pub(super) fn photos(
    figures: &Figures<'_>,
    store: &Store,
    words: &Words,
    demo: bool,
    heaviest: Option<EntryId>,
) -> Result<Shown, Problem> {
    let all = &figures.state.photos;
    let (chosen, others) = chosen(all, heaviest);
    let mut missing = Vec::new();
    let mut shown = Vec::new();
    let mut copies = Photos::new();
    // Each photo is a source, whatever is said of it.
    for state in all {
        figures.name(state.stamp.entry);
    }
    for state in chosen {
        let mut limits = limits(state);
        let (copy, copy_px) = match copies::of(store, state.photo) {
            Ok((bytes, size_px)) => {
                let copy = Sha256Hex::of(&bytes);
                copies.insert(copy, bytes);
                (Some(copy), Some(size_px))
            }
            Err(why) => {
                limits.push(why.words());
                missing.push(missing_words(state, &why.words()));
                (None, None)
            }
        };
        let pieces = counted(figures.state, state);
        let size_px = state.census.as_ref().and_then(|c| c.size_px).or(copy_px);
        let size_px = size_px.unwrap_or([1, 1]);
        shown.push(PhotoSaid {
            entry: state.stamp.entry,
            photo: state.photo,
            copy,
            size_px,
            title: title(state.subject),
            alt: alt(figures.state, state),
            rendered: demo,
            said: said(figures, state),
            counts: piece_counts(&pieces)?,
            outlines: outlines(&pieces, sized(state), size_px)?,
            limits,
            px_per_mm: px_per_mm(state, size_px)?,
            evidence: super::evidence::of_photo(figures, words, state),
        });
    }
    missing.extend(
        others
            .into_iter()
            .map(|state| missing_words(state, &say!("the-shop-keeps-it-the-file-would-become"))),
    );
    Ok(Shown {
        photos: shown,
        copies,
        missing,
    })
}

/// How fine the picture is, where it has a scale.
fn px_per_mm(state: &PhotoState, size_px: [u32; 2]) -> Result<Option<Fixed>, Problem> {
    let census = state.census.as_ref().filter(|_| sized(state));
    let of_census = census.filter(|census| census.size_px == Some(size_px));
    let scale = of_census.and_then(|census| census.scale.as_ref());
    scale.map(|scale| fixed(scale.px_per_mm)).transpose()
}

/// Names a photo that this file does not show.
fn missing_words(state: &PhotoState, why: &str) -> String {
    say!(
        "not-in-this-file-the-photo-of-subject",
        subject = present::subject_words(state.subject),
        moment = present::moment_words(state.stamp.wall),
        why = why
    )
}

impl Missing {
    fn words(self) -> String {
        match self {
            Missing::Away => {
                say!("this-photo-has-not-reached-the-device-that")
            }
            Missing::Damaged => {
                say!("this-photos-file-is-damaged-on-the-device")
            }
        }
    }
}

fn title(subject: PhotoSubject) -> String {
    match subject {
        PhotoSubject::Patch => term!("residue-on-white-paper"),
        PhotoSubject::PatchAfterMagnet => {
            term!("the-same-residue-after-a-magnet-was-passed")
        }
        PhotoSubject::Pan => term!("the-pan-as-it-came-down-nothing-wiped"),
        PhotoSubject::Magnet => term!("a-magnet-from-the-pan-before-wiping"),
        PhotoSubject::Place => term!("where-a-part-goes-back"),
        PhotoSubject::Filter => term!("the-filter-2"),
        PhotoSubject::Part => term!("parts-old-and-new"),
        PhotoSubject::Leak => term!("leak-check"),
        PhotoSubject::Other => term!("photo"),
        PhotoSubject::Display => term!("the-meters-display-as-it-was-read"),
    }
    .to_owned()
}

fn alt(job: &JobState, state: &PhotoState) -> String {
    let what = present::subject_words(state.subject);
    match present::summary(job, state) {
        Some(summary) if summary.problem.is_none() => {
            say!(
                "photo-of-what-pieces-outlined-words",
                what = what,
                words = summary.words
            )
        }
        _ => say!("photo-of-what", what = what),
    }
}

fn said(figures: &Figures<'_>, state: &PhotoState) -> Vec<Said> {
    let taken = state.stamp.entry;
    let Some(summary) = present::summary(figures.state, state) else {
        return vec![figures.said(
            say!(
                "taken-of-subject",
                subject = present::subject_words(state.subject)
            ),
            [taken],
        )];
    };
    // The line that says it is the census; a confirmation says that it holds.
    let census = state.census_stamp.as_ref().map(|s| s.entry);
    let confirmed = state.confirmed.as_ref().map(|s| s.entry);
    let from = census
        .into_iter()
        .chain(state.corrections.iter().map(|c| c.stamp.entry))
        .chain(confirmed)
        .chain(state.link.iter().map(|l| l.stamp.entry));
    if summary.problem.is_some() {
        return vec![figures.said(say!("the-pieces-in-this-photo-could-not-be"), from)];
    }
    let stands = if summary.confirmed {
        say!("counted-by-the-tool-confirmed-by-the-technician")
    } else {
        say!("counted-by-the-tool-not-confirmed-by-the")
    };
    let corrected = match state.corrections.len() {
        0 => String::new(),
        n => format!(
            " ({})",
            say!("n-corrections", n = u32::try_from(n).unwrap_or(u32::MAX))
        ),
    };
    vec![figures.said(
        plain::sentence(&format!("{stands}{corrected}: {}", summary.words)),
        from,
    )]
}

/// What this photo can't show.
fn limits(state: &PhotoState) -> Vec<String> {
    let Some(census) = &state.census else {
        return Vec::new();
    };
    if census.problem.is_some() {
        return Vec::new();
    }
    let unseen = present::unseen_words(census);
    let scale = (!sized(state) && !census.particles.is_empty())
        .then(|| say!("this-photo-has-no-scale-so-that-its"));
    unseen.into_iter().chain(scale).collect()
}

pub(super) fn counted(job: &JobState, state: &PhotoState) -> Vec<Piece> {
    let mut pieces = patch::pieces(job, state);
    pieces.retain(|p| !p.not_debris);
    pieces
}

pub(super) fn sized(state: &PhotoState) -> bool {
    state
        .census
        .as_ref()
        .and_then(|c| c.scale.as_ref())
        .is_some_and(|s| s.from != ScaleFrom::None)
}

fn piece_counts(pieces: &[Piece]) -> Result<Vec<PieceCount>, Problem> {
    let counts = present::counts(pieces.iter().map(|p| p.class));
    let (lint, debris): (Vec<_>, Vec<_>) =
        counts.into_iter().partition(|count| !count.class.counts());
    debris
        .into_iter()
        .chain(lint)
        .map(|count| {
            Ok(PieceCount {
                class: count.class,
                n: count.n,
                lo: fixed(count.lo)?,
                hi: fixed(count.hi)?,
            })
        })
        .collect()
}

/// The longest side of a piece.
pub(super) fn size(piece: &Piece) -> Result<SizeMm, Problem> {
    let [mm, lo, hi] = present::length_mm(&piece.machine);
    let [mm, lo, hi]: [Fixed; 3] = [fixed(mm)?, fixed(lo)?, fixed(hi)?];
    Ok(SizeMm { mm, lo, hi })
}

fn outlines(pieces: &[Piece], sized: bool, size_px: [u32; 2]) -> Result<Vec<Outline>, Problem> {
    pieces
        .iter()
        .map(|piece| {
            let size = sized.then(|| size(piece)).transpose()?;
            let outline = &piece.machine.outline_px;
            Ok(Outline::from_px(piece.class, size, outline, size_px))
        })
        .collect()
}

/// Each photo after the magnet with the patch before it.
pub(super) fn pairs(figures: &Figures<'_>, shown: &[PhotoSaid]) -> Vec<Pair> {
    let mut pairs = Vec::new();
    for after in &figures.state.photos {
        let Some(before) = figures.state.before_magnet(after) else {
            continue;
        };
        let both = [before, after].map(|photo| photo.stamp.entry);
        if !both.iter().all(|photo| shows(shown, *photo)) {
            continue;
        }
        let counts = [before, after].map(|photo| photo.census_stamp.as_ref().map(|s| s.entry));
        let pair = patch::held_against(before, after);
        pairs.push(Pair {
            before: before.stamp.entry,
            after: after.stamp.entry,
            said: figures.said(
                pair_words(figures.state, before, after, pair.as_ref()),
                counts.into_iter().flatten(),
            ),
            rows: match &pair {
                Some(Ok(pair)) => pair_rows(&counted(figures.state, before), pair),
                _ => Vec::new(),
            },
        });
    }
    pairs
}

fn pair_words(
    job: &JobState,
    before: &PhotoState,
    after: &PhotoState,
    pair: Option<&Result<MagnetPair, NoFit>>,
) -> String {
    let count = |photo: &PhotoState| {
        let census = photo.census.as_ref();
        if census.is_none_or(|census| census.problem.is_some()) {
            return say!("the-pieces-were-not-counted");
        }
        let pieces = counted(job, photo);
        let solid = pieces.iter().filter(|p| p.class.counts());
        say!(
            "n-pieces-were-counted",
            n = u32::try_from(solid.count()).unwrap_or(u32::MAX)
        )
    };
    let counted = say!(
        "before-the-magnet-count-after-it-count-2",
        count = count(before),
        count_2 = count(after)
    );
    match pair {
        Some(Ok(pair)) => format!("{counted} {}", present::patch::ferrous_words(pair)),
        Some(Err(_)) => format!(
            "{counted} {}",
            say!("piece-by-piece-the-two-photos-cant-be")
        ),
        None => counted,
    }
}

/// From here on a piece is a find of its own.
const LARGE_MM: f64 = 2.0;

/// What became of these pieces, by that pair of photos.
fn pair_rows(pieces: &[Piece], pair: &MagnetPair) -> Vec<PairRow> {
    let row = |label: String, wanted: &dyn Fn(&Piece) -> bool| {
        let of = |fate: Option<patch::Taken>| {
            let pieces = pieces.iter().zip(&pair.pieces);
            let pieces = pieces.filter(|(p, told)| {
                p.class.counts() && wanted(p) && patch::Taken::of(told.fate) == fate
            });
            u32::try_from(pieces.count()).unwrap_or(u32::MAX)
        };
        let [went, stayed, untold] = [
            of(Some(patch::Taken::Went)),
            of(Some(patch::Taken::Stayed)),
            of(None),
        ];
        PairRow {
            label,
            n: went + stayed + untold,
            went,
            stayed,
            untold,
        }
    };
    vec![
        row(say!("under-large-mm-mm", large_mm = LARGE_MM), &|p| {
            p.machine.feret_max_mm < LARGE_MM
        }),
        row(say!("lower-mm-and-more", lower = LARGE_MM), &|p| {
            p.machine.feret_max_mm >= LARGE_MM
        }),
        row(say!("together"), &|_| true),
    ]
}

/// The photo that shows the most of what decides: the one behind the heaviest
/// reason, else the last of the patch, the pan or a magnet.
pub(super) fn deciding(
    state: &JobState,
    heaviest: Option<EntryId>,
    shown: &[PhotoSaid],
) -> Option<EntryId> {
    heaviest.filter(|photo| shows(shown, *photo)).or_else(|| {
        [PhotoSubject::Patch, PhotoSubject::Pan, PhotoSubject::Magnet]
            .into_iter()
            .find_map(|subject| {
                let mut newest = state.photos.iter().rev();
                newest.find(|p| p.subject == subject && shows(shown, p.stamp.entry))
            })
            .map(|p| p.stamp.entry)
    })
}

fn shows(shown: &[PhotoSaid], photo: EntryId) -> bool {
    let mut shown = shown.iter();
    shown.any(|p| p.entry == photo && p.copy.is_some())
}
