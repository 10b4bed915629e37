//! How far photos of one patch differ: repeatability as ISO 5725 defines it.
//!
//! One person takes several photos of one patch with one phone, shortly one after the other: repeatability
//! conditions (ISO 5725-1, 3.14). A quantity measured in each of them is a cell of replicates; cells are pooled as
//! ISO 5725-2, 7.4.5 pools them. No outlier is taken out (no Cochran's or Grubbs' test): what differs is told.

use swarfbook_job::census::Census;

use super::align::{Motion, NoFit, align, pair_up};
use super::merge::SAME_MM;
use super::sheet::Sheet;

/// Nearer than this to a photo's edge or to the card a piece may be cut or hidden, mm.
const MARGIN_MM: f64 = 2.0;

/// The spread of replicates.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Repeatability {
    /// Mean of all results, in their unit.
    pub mean: f64,
    /// Repeatability standard deviation, in their unit.
    pub s_r: f64,
    /// Degrees of freedom that it rests on: results less cells.
    pub degrees: usize,
}

impl Repeatability {
    /// Pools cells of replicates: `s_r² = Σ (n - 1) s² / Σ (n - 1)`. `None` where no cell has two.
    pub fn of<'a>(cells: impl IntoIterator<Item = &'a [f64]>) -> Option<Repeatability> {
        let (mut sum, mut squares, mut results, mut degrees) = (0.0, 0.0, 0usize, 0usize);
        for cell in cells.into_iter().filter(|cell| !cell.is_empty()) {
            let mean = cell.iter().sum::<f64>() / cell.len() as f64;
            squares += cell.iter().map(|x| (x - mean).powi(2)).sum::<f64>();
            sum += cell.iter().sum::<f64>();
            results += cell.len();
            degrees += cell.len() - 1;
        }
        (degrees > 0).then(|| Repeatability {
            mean: sum / results as f64,
            s_r: (squares / degrees as f64).sqrt(),
            degrees,
        })
    }

    /// Repeatability limit r: two results differ by less in 95 of 100 cases (ISO 5725-6, 4.1: 1.96 √2, rounded to
    /// 2.8).
    pub fn limit(&self) -> f64 {
        2.8 * self.s_r
    }
}

/// What the photos of one patch say of the ground that all of them show.
#[derive(Debug, Clone, PartialEq)]
pub struct Repeats {
    /// Pieces from `least_mm` on that each photo shows there, lint left out.
    pub counts: Vec<f64>,
    /// The lengths (Feret maximum, mm) of each piece that more than one photo shows.
    pub lengths_mm: Vec<Vec<f64>>,
    /// The smallest piece that each of the photos can show, mm.
    pub least_mm: f64,
}

impl Repeats {
    /// The same lengths, each over its piece's mean: what is pooled then is a share, since errors grow with length.
    pub fn relative_lengths(&self) -> impl Iterator<Item = Vec<f64>> {
        self.lengths_mm.iter().map(|cell| {
            let mean = cell.iter().sum::<f64>() / cell.len() as f64;
            cell.iter().map(|mm| mm / mean).collect()
        })
    }
}

