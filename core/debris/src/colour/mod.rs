//! Colour: sRGB to linear light, CIELAB (D65), differences, white from the card.

mod ciede2000;
mod lab;
mod white;

pub use ciede2000::ciede2000;
pub(crate) use lab::{lab_of_linear, linear_between, linear_of_srgb, linear_table};
pub(crate) use white::{White, white_of_card};
