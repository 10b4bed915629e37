//! The page of the report, element by element, as pieces that follow each other
//! down the paper.

use std::num::NonZeroU16;

use krilla::image::Image;
use krilla::tagging::{Tag, kind};

use super::fonts::Fonts;
use super::inline::{Element, Spans};
use super::margin::{Hanging, LEAST_WORDS};
use super::strings::text_string;
use super::tags::{Slot, TagRef, Tags};
use super::text::{Ink, Line, LinkTo, Look, Run, RunOf, Span, set};
use std::rc::Rc;

/// Something to paint at a place of its piece.
pub(super) struct Mark<'d> {
    /// Left, top.
    pub at: [f32; 2],
    /// Width, height.
    pub size: [f32; 2],
    /// `None` for what is decoration.
    pub slot: Option<Slot>,
    /// Where a touch leads, and the place of the annotation among the tags.
    pub link: Option<(Rc<LinkTo>, Slot)>,
    pub what: What<'d>,
}

pub(super) enum What<'d> {
    Run {
        run: Run<Element<'d>>,
        baseline: f32,
    },
    Svg(Element<'d>),
    Photo {
        image: Image,
        over: Option<Element<'d>>,
    },
    /// A filled bar.
    Bar(Ink),
    /// The number of the page on which something stands, at the right end.
    PageOf(String),
    /// An outline around the place, not filled.
    Frame,
}

/// A part of the page that is not broken.
#[derive(Default)]
pub(super) struct Piece<'d> {
    /// Space above, left out at the head of a page.
    pub gap: f32,
    pub height: f32,
    /// It must not stand last on a page.
    pub keep: bool,
    /// It begins a new page.
    pub page: bool,
    pub marks: Vec<Mark<'d>>,
    /// Places that links lead to.
    pub ids: Vec<String>,
    /// A heading for the outline.
    pub title: Option<String>,
}

/// Sets elements into pieces.
pub(super) struct Flow<'d> {
    pub fonts: Rc<Fonts>,
    pub tags: Tags,
    pub pieces: Vec<Piece<'d>>,
    pub left: f32,
    pub width: f32,
    /// The height that a piece may have at the most.
    pub tallest: f32,
    pub look: Look,
    /// Short rows stand two beside each other.
    pub pairs: bool,
    pub ids: Vec<String>,
    /// Headings hang in a margin beside the words.
    pub grid: bool,
    /// The one that does now.
    pub hanging: Option<Hanging>,
    /// A photo that can't be read.
    pub trouble: Option<String>,
}

pub(super) fn class_is(element: Element<'_>, class: &str) -> bool {
    element
        .attribute("class")
        .is_some_and(|all| all.split(' ').any(|one| one == class))
}

/// Size of the words, pt, where nothing is said.
pub(super) const BODY: f32 = 10.0;

const BLOCKS: [&str; 18] = [
    "p",
    "ul",
    "ol",
    "dl",
    "div",
    "section",
    "figure",
    "figcaption",
    "table",
    "blockquote",
    "h1",
    "h2",
    "h3",
    "h4",
    "header",
    "main",
    "details",
    "footer",
];

pub(super) fn is_block(element: Element<'_>) -> bool {
    BLOCKS.contains(&element.tag_name().name())
        || (element.tag_name().name() == "svg"
            && ["gauge", "sizes", "trend", "reading"]
                .iter()
                .any(|c| class_is(element, c)))
}

impl<'d> Flow<'d> {
    /// All that stands in `element`.
    pub fn children(&mut self, element: Element<'d>, tag: Option<TagRef>) {
        for child in element.children().filter(|child| child.is_element()) {
            self.block(child, tag);
        }
    }

    /// An element as what it is.
    pub fn block(&mut self, element: Element<'d>, tag: Option<TagRef>) {
        if class_is(element, "screen") || element.attribute("hidden").is_some() {
            return;
        }
        self.ids.extend(element.attribute("id").map(str::to_owned));
        let name = element.tag_name().name();
        match name {
            "section" => self.section(element, tag),
            "h1" | "h2" | "h3" | "h4" => self.heading(element, tag),
            "p" | "summary" => self.paragraph(element, tag),
            "blockquote" => self.quote(element, tag),
            "ul" | "ol" => self.list(element, tag),
            "dl" => self.terms(element, tag),
            "table" => self.full_width(|flow| super::table::set_table(flow, element, tag)),
            "figure" => self.full_width(|flow| super::figure::set_figure(flow, element, tag)),
            "svg" => super::figure::set_plot(self, element, tag),
            "div" if class_is(element, "pair") => {
                self.full_width(|flow| flow.side_by_side(element, 0.44, tag));
            }
            "div" if class_is(element, "heads") => self.side_by_side(element, 0.62, tag),
            "div" if class_is(element, "strip") => {
                self.full_width(|flow| super::figure::set_strip(flow, element, tag));
            }
            "div" if class_is(element, "ruled") => self.ruled(),
            "div" if ["components", "twins"].iter().any(|c| class_is(element, c)) => {
                self.full_width(|flow| flow.columns(element, tag));
            }
            "div" if class_is(element, "item") => self.barred(element, tag),
            "div" if class_is(element, "keep") => {
                let first = self.pieces.len();
                self.children(element, tag);
                self.keep_whole(first);
            }
            _ => self.children(element, tag),
        }
    }

