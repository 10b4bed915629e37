//! The one-time code that the hub shows: eight digits, ten minutes, one use. Wrong tries
//! are counted by whoever knows where they come from, and do not void it: a stranger
//! could keep others from pairing.

use std::sync::{Mutex, MutexGuard, PoisonError};

use swarfbook_job::id::Sha256Hex;
use swarfbook_store::key::{KeyError, random};
use swarfbook_words::term;

/// How long a code can be used, in milliseconds.
pub const CODE_LIFE_MILLIS: u64 = 10 * 60 * 1000;

/// Why a code was not accepted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum CodeRefused {
    /// The hub shows none: not asked for, used, or too old.
    #[error("{}", term!("the-hub-shows-no-code-or-it-was"))]
    None,
    /// Another code is shown.
    #[error("{}", term!("that-is-not-the-code-that-the-hub"))]
    Wrong,
}

/// The code in force, if any. Time is handed in. Its lock is held while codes are compared,
/// and never while a device is written down.
#[derive(Debug, Default)]
pub struct PairCode {
    shown: Mutex<Option<Shown>>,
}

#[derive(Debug)]
struct Shown {
    digits: String,
    at_millis: u64,
}

impl PairCode {
    /// A new code, which voids the one before.
    ///
    /// # Errors
    /// [`KeyError::Random`].
    pub fn show(&self, now_millis: u64) -> Result<String, KeyError> {
        let digits = digits()?;
        *self.shown() = Some(Shown {
            digits: digits.clone(),
            at_millis: now_millis,
        });
        Ok(digits)
    }

    /// It holds nothing half done when a thread ends early.
    fn shown(&self) -> MutexGuard<'_, Option<Shown>> {
        self.shown.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Uses the code up, if it is the one.
    ///
    /// # Errors
    /// [`CodeRefused`].
    pub fn accept(&self, given: &str, now_millis: u64) -> Result<(), CodeRefused> {
        let mut in_force = self.shown();
        let Some(shown) = in_force.as_ref() else {
            return Err(CodeRefused::None);
        };
        // A clock that was set back voids the code too.
        let age = now_millis.checked_sub(shown.at_millis);
        if age.is_none_or(|age| age > CODE_LIFE_MILLIS) {
            *in_force = None;
            return Err(CodeRefused::None);
        }
        let given: String = given.chars().filter(|c| !c.is_whitespace()).collect();
        // Hashes are compared, so that the time it takes tells nothing of the code.
        if Sha256Hex::of(given.as_bytes()) == Sha256Hex::of(shown.digits.as_bytes()) {
            *in_force = None;
            return Ok(());
        }
        Err(CodeRefused::Wrong)
    }
}

/// Eight digits, each code as likely as any other.
fn digits() -> Result<String, KeyError> {
    const CODES: u32 = 100_000_000;
    loop {
        let number = u32::from_be_bytes(random::<4>()?);
        // Beyond the last whole multiple the low codes would be likelier.
        if number < u32::MAX / CODES * CODES {
            return Ok(format!("{:08}", number % CODES));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(code: &PairCode, at: u64) -> String {
        code.show(at).expect("random")
    }

    fn other(digits: &str) -> String {
        let last = if digits.ends_with('0') { "1" } else { "0" };
        format!("{}{last}", &digits[..7])
    }

    #[test]
    fn a_code_works_once_however_it_is_spaced() {
        let code = PairCode::default();
        assert_eq!(code.accept("", 0), Err(CodeRefused::None));
        let digits = shown(&code, 1_000);
        assert!(digits.len() == 8 && digits.bytes().all(|b| b.is_ascii_digit()));
        let spaced = format!(" {} {}\n", &digits[..4], &digits[4..]);
        assert_eq!(code.accept(&spaced, 2_000), Ok(()));
        assert_eq!(code.accept(&digits, 2_000), Err(CodeRefused::None));
    }

    #[test]
    fn a_code_is_void_after_ten_minutes_or_when_the_clock_was_set_back() {
        for (at, result) in [
            (1_000 + CODE_LIFE_MILLIS, Ok(())),
            (1_001 + CODE_LIFE_MILLIS, Err(CodeRefused::None)),
            (999, Err(CodeRefused::None)),
        ] {
            let code = PairCode::default();
            let digits = shown(&code, 1_000);
            assert_eq!(code.accept(&digits, at), result, "{at}");
        }
    }

    #[test]
    fn wrong_tries_do_not_void_it_for_the_right_one() {
        let code = PairCode::default();
        let digits = shown(&code, 0);
        for _ in 0..100 {
            assert_eq!(code.accept(&other(&digits), 1), Err(CodeRefused::Wrong));
        }
        assert_eq!(code.accept(&digits, 1), Ok(()));
    }
}
