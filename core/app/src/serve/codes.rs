//! What codes point at: the table that ships and the shop's own rows; and a
//! code as a reader shows it, taken apart.

use swarfbook_job::fact::CodeState;
use swarfbook_measure::code::{Code, Table};
use swarfbook_words::say;

use crate::present;
use crate::problem::Problem;
use crate::reply::Reply;
use crate::state::App;
use crate::state::codes::{SETTING, table, text, unusable};
use crate::view::CodeTableView;

/// The most that a table's file may weigh.
const MAX_TABLE_BYTES: usize = 512 * 1024;

pub(super) fn show(app: &App) -> Result<Reply, Problem> {
    let store = app.store();
    let shop = text(store)?;
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
            say!("this-file-is-too-large-for-a-table"),
            say!("a-table-is-a-text-file-of-at"),
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
    .map_err(|why| Problem::bad_input(why.to_string(), say!("nothing-was-written")))?;
    Ok(Reply::Code {
        code: present::codes::code_view(code, CodeState::Stored, None),
    })
}
