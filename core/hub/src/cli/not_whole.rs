//! What an export, an import or a backup lacks, in the same words everywhere.

use std::io::{self, Write};

use swarfbook_job::id::Sha256Hex;

/// The exit code of what was written and lacks what was damaged.
pub(super) const NOT_WHOLE: u8 = 3;

/// Photos that are not there, and photos that are damaged.
pub(super) fn photos(out: &mut impl Write, missing: u64, damaged: &[Sha256Hex]) -> io::Result<()> {
    if missing > 0 {
        writeln!(
            out,
            "photos that lines name and that are not on this device yet: {missing}"
        )?;
    }
    for photo in damaged {
        left_out(out, format_args!("photo {photo}"))?;
    }
    Ok(())
}

/// One thing that is damaged.
pub(super) fn left_out(out: &mut impl Write, what: std::fmt::Arguments<'_>) -> io::Result<()> {
    writeln!(out, "damaged, left out: {what}")
}
