//! `/r/SECRET`: the customer's page. No key and no cookie: who has the link may
//! read that one report and answer it, and nothing else.

mod form;

use axum::body::{Body, to_bytes};
use axum::extract::{Path, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use swarfbook_app::command::Command;
use swarfbook_app::problem::{Problem, ProblemKind};
use swarfbook_app::reply::Reply;
use swarfbook_job::id::Sha256Hex;
use swarfbook_words::{in_language, term};

use self::form::Form;
use super::Hub;
use super::language::aside;
use super::refuse::{Refusal, escape, page};

/// `GET`: what is asked, or the wish for the code.
pub(super) async fn open(State(hub): State<Hub>, Path(secret): Path<String>) -> Response {
    done(hub, secret.clone(), opening(secret)).await
}

/// `POST`: the code alone, the wish to read, or the answers. The link is looked up before
/// a byte of the form is read.
pub(super) async fn send(
    State(hub): State<Hub>,
    Path(secret): Path<String>,
    body: Body,
) -> Response {
    match is_known(&hub, &secret).await {
        Ok(true) => {}
        Ok(false) => return done(hub, secret.clone(), opening(secret)).await,
        Err(refusal) => return refusal.into_response(),
    }
    let Ok(body) = to_bytes(body, form::MAX_BYTES).await else {
        return too_much();
    };
    let for_form = secret.clone();
    match aside(move || Form::read(&body).map(|form| form.command(for_form))).await {
        Ok(Ok(command)) => done(hub, secret, command).await,
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
    let words = term!("What was sent is larger than may be, or did not arrive whole.");
    page(
        StatusCode::PAYLOAD_TOO_LARGE,
        term!("That did not work"),
        &format!("<p>{words}</p>"),
    )
}

async fn done(hub: Hub, secret: String, command: Command) -> Response {
    // The door speaks the report's language by itself; the page around a problem is ours.
    let asked = move || {
        let reply = hub.app.call(command);
        reply.map_err(|problem| (hub.app.language_of_link(&secret), problem))
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
        Err((language, problem)) => in_language(language, || told(&problem)),
    }
}

/// The problem as a page that a customer can read; the code is asked for where it is wanted.
fn told(problem: &Problem) -> Response {
    let words = escape(&problem.to_string());
    let (status, title, form) = match problem.kind {
        ProblemKind::CodeWanted => (
            StatusCode::UNAUTHORIZED,
            term!("Your report"),
            format!(
                "<form method=\"post\"><p><label>{} <input name=\"code\" inputmode=\"numeric\" \
                 autocomplete=\"one-time-code\" maxlength=\"6\" required style=\"font-size:2rem;\
                 width:9rem\"></label></p><p><button style=\"font-size:1.2rem;padding:1rem\">{}\
                 </button></p></form>",
                term!("The code"),
                term!("Open it")
            ),
        ),
        ProblemKind::NotFound => (
            StatusCode::NOT_FOUND,
            term!("No report here"),
            String::new(),
        ),
        _ => (
            StatusCode::UNPROCESSABLE_ENTITY,
            term!("That did not work"),
            String::new(),
        ),
    };
    page(status, title, &format!("<p>{words}</p>{form}"))
}
