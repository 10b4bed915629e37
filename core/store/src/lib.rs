//! The log in SQLite, photos as content-addressed files.
