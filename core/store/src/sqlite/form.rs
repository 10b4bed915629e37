//! The form of a database: its migrations, and how a connection is set.

use std::time::Duration;

use rusqlite::{Connection, TransactionBehavior};

use crate::StoreError;

/// Each form of the database after the one before. Never changed once landed.
pub(super) const MIGRATIONS: [&str; 4] = [
    include_str!("migrations/0001.sql"),
    include_str!("migrations/0002.sql"),
    include_str!("migrations/0003.sql"),
    include_str!("migrations/0004.sql"),
];

/// How long to wait for another program on the same store.
pub(super) const WAIT: Duration = Duration::from_secs(5);
/// How long between two askings.
const PAUSE: Duration = Duration::from_millis(20);

pub(super) fn configure(db: &Connection) -> Result<(), StoreError> {
    // FULL: the last entry must survive a power cut, not only a crash.
    write_ahead(db)?;
    db.pragma_update(None, "synchronous", "full")?;
    db.pragma_update(None, "foreign_keys", true)?;
    db.pragma_update(None, "temp_store", "memory")?;
    Ok(())
}

/// The switch does not wait for another program that is making it just now, as
/// all else does, so it is asked again for as long.
fn write_ahead(db: &Connection) -> Result<(), StoreError> {
    let mut tries = WAIT.as_millis() / PAUSE.as_millis();
    loop {
        match db
            .pragma_update(None, "journal_mode", "wal")
            .map_err(StoreError::from)
        {
            Err(StoreError::Busy) if tries > 0 => {
                tries -= 1;
                std::thread::sleep(PAUSE);
            }
            done => return done,
        }
    }
}

/// Brings a database to the newest form.
pub(super) fn forms(db: &mut Connection) -> Result<(), StoreError> {
    let known = MIGRATIONS.len() as i64;
    let found: i64 = db.pragma_query_value(None, "user_version", |row| row.get(0))?;
    if found == known {
        return Ok(());
    }
    // Immediate, and the form is read inside: of two programs that open a new
    // store at once, the second must find it made.
    let tx = db.transaction_with_behavior(TransactionBehavior::Immediate)?;
    let found: i64 = tx.pragma_query_value(None, "user_version", |row| row.get(0))?;
    if found > known {
        return Err(StoreError::Newer { found, known });
    }
    for sql in MIGRATIONS.iter().skip(found.max(0) as usize) {
        tx.execute_batch(sql)?;
    }
    tx.pragma_update(None, "user_version", known)?;
    tx.commit()?;
    Ok(())
}
