//! Digits to a number: decimal comma or point, grouped thousands, the worth of
//! the last digit.

use super::InputError;
use crate::unit::Quantity;

/// A bare number as typed.
pub(super) struct Number {
    pub value: f64,
    /// Worth of the last digit, in the unit typed.
    pub step: f64,
    pub significant_digits: u32,
}

/// Splits `12,5 kΩ` into `12,5` and `kΩ`. The head is empty when the text does
/// not begin as a number.
pub(super) fn split(text: &str) -> (&str, &str) {
    let mut end = 0;
    for (at, c) in text.char_indices() {
        let signed = at == 0 && matches!(c, '+' | '-' | '−');
        if signed || c.is_ascii_digit() || matches!(c, '.' | ',' | ' ' | '\u{a0}' | '\u{202f}') {
            end = at + c.len_utf8();
        } else {
            break;
        }
    }
    let (head, tail) = text.split_at(end);
    let head = head.trim();
    if head.contains(|c: char| c.is_ascii_digit()) {
        (head, tail.trim())
    } else {
        ("", text)
    }
}

/// Reads the head of [`split`]. `comma_groups`: a comma before three digits can
/// only group thousands.
pub(super) fn read(
    head: &str,
    text: &str,
    quantity: Quantity,
    comma_groups: bool,
) -> Result<Number, InputError> {
    let wrong = || InputError::NotANumber {
        text: text.to_owned(),
        quantity,
    };
    let (sign, digits) = match head.chars().next() {
        Some('+') => (1.0, &head[1..]),
        Some('-') => (-1.0, &head[1..]),
        Some('−') => (-1.0, &head['−'.len_utf8()..]),
        _ => (1.0, head),
    };
    let digits: String = digits
        .trim()
        .chars()
        .map(|c| if c.is_whitespace() { ' ' } else { c })
        .collect();
    let (whole, fraction) = parts(&digits, text, quantity, comma_groups).ok_or_else(wrong)??;
    if whole.is_empty() && fraction.is_empty() {
        return Err(wrong());
    }
    let plain = format!(
        "{}.{}",
        if whole.is_empty() { "0" } else { &whole },
        fraction
    );
    let value: f64 = plain.trim_end_matches('.').parse().map_err(|_| wrong())?;
    let significant = format!("{whole}{fraction}");
    Ok(Number {
        value: sign * value,
        step: 10f64.powi(-(fraction.len() as i32)),
        significant_digits: significant.trim_start_matches('0').len().max(1) as u32,
    })
}

type Parts = (String, String);

/// Digits before and after the decimal mark; `None` when the marks make no number.
fn parts(
    digits: &str,
    text: &str,
    quantity: Quantity,
    comma_groups: bool,
) -> Option<Result<Parts, InputError>> {
    let points = digits.matches('.').count();
    let commas = digits.matches(',').count();
    match (points, commas) {
        (0, 0) => Some(Ok((ungroup(digits, ' ')?, String::new()))),
        (1, 0) | (0, 1) => {
            let mark = if points == 1 { '.' } else { ',' };
            let (whole, fraction) = digits.split_once(mark)?;
            let whole = ungroup(whole, ' ')?;
            if !all_digits(fraction) {
                return None;
            }
            if may_be_thousands(&whole, fraction, mark, quantity) {
                if comma_groups && mark == ',' {
                    return Some(Ok((format!("{whole}{fraction}"), String::new())));
                }
                return Some(Err(InputError::Ambiguous {
                    text: text.to_owned(),
                    small: format!("{whole}.{}", fraction.trim_end_matches('0'))
                        .trim_end_matches('.')
                        .to_owned(),
                    large: format!("{whole}{fraction}"),
                }));
            }
            Some(Ok((whole, fraction.to_owned())))
        }
        // Both: the last is the decimal mark, the others group thousands.
        (1, _) | (_, 1) if points > 0 && commas > 0 => {
            let (mark, group) = if digits.rfind('.') > digits.rfind(',') {
                ('.', ',')
            } else {
                (',', '.')
            };
            if digits.matches(mark).count() != 1 {
                return None;
            }
            let (whole, fraction) = digits.split_once(mark)?;
            all_digits(fraction)
                .then(|| Some(Ok((ungroup(whole, group)?, fraction.to_owned()))))
                .flatten()
        }
        (0, _) => Some(Ok((ungroup(digits, ',')?, String::new()))),
        (_, 0) => Some(Ok((ungroup(digits, '.')?, String::new()))),
        _ => None,
    }
}

/// `12,500` can be 12.5 or 12500. With a point only a distance is in doubt:
/// meters write `12.500`, odometers are read as `84.200`.
fn may_be_thousands(whole: &str, fraction: &str, mark: char, quantity: Quantity) -> bool {
    fraction.len() == 3
        && (1..=3).contains(&whole.len())
        && !whole.starts_with('0')
        && (mark == ',' || quantity == Quantity::Distance)
}

/// Takes out a grouping mark where it stands every three digits; `None` where it doesn't.
fn ungroup(whole: &str, group: char) -> Option<String> {
    if !whole.contains(group) {
        return all_digits(whole).then(|| whole.to_owned());
    }
    let groups: Vec<&str> = whole.split(group).collect();
    let (first, rest) = groups.split_first()?;
    let fits = (1..=3).contains(&first.len())
        && all_digits(first)
        && rest.iter().all(|g| g.len() == 3 && all_digits(g));
    fits.then(|| groups.concat())
}

fn all_digits(text: &str) -> bool {
    text.chars().all(|c| c.is_ascii_digit())
}
