//! What codes point at: the table that ships, with the shop's own rows before it.

use std::sync::OnceLock;

use swarfbook_measure::code::{Table, TableError};
use swarfbook_store::Store;
use swarfbook_words::say;

use crate::problem::Problem;

/// The name that the shop's rows are kept under.
pub(crate) const SETTING: &str = "shop_codes";

/// The table in force with the shop's own rows.
pub(crate) fn table(shop: Option<&str>) -> Result<Table, Problem> {
    static SHIPPED: OnceLock<Result<Table, TableError>> = OnceLock::new();
    let shipped = SHIPPED
        .get_or_init(Table::shipped)
        .clone()
        .map_err(unusable)?;
    match shop {
        Some(text) => Ok(shipped.extended_by(Table::read(text).map_err(unusable)?)),
        None => Ok(shipped),
    }
}

/// The shop's own rows, as they were given.
pub(crate) fn text(store: &Store) -> Result<Option<String>, Problem> {
    let kept: Option<String> = store.setting(SETTING)?;
    Ok(kept.filter(|text| !text.trim().is_empty()))
}

/// Why a file is no table.
pub(crate) fn unusable(why: TableError) -> Problem {
    Problem::bad_input(
        why.to_string(),
        say!("mend-the-file-and-add-it-again-nothing"),
    )
}
