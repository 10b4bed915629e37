//! Photos in the report: copies without metadata, outlines, what each says.

use swarfbook_job::census::{DebrisClass, ScaleFrom};
use swarfbook_job::fact::PhotoSubject;
use swarfbook_job::fold::{JobState, PhotoState};
use swarfbook_job::garwood::garwood;
use swarfbook_job::id::{EntryId, Sha256Hex};
use swarfbook_report::content::{
    ClassPieces, Outline, Pair, PhotoSaid, Photos, PieceCount, Said, SizeBar, SizeMm,
};
use swarfbook_store::Store;
use swarfbook_words::{fixed, say, term};

use super::copies;
use super::figures::{Figures, rounded};
use crate::assess::corrected::Piece;
use crate::assess::patch;
use crate::present;
use crate::problem::Problem;

/// More would make the file too large to send; the rest stays in the log.
const MAX_PHOTOS: usize = 24;

/// Photos of a job as its report shows them.
pub(super) struct Shown {
    pub photos: Vec<PhotoSaid>,
    pub copies: Photos,
    /// Which photos it does not show, and why, in words.
    pub missing: Vec<String>,
}

pub(super) fn photos(figures: &Figures<'_>, store: &Store, demo: bool) -> Result<Shown, Problem> {
    let all = &figures.state.photos;
    let mut absent = 0;
    let mut shown = Vec::new();
    let mut copies = Photos::new();
    for state in all.iter().take(MAX_PHOTOS) {
        let Some((bytes, size_px)) = copies::of(store, state.photo) else {
            absent += 1;
            continue;
        };
        let pieces = counted(figures.state, state);
        let copy = Sha256Hex::of(&bytes);
        copies.insert(copy, bytes);
        let size_px = state
            .census
            .as_ref()
            .and_then(|c| c.size_px)
            .unwrap_or(size_px);
        shown.push(PhotoSaid {
            entry: state.stamp.entry,
            photo: state.photo,
            copy: Some(copy),
            size_px,
            title: title(state.subject),
            alt: alt(figures.state, state),
            rendered: demo,
            said: said(figures, state),
            counts: piece_counts(&pieces)?,
            outlines: outlines(&pieces, sized(state), size_px)?,
            limits: state
                .census
                .as_ref()
                .map(present::limits)
                .unwrap_or_default(),
        });
    }
    Ok(Shown {
        photos: shown,
        copies,
        missing: missing(absent, all.len().saturating_sub(MAX_PHOTOS)),
    })
}

fn missing(absent: usize, over: usize) -> Vec<String> {
    let photos = |n| {
        let n = u32::try_from(n).unwrap_or(u32::MAX);
        present::count_words(n, term!("photo"), term!("photos"))
    };
    let mut missing = Vec::new();
    if absent > 0 {
        missing.push(say!(
            "Not in this report: {} that did not reach the device that made it.",
            photos(absent)
        ));
    }
    if over > 0 {
        missing.push(say!(
            "Not in this report: {} more, which the shop keeps.",
            photos(over)
        ));
    }
    missing
}

fn title(subject: PhotoSubject) -> String {
    match subject {
        PhotoSubject::Patch => term!("Residue on white paper"),
        PhotoSubject::PatchAfterMagnet => {
            term!("The same residue after a magnet was passed over it")
        }
        PhotoSubject::Pan => term!("The pan as it came down, nothing wiped"),
        PhotoSubject::Magnet => term!("A magnet from the pan, before wiping"),
        PhotoSubject::Place => term!("Where a part goes back"),
        PhotoSubject::Filter => term!("The filter"),
        PhotoSubject::Part => term!("Parts, old and new"),
        PhotoSubject::Leak => term!("Leak check"),
        PhotoSubject::Other => term!("Photo"),
    }
    .to_owned()
}

fn alt(job: &JobState, state: &PhotoState) -> String {
    let what = present::subject_words(state.subject);
    match present::summary(job, state) {
        Some(summary) if summary.problem.is_none() => {
            say!("Photo of {}, pieces outlined: {}", what, summary.words)
        }
        _ => say!("Photo of {}", what),
    }
}

fn said(figures: &Figures<'_>, state: &PhotoState) -> Vec<Said> {
    let from = [
        Some(state.stamp.entry),
        state.census_stamp.as_ref().map(|s| s.entry),
        state.confirmed.as_ref().map(|s| s.entry),
    ];
    let Some(summary) = present::summary(figures.state, state) else {
        return vec![figures.said(
            say!("Taken of {}.", present::subject_words(state.subject)),
            [state.stamp.entry],
        )];
    };
    let stands = if summary.confirmed {
        say!("Counted by the tool, confirmed by the technician")
    } else {
        say!("Counted by the tool, not confirmed by the technician")
    };
    let corrected = state.corrections.len();
    let corrected = match corrected {
        0 => String::new(),
        n => format!(
            " ({})",
            present::count_words(
                u32::try_from(n).unwrap_or(u32::MAX),
                term!("correction"),
                term!("corrections")
            )
        ),
    };
    let from = from
        .into_iter()
        .flatten()
        .chain(state.corrections.iter().map(|c| c.stamp.entry));
    vec![figures.said(format!("{stands}{corrected}: {}.", summary.words), from)]
}

