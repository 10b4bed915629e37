//! The finder as its model file describes it: the network, what its outputs are, and its levels.

use std::cmp::Ordering;

use swarfbook_job::census::DebrisClass;
use swarfbook_job::id::Sha256Hex;

use super::sighting::CLASSES;
use crate::net::{Network, Output, Unusable};

/// The file that ships.
static BUILT_IN: &[u8] = include_bytes!("finder.net");

/// The network with its levels.
#[derive(Debug, Clone)]
pub struct Finder {
    pub(super) network: Network,
    pub(super) levels: Levels,
    /// Places of its class output, in the order of `DebrisClass::LEARNED`.
    pub(super) order: [usize; CLASSES],
    /// Layers of the planes of pieces, of their inner parts, and of classes, with what a number of each is worth.
    pub(super) planes: [Output; 3],
    pub(super) cells_per_mm: f64,
    pub(super) cells_per_mm_pan: f64,
}

/// Log odds at which something counts.
#[derive(Debug, Clone, Copy)]
pub(super) struct Levels {
    /// A cell is a piece's,
    pub(super) piece: f32,
    /// a piece's likeliest cell is enough,
    pub(super) peak: f32,
    /// a cell lies within one piece and no other.
    pub(super) inner: f32,
}

impl Finder {
    /// The one that ships.
    pub fn built_in() -> Result<Finder, Unusable> {
        Finder::from_bytes(BUILT_IN)
    }

    /// What tells the file of the one that ships from any other.
    pub fn built_in_sha256() -> Sha256Hex {
        Sha256Hex::of(BUILT_IN)
    }

    /// Reads a model file.
    pub fn from_bytes(bytes: &[u8]) -> Result<Finder, Unusable> {
        let network = Network::from_bytes(bytes)?;
        let head = &network.head;
        let lacks = |what: &str| Unusable::Head(format!("it has no {what}"));
        let output = |name: &str| head.outputs.get(name).cloned().ok_or_else(|| lacks(name));
        let level = |name: &str| {
            let share = head.thresholds.get(name).filter(|s| **s > 0.0 && **s < 1.0);
            let share = share.ok_or_else(|| lacks(&format!("threshold {name}")))?;
            Ok((share / (1.0 - share)).ln())
        };
        let place = |class: &DebrisClass| {
            let at = head.labels.iter().position(|l| l == class);
            at.ok_or_else(|| lacks(&format!("class {class:?}")))
        };
        let mut order = [0; CLASSES];
        for (place_of, class) in order.iter_mut().zip(&DebrisClass::LEARNED) {
            *place_of = place(class)?;
        }
        let planes = [output("piece")?, output("inner")?, output("class")?];
        let channels = [1, 1, CLASSES];
        let halved = [0, 0, 1];
        for (k, Output { layer, .. }) in planes.iter().enumerate() {
            if network.form_of(layer) != Some((channels[k], halved[k])) {
                return Err(Unusable::Head(format!("{layer} has another form")));
            }
        }
        if let Some(novelty) = &head.novelty {
            let channels = network
                .form_of(&novelty.layer)
                .map(|(channels, _)| 2 * channels);
            let fits = [novelty.mean.len(), novelty.std.len()].map(Some) == [channels; 2];
            let rises = novelty.quantiles.is_sorted() && novelty.quantiles.len() > 1;
            if !fits
                || !rises
                || novelty
                    .std
                    .iter()
                    .any(|s| s.partial_cmp(&0.0) != Some(Ordering::Greater))
            {
                return Err(Unusable::Head("its novelty does not fit".to_owned()));
            }
        }
        if network.channels() != 3 || !(head.px_per_mm > 0.1 && head.px_per_mm < 100.0) {
            return Err(lacks("picture of three colours at a scale"));
        }
        Ok(Finder {
            levels: Levels {
                piece: level("piece")?,
                peak: level("peak")?,
                inner: level("inner")?,
            },
            order,
            planes,
            cells_per_mm: head.px_per_mm,
            cells_per_mm_pan: head.px_per_mm_pan.unwrap_or(head.px_per_mm),
            network,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_ships_is_whole() {
        let finder = Finder::built_in().unwrap();
        assert!(finder.levels.piece <= finder.levels.peak);
        // Less than the 39,000 multiplications a place of 4 px a mm that a census has time for: in a pan of 220 x 165 mm
        // 22 thousand million of them, a third of a second where a thread does 67 thousand million (AVX2, measured).
        assert!(
            4.0 * finder.network.work() < 39_000.0,
            "{}",
            finder.network.work()
        );
    }

    #[test]
    fn a_model_that_is_none_is_refused_with_its_reason() {
        let good = include_bytes!("finder.net");
        assert_eq!(Finder::from_bytes(&[]).err(), Some(Unusable::NoModel));
        assert_eq!(
            Finder::from_bytes(&good[..good.len() - 1]).err(),
            Some(Unusable::Damaged)
        );
        // A network of another kind, whole as it is.
        let other = include_bytes!("../../tests/net/tiny.net");
        let said = Finder::from_bytes(other).err().map(|e| e.to_string());
        assert!(said.is_some_and(|said| said.contains("threshold") || said.contains("has no")));
    }
}
