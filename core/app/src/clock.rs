//! Where the time comes from, so that tests can hand it in.

use chrono::{DateTime, FixedOffset, Local};

/// Tells the wall time with its offset.
pub trait Clock: Send + Sync {
    /// Wall time as the device shows it, with the offset there.
    fn now(&self) -> DateTime<FixedOffset>;
}

/// The device's own clock.
#[derive(Debug, Clone, Copy, Default)]
pub struct SystemClock;

impl Clock for SystemClock {
    fn now(&self) -> DateTime<FixedOffset> {
        Local::now().fixed_offset()
    }
}
