//! The first screen.

use swarfbook_measure::unit::{Unit, Units};
use swarfbook_words::say;

use crate::problem::Problem;
use crate::reply::Reply;
use crate::state::App;
use crate::state::settings::{device_settings, is_demo, kept_settings, place};
use crate::view::{StartView, UnitOffered, UnitSet};

/// Below this a phone may run full in the middle of a job: some 60 photos.
const LOW_BYTES: u64 = 300 * 1024 * 1024;

pub(super) fn start(app: &App) -> Result<Reply, Problem> {
    let store = app.store();
    let place = place(store)?;
    let demo = is_demo(store)?;
    let start = StartView {
        // The demo is looked at, not set up.
        first_run: !demo && kept_settings(store)?.is_none(),
        settings: device_settings(store)?.unwrap_or_default(),
        job: place.job,
        place: place.place,
        jobs: store.jobs("", 0, 0)?.total,
        demo,
        meters: crate::present::reading::meter_grades(),
        units: units_offered(),
        unit_sets: unit_sets(),
        is_hub: app.is_hub(),
        storage_warning: match store.read_only() {
            Some(why) => Some(why.words.clone()),
            None => storage_warning(store.free_bytes()?),
        },
    };
    Ok(Reply::Start { start })
}

/// Units that gearbox work is done in; the first of a quantity is the core's own.
const UNITS: [Unit; 12] = [
    Unit::Kilometre,
    Unit::Mile,
    Unit::Celsius,
    Unit::Fahrenheit,
    Unit::NewtonMetre,
    Unit::PoundForceFoot,
    Unit::PoundForceInch,
    Unit::Litre,
    Unit::UsQuart,
    Unit::ImperialQuart,
    Unit::Millimetre,
    Unit::Inch,
];

fn units_offered() -> Vec<UnitOffered> {
    let offered = UNITS.into_iter().map(|unit| UnitOffered {
        quantity: unit.quantity(),
        unit,
        symbol: unit.symbol().to_owned(),
        scale: unit.difference_to_base(1.0),
        offset: unit.to_base(0.0),
    });
    offered.collect()
}

fn unit_sets() -> Vec<UnitSet> {
    let set = |regions: &[&str], units| UnitSet {
        regions: regions.iter().map(|&region| region.to_owned()).collect(),
        units,
    };
    vec![
        set(&[], Units::METRIC),
        set(&["GB"], Units::BRITISH),
        set(&["US"], Units::AMERICAN),
    ]
}

fn storage_warning(free: u64) -> Option<String> {
    (free < LOW_BYTES).then(|| {
        say!(
            "only-value-mb-of-storage-are-free-make",
            value = free / (1024 * 1024)
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn little_room_is_said_before_it_is_gone() {
        assert_eq!(storage_warning(LOW_BYTES), None);
        let said = storage_warning(LOW_BYTES - 1).unwrap_or_default();
        assert!(said.starts_with("Only 299 MB"), "{said}");
    }
}