fn counted(job: &JobState, state: &PhotoState) -> Vec<Piece> {
    let mut pieces = patch::pieces(job, state);
    pieces.retain(|p| !p.not_debris);
    pieces
}

fn sized(state: &PhotoState) -> bool {
    state
        .census
        .as_ref()
        .and_then(|c| c.scale.as_ref())
        .is_some_and(|s| s.from != ScaleFrom::None)
}

fn piece_counts(pieces: &[Piece]) -> Result<Vec<PieceCount>, Problem> {
    present::counts(pieces.iter().map(|p| p.class))
        .into_iter()
        .map(|count| {
            Ok(PieceCount {
                class: count.class,
                n: count.n,
                lo: rounded(count.lo, 1)?,
                hi: rounded(count.hi, 1)?,
            })
        })
        .collect()
}

fn outlines(pieces: &[Piece], sized: bool, size_px: [u32; 2]) -> Result<Vec<Outline>, Problem> {
    pieces
        .iter()
        .map(|piece| {
            let machine = &piece.machine;
            let size = if sized {
                Some(SizeMm {
                    mm: rounded(machine.feret_max_mm, 2)?,
                    lo: rounded(machine.feret_max_lo, 2)?,
                    hi: rounded(machine.feret_max_hi, 2)?,
                })
            } else {
                None
            };
            Ok(Outline::from_px(
                piece.class,
                size,
                &machine.outline_px,
                size_px,
            ))
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
        let from = [before, after].map(|photo| photo.stamp.entry);
        if !from.iter().all(|photo| shows(shown, *photo)) {
            continue;
        }
        pairs.push(Pair {
            before: before.stamp.entry,
            after: after.stamp.entry,
            said: figures.said(pair_words(figures.state, before, after), from),
        });
    }
    pairs
}

fn pair_words(job: &JobState, before: &PhotoState, after: &PhotoState) -> String {
    let count = |photo: &PhotoState| {
        let pieces = counted(job, photo);
        let solid = pieces.iter().filter(|p| p.class != DebrisClass::Lint);
        present::count_words(
            u32::try_from(solid.count()).unwrap_or(u32::MAX),
            term!("piece was counted"),
            term!("pieces were counted"),
        )
    };
    let counted = say!(
        "Before the magnet {}, after it {}. What a magnet takes away is iron or steel.",
        count(before),
        count(after)
    );
    match patch::magnet_pair(job, before) {
        Some(Ok(pair)) => format!("{counted} {}", patch::magnet_words(&pair)),
        Some(Err(_)) | None => counted,
    }
}

/// Sizes of what was counted once: the patches, or the pan where there is no
/// patch, and what stands in the magnets.
pub(super) fn sizes(state: &JobState) -> Result<Vec<SizeBar>, Problem> {
    let patch = |p: &PhotoState| p.subject == PhotoSubject::Patch && sized(p);
    let ground = if state.photos.iter().any(patch) {
        PhotoSubject::Patch
    } else {
        PhotoSubject::Pan
    };
    let once = [ground, PhotoSubject::Magnet];
    let pieces: Vec<Piece> = patch::patches(state)
        .filter(|patch| once.contains(&patch.photos[0].subject))
        .flat_map(|patch| patch.pieces)
        .filter(|(photo, _)| sized(photo))
        .map(|(_, piece)| piece)
        .collect();
    let pieces: Vec<&Piece> = pieces.iter().collect();
    present::histogram(&pieces)
        .into_iter()
        .map(|bar| {
            let (lo, hi) = garwood(bar.n, 0.90);
            Ok(SizeBar {
                size: bar.size,
                label: bar.label,
                n: bar.n,
                lo: rounded(lo, 1)?,
                hi: rounded(hi, 1)?,
                by_class: bar
                    .by_class
                    .iter()
                    .map(|c| ClassPieces {
                        class: c.class,
                        n: c.n,
                    })
                    .collect(),
            })
        })
        .collect()
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
    shown.iter().any(|p| p.entry == photo)
}

/// What the photos of this job can't show, each said once.
pub(super) fn limits(state: &JobState) -> Vec<String> {
    let mut limits: Vec<String> = Vec::new();
    let smallest = state
        .photos
        .iter()
        .filter_map(|p| p.census.as_ref()?.smallest_mm)
        .fold(0.0, f64::max);
    if smallest > 0.0 {
        limits.push(say!(
            "In these photos nothing smaller than {} mm can be told for certain.",
            fixed(smallest, 1)
        ));
    }
    limits
}
