//! The file that a network is kept in, as `core/debris/learn` writes it.
//!
//! Little-endian: `SWARFNET`, version (u32), SHA-256 of all that follows, length of the head (u32), the
//! head (JSON), then for each convolution, without gaps: of each output the bits that its sum is shifted down by
//! (u8), of each its bias (i32), and the weights (i16) in the order output, input, row, column. A number of a layer
//! times the layer's unit is what was learned; the head gives the units of what goes in and of what is asked for.

use std::collections::BTreeMap;

use serde::Deserialize;
use sha2::{Digest, Sha256};
use swarfbook_job::census::DebrisClass;

use super::kernel::Learned;

const MAGIC: &[u8] = b"SWARFNET";
const VERSION: u32 = 2;
/// Most outputs of a layer, and most layers: beyond them a head is no network of ours.
const MOST_CHANNELS: usize = 4096;
const MOST_LAYERS: usize = 1000;

/// Why a model file can't be used.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Unusable {
    /// It is something else, or nothing.
    #[error("it is no model file")]
    NoModel,
    /// It was written for another version.
    #[error("it is of version {0}, this program reads version {VERSION}")]
    Version(u32),
    /// It was cut short or changed.
    #[error("it is damaged")]
    Damaged,
    /// What it says of itself does not fit together.
    #[error("its head does not fit: {0}")]
    Head(String),
}

/// What a model file says of itself.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub(crate) struct Head {
    /// What it is for.
    pub(crate) name: String,
    /// px per mm that it was learned at.
    pub(crate) px_per_mm: f64,
    /// px per mm that pans are looked at, when it is another.
    #[serde(default)]
    pub(crate) px_per_mm_pan: Option<f64>,
    pub(crate) input: Input,
    pub(super) layers: Vec<LayerForm>,
    /// Which layer gives what.
    pub(crate) outputs: BTreeMap<String, Output>,
    /// The classes in the order of the class output.
    #[serde(default)]
    pub(crate) labels: Vec<DebrisClass>,
    /// Levels by name.
    #[serde(default)]
    pub(crate) thresholds: BTreeMap<String, f32>,
    #[serde(default)]
    pub(crate) novelty: Option<NoveltyForm>,
}

/// What goes in.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub(crate) struct Input {
    pub(crate) name: String,
    /// A channel's number goes in less its mean, over its spread, in units.
    pub(crate) mean: Vec<f32>,
    pub(crate) std: Vec<f32>,
    pub(crate) unit: f32,
}

/// A layer that is asked for.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub(crate) struct Output {
    pub(crate) layer: String,
    /// What one of its numbers is worth.
    pub(crate) unit: f32,
}

/// How unusual a photo is, by the features of one layer: of each channel its mean over the photo, then of each its
/// standard deviation, against those of the photos that it learned from.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub(crate) struct NoveltyForm {
    pub(crate) layer: String,
    /// What one of its numbers is worth.
    pub(crate) unit: f32,
    pub(crate) mean: Vec<f64>,
    pub(crate) std: Vec<f64>,
    /// Mean squared distance in units of `std`, at equal shares of the learned photos from none to all.
    pub(crate) quantiles: Vec<f64>,
}

/// One layer as the head tells it.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub(super) struct LayerForm {
    pub(super) name: String,
    pub(super) kind: Kind,
    pub(super) from: Vec<String>,
    #[serde(default)]
    pub(super) out: usize,
    #[serde(default)]
    pub(super) relu: bool,
}

/// What a layer does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum Kind {
    SpaceToDepth,
    Conv3,
    Conv1,
    MaxPool,
    UpsampleNearest,
    Add,
    PixelShuffle,
}

/// The head, and what lies behind it.
pub(super) fn head_of(bytes: &[u8]) -> Result<(Head, Weights<'_>), Unusable> {
    let rest = bytes.strip_prefix(MAGIC).ok_or(Unusable::NoModel)?;
    let mut rest = Weights(rest);
    let version = rest.whole()?;
    if version != VERSION {
        return Err(Unusable::Version(version));
    }
    let hash = rest.take(32)?;
    if Sha256::digest(rest.0).as_slice() != hash {
        return Err(Unusable::Damaged);
    }
    let length = rest.whole()? as usize;
    let head: Head =
        serde_json::from_slice(rest.take(length)?).map_err(|e| Unusable::Head(e.to_string()))?;
    let most = head.layers.iter().map(|l| l.out).max().unwrap_or(0);
    if head.layers.len() > MOST_LAYERS || most > MOST_CHANNELS {
        return Err(Unusable::Head("too many layers or channels".to_owned()));
    }
    Ok((head, rest))
}

/// What is still to be read.
pub(super) struct Weights<'a>(&'a [u8]);

impl<'a> Weights<'a> {
    fn take(&mut self, n: usize) -> Result<&'a [u8], Unusable> {
        let (head, rest) = self.0.split_at_checked(n).ok_or(Unusable::Damaged)?;
        self.0 = rest;
        Ok(head)
    }

    fn whole(&mut self) -> Result<u32, Unusable> {
        let bytes = self.take(4)?.try_into().map_err(|_| Unusable::Damaged)?;
        Ok(u32::from_le_bytes(bytes))
    }

    /// What a convolution of so many outputs of so many inputs each is made of.
    pub(super) fn learned(&mut self, outputs: usize, each: usize) -> Result<Learned, Unusable> {
        let n = outputs.checked_mul(each).ok_or(Unusable::Damaged)?;
        let shift = self.take(outputs)?.to_vec();
        let (bias, _) = self.take(4 * outputs)?.as_chunks::<4>();
        let (weights, _) = self
            .take(n.checked_mul(2).ok_or(Unusable::Damaged)?)?
            .as_chunks::<2>();
        Ok(Learned {
            weights: weights.iter().map(|b| i16::from_le_bytes(*b)).collect(),
            bias: bias.iter().map(|b| i32::from_le_bytes(*b)).collect(),
            shift,
        })
    }

    /// Whether all was read.
    pub(super) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}
