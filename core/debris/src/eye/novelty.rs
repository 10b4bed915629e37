//! How unlike a photo is to those that were learned from: a photo's features, by one layer of the network, against
//! theirs.

use crate::net::NoveltyForm;

/// Sums of the features over a photo.
#[derive(Debug, Clone)]
pub(super) struct Features {
    sums: Vec<[i64; 2]>,
    places: usize,
}

impl Features {
    pub(super) fn new(channels: usize) -> Features {
        Features {
            sums: vec![[0; 2]; channels],
            places: 0,
        }
    }

    /// Adds a row of places.
    pub(super) fn add(&mut self, row: &[i16]) {
        for place in row.chunks_exact(self.sums.len()) {
            for (sum, v) in self.sums.iter_mut().zip(place) {
                let v = i64::from(*v);
                *sum = [sum[0] + v, sum[1] + v * v];
            }
            self.places += 1;
        }
    }

    /// Share of the learned photos that are less unusual.
    pub(super) fn unusual(&self, learned: &NoveltyForm) -> f64 {
        let (n, unit) = (self.places.max(1) as f64, f64::from(learned.unit));
        let of = |s: &[i64; 2]| s.map(|v| v as f64 / n);
        let means = self.sums.iter().map(|s| of(s)[0] * unit);
        let spreads = self.sums.iter().map(|s| {
            let [mean, square] = of(s);
            (square - mean * mean).max(0.0).sqrt() * unit
        });
        let all = means
            .chain(spreads)
            .zip(learned.mean.iter().zip(&learned.std));
        let squares = all.map(|(v, (mean, std))| ((v - mean) / std).powi(2));
        share_below(
            &learned.quantiles,
            squares.sum::<f64>() / learned.mean.len() as f64,
        )
    }
}

/// Share of what the quantiles are of that lies below a value; between two of them by its place.
fn share_below(quantiles: &[f64], value: f64) -> f64 {
    let above = quantiles.partition_point(|q| *q <= value);
    let last = quantiles.len() - 1;
    if above == 0 {
        return 0.0;
    }
    if above > last {
        return 1.0;
    }
    let (low, high) = (quantiles[above - 1], quantiles[above]);
    ((above - 1) as f64 + (value - low) / (high - low)) / last as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn between_quantiles_by_place() {
        let quantiles = [1.0, 2.0, 2.0, 4.0, 8.0];
        for (value, share) in [
            (0.5, 0.0),
            (1.0, 0.0),
            (1.5, 0.125),
            (3.0, 0.625),
            (6.0, 0.875),
            (9.0, 1.0),
        ] {
            assert_eq!(share_below(&quantiles, value), share, "{value}");
        }
    }

    /// Two channels: means 2 and 5, standard deviations 1 and 0 of whole numbers that one can check.
    #[test]
    fn mean_and_spread_of_each_channel() {
        let mut features = Features::new(2);
        features.add(&[1, 5, 3, 5]);
        let learned = |mean: [f64; 4]| NoveltyForm {
            layer: String::new(),
            unit: 1.0,
            mean: mean.to_vec(),
            std: vec![1.0, 2.0, 1.0, 1.0],
            quantiles: vec![0.0, 1.0, 2.0],
        };
        assert_eq!(features.unusual(&learned([2.0, 5.0, 1.0, 0.0])), 0.0);
        // Off by one, by two halves of two, by one and by one: a mean square of one.
        assert_eq!(features.unusual(&learned([1.0, 3.0, 2.0, 1.0])), 0.5);
    }
}
