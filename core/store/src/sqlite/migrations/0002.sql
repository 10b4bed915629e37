-- Derived: jobs by the links that open their reports.
CREATE TABLE link_named (
    link TEXT NOT NULL PRIMARY KEY,
    job  TEXT NOT NULL
) STRICT;
