//! A hub's address as people write it.

use std::net::IpAddr;
use swarfbook_words::{say, term};

/// The hub's port when none is written.
pub const DEFAULT_PORT: u16 = 8350;
const HTTPS_PORT: u16 = 443;

/// Why this is no hub's address.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum AddressError {
    /// Nothing was written.
    #[error("{}", term!("no-address-was-given-the-hub-shows-it"))]
    Empty,
    /// Neither https nor http.
    #[error("{}", term!("a-hubs-address-begins-with-https-or-with"))]
    Scheme,
    /// Not a host with a port.
    #[error("{}", say!("value-is-no-address-the-hub-shows-it", value = format_args!("{:?}", .0)))]
    Shape(String),
}

/// "192.0.2.7" or "https://192.0.2.7:8350/?key=..." to "https://192.0.2.7:8350". A hub speaks
/// unencrypted to its own machine alone, so that any other address becomes one of https,
/// however it was written.
///
/// # Errors
/// [`AddressError`].
pub fn hub_address(written: &str) -> Result<String, AddressError> {
    let text = written.trim();
    if text.is_empty() {
        return Err(AddressError::Empty);
    }
    let (https, rest) = match text.split_once("://") {
        Some((scheme, rest)) if scheme.eq_ignore_ascii_case("https") => (true, rest),
        Some((scheme, rest)) if scheme.eq_ignore_ascii_case("http") => (false, rest),
        Some(_) => return Err(AddressError::Scheme),
        None => (false, text),
    };
    let shape = || AddressError::Shape(written.to_owned());
    let authority = rest.split(['/', '?', '#']).next().unwrap_or_default();
    // A browser leaves out the port that https has by itself.
    let port = if https { HTTPS_PORT } else { DEFAULT_PORT };
    let (host, port) = split(authority, port).ok_or_else(shape)?;
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
        let scheme = if https || !is_this_machine(host) {
            "https"
        } else {
            "http"
        };
        Ok(format!("{scheme}://{host}:{port}"))
    } else {
        Err(shape())
    }
}

/// Whether nothing leaves this machine on its way to an address of [`hub_address`].
pub(crate) fn stays_here(address: &str) -> bool {
    let authority = address.split_once("://").map_or(address, |(_, rest)| rest);
    split(authority, DEFAULT_PORT).is_some_and(|(host, _)| is_this_machine(host))
}

fn is_this_machine(host: &str) -> bool {
    let number = host.trim_start_matches('[').trim_end_matches(']');
    let loopback = number
        .parse::<IpAddr>()
        .is_ok_and(|ip| ip.to_canonical().is_loopback());
    loopback || host.eq_ignore_ascii_case("localhost")
}

/// Host and port; the host of an IPv6 address keeps its brackets.
fn split(authority: &str, without: u16) -> Option<(&str, u16)> {
    let after_host = authority.rfind(']').map_or(0, |at| at + 1);
    match authority.get(after_host..)?.split_once(':') {
        None => Some((authority, without)),
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
            ("192.0.2.7", "https://192.0.2.7:8350"),
            (" http://192.0.2.7:80/ ", "https://192.0.2.7:80"),
            ("https://192.0.2.7:8350/pair", "https://192.0.2.7:8350"),
            ("https://hub.example", "https://hub.example:443"),
            ("127.0.0.1", "http://127.0.0.1:8350"),
            ("http://127.0.0.1:8350/?key=0123", "http://127.0.0.1:8350"),
            ("https://127.0.0.1:8350/", "https://127.0.0.1:8350"),
            ("http://localhost:9000", "http://localhost:9000"),
            ("[::1]:9000", "http://[::1]:9000"),
            ("localhost.example", "https://localhost.example:8350"),
            ("127.0.0.1.example", "https://127.0.0.1.example:8350"),
            ("HTTP://hub.example", "https://hub.example:8350"),
            ("[2001:db8::1]:9000", "https://[2001:db8::1]:9000"),
            ("[2001:db8::1]", "https://[2001:db8::1]:8350"),
        ] {
            assert_eq!(hub_address(written).as_deref(), Ok(read), "{written}");
        }
    }

    #[test]
    fn what_is_no_address_is_refused_with_words() {
        assert_eq!(hub_address("  "), Err(AddressError::Empty));
        assert_eq!(hub_address("ftp://192.0.2.7"), Err(AddressError::Scheme));
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
