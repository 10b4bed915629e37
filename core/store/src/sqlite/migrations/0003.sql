-- Derived, in place of job_line: a row for the list of jobs, by facts and not by sentences;
-- `stale` until the fold has been asked again.
CREATE TABLE job_row (
    number  INTEGER PRIMARY KEY,
    job     TEXT    NOT NULL UNIQUE,
    touched TEXT    NOT NULL,
    stale   INTEGER NOT NULL DEFAULT 1,
    row     TEXT    NOT NULL DEFAULT ''
) STRICT;
INSERT INTO job_row (job, touched) SELECT job, touched FROM job_line;
DROP TABLE job_line;
CREATE INDEX job_row_by_touched ON job_row (touched DESC, job);
CREATE INDEX job_row_stale ON job_row (number) WHERE stale = 1;

-- Derived: the words that a job is found by, whole or in part, under the number of its row.
CREATE VIRTUAL TABLE job_search USING fts5(words, tokenize = 'trigram case_sensitive 1');
-- A name that is erased must leave the index too.
INSERT INTO job_search (job_search, rank) VALUES ('secure-delete', 1);

-- Derived: jobs by the plates and VINs that their lines name, in lower case.
CREATE TABLE car_named (
    car TEXT NOT NULL,
    job TEXT NOT NULL,
    PRIMARY KEY (car, job)
) STRICT, WITHOUT ROWID;
INSERT OR IGNORE INTO car_named (car, job)
    SELECT lower(trim(named.car, char(9, 10, 11, 12, 13, 32, 133, 160))), named.job
    FROM (
        SELECT json_extract(bytes, '$.body.car.plate') AS car, job FROM entry
            WHERE json_extract(bytes, '$.body.fact') = 'car_noted'
        UNION ALL
        SELECT json_extract(bytes, '$.body.car.vin'), job FROM entry
            WHERE json_extract(bytes, '$.body.fact') = 'car_noted'
    ) AS named
    WHERE trim(coalesce(named.car, ''), char(9, 10, 11, 12, 13, 32, 133, 160)) <> '';
