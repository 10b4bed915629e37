//! Tiny pictures drawn in letters, for tests.

/// A mask from rows of `#` (set) and anything else, with its width.
pub(crate) fn of(rows: &[&str]) -> (Vec<u8>, usize) {
    (
        rows.iter()
            .flat_map(|r| r.bytes().map(|b| u8::from(b == b'#')))
            .collect(),
        rows[0].len(),
    )
}
