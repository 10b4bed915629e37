//! Ways to write a number that are neither digits with a mark nor digits with a
//! unit: `4k7` as resistors are marked, `4½` as jugs are.

use super::number::{Number, read};
use super::{InputError, Quantity};

/// A number and what stands behind it.
pub(super) type Written<'a> = (Number, &'a str);

/// `4k7`, `5R6`, `2M2`, `R47`: the letter stands where the decimal mark would
/// (IEC 60062, from memory). What follows is the multiplier; an ohm sign behind
/// it adds nothing. `None` where the text is no such mark.
///
/// # Errors
/// [`InputError::MilliOrMega`] for a small m, which the standard does not use.
pub(super) fn marked(text: &str) -> Option<Result<(Number, char), InputError>> {
    let plain = text.trim_end_matches(['Ω', 'ω', '\u{2126}']).trim_end();
    let at = plain.find(|c: char| !c.is_ascii_digit())?;
    let letter = plain.get(at..)?.chars().next()?;
    let (whole, fraction) = (plain.get(..at)?, plain.get(at + letter.len_utf8()..)?);
    let short = |digits: &str| digits.len() <= 3 && digits.chars().all(|c| c.is_ascii_digit());
    if fraction.is_empty() || !short(whole) || !short(fraction) {
        return None;
    }
    // `R47` is usual; `k47` is not.
    if whole.is_empty() && !matches!(letter, 'R' | 'r') {
        return None;
    }
    match letter {
        'R' | 'r' | 'k' | 'K' | 'M' => {}
        'm' => {
            return Some(Err(InputError::MilliOrMega {
                text: text.to_owned(),
            }));
        }
        _ => return None,
    }
    let head = format!("{whole}.{fraction}");
    Some(read(&head, text, Quantity::Resistance, false).map(|number| (number, letter)))
}

/// `4½`, `½`, `4 1/2`: a whole number and a fraction as rulers and jugs are
/// marked; what follows is its unit.
pub(super) fn fraction(text: &str) -> Option<Written<'_>> {
    let (whole, part, of, rest) = vulgar(text).or_else(|| slashed(text))?;
    let whole_digits = whole.chars().filter(char::is_ascii_digit).count();
    if whole_digits != whole.len() || whole_digits > 6 {
        return None;
    }
    let whole: f64 = if whole.is_empty() {
        0.0
    } else {
        whole.parse().ok()?
    };
    let number = Number {
        value: whole + f64::from(part) / f64::from(of),
        step: 1.0 / f64::from(of),
        significant_digits: u32::try_from(whole_digits + 1).ok()?,
    };
    Some((number, rest))
}

type Parts<'a> = (&'a str, u32, u32, &'a str);

fn vulgar(text: &str) -> Option<Parts<'_>> {
    const SIGNS: [(char, u32, u32); 9] = [
        ('½', 1, 2),
        ('⅓', 1, 3),
        ('⅔', 2, 3),
        ('¼', 1, 4),
        ('¾', 3, 4),
        ('⅛', 1, 8),
        ('⅜', 3, 8),
        ('⅝', 5, 8),
        ('⅞', 7, 8),
    ];
    SIGNS.into_iter().find_map(|(sign, part, of)| {
        let (whole, rest) = text.split_once(sign)?;
        Some((whole.trim(), part, of, rest.trim()))
    })
}

fn slashed(text: &str) -> Option<Parts<'_>> {
    const MARKS_OF_AN_INCH: [u32; 7] = [2, 3, 4, 8, 16, 32, 64];
    let (before, after) = text.split_once(['/', '⁄'])?;
    let (before, after) = (before.trim_end(), after.trim_start());
    let from = before
        .rfind(|c: char| !c.is_ascii_digit())
        .map_or(Some(0), |at| {
            let c = before.get(at..)?.chars().next()?;
            Some(at + c.len_utf8())
        })?;
    let to = after
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(after.len());
    let part: u32 = before.get(from..)?.parse().ok()?;
    let of: u32 = after.get(..to)?.parse().ok()?;
    let whole = before.get(..from)?.trim_end().trim_end_matches('-').trim();
    (MARKS_OF_AN_INCH.contains(&of) && (1..of).contains(&part))
        .then(|| (whole, part, of, after.get(to..).unwrap_or("").trim()))
}
