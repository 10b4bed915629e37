//! The wires of a part in words.

use swarfbook_job::fold::HarnessState;
use swarfbook_judge::harness::{Found, Next, matrix, told};
use swarfbook_measure::unit::{Quantity, show};
use swarfbook_words::{say, term};

use crate::view::{HarnessView, StretchCall, StretchView};

/// What was read and what it tells; `None` for numbers that an older check let pass.
pub(super) fn view(state: &HarnessState) -> Option<HarnessView> {
    let read = &state.read;
    let harness = told(&matrix(read).ok()?);
    let [first, second] = harness.wires;
    let wire = |found, pin: &str, name: &str| match pin.trim() {
        "" => stretch(found, name.to_owned()),
        pin => stretch(found, say!("wire-of-pin-pin", pin = pin)),
    };
    let [pin, other] = &read.pins;
    Some(HarnessView {
        wires: [
            wire(first, pin, term!("first-wire")),
            wire(second, other, term!("second-wire")),
        ],
        between: stretch(harness.between, say!("between-the-wires")),
        part: stretch(harness.part, say!("the-part")),
        next: harness.next.map(next_words),
        read: read.clone(),
    })
}

fn stretch(found: Found, name: String) -> StretchView {
    let ohms = |ohms: f64| show(ohms, Quantity::Resistance);
    let (call, either, what) = match found {
        Found::NotTold => (StretchCall::NotTold, false, say!("not-told-yet")),
        Found::Sound => (StretchCall::Sound, false, say!("sound")),
        Found::Open => (StretchCall::Open, false, say!("open")),
        Found::OpenHereOrThere => (StretchCall::Open, true, say!("open-or-the-other-wire-is")),
        Found::Resistive(more) => (
            StretchCall::Resistive,
            false,
            say!("too-much-resistance-more", more = ohms(more)),
        ),
        Found::ResistiveHereOrThere(more) => (
            StretchCall::Resistive,
            true,
            say!(
                "too-much-resistance-or-in-the-other-wire",
                more = ohms(more)
            ),
        ),
        Found::ToGround(path) => (
            StretchCall::ToGround,
            false,
            say!("short-to-ground-path", path = ohms(path)),
        ),
        Found::ToGroundHereOrThere(path) => (
            StretchCall::ToGround,
            true,
            say!("short-to-ground-or-the-other-wire-path", path = ohms(path)),
        ),
        Found::Together(path) => (
            StretchCall::Together,
            false,
            say!("short-from-wire-to-wire-path", path = ohms(path)),
        ),
    };
    StretchView {
        call,
        either,
        words: format!("{name}: {what}"),
    }
}

fn next_words(next: Next) -> String {
    match next {
        Next::ControlAcross => {
            say!("next-from-pin-to-pin-at-the-control")
        }
        Next::ControlToGround => {
            say!("next-each-pin-to-ground-at-the-control")
        }
        Next::PartAcross => say!("next-the-part-alone-from-pin-to-pin"),
        Next::PartToGround => say!("next-the-part-alone-each-pin-to-ground"),
        Next::Wires => say!("next-each-wire-from-end-to-end-unplugged"),
    }
}
