//! Words to lines: faces, shaping, direction, where a line may end.

use std::ops::Range;
use std::rc::Rc;

use krilla::text::{GlyphId, KrillaGlyph};
use rustybuzz::ttf_parser::Tag;
use rustybuzz::{Direction, Feature, UnicodeBuffer};
use unicode_bidi::{BidiInfo, Level};

use super::fonts::{FaceName, Fonts, UNKNOWN, is_unseen};
use super::tags::TagRef;
use crate::ties::may_end;

/// What a colour is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Ink {
    Full,
    Soft,
}

/// How words look. Sizes in points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Look {
    pub size: f32,
    pub bold: bool,
    pub ink: Ink,
    /// How far above the line.
    pub rise: f32,
}

/// A way to another place of the document.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct LinkTo {
    pub id: String,
    pub label: String,
}

/// Words or a small picture within a line.
pub(crate) struct Span<P> {
    pub what: Inline<P>,
    pub look: Look,
    pub tag: Option<TagRef>,
    pub link: Option<Rc<LinkTo>>,
}

pub(crate) enum Inline<P> {
    Text(String),
    /// A picture with its size.
    Picture(P, [f32; 2]),
    Break,
}

/// A set line.
pub(crate) struct Line<P> {
    pub height: f32,
    /// From the top of the line.
    pub baseline: f32,
    pub width: f32,
    pub runs: Vec<Run<P>>,
}

/// What stands in a line without a change of face, look or direction.
pub(crate) struct Run<P> {
    pub x: f32,
    pub width: f32,
    pub tag: Option<TagRef>,
    pub link: Option<Rc<LinkTo>>,
    pub look: Look,
    pub what: RunOf<P>,
}

pub(crate) enum RunOf<P> {
    Glyphs {
        face: FaceName,
        text: Rc<str>,
        glyphs: Vec<KrillaGlyph>,
    },
    Picture(P, [f32; 2]),
}

/// Nothing in a report is set smaller than this, pt.
pub(crate) const LEAST: f32 = 8.0;

/// Line height as a multiple of the size.
const LEADING: f32 = 1.36;
/// Digits as wide as each other, as on the page, so that points stand below each other.
const EVEN_DIGITS: Feature = Feature {
    tag: Tag::from_bytes(b"tnum"),
    value: 1,
    start: 0,
    end: u32::MAX,
};
/// Width of such a digit, in sizes of the letters; of both weights alike.
pub(crate) const DIGIT: f32 = 0.632;
/// Stands for a picture while the words are set.
const OBJECT: char = '\u{fffc}';

/// Sets words in lines of at most `width`.
pub(crate) fn set<P: Copy>(fonts: &Fonts, spans: &[Span<P>], width: f32) -> Vec<Line<P>> {
    let mut lines = Vec::new();
    for part in spans.split(|span| matches!(span.what, Inline::Break)) {
        Paragraph::of(fonts, part).lines(width, &mut lines);
    }
    lines
}

/// A stretch of one face, look and direction.
struct Item {
    range: Range<usize>,
    span: usize,
    /// `None` for a picture.
    face: Option<FaceName>,
    rtl: bool,
    glyphs: Vec<Glyph>,
}

struct Glyph {
    id: u32,
    cluster: usize,
    advance: f32,
    offset: [f32; 2],
}

struct Paragraph<'a, P> {
    spans: &'a [Span<P>],
    text: Rc<str>,
    items: Vec<Item>,
    /// Width of all that stands before each byte.
    before: Vec<f32>,
}

