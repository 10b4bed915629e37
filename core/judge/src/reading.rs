//! A reading of an electrical part, held against the maker's limits.

use swarfbook_job::fact::{
    AmpsBy, ComponentKind, Inside, MeterUsed, Reading as Taken, ReadingKind, SpecEntered,
    TemperatureFrom,
};
use swarfbook_job::fold::{ComponentState, JobState, ReadingState};
use swarfbook_job::id::EntryId;
use swarfbook_measure::conformity::{Guard, ReadingVerdict, Verdict};
use swarfbook_measure::contact::{self, Contact, ContactShown, Sample};
use swarfbook_measure::input;
use swarfbook_measure::judge::{
    Conductor, ELSEWHERE_HALF_WIDTH_C, Insulation, JudgeError, Judgement, Leads,
    PROBE_HALF_WIDTH_C, PartTemp, Reading, SensorSpec, Spec, VoltsApplied, judge, judge_applied,
    judge_insulation, judge_sensor, read_without_limits,
};
use swarfbook_measure::meter::{Accuracy, CLAMP, Meter};
use swarfbook_measure::unit::Quantity;

use crate::part::{Silent, says_nothing};

/// A reading with its verdict.
#[derive(Debug, Clone)]
pub struct JudgedReading {
    /// The one that the reading was written as.
    pub entry: EntryId,
    /// What was read.
    pub quantity: ReadingKind,
    /// The one that is shown; `because` says what it rests on.
    pub verdict: ReadingVerdict,
    /// What the verdict rests on.
    pub because: Because,
    /// What the bench makes of it, or why it can't.
    pub judgement: Result<Judgement, Unjudged>,
    /// Limits of this quantity were entered.
    pub has_spec: bool,
    /// It is of a part that is no longer in the car.
    pub of_replaced: bool,
}

/// What a verdict rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Because {
    /// It can't be judged.
    CannotBe,
    /// No steady contact.
    NoContact,
    /// An open contact of a switch: a position, no fault.
    ContactOpen,
    /// No limits were entered.
    NoLimits,
    /// The quantity says nothing of such a part.
    Silent(Silent),
    /// A short to ground, whatever limits were entered.
    Short,
    /// No path to ground, and no limits were entered.
    NoPath,
    /// The maker's limits, against which it was held.
    Limits(Verdict),
}

