//! `/r/SECRET`: the customer's page. No key and no cookie: who has the link may
//! read that one report and answer it, and nothing else.

mod form;

use std::time::{Duration, Instant};

use axum::Extension;
use axum::body::{Body, to_bytes};
use axum::extract::{Path, State};
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use minijinja::context;
use swarfbook_app::command::Command;
use swarfbook_app::problem::{Problem, ProblemKind};
use swarfbook_app::reply::Reply;
use swarfbook_job::id::Sha256Hex;
use swarfbook_words::{in_language, say, term};

pub use self::form::Form;
use super::Hub;
use super::language::aside;
use super::listen::From;
use super::page::{page, words};
use super::refuse::Refusal;
use super::tries::Wait;

/// How long a link that opens nothing is answered after: a guess takes its time, and
/// nobody who has a link waits.
const NO_LINK_PAUSE: Duration = Duration::from_secs(1);

/// `GET`: what is asked, or the wish for the code.
pub(super) async fn open(
    State(hub): State<Hub>,
    Path(secret): Path<String>,
    from: Option<Extension<From>>,
) -> Response {
    let guess = Guess::of(&secret, "", from);
    done(hub, guess, opening(secret)).await
}

/// `POST`: the code alone, the wish to read, or the answers. The link is looked up before
/// a byte of the form is read.
pub(super) async fn send(
    State(hub): State<Hub>,
    Path(secret): Path<String>,
    from: Option<Extension<From>>,
    headers: HeaderMap,
    body: Body,
) -> Response {
    match is_known(&hub, &secret).await {
        Ok(true) => {}
        Ok(false) => return done(hub, Guess::of(&secret, "", from), opening(secret)).await,
        Err(refusal) => return refusal.into_response(),
    }
    // By its head, before it is read: what closes in a sender's face may lose the answer, too.
    let said = headers.get(header::CONTENT_LENGTH).map(HeaderValue::to_str);
    let long = said.is_some_and(|said| {
        let bytes = said.ok().and_then(|said| said.parse().ok());
        bytes.is_none_or(|bytes: u64| bytes > form::MAX_BYTES as u64)
    });
    if long {
        return too_much();
    }
    let Ok(body) = to_bytes(body, form::MAX_BYTES).await else {
        return too_much();
    };
    let for_form = secret;
    let read = move || {
        Form::read(&body).map(|form| {
            (
                Guess::of(&for_form, form.code(), from),
                form.command(for_form),
            )
        })
    };
    match aside(read).await {
        Ok(Ok((guess, command))) => done(hub, guess, command).await,
        Ok(Err(form::TooMany)) => too_much(),
        Err(error) => Refusal::from(error).into_response(),
    }
}

/// Whether there is a link of that secret.
async fn is_known(hub: &Hub, secret: &str) -> Result<bool, Refusal> {
    let link = Sha256Hex::of(secret.as_bytes());
    let app = hub.app.clone();
    let job = aside(move || app.store().job_of_link(link)).await?;
    Ok(job.map_err(Problem::from)?.is_some())
}

fn opening(secret: String) -> Command {
    Command::OpenShared {
        secret,
        code: String::new(),
        newest: false,
    }
}

fn too_much() -> Response {
    words(
        StatusCode::PAYLOAD_TOO_LARGE,
        term!("that-did-not-work"),
        term!("what-was-sent-is-larger-than-may-be-or"),
    )
}

/// What a request tries at a link.
struct Guess {
    secret: String,
    /// A code came with it.
    with_code: bool,
    from: Option<From>,
}

impl Guess {
    fn of(secret: &str, code: &str, from: Option<Extension<From>>) -> Guess {
        Guess {
            secret: secret.to_owned(),
            with_code: !code.trim().is_empty(),
            from: from.map(|Extension(from)| from),
        }
    }

    /// Asks the door; a code is counted before it is looked at, and given back if it was right.
    fn ask(&self, hub: &Hub, command: Command) -> Result<Result<Reply, Problem>, Wait> {
        let link = Sha256Hex::of(self.secret.as_bytes());
        if self.with_code {
            hub.guesses().link(link, self.from, Instant::now())?;
        }
        let reply = hub.app.call(command);
        let wrong = matches!(&reply, Err(problem) if problem.kind == ProblemKind::CodeWanted);
        if self.with_code && !wrong {
            hub.guesses().not_link(link, self.from);
        }
        Ok(reply)
    }
}

async fn done(hub: Hub, guess: Guess, command: Command) -> Response {
    // The door speaks the report's language by itself; the page around a problem is ours.
    let asked = move || match guess.ask(&hub, command) {
        Ok(Ok(reply)) => Ok(reply),
        Ok(Err(problem)) => Err((hub.app.language_of_link(&guess.secret), Ok(problem))),
        Err(wait) => Err((hub.app.language_of_link(&guess.secret), Err(wait))),
    };
    let reply = match aside(asked).await {
        Ok(answer) => answer,
        Err(error) => return Refusal::from(error).into_response(),
    };
    match reply {
        Ok(Reply::Page { html } | Reply::Report { html, .. }) => {
            ([(header::CONTENT_TYPE, "text/html; charset=utf-8")], html).into_response()
        }
        Ok(_) => StatusCode::INTERNAL_SERVER_ERROR.into_response(),
        Err((language, Ok(problem))) => {
            if problem.kind == ProblemKind::NotFound {
                tokio::time::sleep(NO_LINK_PAUSE).await;
            }
            in_language(language, || told(&problem))
        }
        Err((language, Err(wait))) => in_language(language, || too_often(wait)),
    }
}

fn too_often(wait: Wait) -> Response {
    words(
        StatusCode::TOO_MANY_REQUESTS,
        term!("your-report"),
        say!(
            "too-many-wrong-codes-came-from-here-wait",
            minutes = wait.minutes()
        ),
    )
}

/// The problem as a page that a customer can read; the code is asked for where it is wanted.
fn told(problem: &Problem) -> Response {
    let said = problem.to_string();
    match problem.kind {
        ProblemKind::CodeWanted => page(
            StatusCode::UNAUTHORIZED,
            "code.html",
            term!("your-report"),
            context! {
                words => said,
                code => term!("the-code"),
                open => term!("open-it"),
            },
        ),
        ProblemKind::NotFound => words(StatusCode::NOT_FOUND, term!("no-report-here"), said),
        _ => words(
            StatusCode::UNPROCESSABLE_ENTITY,
            term!("that-did-not-work"),
            said,
        ),
    }
}
