//! How often the machine was right, over all jobs of the shop.

use swarfbook_judge::record::ShopRecord;
use swarfbook_store::Store;

use super::{calibration, jobs};
use crate::present;
use crate::problem::Problem;
use crate::reply::Reply;
use crate::state::App;
use crate::state::settings::{device_settings, is_demo};

pub(super) fn show(app: &App) -> Result<Reply, Problem> {
    let store = app.store();
    let record = of_shop(app, store)?;
    let demo = is_demo(store)?;
    let learned = if demo {
        None
    } else {
        calibration::learned(app, store, None)?
    };
    let settings = device_settings(store)?.unwrap_or_default();
    let mut shown = present::record(&record, demo);
    shown.calibrated = settings.calibrated && !demo;
    shown.calibration = present::calibration(&record, learned.as_ref());
    Ok(Reply::Record {
        record: Box::new(shown),
    })
}

/// Whether some patch here was photographed often enough to say how well photos repeat, as far as the list knows: a look at
/// a photo must not wait for rows that an earlier version kept.
pub(super) fn repeats_known(store: &Store) -> Result<bool, Problem> {
    let rows = store.jobs("", 0, u32::MAX)?.rows;
    let mut records = rows.iter().filter_map(|row| jobs::record(&row.row));
    Ok(records.any(|record| !record.takes.is_empty()))
}

/// The record of every job here; empty in the invented demo.
pub(crate) fn of_shop(app: &App, store: &Store) -> Result<ShopRecord, Problem> {
    let mut shop = ShopRecord::default();
    if is_demo(store)? {
        return Ok(shop);
    }
    jobs::refresh(app, store)?;
    let rows = store.jobs("", 0, u32::MAX)?.rows;
    let lacking = rows.iter().filter(|row| jobs::record(&row.row).is_none());
    let lacking: Vec<_> = lacking.map(|row| row.job).collect();
    if !lacking.is_empty() {
        jobs::make(app, store, lacking)?;
    }
    for row in store.jobs("", 0, u32::MAX)?.rows {
        // One that can't be told adds nothing.
        if let Some(record) = jobs::record(&row.row) {
            shop.add(record);
        }
    }
    Ok(shop)
}
