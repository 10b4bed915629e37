//! The hazard table: `data/hazard-1.toml` or a shop's own in the same form.

use serde::Deserialize;
use swarfbook_job::census::{DebrisClass, PhotoKind};
use swarfbook_words::say;

use crate::{Band, WearProblem};

const BUILT_IN: &str = include_str!("../data/hazard-1.toml");

/// Every number of the score, each with where it comes from.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HazardTable {
    /// Name of this table, kept with every score.
    pub version: String,
    /// Where each band begins, ascending.
    pub band: Vec<BandRow>,
    /// Exposure by distance.
    pub distance: DistanceRow,
    /// Exposure by area.
    pub area: AreaRows,
    /// Paste on the magnet.
    pub paste: PasteRow,
    /// Pieces without a size.
    pub unsized_piece: UnsizedRow,
    /// The piece that was not seen.
    pub unseen: UnseenRow,
    /// Distances to the next look.
    pub watch: WatchRow,
    /// Weights of observations.
    pub observation: Vec<ObservationRow>,
    /// Weights of debris.
    pub debris: Vec<DebrisRow>,
}

/// Where a band begins.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BandRow {
    /// The band.
    pub band: Band,
    /// Lowest score in it.
    pub from: f64,
    /// Where the number comes from.
    pub provenance: String,
}

/// `e = (km / reference_km)^power`, held between `least` and `most`.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DistanceRow {
    /// Distance at which the weights hold as they stand, km; also taken when
    /// the distance is unknown.
    pub reference_km: f64,
    /// How strongly distance excuses.
    pub power: f64,
    /// Least exposure.
    pub least: f64,
    /// Greatest exposure.
    pub most: f64,
    /// Where the numbers come from.
    pub provenance: String,
}

/// Exposure by area, a row for each kind of ground.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AreaRows {
    /// Patch paper.
    pub patch: AreaRow,
    /// The pan's floor.
    pub pan: AreaRow,
}

/// `e = searched / reference`, held between `least` and 1.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AreaRow {
    /// Area that shows the whole residue, cm².
    pub reference_cm2: f64,
    /// Least exposure.
    pub least: f64,
    /// Where the numbers come from.
    pub provenance: String,
}

/// Paste: `k * max(0, thickness * (bare + (1 - bare) * cover) - explained)`.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PasteRow {
    /// Hazard of one film too much.
    pub k: f64,
    /// Thickness of a thin film, in films.
    pub film: f64,
    /// Thickness of thick paste, in films.
    pub thick: f64,
    /// What paste counts whose cover is nearly nothing.
    pub bare: f64,
    /// Distance that explains one film, km.
    pub km_per_film: f64,
    /// The most that any distance explains, in films.
    pub explained_most: f64,
    /// Cover where no photo tells it.
    pub cover_unseen: f64,
    /// Lower end for that.
    pub cover_unseen_lo: f64,
    /// Upper end for that.
    pub cover_unseen_hi: f64,
    /// Where the numbers come from.
    pub provenance: String,
}

/// The size of a piece that no photo tells.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UnsizedRow {
    /// Taken size, mm.
    pub mm: f64,
    /// Lower end, mm.
    pub lo_mm: f64,
    /// Upper end, mm.
    pub hi_mm: f64,
    /// Where the numbers come from.
    pub provenance: String,
}

/// What one more piece would weigh where none was seen.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UnseenRow {
    /// Hazard of one piece.
    pub k: f64,
    /// Where the number comes from.
    pub provenance: String,
}

/// Distances to the next look, km.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WatchRow {
    /// In the band Active.
    pub active_km: f64,
    /// When the interval reaches far above the score.
    pub doubt_km: f64,
    /// When there is more than before.
    pub rising_km: f64,
    /// When the fluid foams.
    pub foam_km: f64,
    /// Where the numbers come from.
    pub provenance: String,
}

/// An observation that has a weight.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Weighed {
    /// Dark fluid.
    Dark,
    /// Metal hanging in the fluid.
    Glittering,
    /// Oxidised fluid.
    SharpSmell,
    /// Burnt fluid.
    BurntSmell,
    /// A piece whose origin can be told.
    Chunk,
    /// Some debris in the filter.
    FilterSome,
    /// Lining dust in the filter.
    FilterLiningDust,
    /// Metal in the filter.
    FilterMetal,
    /// A choked filter.
    FilterChoked,
}

impl Weighed {
    const ALL: [Weighed; 9] = [
        Weighed::Dark,
        Weighed::Glittering,
        Weighed::SharpSmell,
        Weighed::BurntSmell,
        Weighed::Chunk,
        Weighed::FilterSome,
        Weighed::FilterLiningDust,
        Weighed::FilterMetal,
        Weighed::FilterChoked,
    ];
}

/// The weight of an observation.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ObservationRow {
    /// The observation.
    pub what: Weighed,
    /// Its hazard.
    pub k: f64,
    /// Whether distance excuses it.
    pub excused: bool,
    /// Where the number comes from.
    pub provenance: String,
}

