//! Fluid: what came out, what went in, and whether the level is right.

mod balance;
mod colour;
mod level;
mod volume;

pub use balance::{Balance, Poured, balance};
pub use colour::fits_better;
pub use level::{
    Action, Dipstick, Level, LevelError, LevelWindow, Look, Plug, Seen, doubt_fluid, doubt_window,
    next_step,
};
pub use volume::{Density, FluidError, volume_at_15, volume_correction};

#[cfg(test)]
mod tests;
