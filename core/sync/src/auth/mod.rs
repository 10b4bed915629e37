//! Who a device is: paired once by a code that the hub shows, from then on by
//! a signature on every request.

mod code;
mod gate;
mod pairing;
mod signed;

pub use code::{CODE_LIFE_MILLIS, CodeRefused, PairCode};
pub use gate::{Allowed, Denied, Gate, MAX_SKEW_MILLIS};
pub use pairing::{Admitted, MAX_PAIR_BYTES, PairReply, PairRequest, admit};
pub use signed::Signed;
pub use swarfbook_store::key::{DeviceKey, KeyError, random_hex};
