-- The log. Rows are never changed or deleted; `bytes` is the canonical form that `hash` is over.
CREATE TABLE entry (
    id          TEXT    NOT NULL PRIMARY KEY,
    job         TEXT    NOT NULL,
    device      TEXT    NOT NULL,
    seq         INTEGER NOT NULL CHECK (seq > 0),
    hash        TEXT    NOT NULL,
    bytes       TEXT    NOT NULL,
    UNIQUE (device, seq)
) STRICT;
CREATE INDEX entry_by_job ON entry (job);

CREATE TRIGGER entry_is_never_changed BEFORE UPDATE ON entry
BEGIN SELECT RAISE(ABORT, 'an entry is never changed'); END;
CREATE TRIGGER entry_is_never_deleted BEFORE DELETE ON entry
BEGIN SELECT RAISE(ABORT, 'an entry is never deleted'); END;

-- Derived: photos that entries name. May be dropped and rebuilt.
CREATE TABLE photo_named (
    photo TEXT NOT NULL PRIMARY KEY
) STRICT;

-- Derived: jobs that name a customer, so that a change of the one finds the others.
CREATE TABLE customer_named (
    customer TEXT NOT NULL,
    job      TEXT NOT NULL,
    PRIMARY KEY (customer, job)
) STRICT;

-- Derived: a line for the list of jobs; `stale` until the fold has been asked again.
CREATE TABLE job_line (
    job          TEXT    NOT NULL PRIMARY KEY,
    touched      TEXT    NOT NULL,
    stale        INTEGER NOT NULL DEFAULT 1,
    line         TEXT    NOT NULL DEFAULT '',
    search       TEXT    NOT NULL DEFAULT ''
) STRICT;
CREATE INDEX job_line_by_touched ON job_line (touched DESC);

-- Names and contacts live apart from the log, so that they can be erased.
CREATE TABLE customer (
    id          TEXT    NOT NULL PRIMARY KEY,
    name        TEXT    NOT NULL,
    contact     TEXT    NOT NULL,
    erased      INTEGER NOT NULL DEFAULT 0,
    hlc_millis  INTEGER NOT NULL,
    hlc_counter INTEGER NOT NULL,
    device      TEXT    NOT NULL
) STRICT;

-- How this device is set, what is half typed, where the technician stands.
CREATE TABLE setting (
    name  TEXT NOT NULL PRIMARY KEY,
    value TEXT NOT NULL
) STRICT;
CREATE TABLE draft (
    job   TEXT NOT NULL,
    field TEXT NOT NULL,
    text  TEXT NOT NULL,
    PRIMARY KEY (job, field)
) STRICT;

-- Procedures of the shop's own. Every version is kept: a job keeps its own.
CREATE TABLE procedure (
    id      TEXT    NOT NULL,
    version INTEGER NOT NULL,
    text    TEXT    NOT NULL,
    PRIMARY KEY (id, version)
) STRICT;

-- Devices that this store was paired with (on the hub).
CREATE TABLE peer (
    device     TEXT NOT NULL PRIMARY KEY,
    name       TEXT NOT NULL,
    public_key TEXT NOT NULL,
    paired     TEXT NOT NULL
) STRICT;
