//! Names of things. Each is a UUID or a hash in a type of its own, so that a
//! mix-up does not compile.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};
use ts_rs::TS;
use uuid::Uuid;

macro_rules! uuid_id {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(
            Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, TS,
        )]
        #[serde(transparent)]
        pub struct $name(#[ts(type = "string")] pub Uuid);

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                self.0.fmt(f)
            }
        }

        impl FromStr for $name {
            type Err = uuid::Error;
            fn from_str(text: &str) -> Result<Self, Self::Err> {
                Uuid::from_str(text).map($name)
            }
        }
    };
}

uuid_id!(
    /// One line of the log; a UUIDv7, so that ids sort by time of making.
    EntryId
);
uuid_id!(
    /// One job: one car, one visit.
    JobId
);
uuid_id!(
    /// One phone or bench computer.
    DeviceId
);
uuid_id!(
    /// A customer, whose name and contact live apart from the log.
    CustomerId
);

/// A SHA-256, written as 64 lower-case hexadecimal digits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, TS)]
#[serde(into = "String", try_from = "String")]
pub struct Sha256Hex(#[ts(type = "string")] [u8; 32]);

impl Sha256Hex {
    /// What stands before the first entry of a device.
    pub const ZERO: Sha256Hex = Sha256Hex([0; 32]);

    /// The hash of `bytes`.
    pub fn of(bytes: &[u8]) -> Self {
        use sha2::{Digest, Sha256};
        Sha256Hex(Sha256::digest(bytes).into())
    }
}

/// Text that is not 64 lower-case hexadecimal digits.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("not a SHA-256: 64 lower-case hexadecimal digits are wanted")]
pub struct NotAHash;

impl fmt::Display for Sha256Hex {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(f, "{byte:02x}"))
    }
}

impl From<Sha256Hex> for String {
    fn from(hash: Sha256Hex) -> String {
        hash.to_string()
    }
}

impl TryFrom<String> for Sha256Hex {
    type Error = NotAHash;
    fn try_from(text: String) -> Result<Self, NotAHash> {
        text.parse()
    }
}

impl FromStr for Sha256Hex {
    type Err = NotAHash;
    fn from_str(text: &str) -> Result<Self, NotAHash> {
        let digits = text.as_bytes();
        if digits.len() != 64 {
            return Err(NotAHash);
        }
        let mut out = [0u8; 32];
        for (byte, pair) in out.iter_mut().zip(digits.chunks_exact(2)) {
            let [high, low] = [pair.first(), pair.last()].map(|d| d.copied().and_then(hex_digit));
            *byte = high.ok_or(NotAHash)? * 16 + low.ok_or(NotAHash)?;
        }
        Ok(Sha256Hex(out))
    }
}

/// Only lower case: a hash has one spelling, since files are named by it.
fn hex_digit(digit: u8) -> Option<u8> {
    match digit {
        b'0'..=b'9' => Some(digit - b'0'),
        b'a'..=b'f' => Some(digit - b'a' + 10),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sha256_matches_fips_180_4_examples() {
        // FIPS 180-4 example "abc" and the empty string (from memory).
        assert_eq!(
            Sha256Hex::of(b"abc").to_string(),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
        assert!(Sha256Hex::of(b"").to_string().starts_with("e3b0c442"));
    }

    #[test]
    fn a_hash_has_one_spelling() {
        let hash = Sha256Hex::of(b"x");
        assert_eq!(hash.to_string().parse(), Ok(hash));
        for wrong in [
            hash.to_string().to_uppercase(),
            String::new(),
            "g".repeat(64),
            "é".repeat(32),
        ] {
            assert_eq!(wrong.parse::<Sha256Hex>(), Err(NotAHash), "{wrong}");
        }
    }
}
