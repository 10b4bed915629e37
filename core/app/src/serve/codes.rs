//! What codes point at: the table that ships and the shop's own rows; and a
//! code as a reader shows it, taken apart.

use std::sync::OnceLock;
use swarfbook_words::say;

use swarfbook_job::fact::CodeState;
use swarfbook_measure::code::{Code, Table, TableError};
use swarfbook_store::Store;

use crate::app::App;
use crate::assess::explain;
use crate::problem::Problem;
use crate::reply::Reply;
use crate::view::CodeTableView;

const SETTING: &str = "shop_codes";
/// The most that a table's file may weigh.
const MAX_TABLE_BYTES: usize = 512 * 1024;

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

pub(super) fn show(app: &App) -> Result<Reply, Problem> {
    let store = app.store();
    let shop = text(&store)?;
    let table = table(shop.as_deref())?;
    let rows = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    let shop_rows = match &shop {
        Some(text) => Table::read(text).map_err(unusable)?.rows.len(),
        None => 0,
    };
    Ok(Reply::CodeTable {
        table: CodeTableView {
            version: table.version,
            rows: rows(table.rows.len()),
            shop_rows: rows(shop_rows),
            shop: shop.unwrap_or_default(),
        },
    })
}

/// Sets the shop's rows; empty text takes them away.
pub(super) fn set(app: &App, text: &str) -> Result<Reply, Problem> {
    if text.len() > MAX_TABLE_BYTES {
        return Err(Problem::bad_input(
            say!("This file is too large for a table of codes."),
            say!("A table is a text file of at most 512 KB."),
        ));
    }
    if !text.trim().is_empty() {
        Table::read(text).map_err(unusable)?;
    }
    app.store().set(SETTING, &text)?;
    show(app)
}

/// A code as typed, in letters or in bytes, in its one form and taken apart.
pub(super) fn read(typed: &str, bytes: bool) -> Result<Reply, Problem> {
    let code = if bytes {
        Code::from_hex(typed)
    } else {
        typed.parse()
    }
    .map_err(|why| Problem::bad_input(why.to_string(), say!("Nothing was written.")))?;
    Ok(Reply::Code {
        code: explain::code_view(code, CodeState::Stored, None),
    })
}

fn unusable(why: TableError) -> Problem {
    Problem::bad_input(
        why.to_string(),
        say!("Mend the file and add it again; nothing was changed."),
    )
}
