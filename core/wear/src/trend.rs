//! The visits of one car: debris by distance, and whether it is more than before.

use std::collections::BTreeMap;
use swarfbook_words::{say, term};

use serde::{Deserialize, Serialize};
use swarfbook_job::census::{DebrisClass, PhotoKind};
use ts_rs::TS;

use crate::check::{check_photos, not_negative};
use crate::stats::{TwoCounts, compare_counts, garwood};
use crate::{PhotoSeen, WearProblem, words};

/// Level of the intervals.
const LEVEL: f64 = 0.90;
/// A change is called when chance alone would show it less often than this.
const CALLED_BELOW: f64 = 0.05;
/// Rates are given for this distance.
const PER_KM: f64 = 10_000.0;

/// One visit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Visit {
    /// The caller's reference.
    pub id: String,
    /// Odometer, km, when it is known; only for the order of the list.
    #[serde(default)]
    pub odometer_km: Option<f64>,
    /// Distance since the pan was clean before this visit, km.
    pub km: f64,
    /// Its confirmed photos.
    pub photos: Vec<PhotoSeen>,
}

/// Debris by distance over the visits.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Trend {
    /// Only pieces of this size and more are compared, mm: the smallest that
    /// every photo of every visit can show.
    pub floor_mm: f64,
    /// Pieces on magnets are compared too: every visit has a photo of one.
    pub magnets: bool,
    /// The visits, oldest first, this one last (without an id within an assessment).
    pub visits: Vec<VisitRates>,
    /// This visit against all earlier ones; none without pieces or distance.
    pub change: Option<Change>,
    /// The same for each class that was found.
    pub by_class: Vec<ClassChange>,
}

/// The rates of one visit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct VisitRates {
    /// The caller's reference.
    pub id: String,
    /// Distance that the debris gathered over, km.
    pub km: f64,
    /// Pieces of wear together: metal, lining and plastic.
    pub wear: Rate,
    /// Each class that was found at any visit, lint apart.
    pub by_class: BTreeMap<DebrisClass, Rate>,
}

/// A count and its rate with a 90 % interval (Garwood).
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Rate {
    /// Pieces counted.
    pub n: u32,
    /// Pieces in 10,000 km; none when the distance is 0.
    pub per_10000_km: Option<f64>,
    /// Lower end.
    pub lo: Option<f64>,
    /// Upper end.
    pub hi: Option<f64>,
}

/// This visit against all earlier ones.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Change {
    /// What it comes to.
    pub verdict: ChangeVerdict,
    /// Pieces now.
    pub n_now: u32,
    /// Over this distance, km.
    pub km_now: f64,
    /// Pieces at all earlier visits.
    pub n_before: u32,
    /// Over this distance, km.
    pub km_before: f64,
    /// The exact conditional test, and the ratio of the rates with its 90 % interval.
    pub test: TwoCounts,
    /// In plain words.
    pub words: String,
}

/// The change of one class.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ClassChange {
    /// The class.
    pub class: DebrisClass,
    /// Its change. As many classes are looked at, each must be clearer
    /// (Bonferroni: 5 % divided by their number).
    pub change: Change,
}

/// What a comparison comes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum ChangeVerdict {
    /// More for the distance than before.
    MoreThanBefore,
    /// Less for the distance than before.
    LessThanBefore,
    /// No change that chance would not show too.
    NoClearChange,
}

/// Compares a visit with earlier ones, given in any order. Visits without a
/// photo say nothing; `None` when this one or all earlier ones have none.
pub fn trend(now: &Visit, earlier: &[Visit]) -> Result<Option<Trend>, WearProblem> {
    for visit in earlier.iter().chain([now]) {
        let ask = "Enter the distance in km, 0 or more.";
        not_negative("The distance of a visit", Some(visit.km), ask)?;
        not_negative("The odometer of a visit", visit.odometer_km, ask)?;
        check_photos(&visit.photos)?;
    }
    let mut earlier: Vec<&Visit> = earlier
        .iter()
        .filter(|visit| !visit.photos.is_empty())
        .collect();
    if earlier.is_empty() || now.photos.is_empty() {
        return Ok(None);
    }
    earlier.sort_by(|a, b| {
        let odometer = |visit: &Visit| visit.odometer_km.unwrap_or(0.0);
        odometer(a)
            .total_cmp(&odometer(b))
            .then_with(|| a.id.cmp(&b.id))
    });
    let floor_mm = earlier
        .iter()
        .flat_map(|visit| &visit.photos)
        .chain(&now.photos)
        .filter_map(|photo| photo.smallest_mm)
        .fold(0.0, f64::max);
    // A magnet that was not photographed then would look like debris that is new.
    let magnets = earlier
        .iter()
        .map(|visit| &visit.photos)
        .chain([&now.photos])
        .all(|photos| photos.iter().any(|p| p.kind == PhotoKind::Magnet));
    let counts_now = counts(&now.photos, floor_mm, magnets);
    let counts_before: Vec<_> = earlier
        .iter()
        .map(|visit| counts(&visit.photos, floor_mm, magnets))
        .collect();
    let classes: Vec<DebrisClass> = DebrisClass::ALL
        .into_iter()
        .filter(|class| {
            counts_before
                .iter()
                .chain([&counts_now])
                .any(|counts| counts.contains_key(class))
        })
        .collect();
    let km_before: f64 = earlier.iter().map(|visit| visit.km).sum();
    let compare = |wanted: &dyn Fn(DebrisClass) -> bool, what: &dyn Fn(u32) -> String, looks| {
        let n_before = counts_before.iter().map(|counts| sum(counts, wanted)).sum();
        let pair = [(sum(&counts_now, wanted), now.km), (n_before, km_before)];
        change(pair, what, looks)
    };
    let visits = earlier
        .iter()
        .zip(&counts_before)
        .chain([(&now, &counts_now)])
        .map(|(visit, counts)| rates(visit, counts, &classes))
        .collect();
    Ok(Some(Trend {
        floor_mm,
        magnets,
        visits,
        change: compare(&is_wear, &|n| pieces(n), 1),
        by_class: classes
            .iter()
            .filter_map(|class| {
                let change = compare(
                    &|other| other == *class,
                    &|n| words::count(n, *class),
                    classes.len(),
                )?;
                Some(ClassChange {
                    class: *class,
                    change,
                })
            })
            .collect(),
    }))
}

