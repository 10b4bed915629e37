//! Words and small pictures of an element, as they follow each other in lines.

use std::rc::Rc;

use krilla::tagging::{Tag, TagKind};
use roxmltree::Node;

use super::flow::{Flow, class_is};
use super::tags::TagRef;
use super::text::{DIGIT, Ink, Inline, LEAST, LinkTo, Look, Span};

/// A part of the page that the PDF is set from.
pub(super) type Element<'d> = Node<'d, 'd>;

/// Collects the spans of an element.
pub(super) struct Spans<'f, 'd> {
    pub list: Vec<Span<Element<'d>>>,
    flow: &'f mut Flow<'d>,
}

impl<'f, 'd> Spans<'f, 'd> {
    pub fn of(flow: &'f mut Flow<'d>) -> Spans<'f, 'd> {
        Spans {
            list: Vec::new(),
            flow,
        }
    }

    /// The words of `element`, painted under `tag`.
    pub fn read(&mut self, element: Element<'d>, look: Look, tag: TagRef) {
        for child in element.children() {
            if let Some(text) = child.text().filter(|_| child.is_text()) {
                self.words(text, look, tag, None);
            } else if child.is_element() {
                self.element(child, look, tag);
            }
        }
    }

    /// Words, their white space as HTML has it: one space for many, none at the start.
    pub fn words(&mut self, text: &str, look: Look, tag: TagRef, link: Option<Rc<LinkTo>>) {
        let mut words = String::with_capacity(text.len());
        let mut space = match self.list.last().map(|span| &span.what) {
            None | Some(Inline::Break) => true,
            Some(Inline::Text(before)) => before.ends_with(' '),
            Some(Inline::Picture(..)) => false,
        };
        for letter in text.chars() {
            if matches!(letter, ' ' | '\n' | '\t' | '\r') {
                if !space {
                    words.push(' ');
                }
                space = true;
            } else {
                words.push(letter);
                space = false;
            }
        }
        if !words.is_empty() {
            let look = Look {
                size: look.size.max(LEAST),
                ..look
            };
            self.list.push(Span {
                what: Inline::Text(words),
                look,
                tag: Some(tag),
                link,
            });
        }
    }

    /// One element as it stands among words.
    pub fn element(&mut self, element: Element<'d>, look: Look, tag: TagRef) {
        match element.tag_name().name() {
            "br" => self.list.push(Span {
                what: Inline::Break,
                look,
                tag: None,
                link: None,
            }),
            "b" | "strong" => {
                let tag = self
                    .flow
                    .tags
                    .later(Some(tag), Tag::<krilla::tagging::kind::Strong>::Strong);
                self.read(element, Look { bold: true, ..look }, tag);
            }
            "code" => {
                let tag = self
                    .flow
                    .tags
                    .later(Some(tag), Tag::<krilla::tagging::kind::Code>::Code);
                let look = Look {
                    size: look.size * 0.92,
                    ink: Ink::Soft,
                    ..look
                };
                self.read(element, look, tag);
            }
            // What others wrote keeps its own direction.
            "bdi" => {
                self.words("\u{2068}", look, tag, None);
                self.read(element, look, tag);
                self.words("\u{2069}", look, tag, None);
            }
            "a" => self.link(element, look, tag),
            "svg" if class_is(element, "pad") => {
                let digits = element.attribute("data-digits");
                let digits: f32 = digits.and_then(|n| n.parse().ok()).unwrap_or(0.0);
                self.list.push(Span {
                    what: Inline::Picture(element, [digits * DIGIT * look.size, 0.1]),
                    look,
                    tag: None,
                    link: None,
                });
                // The number stands with it.
                self.words("\u{2060}", look, tag, None);
            }
            "svg" => {
                let size = inline_size(element);
                self.list.push(Span {
                    what: Inline::Picture(element, size),
                    look,
                    tag: None,
                    link: None,
                });
                self.words("\u{a0}", look, tag, None);
            }
            _ => self.read(element, look, tag),
        }
    }

    fn link(&mut self, element: Element<'d>, look: Look, tag: TagRef) {
        let id = element.attribute("href").unwrap_or_default();
        let words: String = element
            .descendants()
            .filter(|node| node.is_text())
            .filter_map(|node| node.text())
            .collect();
        let label = element.attribute("aria-label").unwrap_or(&words);
        let to = Rc::new(LinkTo {
            id: id.trim_start_matches('#').to_owned(),
            label: label.to_owned(),
        });
        let kind: TagKind = Tag::<krilla::tagging::kind::Link>::Link.into();
        let tag = self.flow.tags.later(Some(tag), kind);
        let look = if class_is(element, "ref") {
            Look {
                size: LEAST,
                rise: look.size * 0.2,
                bold: false,
                ink: Ink::Full,
            }
        } else {
            look
        };
        self.words(&words, look, tag, Some(to));
    }
}

/// Width and height of a picture that stands among words, in points.
fn inline_size(element: Element<'_>) -> [f32; 2] {
    match element.attribute("class") {
        Some("shape") => [15.0, 15.0],
        Some("bar") => [50.0, 6.0],
        Some("line") => [30.0, 8.75],
        _ => [30.0, 17.5],
    }
}
