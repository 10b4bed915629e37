//! Pages of the hub's own, as templates (`templates/`): for a person who came without the key
//! or to nowhere, for pairing and for browsers that were let in.

use std::sync::OnceLock;

use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use minijinja::{Environment, Value, context};
use swarfbook_words::speaking;

/// Stands in a sentence where a piece of code is to be, which [`with_code`] puts there: a
/// private-use sign, which no sentence has.
pub(super) const CODE: &str = "\u{f8ff}";

macro_rules! templates {
    ($($name:literal),* $(,)?) => {
        [$(($name, include_str!(concat!("../../templates/", $name)))),*]
    };
}

const TEMPLATES: [(&str, &str); 7] = templates![
    "frame.html",
    "words.html",
    "code.html",
    "browsers.html",
    "trust.html",
    "encrypted.html",
    "pair.html",
];

/// Every value that is not marked safe is escaped.
fn environment() -> &'static Environment<'static> {
    static MADE: OnceLock<Environment<'static>> = OnceLock::new();
    MADE.get_or_init(|| {
        let mut made = Environment::new();
        // minijinja's own escapes strokes too, so that nobody could read an address in the source.
        made.set_formatter(|out, state, value| match value.as_str() {
            Some(text) if !value.is_safe() => Ok(out.write_str(&escape(text))?),
            _ => minijinja::escape_formatter(out, state, value),
        });
        for (name, text) in TEMPLATES {
            // A template that can't be read is missing when it is asked for; a test renders all.
            let _ = made.add_template(name, text);
        }
        made
    })
}

/// A page by its template. Values are escaped.
pub(super) fn page(status: StatusCode, template: &str, title: &str, values: Value) -> Response {
    let frame = context! { lang => speaking().tag(), title, ..values };
    let html = environment()
        .get_template(template)
        .and_then(|template| template.render(frame));
    match html {
        Ok(html) => (
            status,
            [
                (header::CONTENT_TYPE, "text/html; charset=utf-8"),
                (header::CACHE_CONTROL, "no-store"),
            ],
            html,
        )
            .into_response(),
        // The title alone still says what it is about.
        Err(_) => (status, title.to_owned()).into_response(),
    }
}

/// A page that says one thing.
pub(super) fn words(status: StatusCode, title: &str, words: impl Into<Value>) -> Response {
    page(
        status,
        "words.html",
        title,
        context! { words => words.into() },
    )
}

/// A sentence with the code that stands at [`CODE`] in it, in its order.
pub(super) fn with_code(sentence: &str, code: &[&str]) -> Value {
    let mut parts = sentence.split(CODE);
    let mut html = escape(parts.next().unwrap_or_default());
    let mut code = code.iter();
    for part in parts {
        let code = escape(code.next().unwrap_or(&""));
        html += &format!("<code>{code}</code>{}", escape(part));
    }
    Value::from_safe_string(html)
}

fn escape(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
        .replace('"', "&quot;")
        .replace('\'', "&#39;")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_template_can_be_read_and_escapes() {
        for (name, _) in TEMPLATES {
            let template = environment().get_template(name).unwrap();
            let html = template
                .render(context! { title => "<b>", words => "\" & <i>" })
                .unwrap();
            assert!(html.contains("<h1>&lt;b&gt;</h1>"), "{name}: {html}");
            assert!(!html.contains("<i>"), "{name}: {html}");
        }
    }

    #[test]
    fn code_stands_in_its_order_and_is_escaped() {
        let sentence = format!("<Run> {CODE}, then {CODE}.");
        let made = with_code(&sentence, &["a && b", "c"]).to_string();
        let wanted = "&lt;Run&gt; <code>a &amp;&amp; b</code>, then <code>c</code>.";
        assert_eq!(made, wanted);
    }
}