impl<'a, P: Copy> Paragraph<'a, P> {
    fn of(fonts: &Fonts, spans: &'a [Span<P>]) -> Paragraph<'a, P> {
        let mut text = String::new();
        let mut pieces: Vec<(usize, usize, Option<FaceName>)> = Vec::new();
        for (at, span) in spans.iter().enumerate() {
            match &span.what {
                Inline::Text(words) => {
                    let mut last = FaceName::Regular;
                    for letter in words.chars() {
                        let (letter, face) = known(fonts, letter, span.look.bold, last);
                        last = face;
                        pieces.push((text.len(), at, Some(face)));
                        text.push(letter);
                    }
                }
                Inline::Picture(..) => {
                    pieces.push((text.len(), at, None));
                    text.push(OBJECT);
                }
                Inline::Break => {}
            }
        }
        let bidi = BidiInfo::new(&text, Some(Level::ltr()));
        let mut items: Vec<Item> = Vec::new();
        for (n, (start, span, face)) in pieces.iter().enumerate() {
            let end = pieces.get(n + 1).map_or(text.len(), |next| next.0);
            let rtl = bidi.levels.get(*start).is_some_and(Level::is_rtl);
            match items.last_mut() {
                Some(last)
                    if last.span == *span
                        && last.face == *face
                        && last.rtl == rtl
                        && face.is_some() =>
                {
                    last.range.end = end;
                }
                _ => items.push(Item {
                    range: *start..end,
                    span: *span,
                    face: *face,
                    rtl,
                    glyphs: Vec::new(),
                }),
            }
        }
        let mut at_byte = vec![0.0_f32; text.len() + 1];
        for item in &mut items {
            shape(fonts, &text, spans, item, &mut at_byte);
        }
        let mut sum = 0.0;
        let before = at_byte
            .into_iter()
            .map(|advance| {
                let here = sum;
                sum += advance;
                here
            })
            .collect();
        Paragraph {
            spans,
            text: text.into(),
            items,
            before,
        }
    }

    fn lines(&self, width: f32, lines: &mut Vec<Line<P>>) {
        if self.text.is_empty() {
            return;
        }
        let bidi = BidiInfo::new(&self.text, Some(Level::ltr()));
        let ends: Vec<usize> = unicode_linebreak::linebreaks(&self.text)
            .map(|(at, _)| at)
            .filter(|at| may_end(&self.text, *at))
            .collect();
        let mut start = 0;
        let mut next = 0;
        while start < self.text.len() {
            let mut end = None;
            while let Some(at) = ends.get(next) {
                if self.width(start..*at) > width {
                    break;
                }
                end = Some(*at);
                next += 1;
            }
            let end = end.unwrap_or_else(|| self.cut(start, width));
            lines.push(self.line(&bidi, start..end));
            start = end;
        }
    }

    fn place(&self, at: usize) -> f32 {
        self.before.get(at).copied().unwrap_or(0.0)
    }

    /// Without the spaces at its end.
    fn width(&self, range: Range<usize>) -> f32 {
        let words = self.text.get(range.clone()).unwrap_or_default();
        let end = range.start + words.trim_end().len();
        self.place(end) - self.place(range.start)
    }

    /// Where a word that is longer than a line must be cut: at least one letter.
    fn cut(&self, start: usize, width: f32) -> usize {
        let rest = self.text.get(start..).unwrap_or_default();
        let from = self.place(start);
        let mut last = self.text.len();
        for (n, (at, _)) in rest.char_indices().enumerate().skip(1) {
            // Parts of a cluster have no width of their own: stay with its start.
            let fits = self.place(start + at) - from <= width;
            if !fits {
                return if n == 1 { start + at } else { last };
            }
            last = start + at;
        }
        self.text.len()
    }

    fn line(&self, bidi: &BidiInfo<'_>, range: Range<usize>) -> Line<P> {
        let mut line = Line {
            height: 0.0,
            baseline: 0.0,
            width: 0.0,
            runs: Vec::new(),
        };
        let mut x = 0.0;
        for para in &bidi.paragraphs {
            let part = range.start.max(para.range.start)..range.end.min(para.range.end);
            if part.is_empty() {
                continue;
            }
            let (levels, runs) = bidi.visual_runs(para, part);
            for run in runs {
                let rtl = levels.get(run.start).is_some_and(Level::is_rtl);
                let inside = self
                    .items
                    .iter()
                    .filter(|item| item.range.start < run.end && item.range.end > run.start);
                let mut inside: Vec<&Item> = inside.collect();
                if rtl {
                    inside.reverse();
                }
                for item in inside {
                    self.run(item, &run, &mut x, &mut line);
                }
            }
        }
        let (mut above, mut below) = (0.0_f32, 0.0_f32);
        // A line of raised figures alone has a height, too.
        let raised = line.runs.iter().all(|run| run.look.rise > 0.0);
        for run in &line.runs {
            let size = run.look.size;
            let (up, down) = match &run.what {
                // The size says how high the line is; small raised figures don't.
                RunOf::Glyphs { .. } if run.look.rise > 0.0 && !raised => (0.0, 0.0),
                RunOf::Glyphs { .. } => {
                    (size * (LEADING / 2.0 + 0.34), size * (LEADING / 2.0 - 0.34))
                }
                RunOf::Picture(_, [_, height]) => {
                    let up = size * 0.34 + height / 2.0 + 1.0;
                    (up, height + 2.0 - up)
                }
            };
            above = above.max(up);
            below = below.max(down);
        }
        line.baseline = above;
        line.height = above + below;
        line.width = x;
        line
    }

    fn run(&self, item: &Item, range: &Range<usize>, x: &mut f32, line: &mut Line<P>) {
        let Some(span) = self.spans.get(item.span) else {
            return;
        };
        let start = *x;
        let what = match (&span.what, item.face) {
            (Inline::Picture(picture, size), _) => {
                *x += size[0];
                RunOf::Picture(*picture, *size)
            }
            (_, Some(face)) => {
                let mut glyphs = Vec::new();
                for (n, glyph) in item.glyphs.iter().enumerate() {
                    if !range.contains(&glyph.cluster) {
                        continue;
                    }
                    let text_range = glyph.cluster..item.cluster_end(n);
                    let unseen = |text: &str| text.chars().all(is_unseen);
                    if self.text.get(text_range.clone()).is_none_or(unseen) {
                        continue;
                    }
                    *x += glyph.advance * span.look.size;
                    glyphs.push(KrillaGlyph::new(
                        GlyphId::new(glyph.id),
                        glyph.advance,
                        glyph.offset[0],
                        glyph.offset[1],
                        0.0,
                        text_range,
                        None,
                    ));
                }
                if glyphs.is_empty() {
                    return;
                }
                RunOf::Glyphs {
                    face,
                    text: Rc::clone(&self.text),
                    glyphs,
                }
            }
            (_, None) => return,
        };
        line.runs.push(Run {
            x: start,
            width: *x - start,
            tag: span.tag,
            link: span.link.clone(),
            look: span.look,
            what,
        });
    }
}

impl Item {
    /// Where the letters of a glyph end: where the next cluster begins.
    fn cluster_end(&self, n: usize) -> usize {
        let Some(own) = self.glyphs.get(n).map(|glyph| glyph.cluster) else {
            return self.range.end;
        };
        // Clusters rise along the glyphs, or fall in a run from right to left.
        let other = |glyph: &&Glyph| glyph.cluster != own;
        let next = if self.rtl {
            self.glyphs
                .get(..n)
                .and_then(|g| g.iter().rev().find(other))
        } else {
            self.glyphs.get(n..).and_then(|g| g.iter().find(other))
        };
        next.map_or(self.range.end, |glyph| glyph.cluster)
    }
}

/// A letter that some face has, and which.
fn known(fonts: &Fonts, letter: char, bold: bool, last: FaceName) -> (char, FaceName) {
    if letter == '\u{feff}' || letter == OBJECT {
        return ('\u{200b}', last);
    }
    // Other ends of lines and paragraphs than ours would part what belongs together.
    let letter = match letter {
        '\u{85}' | '\u{2028}' | '\u{2029}' => ' ',
        letter if letter.is_control() => UNKNOWN,
        letter => letter,
    };
    if is_unseen(letter) {
        return (letter, last);
    }
    match fonts.face_of(letter, bold) {
        Some(face) => (letter, face),
        None => (UNKNOWN, FaceName::Other),
    }
}

fn shape<P>(fonts: &Fonts, text: &str, spans: &[Span<P>], item: &mut Item, at_byte: &mut [f32]) {
    let Some(span) = spans.get(item.span) else {
        return;
    };
    let mut advance = |at: usize, width: f32| {
        if let Some(place) = at_byte.get_mut(at) {
            *place += width;
        }
    };
    let Some(name) = item.face else {
        if let Inline::Picture(_, [width, _]) = span.what {
            advance(item.range.start, width);
        }
        return;
    };
    let face = fonts.face(name);
    let mut buffer = UnicodeBuffer::new();
    buffer.push_str(text.get(item.range.clone()).unwrap_or_default());
    buffer.set_direction(if item.rtl {
        Direction::RightToLeft
    } else {
        Direction::LeftToRight
    });
    buffer.guess_segment_properties();
    let em = face.shaper.units_per_em() as f32;
    let shaped = rustybuzz::shape(&face.shaper, &[EVEN_DIGITS], buffer);
    for (info, place) in shaped.glyph_infos().iter().zip(shaped.glyph_positions()) {
        let cluster = item.range.start + usize::try_from(info.cluster).unwrap_or(0);
        let glyph = Glyph {
            id: info.glyph_id,
            cluster,
            advance: place.x_advance as f32 / em,
            offset: [place.x_offset as f32 / em, place.y_offset as f32 / em],
        };
        advance(cluster, glyph.advance * span.look.size);
        item.glyphs.push(glyph);
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn span(text: &str, rise: f32) -> Span<()> {
        Span {
            what: Inline::Text(text.to_owned()),
            look: Look {
                size: if rise > 0.0 { 7.0 } else { 10.0 },
                bold: false,
                ink: Ink::Full,
                rise,
            },
            tag: None,
            link: None,
        }
    }

    /// Figures that a line ended before lay over the next line once.
    #[test]
    fn raised_figures_alone_in_a_line_take_up_room() {
        let fonts = Fonts::read().unwrap();
        let spans = [
            span("some words (in brackets)", 0.0),
            span("[14][15][16]", 3.0),
        ];
        for width in [20.0, 40.0, 90.0, 400.0] {
            for line in set(&fonts, &spans, width) {
                assert!(line.height > 7.0, "{} at {width}", line.height);
            }
        }
    }

    #[test]
    fn digits_are_as_wide_as_each_other() {
        let fonts = Fonts::read().unwrap();
        let widths = ["111", "888"].map(|n| set(&fonts, &[span(n, 0.0)], 99.0)[0].width);
        assert!(
            widths
                .iter()
                .all(|width| (width - 30.0 * DIGIT).abs() < 0.01),
            "{widths:?}"
        );
    }

    #[test]
    fn lines_keep_to_their_width_and_lose_nothing() {
        let fonts = Fonts::read().unwrap();
        let text = "Loose pieces travel with the oil and wear out parts.";
        let whole = set(&fonts, &[span(text, 0.0)], 1.0e5);
        assert_eq!(whole.len(), 1);
        let lines = set(&fonts, &[span(text, 0.0)], 80.0);
        assert!(lines.len() > 3 && lines.iter().all(|line| line.width <= 84.0));
        let sum: f32 = lines.iter().map(|line| line.width).sum();
        assert!(
            (sum - whole[0].width).abs() < 0.5,
            "{sum} of {}",
            whole[0].width
        );
    }
}
