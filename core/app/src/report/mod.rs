//! From the state of a job to what its report says.

mod answer;
mod bench;
mod close_ups;
mod costs;
mod evidence;
mod figures;
mod findings;
mod instruments;
mod leave_out;
mod letter;
mod noted;
mod photos;
mod pieces;
mod plain;
mod rule;
mod sources;
mod work;

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

use chrono::{DateTime, FixedOffset};
use swarfbook_job::fact::LeaveOut;
use swarfbook_job::fold::JobState;
use swarfbook_job::id::CustomerId;
use swarfbook_job::procedure::Evidence;
use swarfbook_report::Content;
use swarfbook_report::content::{
    CarSaid, ComplaintSaid, Fact, LogCount, LogHead, Made, Method, Photos, Shop,
};
use swarfbook_report::words::Words;
use swarfbook_store::Store;
use swarfbook_words::{Language, say, term};

use crate::present::{self, distance_words};
use crate::problem::{Problem, ProblemKind};
use crate::state::Loaded;
use figures::Figures;
use swarfbook_judge::record::ShopRecord;

pub(crate) use costs::asks;
pub(crate) use instruments::ToolsNow;
pub(crate) use leave_out::Hidden;

/// What a report is made from, beside the job.
pub(crate) struct Making<'a> {
    pub store: &'a Store,
    pub loaded: &'a Loaded,
    pub shop: String,
    /// Its address and how to reach it, a line each.
    pub shop_lines: Vec<String>,
    /// How sure a verdict must be, where the shop chose; each reading has its own.
    pub guard: Option<f64>,
    /// What the device's tools are known by.
    pub tools: ToolsNow,
    pub now: DateTime<FixedOffset>,
    pub language: Language,
    /// What the copy does without.
    pub leave_out: LeaveOut,
    /// The same in sentences.
    pub left_out: Vec<String>,
    /// How often the machine was right in the shop's own photos.
    pub record: &'a ShopRecord,
}

/// All that the report says, and the copies of the photos that it shows.
///
/// # Errors
/// As the store's; a number that can't be written; words that are not whole.
pub(crate) fn content(making: &Making<'_>) -> Result<(Content, Photos), Problem> {
    let state = &making.loaded.state;
    let words = Words::of(making.language.tag());
    let demo = crate::state::settings::is_demo(making.store)?;
    let figures = Figures::new(making.loaded);
    let mut verdict = answer::verdict(&figures, &words)?;
    let costs = costs::costs(&figures, &words, &mut verdict.advice);
    let mut shown = photos::photos(&figures, making.store, &words, demo, verdict.heaviest_photo)?;
    let close_ups = close_ups::close_ups(&figures, making.store, &shown.photos, &mut shown.copies)?;
    let mut photo_limits = words.photo_limits();
    photo_limits.extend(shown.missing);
    let pieces = pieces::pieces(&figures)?;
    let made = made(making)?;
    let mut letter = letter::letter(
        &figures,
        &words,
        letter::Parts {
            made: &made,
            findings: &verdict.findings,
            wear: verdict.wear.as_ref(),
            pieces: &pieces,
            beside: verdict.beside,
            overruled: verdict.overruled,
        },
    );
    letter.close_ups = close_ups;
    letter.costs = costs;
    let evidence = evidence::evidence(
        &figures,
        &words,
        making.guard,
        &making.tools,
        verdict.wear.as_ref(),
    );
    let mut content = Content {
        form: swarfbook_report::content::FORM,
        lang: making.language.tag().to_owned(),
        invented: demo,
        made,
        shop: Shop {
            name: making.shop.clone(),
            lines: making.shop_lines.clone(),
        },
        technicians: people(state),
        customer: customer(making)?,
        car: car(&figures),
        complaint: state.complaint.as_ref().map(|complaint| ComplaintSaid {
            said: figures.said(complaint.words.clone(), figures.lines_of("complaint_noted")),
            when: offered(&figures, &complaint.when, Shows::When),
            symptoms: offered(&figures, &complaint.symptoms, Shows::Symptoms),
        }),
        go_ahead: figures.go_ahead(),
        letter,
        answer: verdict.answer,
        deciding: photos::deciding(state, verdict.heaviest_photo, &shown.photos),
        pairs: photos::pairs(&figures, &shown.photos),
        photos: shown.photos,
        sizes: pieces.sizes,
        kinds: pieces.kinds,
        unsized_pieces: pieces.unsized_pieces,
        wear: verdict.wear,
        findings: verdict.findings,
        components: bench::components(&figures, &words)?,
        codes: findings::codes(&figures),
        fluid: findings::fluid(&figures),
        done: work::done(&figures),
        replaced: work::parts_replaced(&figures),
        tightened: work::tightened(&figures),
        proof: findings::proof(&figures),
        parts_off: work::parts_off(&figures),
        decision: verdict.decision,
        advice: verdict.advice,
        customer_answers: customer_answers(making, &figures)?,
        noted: Vec::new(),
        begun: Vec::new(),
        not_done: Vec::new(),
        log: LogCount::default(),
        photo_limits,
        cautions: words.cautions(),
        evidence,
        method: method(making, &words),
        sources: BTreeMap::new(),
        left_out: making.left_out.clone(),
    };
    // Last, since each tells what the others did not.
    content.noted = noted::noted(&figures);
    // Behind that: a step that was begun names all its lines, and they are to be told in words.
    let open = work::open(&figures);
    content.begun = open.begun;
    content.not_done = open.not_done;
    content.log = sources::log_count(&figures);
    content.sources = sources::sources(&figures);
    Ok((content, shown.copies))
}

