//! `/r/SECRET`: the customer's page. No key and no cookie: who has the link may
//! read that one report and answer it, and nothing else.

use axum::extract::{Path, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use swarfbook_app::command::{Command, ItemAnswer};
use swarfbook_app::problem::{Problem, ProblemKind};
use swarfbook_app::reply::Reply;
use swarfbook_job::fact::AnswerChoice;
use swarfbook_words::{in_language, term};

use super::Hub;
use super::language::aside;
use super::refuse::{Refusal, escape, page};

/// `GET`: what is asked, or the wish for the code.
pub(super) async fn open(State(hub): State<Hub>, Path(secret): Path<String>) -> Response {
    let first = Command::OpenShared {
        secret: secret.clone(),
        code: String::new(),
        newest: false,
    };
    done(hub, secret, first).await
}

/// `POST`: the code alone, the wish to read, or the answers.
pub(super) async fn send(
    State(hub): State<Hub>,
    Path(secret): Path<String>,
    form: String,
) -> Response {
    let command = command(secret.clone(), &Form::read(&form));
    done(hub, secret, command).await
}

fn command(secret: String, form: &Form) -> Command {
    let code = form.get("code").to_owned();
    let newest = form.has("newest");
    if form.has("read") {
        return Command::ReadShared {
            secret,
            code,
            newest,
        };
    }
    if !form.has("name") {
        return Command::OpenShared {
            secret,
            code,
            newest,
        };
    }
    Command::AnswerShared {
        secret,
        code,
        newest,
        name: form.get("name").to_owned(),
        answers: form.answers(),
    }
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

/// The fields of a form that was sent by a browser (`application/x-www-form-urlencoded`).
struct Form(Vec<(String, String)>);

impl Form {
    fn read(form: &str) -> Form {
        let fields = form_urlencoded::parse(form.as_bytes());
        Form(fields.into_owned().collect())
    }

    fn has(&self, name: &str) -> bool {
        self.0.iter().any(|(key, _)| key == name)
    }

    fn get(&self, name: &str) -> &str {
        let field = self.0.iter().find(|(key, _)| key == name);
        field.map_or("", |(_, value)| value)
    }

    /// `choice-N` and `text-N` by item.
    fn answers(&self) -> Vec<ItemAnswer> {
        let items = self.0.iter().filter_map(|(key, text)| {
            let item: u32 = key.strip_prefix("text-")?.parse().ok()?;
            let choice = match self.get(&format!("choice-{item}")) {
                "agree" => Some(AnswerChoice::Agree),
                "decline" => Some(AnswerChoice::Decline),
                "ask" => Some(AnswerChoice::Ask),
                _ => None,
            };
            Some(ItemAnswer {
                item,
                choice,
                text: text.clone(),
            })
        });
        items.collect()
    }
}
