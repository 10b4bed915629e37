//! The status byte that comes with a code (ISO 14229-1, D.2).

use serde::{Deserialize, Serialize};
use swarfbook_words::term;
use ts_rs::TS;

/// The eight bits, lowest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct Status {
    /// Bit 0: it fails now.
    pub test_failed: bool,
    /// Bit 1: it failed since this ignition cycle began.
    pub failed_this_cycle: bool,
    /// Bit 2: seen, not yet confirmed.
    pub pending: bool,
    /// Bit 3: confirmed.
    pub confirmed: bool,
    /// Bit 4: not tested since the codes were cleared.
    pub not_tested_since_clear: bool,
    /// Bit 5: failed at least once since the codes were cleared.
    pub failed_since_clear: bool,
    /// Bit 6: not tested in this ignition cycle.
    pub not_tested_this_cycle: bool,
    /// Bit 7: the warning light is asked for.
    pub warning_light: bool,
}

impl Status {
    /// From the byte.
    pub const fn from_byte(byte: u8) -> Self {
        Status {
            test_failed: byte & 0x01 != 0,
            failed_this_cycle: byte & 0x02 != 0,
            pending: byte & 0x04 != 0,
            confirmed: byte & 0x08 != 0,
            not_tested_since_clear: byte & 0x10 != 0,
            failed_since_clear: byte & 0x20 != 0,
            not_tested_this_cycle: byte & 0x40 != 0,
            warning_light: byte & 0x80 != 0,
        }
    }

    /// The bits, lowest first.
    pub const fn bits(self) -> [bool; 8] {
        [
            self.test_failed,
            self.failed_this_cycle,
            self.pending,
            self.confirmed,
            self.not_tested_since_clear,
            self.failed_since_clear,
            self.not_tested_this_cycle,
            self.warning_light,
        ]
    }

    /// Each bit in words, lowest first, as ISO 14229-1 D.2 orders them.
    fn bit_words() -> [&'static str; 8] {
        [
            term!("fails-now"),
            term!("failed-in-this-ignition-cycle"),
            term!("pending"),
            term!("confirmed"),
            term!("not-tested-since-clearing"),
            term!("failed-since-clearing"),
            term!("not-tested-in-this-ignition-cycle"),
            term!("warning-light-asked-for"),
        ]
    }

    /// The bits that are set, in words.
    pub fn set_bits(self) -> Vec<&'static str> {
        Self::bit_words()
            .into_iter()
            .zip(self.bits())
            .filter_map(|(words, set)| set.then_some(words))
            .collect()
    }

    /// What it means for the technician, in one sentence.
    pub fn words(self) -> &'static str {
        if self.test_failed {
            term!("it-fails-now")
        } else if self.confirmed {
            term!("confirmed-earlier-it-does-not-fail-at-this")
        } else if self.pending {
            term!("seen-not-yet-confirmed")
        } else if self.not_tested_since_clear {
            term!("not-tested-since-the-codes-were-cleared-drive")
        } else if self.failed_since_clear {
            term!("it-failed-at-least-once-since-the-codes")
        } else {
            term!("tested-since-the-codes-were-cleared-and-it")
        }
    }
}
