//! The page on which the customer answers: what is advised, and per item
//! agree, decline or ask. Plain HTML with one form; no scripts.

use chrono::{DateTime, FixedOffset};
use minijinja::value::{Kwargs, Serde};
use minijinja::{AutoEscape, Environment, UndefinedBehavior};
use serde::Serialize;
use swarfbook_job::fact::{AnswerChoice, Asked};
use swarfbook_words::id;

use crate::ReportError;
use crate::html::{say, show_when, style};
use crate::words::Words;

const SHARED: &str = include_str!("../templates/customer.html");
const REPLY: &str = include_str!("../templates/reply.html");
const WITHDRAWN: &str = include_str!("../templates/withdrawn.html");
const STYLE_OF_FORM: &str = include_str!("../templates/reply.css");

/// What the page shows.
#[derive(Debug, Clone)]
pub struct ReplyPage<'a> {
    /// What is asked.
    pub asked: &'a Asked,
    /// What was answered so far, in the order of the items.
    pub given: Vec<Option<Given>>,
    /// Who answered last.
    pub name: &'a str,
    /// The code that opened the page, handed on with the answer.
    pub code: &'a str,
    /// What is wrong with the answer that was just sent, in words; what was chosen is in `given`.
    pub problem: Option<String>,
    /// An answer was just written.
    pub thanks: bool,
    /// The shop has made a newer report since.
    pub superseded: bool,
    /// The link leads on to it.
    pub way_on: bool,
    /// This is it, reached by an older report's link.
    pub newest: bool,
    /// The signed report; its first page stands on this one.
    pub report: &'a str,
    /// How to reach the shop; empty where it was not entered.
    pub telephone: &'a str,
}

/// What the link of a report shows that was withdrawn.
#[derive(Debug, Clone)]
pub struct WithdrawnPage<'a> {
    /// What was asked: of it only the shop and the car are shown.
    pub asked: &'a Asked,
    /// When it was withdrawn, where that is known.
    pub at: Option<DateTime<FixedOffset>>,
    /// The shop's reason; may be empty.
    pub reason: &'a str,
    /// The code that opened the page, handed on.
    pub code: &'a str,
    /// The link leads on to a newer report.
    pub way_on: bool,
}

/// Sets out the page that says so.
///
/// # Errors
/// As [`reply_page`].
pub fn withdrawn_page(page: &WithdrawnPage<'_>) -> Result<String, ReportError> {
    let words = Words::of(&page.asked.lang);
    let env = environment(words)?;
    let view = WithdrawnView {
        style: format!("{}{STYLE_OF_FORM}", style()),
        asked: page.asked,
        said: match page.at {
            Some(at) => words.fill(
                id!("report-withdrawn-when"),
                &[("when", &show_when(at, &words))],
            ),
            None => words.get(id!("report-withdrawn-said")).to_owned(),
        },
        reason: page.reason.trim(),
        code: page.code,
        way_on: page.way_on,
    };
    Ok(env.get_template("withdrawn.html")?.render(Serde(view))?)
}

#[derive(Serialize)]
struct WithdrawnView<'a> {
    style: String,
    asked: &'a Asked,
    said: String,
    reason: &'a str,
    code: &'a str,
    way_on: bool,
}

fn environment(words: Words) -> Result<Environment<'static>, ReportError> {
    let mut env = Environment::new();
    env.set_undefined_behavior(UndefinedBehavior::Strict);
    env.set_auto_escape_callback(|_| AutoEscape::Html);
    env.add_function("say", move |id: &str, values: Kwargs| {
        say(words, id, &values)
    });
    env.add_template("customer.html", SHARED)?;
    env.add_template("reply.html", REPLY)?;
    env.add_template("withdrawn.html", WITHDRAWN)?;
    Ok(env)
}

/// One answer that was given.
#[derive(Debug, Clone, Serialize)]
pub struct Given {
    /// What was chosen.
    pub choice: Option<AnswerChoice>,
    /// What was asked or added.
    pub text: String,
}

/// Where the first page of a report begins and where its second does, in our own words only:
/// those of others are escaped.
const FIRST: &str = "<section class=\"row\" aria-labelledby=\"mended\">";
const SECOND: &str = "<section class=\"row page\"";

