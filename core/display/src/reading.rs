//! A frame to its reading, or to the reason why there is none.

use crate::find;
use crate::grey::Grey;
use crate::net::{Layer, OTHER, Unusable, parse};
use crate::plane::Quad;
use crate::signs::{CLOSE, MORE_LEFT, MORE_RIGHT, said};

static MODEL: &[u8] = include_bytes!("display.net");

/// From here on a text counts as read.
const SURE: f64 = 0.95;
/// From here on a text that is no number is one that shows none.
const LIKELIER: f64 = 0.5;
/// So likely are a row's cells at least, in the mean.
const SURE_ROW: f64 = 0.8;
/// A row lies this far from the left and right border, in its heights: two signs are as far apart, so that none is
/// missed beyond the border.
const INSIDE: f64 = 0.3;
/// From the border above and below: it only has to be whole.
const INSIDE_ABOVE: f64 = 0.1;
/// Px of the frame that a row is high at least.
const LEAST_HIGH: f64 = 9.0;

/// What a display says.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// As shown, blanks left out.
    pub text: String,
    /// The number; nothing when over range.
    pub value: Option<f64>,
    /// The display says that it is over its range.
    pub over_range: bool,
    /// How sure, 0 to 1.
    pub p: f64,
    /// The corners of the row of figures in the frame, px: top left, top right, bottom right,
    /// bottom left.
    pub corners_px: [[f64; 2]; 4],
}

/// Why nothing is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Unread {
    /// No row of figures is seen.
    NoDisplay,
    /// It lies at the frame's border.
    CutOff,
    /// It is too small in the frame.
    TooSmall,
    /// What it says can't be told for sure.
    Doubtful,
    /// It says something, and no number.
    NoNumber,
}

impl std::fmt::Display for Unread {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            Unread::NoDisplay => "No display with figures is seen. Hold the phone so that it fills a third of the picture.",
            Unread::CutOff => "The display is cut off by the picture's border. Take all of it in.",
            Unread::TooSmall => "The display is too small in the picture. Go nearer.",
            Unread::Doubtful => "The display can't be read for sure. Avoid glare and blur, and hold the phone straight above it.",
            Unread::NoNumber => "The display shows no number.",
        })
    }
}

/// Reads displays.
#[derive(Debug, Clone)]
pub struct Display {
    find: Vec<Layer>,
    read: Vec<Layer>,
}

impl Display {
    /// By the model that ships.
    ///
    /// # Errors
    /// Where its file is damaged.
    pub fn built_in() -> Result<Display, Unusable> {
        Display::from_bytes(MODEL)
    }

    /// By a model's file.
    ///
    /// # Errors
    /// Where it is cut short or of another form.
    pub fn from_bytes(bytes: &[u8]) -> Result<Display, Unusable> {
        let nets: [Vec<Layer>; 2] = parse(bytes)?.try_into().map_err(|_| OTHER)?;
        let [find, read] = nets;
        Ok(Display { find, read })
    }

    /// What the display in the frame says.
    ///
    /// # Errors
    /// Where that can't be told for sure; when in doubt, nothing is read.
    pub fn read(&self, frame: &Grey) -> Result<Reading, Unread> {
        self.look(frame)?.judged()
    }

    /// What is seen, before it is judged.
    ///
    /// # Errors
    /// Where there is nothing to judge.
    #[doc(hidden)]
    pub fn look(&self, frame: &Grey) -> Result<Looks, Unread> {
        let row = find::row(&self.find, frame).ok_or(Unread::NoDisplay)?;
        let quad = row.quad;
        inside(frame, quad)?;
        let look = |room| said(&self.read, frame, quad, room).ok_or(Unread::Doubtful);
        let (close, left, right) = (look(CLOSE)?, look(MORE_LEFT)?, look(MORE_RIGHT)?);
        Ok(Looks {
            quad,
            p_row: f64::from(row.p),
            text: close.text,
            p_text: close.p,
            from_left: left.text,
            to_right: right.text,
        })
    }
}

/// What is seen of a display, with how likely each thing is.
#[doc(hidden)]
#[derive(Debug, Clone)]
pub struct Looks {
    pub quad: Quad,
    pub p_row: f64,
    pub text: String,
    pub p_text: f64,
    /// The text with more room to its left: a sign that was found to be no part of the row stands before it.
    pub from_left: String,
    /// With more room to its right.
    pub to_right: String,
}

impl Looks {
    #[doc(hidden)]
    pub fn judged(self) -> Result<Reading, Unread> {
        let read = number(&self.text);
        if read.is_none() && self.p_text > LIKELIER && self.p_row > SURE_ROW {
            return Err(Unread::NoNumber);
        }
        if self.goes_on() || self.p_text < SURE || self.p_row < SURE_ROW {
            return Err(Unread::Doubtful);
        }
        let (text, value) = read.ok_or(Unread::NoNumber)?;
        Ok(Reading {
            over_range: value.is_none(),
            text,
            value,
            p: self.p_text,
            corners_px: self.quad,
        })
    }
}

