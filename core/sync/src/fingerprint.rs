//! The certificate that a hub is known by: the SHA-256 of the whole certificate in DER, which
//! is what browsers show as its fingerprint, so that one number serves devices and people.

use swarfbook_job::id::Sha256Hex;

/// 80 bits, of a certificate that lies open in the network: 2^80 certificates would have to
/// be made to find another one with the same first digits.
const SHORTEST: usize = 20;
const WHOLE: usize = 64;

/// The first digits of a certificate's SHA-256: all 64 from a link, at least 20 typed by hand.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fingerprint(String);

impl Fingerprint {
    /// As people and browsers write it: spaces, colons and hyphens between the digits, of
    /// either case. `None` for what is none, or has too few digits to tell certificates apart.
    pub fn read(written: &str) -> Option<Fingerprint> {
        let digits: String = written
            .chars()
            .filter(|c| !c.is_whitespace() && ![':', '-'].contains(c))
            .map(|c| c.to_ascii_lowercase())
            .collect();
        let good = (SHORTEST..=WHOLE).contains(&digits.len())
            && digits.bytes().all(|byte| byte.is_ascii_hexdigit());
        good.then_some(Fingerprint(digits))
    }

    /// Hexadecimal digits in lower case, 20 to 64 of them.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// The digits that are enough to type, in fours: "0123 4567 89ab cdef 0123".
    pub fn to_type(&self) -> String {
        let (first, _) = self.0.split_at(SHORTEST);
        let mut spaced = String::with_capacity(SHORTEST / 4 * 5);
        for (at, digit) in first.chars().enumerate() {
            if at > 0 && at % 4 == 0 {
                spaced.push(' ');
            }
            spaced.push(digit);
        }
        spaced
    }

    /// As browsers show it: pairs of capitals with colons.
    pub fn as_in_browsers(&self) -> String {
        let mut shown = String::with_capacity(self.0.len() / 2 * 3);
        for (at, digit) in self.0.chars().enumerate() {
            if at > 0 && at % 2 == 0 {
                shown.push(':');
            }
            shown.push(digit.to_ascii_uppercase());
        }
        shown
    }

    pub(crate) fn is_of(&self, certificate: Sha256Hex) -> bool {
        certificate.to_string().starts_with(&self.0)
    }
}

impl From<Sha256Hex> for Fingerprint {
    fn from(certificate: Sha256Hex) -> Fingerprint {
        Fingerprint(certificate.to_string())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fingerprint_is_read_as_people_and_browsers_write_it() {
        let hash = Sha256Hex::of(b"a certificate");
        let whole = Fingerprint::from(hash);
        let hex = hash.to_string();
        for written in [hex.clone(), whole.as_in_browsers(), format!(" {hex}\n")] {
            let read = Fingerprint::read(&written);
            assert_eq!(read.as_ref(), Some(&whole), "{written}");
        }
        let typed = Fingerprint::read(&whole.to_type()).expect("enough");
        assert_eq!(typed.as_str(), &hex[..20]);
        assert_eq!(typed.to_type(), whole.to_type());
        assert!(typed.is_of(hash) && whole.is_of(hash));
        assert!(!typed.is_of(Sha256Hex::of(b"another")));
        assert_eq!(whole.as_in_browsers().len(), 32 * 3 - 1);
    }

    #[test]
    fn too_little_and_what_is_no_number_is_none() {
        let hex = Sha256Hex::of(b"a certificate").to_string();
        for written in [
            "",
            "12345678",
            &hex[..19],
            &format!("{hex}0"),
            "g123456789abcdef0123",
        ] {
            assert_eq!(Fingerprint::read(written), None, "{written}");
        }
    }
}
