-- Ed25519 over each line, 128 hexadecimal digits; none at lines of before, nor at those that
-- came from a device that does not sign yet. It was checked when the line came in.
ALTER TABLE entry ADD COLUMN signature TEXT;

-- Under which key each device's lines are taken in: for ever, once one was.
CREATE TABLE writer (
    device     TEXT NOT NULL PRIMARY KEY,
    public_key TEXT NOT NULL
) STRICT;
INSERT INTO writer (device, public_key) SELECT device, public_key FROM peer;

-- Lines of other devices that are dated more than a day ahead of this one's clock: kept, and
-- left out of their job until it comes near.
CREATE TABLE waiting (
    entry TEXT    NOT NULL PRIMARY KEY REFERENCES entry (id),
    job   TEXT    NOT NULL,
    -- Milliseconds since 1970 from which it counts.
    until INTEGER NOT NULL
) STRICT;
CREATE INDEX waiting_by_until ON waiting (until);
CREATE INDEX waiting_by_job ON waiting (job);
