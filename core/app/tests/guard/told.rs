//! Everything that a person is told of the job at the end, each sentence with its place.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use serde::Serialize;
use serde_json::Value;
use swarfbook_app::command::{Command, Sheet};
use swarfbook_app::reply::Reply;
use swarfbook_app::view::{JobView, LineView, PhotoCensusView};
use swarfbook_job::fact::LeaveOut;
use swarfbook_job::fold::JobState;
use swarfbook_words::Language;

use super::carried;
use super::shop::Shop;

/// A text and where it stands.
#[derive(Debug, Clone)]
pub struct Sentence {
    pub place: String,
    pub text: String,
}

/// The app's screens in one language.
pub struct Screens {
    pub language: Language,
    pub job: JobView,
    pub photos: Vec<PhotoCensusView>,
    pub log: Vec<LineView>,
}

/// One copy of the report.
pub struct Copy {
    pub language: Language,
    pub leave_out: LeaveOut,
    /// What it says, as its data.
    pub content: Value,
    /// The page, by its sections.
    pub page: Vec<Section>,
    /// The lines of its legends: a class's letter, and how its line is drawn.
    pub lines: Vec<(String, Stroke)>,
    /// The words of the PDF; none where none was made.
    pub paper: Option<String>,
    /// The page on which the customer answers.
    pub answer_page: Option<Vec<Section>>,
}

/// How the line of a class is drawn in a legend.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stroke {
    pub dashes: String,
    pub double: bool,
}

/// A section of a page.
pub struct Section {
    pub name: String,
    /// Its paragraphs, list items, cells and captions.
    pub texts: Vec<String>,
}

impl Section {
    pub fn text(&self) -> String {
        self.texts.join("\n")
    }
}

/// All of it.
pub struct Told {
    /// The log, before the reports were made to be read.
    pub state: JobState,
    pub screens: Vec<Screens>,
    pub copies: Vec<Copy>,
    /// The job after those reports.
    pub after: Option<JobView>,
}

const LANGUAGES: [Language; 3] = [Language::En, Language::De, Language::Es];

/// Which of all that can be read is read of one job. To set a report out is most of the work:
/// of each job a share is read, and all of it over the jobs.
#[derive(Debug, Clone, Copy)]
pub struct Asked {
    /// The report's languages.
    pub languages: &'static [Language],
    /// The copy that leaves out names and plate, too.
    pub without: bool,
    /// The customer's page, too.
    pub answer_page: bool,
    /// The print, too.
    pub paper: bool,
}

impl Asked {
    /// Every language, copies with names left out, the customer's page and the print.
    pub const ALL: Asked = Asked {
        languages: &LANGUAGES,
        without: true,
        answer_page: true,
        paper: true,
    };

    /// What is read of the job of a seed.
    pub fn of(seed: u64) -> Asked {
        if seed.is_multiple_of(50) {
            return Asked::ALL;
        }
        Asked {
            languages: match seed % 6 {
                0 => &LANGUAGES[1..2],
                3 => &LANGUAGES[2..],
                _ => &LANGUAGES[..1],
            },
            without: seed % 4 == 1,
            answer_page: seed % 4 == 2,
            paper: false,
        }
    }
}

impl Told {
    /// Asks the device that wrote last, in every language.
    pub fn of(shop: &mut Shop, asked: Asked) -> Told {
        shop.look();
        if shop.view.is_none() {
            // The last device never heard of the job: the one that opened it tells it.
            for at in 0..shop.devices.len() {
                if shop.devices[at].is_some() && shop.view.is_none() {
                    shop.writer = at;
                    shop.look();
                }
            }
        }
        let state = shop.state();
        let screens = LANGUAGES.map(|language| screens(shop, language)).into();
        shop.set(|settings| settings.language = Some(Language::En));
        let whole = LeaveOut::default();
        let without = LeaveOut {
            customer: true,
            car: true,
            keep_texts: true,
        };
        let mut copies = Vec::new();
        for language in asked.languages {
            copies.extend(copy(shop, *language, whole, asked));
            if asked.without {
                copies.extend(copy(shop, *language, without, asked));
            }
        }
        shop.look();
        Told {
            state,
            screens,
            copies,
            after: shop.view.as_deref().cloned(),
        }
    }

    /// The copy that leaves nothing out, in that language.
    pub fn whole(&self, language: Language) -> Option<&Copy> {
        let mut copies = self.copies.iter();
        copies.find(|copy| copy.language == language && copy.leave_out.nothing())
    }

    /// The screens in that language.
    pub fn screens(&self, language: Language) -> &Screens {
        let mut screens = self.screens.iter();
        screens
            .find(|screens| screens.language == language)
            .expect("told in each")
    }
}

fn screens(shop: &mut Shop, language: Language) -> Screens {
    shop.set(|settings| settings.language = Some(language));
    let job = shop.job();
    let Ok(Reply::Job { job: view }) = shop.call(Command::Job { job }) else {
        panic!("the job can't be shown")
    };
    let photos = view
        .photos
        .iter()
        .map(|photo| {
            let photo = photo.entry;
            match shop.call(Command::Photo { job, photo }) {
                Ok(Reply::Photo { photo, .. }) => *photo,
                other => panic!("{other:?}"),
            }
        })
        .collect();
    let Ok(Reply::Log { lines }) = shop.call(Command::Log { job }) else {
        panic!("the log can't be shown")
    };
    Screens {
        language,
        job: *view,
        photos,
        log: lines,
    }
}

