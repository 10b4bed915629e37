//! Photo to plane and scale, to particles, to classes, to census. Pure: bytes
//! and settings in, census out; no file, no clock, no randomness.
//!
//! [`census`] does it all; [`decode`] and [`read`] are its two halves, apart so
//! that a caller can time them. `README.md` beside this crate tells how the
//! reading works and where each constant comes from.

mod calibrate;
mod colour;
mod counts;
mod eye;
mod find;
#[doc(hidden)]
pub mod fit;
mod fluid;
mod guide;
mod limits;
mod line;
mod magnet;
mod net;
#[doc(hidden)]
pub mod outside;
mod particle;
pub mod patch;
mod picture;
mod plane;
mod reading;
#[doc(hidden)]
pub mod stages;

pub use calibrate::{
    Known, LEAST_PIECES, before_calibration, calibrated, calibrated_p, calibration,
};
pub use colour::ciede2000;
pub use guide::{Advice, Guidance, guide};
pub use line::CensusLine;
pub use picture::{
    Unreadable, Upright, copy_within, copy_without_metadata, crop_png, decode, jpeg_size_px,
};
pub use reading::{census, census_by, read, unread};

use swarfbook_job::census::PhotoKind;

/// What a caller decides about a reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Settings {
    /// What the photo shows.
    pub kind: PhotoKind,
}