/// Why a reading could not be judged at all.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Unjudged {
    /// What was typed is no number.
    #[error(transparent)]
    Typed(#[from] input::InputError),
    /// What was entered can't be right.
    #[error(transparent)]
    Entered(#[from] JudgeError),
}

/// A reading of a part of this job, judged.
pub fn judged(job: &JobState, component: &ComponentState, state: &ReadingState) -> JudgedReading {
    let taken = &state.reading;
    let part = &component.component;
    let entered = component.specs.get(&taken.quantity);
    let silent = says_nothing(part, taken.quantity);
    let judgement = reading(job, part.kind, taken)
        .map_err(Unjudged::from)
        .and_then(|reading| match silent {
            Some(_) => Ok(read_without_limits(&reading)?),
            None => held_against(taken, &reading, entered),
        });
    let has_spec = entered.is_some();
    let because = match &judgement {
        Err(_) => Because::CannotBe,
        Ok(judged) => {
            let position =
                part.kind.inside() == Inside::Contacts && taken.quantity == ReadingKind::Resistance;
            because(judged, silent, position, has_spec)
        }
    };
    JudgedReading {
        entry: state.stamp.entry,
        quantity: taken.quantity,
        verdict: verdict(because),
        because,
        judgement,
        has_spec,
        of_replaced: false,
    }
}

/// `position`: an open contact would be one.
fn because(judged: &Judgement, silent: Option<Silent>, position: bool, has_spec: bool) -> Because {
    let read = judged.open || judged.value.is_some();
    match judged.verdict {
        _ if !read => Because::NoContact,
        _ if position && judged.open => Because::ContactOpen,
        None => silent.map_or(Because::NoLimits, Because::Silent),
        Some(_) if judged.short => Because::Short,
        Some(Verdict::InSpec) if !has_spec => Because::NoPath,
        Some(verdict) => Because::Limits(verdict),
    }
}

fn verdict(because: Because) -> ReadingVerdict {
    match because {
        Because::CannotBe | Because::NoContact => ReadingVerdict::TakeAgain,
        Because::ContactOpen | Because::NoLimits | Because::Silent(_) => ReadingVerdict::NoSpec,
        Because::Short => ReadingVerdict::OutOfSpec,
        Because::NoPath => ReadingVerdict::InSpec,
        Because::Limits(verdict) => verdict.into(),
    }
}

/// The maker's limits as the judge takes them.
pub fn spec(entered: &SpecEntered) -> Spec {
    Spec {
        quantity: entered.quantity.quantity(),
        low: entered.low,
        high: entered.high,
        at_temp_c: entered.at_c,
        source: entered.source.clone(),
    }
}

/// A sample as typed, understood; in what the meter shows, amperes where voltage is applied.
pub fn sample(typed: &str, quantity: ReadingKind) -> Result<Sample, input::InputError> {
    Ok(Sample::from(&input::parse(typed, quantity.shows())?))
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
        .map(|typed| input::parse(typed, Quantity::Resistance))
        .transpose()?
        .and_then(|entered| Some((entered.number()?, entered.resolution()?)));
    let conductor = match (kind.inside(), taken.quantity) {
        (Inside::Winding, ReadingKind::Resistance) => Conductor::Copper,
        (Inside::Thermistor, ReadingKind::Resistance) => Conductor::Thermistor,
        _ => Conductor::Other,
    };
    let sibling = taken.sibling.and_then(|entry| last_ohms(state, entry));
    let contact_shown = match (leads, sibling) {
        (Some((ohms, _)), _) => Some(ContactShown::LeadsShorted { ohms }),
        (None, Some(ohms)) => Some(ContactShown::SiblingRead { ohms }),
        (None, None) => taken.contact_shown.then_some(ContactShown::Ticked),
    };
    Ok(Reading {
        quantity: taken.quantity.shows(),
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
        meter: meter_of(taken),
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
        .find(|r| r.quantity == ReadingKind::Resistance)?;
    let samples: Vec<Sample> = taken
        .samples
        .iter()
        .filter_map(|typed| sample(typed, ReadingKind::Resistance).ok())
        .collect();
    match contact::assess(&samples) {
        Contact::Steady { mean, .. } => Some(mean),
        _ => None,
    }
}

/// How sure one must be.
pub fn guard(taken: &Taken) -> Guard {
    taken
        .guard
        .map_or_else(Guard::default, |level| Guard { level })
}

/// Volt as typed, with the worth of its last digit; `None` for what is no number.
pub fn volts(typed: &str) -> Result<Option<(f64, f64)>, input::InputError> {
    let entered = input::parse(typed, Quantity::Voltage)?;
    Ok(entered.number().zip(entered.resolution()))
}

/// What the samples were read by: a clamp is what it is, whatever the meter.
fn meter_of(taken: &Taken) -> Meter {
    match taken.applied.as_ref().map(|applied| applied.by) {
        Some(AmpsBy::Clamp) => Meter {
            accuracy: CLAMP,
            resolution: None,
        },
        Some(AmpsBy::Meter) | None => meter(&taken.meter),
    }
}

/// A meter as the judge takes it.
pub fn meter(used: &MeterUsed) -> Meter {
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
fn held_against(
    taken: &Taken,
    reading: &Reading,
    entered: Option<&SpecEntered>,
) -> Result<Judgement, Unjudged> {
    let guard = guard(taken);
    Ok(match entered {
        Some(SpecEntered {
            sensor: Some(data),
            source,
            ..
        }) if taken.quantity == ReadingKind::Resistance => judge_sensor(
            reading,
            &SensorSpec {
                data: data.clone(),
                source: source.clone(),
            },
            guard,
        )?,
        entered if taken.quantity == ReadingKind::Insulation => {
            let range_top_ohms = taken
                .range_top
                .as_deref()
                .map(|typed| input::parse(typed, Quantity::Resistance))
                .transpose()?
                .and_then(|entered| entered.top());
            let insulation = Insulation {
                samples: reading.samples.clone(),
                meter: reading.meter,
                range_top_ohms,
                contact_shown: reading.contact_shown,
            };
            let least = entered.and_then(|spec| Some((spec.low?, spec.source.as_str())));
            judge_insulation(&insulation, least, guard)?
        }
        entered if taken.quantity == ReadingKind::Applied => {
            let put_on = taken.applied.as_ref();
            let volts = put_on
                .map(|put_on| volts(&put_on.volts))
                .transpose()?
                .flatten();
            let applied = VoltsApplied {
                amperes: reading.clone(),
                volts,
                voltmeter: meter(&taken.meter),
            };
            judge_applied(&applied, entered.map(spec).as_ref(), guard)?
        }
        Some(entered) => judge(reading, &spec(entered), guard)?,
        None => read_without_limits(reading)?,
    })
}
