//! What an export, an import or a backup lacks, in the same words everywhere.

use std::io::{self, Write};

use swarfbook_job::id::Sha256Hex;
use swarfbook_store::LostLines;

/// The exit code of what was written and lacks what was damaged.
pub(super) const NOT_WHOLE: u8 = 3;

/// Photos that are not there, of them those that were there before, and photos that are damaged.
pub(super) fn photos(
    out: &mut impl Write,
    missing: u64,
    lost: &[Sha256Hex],
    damaged: &[Sha256Hex],
) -> io::Result<()> {
    let not_yet = missing.saturating_sub(lost.len() as u64);
    if not_yet > 0 {
        writeln!(
            out,
            "photos that lines name and that are not on this device yet: {not_yet}"
        )?;
    }
    for photo in lost {
        writeln!(out, "missing, was here before: photo {photo}")?;
    }
    for photo in damaged {
        left_out(out, format_args!("photo {photo}"))?;
    }
    Ok(())
}

/// Lines that are missing.
pub(super) fn lines(out: &mut impl Write, lost: &[LostLines], unnamed: u64) -> io::Result<()> {
    for LostLines {
        device,
        first,
        last,
    } in lost
    {
        let lines = format_args!("lines {first} to {last} of device {device}");
        left_out(out, lines)?;
    }
    if unnamed > 0 {
        left_out(out, format_args!("{unnamed} lines more"))?;
    }
    Ok(())
}

/// One thing that is damaged.
fn left_out(out: &mut impl Write, what: std::fmt::Arguments<'_>) -> io::Result<()> {
    writeln!(out, "damaged, left out: {what}")
}
