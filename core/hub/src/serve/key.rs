//! The hub's key: who has it may open the screens. It is in the printed address.

use swarfbook_app::App;
use swarfbook_app::problem::{Problem, ProblemKind};
use swarfbook_job::id::Sha256Hex;

use super::sessions;

/// Under which name the store keeps the key.
const SETTING: &str = "hub_key";

/// 32 random bytes in hexadecimal.
#[derive(Clone)]
pub struct Key(String);

impl Key {
    /// The store's key, as it is now: another program may have changed it. Made when there
    /// is none.
    ///
    /// # Errors
    /// A [`Problem`] when the store or the system's randomness can't be used.
    pub fn of_store(app: &App) -> Result<Key, Problem> {
        let store = app.store();
        if let Some(kept) = store.setting::<String>(SETTING)? {
            return Ok(Key(kept));
        }
        Ok(Key(store.set_first_for_this_run(SETTING, secret()?)?))
    }

    /// A new key in place of the old one. Sessions are of the key that they were opened
    /// with, so that all end by it, at a hub that runs too.
    ///
    /// # Errors
    /// As [`Key::of_store`].
    pub fn renew(app: &App) -> Result<Key, Problem> {
        let key = secret()?;
        let store = app.store();
        store.set(SETTING, &key)?;
        sessions::forget_all(store)?;
        Ok(Key(key))
    }

    /// As the address carries it.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// Compares hashes, so that the time it takes tells nothing of the key.
    pub(super) fn fits(&self, given: &str) -> bool {
        self.hash() == Sha256Hex::of(given.as_bytes())
    }

    /// Tells keys apart and opens nothing.
    pub(super) fn hash(&self) -> Sha256Hex {
        Sha256Hex::of(self.0.as_bytes())
    }
}

/// 256 bits that nobody guesses.
pub(super) fn secret() -> Result<String, Problem> {
    let mut bytes = [0u8; 32];
    getrandom::fill(&mut bytes).map_err(|error| {
        Problem::new(
            ProblemKind::Storage,
            format!("The system gave no random numbers: {error}."),
            "Start the hub again.",
        )
    })?;
    // The hash of random bytes is as random, and comes with its spelling.
    Ok(Sha256Hex::of(&bytes).to_string())
}
