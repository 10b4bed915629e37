//! The page of the report, element by element, as pieces that follow each other
//! down the paper.

use std::num::NonZeroU16;

use krilla::image::Image;
use krilla::tagging::{Tag, kind};

use super::fonts::Fonts;
use super::inline::{Element, Spans};
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
    /// An outline.
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
    /// A photo that can't be read.
    pub trouble: Option<String>,
}

pub(super) fn class_is(element: Element<'_>, class: &str) -> bool {
    element
        .attribute("class")
        .is_some_and(|all| all.split(' ').any(|one| one == class))
}

/// Size of the words, pt, where nothing is said.
pub(super) const BODY: f32 = 9.8;
/// Size of the method beside it.
const SMALL: f32 = 0.82;

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
            "table" => super::table::set_table(self, element, tag),
            "figure" => super::figure::set_figure(self, element, tag),
            "svg" => super::figure::set_plot(self, element, tag),
            "div" if class_is(element, "pair") => self.side_by_side(element, 0.44, tag),
            "div" if ["components", "twins"].iter().any(|c| class_is(element, c)) => {
                self.columns(element, tag);
            }
            "div" if class_is(element, "item") => self.barred(element, tag),
            _ => self.children(element, tag),
        }
    }

    fn section(&mut self, element: Element<'d>, tag: Option<TagRef>) {
        let tag = self.tags.group(tag, Tag::<kind::Section>::Section);
        let look = self.look;
        let first = self.pieces.len();
        if class_is(element, "method") {
            self.look.size *= SMALL;
        }
        self.pairs = class_is(element, "cols");
        self.children(element, Some(tag));
        self.pairs = false;
        self.look = look;
        if class_is(element, "method")
            && let Some(piece) = self.pieces.get_mut(first)
        {
            piece.page = true;
        }
    }

    fn heading(&mut self, element: Element<'d>, tag: Option<TagRef>) {
        let quiet = class_is(element, "quiet");
        let small = self.look.size < BODY * 0.9;
        let (level, size, gap) = match element.tag_name().name() {
            "h1" => (1, 19.0, 6.0),
            "h2" if quiet => (2, 9.0, 8.0),
            "h2" => (2, 13.5, 17.0),
            "h3" => (3, if small { 9.0 } else { 10.6 }, 9.0),
            _ => (4, 9.8, 6.0),
        };
        let words = words_of(element);
        let level = NonZeroU16::new(level).unwrap_or(NonZeroU16::MIN);
        let own = self
            .tags
            .group(tag, Tag::<kind::Hn>::Hn(level, Some(text_string(&words))));
        let look = Look {
            size,
            bold: true,
            ink: if quiet { Ink::Soft } else { Ink::Full },
            rise: 0.0,
        };
        let first = self.pieces.len();
        if level.get() == 2 && !quiet {
            // The rule above.
            let rule = Mark {
                at: [self.left, 0.0],
                size: [self.width, 1.4],
                slot: None,
                link: None,
                what: What::Bar(Ink::Full),
            };
            self.pieces.push(Piece {
                gap,
                height: 6.0,
                keep: true,
                marks: vec![rule],
                ..Piece::default()
            });
        }
        let gap = if self.pieces.len() > first { 0.0 } else { gap };
        self.lines(element, look, own, gap);
        for piece in self.pieces.iter_mut().skip(first) {
            piece.keep = true;
        }
        if level.get() <= 2
            && let Some(piece) = self.pieces.get_mut(first)
        {
            piece.title = Some(words);
        }
    }

    fn paragraph(&mut self, element: Element<'d>, tag: Option<TagRef>) {
        let mut look = self.look;
        let mut gap = 3.0;
        match element.attribute("class") {
            Some("shop") => (look.bold, look.size) = (true, 11.0),
            Some("answer") => (look.bold, look.size, gap) = (true, 14.5, 4.0),
            Some("address" | "made" | "small" | "rendered") => {
                (look.ink, look.size) = (Ink::Soft, look.size * 0.9);
                gap = 1.5;
            }
            Some("title" | "invented") => look.bold = true,
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
        let lines = set(&fonts, spans, self.width);
        let count = lines.len();
        for (n, line) in lines.into_iter().enumerate() {
            let mut piece = self.line(line);
            piece.gap = if n == 0 { gap } else { 0.0 };
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

    /// Sets `work` in a column of its own and gives its pieces.
    pub fn column(
        &mut self,
        [left, width]: [f32; 2],
        work: impl FnOnce(&mut Flow<'d>),
    ) -> Vec<Piece<'d>> {
        let outside = (std::mem::take(&mut self.pieces), self.left, self.width);
        (self.left, self.width) = (left, width.max(24.0));
        work(self);
        let inside = std::mem::take(&mut self.pieces);
        (self.pieces, self.left, self.width) = outside;
        inside
    }

    /// Columns as one piece; below each other when they would not fit a page.
    pub fn beside(&mut self, columns: Vec<Vec<Piece<'d>>>, gap: f32) {
        let height = columns
            .iter()
            .map(|column| stacked(column))
            .fold(0.0, f32::max);
        if height > self.tallest {
            for mut column in columns {
                self.pieces.append(&mut column);
            }
            return;
        }
        let mut row = Piece {
            gap,
            height,
            ..Piece::default()
        };
        for column in columns {
            let mut y = 0.0;
            for (n, piece) in column.into_iter().enumerate() {
                y += if n == 0 { 0.0 } else { piece.gap };
                row.ids.extend(piece.ids);
                row.marks.extend(piece.marks.into_iter().map(|mut mark| {
                    mark.at[1] += y;
                    mark
                }));
                y += piece.height;
            }
        }
        self.push(row);
    }

    fn side_by_side(&mut self, element: Element<'d>, share: f32, tag: Option<TagRef>) {
        let parts: Vec<Element<'d>> = element.children().filter(Element::is_element).collect();
        let [first, second] = parts.as_slice() else {
            self.children(element, tag);
            return;
        };
        let space = 16.0;
        let left = (self.width - space) * share;
        let places = [
            [self.left, left],
            [self.left + left + space, self.width - left - space],
        ];
        let columns = [first, second]
            .into_iter()
            .zip(places)
            .map(|(part, place)| self.column(place, |flow| flow.block(*part, tag)))
            .collect();
        self.beside(columns, 6.0);
    }

    /// Electrical parts, two in a row.
    fn columns(&mut self, element: Element<'d>, tag: Option<TagRef>) {
        let parts: Vec<Element<'d>> = element.children().filter(Element::is_element).collect();
        let space = 18.0;
        let width = (self.width - space) / 2.0;
        for row in parts.chunks(2) {
            let mut columns = Vec::new();
            for (n, part) in row.iter().enumerate() {
                let left = self.left + if n == 0 { 0.0 } else { width + space };
                columns.push(self.column([left, width], |flow| flow.block(*part, tag)));
            }
            self.beside(columns, 8.0);
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
