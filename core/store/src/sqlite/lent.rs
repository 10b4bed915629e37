//! Connections to one database: one to write by, and as many to read by as there are threads
//! that read at once.

use std::cell::RefCell;
use std::path::PathBuf;
use std::rc::Rc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};

use rusqlite::{Connection, OpenFlags};

use super::form::WAIT;
use crate::StoreError;

/// So many are kept open for the next who read.
const KEPT: usize = 4;
/// Statements that a connection keeps ready.
const STATEMENTS: usize = 64;

/// What a connection is lent for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    Read,
    Write,
}

/// Where the database is.
#[derive(Debug)]
enum Place {
    File(PathBuf),
    /// In the program, which has one connection to it.
    Program,
}

/// A connection that the thread is at work in.
struct AtWork {
    pool: u64,
    kind: Kind,
    db: Rc<Connection>,
}

thread_local! {
    static AT_WORK: RefCell<Vec<AtWork>> = const { RefCell::new(Vec::new()) };
}

/// The connections to one database.
#[derive(Debug)]
pub(super) struct Pool {
    /// Tells it from others that a thread is at work in.
    name: u64,
    place: Place,
    readers: Mutex<Vec<Connection>>,
    writer: Mutex<Option<Connection>>,
    is_back: Condvar,
}

impl Pool {
    /// Of a database in a file.
    pub(super) fn of_file(writer: Connection, path: PathBuf) -> Pool {
        Pool::new(writer, Place::File(path))
    }

    /// Of a database that goes with the program.
    pub(super) fn of_one(db: Connection) -> Pool {
        Pool::new(db, Place::Program)
    }

    fn new(writer: Connection, place: Place) -> Pool {
        static NAMES: AtomicU64 = AtomicU64::new(0);
        writer.set_prepared_statement_cache_capacity(STATEMENTS);
        Pool {
            name: NAMES.fetch_add(1, Ordering::Relaxed),
            place,
            readers: Mutex::default(),
            writer: Mutex::new(Some(writer)),
            is_back: Condvar::new(),
        }
    }

    /// The connection that this thread is at work in already: to read, that which it writes by
    /// goes before one that it reads by.
    pub(super) fn at_work(&self, kind: Kind) -> Option<Rc<Connection>> {
        AT_WORK.with_borrow(|all| {
            let own = || all.iter().filter(|work| work.pool == self.name);
            let writes = own().find(|work| work.kind == Kind::Write);
            let reads = || own().find(|work| work.kind == Kind::Read && kind == Kind::Read);
            let found = writes.or_else(reads)?;
            Some(found.db.clone())
        })
    }

    /// A connection for this thread alone, until it is dropped.
    pub(super) fn lend(&self, kind: Kind) -> Result<Lent<'_>, StoreError> {
        let (kind, db) = match (&self.place, kind) {
            (Place::File(path), Kind::Read) => {
                // Not in the same breath: others must not wait while one is opened.
                let kept = lock(&self.readers).pop();
                (kind, kept.map_or_else(|| to_read(path), Ok)?)
            }
            _ => (Kind::Write, self.take_writer()),
        };
        let db = Rc::new(db);
        let work = AtWork {
            pool: self.name,
            kind,
            db: db.clone(),
        };
        AT_WORK.with_borrow_mut(|all| all.push(work));
        Ok(Lent {
            pool: self,
            kind,
            db: Some(db),
        })
    }

    fn take_writer(&self) -> Connection {
        let mut writer = lock(&self.writer);
        loop {
            match writer.take() {
                Some(db) => return db,
                None => {
                    writer = self
                        .is_back
                        .wait(writer)
                        .unwrap_or_else(PoisonError::into_inner);
                }
            }
        }
    }

    fn give_back(&self, kind: Kind, db: Connection) {
        if !db.is_autocommit() {
            // The work failed, or the commit did (a full disk) and left it open.
            let _ = db.execute_batch("ROLLBACK");
        }
        match kind {
            Kind::Read => {
                let mut readers = lock(&self.readers);
                if readers.len() < KEPT {
                    readers.push(db);
                }
            }
            Kind::Write => {
                *lock(&self.writer) = Some(db);
                self.is_back.notify_one();
            }
        }
    }
}

/// A thread that panicked while holding it left nothing half done: a connection is taken out
/// of it, or put in.
fn lock<T>(kept: &Mutex<T>) -> MutexGuard<'_, T> {
    kept.lock().unwrap_or_else(PoisonError::into_inner)
}

fn to_read(path: &PathBuf) -> Result<Connection, StoreError> {
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let db = Connection::open_with_flags(path, flags)?;
    db.busy_timeout(WAIT)?;
    db.pragma_update(None, "query_only", true)?;
    db.pragma_update(None, "temp_store", "memory")?;
    db.set_prepared_statement_cache_capacity(STATEMENTS);
    Ok(db)
}

/// A connection that is given back when this goes, with nothing left open in it.
pub(super) struct Lent<'a> {
    pool: &'a Pool,
    kind: Kind,
    db: Option<Rc<Connection>>,
}

impl Lent<'_> {
    #[allow(clippy::expect_used)] // it is taken when this goes, and no sooner
    pub(super) fn db(&self) -> &Connection {
        self.db.as_ref().expect("lent")
    }
}

impl Drop for Lent<'_> {
    fn drop(&mut self) {
        let Some(db) = self.db.take() else { return };
        AT_WORK.with_borrow_mut(|all| all.retain(|work| !Rc::ptr_eq(&work.db, &db)));
        // Nobody else has it: what was done within has ended.
        if let Ok(db) = Rc::try_unwrap(db) {
            self.pool.give_back(self.kind, db);
        }
    }
}
