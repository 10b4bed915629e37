//! What the customer said, and the links that are open.

use swarfbook_job::fact::{AnswerChoice, CustomerAnswer};
use swarfbook_job::fold::JobState;
use swarfbook_store::Store;
use swarfbook_words::term;

use super::time;
use crate::problem::Problem;
use crate::view::{AnswerView, LinkView};

/// The answers, in the order in which they came.
pub(super) fn answers(store: &Store, state: &JobState) -> Result<Vec<AnswerView>, Problem> {
    let view = |at: &swarfbook_job::fold::AnswerState| {
        Ok(AnswerView {
            item: at.answer.item.clone(),
            choice: at.answer.choice,
            words: words(&at.answer),
            by: store
                .customer(at.answer.by)?
                .map(|customer| customer.name)
                .unwrap_or_default(),
            at: time(&at.stamp.wall),
        })
    };
    state.answers.iter().map(view).collect()
}

/// The links that were not closed; one that has run out is told so by the day.
pub(super) fn links(state: &JobState) -> Vec<LinkView> {
    state
        .shares
        .iter()
        .map(|share| LinkView {
            entry: share.stamp.entry,
            made: time(&share.stamp.wall),
            expires: super::day_words(share.share.expires),
        })
        .collect()
}

/// A choice in words.
pub(crate) fn choice_words(choice: AnswerChoice) -> &'static str {
    match choice {
        AnswerChoice::Agree => term!("agreed"),
        AnswerChoice::Decline => term!("declined"),
        AnswerChoice::Ask => term!("asks-first"),
    }
}

/// One answer in words.
pub(crate) fn words(answer: &CustomerAnswer) -> String {
    let choice = choice_words(answer.choice);
    match answer.text.trim() {
        "" => choice.to_owned(),
        text => format!("{choice}: {text}"),
    }
}