    fn section(&mut self, element: Element<'d>, tag: Option<TagRef>) {
        let tag = self.tags.group(tag, Tag::<kind::Section>::Section);
        let look = self.look;
        let first = self.pieces.len();
        if class_is(element, "method") {
            self.look.size = LEAST_WORDS;
        }
        self.pairs = class_is(element, "cols");
        self.with_margin(|flow| flow.children(element, Some(tag)));
        self.pairs = false;
        self.look = look;
        if class_is(element, "whole") {
            self.keep_whole(first);
        }
        if class_is(element, "page")
            && let Some(piece) = self.pieces.get_mut(first)
        {
            piece.page = true;
        }
    }

    /// An empty line to write on, with its rule.
    fn ruled(&mut self) {
        let rule = Mark {
            at: [self.left, 26.0],
            size: [self.width.min(230.0), 0.6],
            slot: None,
            link: None,
            what: What::Bar(Ink::Full),
        };
        self.push(Piece {
            gap: 4.0,
            height: 28.0,
            keep: true,
            marks: vec![rule],
            ..Piece::default()
        });
    }

    fn heading(&mut self, element: Element<'d>, tag: Option<TagRef>) {
        // A question of the letter stands in the margin, under a thin rule.
        let asks = element
            .parent_element()
            .is_some_and(|parent| class_is(parent, "row"));
        let (level, size, gap) = match element.tag_name().name() {
            "h1" => (1, 19.0, 6.0),
            "h2" if asks => (2, 10.0, 5.0),
            "h2" => (2, 13.5, 14.0),
            "h3" => (3, 9.6, 6.0),
            _ => (4, 9.6, 6.0),
        };
        let words = words_of(element);
        let hangs = self.grid && (asks || level == 3);
        let number = NonZeroU16::new(level).unwrap_or(NonZeroU16::MIN);
        let own = self
            .tags
            .group(tag, Tag::<kind::Hn>::Hn(number, Some(text_string(&words))));
        let look = Look {
            size,
            bold: true,
            ink: Ink::Full,
            rise: 0.0,
        };
        self.settle();
        let first = self.pieces.len();
        let mut above = gap;
        if level == 2 && !class_is(element, "plain") {
            self.full_width(|flow| flow.rule(gap, if asks { 0.5 } else { 1.4 }));
            above = 0.0;
        }
        if hangs {
            self.hang(element, look, own, above);
        } else if level == 2 {
            self.full_width(|flow| flow.lines(element, look, own, above));
        } else {
            self.lines(element, look, own, above);
        }
        for piece in self.pieces.iter_mut().skip(first) {
            piece.keep = true;
        }
        if level <= 2
            && let Some(piece) = self.pieces.get_mut(first)
        {
            piece.title = Some(words);
        }
    }

    /// A rule under a gap, and the space under it.
    fn rule(&mut self, gap: f32, thick: f32) {
        let rule = Mark {
            at: [self.left, 0.0],
            size: [self.width, thick],
            slot: None,
            link: None,
            what: What::Bar(Ink::Full),
        };
        self.pieces.push(Piece {
            gap,
            height: if thick > 1.0 { 6.0 } else { 3.0 },
            keep: true,
            marks: vec![rule],
            ..Piece::default()
        });
    }

    fn paragraph(&mut self, element: Element<'d>, tag: Option<TagRef>) {
        let mut look = self.look;
        let mut gap = 3.0;
        match element.attribute("class") {
            Some("shop") => (look.bold, look.size) = (true, 11.0),
            Some("answer") => (look.bold, look.size, gap) = (true, 11.4, 3.0),
            Some("address" | "made" | "small" | "rendered") => {
                (look.ink, look.size) = (Ink::Soft, (look.size * 0.9).max(LEAST_WORDS));
                gap = 1.5;
            }
            Some("title" | "invented" | "number") => look.bold = true,
            _ => {}
        }
        let own = self.tags.group(tag, Tag::<kind::P>::P);
        self.lines(element, look, own, gap);
        let next = element.next_sibling_element();
        if next
            .is_some_and(|next| !next.has_tag_name("p") && !next.tag_name().name().starts_with('h'))
            && let Some(piece) = self.pieces.last_mut()
        {
            // It leads to the list, table or picture under it.
            piece.keep = true;
        }
    }

