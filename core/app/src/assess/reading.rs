//! Components and their readings, judged.

use swarfbook_job::fact::{
    Component, ComponentKind, MeterUsed, Quantity, Reading as Taken, SensorData, SpecEntered,
    TemperatureFrom,
};
use swarfbook_job::fold::{ComponentState, JobState, ReadingState};
use swarfbook_job::id::EntryId;
use swarfbook_measure::conformity::{Guard, Verdict};
use swarfbook_measure::contact::{self, Contact, ContactShown, Sample};
use swarfbook_measure::input;
use swarfbook_measure::judge::{
    Conductor, ELSEWHERE_HALF_WIDTH_C, Insulation, Judgement, Leads, PROBE_HALF_WIDTH_C, PartTemp,
    Reading, SensorSpec, Spec, judge, judge_insulation, judge_sensor, read_without_limits,
};
use swarfbook_measure::meter::{Accuracy, Grade, Meter};
use swarfbook_measure::resistance::ntc::{NtcData, NtcRow};
use swarfbook_measure::siblings;
use swarfbook_measure::uncertainty::COVERAGE;
use swarfbook_measure::unit::{Quantity as Unit, show, show_number, show_range};
use swarfbook_words::{fixed, say, term};

use super::standing::{self, Generations};
use crate::view::{ComponentView, ReadingVerdict, ReadingView};
use crate::wording::time;

/// The generic grades of meters, for a shop that does not know its own's leaflet.
pub(crate) fn meter_grades() -> Vec<MeterUsed> {
    Grade::ALL
        .into_iter()
        .map(|grade| {
            let Accuracy { percent, counts } = grade.accuracy();
            MeterUsed {
                name: grade_words(grade).to_owned(),
                percent,
                counts,
            }
        })
        .collect()
}

fn grade_words(grade: Grade) -> &'static str {
    match grade {
        Grade::Pocket => term!("Pocket meter"),
        Grade::Workshop => term!("Workshop meter"),
        Grade::Fine => term!("Fine meter, calibrated"),
    }
}

/// The electrical parts of a job, judged.
pub(crate) fn components(state: &JobState) -> Vec<ComponentView> {
    state
        .components
        .iter()
        .map(|component| view(state, component))
        .collect()
}

fn view(state: &JobState, component: &ComponentState) -> ComponentView {
    let noted = &component.component;
    let generations = Generations::of(state, component.stamp.entry);
    let readings: Vec<ReadingView> = component
        .readings
        .iter()
        .map(|reading| ReadingView {
            of_replaced: generations.is_of_replaced(reading.stamp.entry),
            ..reading_view(state, component, reading)
        })
        .collect();
    let standing = standing::worst(readings.iter().filter(|reading| !reading.of_replaced));
    let of_first = |reading: &&ReadingView| generations.is_of_first(reading.entry);
    let as_found = standing::worst(readings.iter().filter(of_first));
    ComponentView {
        entry: component.stamp.entry,
        name: noted.name.clone(),
        kind: noted.kind,
        kind_words: kind_words(noted.kind).to_owned(),
        grounded_by_case: noted.grounded_by_case,
        unread: [
            Quantity::Resistance,
            Quantity::Insulation,
            Quantity::Voltage,
            Quantity::Frequency,
            Quantity::Current,
            Quantity::DutyCycle,
        ]
        .into_iter()
        .filter(|quantity| says_nothing(noted, *quantity).is_some())
        .collect(),
        standing: standing.map(|reading| reading.verdict),
        as_found: as_found.map(|reading| reading.verdict),
        connector: noted.connector.clone(),
        part_number: noted.part_number.clone(),
        codes: noted.codes.clone(),
        specs: component.specs.values().cloned().collect(),
        spec_words: component
            .specs
            .values()
            .map(spec_words)
            .collect::<Vec<_>>()
            .join("; "),
        readings,
        sibling_words: sibling_words(state, component),
        replaced: generations.were_several(),
    }
}

