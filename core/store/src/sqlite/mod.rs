//! The log in SQLite: the first backend of [`crate::rows`]. All SQL of the store is below here.
//!
//! One connection writes, others read beside it (write-ahead log); a thread that is at work in
//! one finds it again by its own name for it, so that what is asked within sees what is there.

mod beside;
mod copy;
mod error;
mod form;
mod held;
mod lent;
mod lines;
mod list;
mod open;
mod saved;
mod sound;

use std::fs;
use std::path::{Path, PathBuf};
use std::str::FromStr;

use rusqlite::config::DbConfig;
use rusqlite::{Connection, Params};
use swarfbook_words::say;

pub(crate) use copy::{Copied, copied_file};
use lent::{Kind, Pool};
pub(crate) use open::open;

use crate::StoreError;
use crate::beside::HeadFile;
use crate::held::Held;
use crate::rows::{Log, Rows, Work};

/// Rows of one connection.
pub(crate) struct Sql<'a>(pub(crate) &'a Connection);

impl Rows for Sql<'_> {}

impl Sql<'_> {
    /// A column of names; what is none is left out.
    fn ids<T: FromStr>(&self, sql: &str, asked: impl Params) -> Result<Vec<T>, StoreError> {
        let mut query = self.0.prepare_cached(sql)?;
        let rows = query.query_map(asked, |row| row.get::<_, String>(0))?;
        let mut ids = Vec::new();
        for row in rows {
            ids.extend(row?.parse::<T>().ok());
        }
        Ok(ids)
    }
}

/// A database in a folder, or one that goes with the program.
#[derive(Debug)]
pub(crate) struct Sqlite {
    pool: Pool,
    /// The folder that it is of.
    dir: PathBuf,
    /// How far the log has come, beside it.
    head: Option<HeadFile>,
    /// Why it can only be read.
    held: Option<Held>,
}

impl Sqlite {
    /// A store whose database goes with the program. What is derived is made anew in it; what
    /// somebody writes is refused.
    fn held(db: Connection, dir: &Path, why: Held) -> Sqlite {
        Sqlite {
            pool: Pool::of_one(db),
            dir: dir.to_owned(),
            head: None,
            held: Some(why),
        }
    }

    /// Says beside the database how far the log has come, after a commit.
    fn say_head(&self, db: &Connection) {
        if let Some(head) = &self.head
            && let Ok(lines) = sound::lines(db)
        {
            head.say(lines);
        }
    }
}

impl Log for Sqlite {
    fn read(&self, what: Work<'_>) -> Result<(), StoreError> {
        if let Some(db) = self.pool.at_work(Kind::Read) {
            return what(&Sql(&db));
        }
        let lent = self.pool.lend(Kind::Read)?;
        let db = lent.db();
        // One moment for all that is read.
        db.prepare_cached("BEGIN")?.execute([])?;
        let done = what(&Sql(db));
        db.prepare_cached("COMMIT")?.execute([])?;
        done
    }

    fn write(&self, what: Work<'_>) -> Result<(), StoreError> {
        if let Some(db) = self.pool.at_work(Kind::Write) {
            return part(&db, what);
        }
        let lent = self.pool.lend(Kind::Write)?;
        let db = lent.db();
        // Immediate: two programs on one store must not give out one number twice.
        db.execute_batch("BEGIN IMMEDIATE")?;
        // What fails, or panics, is rolled back where the connection is given back.
        what(&Sql(db))?;
        db.execute_batch("COMMIT")?;
        self.say_head(db);
        Ok(())
    }

    fn held(&self) -> Option<&Held> {
        self.held.as_ref()
    }

    fn wipe(&self) -> Result<(), StoreError> {
        let lent = self.pool.lend(Kind::Write)?;
        let db = lent.db();
        db.execute_batch("PRAGMA secure_delete = ON; VACUUM;")?;
        // Waits for who still reads a moment of before, as for another program; what such a one
        // may read can't be taken away.
        let is_read: bool =
            db.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |row| row.get(0))?;
        match is_read {
            true => Err(StoreError::Busy),
            false => Ok(()),
        }
    }

    fn copy(&self, to: &Path) -> Result<Copied, StoreError> {
        // From a connection of its own where there can be one, so that nobody waits for it.
        let lent = self.pool.lend(Kind::Read)?;
        Copied::of(lent.db(), to)
    }

    fn saved(&self) -> Result<Sqlite, StoreError> {
        let why = {
            let lent = self.pool.lend(Kind::Write)?;
            // The log beside it must not be thrown away with what is whole in it.
            let kept = DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE;
            lent.db().set_db_config(kept, true)?;
            sound::fault(lent.db())?
        };
        let why = why.unwrap_or_else(|| say!("it-gave-a-line-that-is-not-as"));
        // A folder that can't be written finds it out again.
        let _ = fs::write(self.dir.join(held::NOTE), &why);
        saved::open(&self.dir, &sound::Doubt::Broken(why))
    }
}

/// A part of what is being written: without it the rest may still be.
fn part(db: &Connection, what: Work<'_>) -> Result<(), StoreError> {
    db.prepare_cached("SAVEPOINT part")?.execute([])?;
    let done = what(&Sql(db));
    if done.is_err() {
        db.execute_batch("ROLLBACK TO part")?;
    }
    db.prepare_cached("RELEASE part")?.execute([])?;
    done
}

#[cfg(test)]
mod tests {
    #![allow(clippy::expect_used)]

    use std::sync::Arc;

    use chrono::DateTime;
    use swarfbook_job::fact::Fact;
    use swarfbook_job::id::JobId;
    use uuid::Uuid;

    use super::*;
    use crate::{NewEntry, Store};

    fn noted(words: String) -> NewEntry {
        NewEntry {
            job: JobId(Uuid::from_u128(7)),
            fact: Fact::Noted {
                step: "look".into(),
                topic: None,
                text: words,
                private: false,
            },
            now: DateTime::parse_from_rfc3339("2026-03-02T08:00:00+01:00").expect("a time"),
        }
    }

    /// SQLite's own limit stands in for a full disk: it answers the same.
    #[test]
    fn a_full_disk_refuses_the_line_loses_none_and_goes_on_when_there_is_room() {
        let dir = tempfile::tempdir().expect("folder");
        let log = open(dir.path()).expect("opens");
        let lent = log.pool.lend(Kind::Write).expect("lent");
        let pages: u32 = lent
            .db()
            .pragma_query_value(None, "page_count", |row| row.get(0))
            .expect("counted");
        lent.db()
            .pragma_update_and_check(None, "max_page_count", pages + 20, |_| Ok(()))
            .expect("set");
        drop(lent);
        let store = Store::over(Arc::new(log), dir.path()).expect("opens");
        let mut written = Vec::new();
        let refused = loop {
            match store.append(&[noted("long ".repeat(200))]) {
                Ok(lines) => written.extend(lines),
                Err(why) => break why,
            }
            assert!(written.len() < 1_000, "the limit does not hold");
        };
        assert!(matches!(refused, StoreError::Full), "{refused:?}");
        assert!(written.len() > 3);
        drop(store);

        let store = Store::open(dir.path()).expect("opens again");
        let kept = |store: &Store| {
            store
                .entries_after(store.device(), 0, usize::MAX)
                .expect("reads")
        };
        assert_eq!(kept(&store), written);
        written.extend(store.append(&[noted("on".into())]).expect("there is room"));
        assert_eq!(kept(&store), written);
    }
}