/// How the figures are made; with how often the machine was right, once there are enough pieces to say so.
fn method(making: &Making<'_>, words: &Words) -> Vec<Method> {
    let mut method = words.method();
    // Behind the counting, which stands first.
    let at = method.len().min(1);
    let cited = present::cited(making.record).map(|text| Method {
        title: say!("how-often-the-machine-was-right"),
        text,
    });
    let calibrated = present::calibrated_words(&making.loaded.state).map(|text| Method {
        title: say!("calibrated-classes"),
        text,
    });
    method.splice(at..at, cited.into_iter().chain(calibrated));
    method
}

/// What the customer answered to each thing that was advised, at this visit and at those before.
fn customer_answers(making: &Making<'_>, figures: &Figures<'_>) -> Result<Vec<Fact>, Problem> {
    let before = figures.loaded.beside().chosen.iter().map(|chosen| {
        let day = present::day_words(chosen.at);
        let choice = present::choice_words(chosen.choice);
        let said = say!("at-the-visit-of-day-choice", day = day, choice = choice);
        Ok(Fact {
            label: chosen.item.clone(),
            said: figures.said(said, figures.lines_of("car_noted")),
        })
    });
    let answers = figures.state.answers.iter();
    answers
        .map(|at| {
            let by = name_of(making, at.answer.by)?.unwrap_or_else(|| say!("the-customer"));
            let words = present::answer_words(&at.answer);
            Ok(Fact {
                label: at.answer.item.clone(),
                said: figures.said(format!("{by}: {words}"), [at.stamp.entry]),
            })
        })
        .chain(before)
        .collect()
}

/// Which of the complaint's answers.
enum Shows {
    When,
    Symptoms,
}

/// Answers to the complaint's questions, as the procedure says them.
fn offered(figures: &Figures<'_>, chosen: &[String], of: Shows) -> Vec<String> {
    let offered = figures
        .procedure
        .steps()
        .flat_map(|(_, step)| &step.evidence)
        .find_map(|want| match &want.evidence {
            Evidence::Complaint { when, symptoms } => Some(match of {
                Shows::When => when.as_slice(),
                Shows::Symptoms => symptoms.as_slice(),
            }),
            _ => None,
        })
        .unwrap_or_default();
    chosen
        .iter()
        .map(|id| {
            let label = offered.iter().find(|choice| choice.id == *id);
            label.map_or_else(|| id.clone(), |choice| choice.label.clone())
        })
        .collect()
}

fn made(making: &Making<'_>) -> Result<Made, Problem> {
    let Loaded {
        state, procedure, ..
    } = making.loaded;
    let mut heads = BTreeMap::new();
    for line in &state.lines {
        if let Entry::Vacant(vacant) = heads.entry(line.stamp.device) {
            let (seq, hash) = making.store.head(line.stamp.device)?;
            vacant.insert(LogHead { seq, hash });
        }
    }
    Ok(Made {
        at: making.now,
        job: state.id,
        heads,
        procedure: say!(
            "title-version-version",
            title = procedure.title,
            version = procedure.version
        ),
        tool: concat!("Swarfbook ", env!("CARGO_PKG_VERSION")).to_owned(),
    })
}

fn people(state: &JobState) -> Vec<String> {
    // Whoever wrote a line that counts, also where another took the device in hand since.
    let lines = state.lines.iter().filter(|l| l.retracted_by.is_none());
    let mut names: Vec<String> = lines.map(|line| line.stamp.hand.name.clone()).collect();
    names.retain(|name| !name.is_empty());
    names.sort();
    names.dedup();
    names
}

/// Whose car it is; a name that is left out is said to be.
fn customer(making: &Making<'_>) -> Result<Option<String>, Problem> {
    let Some(id) = making.loaded.state.customer else {
        return Ok(None);
    };
    name_of(making, id)
}

/// The name of a customer as this copy gives it; `None` when there is none or it was erased.
fn name_of(making: &Making<'_>, id: CustomerId) -> Result<Option<String>, Problem> {
    let known = making.store.customer(id)?;
    let name = known.filter(|c| !c.erased && !c.name.is_empty());
    Ok(name.map(|customer| {
        if making.leave_out.customer {
            leave_out::no_name().to_owned()
        } else {
            customer.name
        }
    }))
}

fn car(figures: &Figures<'_>) -> CarSaid {
    let car = figures.state.car.clone().unwrap_or_default();
    let units = figures.loaded.units;
    let from = figures.lines_of("car_noted");
    let mut facts = Vec::new();
    let mut fact = |label: &str, words: String| {
        facts.push(Fact {
            label: label.to_owned(),
            said: figures.said(words, from.clone()),
        });
    };
    if let Some(km) = car.odometer_km {
        fact(term!("odometer"), distance_words(km, units));
    }
    match (car.odometer_km, car.fluid_changed_at_km) {
        (Some(now), Some(changed)) => fact(
            term!("since-the-last-fluid-change"),
            distance_words(now - changed, units),
        ),
        _ => fact(term!("since-the-last-fluid-change"), say!("not-known")),
    }
    CarSaid {
        description: car.description,
        plate: car.plate,
        vin: car.vin,
        facts,
    }
}

pub(crate) fn unmade(why: impl std::fmt::Display) -> Problem {
    Problem::new(
        ProblemKind::NotYet,
        say!("the-report-cant-be-made-why", why = why),
        say!("nothing-of-the-job-is-lost-correct-what"),
    )
}

/// The gauge card's sheet as a PDF, in the words of a language.
///
/// # Errors
/// A [`Problem`] when it can't be made.
pub fn card(language: Language) -> Result<Vec<u8>, Problem> {
    swarfbook_report::card::sheet(language.tag()).map_err(unmade)
}
