//! How much distance and ground the debris stands for.

use serde::{Deserialize, Serialize};
use swarfbook_job::census::PhotoKind;
use ts_rs::TS;

use crate::table::HazardTable;
use crate::{Evidence, PhotoSeen};

/// What the debris is held against.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Exposure {
    /// Distance that the score reckons with, km.
    pub km: f64,
    /// Where it comes from.
    pub km_from: KmFrom,
    /// Exposure by distance; the weights are divided by it.
    pub distance: f64,
    /// Exposure by area of the patch photos.
    pub patch_area: f64,
    /// Exposure by area of the pan photos.
    pub pan_area: f64,
}

/// Where the distance since the pan was clean comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum KmFrom {
    /// It was entered.
    Entered,
    /// Odometer now less odometer at the last visit.
    LastVisit,
    /// Unknown: the table's reference distance, or the odometer if that is less.
    Unknown,
}

impl Exposure {
    pub(crate) fn of(evidence: &Evidence, table: &HazardTable) -> Exposure {
        let (km, km_from) = distance_of(evidence, table.distance.reference_km);
        Exposure {
            km,
            km_from,
            distance: by_distance(km, table),
            patch_area: area_of(&evidence.photos, PhotoKind::Patch, table),
            pan_area: area_of(&evidence.photos, PhotoKind::Pan, table),
        }
    }

    /// The longest and the shortest distance that may be meant, as exposures:
    /// where it is unknown, the pan was clean when the car was new, or just now.
    pub(crate) fn ends(&self, evidence: &Evidence, table: &HazardTable) -> (Exposure, Exposure) {
        if self.km_from != KmFrom::Unknown {
            return (self.clone(), self.clone());
        }
        let at = |km: f64| Exposure {
            km,
            distance: by_distance(km, table),
            ..self.clone()
        };
        let longest = evidence.odometer_km.unwrap_or(f64::INFINITY);
        (
            at(longest.max(self.km)),
            at(evidence.km_at_least.min(self.km)),
        )
    }

    /// Exposure by area of one kind of photo; magnets are seen whole.
    pub(crate) fn area(&self, kind: PhotoKind) -> f64 {
        match kind {
            PhotoKind::Patch => self.patch_area,
            PhotoKind::Pan => self.pan_area,
            PhotoKind::Magnet => 1.0,
        }
    }
}

fn by_distance(km: f64, table: &HazardTable) -> f64 {
    let row = &table.distance;
    (km / row.reference_km)
        .powf(row.power)
        .clamp(row.least, row.most)
}

fn distance_of(evidence: &Evidence, unknown_km: f64) -> (f64, KmFrom) {
    if let Some(km) = evidence.km_since_clean {
        return (km, KmFrom::Entered);
    }
    let last = evidence
        .earlier
        .iter()
        .filter_map(|visit| visit.odometer_km)
        .fold(None, |last: Option<f64>, km| {
            Some(last.map_or(km, |last| last.max(km)))
        });
    match (evidence.odometer_km, last) {
        (Some(now), Some(last)) => (now - last, KmFrom::LastVisit),
        // A pan that was never opened can't be older than the car.
        (Some(now), None) => (now.min(unknown_km), KmFrom::Unknown),
        (None, _) => (unknown_km, KmFrom::Unknown),
    }
}

fn area_of(photos: &[PhotoSeen], kind: PhotoKind, table: &HazardTable) -> f64 {
    let searched: Vec<f64> = photos
        .iter()
        .filter(|photo| photo.kind == kind && !photo.again)
        .filter_map(|photo| photo.searched_cm2)
        .collect();
    match table.area_row(kind) {
        Some(row) if !searched.is_empty() => {
            (searched.iter().sum::<f64>() / row.reference_cm2).clamp(row.least, 1.0)
        }
        _ => 1.0,
    }
}
