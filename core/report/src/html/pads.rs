//! Room before numbers of a column, so that their decimal points stand below each other.

/// A number of more digits before its point stands as it is, and moves no other.
const MOST: usize = 4;

/// For each text of a column, how many digits of room stand before it.
pub(super) fn pads<'t>(column: impl Iterator<Item = &'t str>) -> Vec<usize> {
    let digits: Vec<Option<usize>> = column.map(before_point).collect();
    let most = digits.iter().flatten().copied().max().unwrap_or(0);
    let room = |digits: Option<usize>| digits.map_or(0, |digits| most.saturating_sub(digits));
    digits.into_iter().map(room).collect()
}

/// Digits before the point of the number that a text begins with.
fn before_point(text: &str) -> Option<usize> {
    let digits = text.chars().take_while(char::is_ascii_digit).count();
    (1..=MOST).contains(&digits).then_some(digits)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_stand_below_each_other() {
        let column = [
            "38.0 ± 0.6 ohm",
            "open",
            "5.12 kohm",
            "P0763",
            "123456",
            "2",
        ];
        assert_eq!(pads(column.into_iter()), [0, 0, 1, 0, 0, 1]);
        assert_eq!(pads([].into_iter()), Vec::<usize>::new());
    }
}
