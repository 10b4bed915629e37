//! How the machine's reading of a job's photos compares with what the technician made of it: worked out from the log
//! each time, so that what is taken back is gone from here too.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use swarfbook_debris::patch::{Repeatability, Repeats, repeats};
use swarfbook_debris::{Known, before_calibration};
use swarfbook_job::census::{Census, DebrisClass, Particle, SizeClass};
use swarfbook_job::fold::{JobState, PhotoState};
use swarfbook_job::id::EntryId;

use crate::patch;

/// So many photos of one patch tell how well they repeat.
const TAKES: usize = 3;
/// Fewer pieces on the ground that all of them show, on average, tell nothing: photos of one patch that lie side by side
/// hardly overlap.
const LEAST_SHARED: f64 = 5.0;

/// What a piece that the machine outlined turned out to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Truth {
    /// A piece of this class.
    Debris(DebrisClass),
    /// No debris.
    NotDebris,
    /// Two pieces, or a part of one: the outline was wrong.
    Redrawn,
}

/// The machine's own pieces of a photo whose count the technician stands by, each with what it turned out to be; empty
/// for other photos: there only what was wrong may have been corrected so far.
pub fn looked_at<'a>(state: &JobState, photo: &'a PhotoState) -> Vec<(&'a Particle, Truth)> {
    let confirmed = photo.confirmed.is_some();
    let census = photo
        .census
        .as_ref()
        .filter(|c| confirmed && c.problem.is_none());
    let Some(census) = census else {
        return Vec::new();
    };
    let place = |p: &Particle| (p.x_px.to_bits(), p.y_px.to_bits());
    let stand: BTreeMap<_, Truth> = patch::pieces(state, photo)
        .into_iter()
        .filter(|piece| !piece.redrawn)
        .map(|piece| {
            let truth = if piece.not_debris {
                Truth::NotDebris
            } else {
                Truth::Debris(piece.class)
            };
            (place(&piece.machine), truth)
        })
        .collect();
    let truth = |p: &Particle| stand.get(&place(p)).copied().unwrap_or(Truth::Redrawn);
    census.particles.iter().map(|p| (p, truth(p))).collect()
}

/// Pieces that the machine said were of one class and one size.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Cell {
    /// The class that the machine said.
    pub class: DebrisClass,
    /// Its length class; none in a photo without a scale.
    pub size: Option<SizeClass>,
    /// Pieces that a technician looked at.
    pub n: u32,
    /// Of them right: debris of that class.
    pub right: u32,
    /// Of them no debris.
    pub not_debris: u32,
    /// Of them parted or joined.
    pub redrawn: u32,
}

/// Photos of one patch held against each other.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Takes {
    /// What each photo counts.
    pub counts: Vec<f64>,
    /// Repeatability standard deviation of lengths, as a share of the length.
    pub lengths_s_r: f64,
    /// Degrees of freedom behind it.
    pub lengths_degrees: usize,
}

/// What one job adds to the shop's record.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct JobRecord {
    /// Photos whose count the technician stands by.
    pub photos: u32,
    /// Their pieces.
    pub cells: Vec<Cell>,
    /// Patches of which there are enough photos.
    pub takes: Vec<Takes>,
}

impl JobRecord {
    /// What the job's confirmed photos add.
    pub fn of(state: &JobState) -> JobRecord {
        let mut record = JobRecord::default();
        for photo in &state.photos {
            let pieces = looked_at(state, photo);
            record.photos += u32::from(!pieces.is_empty());
            for (piece, truth) in pieces {
                record.add(sized(photo, piece), piece.class, truth);
            }
        }
        record.takes = takes(state);
        record
    }

    fn add(&mut self, size: Option<SizeClass>, class: DebrisClass, truth: Truth) {
        let same = |cell: &&mut Cell| cell.class == class && cell.size == size;
        let at = self.cells.iter_mut().find(same);
        let cell = match at {
            Some(cell) => cell,
            None => {
                self.cells.push(Cell {
                    class,
                    size,
                    n: 0,
                    right: 0,
                    not_debris: 0,
                    redrawn: 0,
                });
                let Some(last) = self.cells.last_mut() else {
                    return;
                };
                last
            }
        };
        cell.n += 1;
        cell.right += u32::from(truth == Truth::Debris(class));
        cell.not_debris += u32::from(truth == Truth::NotDebris);
        cell.redrawn += u32::from(truth == Truth::Redrawn);
    }
}

/// The pieces of a job that teach a calibration: debris whose class the technician confirmed or corrected, each with the
/// probabilities that the machine itself gave it. `but` is a photo whose count is being made anew.
pub fn known(state: &JobState, but: Option<EntryId>) -> Vec<Known> {
    let photos = state.photos.iter();
    let photos = photos.filter(|p| Some(p.stamp.entry) != but);
    let mut known = Vec::new();
    for photo in photos {
        let by = photo.census.as_ref().and_then(|c| c.calibration.as_ref());
        for (piece, truth) in looked_at(state, photo) {
            if let Truth::Debris(class) = truth {
                let p = match by {
                    Some(by) => before_calibration(&piece.p, by),
                    None => piece.p.clone(),
                };
                known.push(Known { p, class });
            }
        }
    }
    known
}

