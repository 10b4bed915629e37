//! In which order pieces are looked at: what the score hangs on first, then what is in doubt.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::count::{Size, Weighing, size_mm};
use crate::doubt::{SURE, sureness};
use crate::exposure::Exposure;
use crate::{Evidence, HazardTable, Observed, PhotoSeen};

/// The share of a photo's weight that its gravest pieces make up together. Project's own judgement.
const GRAVE_SHARE: f64 = 0.8;
/// The most pieces that are called grave: more are not looked at one by one. Project's own judgement.
const MOST_GRAVE: usize = 12;

/// Why a piece is looked at, or need not be.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum TrayPlace {
    /// The score hangs on it.
    Grave,
    /// The machine is not sure that it is one, or of its class.
    Doubtful,
    /// The machine is sure, and the score does not hang on it.
    Sure,
}

/// One piece in the order of looking.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Laid {
    /// Its place in the photo's list.
    pub piece: usize,
    /// Why it lies there.
    pub place: TrayPlace,
}

/// The pieces of a photo, gravest first, then most doubtful, then the sure ones of one class
/// together. Grave are the heaviest that make up 80 % of the photo's weight, at most twelve;
/// among equals the most doubtful comes first. `observations` are the job's.
pub fn tray(photo: &PhotoSeen, observations: &[Observed], table: &HazardTable) -> Vec<Laid> {
    let evidence = Evidence {
        observations: observations.to_vec(),
        ..Evidence::default()
    };
    let weighing = Weighing {
        evidence: &evidence,
        exposure: &Exposure::of(&evidence, table),
        table,
        taken: &BTreeSet::new(),
    };
    let weights: Vec<f64> = photo
        .particles
        .iter()
        .map(|piece| {
            let mm = size_mm(piece, table, Size::Best);
            weighing
                .weight(piece, piece.class, mm)
                .map_or(0.0, |weight| weight.k)
        })
        .collect();
    let sure: Vec<f64> = photo.particles.iter().map(sureness).collect();
    // What the machine says of a photo that is far off what it learned is never sure.
    let doubtful = |at: usize| sure[at] < SURE || (photo.unusual && sure[at] < 1.0);
    let mut heaviest: Vec<usize> = (0..weights.len()).collect();
    heaviest.sort_by(|&a, &b| {
        weights[b]
            .total_cmp(&weights[a])
            .then(sure[a].total_cmp(&sure[b]))
    });
    let all: f64 = weights.iter().sum();
    let mut so_far = 0.0;
    let mut grave = Vec::new();
    for &at in heaviest.iter().take(MOST_GRAVE) {
        if weights[at] <= 0.0 || so_far >= GRAVE_SHARE * all {
            break;
        }
        so_far += weights[at];
        grave.push(at);
    }
    let mut rest = heaviest.split_off(grave.len());
    rest.sort_by(|&a, &b| {
        let class = |at: usize| photo.particles[at].class;
        match (doubtful(a), doubtful(b)) {
            (true, true) => sure[a].total_cmp(&sure[b]),
            (false, false) => class(a)
                .cmp(&class(b))
                .then(weights[b].total_cmp(&weights[a])),
            (a, b) => b.cmp(&a),
        }
    });
    let laid = |piece, place| Laid { piece, place };
    let grave = grave.into_iter().map(|at| laid(at, TrayPlace::Grave));
    let rest = rest.into_iter().map(|at| {
        let place = if doubtful(at) {
            TrayPlace::Doubtful
        } else {
            TrayPlace::Sure
        };
        laid(at, place)
    });
    grave.chain(rest).collect()
}
