//! What the photos of one patch say together, and what a magnet took, in sentences.

use swarfbook_debris::patch::{MagnetPair, NoFit};
use swarfbook_job::fold::{JobState, PhotoState};
use swarfbook_judge::corrected::Piece;
use swarfbook_judge::patch::{
    Taken, Together, counted, held_against, magnet_pair, pieces, together,
};
use swarfbook_judge::record::compared;
use swarfbook_words::rounding::{down, up};
use swarfbook_words::{fixed, say};

use super::record::patch_repeats;
use crate::wording::clock_words;

/// What the photos of a patch say together, in sentences; empty for a photo on its own.
pub(crate) fn words(state: &JobState, photo: &PhotoState) -> Vec<String> {
    let mut said = Vec::new();
    let photos = counted(state, photo);
    if photos.len() > 1 {
        said.extend(together(state, photo).iter().flat_map(together_words));
    }
    if let Some(told) = compared(&photos) {
        said.extend(patch_repeats(&told));
    }
    let (before, pair) = match state.before_magnet(photo) {
        // Each photo after the magnet says what it shows itself.
        Some(before) => (before, held_against(before, photo)),
        None => (photo, magnet_pair(state, photo)),
    };
    match pair {
        Some(Ok(pair)) => said.push(magnet_words(&pair, &pieces(state, before))),
        Some(Err(why)) => said.push(say!(
            "before-and-after-the-magnet-cant-be-held",
            no_fit = no_fit_words(why)
        )),
        None => {}
    }
    said
}

fn together_words(patch: &Together) -> Vec<String> {
    let laid = patch.photos.len() - patch.apart.len();
    let n = patch
        .pieces
        .iter()
        .filter(|(_, p)| p.class.counts())
        .count();
    let mut said = Vec::new();
    if laid > 1 {
        said.push(say!(
            "laid-photos-of-this-patch-together-n-pieces",
            laid = laid,
            n = n,
            shared = patch.shared
        ));
    }
    said.extend(
        patch
            .apart
            .iter()
            .map(|(photo, why)| apart_words(photo, *why)),
    );
    said
}

/// That a photo is left out, and why.
pub(crate) fn apart_words(photo: &PhotoState, why: NoFit) -> String {
    say!(
        "the-photo-of-clock-is-not-counted-no",
        clock = clock_words(photo.stamp.wall),
        no_fit = no_fit_words(why)
    )
}

/// What a magnet took, piece by piece.
fn magnet_words(pair: &MagnetPair, pieces: &[Piece]) -> String {
    let of = |fate: Option<Taken>| {
        let debris = pieces.iter().filter(|p| !p.not_debris).zip(&pair.pieces);
        let solid = debris.filter(|(p, _)| p.class.counts());
        solid
            .filter(|(_, told)| Taken::of(told.fate) == fate)
            .count()
    };
    let words = say!(
        "ferrous-value-went-value-2-stayed",
        ferrous = ferrous_words(pair),
        value = of(Some(Taken::Went)),
        value_2 = of(Some(Taken::Stayed))
    );
    match of(None) {
        0 => format!("{words}."),
        n => say!("words-n-cant-be-told", words = words, n = n),
    }
}

/// The share that is iron or steel, with its interval.
pub(crate) fn ferrous_words(pair: &MagnetPair) -> String {
    let [share, lo, hi] = pair.ferrous.map(|share| 100.0 * share);
    say!(
        "iron-or-steel-by-the-magnet-about-share",
        share = fixed(share, 0),
        seen = pair.seen,
        lo = fixed(down(lo, 0), 0),
        hi = fixed(up(hi, 0), 0)
    )
}

fn no_fit_words(why: NoFit) -> String {
    match why {
        NoFit::NoScale => say!("one-of-the-photos-has-no-scale-lay"),
        NoFit::TooFew { pieces } => say!(
            "one-of-the-photos-shows-only-pieces-pieces",
            pieces = pieces
        ),
        NoFit::ByChance { partners } => say!(
            "only-partners-pieces-fall-on-one-another-no",
            partners = partners
        ),
    }
}
