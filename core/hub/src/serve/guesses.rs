//! Who guessed what, and how often: pairing codes, and codes of customers' links. Each
//! address is counted for itself, so that a stranger locks nobody else out, and all
//! together, so that many addresses do not come to many guesses.

use std::net::{IpAddr, Ipv4Addr};
use std::time::{Duration, Instant};

use swarfbook_job::id::Sha256Hex;
use swarfbook_sync::auth::CODE_LIFE_MILLIS;

use super::listen::From;
use super::tries::{Tries, Wait};

/// Wrong codes of one address before it has to wait.
const OF_AN_ADDRESS: u32 = 5;

/// Wrong pairing codes of all addresses in a code's life: 1 in 50,000 hits one of 10^8.
const PAIRING_OF_ALL: u32 = 2_000;

/// How long an address waits after its wrong codes of a link.
const LINK_WAIT: Duration = Duration::from_secs(15 * 60);

/// Wrong codes of one link from all addresses in a day: in the 30 days that a link is
/// usually open 1 in 330 hits one of 10^6, for who has the link and many addresses.
const LINK_OF_ALL: u32 = 100;
const DAY: Duration = Duration::from_secs(24 * 60 * 60);

pub(super) struct Guesses {
    pairing: Tries<IpAddr>,
    pairing_of_all: Tries<()>,
    link: Tries<(Sha256Hex, IpAddr)>,
    link_of_all: Tries<Sha256Hex>,
}

impl Default for Guesses {
    fn default() -> Guesses {
        let code_life = Duration::from_millis(CODE_LIFE_MILLIS);
        Guesses {
            pairing: Tries::new(OF_AN_ADDRESS, code_life),
            pairing_of_all: Tries::new(PAIRING_OF_ALL, code_life),
            link: Tries::new(OF_AN_ADDRESS, LINK_WAIT),
            link_of_all: Tries::new(LINK_OF_ALL, DAY),
        }
    }
}

impl Guesses {
    /// Takes a guess at the pairing code.
    pub(super) fn pairing(&mut self, from: Option<From>, now: Instant) -> Result<(), Wait> {
        let from = address(from);
        self.pairing.take(&from, now)?;
        self.pairing_of_all.take(&(), now).inspect_err(|_| {
            self.pairing.give_back(&from);
        })
    }

    /// It was none.
    pub(super) fn not_pairing(&mut self, from: Option<From>) {
        self.pairing.give_back(&address(from));
        self.pairing_of_all.give_back(&());
    }

    /// Takes a guess at the code of a link.
    pub(super) fn link(
        &mut self,
        link: Sha256Hex,
        from: Option<From>,
        now: Instant,
    ) -> Result<(), Wait> {
        let who = (link, address(from));
        self.link.take(&who, now)?;
        self.link_of_all.take(&link, now).inspect_err(|_| {
            self.link.give_back(&who);
        })
    }

    /// It was none.
    pub(super) fn not_link(&mut self, link: Sha256Hex, from: Option<From>) {
        self.link.give_back(&(link, address(from)));
        self.link_of_all.give_back(&link);
    }
}

/// Called without a socket, all are one.
fn address(from: Option<From>) -> IpAddr {
    from.map_or(Ipv4Addr::UNSPECIFIED.into(), From::counted_as)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn from(text: &str) -> Option<From> {
        Some(From(text.parse().unwrap()))
    }

    /// One machine has as many numbers of IPv6 as it likes within its network of 64 bits.
    #[test]
    fn guesses_out_of_one_network_of_ipv6_are_those_of_one_address() {
        let (mut guesses, now) = (Guesses::default(), Instant::now());
        let link = Sha256Hex::of(b"a link");
        for n in 0..OF_AN_ADDRESS {
            let of_network = from(&format!("2001:db8:0:1::{n:x}"));
            assert_eq!(guesses.pairing(of_network, now), Ok(()));
            assert_eq!(guesses.link(link, of_network, now), Ok(()));
        }
        let another = from("2001:db8:0:1:ffff::1");
        assert!(guesses.pairing(another, now).is_err());
        assert!(guesses.link(link, another, now).is_err());
        let elsewhere = from("2001:db8:0:2::1");
        assert_eq!(guesses.pairing(elsewhere, now), Ok(()));
        assert_eq!(guesses.link(link, elsewhere, now), Ok(()));
    }
}
