//! Pieces to pages, and their painting.

use std::collections::BTreeMap;
use std::rc::Rc;
use swarfbook_words::id;

use krilla::Document;
use krilla::annotation::{Annotation, LinkAnnotation, Target};
use krilla::destination::XyzDestination;
use krilla::geom::{PathBuilder, Point, Rect, Size, Transform};
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::Stroke;
use krilla::surface::Surface;
use krilla::tagging::{Artifact, ArtifactType, ContentTag, SpanTag};

use super::Paper;
use super::flow::{Mark, Piece, What};
use super::fonts::Fonts;
use super::strings::text_string;
use super::svg::{self, ink, plain};
use super::tags::{Slot, Tags};
use super::text::{Ink, Inline, LEAST, LinkTo, Look, Run, RunOf, Span, set};
use crate::ReportError;
use crate::words::Words;

/// A piece with its top on its page.
struct Placed<'d> {
    piece: Piece<'d>,
    top: f32,
}

/// How long a group may be that stays together, as a part of the page.
const TOGETHER: f32 = 0.7;

/// What of a page may be left empty before it looks like a gap.
const GAP: f32 = 0.16;

/// Where each piece stands: its page, counted from 0, and its top. None is cut, and
/// none that must be kept with the next stands last.
fn places(pieces: &[Piece<'_>], paper: Paper) -> Vec<(usize, f32)> {
    let (top, bottom) = (paper.top(), paper.bottom());
    let mut places = Vec::with_capacity(pieces.len());
    let (mut page, mut y, mut fresh) = (0, top, true);
    let mut rest = pieces;
    while !rest.is_empty() {
        // What must stay together; of what no page should be given up for, the next two.
        let mut count = 0;
        let mut height: f32 = 0.0;
        for piece in rest {
            height += piece.gap + piece.height;
            count += 1;
            if !piece.keep {
                break;
            }
            if height >= (bottom - top) * TOGETHER {
                count = count.min(2);
                break;
            }
        }
        let height: f32 = rest.iter().take(count).map(|p| p.gap + p.height).sum();
        let (group, after) = rest.split_at(count);
        rest = after;
        if !fresh && (group.first().is_some_and(|p| p.page) || y + height > bottom) {
            page += 1;
            y = top;
            fresh = true;
        }
        for piece in group {
            y += if fresh { 0.0 } else { piece.gap };
            places.push((page, y));
            y += piece.height;
            fresh = false;
        }
    }
    places
}

/// How ill they sit: the pages on which what begins one of its own begins, so that the letter
/// has its two; then those with a gap, and all that they need.
pub(super) fn cost(pieces: &[Piece<'_>], paper: Paper) -> (usize, usize, usize) {
    let places = places(pieces, paper);
    let gap = (paper.bottom() - paper.top()) * GAP;
    let ends = places
        .iter()
        .zip(pieces)
        .zip(places.iter().zip(pieces).skip(1));
    let gaps = ends.filter(|(((page, top), piece), ((next_page, _), next))| {
        next_page > page && !next.page && top + piece.height < paper.bottom() - gap
    });
    let begins = places.iter().zip(pieces).filter(|(_, piece)| piece.page);
    (
        begins.map(|((page, _), _)| page).sum(),
        gaps.count(),
        places.last().map_or(0, |last| last.0 + 1),
    )
}

/// Puts pieces on their pages.
fn paginate<'d>(pieces: Vec<Piece<'d>>, paper: Paper) -> Vec<Vec<Placed<'d>>> {
    let places = places(&pieces, paper);
    let mut pages: Vec<Vec<Placed<'d>>> = vec![Vec::new()];
    for (piece, (page, top)) in pieces.into_iter().zip(places) {
        if page >= pages.len() {
            pages.push(Vec::new());
        }
        if let Some(last) = pages.last_mut() {
            last.push(Placed { piece, top });
        }
    }
    pages
}

