//! Components, limits, readings and parts out and in.

use swarfbook_job::fact::{Component, HarnessRead, Reading, ReadingKind, Replacement, SpecEntered};
use swarfbook_job::fold::ComponentState;
use swarfbook_job::id::EntryId;
use swarfbook_judge::{harness, reading};
use swarfbook_measure::code::Code;
use swarfbook_measure::contact::Sample;
use swarfbook_measure::input;
use swarfbook_measure::resistance::ntc::Ntc;
use swarfbook_measure::unit::Quantity;
use swarfbook_words::{say, term};

use super::{SHORT, number, quantity, text, wanted_text};
use crate::problem::{Problem, ProblemKind};
use crate::state::Loaded;

/// Colder or hotter than a part that is measured, °C.
const PART_C: [f64; 2] = [-60.0, 200.0];

/// What an insulation tester of a workshop puts out, volt.
const TEST_VOLTS: [f64; 2] = [1.0, 1000.0];

/// More than this on parts of a gearbox is asked about, volt (ours; the maker's figure
/// counts).
const USUAL_TEST_VOLTS: f64 = 250.0;

/// A hand-held meter shows no more, ohm (common practice, no published source): above it an
/// insulation tester was used, with a voltage.
const HAND_METER_OHMS: f64 = 60e6;

/// A car's battery, in cars and lorries, volt.
const APPLIED_VOLTS: [f64; 2] = [0.1, 32.0];

/// More samples than anyone takes.
const MAX_SAMPLES: usize = 50;

pub(super) fn code(code: &str) -> Result<(), Problem> {
    code.parse::<Code>()
        .map(|_| ())
        .map_err(|why| Problem::bad_input(why.to_string(), say!("nothing-was-written")))
}

pub(super) fn component(component: &Component) -> Result<(), Problem> {
    wanted_text(term!("the-parts-name"), &component.name, SHORT)?;
    text(term!("the-connector"), &component.connector, SHORT)?;
    text(term!("the-part-number"), &component.part_number, SHORT)?;
    component.codes.iter().try_for_each(|c| code(c))
}

fn known(loaded: &Loaded, component: EntryId) -> Result<&ComponentState, Problem> {
    loaded
        .state
        .component(component)
        .ok_or_else(|| Problem::not_found(say!("that-part-was-not-noted-in-this-job")))
}

pub(super) fn spec(loaded: &Loaded, component: EntryId, spec: &SpecEntered) -> Result<(), Problem> {
    known(loaded, component)?;
    text(term!("the-source"), &spec.source, SHORT)?;
    let again = |why: String| Problem::bad_input(why, say!("look-at-the-makers-data-again"));
    match (&spec.sensor, spec.quantity, spec.low) {
        (Some(data), ReadingKind::Resistance, _) => {
            wanted_text(term!("where-the-limits-stand"), &spec.source, SHORT)?;
            Ntc::new(data.clone()).map_err(|why| again(why.to_string()))?;
        }
        (Some(_), ..) => {
            return Err(again(say!("a-sensors-table-is-of-its-resistance-not")));
        }
        (None, ReadingKind::Insulation, None) => {
            return Err(again(say!("to-ground-there-is-a-least-resistance-not")));
        }
        (None, ..) => reading::spec(spec)
            .check()
            .map_err(|why| again(why.to_string()))?,
    }
    if let Some(c) = spec.at_c {
        quantity(
            term!("the-temperature-that-the-limits-hold-at"),
            c,
            PART_C,
            Quantity::Temperature,
            loaded.units,
        )?;
    }
    Ok(())
}

pub(super) fn reading(
    loaded: &Loaded,
    component: EntryId,
    taken: &Reading,
    sure: bool,
) -> Result<(), Problem> {
    let component = known(loaded, component)?;
    super::meter(&taken.meter)?;
    if taken.samples.is_empty() || taken.samples.len() > MAX_SAMPLES {
        return Err(Problem::bad_input(
            say!(
                "samples-samples-make-no-reading",
                samples = taken.samples.len()
            ),
            say!("take-at-least-one-better-three-seat-the"),
        ));
    }
    let retype = |why: input::InputError| {
        Problem::bad_input(why.to_string(), say!("type-it-as-the-meter-shows-it"))
    };
    let samples: Vec<Sample> = taken
        .samples
        .iter()
        .map(|typed| reading::sample(typed, taken.quantity))
        .collect::<Result<_, _>>()
        .map_err(retype)?;
    let leads = taken
        .leads
        .as_deref()
        .filter(|l| !l.trim().is_empty())
        .map(|leads| input::parse(leads, Quantity::Resistance))
        .transpose()
        .map_err(retype)?;
    if let Some(c) = taken.part_c {
        quantity(
            term!("the-parts-temperature"),
            c,
            PART_C,
            Quantity::Temperature,
            loaded.units,
        )?;
    }
    if let Some(k) = taken.part_within_k {
        number(
            term!("how-far-off-that-temperature-may-be"),
            k,
            0.0,
            50.0,
            "K",
        )?;
    }
    if let Some(volts) = taken.test_volts {
        quantity(
            term!("the-test-voltage"),
            volts,
            TEST_VOLTS,
            Quantity::Voltage,
            loaded.units,
        )?;
    }
    applied(loaded, taken)?;
    if let Some(top) = taken.range_top.as_deref() {
        input::parse(top, Quantity::Resistance).map_err(retype)?;
    }
    if let Some(sibling) = taken.sibling {
        known(loaded, sibling)?;
    }
    if let Some(photo) = taken.display {
        super::photo::of_a_display(loaded, photo)?;
    }
    reading::guard(taken)
        .check()
        .map_err(|why| Problem::bad_input(why.to_string(), say!("choose-one-of-those-offered")))?;
    match (!sure).then(|| doubt(component, taken, &samples, leads.as_ref())) {
        Some(Some((question, next))) => Err(Problem::new(ProblemKind::Doubtful, question, next)),
        Some(None) | None => Ok(()),
    }
}

