//! Pieces whose origin can be told: each stands for the piece that shows it.

use std::collections::{BTreeMap, BTreeSet};

use swarfbook_job::census::{DebrisClass, PhotoKind};

use crate::count::{Size, Weighing, size_mm};
use crate::exposure::Exposure;
use crate::table::{HazardTable, PartRow};
use crate::{Evidence, KnownPart, Observation, PieceAt};

/// Smaller pieces are not what a technician names, mm.
const NAMED_FROM_MM: f64 = 1.0;

/// A part that was named.
pub(crate) struct Named<'a> {
    pub part: KnownPart,
    /// In the technician's words, where there are some.
    pub words: &'a str,
    pub id: &'a str,
    pub hazard: f64,
    pub provenance: &'a str,
    /// The pieces that it stands for.
    pub pieces: Vec<PieceAt>,
}

/// What was named, and the pieces (photo, piece) that do not count beside it.
pub(crate) struct Names<'a> {
    pub named: Vec<Named<'a>>,
    pub taken: BTreeSet<(usize, usize)>,
}

impl<'a> Names<'a> {
    pub(crate) fn of(
        evidence: &'a Evidence,
        exposure: &Exposure,
        table: &'a HazardTable,
    ) -> Names<'a> {
        let mut names = Names {
            named: Vec::new(),
            taken: BTreeSet::new(),
        };
        let mut said: Vec<(&PartRow, &str, &str)> = evidence
            .observations
            .iter()
            .filter_map(|observed| match &observed.observation {
                Observation::Chunk { part, named } => {
                    Some((table.part(*part)?, observed.id.as_str(), named.as_str()))
                }
                _ => None,
            })
            .collect();
        // The same in whatever order it was said. The gravest stands for the gravest piece: a part more, by
        // which it would stand for a lesser one, would lower the sum.
        said.sort_by(|(a, a_id, a_words), (b, b_id, b_words)| {
            (b.k.total_cmp(&a.k)).then((a.what, a_id, a_words).cmp(&(b.what, b_id, b_words)))
        });
        for (row, id, words) in said {
            names.add(evidence, exposure, table, row, id, words);
        }
        names
    }

    fn add(
        &mut self,
        evidence: &'a Evidence,
        exposure: &Exposure,
        table: &'a HazardTable,
        row: &'a PartRow,
        id: &'a str,
        words: &'a str,
    ) {
        let weighing = Weighing {
            evidence,
            exposure,
            table,
            taken: &BTreeSet::new(),
        };
        let mut shown: BTreeMap<PhotoKind, Shown> = BTreeMap::new();
        for (at, photo) in evidence.photos.iter().enumerate() {
            if photo.again {
                continue;
            }
            for (piece, particle) in photo.particles.iter().enumerate() {
                let mm = size_mm(particle, table, Size::Best);
                let free = !self.taken.contains(&(at, piece));
                let (Some(seen), Some(weight)) = (
                    weighing.weight_seen(particle.class, mm),
                    weighing.weight(particle, particle.class, mm),
                ) else {
                    continue;
                };
                if !free || mm < NAMED_FROM_MM || !row.stands_for.contains(&particle.class) {
                    continue;
                }
                // Which piece it is does not hang on what the finger felt of the others.
                let larger = |had: &Shown| {
                    (seen.k.total_cmp(&had.k))
                        .then(mm.total_cmp(&had.mm))
                        .is_gt()
                };
                if shown.get(&photo.kind).is_none_or(larger) {
                    shown.insert(
                        photo.kind,
                        Shown {
                            hazard: weight.k / (exposure.area(photo.kind) * exposure.distance),
                            k: seen.k,
                            mm,
                            row: (weight.class, weight.grains, weight.from_mm.to_bits()),
                            at: (at, piece),
                        },
                    );
                }
            }
        }
        // What the pieces weighed is the least that a broken part weighs.
        let of = |kind| shown.get(&kind).map_or(0.0, |one| one.hazard);
        let (pan, patch) = (of(PhotoKind::Pan), of(PhotoKind::Patch));
        let row_of = |kind| shown.get(&kind).map(|one| one.row);
        // Pan and patch show one residue: of one row the greater counts.
        let taken: Vec<(usize, usize)> = shown.values().map(|one| one.at).collect();
        let residue = if row_of(PhotoKind::Pan) == row_of(PhotoKind::Patch) {
            let lesser = if pan > patch {
                PhotoKind::Patch
            } else {
                PhotoKind::Pan
            };
            shown.remove(&lesser);
            pan.max(patch)
        } else {
            pan + patch
        };
        let magnet = shown.get(&PhotoKind::Magnet).map_or(0.0, |one| one.hazard);
        let weighed = residue + magnet;
        let hazard = if row.harmless {
            row.k
        } else {
            row.k.max(weighed)
        };
        let piece_at = |one: &Shown| {
            let photo = evidence.photos.get(one.at.0)?;
            photo.particles.get(one.at.1)?.at.clone()
        };
        self.named.push(Named {
            part: row.what,
            words,
            id,
            hazard,
            provenance: &row.provenance,
            pieces: shown.values().filter_map(piece_at).collect(),
        });
        self.taken.extend(taken);
    }
}

/// The largest piece of a kind of photo that can be the part.
struct Shown {
    hazard: f64,
    /// Its weight as it looks.
    k: f64,
    mm: f64,
    /// Its row of the table.
    row: (DebrisClass, bool, u64),
    at: (usize, usize),
}
