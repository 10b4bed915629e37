//! Small dense linear systems.

/// Solves `a x = b` by elimination with row pivots; `None` when singular.
#[expect(clippy::needless_range_loop, reason = "indices are the algorithm")]
pub(crate) fn solve<const N: usize>(mut a: [[f64; N]; N], mut b: [f64; N]) -> Option<[f64; N]> {
    for k in 0..N {
        let pivot = (k..N).max_by(|&i, &j| a[i][k].abs().total_cmp(&a[j][k].abs()))?;
        if a[pivot][k].abs() < 1e-14 {
            return None;
        }
        a.swap(k, pivot);
        b.swap(k, pivot);
        for i in k + 1..N {
            let factor = a[i][k] / a[k][k];
            for j in k..N {
                a[i][j] -= factor * a[k][j];
            }
            b[i] -= factor * b[k];
        }
    }
    let mut x = [0.0; N];
    for i in (0..N).rev() {
        let rest: f64 = (i + 1..N).map(|j| a[i][j] * x[j]).sum();
        x[i] = (b[i] - rest) / a[i][i];
    }
    Some(x)
}
