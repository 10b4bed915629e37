//! What several photos of one patch say together, and pieces parted or joined
//! by hand: all from censuses, in mm of the paper's plane, without pixels.

mod align;
mod chance;
mod cut;
mod magnet;
mod merge;
mod repeat;
mod sheet;

pub use align::{Motion, NoFit};
pub use cut::{contains, joined, parted, waist};
pub use magnet::{Fate, MagnetPair, PieceFate, after_magnet};
pub use merge::{Merged, Piece, merge};
pub use repeat::{Repeatability, Repeats, repeats};