/// Paints all pages; gives the outline.
pub(super) fn paint(
    document: &mut Document,
    fonts: &Fonts,
    tags: &mut Tags,
    pieces: Vec<Piece<'_>>,
    paper: Paper,
    foot: &Foot<'_>,
) -> Result<(), ReportError> {
    let pages = paginate(pieces, paper);
    let mut places: BTreeMap<String, XyzDestination> = BTreeMap::new();
    let mut numbers: BTreeMap<String, usize> = BTreeMap::new();
    let mut outline = Outline::new();
    for (number, page) in pages.iter().enumerate() {
        for placed in page {
            let at = || XyzDestination::new(number, Point::from_xy(paper.side(), placed.top));
            for id in &placed.piece.ids {
                places.insert(id.clone(), at());
                numbers.insert(id.clone(), number + 1);
            }
            if let Some(title) = &placed.piece.title {
                outline.push_child(OutlineNode::new(text_string(title), at()));
            }
        }
    }
    let [width, height] = paper.size();
    let count = pages.len();
    for (number, placed) in pages.into_iter().enumerate() {
        let settings = PageSettings::from_wh(width, height)
            .ok_or_else(|| ReportError::Pdf("the paper has no size".into()))?;
        let mut page = document.start_page_with(settings);
        let mut links = Vec::new();
        let mut surface = page.surface();
        for Placed { piece, top } in placed {
            for mark in piece.marks {
                paint_mark(&mut surface, fonts, tags, mark, top, &mut links, &numbers);
            }
        }
        foot.paint(&mut surface, fonts, paper, number + 1, count);
        surface.finish();
        for (link, slot, [x, y, wide, high]) in links {
            let (Some(place), Some(rect)) =
                (places.get(&link.id), Rect::from_xywh(x, y, wide, high))
            else {
                continue;
            };
            let to = LinkAnnotation::new(rect, Target::Destination(place.clone().into()));
            let annotation = Annotation::new_link(to, Some(text_string(&link.label)));
            tags.fill(slot, page.add_tagged_annotation(annotation));
        }
        page.finish();
    }
    document.set_outline(outline);
    Ok(())
}

type LinkAt = (Rc<LinkTo>, Slot, [f32; 4]);

fn paint_mark(
    surface: &mut Surface<'_>,
    fonts: &Fonts,
    tags: &mut Tags,
    mark: Mark<'_>,
    top: f32,
    links: &mut Vec<LinkAt>,
    numbers: &BTreeMap<String, usize>,
) {
    let [x, y] = [mark.at[0], mark.at[1] + top];
    let [wide, high] = mark.size;
    let tag = match (mark.slot, &mark.what) {
        (None, _) => ContentTag::Artifact(Artifact::with_kind(ArtifactType::Layout)),
        (Some(_), What::Run { .. } | What::PageOf(_)) => ContentTag::Span(SpanTag::empty()),
        (Some(_), _) => ContentTag::Other,
    };
    let painted = surface.start_tagged(tag);
    match mark.what {
        What::Run { run, baseline } => {
            let up = baseline - run.look.rise;
            paint_run(surface, fonts, &run, [x, y + up], [x, y, wide, high]);
        }
        What::Svg(picture) => svg::paint(surface, fonts, picture, [x, y, wide, high]),
        What::Photo { image, over } => {
            if let Some(size) = Size::from_wh(wide, high) {
                surface.push_transform(&Transform::from_translate(x, y));
                surface.draw_image(image, size);
                surface.pop();
            }
            if let Some(over) = over {
                svg::paint(surface, fonts, over, [x, y, wide, high]);
            }
        }
        What::PageOf(id) => {
            if let Some(number) = numbers.get(&id) {
                let look = Look {
                    size: super::flow::BODY,
                    bold: false,
                    ink: Ink::Full,
                    rise: 0.0,
                };
                let baseline = y + super::flow::BODY * 1.02;
                ending_at(surface, fonts, number.to_string(), look, [x, baseline]);
            }
        }
        What::Bar(colour) => {
            surface.set_stroke(None);
            surface.set_fill(Some(plain(ink(colour), 1.0)));
            rectangle(surface, [x, y, wide, high]);
        }
        What::Frame => {
            surface.set_fill(None);
            surface.set_stroke(Some(Stroke {
                paint: ink(Ink::Full).into(),
                width: 0.6,
                ..Stroke::default()
            }));
            rectangle(surface, [x, y, wide, high]);
        }
    }
    surface.end_tagged();
    if let Some(slot) = mark.slot {
        tags.fill(slot, painted);
    }
    if let Some((link, slot)) = mark.link {
        links.push((link, slot, [x, y, wide, high]));
    }
}

fn rectangle(surface: &mut Surface<'_>, [x, y, wide, high]: [f32; 4]) {
    let mut path = PathBuilder::new();
    if let Some(rect) = Rect::from_xywh(x, y, wide, high) {
        path.push_rect(rect);
    }
    if let Some(path) = path.finish() {
        surface.draw_path(&path);
    }
}

fn paint_run<'d>(
    surface: &mut Surface<'_>,
    fonts: &Fonts,
    run: &Run<super::inline::Element<'d>>,
    [x, y]: [f32; 2],
    place: [f32; 4],
) {
    match &run.what {
        RunOf::Glyphs { face, text, glyphs } => {
            surface.set_stroke(None);
            surface.set_fill(Some(plain(ink(run.look.ink), 1.0)));
            let font = fonts.face(*face).font.clone();
            let at = Point::from_xy(x, y);
            surface.draw_glyphs(at, glyphs, font, text, run.look.size, false);
        }
        RunOf::Picture(picture, _) => svg::paint(surface, fonts, *picture, place),
    }
}

