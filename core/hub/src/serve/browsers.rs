//! Which browsers were let in, and an end to that.

use axum::extract::State;
use axum::extract::rejection::FormRejection;
use axum::http::StatusCode;
use axum::response::Response;
use axum::{Extension, Form};
use chrono::{DateTime, Local};
use minijinja::value::Serde;
use minijinja::{Value, context};
use serde::{Deserialize, Serialize};
use swarfbook_job::id::Sha256Hex;
use swarfbook_words::{say, term};

use super::Hub;
use super::guard::Asks;
use super::key::Key;
use super::language::aside;
use super::page::{CODE, page, with_code, words};
use super::refuse::{Refusal, bad_request};
use super::sessions::Session;

/// `GET /browsers`: who is let in.
pub(super) async fn list(
    State(hub): State<Hub>,
    Extension(asks): Extension<Asks>,
) -> Result<Response, Refusal> {
    aside(move || show(&hub, asks.session, "")).await?
}

/// Which browsers are to be ended.
#[derive(Deserialize)]
pub(super) struct Which {
    which: Ended,
}

#[derive(Deserialize)]
#[serde(untagged)]
enum Ended {
    One(Sha256Hex),
    But(ButOne),
}

#[derive(Deserialize)]
#[serde(rename_all = "snake_case")]
enum ButOne {
    /// All but the one that asks.
    Others,
}

/// `POST /browsers/end`: ends one, or all but the one that asks.
pub(super) async fn end(
    State(hub): State<Hub>,
    Extension(asks): Extension<Asks>,
    form: Result<Form<Which>, FormRejection>,
) -> Result<Response, Refusal> {
    let own = asks.session;
    let Form(Which { which }) = form.map_err(|_| {
        bad_request(
            term!("no-browser-was-named"),
            term!("go-back-and-choose-one"),
        )
    })?;
    aside(move || {
        {
            let mut sessions = hub.sessions();
            sessions.end(|session| match which {
                Ended::One(one) => session.id == one,
                Ended::But(ButOne::Others) => Some(session.id) != own,
            });
            sessions.keep(hub.app.store(), now())?;
        }
        let gone = term!("that-is-ended-who-needs-it-opens-the");
        show(&hub, own, gone)
    })
    .await?
}

/// A browser in the list.
#[derive(Serialize)]
struct Row {
    id: Sha256Hex,
    words: String,
    /// The one that asks.
    this: bool,
}

fn show(hub: &Hub, own: Option<Sha256Hex>, news: &str) -> Result<Response, Refusal> {
    let key = Key::of_store(&hub.app)?;
    let open = hub.sessions().open(&key, now());
    let browsers: Vec<Row> = open.iter().map(|session| row(session, own)).collect();
    let new_key = say!("a-key-that-others-may-know-is-changed", code = CODE);
    Ok(page(
        StatusCode::OK,
        "browsers.html",
        term!("browsers-that-were-let-in"),
        context! {
            news,
            browsers => Value::from(Serde(browsers)),
            how_long => term!("each-ends-by-itself-after-seven-days-without"),
            this => term!("this-one"),
            end => term!("end"),
            end_others => term!("end-all-but-this-one"),
            new_key => with_code(&new_key, &["swarfbook key new --data DIR"]),
            back => term!("back-to-the-devices"),
        },
    ))
}

fn row(session: &Session, own: Option<Sha256Hex>) -> Row {
    let from = session
        .from
        .map_or(term!("this-machine").to_owned(), |ip| ip.to_string());
    Row {
        id: session.id,
        words: say!(
            "browser-at-from-since-day-last-used-day",
            browser = session.browser,
            from = from,
            day = day(session.since),
            day_2 = day(session.seen)
        ),
        this: own == Some(session.id),
    }
}

fn day(seconds: i64) -> String {
    let at = DateTime::from_timestamp(seconds, 0).unwrap_or_default();
    let at = at.with_timezone(&Local);
    format!(
        "{}, {}",
        at.format(term!("short-day-format")),
        at.format("%H:%M")
    )
}

/// `GET /trust`: what a browser must show to be this hub's.
pub(super) async fn trust(State(hub): State<Hub>) -> Result<Response, Refusal> {
    let title = term!("the-hubs-certificate");
    Ok(match hub.certificates.to_compare() {
        Some(fingerprint) => page(
            StatusCode::OK,
            "trust.html",
            title,
            context! {
                words => term!("its-sha-256-fingerprint-as-other-browsers-must"),
                fingerprint => fingerprint.as_in_browsers(),
                compare => term!("another-browser-of-the-shops-network-warns-at"),
            },
        ),
        None => words(
            StatusCode::OK,
            title,
            term!("the-shop-gave-the-hub-a-certificate-of"),
        ),
    })
}

pub(super) fn now() -> i64 {
    Local::now().timestamp()
}