/// The kind of a part, for a sentence.
fn kind_words(kind: ComponentKind) -> &'static str {
    match kind {
        ComponentKind::OnOffSolenoid => term!("on/off solenoid"),
        ComponentKind::LinearSolenoid => term!("pressure solenoid"),
        ComponentKind::TemperatureSensor => term!("temperature sensor"),
        ComponentKind::SpeedSensor => term!("speed sensor"),
        ComponentKind::HallSensor => term!("active sensor (Hall)"),
        ComponentKind::Switch => term!("switch"),
        ComponentKind::RangeSensor => term!("lever position sensor"),
        ComponentKind::Other => term!("part"),
    }
}

/// Why a quantity says nothing of a part, where it does not: nothing is judged by
/// what it is not.
fn says_nothing(part: &Component, quantity: Quantity) -> Option<String> {
    let by_case = part.grounded_by_case && quantity == Quantity::Insulation;
    if by_case {
        return Some(say!(
            "not judged: its case is its other pole, so a path to ground is its winding"
        ));
    }
    match (part.kind, quantity) {
        (ComponentKind::HallSensor, Quantity::Resistance | Quantity::Insulation) => Some(say!(
            "not judged: ohms say nothing of an active sensor; read its supply and its signal"
        )),
        _ => None,
    }
}

/// An open contact is a position, not a fault.
fn has_contacts(kind: ComponentKind) -> bool {
    matches!(kind, ComponentKind::Switch | ComponentKind::RangeSensor)
}

fn unit(quantity: Quantity) -> Unit {
    match quantity {
        Quantity::Resistance | Quantity::Insulation => Unit::Resistance,
        Quantity::Voltage => Unit::Voltage,
        Quantity::Frequency => Unit::Frequency,
        Quantity::Current => Unit::Current,
        Quantity::DutyCycle => Unit::DutyCycle,
    }
}

/// Limits in words.
pub(crate) fn spec_words(spec: &SpecEntered) -> String {
    if let Some(sensor) = &spec.sensor {
        return sensor_words(sensor);
    }
    let unit = unit(spec.quantity);
    let range = match (spec.low, spec.high) {
        (Some(low), Some(high)) => show_range(low, high, unit),
        (Some(low), None) => say!("at least {}", show(low, unit)),
        (None, Some(high)) => say!("at most {}", show(high, unit)),
        (None, None) => say!("no limits"),
    };
    let at = spec
        .at_c
        .map_or_else(String::new, |c| say!(" at {} °C", show_number(c)));
    let what = match spec.quantity {
        Quantity::Insulation => term!("to ground "),
        _ => "",
    };
    format!("{what}{range}{at}")
}

fn sensor_words(sensor: &SensorData) -> String {
    match sensor {
        SensorData::Table { rows } => match (rows.first(), rows.last()) {
            (Some(first), Some(last)) => say!(
                "by its table of {} rows, {} to {} °C",
                rows.len(),
                show_number(first.celsius),
                show_number(last.celsius)
            ),
            _ => say!("no limits"),
        },
        SensorData::BValue {
            ohms,
            reference_c,
            b_kelvin,
            tolerance_percent,
        } => say!(
            "{} at {} °C, B {} K, ± {} %",
            show(*ohms, Unit::Resistance),
            show_number(*reference_c),
            show_number(*b_kelvin),
            show_number(*tolerance_percent)
        ),
    }
}

/// A temperature sensor's data as the judge takes them.
pub(crate) fn sensor(data: &SensorData) -> NtcData {
    match data {
        SensorData::Table { rows } => NtcData::Table {
            rows: rows
                .iter()
                .map(|row| NtcRow {
                    celsius: row.celsius,
                    low_ohms: row.low_ohms,
                    high_ohms: row.high_ohms,
                })
                .collect(),
        },
        SensorData::BValue {
            ohms,
            reference_c,
            b_kelvin,
            tolerance_percent,
        } => NtcData::BValue {
            ohms: *ohms,
            reference_c: *reference_c,
            b_kelvin: *b_kelvin,
            tolerance_percent: *tolerance_percent,
        },
    }
}

