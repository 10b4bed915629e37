//! The TypeScript of what goes out: numbers stay numbers.

use swarfbook_wear::{Assessment, Evidence, Trend};
use ts_rs::{Config, TS};

#[test]
fn no_number_becomes_a_bigint() {
    let config = Config::default();
    for text in [
        Assessment::decl(&config),
        Evidence::decl(&config),
        Trend::decl(&config),
    ] {
        assert!(text.contains("number") || text.contains("Array"), "{text}");
        assert!(!text.contains("bigint"), "{text}");
    }
}
