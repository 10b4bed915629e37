//! The report on paper: a tagged PDF by PDF/UA-1 (ISO 14289-1) and PDF/A-3a (ISO 19005-3), as
//! far as krilla's validators see.
//!
//! It is set from the very page that [`crate::render`] gives, so that the two
//! can't say different words. The page is well-formed XML; elements and classes
//! say what each part is.

mod columns;
mod figure;
mod flow;
mod fonts;
mod inline;
mod list;
mod margin;
mod pages;
mod path;
mod strings;
mod svg;
mod table;
mod tags;
mod text;

// The gauge card's sheet is set with the same means.
pub(crate) use fonts::Fonts;
pub(crate) use path::circle;
pub(crate) use svg::plain;
pub(crate) use text::{Ink, Inline, Look, RunOf, Span, set};

use std::rc::Rc;
use swarfbook_words::id;

use chrono::{Datelike, Timelike};
use krilla::configure::{Accessibility, Archival, ConfigurationBuilder};
use krilla::embed::{AssociationKind, EmbeddedFile, MimeType};
use krilla::metadata::{DateTime, Metadata};
use krilla::{Document, SerializeSettings};
use roxmltree::ParsingOptions;

use crate::ReportError;
use crate::content::{Content, Photos};
use crate::words::Words;
use flow::{BODY, Flow};
use pages::Foot;
use tags::Tags;

/// The paper that a report is set for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// 210 x 297 mm (ISO 216).
    A4,
    /// 8.5 x 11 in.
    Letter,
}

impl Paper {
    /// Width and height, pt.
    fn size(self) -> [f32; 2] {
        match self {
            Paper::A4 => [595.276, 841.89],
            Paper::Letter => [612.0, 792.0],
        }
    }

    /// The margin left and right, pt.
    fn side(self) -> f32 {
        51.0
    }

    fn top(self) -> f32 {
        40.0
    }

    /// Where the words end.
    fn bottom(self) -> f32 {
        self.size()[1] - 44.0
    }

    /// Width of the words.
    fn width(self) -> f32 {
        self.size()[0] - 2.0 * self.side()
    }
}

/// Sets a report out for paper. The same content and photos give the same bytes.
///
/// # Errors
/// As [`crate::render`]; [`ReportError::Pdf`] when the file would not be what it must be.
pub fn render_pdf(
    content: &Content,
    photos: &Photos,
    paper: Paper,
) -> Result<Vec<u8>, ReportError> {
    let page = crate::render(content, photos)?;
    set_page(&page, content, paper, None)
}

/// What travels in the file beside its pages.
pub(crate) struct Attached {
    /// The content's canonical form.
    pub content: String,
    /// The place of the seal.
    pub seal: Vec<u8>,
}

/// How much smaller the words may be where that saves a page or a gap, as parts of
/// their size.
const SMALLER: [f32; 3] = [0.97, 0.94, 0.9];
/// Pages; a longer print is not worth setting again for one more or less.
const FEW: usize = 12;
/// Pages; one so long is set once, whatever its letter takes.
const LONG: usize = 40;

/// Sets a page that was made from `content`.
pub(crate) fn set_page(
    page: &str,
    content: &Content,
    paper: Paper,
    attached: Option<Attached>,
) -> Result<Vec<u8>, ReportError> {
    let words = Words::of(&content.lang);
    let tree = roxmltree::Document::parse_with_options(
        page,
        ParsingOptions {
            allow_dtd: true,
            nodes_limit: u32::MAX,
            ..ParsingOptions::default()
        },
    )
    .map_err(|_| ReportError::Pdf("its page is not well formed".into()))?;
    let fonts = Rc::new(Fonts::read()?);
    let body = tree
        .descendants()
        .find(|node| node.has_tag_name("body"))
        .ok_or_else(|| ReportError::Pdf("its page has no body".into()))?;
    let set = sitting_best(body, &fonts, &words, paper);
    let Flow {
        mut tags,
        pieces,
        trouble,
        ..
    } = set;
    if let Some(why) = trouble {
        return Err(ReportError::Pdf(why));
    }
    let mut document = Document::new_with(SerializeSettings {
        configuration: ConfigurationBuilder::new()
            .with_accessibility_validator(Accessibility::UA1)
            .with_archival_validator(Archival::A3_A)
            .finish()
            .map_err(|error| ReportError::PdfRule(format!("{error:?}")))?,
        ..SerializeSettings::default()
    });
    let title = title(content, &words);
    let foot = Foot {
        words: &words,
        title: &foot_line(content, &words),
    };
    pages::paint(&mut document, &fonts, &mut tags, pieces, paper, &foot)?;
    document.set_tag_tree(tags.tree(&content.lang));
    document.set_metadata(metadata(content, &title));
    if let Some(attached) = attached {
        attach(&mut document, attached, date(content))?;
    }
    document
        .finish()
        .map_err(|error| ReportError::PdfRule(format!("{error:?}")))
}

