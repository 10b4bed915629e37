//! When a reading has stood still for long enough to be taken.

use crate::reading::Reading;

/// A reading stands still when it is the same for so long, in so many frames.
const STILL_MS: f64 = 1000.0;
const FRAMES: u32 = 4;
/// Frames in which nothing is read are passed over for so long.
const BLIND_MS: f64 = 700.0;

/// How a reading stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Stand {
    /// Nothing is read.
    Nothing,
    /// It has stood still for a share of the time that it takes, 0 to 1.
    Waiting(f64),
    /// It has stood still for long enough: said once.
    Taken,
    /// It was taken, and nothing else was read since.
    Same,
}

#[derive(Debug, Clone)]
struct Standing {
    text: String,
    since_ms: f64,
    last_ms: f64,
    frames: u32,
    taken: bool,
}

/// Frames one after another, each with its time; times come from the caller.
#[derive(Debug, Clone, Default)]
pub struct Steady {
    standing: Option<Standing>,
    /// What was taken last, until something else is read: after a gap it is no new number.
    taken: Option<String>,
}

impl Steady {
    /// What the frame at `ms` says, or nothing.
    pub fn frame(&mut self, ms: f64, reading: Option<&Reading>) -> Stand {
        let text = reading.map(|r| r.text.clone());
        // A clock that went back, or a long gap, begins anew.
        if let Some(standing) = &self.standing
            && !(0.0..=BLIND_MS).contains(&(ms - standing.last_ms))
        {
            self.standing = None;
        }
        let Some(text) = text else {
            return (self.standing.as_ref()).map_or(Stand::Nothing, Standing::stand);
        };
        if self.taken.as_ref() != Some(&text) {
            self.taken = None;
        }
        let again = self.taken.is_some();
        let standing = match &mut self.standing {
            Some(standing) if standing.text == text => standing,
            other => other.insert(Standing {
                text,
                since_ms: ms,
                last_ms: ms,
                frames: 0,
                taken: again,
            }),
        };
        standing.last_ms = ms;
        standing.frames += 1;
        let still = ms - standing.since_ms >= STILL_MS && standing.frames >= FRAMES;
        if still && !standing.taken {
            standing.taken = true;
            self.taken = Some(standing.text.clone());
            return Stand::Taken;
        }
        standing.stand()
    }
}

impl Standing {
    fn stand(&self) -> Stand {
        if self.taken {
            return Stand::Same;
        }
        let by_time = (self.last_ms - self.since_ms) / STILL_MS;
        let by_frames = f64::from(self.frames) / f64::from(FRAMES);
        Stand::Waiting(by_time.min(by_frames).clamp(0.0, 1.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reading(text: &str) -> Reading {
        Reading {
            text: text.to_owned(),
            value: None,
            over_range: false,
            p: 1.0,
            corners_px: [[0.0; 2]; 4],
        }
    }

    /// Times, texts (empty: nothing read) and the letter of what each frame comes to.
    fn told(frames: &[(f64, &str)]) -> String {
        let mut steady = Steady::default();
        let mut letter = |(ms, text): &(f64, &str)| {
            let one = reading(text);
            match steady.frame(*ms, Some(&one).filter(|r| !r.text.is_empty())) {
                Stand::Nothing => 'n',
                Stand::Waiting(_) => 'w',
                Stand::Taken => 'T',
                Stand::Same => 's',
            }
        };
        frames.iter().map(&mut letter).collect()
    }

    #[test]
    fn a_second_of_the_same_is_taken_once() {
        let frames: Vec<(f64, &str)> = (0..16).map(|n| (f64::from(n) * 125.0, "12.73")).collect();
        assert_eq!(told(&frames), "wwwwwwwwTsssssss");
    }

    #[test]
    fn what_changes_begins_anew() {
        let last = [
            (0.0, "1.0"),
            (400.0, "1.0"),
            (800.0, "1.1"),
            (1200.0, "1.1"),
            (1600.0, "1.1"),
            (2000.0, "1.1"),
        ];
        assert_eq!(told(&last), "wwwwwT");
        let jumps: Vec<(f64, &str)> = (0..20)
            .map(|n| (f64::from(n) * 125.0, if n % 3 == 0 { "1.0" } else { "1.1" }))
            .collect();
        assert!(!told(&jumps).contains('T'));
    }

    #[test]
    fn a_glance_away_is_passed_over_and_a_long_one_is_not() {
        let short = [
            (0.0, "5"),
            (300.0, "5"),
            (600.0, ""),
            (900.0, "5"),
            (1200.0, "5"),
        ];
        assert_eq!(told(&short), "wwwwT");
        let long = [
            (0.0, "5"),
            (300.0, "5"),
            (1100.0, ""),
            (1200.0, "5"),
            (1500.0, "5"),
        ];
        assert_eq!(told(&long), "wwnww");
    }

    /// The display was covered for a moment, or out of the picture: the number there is the one
    /// that was taken. Once something else was read it may be taken again.
    #[test]
    fn what_was_taken_is_not_taken_again_behind_a_gap() {
        let second = |from: f64, text: &'static str| {
            (0..5).map(move |n| (from + f64::from(n) * 300.0, text))
        };
        let gap = second(0.0, "5")
            .chain(second(4000.0, ""))
            .chain(second(8000.0, "5"));
        let gap: Vec<_> = gap.collect();
        assert_eq!(told(&gap), "wwwwTnnnnnsssss");
        let open = gap
            .into_iter()
            .chain([(9300.0, "OL")])
            .chain(second(9600.0, "5"));
        assert_eq!(told(&open.collect::<Vec<_>>()), "wwwwTnnnnnssssswwwwwT");
    }

    #[test]
    fn few_frames_are_not_enough() {
        assert_eq!(told(&[(0.0, "5"), (600.0, "5"), (1200.0, "5")]), "www");
    }

    #[test]
    fn a_clock_that_went_back_begins_anew() {
        assert_eq!(told(&[(5000.0, "5"), (0.0, "5"), (300.0, "5")]), "www");
    }
}
