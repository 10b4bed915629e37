//! How many connections there may be, in all and from one address.

use std::collections::HashMap;
use std::net::IpAddr;
use std::sync::{Arc, Mutex, PoisonError};

use tokio::sync::{OwnedSemaphorePermit, Semaphore};

use super::From;

/// Connections at the same time. Each is one file, and systems allow 1024 by default.
const ALL: usize = 600;
/// Of them, from one address. A browser opens six.
const AN_ADDRESS: usize = 100;

/// Who is connected.
#[derive(Clone)]
pub(super) struct Rooms {
    all: Arc<Semaphore>,
    by_address: Arc<Mutex<HashMap<IpAddr, usize>>>,
}

impl Rooms {
    pub(super) fn new() -> Rooms {
        Rooms {
            all: Arc::new(Semaphore::new(ALL)),
            by_address: Arc::default(),
        }
    }

    /// Waits until there is room for one more.
    pub(super) async fn room(&self) -> Option<OwnedSemaphorePermit> {
        // Never closed, so there is always a permit in the end.
        self.all.clone().acquire_owned().await.ok()
    }

    /// A place for a caller; none when its address has as many as it may.
    pub(super) fn place(&self, from: IpAddr) -> Option<Place> {
        let address = From(from).counted_as();
        let mut by_address = self.lock();
        let taken = by_address.entry(address).or_default();
        if *taken >= AN_ADDRESS {
            return None;
        }
        *taken += 1;
        Some(Place {
            rooms: self.clone(),
            address,
        })
    }

    fn lock(&self) -> std::sync::MutexGuard<'_, HashMap<IpAddr, usize>> {
        // A count is whole at any time.
        self.by_address
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
    }
}

/// One connection of an address, given back at its end.
pub(super) struct Place {
    rooms: Rooms,
    address: IpAddr,
}

impl Drop for Place {
    fn drop(&mut self) {
        let mut by_address = self.rooms.lock();
        if let Some(taken) = by_address.get_mut(&self.address) {
            *taken -= 1;
            if *taken == 0 {
                by_address.remove(&self.address);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ip(text: &str) -> IpAddr {
        text.parse().unwrap()
    }

    #[test]
    fn an_address_has_so_many_places_and_gets_them_back() {
        let rooms = Rooms::new();
        let taken: Vec<_> = (0..AN_ADDRESS)
            .map(|_| rooms.place(ip("192.0.2.7")))
            .collect();
        assert!(taken.iter().all(Option::is_some));
        assert!(rooms.place(ip("192.0.2.7")).is_none());
        assert!(rooms.place(ip("::ffff:192.0.2.7")).is_none(), "the same");
        assert!(rooms.place(ip("192.0.2.8")).is_some());
        drop(taken);
        assert!(rooms.place(ip("192.0.2.7")).is_some());
        assert!(rooms.lock().is_empty(), "nobody is remembered");
    }

    #[test]
    fn a_network_of_ipv6_is_one_address() {
        let rooms = Rooms::new();
        let taken: Vec<_> = (0..AN_ADDRESS)
            .map(|n| rooms.place(ip(&format!("2001:db8:0:1::{n:x}"))))
            .collect();
        assert!(taken.iter().all(Option::is_some));
        assert!(rooms.place(ip("2001:db8:0:1:ffff::1")).is_none());
        assert!(rooms.place(ip("2001:db8:0:2::1")).is_some());
    }
}
