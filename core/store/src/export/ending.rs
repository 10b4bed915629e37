//! What an archive is written to. The library that packs it ends an archive that failed by writing
//! more, and says on standard error that this fails, too: behind the first error all goes nowhere.

use std::io::{Error, ErrorKind, Result, Seek, SeekFrom, Write};

pub(super) struct Ending<W> {
    to: W,
    failed: bool,
    /// Where the next byte would go, once nothing goes anywhere.
    at: u64,
    /// How far that went.
    end: u64,
}

impl<W> Ending<W> {
    pub(super) fn at(to: W) -> Ending<W> {
        Ending {
            to,
            failed: false,
            at: 0,
            end: 0,
        }
    }

    fn seen<T>(&mut self, done: Result<T>) -> Result<T> {
        // What was interrupted is done again.
        let failed = |why: &Error| why.kind() != ErrorKind::Interrupted;
        self.failed |= done.as_ref().is_err_and(failed);
        done
    }
}

impl<W: Write> Write for Ending<W> {
    fn write(&mut self, bytes: &[u8]) -> Result<usize> {
        let written = if self.failed {
            Ok(bytes.len())
        } else {
            let written = self.to.write(bytes);
            self.seen(written)
        };
        if let Ok(bytes) = written {
            self.at = self.at.saturating_add(bytes as u64);
            self.end = self.end.max(self.at);
        }
        written
    }

    fn flush(&mut self) -> Result<()> {
        if self.failed {
            return Ok(());
        }
        let done = self.to.flush();
        self.seen(done)
    }
}

impl<W: Seek> Seek for Ending<W> {
    fn seek(&mut self, to: SeekFrom) -> Result<u64> {
        if self.failed {
            self.at = match to {
                SeekFrom::Start(at) => at,
                SeekFrom::Current(by) => self.at.saturating_add_signed(by),
                SeekFrom::End(by) => self.end.saturating_add_signed(by),
            };
        } else {
            let at = self.to.seek(to);
            self.at = self.seen(at)?;
        }
        Ok(self.at)
    }
}
