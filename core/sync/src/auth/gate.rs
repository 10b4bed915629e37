//! Checks the claims of each request on the hub.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

use swarfbook_job::id::{DeviceId, Sha256Hex};
use swarfbook_words::{say, term};

use super::signed::Signed;

/// How far a device's clock may be from the hub's, in milliseconds.
pub const MAX_SKEW_MILLIS: u64 = 5 * 60 * 1000;

/// A request that may be answered, once its body is what was signed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Allowed {
    /// Who asks.
    pub device: DeviceId,
    /// What the body must hash to.
    pub body: Sha256Hex,
}

/// Why a request is not answered. A stranger hears only the first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum Denied {
    /// No claims, an unknown device, or a signature that is not its own.
    #[error("{}", term!("this-device-is-not-paired-with-this-hub"))]
    Stranger,
    /// The clocks are too far apart.
    #[error("{}", say!("this-devices-clock-and-the-hubs-are-minutes", minutes = minutes))]
    Clock {
        /// How far.
        minutes: u64,
    },
    /// The very same request came before.
    #[error("{}", term!("this-request-came-twice-sync-again"))]
    Replay,
}

/// Remembers which requests came, for as long as their time is accepted. Its lock is held for
/// that memory alone: never while a key is read or a signature is checked.
#[derive(Debug, Default)]
pub struct Gate {
    seen: Mutex<Seen>,
}

#[derive(Debug, Default)]
struct Seen {
    requests: BTreeMap<(DeviceId, String), u64>,
    swept_millis: u64,
}

impl Gate {
    /// Checks a request by its header. `hub` has the names that this hub answers to, `key_of`
    /// gives a paired device's public key.
    ///
    /// # Errors
    /// [`Denied`].
    pub fn check(
        &self,
        header: &str,
        (method, target): (&str, &str),
        hub: &[DeviceId],
        key_of: impl FnOnce(DeviceId) -> Option<String>,
        now_millis: u64,
    ) -> Result<Allowed, Denied> {
        let signed = Signed::read(header).ok_or(Denied::Stranger)?;
        let key = key_of(signed.device).ok_or(Denied::Stranger)?;
        let mut hub = hub.iter();
        if !hub.any(|hub| signed.is_by(&key, method, target, *hub)) {
            return Err(Denied::Stranger);
        }
        // Only what a paired device signed is remembered or told more.
        let apart = signed.time_millis.abs_diff(now_millis);
        if apart > MAX_SKEW_MILLIS {
            return Err(Denied::Clock {
                minutes: apart / 60_000,
            });
        }
        // It holds nothing half done when a thread ends early.
        let mut seen = self.seen.lock().unwrap_or_else(PoisonError::into_inner);
        seen.sweep(now_millis);
        let name = (signed.device, signed.nonce);
        if seen.requests.insert(name, signed.time_millis).is_some() {
            return Err(Denied::Replay);
        }
        Ok(Allowed {
            device: signed.device,
            body: signed.body,
        })
    }
}

impl Seen {
    /// Forgets what its time alone would refuse by now. Once a minute is enough.
    fn sweep(&mut self, now_millis: u64) {
        if now_millis.abs_diff(self.swept_millis) > 60_000 {
            self.swept_millis = now_millis;
            self.requests
                .retain(|_, time| time.abs_diff(now_millis) <= MAX_SKEW_MILLIS);
        }
    }
}

#[cfg(test)]
mod tests {
    use swarfbook_store::DeviceKey;

    use super::*;
    use crate::message::Request;

    const NOW: u64 = 1_800_000_000_000;

    fn id(n: u128) -> DeviceId {
        // Made by text: this crate needs no UUIDs of its own.
        format!("{n:032x}").parse().expect("an id")
    }

    struct Case {
        gate: Gate,
        key: DeviceKey,
        request: Request,
    }

    impl Case {
        fn new() -> Case {
            Case {
                gate: Gate::default(),
                key: DeviceKey::make().expect("random"),
                request: Request::post("/sync/lines?x=1", b"body".to_vec()),
            }
        }

        fn header(&self, at: u64) -> String {
            Signed::sign(&self.request, id(1), id(9), &self.key, at)
                .expect("signed")
                .header()
        }

        fn check(&self, header: &str, what: (&str, &str), now: u64) -> Result<Allowed, Denied> {
            let public = self.key.public_hex();
            self.gate.check(
                header,
                what,
                &[id(7), id(9)],
                |device| (device == id(1)).then_some(public),
                now,
            )
        }
    }

    const WHAT: (&str, &str) = ("POST", "/sync/lines?x=1");

    #[test]
    fn a_paired_device_is_let_in_once_a_request() {
        let case = Case::new();
        let header = case.header(NOW);
        let allowed = case.check(&header, WHAT, NOW).expect("let in");
        assert_eq!(allowed.device, id(1));
        assert_eq!(allowed.body, Sha256Hex::of(b"body"));
        assert_eq!(case.check(&header, WHAT, NOW), Err(Denied::Replay));
        let later = NOW + MAX_SKEW_MILLIS;
        assert_eq!(case.check(&header, WHAT, later), Err(Denied::Replay));
        let too_late = case.check(&header, WHAT, later + 1);
        assert!(
            matches!(too_late, Err(Denied::Clock { .. })),
            "{too_late:?}"
        );
    }

    #[test]
    fn whoever_changes_any_part_is_a_stranger() {
        let case = Case::new();
        let header = case.header(NOW);
        for what in [
            ("GET", "/sync/lines?x=1"),
            ("POST", "/sync/lines?x=2"),
            ("POST", "/sync/photos"),
        ] {
            assert_eq!(case.check(&header, what, NOW), Err(Denied::Stranger));
        }
        let parts: Vec<&str> = header.split(' ').collect();
        for (index, other) in [
            (0, "Bearer".to_owned()),
            (1, id(2).to_string()),
            (2, (NOW + 1).to_string()),
            (3, "0".repeat(32)),
            (4, Sha256Hex::of(b"other").to_string()),
            (5, "0".repeat(128)),
        ] {
            let mut forged = parts.clone();
            forged[index] = &other;
            let forged = forged.join(" ");
            assert_eq!(
                case.check(&forged, WHAT, NOW),
                Err(Denied::Stranger),
                "{forged}"
            );
        }
        assert_eq!(case.check("", WHAT, NOW), Err(Denied::Stranger));
        assert_eq!(
            case.check(&format!("{header} more"), WHAT, NOW),
            Err(Denied::Stranger)
        );
        let other_hub = Signed::sign(&case.request, id(1), id(8), &case.key, NOW)
            .expect("signed")
            .header();
        assert_eq!(case.check(&other_hub, WHAT, NOW), Err(Denied::Stranger));
    }

    #[test]
    fn a_clock_that_is_wrong_is_named_only_to_a_paired_device() {
        let case = Case::new();
        let header = case.header(NOW - 20 * 60_000);
        assert_eq!(
            case.check(&header, WHAT, NOW),
            Err(Denied::Clock { minutes: 20 })
        );
        let near = case.header(NOW + MAX_SKEW_MILLIS);
        assert!(case.check(&near, WHAT, NOW).is_ok());
    }

    #[test]
    fn old_requests_are_forgotten() {
        let case = Case::new();
        for minute in 0..60 {
            let now = NOW + minute * 60_001;
            let header = case.header(now);
            case.check(&header, WHAT, now).expect("let in");
        }
        let kept = case.gate.seen.lock().expect("whole").requests.len();
        assert!(kept < 10, "{kept}");
    }
}
