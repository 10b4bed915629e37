//! The hub's address, its one-time code and its certificate's fingerprint as one link, which
//! a device can open or read from a picture:
//! `swarfbook://pair?hub=https%3A%2F%2F192.0.2.7%3A8350&code=12345678&sha256=` and 64 digits.

use form_urlencoded::{Serializer, parse};

use crate::{Fingerprint, hub_address};

const START: &str = "swarfbook://pair?";
/// A code has eight digits; more is no code.
const LONGEST_CODE: usize = 16;

/// What a pairing link says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PairLink {
    /// The hub's address: "https://192.0.2.7:8350".
    pub hub: String,
    /// Its one-time code.
    pub code: String,
    /// That of its certificate; none for a hub on the device itself.
    pub fingerprint: Option<Fingerprint>,
}

impl PairLink {
    /// The link as text, for a QR code.
    pub fn write(&self) -> String {
        let mut query = Serializer::new(String::new());
        query.append_pair("hub", &self.hub);
        query.append_pair("code", &self.code);
        if let Some(fingerprint) = &self.fingerprint {
            query.append_pair("sha256", fingerprint.as_str());
        }
        format!("{START}{}", query.finish())
    }

    /// Reads a link; `None` when it is not one, names no hub, or holds no code.
    /// A link comes from outside: nothing of it is used that is not checked here.
    pub fn read(link: &str) -> Option<PairLink> {
        let query = link.trim().strip_prefix(START)?;
        let value = |name: &str| {
            let mut all = parse(query.as_bytes()).filter(|(key, _)| key == name);
            let first = all.next()?.1.into_owned();
            all.next().is_none().then_some(first)
        };
        let hub = hub_address(&value("hub")?).ok()?;
        let code = value("code")?;
        let good = (1..=LONGEST_CODE).contains(&code.len())
            && code.bytes().all(|byte| byte.is_ascii_digit());
        let fingerprint = match parse(query.as_bytes()).any(|(key, _)| key == "sha256") {
            true => Some(Fingerprint::read(&value("sha256")?)?),
            false => None,
        };
        good.then_some(PairLink {
            hub,
            code,
            fingerprint,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_link_says_what_was_written_into_it() {
        let digits = "0123456789abcdef".repeat(4);
        let link = PairLink {
            hub: "https://192.0.2.7:8350".into(),
            code: "12345678".into(),
            fingerprint: Fingerprint::read(&digits),
        };
        let text = link.write();
        assert_eq!(
            text,
            format!(
                "swarfbook://pair?hub=https%3A%2F%2F192.0.2.7%3A8350&code=12345678&sha256={digits}"
            )
        );
        assert_eq!(PairLink::read(&text), Some(link));
    }

    #[test]
    fn what_is_no_pairing_link_is_none() {
        for text in [
            "",
            "swarfbook://pair?",
            "swarfbook://pair?hub=http://192.0.2.7&code=",
            "swarfbook://pair?hub=http://192.0.2.7&code=12345678901234567",
            "swarfbook://pair?hub=http://192.0.2.7&code=1234%0A5",
            "swarfbook://pair?hub=https://192.0.2.7&code=1&sha256=",
            "swarfbook://pair?hub=https://192.0.2.7&code=1&sha256=0123",
            "swarfbook://pair?hub=https://192.0.2.7&code=1&sha256=zz23456789abcdef0123",
            "swarfbook://pair?hub=javascript:alert(1)&code=1",
            "swarfbook://pair?hub=http://a&hub=http://b&code=1",
            "https://pair?hub=http://192.0.2.7&code=1",
        ] {
            assert_eq!(PairLink::read(text), None, "{text}");
        }
    }
}
