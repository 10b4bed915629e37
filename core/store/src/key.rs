//! A device's key (Ed25519, RFC 8032), made with its first line. It signs lines, reports,
//! and requests to the hub, each behind words that say what for.

use std::fmt;

use ed25519_dalek::{Signature, Signer, SigningKey, VerifyingKey};
use swarfbook_job::entry::{Sealed, Signature as LineSignature};
use swarfbook_words::{say, term};

use crate::rows::Rows;
use crate::{Store, StoreError};

/// The setting that holds the secret half.
pub(crate) const SETTING: &str = "device_key";

/// No key could be made or read.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum KeyError {
    /// The system gave no random numbers.
    #[error("{}", say!("the-system-gave-no-random-numbers-value", value = .0))]
    Random(String),
    /// What was kept is no key.
    #[error("{}", term!("the-key-that-was-kept-is-damaged-pair"))]
    Damaged,
}

/// The secret half. Never leaves the device, never printed.
pub struct DeviceKey(SigningKey);

impl DeviceKey {
    /// A new key.
    ///
    /// # Errors
    /// [`KeyError::Random`].
    pub fn make() -> Result<DeviceKey, KeyError> {
        random::<32>().map(|secret| DeviceKey(SigningKey::from_bytes(&secret)))
    }

    /// A key as [`DeviceKey::secret_hex`] wrote it.
    ///
    /// # Errors
    /// [`KeyError::Damaged`].
    pub fn read(secret_hex: &str) -> Result<DeviceKey, KeyError> {
        let secret = from_hex::<32>(secret_hex).ok_or(KeyError::Damaged)?;
        Ok(DeviceKey(SigningKey::from_bytes(&secret)))
    }

    /// For the device's own store.
    pub fn secret_hex(&self) -> String {
        to_hex(self.0.as_bytes())
    }

    /// The public half, for the hub.
    pub fn public_hex(&self) -> String {
        to_hex(self.0.verifying_key().as_bytes())
    }

    /// The line with a signature of this key.
    #[must_use]
    pub fn signed(&self, line: Sealed) -> Sealed {
        let signature = LineSignature {
            key: self.public_hex(),
            signature: self.sign(&line.to_sign()),
        };
        Sealed {
            signature: Some(signature),
            ..line
        }
    }

    /// A signature over `text`, in hexadecimal.
    pub fn sign(&self, text: &str) -> String {
        to_hex(&self.0.sign(text.as_bytes()).to_bytes())
    }
}

/// The secret half is never printed.
impl fmt::Debug for DeviceKey {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "DeviceKey({})", self.public_hex())
    }
}

impl Store {
    /// The key of this device; made when there is none yet. It is on disk before anybody
    /// hears of it: an answer that is lost must not leave the hub with a key that nobody has.
    ///
    /// # Errors
    /// [`StoreError::Key`], and SQLite's.
    pub fn own_key(&self) -> Result<DeviceKey, StoreError> {
        // A store that can only be read still signs.
        match self.rows(kept)? {
            Some(key) => Ok(key),
            None => self.at_once(own),
        }
    }
}

pub(crate) fn kept(rows: &dyn Rows) -> Result<Option<DeviceKey>, StoreError> {
    let Some(kept) = rows.setting(SETTING)? else {
        return Ok(None);
    };
    let secret: String = serde_json::from_str(&kept)?;
    Ok(Some(DeviceKey::read(&secret)?))
}

pub(crate) fn own(rows: &dyn Rows) -> Result<DeviceKey, StoreError> {
    if let Some(key) = kept(rows)? {
        return Ok(key);
    }
    let key = DeviceKey::make()?;
    rows.set(SETTING, &serde_json::to_string(&key.secret_hex())?)?;
    Ok(key)
}

/// Whether `signature_hex` over `text` is by the owner of `public_hex`.
pub fn verify(public_hex: &str, text: &str, signature_hex: &str) -> bool {
    let check = || {
        let public = VerifyingKey::from_bytes(&from_hex::<32>(public_hex)?).ok()?;
        let signature = Signature::from_bytes(&from_hex::<64>(signature_hex)?);
        // Strict: no weak keys, one form of each signature.
        public.verify_strict(text.as_bytes(), &signature).ok()
    };
    check().is_some()
}

/// `N` random bytes in hexadecimal.
///
/// # Errors
/// [`KeyError::Random`].
pub fn random_hex<const N: usize>() -> Result<String, KeyError> {
    random::<N>().map(|bytes| to_hex(&bytes))
}

/// `N` random bytes.
///
/// # Errors
/// [`KeyError::Random`].
pub fn random<const N: usize>() -> Result<[u8; N], KeyError> {
    let mut bytes = [0; N];
    getrandom::fill(&mut bytes).map_err(|error| KeyError::Random(error.to_string()))?;
    Ok(bytes)
}

fn to_hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// Digits as [`to_hex`] writes them and no others: keys are compared by them.
fn from_hex<const N: usize>(text: &str) -> Option<[u8; N]> {
    let is_written = |byte: u8| matches!(byte, b'0'..=b'9' | b'a'..=b'f');
    if text.len() != 2 * N || !text.bytes().all(is_written) {
        return None;
    }
    let mut bytes = [0; N];
    for (index, byte) in bytes.iter_mut().enumerate() {
        *byte = u8::from_str_radix(text.get(2 * index..2 * index + 2)?, 16).ok()?;
    }
    Some(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 8032, section 7.1, test 2 (from memory).
    #[test]
    fn a_signature_is_as_rfc_8032_has_it() {
        let key =
            DeviceKey::read("4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb")
                .expect("a key");
        assert_eq!(
            key.public_hex(),
            "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c"
        );
        let signature = key.sign("r");
        assert_eq!(
            signature,
            "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da\
             085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00"
        );
        assert!(verify(&key.public_hex(), "r", &signature));
        assert!(!verify(&key.public_hex(), "s", &signature));
        let other = DeviceKey::make().expect("random");
        assert!(!verify(&other.public_hex(), "r", &signature));
        assert!(!verify("", "r", &signature) && !verify(&key.public_hex(), "r", "zz"));
        // One form of each: a key is known by its digits as they are written.
        let (loud, signed) = (key.public_hex().to_uppercase(), signature.to_uppercase());
        assert!(!verify(&loud, "r", &signature) && !verify(&key.public_hex(), "r", &signed));
        let plus = signature.replacen("0a", "+a", 1);
        assert!(plus != signature && !verify(&key.public_hex(), "r", &plus));
    }
}
