//! Tables: columns as wide as their words want, rows that are not broken.

use std::rc::Rc;

use krilla::tagging::{TableHeaderScope, Tag, TagKind, kind};

use super::flow::{Flow, Mark, Piece, What, class_is};
use super::inline::{Element, Spans};
use super::tags::TagRef;
use super::text::{Ink, LEAST, Look, set};

/// Space between columns, pt.
const SPACE: f32 = 8.0;
/// Wider than any paper: a cell's words in one line.
const ENDLESS: f32 = 1.0e5;

pub(super) fn set_table<'d>(flow: &mut Flow<'d>, element: Element<'d>, tag: Option<TagRef>) {
    let own = flow.tags.group(tag, Tag::<kind::Table>::Table);
    let look = Look {
        size: (flow.look.size * 0.9).max(LEAST),
        ..flow.look
    };
    if let Some(caption) = named(element, "caption").next() {
        let tag = flow.tags.group(Some(own), Tag::<kind::Caption>::Caption);
        let look = Look { bold: true, ..look };
        let first = flow.pieces.len();
        flow.lines(caption, look, tag, 6.0);
        for piece in flow.pieces.iter_mut().skip(first) {
            piece.keep = true;
        }
    }
    let widths = widths(flow, element, look);
    for (part, head) in [("thead", true), ("tbody", false)] {
        for group in named(element, part) {
            let kind: TagKind = if head {
                Tag::<kind::THead>::THead.into()
            } else {
                Tag::<kind::TBody>::TBody.into()
            };
            let under = flow.tags.group(Some(own), kind);
            let mut ends = Vec::new();
            for row in named(group, "tr") {
                set_row(flow, row, look, under, &widths);
                ends.push(flow.pieces.len().saturating_sub(1));
                if let Some(piece) = flow.pieces.last_mut()
                    && head
                {
                    piece.keep = true;
                }
            }
            flow.bind(&ends);
        }
    }
}

fn named<'d>(element: Element<'d>, name: &'static str) -> impl Iterator<Item = Element<'d>> {
    element
        .children()
        .filter(move |child| child.has_tag_name(name))
}

fn cells<'d>(row: Element<'d>) -> impl Iterator<Item = Element<'d>> {
    row.children().filter(Element::is_element)
}

fn look_of(cell: Element<'_>, look: Look) -> Look {
    let head = cell.attribute("scope") == Some("col");
    let yours = cell.has_tag_name("th") && cell.parent().is_some_and(|row| class_is(row, "yours"));
    Look {
        bold: head || yours,
        ..look
    }
}

fn widths<'d>(flow: &mut Flow<'d>, element: Element<'d>, look: Look) -> Vec<f32> {
    let fonts = Rc::clone(&flow.fonts);
    let mut natural: Vec<f32> = Vec::new();
    for row in element.descendants().filter(|node| node.has_tag_name("tr")) {
        for (column, cell) in cells(row).enumerate() {
            // Measured only: this tag is never painted under, so it is left out.
            let nowhere = flow.tags.later(None, Tag::<kind::Div>::Div);
            let mut spans = Spans::of(flow);
            spans.read(cell, look_of(cell, look), nowhere);
            let width = set(&fonts, &spans.list, ENDLESS)
                .iter()
                .map(|line| line.width)
                .fold(0.0, f32::max);
            match natural.get_mut(column) {
                Some(widest) => *widest = widest.max(width + 1.0),
                None => natural.push(width + 1.0),
            }
        }
    }
    let count = natural.len().max(1) as f32;
    let room = flow.width - SPACE * (count - 1.0);
    let wanted: f32 = natural.iter().sum();
    if wanted <= room {
        if let Some(last) = natural.last_mut() {
            *last += room - wanted;
        }
        return natural;
    }
    // Those that want less than an even share get what they want.
    let even = room / count;
    let small: f32 = natural.iter().filter(|width| **width <= even).sum();
    let large = natural.iter().filter(|width| **width > even).count().max(1) as f32;
    natural
        .into_iter()
        .map(|width| {
            if width <= even {
                width
            } else {
                (room - small) / large
            }
        })
        .collect()
}

/// The first lines of a row's cells stand at one height, also beside a small picture.
pub(super) fn level(columns: &mut [Vec<Piece<'_>>]) {
    let firsts = columns.iter().filter_map(|column| column.first());
    let tallest = firsts.map(|piece| piece.height).fold(0.0, f32::max);
    for piece in columns.iter_mut().filter_map(|column| column.first_mut()) {
        let down = (tallest - piece.height) / 2.0;
        piece.height += down;
        for mark in &mut piece.marks {
            mark.at[1] += down;
        }
    }
}

fn set_row<'d>(flow: &mut Flow<'d>, row: Element<'d>, look: Look, under: TagRef, widths: &[f32]) {
    let tr = flow.tags.group(Some(under), Tag::<kind::TR>::TR);
    let mut left = flow.left;
    let mut columns = Vec::new();
    let mut head = false;
    for (cell, width) in cells(row).zip(widths) {
        let kind: TagKind = match cell.attribute("scope") {
            Some("col") => {
                head = true;
                Tag::<kind::TH>::TH(TableHeaderScope::Column).into()
            }
            Some("row") => Tag::<kind::TH>::TH(TableHeaderScope::Row).into(),
            _ => Tag::<kind::TD>::TD.into(),
        };
        let tag = flow.tags.group(Some(tr), kind);
        let look = look_of(cell, look);
        let mut column = flow.column([left, *width], |flow| flow.lines(cell, look, tag, 0.0));
        if class_is(cell, "num") {
            // Figures of one column end below each other.
            for piece in &mut column {
                let end = piece.marks.iter().map(|mark| mark.at[0] + mark.size[0]);
                let right = left + width - end.fold(left, f32::max);
                for mark in &mut piece.marks {
                    mark.at[0] += right.max(0.0);
                }
            }
        }
        columns.push(column);
        left += width + SPACE;
    }
    level(&mut columns);
    flow.beside(columns, 2.5);
    let (left, width) = (flow.left, flow.width);
    if let Some(piece) = flow.pieces.last_mut() {
        piece.height += 2.0;
        piece.marks.push(Mark {
            at: [left, piece.height],
            size: [width, if head { 1.0 } else { 0.4 }],
            slot: None,
            link: None,
            what: What::Bar(if head { Ink::Full } else { Ink::Soft }),
        });
    }
}
