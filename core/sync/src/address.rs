//! A hub's address as people write it.

use std::net::IpAddr;
use swarfbook_words::{say, term};

/// The hub's port when none is written.
pub const DEFAULT_PORT: u16 = 8350;

/// Why this is no hub's address.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum AddressError {
    /// Nothing was written.
    #[error("{}", term!("No address was given. The hub shows it on its screen, for instance 192.0.2.7:8350."))]
    Empty,
    /// https, or another way to speak.
    #[error("{}", term!("This version speaks to the hub by http only, within the shop's own network."))]
    Scheme,
    /// Not a host with a port.
    #[error("{}", say!("{} is no address. The hub shows it on its screen, for instance 192.0.2.7:8350.", format_args!("{:?}", .0)))]
    Shape(String),
}

/// "192.0.2.7" or "http://192.0.2.7:8350/?key=..." to "http://192.0.2.7:8350".
///
/// # Errors
/// [`AddressError`].
pub fn hub_address(written: &str) -> Result<String, AddressError> {
    let text = written.trim();
    if text.is_empty() {
        return Err(AddressError::Empty);
    }
    let rest = match text.split_once("://") {
        Some((scheme, rest)) if scheme.eq_ignore_ascii_case("http") => rest,
        Some(_) => return Err(AddressError::Scheme),
        None => text,
    };
    let shape = || AddressError::Shape(written.to_owned());
    let authority = rest.split(['/', '?', '#']).next().unwrap_or_default();
    let (host, port) = split(authority).ok_or_else(shape)?;
    let number = host
        .strip_prefix('[')
        .and_then(|host| host.strip_suffix(']'))
        .unwrap_or(host)
        .parse::<IpAddr>()
        .is_ok();
    let name = !host.is_empty()
        && host
            .bytes()
            .all(|b| b.is_ascii_alphanumeric() || b == b'-' || b == b'.');
    if number || name {
        Ok(format!("http://{host}:{port}"))
    } else {
        Err(shape())
    }
}

/// Host and port; the host of an IPv6 address keeps its brackets.
fn split(authority: &str) -> Option<(&str, u16)> {
    let after_host = authority.rfind(']').map_or(0, |at| at + 1);
    match authority.get(after_host..)?.split_once(':') {
        None => Some((authority, DEFAULT_PORT)),
        Some((left, port)) => {
            let host = authority.get(..after_host + left.len())?;
            Some((host, port.parse().ok()?))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_address_is_read_as_people_write_it() {
        for (written, read) in [
            ("192.0.2.7", "http://192.0.2.7:8350"),
            (" http://192.0.2.7:80/ ", "http://192.0.2.7:80"),
            ("http://127.0.0.1:8350/?key=0123", "http://127.0.0.1:8350"),
            ("HTTP://hub.example", "http://hub.example:8350"),
            ("[2001:db8::1]:9000", "http://[2001:db8::1]:9000"),
            ("[2001:db8::1]", "http://[2001:db8::1]:8350"),
        ] {
            assert_eq!(hub_address(written).as_deref(), Ok(read), "{written}");
        }
    }

    #[test]
    fn what_is_no_address_is_refused_with_words() {
        assert_eq!(hub_address("  "), Err(AddressError::Empty));
        assert_eq!(hub_address("https://192.0.2.7"), Err(AddressError::Scheme));
        for written in [
            "a b",
            "192.0.2.7:port",
            "user@192.0.2.7",
            ":80",
            "2001:db8::1",
        ] {
            assert!(
                matches!(hub_address(written), Err(AddressError::Shape(_))),
                "{written}"
            );
        }
    }
}
