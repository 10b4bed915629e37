//! The three networks as they lie in the model's file, and how a layer is run.

mod format;
mod layer;

pub use format::Unusable;
pub(crate) use format::{OTHER, parse};
pub(crate) use layer::{Layer, Planes};

/// Layers one after another.
pub(crate) fn run(layers: &[Layer], start: Planes) -> Planes {
    layers
        .iter()
        .fold(start, |planes, layer| layer.run(&planes))
}
