//! The customer's answer: checked, written, thanked for.

use swarfbook_job::fact::{CustomerAnswer, Fact};
use swarfbook_job::id::CustomerId;
use swarfbook_report::reply::Given;
use swarfbook_report::words::Words;
use swarfbook_store::Store;
use swarfbook_words::{id, say, term};
use uuid::Uuid;

use super::open::{LinkUsed, Opened, open, show, withdrawn};
use crate::check::{LONG, SHORT, text};
use crate::command::ItemAnswer;
use crate::problem::Problem;
use crate::reply::Reply;
use crate::serve::append;
use crate::state::App;

/// The most lines of answers to one link: a customer changes their mind some times.
const MAX_ANSWERS: usize = 200;

pub(in crate::serve) fn answer(
    app: &App,
    used: &LinkUsed<'_>,
    name: &str,
    answers: &[ItemAnswer],
) -> Result<Reply, Problem> {
    let opened = open(app, used)?;
    if let Some(page) = withdrawn(&opened, used)? {
        return Ok(page);
    }
    let asked = &opened.share.share.asked;
    let words = Words::of(&asked.lang);
    let mut given = vec![None; asked.items.len()];
    let mut said = Vec::new();
    for answer in answers {
        let at = usize::try_from(answer.item).unwrap_or(usize::MAX);
        let (Some(item), Some(place)) = (asked.items.get(at), given.get_mut(at)) else {
            return Err(Problem::bad_input(
                say!("an-answer-was-given-to-something-that-was"),
                say!("open-the-link-again"),
            ));
        };
        if place.is_some() {
            return Err(Problem::bad_input(
                say!("two-answers-were-given-to-one-thing"),
                say!("open-the-link-again"),
            ));
        }
        text(term!("what-you-added"), &answer.text, LONG)?;
        *place = Some(Given {
            choice: answer.choice,
            text: answer.text.clone(),
        });
        if let Some(choice) = answer.choice {
            said.push((item.clone(), choice, answer.text.trim().to_owned()));
        }
    }
    text(term!("the-name"), name, SHORT)?;
    let name = name.trim();
    let problem = if name.is_empty() {
        Some(id!("report-reply-name-missing"))
    } else if said.is_empty() {
        Some(id!("report-reply-none-chosen"))
    } else {
        None
    };
    if let Some(problem) = problem {
        // What they chose stands on the page again.
        let problem = Some(words.get(problem).to_owned());
        return show(app, &opened, used, given, name, problem, false);
    }
    app.store().together(|store| {
        if said.len() + so_far(store, &opened)? > MAX_ANSWERS {
            return Err(Problem::bad_input(
                say!("this-link-has-taken-as-many-answers-as"),
                say!("call-the-shop"),
            ));
        }
        let by = who(app, store, &opened, name)?;
        let facts = said
            .into_iter()
            .map(|(item, choice, text)| Fact::CustomerAnswered {
                answer: CustomerAnswer {
                    share: opened.share.stamp.entry,
                    item,
                    choice,
                    text,
                    by,
                },
            })
            .collect();
        append(app, store, opened.job, facts)
    })?;
    show(app, &opened, used, given, name, None, true)
}

/// Lines of answers to this link, those that a later one replaces too.
fn so_far(store: &Store, opened: &Opened) -> Result<usize, Problem> {
    let share = opened.share.stamp.entry;
    let lines = store.entries(opened.job)?;
    let to_it = lines.iter().filter(|line| {
        matches!(line.body.known(), Some(Fact::CustomerAnswered { answer }) if answer.share == share)
    });
    Ok(to_it.count())
}

/// The customer of that name whom this job knows already; else a new one.
fn who(app: &App, store: &Store, opened: &Opened, name: &str) -> Result<CustomerId, Problem> {
    let known = opened
        .state
        .customer
        .into_iter()
        .chain(opened.state.answers.iter().map(|at| at.answer.by));
    for id in known {
        if store.customer(id)?.is_some_and(|c| c.name == name) {
            return Ok(id);
        }
    }
    let id = CustomerId(Uuid::new_v4());
    store.save_customer(id, name, "", app.clock().now())?;
    Ok(id)
}
