//! How numbers stand in sentences, the same in score, report and screens.

use swarfbook_words::speaking;

/// A number rounded to a whole one, its digits in threes: "118,400".
pub fn thousands(number: f64) -> String {
    let digits = format!("{:.0}", number.abs());
    let mut grouped = String::new();
    if number < 0.0 {
        grouped.push('-');
    }
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            grouped.push(speaking().group_mark());
        }
        grouped.push(digit);
    }
    grouped
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digits_stand_in_threes() {
        for (number, words) in [
            (0.0, "0"),
            (999.4, "999"),
            (999.6, "1,000"),
            (118_400.0, "118,400"),
            (1_234_567.0, "1,234,567"),
            (-12_000.0, "-12,000"),
        ] {
            assert_eq!(thousands(number), words);
        }
    }
}
