//! Lists and terms: rows down the paper, short ones two beside each other.

use std::rc::Rc;

use krilla::tagging::{ListNumbering, Tag, TagKind, kind};

use super::flow::{Flow, Mark, What, class_is, is_block};
use super::inline::{Element, Spans};
use super::margin::LEAST_WORDS;
use super::tags::TagRef;
use super::text::{LEAST, Look, Span, set};

/// How far the words of a list stand from its bullets.
const BULLET: f32 = 10.0;

impl<'d> Flow<'d> {
    /// A list of items.
    pub fn list(&mut self, element: Element<'d>, tag: Option<TagRef>) {
        if class_is(element, "contents") {
            self.full_width(|flow| flow.contents(element, tag));
            return;
        }
        let bare = ["legend", "findings", "reasons", "swatches", "sources"]
            .iter()
            .any(|class| class_is(element, class));
        let own = self.tags.group(
            tag,
            Tag::<kind::L>::L(if bare {
                ListNumbering::None
            } else {
                ListNumbering::Disc
            }),
        );
        let mut look = self.look;
        let ledger = class_is(element, "sources");
        if ledger {
            look.size = LEAST;
        }
        look.bold = class_is(element, "findings");
        let items: Vec<Element<'d>> = element
            .children()
            .filter(|child| child.has_tag_name("li"))
            .collect();
        let pairs = self.pairs && !bare;
        let short: Vec<bool> = items
            .iter()
            .map(|item| pairs && self.fits_half(*item, look))
            .collect();
        let reasons = class_is(element, "reasons");
        let work = |flow: &mut Flow<'d>, at: usize| {
            let Some(item) = items.get(at) else { return };
            let li = flow.tags.group(Some(own), Tag::<kind::LI>::LI);
            if reasons {
                flow.reason(*item, li, look);
            } else if ledger {
                flow.full_width(|flow| flow.entry(*item, li, look));
            } else {
                flow.item(*item, li, look, bare, class_is(element, "findings"));
            }
        };
        self.rows(&short, work);
    }

    /// What there is, each with its page.
    fn contents(&mut self, element: Element<'d>, tag: Option<TagRef>) {
        let own = self.tags.group(tag, Tag::<kind::L>::L(ListNumbering::None));
        let items: Vec<Element<'d>> = element
            .children()
            .filter(|child| child.has_tag_name("li"))
            .collect();
        // Two columns, each read down.
        let [half, space] = self.half();
        let places = [[self.left, half], [self.left + half + space, half]];
        let columns = items
            .chunks(items.len().div_ceil(2).max(1))
            .zip(places)
            .map(|(part, place)| {
                self.column(place, |flow| {
                    part.iter().for_each(|item| flow.content(*item, own));
                })
            })
            .collect();
        self.beside(columns, 1.0);
    }

    fn content(&mut self, item: Element<'d>, list: TagRef) {
        let li = self.tags.group(Some(list), Tag::<kind::LI>::LI);
        let body = self.tags.group(Some(li), Tag::<kind::LBody>::LBody);
        let link = item.children().find(|child| child.has_tag_name("a"));
        let id = link.and_then(|link| link.attribute("href"));
        // Room for the number.
        let width = self.width;
        self.width -= 22.0;
        let look = Look {
            size: LEAST_WORDS,
            ..self.look
        };
        self.lines(item, look, body, 1.0);
        self.width = width;
        let at = [self.left + self.width, 0.0];
        let slot = self.tags.slot(body);
        if let (Some(id), Some(piece)) = (id, self.pieces.last_mut()) {
            piece.marks.push(Mark {
                at,
                size: [0.0, piece.height],
                slot: Some(slot),
                link: None,
                what: What::PageOf(id.trim_start_matches('#').to_owned()),
            });
        }
    }

    fn item(&mut self, item: Element<'d>, li: TagRef, look: Look, bare: bool, bar: bool) {
        self.ids.extend(item.attribute("id").map(str::to_owned));
        if bar {
            let body = self.tags.group(Some(li), Tag::<kind::LBody>::LBody);
            self.with_bar(|flow| flow.lines(item, look, body, 3.0));
            return;
        }
        let indent = if bare { 0.0 } else { BULLET };
        if !bare {
            let label = self.tags.group(Some(li), Tag::<kind::Lbl>::Lbl);
            let mut bullet = Spans::of(self);
            bullet.words("•", look, label, None);
            let bullet = bullet.list;
            let fonts = Rc::clone(&self.fonts);
            for line in set(&fonts, &bullet, self.width) {
                let mut piece = self.line(line);
                // The words beside it give the height.
                piece.gap = self.gap_of(2.0);
                piece.height = 0.0;
                piece.keep = true;
                self.push(piece);
            }
        }
        let body = self.tags.group(Some(li), Tag::<kind::LBody>::LBody);
        self.left += indent;
        self.width -= indent;
        if item
            .children()
            .any(|child| child.is_element() && is_block(child))
        {
            self.children(item, Some(body));
        } else {
            // The bullet has the space above; a long list of small words needs less.
            let gap = if !bare {
                0.0
            } else if look.size < self.look.size {
                1.0
            } else {
                2.0
            };
            self.lines(item, look, body, gap);
        }
        self.left -= indent;
        self.width += indent;
    }

    /// A line of the log: what, when and by whom on the left, what was written on the right.
    fn entry(&mut self, item: Element<'d>, li: TagRef, look: Look) {
        self.ids.extend(item.attribute("id").map(str::to_owned));
        let body = self.tags.group(Some(li), Tag::<kind::LBody>::LBody);
        let (when, space) = (176.0, 12.0);
        let places = [
            [self.left, when],
            [self.left + when + space, self.width - when - space],
        ];
        let columns = item
            .children()
            .filter(Element::is_element)
            .zip(places)
            .map(|(part, place)| self.column(place, |flow| flow.lines(part, look, body, 0.0)))
            .collect();
        self.beside(columns, 3.0);
    }

    /// A reason: its share in figures and as a bar, each in its column, and its words.
    fn reason(&mut self, item: Element<'d>, li: TagRef, look: Look) {
        let body = self.tags.group(Some(li), Tag::<kind::LBody>::LBody);
        let mut left = self.left;
        let mut columns = Vec::new();
        for part in item.children().filter(Element::is_element) {
            if class_is(part, "share") {
                for (child, width) in part
                    .children()
                    .filter(Element::is_element)
                    .zip([36.0, 62.0])
                {
                    let mut spans = Spans::of(self);
                    spans.element(child, look, body);
                    let spans = spans.list;
                    columns.push(self.column([left, width], |flow| flow.spans(&spans, 0.0)));
                    left += width;
                }
            } else {
                let width = self.left + self.width - left;
                let words = |flow: &mut Flow<'d>| flow.lines(part, look, body, 0.0);
                columns.push(self.column([left, width], words));
            }
        }
        super::table::level(&mut columns);
        self.beside(columns, 2.0);
    }

    /// Rows one after another; two that are short and follow each other side by side.
    fn rows(&mut self, short: &[bool], work: impl Fn(&mut Flow<'d>, usize)) {
        let [half, space] = self.half();
        let mut ends = Vec::new();
        let mut at = 0;
        while let Some(first) = short.get(at) {
            if *first && short.get(at + 1).is_some_and(|second| *second) {
                let places = [[self.left, half], [self.left + half + space, half]];
                let columns = (at..).zip(places).map(|(at, place)| {
                    let mut column = self.column(place, |flow| work(flow, at));
                    // The space above is the row's.
                    if let Some(piece) = column.first_mut() {
                        piece.gap = 0.0;
                    }
                    column
                });
                let columns = columns.collect();
                self.beside(columns, 2.0);
                at += 2;
            } else {
                work(self, at);
                at += 1;
            }
            ends.push(self.pieces.len().saturating_sub(1));
        }
        self.bind(&ends);
    }

    /// Width of a half of the page, and the space between the two.
    fn half(&self) -> [f32; 2] {
        let space = 18.0;
        [(self.width - space) / 2.0, space]
    }

    /// Whether an item's words take one line of a half.
    fn fits_half(&mut self, item: Element<'d>, look: Look) -> bool {
        // Measured only: this tag is never painted under, so it is left out.
        let nowhere = self.tags.later(None, Tag::<kind::Div>::Div);
        let mut spans = Spans::of(self);
        spans.read(item, look, nowhere);
        let spans = spans.list;
        self.one_line(&spans, BULLET)
    }

    fn one_line(&self, spans: &[Span<Element<'d>>], indent: f32) -> bool {
        let [half, _] = self.half();
        set(&self.fonts, spans, half - indent).len() <= 1
    }

    /// "Name: what it is", a row each.
    pub fn terms(&mut self, element: Element<'d>, tag: Option<TagRef>) {
        let own = self.tags.group(tag, Tag::<kind::L>::L(ListNumbering::None));
        let rows = element.children().filter(|child| child.has_tag_name("div"));
        let mut look = self.look;
        if class_is(element, "small") {
            look.size = LEAST_WORDS;
        }
        let mut all = Vec::new();
        for row in rows {
            let li = self.tags.group(Some(own), Tag::<kind::LI>::LI);
            let mut spans = Vec::new();
            for part in row.children().filter(|child| child.is_element()) {
                let term = part.has_tag_name("dt");
                let kind: TagKind = if term {
                    Tag::<kind::Lbl>::Lbl.into()
                } else {
                    Tag::<kind::LBody>::LBody.into()
                };
                let under = self.tags.group(Some(li), kind);
                let mut more = Spans::of(self);
                let look = Look { bold: term, ..look };
                more.read(part, look, under);
                if term {
                    let name: String = part.descendants().filter_map(|one| one.text()).collect();
                    let asks = name.ends_with(['?', ':']);
                    more.words(if asks { " " } else { ": " }, look, under, None);
                }
                spans.append(&mut more.list);
            }
            all.push(spans);
        }
        let short: Vec<bool> = all
            .iter()
            .map(|spans| self.pairs && self.one_line(spans, 0.0))
            .collect();
        self.rows(&short, |flow, at| {
            if let Some(spans) = all.get(at) {
                flow.spans(spans, 2.0);
            }
        });
    }

    /// The first two and the last two of many rows stay together, as lines do;
    /// `ends` are the places of each row's last piece.
    pub fn bind(&mut self, ends: &[usize]) {
        if let [first, .., before_last, _] | [first @ before_last, _] = ends {
            for at in [first, before_last] {
                if let Some(piece) = self.pieces.get_mut(*at) {
                    piece.keep = true;
                }
            }
        }
    }
}