/// The maker's limits as the judge takes them.
pub(crate) fn spec(entered: &SpecEntered) -> Spec {
    Spec {
        quantity: unit(entered.quantity),
        low: entered.low,
        high: entered.high,
        at_temp_c: entered.at_c,
        source: entered.source.clone(),
    }
}

/// A sample as typed, understood.
pub(crate) fn sample(typed: &str, quantity: Quantity) -> Result<Sample, input::InputError> {
    Ok(Sample::from(&input::parse(typed, unit(quantity))?))
}

fn reading(
    state: &JobState,
    kind: ComponentKind,
    taken: &Taken,
) -> Result<Reading, input::InputError> {
    let leads = taken
        .leads
        .as_deref()
        .filter(|typed| !typed.trim().is_empty())
        .map(|typed| input::parse(typed, Unit::Resistance))
        .transpose()?
        .and_then(|entered| Some((entered.number()?, entered.resolution()?)));
    let conductor = match (kind, taken.quantity) {
        (
            ComponentKind::OnOffSolenoid
            | ComponentKind::LinearSolenoid
            | ComponentKind::SpeedSensor,
            Quantity::Resistance,
        ) => Conductor::Copper,
        (ComponentKind::TemperatureSensor, Quantity::Resistance) => Conductor::Thermistor,
        _ => Conductor::Other,
    };
    let sibling = taken.sibling.and_then(|entry| last_ohms(state, entry));
    let contact_shown = match (leads, sibling) {
        (Some((ohms, _)), _) => Some(ContactShown::LeadsShorted { ohms }),
        (None, Some(ohms)) => Some(ContactShown::SiblingRead { ohms }),
        (None, None) => taken.contact_shown.then_some(ContactShown::Ticked),
    };
    Ok(Reading {
        quantity: unit(taken.quantity),
        samples: taken
            .samples
            .iter()
            .map(|typed| sample(typed, taken.quantity))
            .collect::<Result<_, _>>()?,
        leads: leads.map_or(Leads::Unread, |(ohms, resolution)| Leads::Read {
            ohms,
            resolution: Some(resolution),
        }),
        part_temp: taken.part_c.map(|celsius| PartTemp {
            celsius,
            half_width_c: taken.part_within_k.or(taken.part_from.map(within_k)),
        }),
        conductor,
        meter: meter(&taken.meter),
        contact_shown,
    })
}

/// How far off a part's temperature may be, K, by where it was read.
fn within_k(from: TemperatureFrom) -> f64 {
    match from {
        TemperatureFrom::ProbeAtPart => PROBE_HALF_WIDTH_C,
        TemperatureFrom::Infrared | TemperatureFrom::ScanData | TemperatureFrom::Surroundings => {
            ELSEWHERE_HALF_WIDTH_C
        }
    }
}

/// What another part last read, in ohms, when the contact was steady.
fn last_ohms(state: &JobState, entry: EntryId) -> Option<f64> {
    let component = state.component(entry)?;
    let taken = component
        .readings
        .iter()
        .rev()
        .map(|r| &r.reading)
        .find(|r| r.quantity == Quantity::Resistance)?;
    let samples: Vec<Sample> = taken
        .samples
        .iter()
        .filter_map(|typed| sample(typed, Quantity::Resistance).ok())
        .collect();
    match contact::assess(&samples) {
        Contact::Steady { mean, .. } => Some(mean),
        _ => None,
    }
}

/// How sure one must be.
pub(crate) fn guard(taken: &Taken) -> Guard {
    taken
        .guard
        .map_or_else(Guard::default, |level| Guard { level })
}

/// A meter as the judge takes it.
pub(crate) fn meter(used: &MeterUsed) -> Meter {
    Meter {
        accuracy: Accuracy {
            percent: used.percent,
            counts: used.counts,
        },
        resolution: None,
    }
}

