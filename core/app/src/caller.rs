//! Who asks at the door: the device itself, or one of the browsers that a hub serves.
//!
//! Each browser has a profile: the name that its lines are written under, its hand, language
//! and place. Who asks is handed down the thread of a call, as the language is; nothing but
//! the settings and the place that the call reads and keeps follows from it.

use std::cell::RefCell;

use swarfbook_words::say;

use crate::problem::{Problem, ProblemKind};

/// How many hexadecimal digits name a profile.
const DIGITS: usize = 32;

/// A browser of a hub, by the name that its cookie has.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Profile(String);

impl Profile {
    /// A new one.
    ///
    /// # Errors
    /// A [`Problem`] when the system gives no random numbers.
    pub fn make() -> Result<Profile, Problem> {
        let mut bytes = [0u8; DIGITS / 2];
        getrandom::fill(&mut bytes).map_err(|error| {
            Problem::new(
                ProblemKind::Storage,
                say!("the-system-gave-no-random-numbers-error", error = error),
                say!("start-the-app-again"),
            )
        })?;
        Ok(Profile(
            bytes.iter().map(|byte| format!("{byte:02x}")).collect(),
        ))
    }

    /// The one of this name; `None` for what can't be one.
    pub fn read(name: &str) -> Option<Profile> {
        let plain = |byte: u8| byte.is_ascii_digit() || (b'a'..=b'f').contains(&byte);
        (name.len() == DIGITS && name.bytes().all(plain)).then(|| Profile(name.to_owned()))
    }

    /// Its name, as a cookie carries it.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

thread_local! {
    /// Set by [`asked_by`] alone, and set back by it.
    static CALLER: RefCell<Option<Profile>> = const { RefCell::new(None) };
}

/// The browser that asks; `None` for the device itself.
pub(crate) fn caller() -> Option<Profile> {
    CALLER.with_borrow(Clone::clone)
}

/// Does `what` as asked by this browser, or by the device itself.
pub(crate) fn asked_by<T>(profile: Option<Profile>, what: impl FnOnce() -> T) -> T {
    struct Back(Option<Profile>);
    impl Drop for Back {
        fn drop(&mut self) {
            CALLER.replace(self.0.take());
        }
    }
    let _back = Back(CALLER.replace(profile));
    what()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_profile_is_named_by_32_digits() {
        let made = Profile::make().unwrap();
        assert_eq!(Profile::read(made.as_str()), Some(made.clone()));
        assert_ne!(Profile::make().unwrap(), made);
        for wrong in ["", "abc", &"g".repeat(32), &"A".repeat(32), &"0".repeat(33)] {
            assert_eq!(Profile::read(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn who_asks_is_set_back() {
        let one = Profile::make().unwrap();
        asked_by(Some(one.clone()), || {
            asked_by(None, || assert_eq!(caller(), None));
            assert_eq!(caller(), Some(one.clone()));
        });
        assert_eq!(caller(), None);
    }
}
