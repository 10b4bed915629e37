//! The camera's guidance for a worker beside the camera. Preview frames stay in
//! the page: they never cross to the shell.
//!
//! A few calls over plain memory, so that no glue is needed on the other side:
//! [`frame`] gives room for one reduced RGBA frame, [`detail`] for a cut of it in
//! the photo's own pixels, [`look`] judges both, and what `look` returns is the
//! place of as many numbers (`f64`) as [`count`] says:
//!
//! 0 advice (0 good, 1 dark, 2 glare, 3 no card, 4 tilted, 5 far, 6 blurred),
//! 1 tilt in degrees, 2 px per mm of the photo, 3 blur in px of the photo,
//! 4 share of glare, 5 median brightness of 255, 6 a card is seen (0 or 1),
//! 7 to 14 its corners in px of the frame: x, y from the top left as printed,
//! 15 the phone's edge to lift, degrees clockwise from the frame's upper edge.

use std::cell::RefCell;

use swarfbook_debris::{Advice, Guidance, Upright, guide};
use swarfbook_frame::{Frame, put_corners};

/// How many numbers [`look`] gives.
const FIGURES: usize = 16;

/// A frame as the core looks at a photo.
fn upright(frame: &Frame) -> Upright {
    let pixels = frame.rgba().chunks_exact(4);
    Upright {
        width: frame.width(),
        height: frame.height(),
        rgb: pixels.flat_map(|p| [p[0], p[1], p[2]]).collect(),
        lens: None,
    }
}

#[derive(Default)]
struct Desk {
    frame: Frame,
    detail: Frame,
    figures: [f64; FIGURES],
}

thread_local! {
    static DESK: RefCell<Desk> = RefCell::default();
}

/// Room for the next frame: `width * height` pixels of four bytes (RGBA), row by
/// row. A null pointer for a size that is no preview's.
#[allow(unsafe_code)] // a fixed name, so that the page finds it; nothing else is unsafe
#[unsafe(no_mangle)]
pub extern "C" fn frame(width: u32, height: u32) -> *mut u8 {
    DESK.with_borrow_mut(|desk| desk.frame.room(width, height))
}

/// Room for a cut of the frame in the photo's own pixels, in the same form.
#[allow(unsafe_code)] // as above
#[unsafe(no_mangle)]
pub extern "C" fn detail(width: u32, height: u32) -> *mut u8 {
    DESK.with_borrow_mut(|desk| desk.detail.room(width, height))
}

/// Judges what was written; `photo_side` is the longer side of the photo that
/// the shutter would give, px.
#[allow(unsafe_code)] // as above
#[unsafe(no_mangle)]
pub extern "C" fn look(photo_side: u32) -> *const f64 {
    DESK.with_borrow_mut(|desk| {
        let (frame, detail) = (upright(&desk.frame), upright(&desk.detail));
        desk.figures = told(&guide(&frame, &detail, photo_side as usize));
        desk.figures.as_ptr()
    })
}

/// How many numbers [`look`] gives, for the page.
#[allow(unsafe_code)] // as above
#[unsafe(no_mangle)]
pub extern "C" fn count() -> u32 {
    FIGURES as u32
}

fn told(guidance: &Guidance) -> [f64; FIGURES] {
    let advice = match guidance.advice {
        Advice::Good => 0.0,
        Advice::Dark => 1.0,
        Advice::Glare => 2.0,
        Advice::NoCard => 3.0,
        Advice::Tilted => 4.0,
        Advice::Far => 5.0,
        Advice::Blurred => 6.0,
    };
    let mut out = [0.0; FIGURES];
    out[..7].copy_from_slice(&[
        advice,
        guidance.tilt_deg,
        guidance.px_per_mm,
        guidance.blur_px,
        guidance.glare,
        guidance.brightness,
        f64::from(u8::from(guidance.corners_px.is_some())),
    ]);
    out[15] = guidance.lift_deg.unwrap_or(0.0);
    put_corners(&mut out[7..15], guidance.corners_px.iter().flatten());
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_seen_stands_in_its_places() {
        let seen = Guidance {
            corners_px: Some([[1.0, 2.0], [3.0, 4.0], [5.0, 6.0], [7.0, 8.0]]),
            tilt_deg: 9.0,
            lift_deg: Some(90.0),
            px_per_mm: 10.0,
            blur_px: 11.0,
            glare: 0.12,
            brightness: 13.0,
            advice: Advice::Blurred,
        };
        assert_eq!(
            told(&seen),
            [
                6.0, 9.0, 10.0, 11.0, 0.12, 13.0, 1.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 90.0
            ]
        );
    }
}