/// Judges a reading by what its limits are: a sensor's table, a least
/// insulation, or two limits.
fn judged(
    taken: &Taken,
    reading: &Reading,
    entered: Option<&SpecEntered>,
) -> Result<Judgement, String> {
    let guard = guard(taken);
    let judged = match entered {
        Some(SpecEntered {
            sensor: Some(data),
            source,
            ..
        }) if taken.quantity == Quantity::Resistance => judge_sensor(
            reading,
            &SensorSpec {
                data: sensor(data),
                source: source.clone(),
            },
            guard,
        ),
        entered if taken.quantity == Quantity::Insulation => {
            let range_top_ohms = taken
                .range_top
                .as_deref()
                .map(|typed| input::parse(typed, Unit::Resistance))
                .transpose()
                .map_err(|why| why.to_string())?
                .and_then(|entered| entered.top());
            let insulation = Insulation {
                samples: reading.samples.clone(),
                meter: reading.meter,
                range_top_ohms,
                contact_shown: reading.contact_shown,
            };
            let least = entered.and_then(|spec| Some((spec.low?, spec.source.as_str())));
            judge_insulation(&insulation, least, guard)
        }
        Some(entered) => judge(reading, &spec(entered), guard),
        None => read_without_limits(reading),
    };
    judged.map_err(|why| why.to_string())
}

fn reading_view(job: &JobState, component: &ComponentState, state: &ReadingState) -> ReadingView {
    let taken = &state.reading;
    let part = &component.component;
    let entered = component.specs.get(&taken.quantity);
    let judged = reading(job, part.kind, taken)
        .map_err(|why| why.to_string())
        .and_then(|reading| match says_nothing(part, taken.quantity) {
            Some(_) => read_without_limits(&reading).map_err(|why| why.to_string()),
            None => judged(taken, &reading, entered),
        });
    let mut view = ReadingView {
        entry: state.stamp.entry,
        at: time(&state.stamp.wall),
        low: None,
        high: None,
        quantity: taken.quantity,
        value_words: taken.samples.join(" · "),
        value: None,
        u: None,
        verdict: ReadingVerdict::TakeAgain,
        p_in_spec: None,
        verdict_words: String::new(),
        ask: None,
        steps: Vec::new(),
        of_replaced: false,
    };
    match judged {
        Err(why) => view.ask = Some(why),
        Ok(judged) => fill(&mut view, part, judged, entered.is_some()),
    }
    if part.kind == ComponentKind::TemperatureSensor
        && taken.quantity == Quantity::Resistance
        && taken.part_c.is_some()
        && taken.part_from.is_none()
        && taken.part_within_k.is_none()
    {
        let from = say!(
            "Say where its temperature was read: a probe held to the sensor is within {} K, anything else within {} K.",
            show_number(PROBE_HALF_WIDTH_C),
            show_number(ELSEWHERE_HALF_WIDTH_C)
        );
        view.ask = Some(match view.ask.take() {
            Some(ask) => format!("{from} {ask}"),
            None => from,
        });
    }
    if let (Some(volts), Quantity::Insulation) = (taken.test_volts, taken.quantity) {
        view.value_words = say!("{} at {}", view.value_words, show(volts, Unit::Voltage));
    }
    view
}

fn fill(view: &mut ReadingView, part: &Component, judged: Judgement, has_spec: bool) {
    let unit = unit(view.quantity);
    view.value = judged.compared();
    view.u = judged.u.map(|u| COVERAGE * u);
    if judged.open {
        view.value_words = say!("open");
    } else if let Some(value) = judged.value {
        view.value_words = show(value, unit);
    }
    let read = judged.open || judged.value.is_some();
    let silent = says_nothing(part, view.quantity);
    let position = judged.open && has_contacts(part.kind) && view.quantity == Quantity::Resistance;
    (view.verdict, view.verdict_words) = match judged.verdict {
        _ if !read => (ReadingVerdict::TakeAgain, say!("take it again")),
        _ if position => (
            ReadingVerdict::NoSpec,
            say!("contact open: right or wrong by its position in the maker's table"),
        ),
        None => (
            ReadingVerdict::NoSpec,
            silent.unwrap_or_else(|| say!("no limits entered")),
        ),
        Some(_) if judged.short => (ReadingVerdict::OutOfSpec, say!("SHORT to ground")),
        Some(Verdict::InSpec) if !has_spec => {
            (ReadingVerdict::InSpec, say!("no path to ground: good"))
        }
        Some(verdict) => (
            match verdict {
                Verdict::InSpec => ReadingVerdict::InSpec,
                Verdict::OutOfSpec => ReadingVerdict::OutOfSpec,
                Verdict::TooCloseToCall => ReadingVerdict::TooCloseToCall,
            },
            short(&judged),
        ),
    };
    let is_judged = !matches!(
        view.verdict,
        ReadingVerdict::NoSpec | ReadingVerdict::TakeAgain
    );
    if is_judged || has_spec {
        (view.low, view.high) = (judged.limits.low, judged.limits.high);
        view.p_in_spec = judged.probability.filter(|_| is_judged);
        view.steps = judged.steps;
        // The whole sentence stands last, for the report.
        view.steps.push(judged.words);
    }
    view.ask = judged.ask;
}

