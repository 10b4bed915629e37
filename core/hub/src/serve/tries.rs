//! Guesses are counted: so many of one kind in a time, then none until it is over. Asked
//! before a guess is looked at, and given back when it was right, so that many at once
//! are no more than one after another.

use std::collections::HashMap;
use std::hash::Hash;
use std::time::{Duration, Instant};

/// Guesses remembered at once; a stranger must not fill the memory.
const REMEMBERED: usize = 10_000;

pub(super) struct Tries<K> {
    most: u32,
    within: Duration,
    seen: HashMap<K, Seen>,
}

struct Seen {
    tries: u32,
    since: Instant,
}

/// No more guesses for so long.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Wait(pub Duration);

impl Wait {
    /// For a sentence; never 0.
    pub(super) fn minutes(self) -> u64 {
        self.0.as_secs() / 60 + 1
    }
}

impl<K: Eq + Hash + Clone> Tries<K> {
    pub(super) fn new(most: u32, within: Duration) -> Tries<K> {
        Tries {
            most,
            within,
            seen: HashMap::new(),
        }
    }

    /// Takes one guess of `who`.
    pub(super) fn take(&mut self, who: &K, now: Instant) -> Result<(), Wait> {
        if self.seen.len() >= REMEMBERED {
            self.forget(now);
        }
        let seen = self.seen.entry(who.clone()).or_insert(Seen {
            tries: 0,
            since: now,
        });
        if now.duration_since(seen.since) >= self.within {
            *seen = Seen {
                tries: 0,
                since: now,
            };
        }
        if seen.tries >= self.most {
            return Err(Wait(self.within - now.duration_since(seen.since)));
        }
        seen.tries += 1;
        Ok(())
    }

    /// The last guess was none.
    pub(super) fn give_back(&mut self, who: &K) {
        if let Some(seen) = self.seen.get_mut(who) {
            seen.tries = seen.tries.saturating_sub(1);
            if seen.tries == 0 {
                self.seen.remove(who);
            }
        }
    }

    /// What is over; if that is not enough, all: with so many at once nobody is told apart.
    fn forget(&mut self, now: Instant) {
        let within = self.within;
        self.seen
            .retain(|_, seen| now.duration_since(seen.since) < within);
        if self.seen.len() >= REMEMBERED {
            self.seen.clear();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const WITHIN: Duration = Duration::from_secs(60);

    #[test]
    fn five_guesses_lock_one_and_not_the_other_until_the_time_is_over() {
        let mut tries = Tries::new(5, WITHIN);
        let now = Instant::now();
        for _ in 0..5 {
            assert_eq!(tries.take(&"a", now), Ok(()));
        }
        assert_eq!(tries.take(&"a", now + WITHIN / 2), Err(Wait(WITHIN / 2)));
        assert_eq!(tries.take(&"b", now), Ok(()));
        assert_eq!(tries.take(&"a", now + WITHIN), Ok(()));
    }

    #[test]
    fn what_was_no_guess_is_given_back() {
        let mut tries = Tries::new(2, WITHIN);
        let now = Instant::now();
        for _ in 0..10 {
            assert_eq!(tries.take(&"a", now), Ok(()));
            tries.give_back(&"a");
        }
        assert!(tries.seen.is_empty());
    }

    #[test]
    fn many_strangers_do_not_fill_the_memory() {
        let mut tries = Tries::new(5, WITHIN);
        let now = Instant::now();
        for who in 0..3 * REMEMBERED {
            assert_eq!(tries.take(&who, now), Ok(()));
        }
        assert!(tries.seen.len() <= REMEMBERED);
    }
}
