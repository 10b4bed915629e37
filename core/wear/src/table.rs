//! The hazard table: `data/hazard-3.toml` or a shop's own in the same form.

mod check;

use serde::{Deserialize, Serialize};
use swarfbook_job::census::{DebrisClass, PhotoKind};
use ts_rs::TS;

use crate::{Band, KnownPart, WearProblem};

const BUILT_IN: &str = include_str!("../data/hazard-3.toml");

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
    /// Rows that count together.
    pub group: GroupRows,
    /// What a first opening excuses.
    pub first_opening: FirstOpeningRow,
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
    /// Weights of pieces whose origin can be told.
    pub part: Vec<PartRow>,
    /// Weights of steel that is felt as grains.
    pub grain: GrainRows,
    /// Weights of debris.
    pub debris: Vec<DebrisRow>,
}

/// Signs of one thing, which may not be counted for each sign.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Group {
    /// Old fluid in an old gearbox.
    Age,
    /// From repairs and the road.
    Foreign,
}

impl Group {
    /// Every group.
    pub const ALL: [Group; 2] = [Group::Age, Group::Foreign];
}

/// A row for each group.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GroupRows {
    /// Old fluid in an old gearbox.
    pub age: GroupRow,
    /// From repairs and the road.
    pub foreign: GroupRow,
}

/// How much a group adds at the most.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GroupRow {
    /// The most that its rows add together.
    pub cap: f64,
    /// Divided by the exposure of the distance.
    pub excused: bool,
    /// Where the numbers come from.
    pub provenance: String,
}

/// What running in and manufacture leave in a pan that is opened for the first time.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FirstOpeningRow {
    /// Films on the magnet that running in explains.
    pub films: f64,
    /// Flakes of metal under this size are of running in, mm.
    pub small_mm: f64,
    /// What is taken off them together, before exposure by distance.
    pub small_free: f64,
    /// Slivers under this size are swarf, mm.
    pub swarf_mm: f64,
    /// What is taken off them together, before exposure by distance.
    pub swarf_free: f64,
    /// Where the numbers come from.
    pub provenance: String,
}

/// The weight of a piece whose origin can be told.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PartRow {
    /// What it is a piece of.
    pub what: KnownPart,
    /// Hazard of one such piece.
    pub k: f64,
    /// It takes away the weight of the piece that shows it.
    #[serde(default)]
    pub harmless: bool,
    /// The classes as which a photo can show it.
    pub stands_for: Vec<DebrisClass>,
    /// Where the number comes from.
    pub provenance: String,
}

/// Weights of compact steel that the finger feels as grains.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GrainRows {
    /// Least over greatest Feret diameter from which a piece is compact.
    pub compact: f64,
    /// Where the numbers come from.
    pub provenance: String,
    /// By size.
    pub row: Vec<GrainRow>,
}

/// The weight of a grain.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GrainRow {
    /// Least Feret maximum, mm; up to the next row.
    pub from_mm: f64,
    /// Hazard of one grain.
    pub k: f64,
}

/// Where a band begins.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BandRow {
    /// The one that begins here.
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
    /// When a unit was run in.
    pub running_in_km: f64,
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
    const ALL: [Weighed; 8] = [
        Weighed::Dark,
        Weighed::Glittering,
        Weighed::SharpSmell,
        Weighed::BurntSmell,
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
    /// What was seen, smelt or felt.
    pub what: Weighed,
    /// Hazard, once, however often it was seen.
    pub k: f64,
    /// Whether distance excuses it.
    pub excused: bool,
    /// The group that it counts with.
    #[serde(default)]
    pub group: Option<Group>,
    /// Where the number comes from.
    pub provenance: String,
}

/// The weight of one piece of a class and size.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DebrisRow {
    /// What the piece is made of.
    pub class: DebrisClass,
    /// Least Feret maximum, mm; up to the next row of the class.
    pub from_mm: f64,
    /// Hazard of one piece.
    pub k: f64,
    /// So much hazard is in any pan, and counts by `free_counts` only; before the cap.
    #[serde(default)]
    pub free: f64,
    /// The share of `free` that counts, 0 to 1.
    #[serde(default)]
    pub free_counts: f64,
    /// The most that the row adds before exposure by distance.
    #[serde(default)]
    pub cap: Option<f64>,
    /// The group that it counts with.
    #[serde(default)]
    pub group: Option<Group>,
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

    /// The score at which each band begins, from none to worst.
    pub fn band_limits(&self) -> Vec<f64> {
        self.band.iter().map(|row| row.from).collect()
    }

    /// The band of a score.
    pub fn band_of(&self, score: f64) -> Band {
        self.band
            .iter()
            .rev()
            .find(|row| score >= row.from)
            .map_or(Band::Clean, |row| row.band)
    }

    /// The row of a piece, by class and Feret maximum; `None` for what weighs nothing.
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

    /// The row of a piece whose origin can be told.
    pub(crate) fn part(&self, what: KnownPart) -> Option<&PartRow> {
        self.part.iter().find(|row| row.what == what)
    }

    /// How much a group adds at the most.
    pub(crate) fn group_row(&self, group: Group) -> &GroupRow {
        match group {
            Group::Age => &self.group.age,
            Group::Foreign => &self.group.foreign,
        }
    }

    /// The row of a grain by its Feret maximum, and where the next one begins, mm.
    pub(crate) fn grain_row(&self, feret_max_mm: f64) -> Option<(&GrainRow, Option<f64>)> {
        let rows = &self.grain.row;
        let at = rows.iter().rposition(|row| row.from_mm <= feret_max_mm)?;
        let next = rows.get(at + 1).map(|row| row.from_mm);
        Some((rows.get(at)?, next))
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
}