/// Words on a baseline that end at a place.
fn ending_at(
    surface: &mut Surface<'_>,
    fonts: &Fonts,
    text: String,
    look: Look,
    [right, baseline]: [f32; 2],
) {
    let span: Span<super::inline::Element<'_>> = Span {
        what: Inline::Text(text),
        look,
        tag: None,
        link: None,
    };
    let lines = set(fonts, &[span], 1.0e5);
    let Some(line) = lines.first() else { return };
    for run in &line.runs {
        let at = [right - line.width + run.x, baseline];
        paint_run(surface, fonts, run, at, [0.0; 4]);
    }
}

/// What stands at the foot of each page: decoration, since it says nothing new.
pub(super) struct Foot<'a> {
    pub words: &'a Words,
    pub title: &'a str,
}

impl Foot<'_> {
    fn paint(&self, surface: &mut Surface<'_>, fonts: &Fonts, paper: Paper, n: usize, all: usize) {
        let (n, all) = (n.to_string(), all.to_string());
        let page = self
            .words
            .fill(id!("report-page-foot"), &[("n", &n), ("all", &all)]);
        let title: String = self.title.chars().take(110).collect();
        let look = Look {
            size: LEAST,
            bold: false,
            ink: Ink::Soft,
            rise: 0.0,
        };
        let [_, height] = paper.size();
        surface.start_tagged(ContentTag::Artifact(Artifact::with_kind(
            ArtifactType::Footer,
        )));
        let foot = height - 26.0;
        let span: Span<super::inline::Element<'_>> = Span {
            what: Inline::Text(title),
            look,
            tag: None,
            link: None,
        };
        let lines = set(fonts, &[span], paper.width() * 0.84);
        for run in lines.first().iter().flat_map(|line| &line.runs) {
            paint_run(surface, fonts, run, [paper.side() + run.x, foot], [0.0; 4]);
        }
        let right = paper.side() + paper.width();
        ending_at(surface, fonts, page, look, [right, foot]);
        surface.end_tagged();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Room for the words of an A4 page: about 749 pt.
    const PAPER: Paper = Paper::A4;

    fn piece(height: f32, keep: bool) -> Piece<'static> {
        Piece {
            height,
            keep,
            ..Piece::default()
        }
    }

    fn begins_a_page(height: f32) -> Piece<'static> {
        Piece {
            page: true,
            ..piece(height, false)
        }
    }

    fn pages(pieces: &[Piece<'_>]) -> Vec<usize> {
        places(pieces, PAPER).iter().map(|place| place.0).collect()
    }

    #[test]
    fn what_is_kept_with_the_next_goes_over_with_it() {
        let all = [piece(700.0, false), piece(20.0, true), piece(40.0, false)];
        assert_eq!(pages(&all), [0, 1, 1]);
        let fits = [piece(600.0, false), piece(20.0, true), piece(40.0, false)];
        assert_eq!(pages(&fits), [0, 0, 0]);
    }

    #[test]
    fn what_no_page_can_hold_together_is_broken() {
        let all: Vec<Piece<'_>> = (0..20).map(|_| piece(100.0, true)).collect();
        let pages = pages(&all);
        assert_eq!(pages.first(), Some(&0));
        assert!(pages.windows(2).all(|two| two[1] - two[0] <= 1));
        let first = pages.iter().filter(|page| **page == 0).count();
        assert!(first >= 6, "{first} of 7 that fit");
    }

    #[test]
    fn no_piece_passes_the_foot() {
        let all: Vec<Piece<'_>> = (0..90).map(|n| piece(31.0, n % 3 == 0)).collect();
        for (piece, (_, top)) in all.iter().zip(places(&all, PAPER)) {
            assert!(top + piece.height <= PAPER.bottom());
        }
    }

    #[test]
    fn a_part_of_its_own_page_begins_one() {
        let all = [piece(40.0, false), begins_a_page(400.0), piece(40.0, false)];
        assert_eq!(pages(&all), [0, 1, 1]);
        assert_eq!(pages(&all[1..]), [0, 0], "the first does already");
    }

    #[test]
    fn pages_and_gaps_are_counted() {
        assert_eq!(cost(&[], PAPER), (0, 0, 0));
        let full = [piece(700.0, false), piece(200.0, false)];
        assert_eq!(cost(&full, PAPER), (0, 0, 2), "the last may be empty");
        let gap = [piece(500.0, false), piece(300.0, false)];
        assert_eq!(cost(&gap, PAPER), (0, 1, 2));
        let meant = [piece(500.0, false), begins_a_page(300.0)];
        assert_eq!(cost(&meant, PAPER), (1, 0, 2));
    }
}
