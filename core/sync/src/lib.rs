//! What two stores say to each other.
//!
//! A device pushes what the hub lacks and pulls what it lacks, by per-device
//! sequence; customers and procedures are merged; photos travel by hash, in
//! pieces that resume where they ended. Every step is durable by itself and
//! changes nothing when done twice, so it may be cut anywhere and run again.
//!
//! - [`sync`]: the device's side, over a [`Peer`].
//! - [`serve`]: the hub's side.
//! - [`Peer`]: the hub as seen from a device; [`InProcess`] and [`HttpHub`].
//! - [`auth`]: pairing by a one-time code, then a signature on each request.
//!
//! The traffic is encrypted ([`Pin`]) but for a hub on the same machine.

mod address;
pub mod auth;
mod digest;
mod fingerprint;
mod http;
mod message;
mod pair_link;
mod peer;
mod run;
pub mod serve;
mod tls;

pub use address::{AddressError, DEFAULT_PORT, hub_address};
pub use fingerprint::Fingerprint;
pub use http::{HttpHub, HubAt, PairedWith, pair};
pub use message::{
    Head, MAX_BODY_BYTES, PhotoMissing, Refused, Request, Response, Standing, Words,
};
pub use pair_link::PairLink;
pub use peer::{InProcess, Peer, PeerError};
pub use run::{Outcome, SyncError, sync};
pub use tls::{Pin, SERVER_NAME};
