//! A network's layers, each fitted to those that it stands on.

use std::cmp::Ordering;

use super::format::{Head, Kind, LayerForm, Unusable, Weights, head_of};
use super::kernel::Dense;

/// Furthest from nothing that an input or the output of a convolution can be.
pub(crate) const MOST: i16 = 4095;

/// A network as it runs.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Network {
    pub(crate) head: Head,
    pub(super) layers: Vec<Layer>,
    /// Sides of the input must be multiples of this.
    pub(crate) multiple: usize,
}

/// One layer.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Layer {
    pub(super) name: String,
    pub(super) op: Op,
    /// The layers that it stands on; all come before it.
    pub(super) from: Vec<usize>,
    pub(super) channels: usize,
    /// How often its planes' sides are the input's halved.
    pub(super) halved: u32,
    /// Furthest from nothing that its numbers can be.
    most: i16,
}

/// What a layer does.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Op {
    Input,
    SpaceToDepth,
    Dense(Dense),
    MaxPool,
    UpsampleNearest,
    Add,
    PixelShuffle,
}

impl Network {
    /// Reads a model file.
    pub(crate) fn from_bytes(bytes: &[u8]) -> Result<Network, Unusable> {
        let (head, mut weights) = head_of(bytes)?;
        let channels = head.input.mean.len();
        let above_nothing = |v: &f32| v.partial_cmp(&0.0) == Some(Ordering::Greater);
        let spread = head.input.std.iter().all(above_nothing) && above_nothing(&head.input.unit);
        if channels == 0 || channels != head.input.std.len() || !spread {
            return Err(Unusable::Head(
                "its input has no means, spreads and unit".to_owned(),
            ));
        }
        let mut layers = vec![Layer {
            name: head.input.name.clone(),
            op: Op::Input,
            from: Vec::new(),
            channels,
            halved: 0,
            most: MOST,
        }];
        for form in &head.layers {
            let layer = fitted(form, &layers, &mut weights)?;
            layers.push(layer);
        }
        if !weights.is_empty() {
            return Err(Unusable::Head(
                "it has weights that no layer takes".to_owned(),
            ));
        }
        let outputs = head.outputs.values().map(|o| (&o.layer, o.unit));
        let novelty = head.novelty.iter().map(|n| (&n.layer, n.unit));
        for (name, unit) in outputs.chain(novelty) {
            if !layers.iter().any(|l| l.name == *name) {
                return Err(Unusable::Head(format!("there is no layer {name}")));
            }
            if !above_nothing(&unit) {
                return Err(Unusable::Head(format!("{name} has no unit")));
            }
        }
        let most = layers.iter().map(|l| l.halved).max().unwrap_or(0);
        Ok(Network {
            head,
            multiple: 1 << most,
            layers,
        })
    }

    /// Channels of the input.
    pub(crate) fn channels(&self) -> usize {
        self.layers[0].channels
    }

    /// Channels of a named layer, and how often its sides are the input's halved.
    pub(crate) fn form_of(&self, name: &str) -> Option<(usize, u32)> {
        let layer = &self.layers[self.index(name)?];
        Some((layer.channels, layer.halved))
    }

    /// Index of a named layer.
    pub(super) fn index(&self, name: &str) -> Option<usize> {
        self.layers.iter().position(|l| l.name == name)
    }

    /// Multiplications for each pixel of the input.
    #[cfg(test)]
    pub(crate) fn work(&self) -> f64 {
        let of = |l: &Layer| match &l.op {
            Op::Dense(d) => {
                (d.side * d.side * d.inputs * d.outputs) as f64 / f64::from(1u32 << (2 * l.halved))
            }
            _ => 0.0,
        };
        self.layers.iter().map(of).sum()
    }
}

fn fitted(form: &LayerForm, before: &[Layer], weights: &mut Weights) -> Result<Layer, Unusable> {
    let wrong = |what: &str| Unusable::Head(format!("layer {}: {what}", form.name));
    let place = |name: &String| before.iter().position(|l| l.name == *name);
    let from: Option<Vec<usize>> = form.from.iter().map(place).collect();
    let from = from.ok_or_else(|| wrong("it stands on a layer that is not there"))?;
    let Some((&first, rest)) = from.split_first() else {
        return Err(wrong("it stands on nothing"));
    };
    if place(&form.name).is_some() {
        return Err(wrong("its name is taken"));
    }
    let Layer {
        channels: inputs,
        halved,
        most,
        ..
    } = before[first];
    let same = |l: &usize| before[*l].channels == inputs && before[*l].halved == halved;
    if (form.kind == Kind::Add) == rest.is_empty() || !rest.iter().all(same) {
        return Err(wrong("it stands on planes that do not fit"));
    }
    let coarser = || match halved {
        0..10 => Ok(halved + 1),
        _ => Err(wrong("it can't be halved")),
    };
    let finer = || {
        let finer = halved.checked_sub(1);
        finer.ok_or_else(|| wrong("it can't be doubled"))
    };
    let mut dense = |side: usize| {
        if form.out == 0 || inputs % 2 != 0 {
            return Err(wrong("it has no outputs, or an odd number of inputs"));
        }
        let learned = weights.learned(form.out, inputs * side * side)?;
        if learned.shift.iter().any(|s| *s > 30) {
            return Err(wrong("it shifts by more bits than there are"));
        }
        let sums = (0..form.out).map(|output| learned.most(output, i64::from(most)));
        if sums.max().unwrap_or(0) > i64::from(i32::MAX) {
            return Err(wrong("its sums can overflow"));
        }
        let range = [if form.relu { 0 } else { -MOST }, MOST];
        Ok(Op::Dense(Dense::new(side, inputs, &learned, range)))
    };
    let (op, channels, halved, most) = match form.kind {
        Kind::Conv3 => (dense(3)?, form.out, halved, MOST),
        Kind::Conv1 => (dense(1)?, form.out, halved, MOST),
        Kind::SpaceToDepth => (Op::SpaceToDepth, 4 * inputs, coarser()?, most),
        Kind::MaxPool => (Op::MaxPool, inputs, coarser()?, most),
        Kind::UpsampleNearest => (Op::UpsampleNearest, inputs, finer()?, most),
        Kind::PixelShuffle if inputs % 4 != 0 => {
            return Err(wrong("four do not go into its channels"));
        }
        Kind::PixelShuffle => (Op::PixelShuffle, inputs / 4, finer()?, most),
        Kind::Add => {
            let most = from
                .iter()
                .try_fold(0i16, |s, l| s.checked_add(before[*l].most));
            let most = most.ok_or_else(|| wrong("its sums can overflow"))?;
            (Op::Add, inputs, halved, most)
        }
    };
    Ok(Layer {
        name: form.name.clone(),
        op,
        from,
        channels,
        halved,
        most,
    })
}