/// Lays photos of one patch on the first of them and compares them, in the order given.
///
/// # Errors
/// Why they can't be compared: one has no scale, shows too few pieces, or is of another patch.
pub fn repeats(photos: &[&Census]) -> Result<Repeats, NoFit> {
    let sheets: Option<Vec<Sheet>> = photos.iter().map(|census| Sheet::of(census)).collect();
    let sheets = sheets.ok_or(NoFit::NoScale)?;
    let Some((first, others)) = sheets.split_first() else {
        return Err(NoFit::NoScale);
    };
    let mut motions = vec![Motion::still()];
    for sheet in others {
        motions.push(align(sheet, first)?.motion);
    }
    let seen_by_all = |on_first: [f64; 2]| {
        let mut each = sheets.iter().zip(&motions);
        each.all(|(sheet, motion)| sheet.sees(motion.inverse().apply(on_first), MARGIN_MM))
    };
    let least = photos.iter().filter_map(|census| census.smallest_mm);
    let least_mm = least.fold(0.0, f64::max);
    let counts_piece = |sheet: &Sheet, motion: &Motion, index: usize| {
        let (spot, piece) = (&sheet.spots[index], &sheet.census.particles[index]);
        piece.class.counts() && spot.feret_mm >= least_mm && seen_by_all(motion.apply(spot.at))
    };
    let counts = sheets.iter().zip(&motions).map(|(sheet, motion)| {
        let all = 0..sheet.spots.len();
        all.filter(|index| counts_piece(sheet, motion, *index))
            .count() as f64
    });
    let mut lengths_mm: Vec<Vec<f64>> = first.spots.iter().map(|s| vec![s.feret_mm]).collect();
    for (sheet, motion) in sheets.iter().zip(&motions).skip(1) {
        for (other, own) in pair_up(sheet, first, motion, SAME_MM) {
            lengths_mm[own].push(sheet.spots[other].feret_mm);
        }
    }
    let wanted = |index: usize| counts_piece(first, &motions[0], index);
    let lengths_mm = lengths_mm.into_iter().enumerate();
    Ok(Repeats {
        counts: counts.collect(),
        lengths_mm: lengths_mm
            .filter(|(index, cell)| cell.len() > 1 && wanted(*index))
            .map(|(_, cell)| cell)
            .collect(),
        least_mm,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Sulfur in coal, mass per cent, eight laboratories: the worked example of ISO 5725-2:1994, Annex B.1, levels 1, 3
    /// and 4, with its general means and repeatability standard deviations as printed. Data and results from memory; the
    /// results follow from the data by numpy, too.
    #[test]
    fn the_worked_example_of_the_standard() {
        let level_1: [&[f64]; 8] = [
            &[0.71, 0.71, 0.70, 0.71],
            &[0.69, 0.67, 0.68],
            &[0.66, 0.65, 0.69],
            &[0.67, 0.65, 0.66],
            &[0.70, 0.69, 0.66, 0.71, 0.69],
            &[0.73, 0.74, 0.73],
            &[0.71, 0.71, 0.69],
            &[0.70, 0.65, 0.68],
        ];
        let level_3: [&[f64]; 8] = [
            &[1.68, 1.70, 1.68, 1.69],
            &[1.64, 1.64, 1.65],
            &[1.61, 1.61, 1.62],
            &[1.68, 1.66, 1.66],
            &[1.64, 1.67, 1.60, 1.66, 1.68],
            &[1.70, 1.73, 1.73],
            &[1.69, 1.70, 1.68],
            &[1.67, 1.68, 1.67],
        ];
        let level_4: [&[f64]; 8] = [
            &[3.26, 3.26, 3.20, 3.24],
            &[3.20, 3.20, 3.20],
            &[3.37, 3.36, 3.38],
            &[3.16, 3.22, 3.23],
            &[3.20, 3.19, 3.18, 3.27, 3.24],
            &[3.27, 3.31, 3.29],
            &[3.27, 3.24, 3.23],
            &[3.25, 3.26, 3.26],
        ];
        for (level, mean, s_r, limit) in [
            (level_1, 0.690, 0.015, 0.042_33),
            (level_3, 1.667, 0.017, 0.047_82),
            (level_4, 3.250, 0.026, 0.073_02),
        ] {
            let pooled = Repeatability::of(level).unwrap();
            assert!((pooled.mean - mean).abs() < 5e-4, "{pooled:?}");
            assert!((pooled.s_r - s_r).abs() < 5e-4, "{pooled:?}");
            assert!((pooled.limit() - limit).abs() < 1e-5, "{pooled:?}");
            assert_eq!(pooled.degrees, 27 - 8);
        }
    }

    #[test]
    fn one_result_a_cell_says_nothing_of_repeating() {
        assert_eq!(Repeatability::of([[3.0].as_slice(), &[4.0], &[]]), None);
        assert_eq!(Repeatability::of([]), None);
        let same = Repeatability::of([[3.0, 3.0].as_slice()]).unwrap();
        assert_eq!((same.s_r, same.degrees), (0.0, 1));
    }
}
