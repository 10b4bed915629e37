//! A report's page, read as the XML that it is.

#![allow(clippy::expect_used)] // in helpers of tests, too

use roxmltree::{Document, ParsingOptions};

/// The page as a tree.
pub fn read(page: &str) -> Document<'_> {
    let options = ParsingOptions {
        allow_dtd: true,
        ..ParsingOptions::default()
    };
    Document::parse_with_options(page, options).expect("well-formed")
}