    /// A small paragraph that only the paper has.
    pub fn say(&mut self, words: &str) {
        let look = Look {
            size: self.look.size * 0.9,
            ..self.look
        };
        let own = self.tags.group(None, Tag::<kind::P>::P);
        let mut spans = Spans::of(self);
        spans.words(words, look, own, None);
        let spans = spans.list;
        self.spans(&spans, 3.0);
    }

    /// The words of an element as lines, the first under a gap.
    pub fn lines(&mut self, element: Element<'d>, look: Look, tag: TagRef, gap: f32) {
        let mut spans = Spans::of(self);
        spans.read(element, look, tag);
        let spans = spans.list;
        self.spans(&spans, gap);
    }

    /// Spans as lines; the first two and the last two of many stay together.
    pub fn spans(&mut self, spans: &[Span<Element<'d>>], gap: f32) {
        let fonts = Rc::clone(&self.fonts);
        let size = spans.first().map_or(BODY, |span| span.look.size);
        let lines = set(&fonts, spans, self.measure(size));
        let count = lines.len();
        for (n, line) in lines.into_iter().enumerate() {
            let mut piece = self.line(line);
            piece.gap = if n == 0 { self.gap_of(gap) } else { 0.0 };
            piece.keep = count > 1 && (n == 0 || n + 2 == count);
            self.push(piece);
        }
    }

    pub fn line(&mut self, line: Line<Element<'d>>) -> Piece<'d> {
        let mut marks = Vec::with_capacity(line.runs.len());
        for run in line.runs {
            let slot = run.tag.map(|tag| self.tags.slot(tag));
            let link = run
                .link
                .clone()
                .zip(run.tag)
                .map(|(to, tag)| (to, self.tags.slot(tag)));
            let (top, height) = match &run.what {
                RunOf::Glyphs { .. } => (0.0, line.height),
                RunOf::Picture(_, [_, height]) => ((line.height - height) / 2.0, *height),
            };
            marks.push(Mark {
                at: [self.left + run.x, top],
                size: [run.width, height],
                slot,
                link,
                what: What::Run {
                    run,
                    baseline: line.baseline,
                },
            });
        }
        Piece {
            height: line.height,
            marks,
            ..Piece::default()
        }
    }

    /// Adds a piece; names that wait for a place are put on it.
    pub fn push(&mut self, mut piece: Piece<'d>) {
        piece.ids.append(&mut self.ids);
        self.pieces.push(piece);
    }

    fn quote(&mut self, element: Element<'d>, tag: Option<TagRef>) {
        let own = self.tags.group(tag, Tag::<kind::BlockQuote>::BlockQuote);
        let own = self.tags.group(Some(own), Tag::<kind::P>::P);
        self.with_bar(|flow| flow.lines(element, flow.look, own, 4.0));
    }

    /// One thing that is advised: short, so that it is not torn.
    fn barred(&mut self, element: Element<'d>, tag: Option<TagRef>) {
        let first = self.pieces.len();
        self.with_bar(|flow| flow.children(element, tag));
        self.keep_whole(first);
    }

    /// The pieces from `first` on stay on one page, if they fit one.
    fn keep_whole(&mut self, first: usize) {
        let all_but_last = self.pieces.len().saturating_sub(1);
        for piece in self.pieces.iter_mut().take(all_but_last).skip(first) {
            piece.keep = true;
        }
    }

    /// Sets something further in, a bar beside it.
    pub fn with_bar(&mut self, work: impl FnOnce(&mut Flow<'d>)) {
        let first = self.pieces.len();
        let indent = 11.0;
        self.left += indent;
        self.width -= indent;
        work(self);
        self.left -= indent;
        self.width += indent;
        let left = self.left;
        for (n, piece) in self.pieces.iter_mut().skip(first).enumerate() {
            let above = if n == 0 { 0.0 } else { piece.gap };
            piece.marks.push(Mark {
                at: [left, -above],
                size: [2.4, piece.height + above],
                slot: None,
                link: None,
                what: What::Bar(Ink::Full),
            });
        }
    }
}

/// Height of pieces below each other.
pub(super) fn stacked(pieces: &[Piece<'_>]) -> f32 {
    pieces
        .iter()
        .enumerate()
        .map(|(n, piece)| piece.height + if n == 0 { 0.0 } else { piece.gap })
        .sum()
}

/// The words of an element without its references.
fn words_of(element: Element<'_>) -> String {
    element
        .descendants()
        .filter(|node| node.is_text())
        .filter_map(|node| node.text())
        .collect()
}
