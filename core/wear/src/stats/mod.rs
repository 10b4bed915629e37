//! Exact statistics of counts.

mod poisson;
mod scattered;
mod two_counts;

pub(crate) use poisson::gamma_quantile;
pub use scattered::{SCATTER, Scattered, scattered};
pub use swarfbook_job::garwood::garwood;
pub use two_counts::{TwoCounts, compare_counts};

/// The value in `lo..hi` at which a rising `f` reaches `target`, to the last bits.
fn bisect(mut lo: f64, mut hi: f64, target: f64, f: impl Fn(f64) -> f64) -> f64 {
    // 1100 halvings reach the smallest number; a float stops long before.
    for _ in 0..1100 {
        let middle = lo + (hi - lo) / 2.0;
        if middle <= lo || middle >= hi {
            break;
        }
        if f(middle) < target {
            lo = middle;
        } else {
            hi = middle;
        }
    }
    lo + (hi - lo) / 2.0
}
