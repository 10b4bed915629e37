//! The visits of one car: debris by distance, and whether it is more than before.

use std::collections::BTreeMap;
use swarfbook_words::{say, term};

use serde::{Deserialize, Serialize};
use swarfbook_job::census::{DebrisClass, PhotoKind};
use swarfbook_job::class_table::ClassRow;
use ts_rs::TS;

use crate::check::{check_photos, not_negative};
use crate::stats::{Scattered, TwoCounts, compare_counts, garwood, scattered};
use crate::{PhotoSeen, WearProblem, words};

/// Level of the intervals.
const LEVEL: f64 = 0.90;
/// A change is called when nothing but chance and scatter would show it less often than
/// this, on its own side: 5 % in all.
const CALLED_BELOW: f64 = 0.025;
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
    /// The areas searched are counted in: every visit tells its own, and rates are for the
    /// area of this visit.
    #[serde(default)]
    pub areas: bool,
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
    /// Ground that was searched, cm²; of the kind of photo that is compared.
    #[serde(default)]
    pub searched_cm2: Option<f64>,
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
    /// The exact conditional test, and the ratio of the rates with its 90 % interval, were
    /// pieces all that scatters.
    pub test: TwoCounts,
    /// The same with the scatter of visits: what decides.
    pub scattered: Scattered,
    /// In plain words.
    pub words: String,
}

