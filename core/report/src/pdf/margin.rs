//! The grid: headings hang in a margin on the left, words stand in a column of 45 to 75
//! letters beside them, and tables, plots and photos take both.

use std::rc::Rc;

use super::flow::{Flow, Piece, stacked};
use super::inline::{Element, Spans};
use super::tags::TagRef;
use super::text::{Look, set};

/// Width of the margin with its headings, pt.
const MARGIN: f32 = 112.0;
/// Between margin and words, pt.
const GUTTER: f32 = 12.0;
/// No line of running words is wider than so many times its size: some 75 letters.
const MEASURE: f32 = 33.5;
/// Running words are not set smaller, pt.
pub(super) const LEAST_WORDS: f32 = 9.0;

/// A heading that hangs, until what stands beside it is as high.
pub(super) struct Hanging {
    /// Where what stands beside it begins.
    first: usize,
    height: f32,
}

impl<'d> Flow<'d> {
    /// The words' own column beside the margin, as long as `work` sets.
    pub fn with_margin(&mut self, work: impl FnOnce(&mut Flow<'d>)) {
        if self.grid {
            work(self);
            return;
        }
        let outside = (self.left, self.width);
        self.grid = true;
        self.left += MARGIN + GUTTER;
        self.width -= MARGIN + GUTTER;
        work(self);
        self.settle();
        self.grid = false;
        (self.left, self.width) = outside;
    }

    /// Both columns, as long as `work` sets.
    pub fn full_width(&mut self, work: impl FnOnce(&mut Flow<'d>)) {
        if !self.grid {
            work(self);
            return;
        }
        self.settle();
        let outside = (self.left, self.width);
        self.left -= MARGIN + GUTTER;
        self.width += MARGIN + GUTTER;
        self.grid = false;
        work(self);
        self.grid = true;
        (self.left, self.width) = outside;
    }

    /// A heading in the margin; what follows begins on its line.
    pub fn hang(&mut self, element: Element<'d>, look: Look, tag: TagRef, gap: f32) {
        self.settle();
        let fonts = Rc::clone(&self.fonts);
        let mut spans = Spans::of(self);
        spans.read(element, look, tag);
        let spans = spans.list;
        let lines = set(&fonts, &spans, MARGIN);
        let left = self.left;
        self.left -= MARGIN + GUTTER;
        let mut all = Piece {
            gap,
            keep: true,
            ..Piece::default()
        };
        let mut y = 0.0;
        for line in lines {
            let piece = self.line(line);
            all.marks.extend(piece.marks.into_iter().map(|mut mark| {
                mark.at[1] += y;
                mark
            }));
            y += piece.height;
        }
        self.left = left;
        self.push(all);
        self.hanging = Some(Hanging {
            first: self.pieces.len(),
            height: y,
        });
    }

    /// The space above what begins on the line of a heading is the heading's.
    pub fn gap_of(&self, gap: f32) -> f32 {
        match &self.hanging {
            Some(hanging) if hanging.first == self.pieces.len() => 0.0,
            _ => gap,
        }
    }

    /// Whatever follows stands under the heading that hangs.
    pub fn settle(&mut self) {
        let Some(hanging) = self.hanging.take() else {
            return;
        };
        let beside = self.pieces.get(hanging.first..).unwrap_or_default();
        let short = hanging.height - stacked(beside);
        if short > 0.0 {
            self.pieces.push(Piece {
                height: short,
                keep: beside.is_empty(),
                ..Piece::default()
            });
        }
    }

    /// The width of running words of that size.
    pub fn measure(&self, size: f32) -> f32 {
        if self.grid {
            self.width.min(size * MEASURE)
        } else {
            self.width
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::fonts::Fonts;
    use super::super::text::{Ink, Inline, Look, Span, set};
    use super::*;
    use crate::words::Words;

    #[test]
    fn lines_of_running_words_have_45_to_75_letters() {
        let fonts = Fonts::read().unwrap();
        for lang in ["en", "de"] {
            let words = Words::of(lang);
            let method = words.method();
            let texts = method.iter().map(|one| one.text.as_str());
            let texts: Vec<&str> = texts.collect();
            for size in [LEAST_WORDS, 9.4, 10.0] {
                let mut lengths = Vec::new();
                for text in &texts {
                    let look = Look {
                        size,
                        bold: false,
                        ink: Ink::Full,
                        rise: 0.0,
                    };
                    let span: Span<()> = Span {
                        what: Inline::Text((*text).to_owned()),
                        look,
                        tag: None,
                        link: None,
                    };
                    let lines = set(&fonts, &[span], size * MEASURE);
                    let letters = text.chars().count();
                    let whole = letters as f64 / lines.len() as f64;
                    if lines.len() > 2 {
                        lengths.push(whole);
                    }
                }
                assert!(lengths.len() > 3);
                for length in lengths {
                    assert!((45.0..=75.0).contains(&length), "{lang} {size}: {length}");
                }
            }
        }
    }
}
