//! A hybrid logical clock: wall time where clocks agree, cause before effect
//! where they do not (Kulkarni et al., 2014: "Logical Physical Clocks").

use serde::{Deserialize, Serialize};

/// A reading of the hybrid clock. Orders by time, then by the counter.
#[derive(
    Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
pub struct Hlc {
    /// Milliseconds since 1970, never less than any reading seen before.
    pub millis: u64,
    /// Orders what falls into the same millisecond.
    pub counter: u32,
}

/// A peer whose clock runs ahead by more than this is not followed: its wall
/// time would drag every later entry of the shop into the future.
pub const MAX_AHEAD_MILLIS: u64 = 24 * 60 * 60 * 1000;

impl Hlc {
    /// The next reading at wall time `now_millis`, after everything seen so far.
    #[must_use]
    pub fn tick(self, now_millis: u64) -> Hlc {
        if now_millis > self.millis {
            Hlc {
                millis: now_millis,
                counter: 0,
            }
        } else {
            self.next()
        }
    }

    /// What this clock has seen once it also knows of `other`. A reading from
    /// more than [`MAX_AHEAD_MILLIS`] in the future is kept in the log but
    /// does not move this clock.
    #[must_use]
    pub fn seen(self, other: Hlc, now_millis: u64) -> Hlc {
        if other.millis > now_millis.saturating_add(MAX_AHEAD_MILLIS) {
            self
        } else {
            self.max(other)
        }
    }

    fn next(self) -> Hlc {
        match self.counter.checked_add(1) {
            Some(counter) => Hlc {
                millis: self.millis,
                counter,
            },
            None => Hlc {
                millis: self.millis.saturating_add(1),
                counter: 0,
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn later_is_greater_even_when_the_wall_clock_steps_back() {
        let first = Hlc::default().tick(1_000);
        let second = first.tick(900);
        let third = second.tick(1_000);
        assert!(first < second && second < third);
        assert_eq!(third.tick(2_000).counter, 0);
    }

    #[test]
    fn a_peer_from_next_year_does_not_move_the_clock() {
        let mine = Hlc::default().tick(1_000);
        let mad = Hlc {
            millis: 1_000 + MAX_AHEAD_MILLIS + 1,
            counter: 0,
        };
        assert_eq!(mine.seen(mad, 1_000), mine);
        let near = Hlc {
            millis: 1_500,
            counter: 7,
        };
        assert!(mine.seen(near, 1_000).tick(1_000) > near);
    }
}