/// "out of spec, certain"; "too close to call: 62 % to be in spec"; where no value at
/// all could be called with this meter, the place.
fn short(judged: &Judgement) -> String {
    let (Some(verdict), Some(p)) = (judged.verdict, judged.probability) else {
        return String::new();
    };
    let (words, right) = match verdict {
        Verdict::TooCloseToCall => {
            return judged.place.clone().unwrap_or_else(|| {
                say!("too close to call: {} % to be in spec", fixed(100.0 * p, 0))
            });
        }
        Verdict::InSpec => (verdict.words(), p),
        Verdict::OutOfSpec => (verdict.words(), 1.0 - p),
    };
    if right >= 0.999 {
        say!("{}, certain", words)
    } else {
        say!("{}, {} % sure", words, fixed(100.0 * right, 1))
    }
}

/// A verdict as the bench says it; `None` for what is none.
pub(crate) fn verdict(of: ReadingVerdict) -> Option<Verdict> {
    match of {
        ReadingVerdict::InSpec => Some(Verdict::InSpec),
        ReadingVerdict::OutOfSpec => Some(Verdict::OutOfSpec),
        ReadingVerdict::TooCloseToCall => Some(Verdict::TooCloseToCall),
        ReadingVerdict::TakeAgain | ReadingVerdict::NoSpec => None,
    }
}

/// What the parts of the same number say about this one.
fn sibling_words(state: &JobState, component: &ComponentState) -> Option<String> {
    let part = &component.component;
    let number = part.part_number.trim();
    let by_ohms = says_nothing(part, Quantity::Resistance).is_none() && !has_contacts(part.kind);
    if number.is_empty() || !by_ohms {
        return None;
    }
    let like: Vec<(&ComponentState, ReadingView)> = state
        .components
        .iter()
        .filter(|c| c.component.part_number.trim() == number)
        .filter_map(|c| {
            let last = c
                .readings
                .iter()
                .rev()
                .find(|r| r.reading.quantity == Quantity::Resistance)?;
            Some((c, reading_view(state, c, last)))
        })
        .filter(|(_, view)| view.value.is_some())
        .collect();
    let own = like
        .iter()
        .position(|(c, _)| c.stamp.entry == component.stamp.entry)?;
    if like.len() < 2 {
        return None;
    }
    let values: Vec<f64> = like.iter().filter_map(|(_, v)| v.value).collect();
    let u = like.iter().filter_map(|(_, v)| v.u).fold(0.0, f64::max) / COVERAGE;
    let compared = siblings::compare(&values, u);
    let member = compared.members.get(own)?;
    let median = compared
        .median
        .map_or_else(String::new, |m| show(m, Unit::Resistance));
    let own = if member.stands_out {
        say!(
            "Stands out among {} like parts (middle {}).",
            values.len(),
            median
        )
    } else if values.len() >= siblings::ENOUGH {
        say!(
            "Like the other {} of its kind (middle {}).",
            values.len() - 1,
            median
        )
    } else {
        // Too few to call one of them like or unlike the rest.
        say!("The middle of {} like parts is {}.", values.len(), median)
    };
    Some(format!("{own} {}", compared.words))
}