impl Looks {
    /// Whether the number may go on beyond what was found. Nothing of a number stands before its minus or behind the L of
    /// "over range"; else a sign right beside it is one of its own, and what is none (`?`: a unit, a label) parts what
    /// stands beyond from it.
    fn goes_on(&self) -> bool {
        let (Some(before), Some(behind)) = (
            self.from_left.strip_suffix(&self.text),
            self.to_right.strip_prefix(&self.text),
        ) else {
            return true;
        };
        let sign = |beside: Option<char>| beside.is_some_and(|c| c != '?');
        (sign(before.chars().next_back()) && !self.text.starts_with('-'))
            || (sign(behind.chars().next()) && !self.text.ends_with('L'))
    }
}

fn inside(frame: &Grey, quad: Quad) -> Result<(), Unread> {
    if high(quad) < LEAST_HIGH {
        Err(Unread::TooSmall)
    } else if within(frame, quad) {
        Ok(())
    } else {
        Err(Unread::CutOff)
    }
}

/// Whether a row lies far enough from the frame's borders.
fn within(frame: &Grey, quad: Quad) -> bool {
    let (dx, dy) = (INSIDE * high(quad), INSIDE_ABOVE * high(quad));
    let (w, h) = (frame.width as f64, frame.height as f64);
    quad.into_iter()
        .all(|[x, y]| x >= dx && y >= dy && x <= w - dx && y <= h - dy)
}

/// A row's height, px.
fn high([a, b, c, d]: Quad) -> f64 {
    let long = |p: [f64; 2], q: [f64; 2]| (p[0] - q[0]).hypot(p[1] - q[1]);
    (long(a, d) + long(b, c)) / 2.0
}

/// The text as shown and its number (none over range); nothing where it is no number.
fn number(read: &str) -> Option<(String, Option<f64>)> {
    let bare: String = read.chars().filter(|c| *c != '.').collect();
    if matches!(bare.as_str(), "0L" | "-0L") && read.matches('.').count() <= 1 {
        return Some((read.replacen('0', "O", 1), None));
    }
    let digits = read.strip_prefix('-').unwrap_or(read);
    let sound = digits.chars().all(|c| c.is_ascii_digit() || c == '.')
        && digits.matches('.').count() <= 1
        && digits.chars().any(|c| c.is_ascii_digit())
        && !digits.ends_with('.')
        && digits.len() <= 8;
    let value: f64 = sound.then(|| read.parse().ok())??;
    Some((read.to_owned(), Some(value)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sign_right_beside_the_number_is_its_own() {
        let look = |from_left: &str, text: &str, to_right: &str| {
            let looks = Looks {
                quad: [[0.0; 2]; 4],
                p_row: 1.0,
                text: text.to_owned(),
                p_text: 1.0,
                from_left: from_left.to_owned(),
                to_right: to_right.to_owned(),
            };
            looks.judged().map(|reading| reading.text)
        };
        for (from_left, text, to_right) in [
            ("12.7", "12.7", "12.7"),
            ("?12.7", "12.7", "12.7?"),    // a label, a unit
            ("?.?12.7", "12.7", "12.7?0"), // other figures behind them
            ("8-12.7", "-12.7", "-12.7"),  // the ghost of a digit before a minus
            ("0L", "0L", "0L0"),
        ] {
            let want = text.replacen("0L", "OL", 1);
            assert_eq!(
                look(from_left, text, to_right),
                Ok(want),
                "{from_left} {to_right}"
            );
        }
        for (from_left, text, to_right) in [
            ("-12.7", "12.7", "12.7"),
            ("12.7", "2.7", "2.7"),
            ("12.7", "12.7", "12.74?"),
            (".127", "127", "127"),
            ("?-", "12.7", "12.7"),
            ("0", "0", "0L"),
        ] {
            assert_eq!(
                look(from_left, text, to_right),
                Err(Unread::Doubtful),
                "{from_left} {to_right}"
            );
        }
    }

    #[test]
    fn numbers_are_numbers_and_nothing_else_is() {
        for (read, text, value) in [
            ("12.73", "12.73", Some(12.73)),
            ("-0.004", "-0.004", Some(-0.004)),
            (".473", ".473", Some(0.473)),
            ("1999", "1999", Some(1999.0)),
            ("0L", "OL", None),
            (".0L", ".OL", None),
            ("0.L", "O.L", None),
            ("-0L", "-OL", None),
        ] {
            assert_eq!(number(read), Some((text.to_owned(), value)), "{read}");
        }
        for read in [
            "",
            "-",
            "----",
            "12.7?",
            "1.2.3",
            "5-",
            "L",
            "0L0",
            "12.",
            ".",
            "?",
            "00L",
            "123456789",
        ] {
            assert_eq!(number(read), None, "{read}");
        }
    }
}
