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
            term!("No browser was named."),
            term!("Go back and choose one."),
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
        let gone = term!("That is ended. Who needs it opens the hub's whole address again.");
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
    let new_key = say!(
        "A key that others may know is changed by {} on this machine, which ends all.",
        CODE
    );
    Ok(page(
        StatusCode::OK,
        "browsers.html",
        term!("Browsers that were let in"),
        context! {
            news,
            browsers => Value::from(Serde(browsers)),
            how_long => term!(
                "Each ends by itself after seven days without use, and after thirty days in all."
            ),
            this => term!("This one"),
            end => term!("End"),
            end_others => term!("End all but this one"),
            new_key => with_code(&new_key, &["swarfbook key new --data DIR"]),
            back => term!("Back to the devices"),
        },
    ))
}

fn row(session: &Session, own: Option<Sha256Hex>) -> Row {
    let from = session
        .from
        .map_or(term!("this machine").to_owned(), |ip| ip.to_string());
    Row {
        id: session.id,
        words: say!(
            "{} at {}, since {}, last used {}",
            session.browser,
            from,
            day(session.since),
            day(session.seen)
        ),
        this: own == Some(session.id),
    }
}

fn day(seconds: i64) -> String {
    let at = DateTime::from_timestamp(seconds, 0).unwrap_or_default();
    let at = at.with_timezone(&Local);
    format!("{}, {}", at.format(term!("%-d %b %Y")), at.format("%H:%M"))
}

/// `GET /trust`: what a browser must show to be this hub's.
pub(super) async fn trust(State(hub): State<Hub>) -> Result<Response, Refusal> {
    let title = term!("The hub's certificate");
    Ok(match hub.certificates.to_compare() {
        Some(fingerprint) => page(
            StatusCode::OK,
            "trust.html",
            title,
            context! {
                words => term!("Its SHA-256 fingerprint, as other browsers must show it:"),
                fingerprint => fingerprint.as_in_browsers(),
                compare => term!(
                    "Another browser of the shop's network warns at its first visit, since the hub signed its certificate itself. Accept it there only where every digit is the same."
                ),
            },
        ),
        None => words(
            StatusCode::OK,
            title,
            term!(
                "The shop gave the hub a certificate of its own, which browsers trust by who signed it."
            ),
        ),
    })
}

pub(super) fn now() -> i64 {
    Local::now().timestamp()
}
