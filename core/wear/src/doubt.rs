//! Pieces that the machine alone saw and is not sure of.

use swarfbook_job::census;
use swarfbook_words::say;

use crate::{Advice, Assessment, Evidence, ParticleSeen, PhotoSeen};

/// A piece that is one, and of its class, with less than this probability is not sure. Common practice, no published source; the
/// number is the project's own judgement.
pub(crate) const SURE: f64 = 0.7;

/// Photos that count and that nobody stood by.
pub(crate) fn unconfirmed(evidence: &Evidence) -> impl Iterator<Item = &PhotoSeen> {
    let photos = evidence.photos.iter();
    photos.filter(|photo| photo.unconfirmed && !photo.again)
}

/// The evidence as it is where nothing is in doubt.
pub(crate) struct Sure {
    pub evidence: Evidence,
    /// How many pieces were left out.
    pub left_out: usize,
}

/// Leaves out what the machine alone saw and is not sure of.
pub(crate) fn without_doubtful(evidence: &Evidence) -> Sure {
    let mut sure = Sure {
        evidence: evidence.clone(),
        left_out: 0,
    };
    for photo in &mut sure.evidence.photos {
        if !photo.unconfirmed || photo.again {
            continue;
        }
        let unusual = photo.unusual;
        let before = photo.particles.len();
        photo.particles.retain(|piece| !unusual && is_sure(piece));
        sure.left_out += before - photo.particles.len();
    }
    sure
}

fn is_sure(piece: &ParticleSeen) -> bool {
    sureness(piece) >= SURE
}

pub(crate) fn sureness(piece: &ParticleSeen) -> f64 {
    census::sureness(piece.class, &piece.p, piece.real)
}

/// What opening up hangs on, and what it would be without.
pub(crate) fn words(with: &Assessment, without: &Assessment, pieces: usize) -> String {
    let advised = |advice: Advice| advice.name();
    say!(
        "look-at-the-pieces-first-pieces-of-them",
        pieces = pieces,
        band = with.band.words(),
        advised = advised(with.advice.advised),
        band_2 = without.band.words(),
        advised_2 = advised(without.advice.advised)
    )
}