/// Volts and amperes belong together, and to nothing else that is read.
fn applied(loaded: &Loaded, taken: &Reading) -> Result<(), Problem> {
    match (&taken.applied, taken.quantity) {
        (Some(applied), ReadingKind::Applied) => {
            let volts = reading::volts(&applied.volts).map_err(|why| {
                Problem::bad_input(why.to_string(), say!("type-it-as-the-meter-shows-it"))
            })?;
            quantity(
                term!("the-voltage-that-was-applied"),
                volts.map_or(0.0, |(volts, _)| volts),
                APPLIED_VOLTS,
                Quantity::Voltage,
                loaded.units,
            )
        }
        (None, ReadingKind::Applied) => Err(Problem::bad_input(
            say!("amperes-alone-tell-no-ohms"),
            say!("enter-the-volts-at-the-part-while-the"),
        )),
        (Some(_), _) => Err(Problem::bad_input(
            say!("volts-that-were-applied-belong-to-a-reading"),
            say!("choose-that-reading-for-them"),
        )),
        (None, _) => Ok(()),
    }
}

/// What must be asked before a reading is written: the question, and what to do.
fn doubt(
    component: &ComponentState,
    taken: &Reading,
    samples: &[Sample],
    leads: Option<&input::Entered>,
) -> Option<(String, String)> {
    let again = || say!("look-at-the-meter-again-if-it-is");
    if leads.is_some_and(|leads| leads.number().is_none()) {
        return Some((
            say!("the-leads-held-together-read-open-no-current"),
            say!("seat-or-change-the-leads-and-read-them"),
        ));
    }
    let in_ohms = taken.quantity.shows() == Quantity::Resistance;
    let mut typed = taken.samples.iter().chain(taken.leads.as_ref());
    // Off a display the unit is no sign that somebody knew what the 1 means.
    let unit: &[char] = match taken.display {
        Some(_) => &['k', 'M'],
        None => &[],
    };
    if in_ohms && typed.any(|one| input::is_lone_one(one.trim_end_matches(unit))) {
        return Some((
            say!("a-lone-1-is-how-some-meters-show"),
            say!("enter-ol-where-it-is-open-or-1"),
        ));
    }
    if taken.quantity == ReadingKind::Insulation {
        let shown = samples.iter().filter_map(|sample| match sample {
            Sample::Value { value, .. } | Sample::Above { value } => Some(*value),
            Sample::Open => None,
        });
        let most = shown.fold(0.0, f64::max);
        if most > HAND_METER_OHMS && taken.test_volts.is_none() {
            return Some((
                say!(
                    "most-is-more-than-a-hand-held-meter",
                    most = swarfbook_measure::unit::show(most, Quantity::Resistance)
                ),
                say!("enter-the-testers-voltage-control-unit-and-sensors"),
            ));
        }
        let volts = taken.test_volts.filter(|volts| *volts > USUAL_TEST_VOLTS)?;
        return Some((
            say!(
                "volts-is-much-for-a-part-of-a",
                volts = swarfbook_measure::unit::show(volts, Quantity::Voltage)
            ),
            say!("control-unit-and-sensors-unplugged-first-and-no"),
        ));
    }
    // A sensor's limits go with its temperature: far from any of them is no sign of a slip.
    let entered = component.specs.get(&taken.quantity);
    if taken.quantity.shows() != taken.quantity.quantity() {
        return None;
    }
    let spec = entered.filter(|s| s.sensor.is_none()).map(reading::spec)?;
    let doubt = samples.iter().find_map(|sample| match sample {
        Sample::Value { value, .. } => input::doubt(*value, spec.low, spec.high, spec.quantity),
        Sample::Open | Sample::Above { .. } => None,
    })?;
    Some((doubt.question, again()))
}

/// The wires of a part: something was read, and each number is one.
pub(super) fn harness(
    loaded: &Loaded,
    component: EntryId,
    read: &HarnessRead,
) -> Result<(), Problem> {
    known(loaded, component)?;
    super::meter(&read.meter)?;
    for pin in &read.pins {
        text(term!("the-pin"), pin, SHORT)?;
    }
    if read.samples().all(|typed| typed.trim().is_empty()) {
        return Err(Problem::bad_input(
            say!("nothing-of-the-wires-was-read"),
            say!("enter-at-least-one-of-the-numbers"),
        ));
    }
    harness::matrix(read)
        .map(|_| ())
        .map_err(|why| Problem::bad_input(why.to_string(), say!("type-it-as-the-meter-shows-it")))
}

pub(super) fn replaced(
    loaded: &Loaded,
    step: &str,
    replacement: &Replacement,
) -> Result<(), Problem> {
    super::step::known(loaded, step)?;
    wanted_text(term!("what-was-replaced"), &replacement.what, SHORT)?;
    text(term!("the-number"), &replacement.number, SHORT)?;
    text(term!("the-batch"), &replacement.batch, SHORT)?;
    if let Some(component) = replacement.component {
        known(loaded, component)?;
    }
    Ok(())
}
