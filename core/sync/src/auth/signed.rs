//! What a device says about itself with each request.
//!
//! `Authorization: Swarfbook DEVICE TIME NONCE BODY SIGNATURE`: the device's
//! UUID, milliseconds since 1970, 16 random bytes in hexadecimal, the SHA-256
//! of the body, and an Ed25519 signature over method, target and all of these
//! and the hub's own UUID, so that a request fits one hub only.

use swarfbook_job::id::{DeviceId, Sha256Hex};
use swarfbook_store::key::{DeviceKey, KeyError, random_hex, verify};

use crate::message::Request;

const SCHEME: &str = "Swarfbook";

/// The claims of one request.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Signed {
    /// Who asks.
    pub device: DeviceId,
    /// When, in milliseconds since 1970, by the device's clock.
    pub time_millis: u64,
    /// Never used twice.
    pub nonce: String,
    /// Hash of the body.
    pub body: Sha256Hex,
    signature: String,
}

impl Signed {
    /// Signs a request to `hub`.
    ///
    /// # Errors
    /// [`KeyError::Random`].
    pub fn sign(
        request: &Request,
        device: DeviceId,
        hub: DeviceId,
        key: &DeviceKey,
        now_millis: u64,
    ) -> Result<Signed, KeyError> {
        let mut signed = Signed {
            device,
            time_millis: now_millis,
            nonce: random_hex::<16>()?,
            body: Sha256Hex::of(&request.body),
            signature: String::new(),
        };
        signed.signature = key.sign(&signed.text(request.method, &request.target, hub));
        Ok(signed)
    }

    /// As the header carries it.
    pub fn header(&self) -> String {
        let Signed {
            device,
            time_millis,
            nonce,
            body,
            signature,
        } = self;
        format!("{SCHEME} {device} {time_millis} {nonce} {body} {signature}")
    }

    /// Reads the header.
    pub fn read(header: &str) -> Option<Signed> {
        let mut parts = header.split(' ');
        if parts.next()? != SCHEME {
            return None;
        }
        let signed = Signed {
            device: parts.next()?.parse().ok()?,
            time_millis: parts.next()?.parse().ok()?,
            nonce: parts.next().filter(|nonce| nonce.len() == 32)?.to_owned(),
            body: parts.next()?.parse().ok()?,
            signature: parts.next()?.to_owned(),
        };
        parts.next().is_none().then_some(signed)
    }

    pub(super) fn is_by(
        &self,
        public_hex: &str,
        method: &str,
        target: &str,
        hub: DeviceId,
    ) -> bool {
        verify(public_hex, &self.text(method, target, hub), &self.signature)
    }

    fn text(&self, method: &str, target: &str, hub: DeviceId) -> String {
        let Signed {
            device,
            time_millis,
            nonce,
            body,
            ..
        } = self;
        format!(
            "swarfbook-sync-1\n{hub}\n{device}\n{method}\n{target}\n{body}\n{time_millis}\n{nonce}"
        )
    }
}
