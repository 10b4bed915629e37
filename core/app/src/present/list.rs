//! A job's row in the list: kept by facts, put into words when it is shown.

use serde::{Deserialize, Serialize};
use swarfbook_job::fact::Complaint;
use swarfbook_job::fold::JobState;
use swarfbook_job::id::JobId;
use swarfbook_job::procedure::Procedure;
use swarfbook_judge::course;
use swarfbook_judge::record::JobRecord;
use swarfbook_words::say;

use super::{job, time};
use crate::state::Loaded;
use crate::view::{JobLine, Standing};

/// What the list says of a job, in no language.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct JobFacts {
    plate: String,
    vin: Option<String>,
    description: String,
    complaint: String,
    /// The procedure and its version.
    pub procedure: Option<(String, u32)>,
    /// The stage in hand; `None` when all is done.
    stage: Option<String>,
    stages_done: u32,
    stages: u32,
    touched: String,
    /// What the job adds to the record of the counts; none in a row of an earlier version.
    #[serde(default)]
    pub record: Option<JobRecord>,
}

/// The facts of a job's row.
pub(crate) fn job_facts(loaded: &Loaded) -> JobFacts {
    let state = &loaded.state;
    let stages = course::stages(state, &loaded.procedure, loaded.judged().advised());
    let past = |s: &Standing| matches!(s, Standing::Done | Standing::Skipped | Standing::Passed);
    let done = stages.iter().filter(|s| past(&s.standing)).count();
    let in_hand = stages.iter().find(|s| s.standing == Standing::InHand);
    let car = state.car.clone().unwrap_or_default();
    JobFacts {
        plate: car.plate,
        vin: car.vin,
        description: car.description,
        complaint: words_of(state.complaint.as_ref()),
        procedure: state.procedure.clone(),
        stage: in_hand.map(|s| s.stage.id.clone()),
        stages_done: u32::try_from(done).unwrap_or(0),
        stages: u32::try_from(stages.len()).unwrap_or(0),
        touched: state
            .lines
            .iter()
            .map(|line| &line.stamp.wall)
            .max()
            .map(time)
            .unwrap_or_default(),
        record: Some(JobRecord::of(state)),
    }
}

fn words_of(complaint: Option<&Complaint>) -> String {
    complaint.map_or_else(String::new, |c| c.words.clone())
}

/// The words that a search finds a job by, with its customer's name.
pub(crate) fn found_by(state: &JobState, customer: &str) -> String {
    let (title, subtitle) = job::titles(state);
    let car = state.car.as_ref();
    let vin = car.and_then(|c| c.vin.as_deref()).unwrap_or_default();
    let complaint = words_of(state.complaint.as_ref());
    format!("{title} {subtitle} {vin} {customer} {complaint}")
}

/// A row of the list as it is shown.
pub(crate) fn job_line(id: JobId, facts: JobFacts, procedure: &Procedure, demo: bool) -> JobLine {
    let (title, subtitle) = job::titles_of(&facts.plate, facts.vin, &facts.description);
    let title_of = |id: &String| {
        let stage = procedure.stages.iter().find(|stage| stage.id == *id);
        stage.map_or_else(|| id.clone(), |stage| stage.title.clone())
    };
    JobLine {
        id,
        title,
        subtitle: if facts.complaint.is_empty() {
            subtitle
        } else {
            format!("{subtitle}: {}", shorten(&facts.complaint, 80))
                .trim_start_matches(": ")
                .to_owned()
        },
        stage: facts.stage.as_ref().map_or_else(|| say!("done"), title_of),
        stages_done: facts.stages_done,
        stages: facts.stages,
        touched: facts.touched,
        demo,
    }
}

fn shorten(text: &str, max: usize) -> String {
    if text.chars().count() <= max {
        return text.to_owned();
    }
    let mut short: String = text.chars().take(max).collect();
    short.push('…');
    short
}
