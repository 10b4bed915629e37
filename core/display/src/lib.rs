//! A frame of a meter -> what its display says, or why that can't be told for sure. Pure: pixels
//! in, [`Reading`] out; no file, no clock, no randomness.
//!
//! [`Display::read`] finds the row of figures, looks at it again straight and close, reads it
//! twice, and looks beyond its ends. The unit is not read. [`Steady`] says when a reading has stood still.
//! `README.md` beside this crate tells how it works and how well.

mod find;
mod grey;
mod net;
mod plane;
mod reading;
mod signs;
mod steady;

pub use grey::Grey;
pub use net::Unusable;
#[doc(hidden)]
pub use reading::Looks;
pub use reading::{Display, Reading, Unread};
pub use steady::{Stand, Steady};