fn sized(photo: &PhotoState, piece: &Particle) -> Option<SizeClass> {
    let scale = photo.census.as_ref()?.scale.as_ref()?;
    (scale.px_per_mm > 0.0).then_some(piece.iso16232)
}

/// The photos of a patch as the machine read them, held against each other; `None` for fewer than three, and where they
/// can't be laid on one another. What the technician corrected is left out: it is not what repeats.
pub fn compared(photos: &[&PhotoState]) -> Option<Repeats> {
    let censuses: Vec<&Census> = photos.iter().filter_map(|p| p.census.as_ref()).collect();
    if censuses.len() < TAKES {
        return None;
    }
    let told = repeats(&censuses).ok()?;
    let mean = told.counts.iter().sum::<f64>() / told.counts.len() as f64;
    (mean >= LEAST_SHARED).then_some(told)
}

/// The patches of a job of which there are enough photos.
pub fn takes(state: &JobState) -> Vec<Takes> {
    patch::leaders(state)
        .filter_map(|photo| compared(&patch::counted(state, photo)))
        .filter_map(|told| {
            let lengths = lengths(&told)?;
            Some(Takes {
                counts: told.counts,
                lengths_s_r: lengths.s_r,
                lengths_degrees: lengths.degrees,
            })
        })
        .collect()
}

/// How well lengths repeat, as a share of the length.
pub fn lengths(told: &Repeats) -> Option<Repeatability> {
    let cells: Vec<Vec<f64>> = told.relative_lengths().collect();
    Repeatability::of(cells.iter().map(Vec::as_slice))
}

/// All jobs of a shop together.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ShopRecord {
    /// Photos whose count a technician stands by.
    pub photos: u32,
    /// Their pieces, by class and size.
    pub cells: Vec<Cell>,
    /// Patches of which there are enough photos.
    pub takes: Vec<Takes>,
}

/// So many of so many.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Tally {
    /// How many were looked at.
    pub n: u32,
    /// Of them right.
    pub right: u32,
}

impl ShopRecord {
    /// The record has enough pieces to be cited.
    pub const CITED_FROM: u32 = 100;

    /// Pieces that are debris and whose outline stood: those that a calibration learns from.
    pub fn teaching(&self) -> u32 {
        let [none, redrawn] = self.none_and_redrawn();
        self.all().n - none - redrawn
    }

    /// Adds a job.
    pub fn add(&mut self, job: JobRecord) {
        self.photos += job.photos;
        self.cells.extend(job.cells);
        self.takes.extend(job.takes);
    }

    /// All pieces.
    pub fn all(&self) -> Tally {
        tally(self.cells.iter())
    }

    /// By the class that the machine said.
    pub fn by_class(&self) -> BTreeMap<DebrisClass, Tally> {
        let of = |class| tally(self.cells.iter().filter(|cell| cell.class == class));
        let classes = self.cells.iter().map(|cell| cell.class);
        classes.map(|class| (class, of(class))).collect()
    }

    /// By length class; pieces without a size are left out.
    pub fn by_size(&self) -> BTreeMap<SizeClass, Tally> {
        let of = |size| tally(self.cells.iter().filter(|cell| cell.size == Some(size)));
        let sizes = self.cells.iter().filter_map(|cell| cell.size);
        sizes.map(|size| (size, of(size))).collect()
    }

    /// Pieces that were none, and pieces whose outline was drawn anew.
    pub fn none_and_redrawn(&self) -> [u32; 2] {
        self.cells.iter().fold([0, 0], |[none, redrawn], cell| {
            [none + cell.not_debris, redrawn + cell.redrawn]
        })
    }

    /// How well counts repeat, in pieces.
    pub fn counts(&self) -> Option<Repeatability> {
        Repeatability::of(self.takes.iter().map(|takes| takes.counts.as_slice()))
    }

    /// The repeatability standard deviation of lengths, as a share of the length.
    pub fn lengths_s_r(&self) -> Option<f64> {
        let degrees: usize = self.takes.iter().map(|t| t.lengths_degrees).sum();
        let squares = |t: &Takes| t.lengths_s_r.powi(2) * t.lengths_degrees as f64;
        let sum: f64 = self.takes.iter().map(squares).sum();
        (degrees > 0).then(|| (sum / degrees as f64).sqrt())
    }
}

fn tally<'a>(cells: impl Iterator<Item = &'a Cell>) -> Tally {
    cells.fold(Tally::default(), |sum, cell| Tally {
        n: sum.n + cell.n,
        right: sum.right + cell.right,
    })
}
