//! The parts of a PDF report, and the place of its seal.

use std::collections::BTreeMap;
use std::ops::Range;

use swarfbook_job::id::Sha256Hex;

use crate::statement::Part;

/// Begins the seal in its attachment. No words hold a control character: they
/// are taken out before the report is set.
pub const MARK: &[u8] = b"\x01swarfbook-seal-1:";
/// Ends it.
pub const END: u8 = b'\n';

/// Where the seal and its filling stand; `None` when there is not just one.
pub fn place(file: &[u8]) -> Option<Range<usize>> {
    let mut found = find_all(file, MARK);
    let start = found.next()? + MARK.len();
    if found.next().is_some() {
        return None;
    }
    let length = file.get(start..)?.iter().position(|byte| *byte == END)?;
    Some(start..start + length)
}

fn find_all<'a>(file: &'a [u8], what: &'a [u8]) -> impl Iterator<Item = usize> + 'a {
    file.windows(what.len())
        .enumerate()
        .filter(move |(_, window)| *window == what)
        .map(|(at, _)| at)
}

/// Every byte but the seal's as named parts: runs of the file's objects that
/// are of one kind. A page's name is told by the page that its words belong to.
pub fn parts(file: &[u8], seal: &Range<usize>) -> Vec<Part> {
    let starts: Vec<(usize, u64)> = objects(file);
    let pages = pages(file, &starts);
    let mut parts: Vec<(String, Vec<Range<usize>>)> = Vec::new();
    let mut photos = 0;
    let mut begin = 0;
    let mut name = "the head".to_owned();
    let ends = starts
        .iter()
        .map(|(at, number)| (*at, Some(*number)))
        .chain([(file.len(), None)]);
    for (end, number) in ends {
        let range = begin..end;
        match parts.last_mut() {
            Some((last, ranges)) if *last == name => ranges.push(range),
            _ => parts.push((name.clone(), vec![range])),
        }
        begin = end;
        if let Some(number) = number {
            name = match pages.get(&number) {
                Some(page) => format!("page {page}"),
                None => kind(head(file, end), &mut photos),
            };
        }
    }
    parts
        .into_iter()
        .map(|(name, ranges)| {
            let mut bytes = Vec::new();
            for range in ranges {
                // The seal itself is not among what it is over.
                let upto = range.start.max(range.end.min(seal.start));
                let from = range.start.max(range.end.min(seal.end));
                bytes.extend_from_slice(file.get(range.start..upto).unwrap_or_default());
                bytes.extend_from_slice(file.get(from..range.end).unwrap_or_default());
            }
            Part {
                name,
                sha256: Sha256Hex::of(&bytes),
            }
        })
        .collect()
}

/// Where each object begins, and its number.
fn objects(file: &[u8]) -> Vec<(usize, u64)> {
    find_all(file, b" 0 obj")
        .filter_map(|at| {
            let before = file.get(..at)?;
            let digits = before
                .iter()
                .rev()
                .take_while(|b| b.is_ascii_digit())
                .count();
            let start = at - digits;
            let line = start == 0 || file.get(start - 1) == Some(&b'\n');
            let number = std::str::from_utf8(before.get(start..)?)
                .ok()?
                .parse()
                .ok()?;
            line.then_some((start, number))
        })
        .collect()
}

/// Page numbers by the objects that hold the pages and their words.
fn pages(file: &[u8], starts: &[(usize, u64)]) -> BTreeMap<u64, usize> {
    let mut pages = BTreeMap::new();
    let mut count = 0;
    for (at, number) in starts {
        let head = head(file, *at);
        let page = find_all(&packed(head), b"/Type/Page")
            .next()
            .is_some_and(|at| packed(head).get(at + 10) != Some(&b's'));
        if !page {
            continue;
        }
        count += 1;
        pages.insert(*number, count);
        let words = find_all(head, b"/Contents").next().and_then(|at| {
            let rest = head.get(at + 9..)?.trim_ascii_start();
            let digits = rest.iter().take_while(|b| b.is_ascii_digit()).count();
            std::str::from_utf8(rest.get(..digits)?).ok()?.parse().ok()
        });
        if let Some(words) = words {
            pages.insert(words, count);
        }
    }
    pages
}

/// The beginning of an object up to its data.
fn head(file: &[u8], at: usize) -> &[u8] {
    let head = file
        .get(at..(at + 2000).min(file.len()))
        .unwrap_or_default();
    let end = [&b"stream"[..], b"endobj"]
        .iter()
        .filter_map(|word| find_all(head, word).next())
        .min();
    head.get(..end.unwrap_or(head.len())).unwrap_or_default()
}

/// Without white space: writers differ in it.
fn packed(bytes: &[u8]) -> Vec<u8> {
    bytes
        .iter()
        .copied()
        .filter(|byte| !byte.is_ascii_whitespace())
        .collect()
}

fn holds(bytes: &[u8], what: &[u8]) -> bool {
    find_all(bytes, what).next().is_some()
}

fn kind(head: &[u8], photos: &mut usize) -> String {
    let head = packed(head);
    if holds(&head, b"/Subtype/Image") {
        *photos += 1;
        return format!("photo {photos}");
    }
    for (what, name) in [
        (&b"/Type/EmbeddedFile"[..], "the attached data"),
        (b"/Type/Filespec", "the attached data"),
        (b"/StructElem", "the tags"),
        (b"/StructTreeRoot", "the tags"),
        (b"/Subtype/Link", "the links"),
        (b"/Subtype/XML", "the title"),
        (b"/Font", "the letters"),
    ] {
        if holds(&head, what) {
            return name.to_owned();
        }
    }
    "the frame".to_owned()
}
