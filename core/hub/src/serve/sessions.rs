//! Browsers that were let in. A session's secret is in a cookie; the hub keeps its hash. The
//! list lives in memory, and in the store for the next start: a disk that is full or may not
//! be written shuts nobody out.

use std::net::IpAddr;

use serde::{Deserialize, Serialize};
use swarfbook_app::problem::Problem;
use swarfbook_job::id::Sha256Hex;
use swarfbook_store::Store;

use super::key::{Key, secret};

/// Under which name the store keeps the list.
const SETTING: &str = "hub_sessions";

const HOUR: i64 = 60 * 60;
/// Without a request: longer than a shop is closed at a weekend with holidays, in seconds.
const IDLE: i64 = 7 * 24 * HOUR;
/// In all, in seconds.
pub(super) const WHOLE: i64 = 30 * 24 * HOUR;
/// How much of its last use a restart may forget, in seconds.
const UNKEPT: i64 = HOUR / 6;
/// At the same time; the one that was used least lately gives way.
const MOST: usize = 50;
/// Letters kept of what a browser says that it is.
const BROWSER_LETTERS: usize = 160;

/// One browser that was let in. Times are seconds since 1970.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Session {
    /// The hash of its secret: who reads it gets in nowhere by it.
    pub id: Sha256Hex,
    /// The hash of the key that it was opened with.
    key: Sha256Hex,
    /// Where it was opened.
    pub from: Option<IpAddr>,
    /// What the browser says that it is.
    pub browser: String,
    pub since: i64,
    pub seen: i64,
}

impl Session {
    fn open(&self, key: Sha256Hex, now: i64) -> bool {
        self.key == key && now - self.seen < IDLE && now - self.since < WHOLE
    }
}

#[derive(Debug, Default)]
pub(super) struct Sessions {
    all: Vec<Session>,
    kept: i64,
}

impl Sessions {
    /// As the hub left them.
    pub(super) fn of_store(store: &Store) -> Result<Sessions, Problem> {
        let all = store.setting(SETTING)?.unwrap_or_default();
        Ok(Sessions { all, kept: 0 })
    }

    /// A new one, and its secret.
    pub(super) fn begin(
        &mut self,
        key: &Key,
        from: Option<IpAddr>,
        browser: &str,
        now: i64,
    ) -> Result<String, Problem> {
        let secret = secret()?;
        self.all.retain(|session| session.open(key.hash(), now));
        self.all.sort_by_key(|session| session.seen);
        while self.all.len() >= MOST {
            self.all.remove(0);
        }
        self.all.push(Session {
            id: Sha256Hex::of(secret.as_bytes()),
            key: key.hash(),
            from,
            browser: browser.chars().take(BROWSER_LETTERS).collect(),
            since: now,
            seen: now,
        });
        self.kept = 0;
        Ok(secret)
    }

    /// The one of this secret, which is used now.
    pub(super) fn of(&mut self, secret: &str, key: &Key, now: i64) -> Option<Sha256Hex> {
        let id = Sha256Hex::of(secret.as_bytes());
        let mut open = self.all.iter_mut().filter(|s| s.open(key.hash(), now));
        let session = open.find(|session| session.id == id)?;
        session.seen = session.seen.max(now);
        Some(id)
    }

    /// Those that are open, the latest used first.
    pub(super) fn open(&self, key: &Key, now: i64) -> Vec<Session> {
        let mut open = self.all.clone();
        open.retain(|session| session.open(key.hash(), now));
        open.sort_by_key(|session| std::cmp::Reverse(session.seen));
        open
    }

    /// Ends those that are told.
    pub(super) fn end(&mut self, which: impl Fn(&Session) -> bool) {
        self.all.retain(|session| !which(session));
        self.kept = 0;
    }

    /// Whether the store's list is too old.
    pub(super) fn is_due(&self, now: i64) -> bool {
        now - self.kept >= UNKEPT
    }

    pub(super) fn keep(&mut self, store: &Store, now: i64) -> Result<(), Problem> {
        // Tried again when it is due again, not at each request.
        self.kept = now;
        Ok(store.set_for_this_run(SETTING, &self.all)?)
    }
}

/// Ends all, for the hub's next start; one that runs knows them by their key.
pub(super) fn forget_all(store: &Store) -> Result<(), Problem> {
    Ok(store.set(SETTING, &Vec::<Session>::new())?)
}

#[cfg(test)]
mod tests {
    use swarfbook_app::App;

    use super::*;

    const NOW: i64 = 1_800_000_000;

    fn begun(sessions: &mut Sessions, key: &Key, now: i64) -> String {
        sessions.begin(key, None, "a browser", now).unwrap()
    }

    #[test]
    fn a_session_lives_while_it_is_used_and_not_for_ever() {
        let dir = tempfile::tempdir().unwrap();
        let key = Key::of_store(&App::open(dir.path()).unwrap()).unwrap();
        let mut sessions = Sessions::default();
        let secret = begun(&mut sessions, &key, NOW);
        let mut at = NOW;
        while at + IDLE - 1 < NOW + WHOLE {
            at += IDLE - 1;
            assert!(sessions.of(&secret, &key, at).is_some(), "{}", at - NOW);
        }
        assert_eq!(sessions.of(&secret, &key, NOW + WHOLE), None, "in all");
        let unused = begun(&mut sessions, &key, NOW);
        assert_eq!(sessions.of(&unused, &key, NOW + IDLE), None, "unused");
        assert_eq!(sessions.of("another", &key, NOW), None);
    }

    #[test]
    fn the_store_has_no_secret_and_a_new_key_ends_all() {
        let dir = tempfile::tempdir().unwrap();
        let app = App::open(dir.path()).unwrap();
        let key = Key::of_store(&app).unwrap();
        let mut sessions = Sessions::default();
        let secret = begun(&mut sessions, &key, NOW);
        assert!(sessions.is_due(NOW));
        sessions.keep(app.store(), NOW).unwrap();
        assert!(!sessions.is_due(NOW + 1));
        let kept: serde_json::Value = app.store().setting(SETTING).unwrap().unwrap();
        assert!(!kept.to_string().contains(&secret), "{kept}");
        let mut again = Sessions::of_store(app.store()).unwrap();
        assert!(again.of(&secret, &key, NOW).is_some(), "after a restart");
        let new = Key::renew(&app).unwrap();
        assert_eq!(again.of(&secret, &new, NOW), None, "at a hub that runs");
        assert!(Sessions::of_store(app.store()).unwrap().all.is_empty());
        assert_eq!(Key::of_store(&app).unwrap().as_str(), new.as_str());
    }

    #[test]
    fn each_is_ended_alone_and_the_oldest_gives_way() {
        let dir = tempfile::tempdir().unwrap();
        let key = Key::of_store(&App::open(dir.path()).unwrap()).unwrap();
        let mut sessions = Sessions::default();
        let (one, other) = (
            begun(&mut sessions, &key, NOW),
            begun(&mut sessions, &key, NOW + 1),
        );
        let id = sessions.of(&one, &key, NOW + 2).unwrap();
        assert_eq!(sessions.open(&key, NOW + 2)[0].id, id, "used last");
        sessions.end(|session| session.id == id);
        assert_eq!(sessions.of(&one, &key, NOW + 2), None);
        assert!(sessions.of(&other, &key, NOW + 2).is_some());
        for more in 0..MOST as i64 {
            begun(&mut sessions, &key, NOW + 3 + more);
        }
        assert_eq!(sessions.open(&key, NOW + 100).len(), MOST);
        assert_eq!(sessions.of(&other, &key, NOW + 100), None);
    }
}
