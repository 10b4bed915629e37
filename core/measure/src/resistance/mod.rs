//! What is particular to ohms: copper that warms, sensors that fall.

pub mod copper;
pub mod ntc;
