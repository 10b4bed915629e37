//! Whether a line can be true, asked before it is written.

mod bench;
mod intake;
mod parts;
mod photo;
mod report;
mod step;
mod tools;

use swarfbook_job::fact::{Fact, MeterUsed};
use swarfbook_measure::unit::{Quantity, Units};
use swarfbook_store::Store;
use swarfbook_words::{say, term};

pub(crate) use tools::tools;

use crate::problem::{Problem, ProblemKind};
use crate::state::App;
use crate::state::Loaded;

/// The most characters of a name.
pub(crate) const SHORT: usize = 200;
/// The most characters of a note: all of them are shown.
pub(crate) const LONG: usize = swarfbook_job::shown::MAX_TEXT_CHARS;

/// Checks a line that a screen wants to write against the job as it stands.
pub(crate) fn fact(
    app: &App,
    store: &Store,
    loaded: &Loaded,
    fact: &Fact,
    sure: bool,
) -> Result<(), Problem> {
    match fact {
        Fact::Opened { .. }
        | Fact::WrittenBy { .. }
        | Fact::WrittenIn { .. }
        | Fact::MeasuredWith { .. }
        | Fact::CustomerLinked { .. }
        | Fact::StepSettled { .. }
        | Fact::CensusMade { .. }
        | Fact::ReportMade { .. }
        | Fact::ReportShared { .. }
        | Fact::CustomerAnswered { .. }
        | Fact::Retracted { .. } => Err(Problem::new(
            ProblemKind::BadRequest,
            say!("this-kind-of-line-is-written-by-the"),
            say!("use-the-command-that-is-made-for-it"),
        )),
        Fact::ReportWithdrawn { report, reason } => report::withdrawn(loaded, *report, reason),
        Fact::CarNoted { car } => intake::car(app, store, loaded, car, sure),
        Fact::ComplaintNoted { complaint } => intake::complaint(loaded, complaint),
        Fact::CodesRead { codes, .. } => intake::codes(codes),
        Fact::GoAheadGiven { go_ahead } => intake::go_ahead(go_ahead),
        Fact::CostGiven { cost } => intake::cost(cost),
        Fact::StepTicked { step } => step::tick(loaded, step),
        Fact::StepSkipped { step, reason } => step::skip(loaded, step, reason),
        Fact::Noted {
            step, topic, text, ..
        } => step::note(loaded, step, topic.as_deref(), text),
        Fact::Observed { observed } => step::observed(loaded, observed),
        Fact::Measured { measured } => step::measured(loaded, measured, sure),
        Fact::PhotoTaken { step, .. } => step::known(loaded, step).map(|_| ()),
        Fact::PhotoHinted { photo, hints } => photo::hinted(loaded, *photo, hints),
        Fact::ParticleCorrected { photo, at_px, to } => {
            photo::corrected(loaded, *photo, *at_px, to)
        }
        Fact::PhotoLinked { photo, to, link } => photo::linked(loaded, *photo, *to, *link),
        Fact::CensusConfirmed { photo } => photo::confirmed(loaded, *photo),
        Fact::PartOff { part } => parts::off(loaded, part),
        Fact::PartBack { part, count, .. } => parts::back(loaded, *part, *count),
        Fact::PartLost { part, count, text } => parts::lost(loaded, *part, *count, text),
        Fact::ComponentNoted { component } => bench::component(component),
        Fact::SpecEntered { component, spec } => bench::spec(loaded, *component, spec),
        Fact::ReadingTaken { component, reading } => {
            bench::reading(loaded, *component, reading, sure)
        }
        Fact::HarnessRead { component, read } => bench::harness(loaded, *component, read),
        Fact::PartReplaced { step, replacement } => bench::replaced(loaded, step, replacement),
        Fact::Tightened { step, tightened } => parts::tightened(loaded, step, tightened, sure),
        Fact::Decided {
            advised,
            chosen,
            reason,
        } => step::decided(loaded, *advised, *chosen, reason.as_deref()),
    }
}

/// Text of at most `max` characters, without characters that no keyboard writes.
pub(crate) fn text(what: &str, text: &str, max: usize) -> Result<(), Problem> {
    let chars = text.chars().count();
    if chars > max {
        return Err(Problem::bad_input(
            say!(
                "what-has-chars-characters-at-most-max-fit",
                what = what,
                chars = chars,
                max = max
            ),
            say!("shorten-it"),
        ));
    }
    let odd = |c: char| c.is_control() && !matches!(c, '\n' | '\t' | '\r');
    if text.contains(odd) {
        return Err(Problem::bad_input(
            say!("what-holds-characters-that-cant-be-shown", what = what),
            say!("type-it-anew"),
        ));
    }
    Ok(())
}

/// Text that must say something.
pub(crate) fn wanted_text(what: &str, value: &str, max: usize) -> Result<(), Problem> {
    if value.trim().is_empty() {
        return Err(Problem::bad_input(
            say!("what-is-missing", what = what),
            say!("type-or-choose-it"),
        ));
    }
    text(what, value, max)
}

/// A number within what is possible.
pub(crate) fn number(
    what: &str,
    value: f64,
    min: f64,
    max: f64,
    unit: &str,
) -> Result<(), Problem> {
    if value.is_finite() && (min..=max).contains(&value) {
        return Ok(());
    }
    Err(Problem::bad_input(
        say!(
            "what-value-unit-cant-be",
            what = what,
            value = value,
            unit = unit
        ),
        say!(
            "it-is-between-min-and-max-unit-look",
            min = min,
            max = max,
            unit = unit
        ),
    ))
}

/// A number in the core's unit within what is possible, told in this device's unit.
pub(crate) fn quantity(
    what: &str,
    base: f64,
    [min, max]: [f64; 2],
    quantity: Quantity,
    units: Units,
) -> Result<(), Problem> {
    if base.is_finite() && (min - SLACK..=max + SLACK).contains(&base) {
        return Ok(());
    }
    let show = |base| units.show(base, quantity);
    Err(Problem::bad_input(
        say!("what-base-cant-be", what = what, base = show(base)),
        say!(
            "it-is-between-min-and-max-look-at",
            min = show(min),
            max = show(max)
        ),
    ))
}

/// Noise of a conversion between units.
const SLACK: f64 = 1e-9;

/// A meter's accuracy as its leaflet gives it.
pub(crate) fn meter(meter: &MeterUsed) -> Result<(), Problem> {
    text(term!("the-meters-name"), &meter.name, SHORT)?;
    number(
        term!("the-meters-percent-of-reading"),
        meter.percent,
        0.0,
        20.0,
        "%",
    )?;
    number(
        term!("the-meters-counts"),
        meter.counts,
        0.0,
        100.0,
        "counts",
    )
}
