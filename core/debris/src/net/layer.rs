//! A network's layers, each fitted to those that it stands on.

use super::format::{Head, Kind, LayerForm, Unusable, Weights, head_of};
use super::kernel::{Dense, Depthwise};

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
    pub(super) size: Size,
}

/// How large a layer's planes are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Size {
    /// The input's sides, halved so many times.
    Halved(u32),
    /// One pixel.
    One,
}

/// What a layer does.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Op {
    Input,
    SpaceToDepth,
    Dense(Dense),
    Depthwise(Depthwise),
    MaxPool,
    MeanPool,
    UpsampleNearest,
    UpsampleBilinear,
    Concat,
    Add,
    Subtract,
    PixelShuffle,
    GlobalMean,
}

impl Network {
    /// Reads a model file.
    pub(crate) fn from_bytes(bytes: &[u8]) -> Result<Network, Unusable> {
        let (head, mut weights) = head_of(bytes)?;
        let channels = head.input.mean.len();
        if channels == 0
            || channels != head.input.std.len()
            || head
                .input
                .std
                .iter()
                .any(|s| s.partial_cmp(&0.0) != Some(std::cmp::Ordering::Greater))
        {
            return Err(Unusable::Head(
                "its input has no means and spreads".to_owned(),
            ));
        }
        let mut layers = vec![Layer {
            name: head.input.name.clone(),
            op: Op::Input,
            from: Vec::new(),
            channels,
            size: Size::Halved(0),
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
        let named = |name: &String| layers.iter().any(|l| l.name == *name);
        let told = head.outputs.values();
        if let Some(name) = told
            .chain(head.novelty.iter().map(|n| &n.layer))
            .find(|n| !named(n))
        {
            return Err(Unusable::Head(format!("there is no layer {name}")));
        }
        let halvings = |l: &Layer| match l.size {
            Size::Halved(n) => n,
            Size::One => 0,
        };
        let most = layers.iter().map(halvings).max().unwrap_or(0);
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
        match layer.size {
            Size::Halved(n) => Some((layer.channels, n)),
            Size::One => None,
        }
    }

    /// Index of a named layer.
    pub(super) fn index(&self, name: &str) -> Option<usize> {
        self.layers.iter().position(|l| l.name == name)
    }

    /// Multiplications for each pixel of the input.
    #[cfg(test)]
    pub(crate) fn work(&self) -> f64 {
        let of = |l: &Layer| {
            let each = match &l.op {
                Op::Dense(d) => d.side * d.side * d.inputs * d.outputs,
                Op::Depthwise(d) => 9 * d.bias.len(),
                _ => 0,
            };
            match l.size {
                Size::Halved(n) => each as f64 / f64::from(1u32 << (2 * n)),
                Size::One => 0.0,
            }
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
    let (inputs, size) = (before[first].channels, before[first].size);
    let several = matches!(form.kind, Kind::Concat | Kind::Add | Kind::Subtract);
    if several == rest.is_empty() || rest.iter().any(|l| before[*l].size != size) {
        return Err(wrong("it stands on planes that do not fit"));
    }
    let same = || rest.iter().all(|l| before[*l].channels == inputs);
    let halved = || match size {
        Size::Halved(n) if n < 10 => Ok(Size::Halved(n + 1)),
        _ => Err(wrong("it can't be halved")),
    };
    let doubled = || match size {
        Size::Halved(n) if n > 0 => Ok(Size::Halved(n - 1)),
        _ => Err(wrong("it can't be doubled")),
    };
    let mut learned = |outputs: usize, each: usize| {
        let kept = form
            .weights
            .ok_or_else(|| wrong("how its weights are kept is not said"))?;
        if outputs == 0 {
            return Err(wrong("it has no outputs"));
        }
        Ok((
            weights.weights(kept, outputs, each)?,
            weights.bias(outputs)?,
        ))
    };
    let mut dense = |side: usize| {
        let (w, bias) = learned(form.out, side * side * inputs)?;
        Ok(Op::Dense(Dense::new(side, inputs, &w, &bias, form.relu)))
    };
    let (op, channels, size) = match form.kind {
        Kind::Conv3 if size == Size::One => return Err(wrong("it has one pixel")),
        Kind::Conv3 => (dense(3)?, form.out, size),
        Kind::Conv1 => (dense(1)?, form.out, size),
        Kind::Linear if size == Size::One => (dense(1)?, form.out, size),
        Kind::Linear => return Err(wrong("it has more than one pixel")),
        Kind::Depthwise3 => {
            let (w, bias) = learned(inputs, 9)?;
            (
                Op::Depthwise(Depthwise::new(&w, &bias, form.relu)),
                inputs,
                size,
            )
        }
        Kind::SpaceToDepth => (Op::SpaceToDepth, 4 * inputs, halved()?),
        Kind::MaxPool => (Op::MaxPool, inputs, halved()?),
        Kind::MeanPool => (Op::MeanPool, inputs, halved()?),
        Kind::UpsampleNearest => (Op::UpsampleNearest, inputs, doubled()?),
        Kind::UpsampleBilinear => (Op::UpsampleBilinear, inputs, doubled()?),
        Kind::PixelShuffle if inputs % 4 != 0 => {
            return Err(wrong("four do not go into its channels"));
        }
        Kind::PixelShuffle => (Op::PixelShuffle, inputs / 4, doubled()?),
        Kind::Concat => {
            let all = from.iter().map(|l| before[*l].channels).sum();
            (Op::Concat, all, size)
        }
        Kind::Add | Kind::Subtract
            if !same() || (form.kind == Kind::Subtract && rest.len() > 1) =>
        {
            return Err(wrong("it stands on planes that do not fit"));
        }
        Kind::Add => (Op::Add, inputs, size),
        Kind::Subtract => (Op::Subtract, inputs, size),
        Kind::GlobalMean => (Op::GlobalMean, inputs, Size::One),
    };
    Ok(Layer {
        name: form.name.clone(),
        op,
        from,
        channels,
        size,
    })
}
