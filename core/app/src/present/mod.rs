//! From the state of a job to what the screens show.

pub(crate) mod advice;
mod answers;
pub(crate) mod codes;
pub(crate) mod costs;
pub(crate) mod fluid;
mod harness;
mod job;
mod line;
mod list;
mod near;
mod offers;
mod parts;
pub(crate) mod patch;
pub(crate) mod photo;
pub(crate) mod reading;
mod record;
mod report;
mod steps;
pub(crate) mod tighten;
pub(crate) mod tools;
mod trend;
mod units;
mod wants;
mod wear;

pub(crate) use crate::wording::{capital, clock_words, day_words, moment_words, time};
pub(crate) use answers::{choice_words, words as answer_words};
pub(crate) use job::job;
pub(crate) use line::{by as line_by, lines, step_of, words as line_words};
pub(crate) use list::{JobFacts, found_by, job_facts, job_line};
pub(crate) use parts::{part_words, tightened_words};
pub(crate) use photo::{
    below_seen, counts, fluid_words, histogram, length_mm, photo_census, subject_words, summary,
    unseen_words,
};
pub(crate) use record::{calibrated_words, calibration, cited, record, repeat_offer};
pub(crate) use report::standing;
pub(crate) use steps::in_the_way;
pub(crate) use trend::{down, round, up};
pub(crate) use units::{
    asked as asked_in, distance_words, measured_words, quantity_of, round_distance_words,
};
pub(crate) use wants::go_ahead_words;
pub(crate) use wear::trend_view;
