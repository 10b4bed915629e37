//! Pairing: what the device asks, what the hub answers.

use chrono::{DateTime, FixedOffset};
use serde::{Deserialize, Serialize};
use swarfbook_job::id::DeviceId;
use swarfbook_store::key::{DeviceKey, verify};
use swarfbook_store::{PairedDevice, Store};
use swarfbook_words::term;

use super::code::{CodeRefused, PairCode};
use crate::message::{Response, from_json};

/// The most that a request to pair may weigh.
pub const MAX_PAIR_BYTES: usize = 4 * 1024;

/// Letters of a device's name that are kept.
const MAX_NAME: usize = 60;

/// A device asks to be paired.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PairRequest {
    /// The code that the hub shows.
    pub code: String,
    /// The device's name in the log.
    pub device: DeviceId,
    /// Its name for people.
    pub name: String,
    /// The public half of its key (Ed25519).
    pub public_key: String,
    /// Shows that it holds the secret half.
    pub proof: String,
}

impl PairRequest {
    /// A request for `device` with its new key.
    pub fn new(code: &str, device: DeviceId, name: &str, key: &DeviceKey) -> PairRequest {
        let public_key = key.public_hex();
        PairRequest {
            code: code.to_owned(),
            device,
            name: name.to_owned(),
            proof: key.sign(&text(code, device, &public_key)),
            public_key,
        }
    }

    fn holds_its_key(&self) -> bool {
        let text = text(&self.code, self.device, &self.public_key);
        verify(&self.public_key, &text, &self.proof)
    }
}

fn text(code: &str, device: DeviceId, public_key: &str) -> String {
    format!("swarfbook-pair-1\n{code}\n{device}\n{public_key}")
}

/// The device is paired.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PairReply {
    /// The hub's name in the log.
    pub hub: DeviceId,
}

/// What a request to pair came to.
#[derive(Debug)]
pub struct Admitted {
    /// What goes back to the device.
    pub response: Response,
    /// It had another code than the one that is shown.
    pub guessed_wrong: bool,
}

/// Pairs the device that sent `body`, if it knows the code.
pub fn admit(store: &Store, code: &PairCode, body: &[u8], now: DateTime<FixedOffset>) -> Admitted {
    let mut guessed_wrong = false;
    let response = answer(store, code, body, now, &mut guessed_wrong);
    Admitted {
        response,
        guessed_wrong,
    }
}

fn answer(
    store: &Store,
    code: &PairCode,
    body: &[u8],
    now: DateTime<FixedOffset>,
    guessed_wrong: &mut bool,
) -> Response {
    let Ok(request) = from_json::<PairRequest>(body) else {
        return Response::refused(400, term!("this-is-no-request-to-pair-update-the"));
    };
    let now_millis = u64::try_from(now.timestamp_millis()).unwrap_or(0);
    if let Err(refused) = code.accept(&request.code, now_millis) {
        *guessed_wrong = refused == CodeRefused::Wrong;
        return Response::refused(403, refused.to_string());
    }
    if !request.holds_its_key() {
        return Response::refused(403, term!("the-devices-key-and-its-proof-do-not"));
    }
    let name: String = request
        .name
        .chars()
        .filter(|letter| !letter.is_control())
        .take(MAX_NAME)
        .collect();
    let kept = store.add_peer(&PairedDevice {
        device: request.device,
        name,
        public_key: request.public_key,
        paired: now,
    });
    match kept {
        Ok(true) => Response::json(&PairReply {
            hub: store.device(),
        }),
        // Else whoever has a code could take another device's place.
        Ok(false) => Response::refused(409, term!("a-device-of-this-name-is-paired-with")),
        Err(_) => Response::refused(500, term!("the-hubs-store-failed-look-at-the-hub")),
    }
}