/// Sealant and grit come from repairs and the road, lint from the cloth.
fn is_wear(class: DebrisClass) -> bool {
    !matches!(
        class,
        DebrisClass::Elastomer | DebrisClass::Grit | DebrisClass::Lint
    )
}

fn pieces(n: u32) -> String {
    match n {
        1 => say!("1 piece"),
        _ => say!("{} pieces", n),
    }
}

/// Pieces a class: the greater of pan and patch, with the magnets' added where
/// every visit has one.
fn counts(photos: &[PhotoSeen], floor_mm: f64, magnets: bool) -> BTreeMap<DebrisClass, u32> {
    let mut by_kind: BTreeMap<(DebrisClass, PhotoKind), u32> = BTreeMap::new();
    for photo in photos.iter().filter(|photo| !photo.again) {
        for piece in &photo.particles {
            let large = piece.feret_max.is_some_and(|length| length.mm >= floor_mm);
            if large && piece.class != DebrisClass::Lint {
                *by_kind.entry((piece.class, photo.kind)).or_default() += 1;
            }
        }
    }
    let of = |class, kind| by_kind.get(&(class, kind)).copied().unwrap_or(0);
    DebrisClass::ALL
        .into_iter()
        .map(|class| {
            let residue = of(class, PhotoKind::Pan).max(of(class, PhotoKind::Patch));
            let on_magnets = if magnets {
                of(class, PhotoKind::Magnet)
            } else {
                0
            };
            (class, residue + on_magnets)
        })
        .filter(|(_, n)| *n > 0)
        .collect()
}

fn sum(counts: &BTreeMap<DebrisClass, u32>, wanted: &dyn Fn(DebrisClass) -> bool) -> u32 {
    counts
        .iter()
        .filter(|(class, _)| wanted(**class))
        .map(|(_, n)| n)
        .sum()
}

fn rates(
    visit: &Visit,
    counts: &BTreeMap<DebrisClass, u32>,
    classes: &[DebrisClass],
) -> VisitRates {
    VisitRates {
        id: visit.id.clone(),
        km: visit.km,
        wear: rate(sum(counts, &is_wear), visit.km),
        by_class: classes
            .iter()
            .map(|class| {
                let n = counts.get(class).copied().unwrap_or(0);
                (*class, rate(n, visit.km))
            })
            .collect(),
    }
}

fn rate(n: u32, km: f64) -> Rate {
    let (lo, hi) = garwood(n, LEVEL);
    let per = |pieces: f64| (km > 0.0).then(|| pieces * PER_KM / km);
    Rate {
        n,
        per_10000_km: per(f64::from(n)),
        lo: per(lo),
        hi: per(hi),
    }
}

fn change(
    [(n_now, km_now), (n_before, km_before)]: [(u32, f64); 2],
    what: &dyn Fn(u32) -> String,
    looks: usize,
) -> Option<Change> {
    let test = compare_counts(n_now, km_now, n_before, km_before, LEVEL)?;
    let limit = CALLED_BELOW / looks.max(1) as f64;
    let (verdict, told) = if test.p_greater < limit {
        (ChangeVerdict::MoreThanBefore, term!("More than before"))
    } else if test.p_less < limit {
        (ChangeVerdict::LessThanBefore, term!("Less than before"))
    } else {
        (ChangeVerdict::NoClearChange, term!("No clear change"))
    };
    Some(Change {
        verdict,
        n_now,
        km_now,
        n_before,
        km_before,
        words: say!(
            "{}: {} in {}, against {} in {} at earlier visits.",
            told,
            what(n_now),
            words::km(km_now),
            what(n_before),
            words::km(km_before)
        ),
        test,
    })
}
