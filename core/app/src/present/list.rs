//! A job's line in the list.

use swarfbook_store::Store;
use swarfbook_words::say;

use super::{job, time};
use crate::assess::Assessed;
use crate::problem::Problem;
use crate::serve::Loaded;
use crate::view::{JobLine, Standing};

/// The line, and the words that a search finds it by.
pub(crate) fn job_line(store: &Store, loaded: &Loaded) -> Result<(JobLine, String), Problem> {
    let state = &loaded.state;
    let stages = super::steps::stages(loaded, &Assessed::of(state, &loaded.beside));
    let (title, subtitle) = job::titles(state);
    let past = |s: &Standing| matches!(s, Standing::Done | Standing::Skipped | Standing::Passed);
    let done = stages.iter().filter(|s| past(&s.standing)).count();
    let stage = stages
        .iter()
        .find(|s| s.standing == Standing::InHand)
        .map_or_else(|| say!("Done"), |s| s.title.clone());
    let customer = match state.customer {
        Some(id) => store.customer(id)?.map(|c| c.name).unwrap_or_default(),
        None => String::new(),
    };
    let complaint = state.complaint.as_ref().map_or("", |c| c.words.as_str());
    let vin = state
        .car
        .as_ref()
        .and_then(|c| c.vin.clone())
        .unwrap_or_default();
    let search = format!("{title} {subtitle} {vin} {customer} {complaint}");
    let line = JobLine {
        id: state.id,
        title,
        subtitle: if complaint.is_empty() {
            subtitle
        } else {
            format!("{subtitle}: {}", shorten(complaint, 80))
                .trim_start_matches(": ")
                .to_owned()
        },
        stage,
        stages_done: u32::try_from(done).unwrap_or(0),
        stages: u32::try_from(stages.len()).unwrap_or(0),
        touched: state
            .lines
            .iter()
            .map(|line| &line.stamp.wall)
            .max()
            .map(time)
            .unwrap_or_default(),
        demo: crate::serve::start::is_demo(store)?,
    };
    Ok((line, search))
}

fn shorten(text: &str, max: usize) -> String {
    if text.chars().count() <= max {
        return text.to_owned();
    }
    let mut short: String = text.chars().take(max).collect();
    short.push('…');
    short
}
