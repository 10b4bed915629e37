//! The content set out as one self-contained HTML file: no scripts, nothing
//! loaded from outside, readable by eye, by ear and on paper.

mod check;
mod filters;
mod pads;
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
pub use filters::zone;
pub(crate) use filters::{say, show_when};

/// Every template by its name; `report.html` puts the others together.
const TEMPLATES: [(&str, &str); 19] = [
    ("advice.html", include_str!("../templates/advice.html")),
    ("annex.html", include_str!("../templates/annex.html")),
    ("caption.html", include_str!("../templates/caption.html")),
    ("evidence.html", include_str!("../templates/evidence.html")),
    ("done.html", include_str!("../templates/done.html")),
    ("fluid.html", include_str!("../templates/fluid.html")),
    ("found.html", include_str!("../templates/found.html")),
    ("letter.html", include_str!("../templates/letter.html")),
    ("letter_2.html", include_str!("../templates/letter_2.html")),
    ("limits.html", include_str!("../templates/limits.html")),
    ("method.html", include_str!("../templates/method.html")),
    ("pair.html", include_str!("../templates/pair.html")),
    ("photo.html", include_str!("../templates/photo.html")),
    ("readings.html", include_str!("../templates/readings.html")),
    ("report.html", include_str!("../templates/report.html")),
    ("said.html", include_str!("../templates/said.html")),
    ("sources.html", include_str!("../templates/sources.html")),
    ("told.html", include_str!("../templates/told.html")),
    ("wear.html", include_str!("../templates/wear.html")),
];

/// What every page of ours looks like, its faces with it, so that it reads alike everywhere.
pub(crate) fn style() -> String {
    use base64::Engine;
    use base64::engine::general_purpose::STANDARD;
    let mut style = String::new();
    for (bytes, weight, range) in FACES {
        let data = STANDARD.encode(bytes);
        style.push_str(&format!(
            "@font-face{{font-family:Letter;font-weight:{weight};src:url(data:font/woff2;base64,{data}) \
             format(\"woff2\");unicode-range:{range}}}\n"
        ));
    }
    style + STYLE
}

const STYLE: &str = include_str!("../templates/report.css");

const LATIN: &str = "U+0000-00FF,U+0131,U+0152-0153,U+02BB-02BC,U+02C6,U+02DA,U+02DC,U+2000-206F,\
    U+20AC,U+2122,U+2191,U+2193,U+2212,U+2215";
const LATIN_MORE: &str = "U+0100-0130,U+0132-0151,U+0154-02BA,U+1E00-1E9F,U+1EF2-1EFF,U+20A0-20AB,\
    U+20AD-20C0";

/// Faces with their weight and the letters that they have.
const FACES: [(&[u8], u32, &str); 4] = [
    (
        include_bytes!("../fonts/AtkinsonHyperlegibleNext-latin-400.woff2"),
        400,
        LATIN,
    ),
    (
        include_bytes!("../fonts/AtkinsonHyperlegibleNext-latin-700.woff2"),
        700,
        LATIN,
    ),
    (
        include_bytes!("../fonts/AtkinsonHyperlegibleNext-latin-ext-400.woff2"),
        400,
        LATIN_MORE,
    ),
    (
        include_bytes!("../fonts/AtkinsonHyperlegibleNext-latin-ext-700.woff2"),
        700,
        LATIN_MORE,
    ),
];

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
    let words = Words::of(&content.lang);
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
