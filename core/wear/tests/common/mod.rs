//! Short ways to say what is in a pan.
#![allow(dead_code)]

use std::collections::BTreeMap;

use swarfbook_job::census::{DebrisClass, MagnetCover, PhotoKind};
use swarfbook_wear::{Evidence, LengthMm, Observation, Observed, ParticleSeen, PhotoSeen};

pub fn photo(id: &str, kind: PhotoKind) -> PhotoSeen {
    PhotoSeen {
        id: id.to_owned(),
        kind,
        again: false,
        unconfirmed: false,
        unusual: false,
        particles: Vec::new(),
        searched_cm2: (kind != PhotoKind::Magnet).then_some(match kind {
            PhotoKind::Pan => 600.0,
            _ => 120.0,
        }),
        smallest_mm: None,
        cover: None,
    }
}

pub fn piece(class: DebrisClass, mm: f64) -> ParticleSeen {
    ParticleSeen {
        class,
        p: BTreeMap::from([(class, 1.0)]),
        feret_max: Some(LengthMm {
            mm,
            lo: mm * 0.97,
            hi: mm * 1.03,
        }),
        real: None,
        compact: None,
        at: None,
    }
}

pub fn patch(particles: Vec<ParticleSeen>) -> PhotoSeen {
    PhotoSeen {
        particles,
        ..photo("patch", PhotoKind::Patch)
    }
}

pub fn cover(cover: f64) -> MagnetCover {
    MagnetCover {
        cover,
        cover_lo: (cover - 0.04).max(0.0),
        cover_hi: (cover + 0.04).min(1.0),
    }
}

pub fn observed(id: &str, observation: Observation) -> Observed {
    Observed {
        id: id.to_owned(),
        observation,
    }
}

pub fn pan_of(km: f64, particles: Vec<ParticleSeen>) -> Evidence {
    Evidence {
        photos: vec![patch(particles)],
        km_since_clean: Some(km),
        ..Evidence::default()
    }
}
