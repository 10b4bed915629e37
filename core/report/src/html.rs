//! The content set out as one self-contained HTML file: no scripts, nothing
//! loaded from outside, readable by eye, by ear and on paper.

mod check;
mod filters;
mod refs;
mod view;

use minijinja::syntax::SyntaxConfig;
use minijinja::value::Serde;
use minijinja::{AutoEscape, Environment, UndefinedBehavior};

use swarfbook_words::in_language;

use crate::ReportError;
use crate::content::{Content, Photos};
use crate::words::{Words, language_of};

pub use check::check;
pub(crate) use filters::show_when;
pub use filters::zone;

/// Every template by its name; `report.html` puts the others together.
const TEMPLATES: [(&str, &str); 15] = [
    ("advice.html", include_str!("../templates/advice.html")),
    ("answer.html", include_str!("../templates/answer.html")),
    ("caption.html", include_str!("../templates/caption.html")),
    ("done.html", include_str!("../templates/done.html")),
    ("fluid.html", include_str!("../templates/fluid.html")),
    ("found.html", include_str!("../templates/found.html")),
    ("limits.html", include_str!("../templates/limits.html")),
    ("method.html", include_str!("../templates/method.html")),
    ("pair.html", include_str!("../templates/pair.html")),
    ("photo.html", include_str!("../templates/photo.html")),
    ("readings.html", include_str!("../templates/readings.html")),
    ("report.html", include_str!("../templates/report.html")),
    ("said.html", include_str!("../templates/said.html")),
    ("told.html", include_str!("../templates/told.html")),
    ("wear.html", include_str!("../templates/wear.html")),
];

const STYLE: &str = include_str!("../templates/report.css");

/// The key that a report is signed with, as the report shows it.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub(crate) struct Key {
    /// 64 hexadecimal digits.
    pub public: String,
    /// The same in short.
    pub fingerprint: String,
}

/// Sets a report out as a preview, not signed. The same content and photos give
/// the same bytes.
///
/// # Errors
/// [`ReportError`] when a figure rests on nothing, or a photo is missing, not
/// what its hash says, or tells more than its picture.
pub fn render(content: &Content, photos: &Photos) -> Result<String, ReportError> {
    page(content, photos, None)
}

/// The page, with the key that will sign it and an empty place for the seal.
pub(crate) fn page(
    content: &Content,
    photos: &Photos,
    key: Option<&Key>,
) -> Result<String, ReportError> {
    check(content, photos)?;
    in_language(language_of(&content.lang), || set_out(content, photos, key))
}

fn set_out(content: &Content, photos: &Photos, key: Option<&Key>) -> Result<String, ReportError> {
    let words = Words::of(&content.lang)?;
    let mut env = environment(content, &words)?;
    for (name, source) in TEMPLATES {
        env.add_template(name, source)?;
    }
    let view = view::View::of(content, photos, &words, key)?;
    Ok(env.get_template("report.html")?.render(Serde(view))?)
}

fn environment(content: &Content, words: &Words) -> Result<Environment<'static>, ReportError> {
    let mut env = Environment::new();
    env.set_undefined_behavior(UndefinedBehavior::Strict);
    env.set_auto_escape_callback(|_| AutoEscape::Html);
    env.set_formatter(filters::format_safely);
    env.set_syntax(
        SyntaxConfig::builder()
            .trim_blocks(true)
            .lstrip_blocks(true)
            .build()?,
    );
    filters::add(&mut env, words);
    refs::add(&mut env, content, words);
    Ok(env)
}
