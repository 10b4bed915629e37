//! A store that can only be read: what could be saved of a damaged database, in a database
//! of its own that goes with the program. The damaged files stay as they are.

mod pages;
mod records;

use std::collections::BTreeSet;
use std::path::Path;
use std::time::{SystemTime, UNIX_EPOCH};

use rusqlite::config::DbConfig;
use rusqlite::types::Value;
use rusqlite::{Connection, params_from_iter};
use swarfbook_job::entry::Signature;
use swarfbook_job::id::{CustomerId, JobId, Sha256Hex};
use swarfbook_words::say;

use super::form::forms;
use super::sound::{Doubt, lines};
use super::{Sql, Sqlite};
use crate::held::Held;
use crate::log::{device, insert, name_device, sealed, touch};
use crate::rows::Lines;
use crate::waiting::until;
use crate::{StoreError, beside};
use pages::Pages;

/// Whether a row may be one of a table.
type Fits = fn(&[Value]) -> bool;

/// Tables beside the log: their columns, and what of a row found without its table says that
/// it is one of theirs.
const BESIDE: [(&str, &str, Fits); 6] = [
    (
        "customer",
        "id, name, contact, erased, hlc_millis, hlc_counter, device",
        is_customer,
    ),
    ("procedure", "id, version, text", is_procedure),
    ("draft", "job, field, text", is_draft),
    ("peer", "device, name, public_key, paired", is_peer),
    ("writer", "device, public_key", is_writer),
    ("setting", "name, value", is_setting),
];

/// Opens what can be saved of the database in `dir`.
///
/// # Errors
/// [`StoreError::Unsaved`] where nothing can; SQLite's, of the database of its own.
pub(crate) fn open(dir: &Path, doubt: &Doubt) -> Result<Sqlite, StoreError> {
    let path = dir.join("swarfbook.db");
    let mut db = Connection::open("")?;
    forms(&mut db)?;
    let mut found = Pages::of(&path, &dir.join("swarfbook.db-wal"));
    save_rest(&db, &path, &mut found)?;
    save_lines(&mut db, &mut found)?;
    let saved = lines(&db)?;
    if saved == 0 {
        return Err(match doubt {
            Doubt::Gone => StoreError::Gone(path),
            _ => StoreError::Unsaved(path),
        });
    }
    let lost = beside::read(dir).map_or(0, |had| had.saturating_sub(saved));
    let said = if lost > 0 {
        say!(
            "saved-lines-of-its-log-could-be-saved",
            saved = saved,
            lost = lost
        )
    } else {
        say!("saved-lines-of-its-log-could-be-saved-2", saved = saved)
    };
    let words = say!(
        "the-database-path-is-damaged-doubt-said",
        path = path.display(),
        doubt = doubt,
        said = said
    );
    name_device(&Sql(&db))?;
    let why = Held {
        words,
        damaged: true,
        lost,
    };
    Ok(Sqlite::held(db, dir, why))
}

/// Each line whose bytes are those that its hash is over. One that another device dated far
/// ahead waits, as it does in a store that is whole.
fn save_lines(db: &mut Connection, found: &mut Pages) -> Result<(), StoreError> {
    let tx = db.transaction()?;
    let own = device(&Sql(&tx)).ok();
    let now = SystemTime::now().duration_since(UNIX_EPOCH);
    let now_millis = now.map_or(0, |now| u64::try_from(now.as_millis()).unwrap_or(u64::MAX));
    let mut known = BTreeSet::new();
    let mut done = Ok(());
    records::each(found, |row| {
        let [
            Value::Text(_),
            Value::Text(_),
            Value::Text(_),
            Value::Integer(_),
            Value::Text(hash),
            Value::Text(bytes),
            rest @ ..,
        ] = row
        else {
            // No line in any reading.
            return row.len() < 6;
        };
        let Ok(mut line) = sealed(hash, bytes) else {
            return false;
        };
        if let Some(Value::Text(signature)) = rest.first() {
            // The key is that of the device, in a table of its own.
            line.signature = Some(Signature {
                key: String::new(),
                signature: signature.clone(),
            });
        }
        if done.is_ok() && known.insert((line.entry.device, line.entry.seq)) {
            let entry = &line.entry;
            let wait = (own != Some(entry.device)).then(|| until(entry, now_millis));
            done = insert(&Sql(&tx), &line).and_then(|()| match wait.flatten() {
                Some(millis) => Sql(&tx).hold(entry.id, entry.job, millis),
                None => touch(&Sql(&tx), entry),
            });
        }
        true
    });
    done?;
    tx.commit()?;
    Ok(())
}

/// What lies beside the log: by SQLite where it can read a table, else row by row.
fn save_rest(db: &Connection, path: &Path, found: &mut Pages) -> Result<(), StoreError> {
    let damaged = Connection::open_with_flags(
        path,
        rusqlite::OpenFlags::SQLITE_OPEN_READ_ONLY | rusqlite::OpenFlags::SQLITE_OPEN_NO_MUTEX,
    );
    if let Ok(damaged) = &damaged {
        // It must not tidy up when it is closed.
        damaged.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, true)?;
    }
    for (table, columns, is_one) in BESIDE {
        let read = damaged
            .as_ref()
            .ok()
            .and_then(|damaged| table_of(damaged, table, columns).ok());
        let rows = read.unwrap_or_else(|| {
            let mut rows = Vec::new();
            records::each(found, |row| {
                if is_one(row) {
                    rows.push(row.to_vec());
                }
                true
            });
            // Who was erased in any image of a page was erased.
            rows.sort_by_key(|row| row.get(3) == Some(&Value::Integer(1)));
            rows
        });
        let places = vec!["?"; columns.split(',').count()].join(", ");
        let sql = format!("INSERT OR REPLACE INTO {table} ({columns}) VALUES ({places})");
        let mut keep = db.prepare(&sql)?;
        for row in rows {
            keep.execute(params_from_iter(row))?;
        }
    }
    Ok(())
}

fn table_of(db: &Connection, table: &str, columns: &str) -> rusqlite::Result<Vec<Vec<Value>>> {
    let mut query = db.prepare(&format!("SELECT {columns} FROM {table}"))?;
    let wide = query.column_count();
    let rows = query.query_map([], |row| (0..wide).map(|at| row.get(at)).collect())?;
    rows.collect()
}

fn is_customer(row: &[Value]) -> bool {
    matches!(row, [
        Value::Text(id), Value::Text(_), Value::Text(_), Value::Integer(0 | 1),
        Value::Integer(_), Value::Integer(_), Value::Text(_),
    ] if id.parse::<CustomerId>().is_ok())
}

fn is_procedure(row: &[Value]) -> bool {
    matches!(row, [Value::Text(_), Value::Integer(_), Value::Text(_)])
}

fn is_draft(row: &[Value]) -> bool {
    matches!(row, [Value::Text(job), Value::Text(_), Value::Text(_)] if job.parse::<JobId>().is_ok())
}

fn is_peer(row: &[Value]) -> bool {
    matches!(row, [Value::Text(device), Value::Text(_), Value::Text(key), Value::Text(_)]
        if device.parse::<JobId>().is_ok() && key.len() == 64)
}

fn is_writer(row: &[Value]) -> bool {
    matches!(row, [Value::Text(device), Value::Text(key)]
        if device.parse::<JobId>().is_ok() && key.len() == 64)
}

fn is_setting(row: &[Value]) -> bool {
    // Jobs by their customers and links have two texts too, the first an id or a hash.
    matches!(row, [Value::Text(name), Value::Text(_)]
        if name.parse::<JobId>().is_err() && name.parse::<Sha256Hex>().is_err())
}