/// The change of one class.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ClassChange {
    /// What its pieces are made of.
    pub class: DebrisClass,
    /// Its change. As many classes are looked at, each must be clearer
    /// (Bonferroni: 2.5 % a side divided by their number).
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
    let all = || earlier.iter().copied().chain([now]);
    let ground = Ground::of(all());
    let seen: Vec<Seen> = all()
        .map(|visit| Seen::of(visit, ground, floor_mm, magnets))
        .collect();
    let exposures = exposures(&seen, all());
    let areas = seen.iter().all(|seen| seen.searched_cm2.is_some());
    let classes: Vec<DebrisClass> = DebrisClass::ALL
        .into_iter()
        .filter(|class| seen.iter().any(|seen| seen.counts.contains_key(class)))
        .collect();
    let compare = |wanted: &dyn Fn(DebrisClass) -> bool, what: &dyn Fn(u32) -> String, looks| {
        let counted: Vec<u32> = seen.iter().map(|s| sum(&s.counts, wanted)).collect();
        let (n_now, before) = counted.split_last()?;
        let (e_now, e_before) = exposures.split_last()?;
        change(
            (*n_now, now.km, *e_now),
            (
                before.iter().sum(),
                earlier.iter().map(|visit| visit.km).sum(),
                e_before,
            ),
            what,
            looks,
        )
    };
    let visits = all()
        .zip(&seen)
        .zip(&exposures)
        .map(|((visit, seen), exposure)| rates(visit, seen, *exposure, &classes))
        .collect();
    Ok(Some(Trend {
        floor_mm,
        magnets,
        areas,
        visits,
        change: compare(&DebrisClass::is_wear, &|n| pieces(n), 1),
        by_class: classes
            .iter()
            .filter_map(|class| {
                let change = compare(
                    &|other| other == *class,
                    &|n| ClassRow::count(*class, n),
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

/// The ground whose pieces are compared: the same at every visit where there is one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Ground {
    Kind(PhotoKind),
    /// No kind was photographed at every visit: the greater of pan and patch.
    Either,
}

impl Ground {
    fn of<'a>(visits: impl Iterator<Item = &'a Visit> + Clone) -> Ground {
        let has = |visit: &Visit, kind| visit.photos.iter().any(|p| p.kind == kind && !p.again);
        [PhotoKind::Patch, PhotoKind::Pan]
            .into_iter()
            .find(|kind| visits.clone().all(|visit| has(visit, *kind)))
            .map_or(Ground::Either, Ground::Kind)
    }
}

/// What a visit shows of what is compared.
struct Seen {
    counts: BTreeMap<DebrisClass, u32>,
    /// Pieces of wear on the ground, and on magnets.
    on_ground: u32,
    on_magnets: u32,
    searched_cm2: Option<f64>,
}

impl Seen {
    fn of(visit: &Visit, ground: Ground, floor_mm: f64, magnets: bool) -> Seen {
        let mut by_kind: BTreeMap<(DebrisClass, PhotoKind), u32> = BTreeMap::new();
        let counted = || visit.photos.iter().filter(|photo| !photo.again);
        for photo in counted() {
            for piece in &photo.particles {
                let large = piece.feret_max.is_some_and(|length| length.mm >= floor_mm);
                if large && piece.class.counts() {
                    *by_kind.entry((piece.class, photo.kind)).or_default() += 1;
                }
            }
        }
        let of = |class, kind| by_kind.get(&(class, kind)).copied().unwrap_or(0);
        let mut seen = Seen {
            counts: BTreeMap::new(),
            on_ground: 0,
            on_magnets: 0,
            searched_cm2: match ground {
                Ground::Kind(kind) => area(counted().filter(|photo| photo.kind == kind)),
                Ground::Either => None,
            },
        };
        for class in DebrisClass::ALL {
            let residue = match ground {
                Ground::Kind(kind) => of(class, kind),
                Ground::Either => of(class, PhotoKind::Pan).max(of(class, PhotoKind::Patch)),
            };
            let on_magnets = if magnets {
                of(class, PhotoKind::Magnet)
            } else {
                0
            };
            if residue + on_magnets > 0 {
                seen.counts.insert(class, residue + on_magnets);
            }
            if class.is_wear() {
                seen.on_ground += residue;
                seen.on_magnets += on_magnets;
            }
        }
        seen
    }
}

/// The area of these photos together; `None` unless each tells its own.
fn area<'a>(photos: impl Iterator<Item = &'a PhotoSeen>) -> Option<f64> {
    let areas: Option<Vec<f64>> = photos.map(|photo| photo.searched_cm2).collect();
    areas
        .map(|areas| areas.iter().sum())
        .filter(|sum| *sum > 0.0)
}

/// Distance by area, in km on the area of this visit, which is the last. A magnet is seen whole,
/// so the area counts for the share of the pieces that lie on the ground.
fn exposures<'a>(seen: &[Seen], visits: impl Iterator<Item = &'a Visit>) -> Vec<f64> {
    let ground: u32 = seen.iter().map(|s| s.on_ground).sum();
    let magnets: u32 = seen.iter().map(|s| s.on_magnets).sum();
    let share = match ground + magnets {
        0 => 1.0,
        all => f64::from(ground) / f64::from(all),
    };
    let areas: Option<Vec<f64>> = seen.iter().map(|s| s.searched_cm2).collect();
    let now = areas.as_ref().and_then(|areas| areas.last()).copied();
    visits
        .enumerate()
        .map(|(at, visit)| {
            let of_now = areas.as_ref().and_then(|areas| areas.get(at)).zip(now);
            let area = of_now.map_or(1.0, |(area, now)| share * area / now + 1.0 - share);
            visit.km * area
        })
        .collect()
}

fn pieces(n: u32) -> String {
    say!("n-pieces", n = n)
}

fn sum(counts: &BTreeMap<DebrisClass, u32>, wanted: &dyn Fn(DebrisClass) -> bool) -> u32 {
    counts
        .iter()
        .filter(|(class, _)| wanted(**class))
        .map(|(_, n)| n)
        .sum()
}

fn rates(visit: &Visit, seen: &Seen, exposure: f64, classes: &[DebrisClass]) -> VisitRates {
    VisitRates {
        id: visit.id.clone(),
        km: visit.km,
        searched_cm2: seen.searched_cm2,
        wear: rate(sum(&seen.counts, &DebrisClass::is_wear), exposure),
        by_class: classes
            .iter()
            .map(|class| {
                let n = seen.counts.get(class).copied().unwrap_or(0);
                (*class, rate(n, exposure))
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
    (n_now, km_now, e_now): (u32, f64, f64),
    (n_before, km_before, e_before): (u32, f64, &[f64]),
    what: &dyn Fn(u32) -> String,
    looks: usize,
) -> Option<Change> {
    let test = compare_counts(n_now, e_now, n_before, e_before.iter().sum(), LEVEL)?;
    let scattered = scattered(&test, (n_now, e_now), (n_before, e_before), LEVEL);
    let limit = CALLED_BELOW / looks.max(1) as f64;
    let (verdict, told) = if scattered.p_greater < limit {
        (ChangeVerdict::MoreThanBefore, term!("more-than-before"))
    } else if scattered.p_less < limit {
        (ChangeVerdict::LessThanBefore, term!("less-than-before"))
    } else {
        (ChangeVerdict::NoClearChange, term!("no-clear-change"))
    };
    Some(Change {
        verdict,
        n_now,
        km_now,
        n_before,
        km_before,
        words: say!(
            "told-what-in-km-against-what-2-in",
            told = told,
            what = what(n_now),
            km = words::km(km_now),
            what_2 = what(n_before),
            km_2 = words::km(km_before)
        ),
        test,
        scattered,
    })
}
