//! Whether a table keeps the score's promises.

use swarfbook_job::census::DebrisClass;
use swarfbook_words::say;

use super::{DebrisRow, GrainRow, Group, HazardTable, Weighed};
use crate::{Band, KnownPart};

impl HazardTable {
    /// What is wrong with it, where something is.
    pub(super) fn check(&self) -> Result<(), String> {
        let bands: Vec<Band> = self.band.iter().map(|row| row.band).collect();
        if bands != Band::ALL || !ascending(self.band.iter().map(|row| row.from)) {
            return Err(say!("the-bands-must-be-all-five-in-order"));
        }
        for class in DebrisClass::ALL {
            let rows: Vec<&DebrisRow> = self.rows_of(class).collect();
            // What only a technician tells apart, and is no wear, may weigh nothing.
            if rows.is_empty() && !class.is_wear() && !DebrisClass::LEARNED.contains(&class) {
                continue;
            }
            if !class.counts() {
                if !rows.is_empty() {
                    return Err(say!("lint-is-not-wear-and-has-no-row"));
                }
                continue;
            }
            let from_zero = rows.first().is_some_and(|row| row.from_mm == 0.0);
            let sizes_rise = ascending(rows.iter().map(|row| row.from_mm));
            let weights_rise = rows.windows(2).all(|pair| pair[0].k <= pair[1].k);
            if !from_zero || !sizes_rise || !weights_rise {
                return Err(say!(
                    "the-rows-of-value-must-begin-at-0",
                    value = format_args!("{class:?}")
                ));
            }
        }
        for what in Weighed::ALL {
            if self.observation(what).is_none() {
                return Err(say!(
                    "the-observation-value-has-no-row",
                    value = format_args!("{what:?}")
                ));
            }
        }
        for what in KnownPart::ALL {
            if self.part(what).is_none() {
                return Err(say!(
                    "the-part-value-has-no-row",
                    value = format_args!("{what:?}")
                ));
            }
        }
        let grains = &self.grain.row;
        let as_flakes = |row: &GrainRow| {
            self.debris_row(DebrisClass::SteelFlake, row.from_mm)
                .is_some_and(|flake| flake.from_mm == row.from_mm && flake.k <= row.k)
        };
        if grains.len() != self.rows_of(DebrisClass::SteelFlake).count()
            || !grains.iter().all(as_flakes)
            || !grains.windows(2).all(|pair| pair[0].k <= pair[1].k)
        {
            return Err(say!("the-rows-of-grains-must-have-the-sizes"));
        }
        let d = &self.distance;
        let p = &self.paste;
        let positive = [d.reference_km, d.least, d.most, p.km_per_film]
            .into_iter()
            .chain([self.area.patch.reference_cm2, self.area.pan.reference_cm2])
            .chain([self.area.patch.least, self.area.pan.least, self.unseen.k])
            .chain([self.watch.active_km, self.watch.doubt_km])
            .chain([self.watch.rising_km, self.watch.foam_km])
            .chain([self.watch.running_in_km, self.grain.compact]);
        let first = &self.first_opening;
        let not_negative = [d.power, p.k, p.film, p.thick, p.explained_most]
            .into_iter()
            .chain(self.observation.iter().map(|row| row.k))
            .chain(
                self.debris
                    .iter()
                    .flat_map(|row| [row.k, row.free, row.free_counts]),
            )
            .chain(self.grain.row.iter().map(|row| row.k))
            .chain(self.part.iter().map(|row| row.k))
            .chain(Group::ALL.map(|group| self.group_row(group).cap))
            .chain([first.films, first.small_mm, first.small_free])
            .chain([first.swarf_mm, first.swarf_free])
            .chain(self.debris.iter().filter_map(|row| row.cap));
        let shares = [p.bare, p.cover_unseen, p.cover_unseen_lo, p.cover_unseen_hi];
        if !positive.into_iter().all(|x| x.is_finite() && x > 0.0)
            || !not_negative.into_iter().all(|x| x.is_finite() && x >= 0.0)
            || !shares.iter().all(|x| (0.0..=1.0).contains(x))
            || self.debris.iter().any(|row| row.free_counts > 1.0)
            || d.least > d.most
            || p.film > p.thick
            || self.area.patch.least > 1.0
            || self.area.pan.least > 1.0
        {
            return Err(say!("a-number-is-outside-of-its-range"));
        }
        Ok(())
    }
}

fn ascending(values: impl Iterator<Item = f64>) -> bool {
    let values: Vec<f64> = values.collect();
    values.iter().all(|value| value.is_finite()) && values.windows(2).all(|pair| pair[0] < pair[1])
}
