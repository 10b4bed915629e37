//! Which browsers were let in, and an end to that.

use axum::Extension;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use chrono::{DateTime, Local};
use swarfbook_job::id::Sha256Hex;
use swarfbook_words::{say, term};

use super::Hub;
use super::guard::Asks;
use super::key::Key;
use super::language::aside;
use super::refuse::{Refusal, bad_request, escape, page};
use super::sessions::Session;

/// `GET /browsers`: who is let in.
pub(super) async fn list(
    State(hub): State<Hub>,
    Extension(asks): Extension<Asks>,
) -> Result<Response, Refusal> {
    aside(move || show(&hub, asks.session, "")).await?
}

/// `POST /browsers/end`: ends one, or all but the one that asks.
pub(super) async fn end(
    State(hub): State<Hub>,
    Extension(asks): Extension<Asks>,
    form: String,
) -> Result<Response, Refusal> {
    let own = asks.session;
    let others = form == "which=others";
    let one: Option<Sha256Hex> = form
        .strip_prefix("which=")
        .and_then(|which| which.parse().ok());
    if !others && one.is_none() {
        return Err(bad_request(
            term!("No browser was named."),
            term!("Go back and choose one."),
        )
        .into());
    }
    aside(move || {
        {
            let mut sessions = hub.sessions();
            sessions.end(|session| match one {
                Some(one) => session.id == one,
                None => Some(session.id) != own,
            });
            sessions.keep(&mut hub.app.store(), now())?;
        }
        let gone = term!("That is ended. Who needs it opens the hub's whole address again.");
        show(&hub, own, &format!("<p>{gone}</p>"))
    })
    .await?
}

fn show(hub: &Hub, own: Option<Sha256Hex>, news: &str) -> Result<Response, Refusal> {
    let key = Key::of_store(&hub.app)?;
    let open = hub.sessions().open(&key, now());
    let rows: String = open.iter().map(|session| row(session, own)).collect();
    Ok(page(
        StatusCode::OK,
        term!("Browsers that were let in"),
        &format!(
            "{news}<p>{}</p><ul>{rows}</ul>\
             <form method=\"post\" action=\"/browsers/end\">\
             <button name=\"which\" value=\"others\">{}</button></form>\
             <p>{}</p><p><a href=\"/pair\">{}</a></p>",
            term!(
                "Each ends by itself after seven days without use, and after thirty days in all."
            ),
            term!("End all but this one"),
            say!(
                "A key that others may know is changed by {} on this machine, which ends all.",
                "<code>swarfbook key new --data DIR</code>"
            ),
            term!("Back to the devices")
        ),
    ))
}

fn row(session: &Session, own: Option<Sha256Hex>) -> String {
    let from = session
        .from
        .map_or(term!("this machine").to_owned(), |ip| ip.to_string());
    let this = match own == Some(session.id) {
        true => format!(" <b>{}</b>", term!("This one")),
        false => String::new(),
    };
    format!(
        "<li>{}{this} <form method=\"post\" action=\"/browsers/end\" style=\"display:inline\">\
         <button name=\"which\" value=\"{}\">{}</button></form></li>",
        say!(
            "{} at {}, since {}, last used {}",
            escape(&session.browser),
            from,
            day(session.since),
            day(session.seen)
        ),
        session.id,
        term!("End")
    )
}

fn day(seconds: i64) -> String {
    let at = DateTime::from_timestamp(seconds, 0).unwrap_or_default();
    let at = at.with_timezone(&Local);
    format!("{}, {}", at.format(term!("%-d %b %Y")), at.format("%H:%M"))
}

/// `GET /trust`: what a browser must show to be this hub's.
pub(super) async fn trust(State(hub): State<Hub>) -> Result<Response, Refusal> {
    Ok(page(
        StatusCode::OK,
        term!("The hub's certificate"),
        &match hub.certificates.to_compare() {
            Some(fingerprint) => format!(
                "<p>{}</p><p><code>{}</code></p><p>{}</p>",
                term!("Its SHA-256 fingerprint, as other browsers must show it:"),
                fingerprint.as_in_browsers(),
                term!(
                    "Another browser of the shop's network warns at its first visit, since the hub signed its certificate itself. Accept it there only where every digit is the same."
                )
            ),
            None => format!(
                "<p>{}</p>",
                term!(
                    "The shop gave the hub a certificate of its own, which browsers trust by who signed it."
                )
            ),
        },
    ))
}

pub(super) fn now() -> i64 {
    Local::now().timestamp()
}
