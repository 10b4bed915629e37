//! One job whole.

use chrono::Datelike;
use swarfbook_job::fold::JobState;
use swarfbook_store::Store;
use swarfbook_words::say;

use super::{
    advice, answers, codes, fluid, line, parts, photo, reading, report, steps, time, wear,
};
use crate::problem::Problem;
use crate::state::Loaded;
use crate::view::{
    CodeView, ComponentView, CustomerView, DecisionView, JobView, LineView, Standing,
};

/// How many lines of the log a job's view carries; the rest is in the log itself.
const RECENT: usize = 40;

pub(crate) fn job(store: &Store, loaded: &Loaded) -> Result<JobView, Problem> {
    let state = &loaded.state;
    let (title, subtitle) = titles(state);
    let judged = loaded.judged();
    let stages = steps::stages(loaded);
    // A job must open even when its score can't be worked out.
    let (wear, wear_problem) = match &judged.wear {
        Ok(assessment) => (
            assessment
                .as_ref()
                .map(|a| wear::view(loaded, a, &judged.grave)),
            None,
        ),
        Err(why) => (None, Some(Problem::from(why.clone()).to_string())),
    };
    let components = reading::components(state, &judged.parts);
    let outdated = advice::outdated(state, judged.advised());
    let in_hand = stages
        .iter()
        .flat_map(|stage| &stage.steps)
        .find(|step| step.standing == Standing::InHand);
    let last = stages.iter().flat_map(|stage| &stage.steps).next_back();
    let lines = line::lines(loaded);
    let recent = lines
        .iter()
        .skip(lines.len().saturating_sub(RECENT))
        .cloned()
        .map(|line| with_verdict(line, &components))
        .collect();
    Ok(JobView {
        id: state.id,
        title,
        subtitle,
        demo: crate::state::settings::is_demo(store)?,
        opened: state
            .opened
            .as_ref()
            .map(|s| time(&s.wall))
            .unwrap_or_default(),
        procedure: loaded.procedure.title.clone(),
        car: state.car.clone(),
        car_words: car_words(store, loaded)?,
        customer: customer(store, state)?,
        complaint: state.complaint.clone(),
        codes_before: codes_read(state, swarfbook_job::fact::Moment::Before),
        codes_after: codes_read(state, swarfbook_job::fact::Moment::After),
        codes_changed: codes::changes(state),
        go_ahead: state.go_ahead.clone(),
        step_in_hand: in_hand.or(last).map(|s| s.id.clone()).unwrap_or_default(),
        finished: in_hand.is_none(),
        stages,
        photos: state
            .photos
            .iter()
            .map(|p| photo::photo(state, p))
            .collect(),
        parts: state.parts.iter().map(parts::part).collect(),
        still_off: state.still_off(),
        components,
        explains: codes::explains(&judged.explanations),
        wear,
        wear_problem,
        decision: decision(state, outdated),
        fluid_words: fluid::words(state, loaded.units),
        lines: u32::try_from(lines.len()).unwrap_or(u32::MAX),
        recent,
        undo_words: crate::state::undoable(store, loaded)?.map(|l| line::words(loaded, l)),
        drafts: crate::state::settings::drafts(store, state.id)?,
        answers: answers::answers(store, state)?,
        links: answers::links(state),
        reports: report::reports(state),
        to_give: steps::to_give(loaded),
        last: crate::state::last::last_choices(store)?,
    })
}

/// A reading's line with what it says: the screen may have gone on to the next part.
fn with_verdict(mut line: LineView, components: &[ComponentView]) -> LineView {
    let mut readings = components.iter().flat_map(|part| &part.readings);
    if let Some(reading) = readings.find(|reading| reading.entry == line.entry) {
        line.words = format!("{}: {}", line.words, reading.verdict_words);
    }
    line
}

/// Plate and description, or what there is instead.
pub(super) fn titles(state: &JobState) -> (String, String) {
    let car = state.car.clone().unwrap_or_default();
    titles_of(&car.plate, car.vin, &car.description)
}

pub(super) fn titles_of(plate: &str, vin: Option<String>, description: &str) -> (String, String) {
    let title = match (plate.trim(), vin) {
        ("", Some(vin)) => vin,
        ("", None) => say!("new-job"),
        (plate, _) => plate.to_owned(),
    };
    (title, description.trim().to_owned())
}

fn customer(store: &Store, state: &JobState) -> Result<Option<CustomerView>, Problem> {
    let Some(id) = state.customer else {
        return Ok(None);
    };
    // The record may come with a later sync than the line that links it.
    let record = store.customer(id)?;
    Ok(record.map(|c| CustomerView {
        id,
        name: c.name,
        contact: c.contact,
        erased: c.erased,
    }))
}

fn codes_read(state: &JobState, moment: swarfbook_job::fact::Moment) -> Option<Vec<CodeView>> {
    state.codes.get(&moment).map(|read| {
        read.codes
            .iter()
            .filter_map(|seen| {
                let code = seen.code.parse().ok()?;
                Some(codes::code_view(code, seen.state, seen.status))
            })
            .collect()
    })
}

fn car_words(store: &Store, loaded: &Loaded) -> Result<Vec<String>, Problem> {
    let state = &loaded.state;
    let Some(car) = &state.car else {
        return Ok(Vec::new());
    };
    let mut words = Vec::new();
    if let (Some(now), Some(changed)) = (car.odometer_km, car.fluid_changed_at_km) {
        words.push(say!(
            "distance-since-the-fluid-was-changed",
            distance = super::distance_words(now - changed, loaded.units)
        ));
    }
    let year = state.opened.as_ref().map_or(0, |s| s.wall.year());
    if let (Some(vin), Ok(year)) = (&car.vin, u32::try_from(year)) {
        let market = crate::state::settings::market(store)?;
        words.extend(codes::vin_words(vin, year, market));
    }
    Ok(words)
}

fn decision(state: &JobState, outdated: Option<String>) -> Option<DecisionView> {
    state.decision.as_ref().map(|d| DecisionView {
        outdated,
        advised: d.advised,
        chosen: d.chosen,
        words: advice::decision_words(d),
        reason: d.reason.clone(),
    })
}