fn copy(shop: &mut Shop, language: Language, leave_out: LeaveOut, asked: Asked) -> Option<Copy> {
    let job = shop.job();
    let spoken = Some(language);
    let made = shop.made(Command::MakeReport {
        job,
        leave_out,
        language: spoken,
    });
    let Some(Reply::Report { html, .. }) = made else {
        return None;
    };
    let paper = if asked.paper && leave_out.nothing() {
        let made = shop.made(Command::MakeReportPdf {
            job,
            sheet: Sheet::A4,
            leave_out,
            language: spoken,
        });
        match made {
            Some(Reply::ReportPdf { base64, .. }) => Some(words_of_pdf(&base64)),
            _ => None,
        }
    } else {
        None
    };
    let answer_page = if asked.answer_page && leave_out.nothing() {
        let secret = shop.share(leave_out, spoken)?;
        match shop.call(Command::OpenShared {
            secret,
            code: String::new(),
            newest: false,
        }) {
            Ok(Reply::Page { html }) => Some(loose(&html)),
            other => panic!("{other:?}"),
        }
    } else {
        None
    };
    Some(Copy {
        language,
        leave_out,
        content: carried::content(&html),
        page: sections(&html),
        lines: lines(&html),
        paper,
        answer_page,
    })
}

fn words_of_pdf(base64: &str) -> String {
    let bytes = STANDARD.decode(base64).expect("base64");
    let document = lopdf::Document::load_mem(&bytes).expect("reads");
    let pages: Vec<u32> = document.get_pages().into_keys().collect();
    document.extract_text(&pages).expect("words")
}

/// Elements that hold a sentence of their own.
const BLOCKS: [&str; 15] = [
    "p",
    "li",
    "h1",
    "h2",
    "h3",
    "h4",
    "dt",
    "dd",
    "th",
    "td",
    "desc",
    "title",
    "legend",
    "blockquote",
    "figcaption",
];

/// The sections of a report's page, which is well-formed XML.
pub fn sections(html: &str) -> Vec<Section> {
    let options = roxmltree::ParsingOptions {
        allow_dtd: true,
        ..Default::default()
    };
    let document = roxmltree::Document::parse_with_options(html, options).expect("well-formed");
    let mut sections = Vec::new();
    let parts = document
        .descendants()
        .filter(|node| node.has_tag_name("header") || node.has_tag_name("section"));
    for part in parts {
        let name = part
            .attribute("aria-labelledby")
            .unwrap_or_else(|| part.tag_name().name());
        let mut texts = Vec::new();
        gather(part, &mut texts);
        sections.push(Section {
            name: name.to_owned(),
            texts,
        });
    }
    sections
}

/// The lines that stand before a letter.
fn lines(html: &str) -> Vec<(String, Stroke)> {
    let options = roxmltree::ParsingOptions {
        allow_dtd: true,
        ..Default::default()
    };
    let document = roxmltree::Document::parse_with_options(html, options).expect("well-formed");
    let samples = document.descendants().filter(|node| {
        node.has_tag_name(("http://www.w3.org/2000/svg", "svg"))
            && node.attribute("class") == Some("line")
    });
    samples
        .filter_map(|sample| {
            let letter = sample.next_sibling_element()?.text()?.to_owned();
            let strokes: Vec<_> = sample.children().filter(|node| node.is_element()).collect();
            let dashes = strokes
                .iter()
                .find_map(|s| s.attribute("stroke-dasharray"))?;
            Some((
                letter,
                Stroke {
                    dashes: dashes.to_owned(),
                    double: strokes.len() == 3,
                },
            ))
        })
        .collect()
}

fn gather(node: roxmltree::Node<'_, '_>, texts: &mut Vec<String>) {
    for child in node.children().filter(roxmltree::Node::is_element) {
        if BLOCKS.contains(&child.tag_name().name()) && !holds_block(child) {
            let text = text_of(child);
            if !text.is_empty() {
                texts.push(text);
            }
        } else if !child.has_tag_name("section") {
            gather(child, texts);
        }
    }
}

fn holds_block(node: roxmltree::Node<'_, '_>) -> bool {
    node.descendants()
        .skip(1)
        .any(|one| BLOCKS.contains(&one.tag_name().name()))
}

/// Its words with single blanks; the numbers that lead to lines are left out.
fn text_of(node: roxmltree::Node<'_, '_>) -> String {
    let mut text = String::new();
    words(node, &mut text);
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn words(node: roxmltree::Node<'_, '_>, text: &mut String) {
    if node.is_text() {
        text.push_str(node.text().unwrap_or_default());
    }
    if node.attribute("class") == Some("ref") {
        return;
    }
    for child in node.children() {
        words(child, text);
    }
}

/// The page behind a link, which is HTML and not XML: its texts one after another.
fn loose(html: &str) -> Vec<Section> {
    let body = html.split("<body>").nth(1).unwrap_or(html);
    let mut texts = Vec::new();
    let mut rest = body;
    while let Some((text, after)) = rest.split_once('<') {
        let text = text.trim();
        if !text.is_empty() {
            texts.push(text.to_owned());
        }
        rest = after.split_once('>').map_or("", |(_, rest)| rest);
    }
    vec![Section {
        name: "answer page".into(),
        texts,
    }]
}

/// Every text of what is serialised, with its path.
pub fn texts(place: &str, value: &impl Serialize) -> Vec<Sentence> {
    let mut found = Vec::new();
    walk(
        place.to_owned(),
        &serde_json::to_value(value).expect("data"),
        &mut found,
    );
    found
}

fn walk(place: String, value: &Value, found: &mut Vec<Sentence>) {
    match value {
        Value::String(text) => found.push(Sentence {
            place,
            text: text.clone(),
        }),
        Value::Array(items) => {
            for (at, item) in items.iter().enumerate() {
                walk(format!("{place}/{at}"), item, found);
            }
        }
        Value::Object(fields) => {
            for (name, item) in fields {
                walk(format!("{place}/{name}"), item, found);
            }
        }
        _ => {}
    }
}
