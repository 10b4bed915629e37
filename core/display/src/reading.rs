//! A frame to its reading, or to the reason why there is none.

use crate::find;
use crate::grey::Grey;
use crate::net::{Layer, OTHER, Unusable, parse};
use crate::plane::Quad;
use crate::signs::{CLOSE, LOOSE, goes_on, said};

static MODEL: &[u8] = include_bytes!("display.net");

/// From here on a text counts as read.
const SURE: f64 = 0.92;
/// So likely are a row's cells at least, in the mean.
const SURE_ROW: f64 = 0.8;
/// A row lies this far within the frame, in its heights.
const INSIDE: f64 = 0.3;
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
        let (close, loose) = (look(CLOSE)?, look(LOOSE)?);
        Ok(Looks {
            quad,
            p_row: f64::from(row.p),
            texts: [close.text, loose.text],
            p_texts: [close.p, loose.p],
            goes_on: goes_on(&self.read, frame, quad),
        })
    }
}

/// What is seen of a display, with how likely each thing is.
#[doc(hidden)]
#[derive(Debug, Clone)]
pub struct Looks {
    pub quad: Quad,
    pub p_row: f64,
    pub texts: [String; 2],
    pub p_texts: [f64; 2],
    /// A sign stands beyond the ends of what was found.
    pub goes_on: bool,
}

impl Looks {
    #[doc(hidden)]
    pub fn judged(self) -> Result<Reading, Unread> {
        let [close, loose] = &self.texts;
        let p = self.p_texts[0].min(self.p_texts[1]);
        if close != loose || p < SURE || self.p_row < SURE_ROW || self.goes_on {
            return Err(Unread::Doubtful);
        }
        let (text, value) = number(close).ok_or(Unread::NoNumber)?;
        Ok(Reading {
            over_range: value.is_none(),
            text,
            value,
            p,
            corners_px: self.quad,
        })
    }
}

fn inside(frame: &Grey, quad: Quad) -> Result<(), Unread> {
    let [a, b, c, d] = quad;
    let long = |p: [f64; 2], q: [f64; 2]| (p[0] - q[0]).hypot(p[1] - q[1]);
    let high = (long(a, d) + long(b, c)) / 2.0;
    if high < LEAST_HIGH {
        return Err(Unread::TooSmall);
    }
    let room = INSIDE * high;
    let (w, h) = (frame.width as f64, frame.height as f64);
    let within = |[x, y]: [f64; 2]| x >= room && y >= room && x <= w - room && y <= h - room;
    if quad.into_iter().all(within) {
        Ok(())
    } else {
        Err(Unread::CutOff)
    }
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
