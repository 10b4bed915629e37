//! The colour that somebody noted beside the one that was measured.

use swarfbook_job::procedure::NotedColour as Colour;

const ALL: [Colour; 4] = [Colour::Red, Colour::Amber, Colour::Brown, Colour::Black];

/// A drop of it on white paper: CIELAB, D65 (ours; common practice, no published
/// source: fluids and films differ).
fn on_paper(colour: Colour) -> [f64; 3] {
    match colour {
        Colour::Red => [48.0, 58.0, 36.0],
        Colour::Amber => [62.0, 24.0, 56.0],
        Colour::Brown => [36.0, 20.0, 28.0],
        Colour::Black => [14.0, 3.0, 5.0],
    }
}

/// Beyond this much more, as CIELAB distance, another name fits so much better that two
/// people would not argue (ours).
const CLEARLY: f64 = 12.0;

/// The name that fits a measured colour clearly better than the noted one does; `None`
/// where the two agree, or where they are too near to be told apart. The colour is CIELAB
/// (D65), `u` its standard uncertainty as a distance; both sides of the comparison move
/// by it, k = 2.
pub fn fits_better(noted: Colour, lab: [f64; 3], u: f64) -> Option<Colour> {
    let to = |colour: Colour| {
        let reference = on_paper(colour);
        let squares = lab.iter().zip(reference).map(|(a, b)| (a - b).powi(2));
        squares.sum::<f64>().sqrt()
    };
    let nearest = ALL.into_iter().min_by(|a, b| to(*a).total_cmp(&to(*b)))?;
    (to(noted) - to(nearest) > CLEARLY + 2.0 * u.max(0.0)).then_some(nearest)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_black_drop_is_not_red_and_a_dark_red_one_may_be_called_so() {
        let black = [12.0, 4.0, 6.0];
        assert_eq!(fits_better(Colour::Red, black, 1.5), Some(Colour::Black));
        assert_eq!(fits_better(Colour::Black, black, 1.5), None);
        // Between two names neither is wrong.
        let between = [42.0, 40.0, 32.0];
        for noted in [Colour::Red, Colour::Brown] {
            assert_eq!(fits_better(noted, between, 1.5), None, "{noted:?}");
        }
        // What is poorly measured contradicts nobody.
        assert_eq!(fits_better(Colour::Red, black, 30.0), None);
    }
}