/// Of a few sizes the one that sits best on its pages, the largest of those.
fn sitting_best<'d>(
    body: inline::Element<'d>,
    fonts: &Rc<Fonts>,
    words: &Words,
    paper: Paper,
) -> Flow<'d> {
    // Said at the head: who reads a sign that is not there should know why.
    let lacks = body
        .descendants()
        .filter_map(|node| node.text().filter(|_| node.is_text()))
        .any(|text| fonts.lack_one_of(text));
    let notice = lacks.then(|| words.get(id!("report-page-signs")));
    let mut best = set_body(body, fonts, notice, paper, BODY);
    let mut least = pages::cost(&best.pieces, paper);
    // The letter has two pages: what begins the second and the annex stands on 2 and 3.
    let letter_fits = least.0 <= 3;
    if least.2 > LONG || (letter_fits && (least.1 == 0 || least.2 > FEW)) {
        return best;
    }
    for part in SMALLER {
        let other = set_body(body, fonts, notice, paper, BODY * part);
        let cost = pages::cost(&other.pieces, paper);
        if cost < least {
            (best, least) = (other, cost);
        }
    }
    best
}

/// The page's body as pieces, its words of that size, and a notice under its head.
fn set_body<'d>(
    body: inline::Element<'d>,
    fonts: &Rc<Fonts>,
    notice: Option<&str>,
    paper: Paper,
    size: f32,
) -> Flow<'d> {
    let mut flow = Flow {
        fonts: Rc::clone(fonts),
        tags: Tags::default(),
        pieces: Vec::new(),
        left: paper.side(),
        width: paper.width(),
        tallest: paper.bottom() - paper.top(),
        look: Look {
            size,
            bold: false,
            ink: Ink::Full,
            rise: 0.0,
        },
        pairs: false,
        ids: Vec::new(),
        grid: false,
        hanging: None,
        trouble: None,
    };
    for part in body.children().filter(roxmltree::Node::is_element) {
        flow.block(part, None);
        if let Some(notice) = notice.filter(|_| part.has_tag_name("header")) {
            flow.say(notice);
        }
    }
    flow
}

fn attach(document: &mut Document, attached: Attached, made: DateTime) -> Result<(), ReportError> {
    let files = [
        (
            "report.json",
            "application/json",
            "What the report says, as data (RFC 8785 JSON)",
            attached.content.into_bytes(),
            true,
        ),
        (
            "seal.txt",
            "text/plain",
            "The signature over this file",
            attached.seal,
            false,
        ),
    ];
    for (path, mime, description, data, compress) in files {
        let file = EmbeddedFile {
            path: path.to_owned(),
            mime_type: MimeType::new(mime),
            description: Some(description.to_owned()),
            association_kind: AssociationKind::Data,
            data: data.into(),
            // PDF/A-3 asks when (ISO 19005-3, 6.8).
            modification_date: Some(made),
            compress: Some(compress),
            location: None,
        };
        document
            .embed_file(file)
            .ok_or_else(|| ReportError::Pdf(format!("{path} can't be attached")))?;
    }
    Ok(())
}

fn title(content: &Content, words: &Words) -> String {
    in_one_line(format!(
        "{}: {}",
        words.get(id!("report-page-report")),
        car(content)
    ))
}

/// What stands at the foot of every page: number, car and day.
fn foot_line(content: &Content, words: &Words) -> String {
    let day = words.day(content.made.at);
    let number = words.fill(
        id!("report-page-number"),
        &[("number", &content.letter.number)],
    );
    // The plate first: a long description may be cut.
    let car: String = in_one_line(car(content)).chars().take(56).collect();
    format!(
        "{} {number} · {day} · {car}",
        words.get(id!("report-page-report"))
    )
}

fn car(content: &Content) -> String {
    let parts = [&content.car.plate, &content.car.description];
    let said: Vec<&str> = parts
        .into_iter()
        .map(String::as_str)
        .filter(|part| !part.is_empty())
        .collect();
    said.join(", ")
}

fn in_one_line(text: String) -> String {
    text.chars()
        .map(|letter| if letter.is_control() { ' ' } else { letter })
        .take(300)
        .collect()
}

/// When the report was made.
fn date(content: &Content) -> DateTime {
    let at = content.made.at;
    let byte = |number: u32| u8::try_from(number).unwrap_or(0);
    let offset = at.offset().local_minus_utc() / 60;
    DateTime::new(u16::try_from(at.year()).unwrap_or(0))
        .month(byte(at.month()))
        .day(byte(at.day()))
        .hour(byte(at.hour()))
        .minute(byte(at.minute()))
        .second(byte(at.second()))
        .utc_offset_hour(i8::try_from(offset / 60).unwrap_or(0))
        .utc_offset_minute(u8::try_from(offset.rem_euclid(60)).unwrap_or(0))
}

fn metadata(content: &Content, title: &str) -> Metadata {
    Metadata::new()
        .title(strings::plain_string(title))
        .language(content.lang.clone())
        .creator(strings::plain_string(&content.made.tool))
        .creation_date(date(content))
        .document_id(content.made.job.to_string())
}
