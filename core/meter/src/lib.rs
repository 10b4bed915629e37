//! A meter's display for a worker beside the camera. Frames stay in the page: they never
//! cross to the shell. What counts as read, and when it has stood still, is decided here.
//!
//! A few calls over plain memory, so that no glue is needed on the other side: [`frame`] gives
//! room for one RGBA frame, [`look`] reads it, and what `look` returns is the place of
//! as many numbers (`f64`) as [`count`] says:
//!
//! 0 how it stands (0 nothing is read, 1 not long enough, 2 long enough, said once, 3 still
//! the same), 1 the share of the time that it takes, 2 why nothing is read (0 it is, 1 no
//! display, 2 cut off, 3 too small, 4 in doubt, 5 no number), 3 how many letters the number
//! has, 4 to 11 corners of its row in px of the frame: x, y from the top left as shown,
//! 12 to 19 its letters as Unicode numbers, as they are typed: `OL` for over range,
//! 20 the number that was last long enough there may still be written (0 or 1): nothing else
//! was seen since. The phone may look away for that.

use std::cell::RefCell;

use swarfbook_display::{Display, Grey, Reading, Stand, Steady, Unread};
use swarfbook_frame::{Frame, put_corners};

/// How many numbers [`look`] gives.
const FIGURES: usize = 13 + LETTERS;

/// The most letters that a number has.
const LETTERS: usize = 8;

#[derive(Default)]
struct Desk {
    frame: Frame,
    display: Option<Display>,
    steady: Steady,
    /// What was long enough there, until something else is seen.
    stood: Option<String>,
    figures: [f64; FIGURES],
}

impl Desk {
    fn look(&mut self, ms: f64) {
        let read = self.read();
        let stand = self.steady.frame(ms, read.as_ref().ok());
        self.figures = told(stand, &read);
        if let Ok(reading) = read {
            match stand {
                Stand::Taken => self.stood = Some(reading.text),
                _ if self.stood.as_ref() != Some(&reading.text) => self.stood = None,
                _ => {}
            }
        }
        self.figures[FIGURES - 1] = f64::from(u8::from(self.stood.is_some()));
    }

    fn read(&mut self) -> Result<Reading, Unread> {
        if self.display.is_none() {
            self.display = Display::built_in().ok();
        }
        let frame = &self.frame;
        let grey = Grey::from_bytes(frame.width(), frame.height(), 4, frame.rgba());
        match (&self.display, grey) {
            (Some(display), Some(grey)) => display.read(&grey),
            _ => Err(Unread::NoDisplay),
        }
    }
}

thread_local! {
    static DESK: RefCell<Desk> = RefCell::default();
}

/// Room for the next frame: `width * height` pixels of four bytes (RGBA), row by row. A null
/// pointer for a size that is no frame's.
#[allow(unsafe_code)] // a fixed name, so that the page finds it; nothing else is unsafe
#[unsafe(no_mangle)]
pub extern "C" fn frame(width: u32, height: u32) -> *mut u8 {
    DESK.with_borrow_mut(|desk| desk.frame.room(width, height))
}

/// Reads what was written; `ms` is when it was seen, by a clock that goes on evenly.
#[allow(unsafe_code)] // as above
#[unsafe(no_mangle)]
pub extern "C" fn look(ms: f64) -> *const f64 {
    DESK.with_borrow_mut(|desk| {
        desk.look(ms);
        desk.figures.as_ptr()
    })
}

/// How many numbers [`look`] gives, for the page.
#[allow(unsafe_code)] // as above
#[unsafe(no_mangle)]
pub extern "C" fn count() -> u32 {
    FIGURES as u32
}