/// The weight of one piece of a class and size.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DebrisRow {
    /// The class.
    pub class: DebrisClass,
    /// Least Feret maximum, mm; up to the next row of the class.
    pub from_mm: f64,
    /// Hazard of one piece.
    pub k: f64,
    /// The most that the row adds before exposure by distance.
    #[serde(default)]
    pub cap: Option<f64>,
    /// Where the number comes from.
    pub provenance: String,
}

impl HazardTable {
    /// The table that ships.
    pub fn built_in() -> Result<HazardTable, WearProblem> {
        HazardTable::from_toml(BUILT_IN)
    }

    /// A table from its text; refused unless it keeps the score's promises.
    pub fn from_toml(text: &str) -> Result<HazardTable, WearProblem> {
        let table: HazardTable =
            toml::from_str(text).map_err(|error| WearProblem::Table(error.to_string()))?;
        table.check().map_err(WearProblem::Table)?;
        Ok(table)
    }

    /// The band of a score.
    pub fn band_of(&self, score: f64) -> Band {
        self.band
            .iter()
            .rev()
            .find(|row| score >= row.from)
            .map_or(Band::Clean, |row| row.band)
    }

    /// The row of a piece, by class and Feret maximum; `None` for lint.
    pub(crate) fn debris_row(&self, class: DebrisClass, feret_max_mm: f64) -> Option<&DebrisRow> {
        self.rows_of(class)
            .take_while(|row| row.from_mm <= feret_max_mm)
            .last()
    }

    /// Upper limit of a row, mm; `None` for the last of its class.
    pub(crate) fn upper_mm(&self, row: &DebrisRow) -> Option<f64> {
        self.rows_of(row.class)
            .map(|other| other.from_mm)
            .find(|from_mm| *from_mm > row.from_mm)
    }

    pub(crate) fn observation(&self, what: Weighed) -> Option<&ObservationRow> {
        self.observation.iter().find(|row| row.what == what)
    }

    /// Exposure by area of one kind of photo.
    pub(crate) fn area_row(&self, kind: PhotoKind) -> Option<&AreaRow> {
        match kind {
            PhotoKind::Patch => Some(&self.area.patch),
            PhotoKind::Pan => Some(&self.area.pan),
            PhotoKind::Magnet => None,
        }
    }

    fn rows_of(&self, class: DebrisClass) -> impl Iterator<Item = &DebrisRow> {
        self.debris.iter().filter(move |row| row.class == class)
    }

    fn check(&self) -> Result<(), String> {
        let bands: Vec<Band> = self.band.iter().map(|row| row.band).collect();
        if bands != Band::ALL || !ascending(self.band.iter().map(|row| row.from)) {
            return Err(say!(
                "the bands must be all five, in order, with rising limits"
            ));
        }
        for class in DebrisClass::ALL {
            let rows: Vec<&DebrisRow> = self.rows_of(class).collect();
            if class == DebrisClass::Lint {
                if !rows.is_empty() {
                    return Err(say!("lint is not wear and has no row"));
                }
                continue;
            }
            let from_zero = rows.first().is_some_and(|row| row.from_mm == 0.0);
            let sizes_rise = ascending(rows.iter().map(|row| row.from_mm));
            let weights_rise = rows.windows(2).all(|pair| pair[0].k <= pair[1].k);
            if !from_zero || !sizes_rise || !weights_rise {
                return Err(say!(
                    "the rows of {} must begin at 0 mm and rise in size, and never fall in weight",
                    format_args!("{class:?}")
                ));
            }
        }
        for what in Weighed::ALL {
            if self.observation(what).is_none() {
                return Err(say!(
                    "the observation {} has no row",
                    format_args!("{what:?}")
                ));
            }
        }
        let d = &self.distance;
        let p = &self.paste;
        let positive = [d.reference_km, d.least, d.most, p.km_per_film]
            .into_iter()
            .chain([self.area.patch.reference_cm2, self.area.pan.reference_cm2])
            .chain([self.area.patch.least, self.area.pan.least, self.unseen.k])
            .chain([self.watch.active_km, self.watch.doubt_km])
            .chain([self.watch.rising_km, self.watch.foam_km]);
        let not_negative = [d.power, p.k, p.film, p.thick, p.explained_most]
            .into_iter()
            .chain(self.observation.iter().map(|row| row.k))
            .chain(self.debris.iter().map(|row| row.k))
            .chain(self.debris.iter().filter_map(|row| row.cap));
        let shares = [p.bare, p.cover_unseen, p.cover_unseen_lo, p.cover_unseen_hi];
        if !positive.into_iter().all(|x| x.is_finite() && x > 0.0)
            || !not_negative.into_iter().all(|x| x.is_finite() && x >= 0.0)
            || !shares.iter().all(|x| (0.0..=1.0).contains(x))
            || d.least > d.most
            || p.film > p.thick
            || self.area.patch.least > 1.0
            || self.area.pan.least > 1.0
        {
            return Err(say!("a number is outside of its range"));
        }
        Ok(())
    }
}

fn ascending(values: impl Iterator<Item = f64>) -> bool {
    let values: Vec<f64> = values.collect();
    values.iter().all(|value| value.is_finite()) && values.windows(2).all(|pair| pair[0] < pair[1])
}