/// The sections of a report's first page; empty for a report of before it was a letter.
fn first_page(report: &str) -> &str {
    let begin = report.find(FIRST);
    let end = report.find(SECOND);
    begin
        .zip(end)
        .and_then(|(begin, end)| report.get(begin..end))
        .unwrap_or_default()
}

const ITEM: &str = "<div class=\"together item\">";

/// What the report says of each thing advised, behind its heading: how soon, why, and what if
/// it is left.
fn details(report: &str) -> Vec<&str> {
    let items = report.split(ITEM).skip(1);
    items
        .map(|item| {
            let end = item.find("</div>").unwrap_or(0);
            let inside = item.get(..end).unwrap_or_default();
            inside.split_once("</h3>").map_or("", |(_, rest)| rest)
        })
        .collect()
}

/// Each answer that was just sent, in words.
fn sent(page: &ReplyPage<'_>, words: &Words) -> Vec<String> {
    let items = page.asked.items.iter().zip(&page.given);
    items
        .filter_map(|(what, given)| {
            let given = given.as_ref()?;
            let choice = words.get(match given.choice? {
                AnswerChoice::Agree => id!("report-reply-agree"),
                AnswerChoice::Decline => id!("report-reply-decline"),
                AnswerChoice::Ask => id!("report-reply-ask"),
            });
            let text = given.text.trim();
            let said = if text.is_empty() {
                choice.to_owned()
            } else {
                format!("{choice}: {text}")
            };
            Some(words.fill(
                id!("report-reply-sent-row"),
                &[("what", what), ("said", &said)],
            ))
        })
        .collect()
}

/// The shop's name, and a word for it where it gave none.
fn shop<'a>(page: &'a ReplyPage<'_>, words: &Words) -> &'a str {
    match page.asked.shop.trim() {
        "" => words.get(id!("report-reply-our-shop")),
        name => name,
    }
}

fn reach(page: &ReplyPage<'_>, words: &Words) -> String {
    let shop = shop(page, words);
    match page.telephone.trim() {
        "" => words.fill(id!("report-reply-reach-unknown"), &[("shop", shop)]),
        number => words.fill(
            id!("report-reply-reach"),
            &[("shop", shop), ("number", number)],
        ),
    }
}

/// Sets the page out.
///
/// # Errors
/// [`ReportError`] when a template or the words are not whole; the tests read each.
pub fn reply_page(page: &ReplyPage<'_>) -> Result<String, ReportError> {
    let words = Words::of(&page.asked.lang);
    let env = environment(words)?;
    let details = details(page.report);
    let items: Vec<Item<'_>> = page
        .asked
        .items
        .iter()
        .zip(&page.given)
        .enumerate()
        .map(|(at, (what, given))| Item {
            what,
            detail: details.get(at).copied().unwrap_or_default(),
            choice: given.as_ref().and_then(|given| given.choice),
            text: given.as_ref().map_or("", |given| given.text.as_str()),
        })
        .collect();
    let view = View {
        style: format!("{}{STYLE_OF_FORM}", style()),
        asked: page.asked,
        items,
        name: page.name,
        code: page.code,
        problem: page.problem.as_deref(),
        thanks: page.thanks,
        superseded: page.superseded,
        way_on: page.way_on,
        newest: page.newest,
        first_page: first_page(page.report),
        sent: if page.thanks {
            sent(page, &words)
        } else {
            Vec::new()
        },
        sent_to: words.fill(id!("report-reply-sent-to"), &[("shop", shop(page, &words))]),
        reach: reach(page, &words),
    };
    Ok(env.get_template("reply.html")?.render(Serde(view))?)
}

#[derive(Serialize)]
struct View<'a> {
    style: String,
    asked: &'a Asked,
    items: Vec<Item<'a>>,
    name: &'a str,
    code: &'a str,
    problem: Option<&'a str>,
    thanks: bool,
    superseded: bool,
    way_on: bool,
    newest: bool,
    first_page: &'a str,
    sent: Vec<String>,
    sent_to: String,
    reach: String,
}

#[derive(Serialize)]
struct Item<'a> {
    what: &'a str,
    detail: &'a str,
    choice: Option<AnswerChoice>,
    text: &'a str,
}