fn told(stand: Stand, read: &Result<Reading, Unread>) -> [f64; FIGURES] {
    let mut out = [0.0; FIGURES];
    (out[0], out[1]) = match stand {
        Stand::Nothing => (0.0, 0.0),
        Stand::Waiting(share) => (1.0, share),
        Stand::Taken => (2.0, 1.0),
        Stand::Same => (3.0, 1.0),
    };
    let reading = match read {
        Ok(reading) => reading,
        Err(why) => {
            out[2] = match why {
                Unread::NoDisplay => 1.0,
                Unread::CutOff => 2.0,
                Unread::TooSmall => 3.0,
                Unread::Doubtful => 4.0,
                Unread::NoNumber => 5.0,
            };
            return out;
        }
    };
    put_corners(&mut out[4..12], &reading.corners_px);
    let typed = if reading.over_range {
        "OL"
    } else {
        &reading.text
    };
    let letters = typed.chars().take(LETTERS);
    out[3] = letters.clone().count() as f64;
    for (to, letter) in out[12..].iter_mut().zip(letters) {
        *to = f64::from(u32::from(letter));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reading(text: &str, over_range: bool) -> Reading {
        Reading {
            text: text.to_owned(),
            value: None,
            over_range,
            p: 1.0,
            corners_px: [[1.0, 2.0], [3.0, 4.0], [5.0, 6.0], [7.0, 8.0]],
        }
    }

    fn said(figures: &[f64; FIGURES]) -> String {
        let letters = figures[12..].iter().take(figures[3] as usize);
        letters.map(|c| char::from(*c as u8)).collect()
    }

    #[test]
    fn what_is_read_stands_in_its_places() {
        let out = told(Stand::Waiting(0.5), &Ok(reading("-12.4", false)));
        assert_eq!(out[..4], [1.0, 0.5, 0.0, 5.0]);
        assert_eq!(out[4..12], [1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0]);
        assert_eq!(said(&out), "-12.4");
        // However a meter spells it, it is typed in one way.
        let over = told(Stand::Taken, &Ok(reading(".OL", true)));
        assert_eq!((over[0], said(&over)), (2.0, "OL".to_owned()));
        let none = told(Stand::Nothing, &Err(Unread::CutOff));
        assert_eq!(none[..4], [0.0, 0.0, 2.0, 0.0]);
    }

    /// A drawn photo that the display's own tests read.
    fn shown(desk: &mut Desk, name: &str) {
        let file = format!("../display/tests/photos/{name}.jpg");
        let photo = image::open(file).expect("a photo").into_rgba8();
        assert!(!desk.frame.room(photo.width(), photo.height()).is_null());
        desk.frame.rgba_mut().copy_from_slice(&photo);
    }

    #[test]
    fn a_number_is_long_enough_there_after_a_second_and_said_once() {
        let mut desk = Desk::default();
        shown(&mut desk, "7020");
        let stands: Vec<f64> = (0..6)
            .map(|n| {
                desk.look(f64::from(n) * 250.0);
                assert_eq!(said(&desk.figures), "25.5");
                desk.figures[0]
            })
            .collect();
        assert_eq!(stands, [1.0, 1.0, 1.0, 1.0, 2.0, 3.0]);
        // Another number begins anew.
        shown(&mut desk, "7013");
        desk.look(1500.0);
        assert_eq!((desk.figures[0], said(&desk.figures)), (1.0, "92.7".into()));
        assert!(desk.figures[1] < 0.3);
    }

    #[test]
    fn what_stood_may_be_written_until_something_else_is_seen() {
        let mut desk = Desk::default();
        shown(&mut desk, "7020");
        let mut at = 0.0;
        let mut offered = |desk: &mut Desk| {
            at += 250.0;
            desk.look(at);
            desk.figures[20]
        };
        let waits: Vec<f64> = (0..6).map(|_| offered(&mut desk)).collect();
        assert_eq!(waits, [0.0, 0.0, 0.0, 0.0, 1.0, 1.0]);
        // Nothing that can be read, however long: the phone is lowered to press the key.
        shown(&mut desk, "7017");
        for _ in 0..8 {
            assert_eq!(offered(&mut desk), 1.0);
        }
        shown(&mut desk, "7013");
        assert_eq!(offered(&mut desk), 0.0);
    }

    #[test]
    fn letters_are_no_number() {
        let mut desk = Desk::default();
        shown(&mut desk, "7017");
        desk.look(0.0);
        assert_eq!(desk.figures[..4], [0.0, 0.0, 5.0, 0.0]);
    }
}
