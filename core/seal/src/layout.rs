//! Whether a PDF is laid out as it was written: objects one behind another, a table
//! that names where each begins, and nothing behind its end.
//!
//! The hashes of the parts are over bytes, not over places. A reader goes by places: where
//! some filling is longer than it was, the table stands elsewhere than the file's end says,
//! and a reader that looks there, or builds a table anew, may show what was meant as text.
//! So the verifier goes by places too, and takes no other way of writing a PDF than ours.

use std::ops::Range;

/// The last bytes of the file.
const END: &[u8] = b"\n%%EOF";
/// A line of the table.
const ROW: usize = 20;
/// The head before the first object: a version and a line of high bytes.
const MOST_HEAD: usize = 64;

/// Whether the file is laid out so, with its seal as the data of one object.
pub(crate) fn holds(file: &[u8], seal: &Range<usize>, mark: usize) -> bool {
    objects(file).is_some_and(|data| {
        // The mark begins the data, and one line break ends them.
        data.contains(&(seal.start.saturating_sub(mark)..seal.end + 1))
    })
}

/// Walks the file from its end; gives the place of each object's data.
fn objects(file: &[u8]) -> Option<Vec<Range<usize>>> {
    let body = file.strip_suffix(END)?;
    let digits = body.iter().rev().take_while(|b| b.is_ascii_digit()).count();
    let (body, table) = body.split_at(body.len() - digits);
    let table = number(table)?;
    let body = body.strip_suffix(b"\nstartxref\n")?;
    let (before, rows) = body.split_at_checked(table)?;
    let rows = rows.strip_prefix(b"xref\n0 ")?;
    let digits = rows.iter().take_while(|b| b.is_ascii_digit()).count();
    let (count, rows) = rows.split_at(digits);
    let count = number(count)?;
    let rows = rows.strip_prefix(b"\n")?;
    let (rows, trailer) = rows.split_at_checked(count.checked_mul(ROW)?)?;
    let one_trailer = trailer.strip_prefix(b"trailer\n<<")?;
    // No earlier or other table.
    if find(one_trailer, b"/Prev").is_some() || find(one_trailer, b"/XRefStm").is_some() {
        return None;
    }
    let mut begins = Vec::new();
    for (number, row) in rows.chunks_exact(ROW).enumerate() {
        let (at, kind) = row.split_at_checked(10)?;
        match kind {
            b" 00000 n\r\n" => begins.push((digits_of(at)?, number)),
            b" 65535 f\r\n" if number == 0 => {}
            _ => return None,
        }
    }
    begins.sort_unstable();
    let ends = begins
        .iter()
        .skip(1)
        .map(|(at, _)| *at)
        .chain([before.len()]);
    let first = begins.first()?.0;
    if first > MOST_HEAD {
        return None;
    }
    let mut data = Vec::new();
    for ((at, number), end) in begins.iter().zip(ends) {
        let object = before.get(*at..end)?;
        let head = format!("{number} 0 obj\n");
        let inside = object
            .strip_prefix(head.as_bytes())?
            .strip_suffix(b"\nendobj\n")?;
        if let Some(of_it) = stream(inside)? {
            let from = at + head.len();
            data.push(from + of_it.start..from + of_it.end);
        }
    }
    Some(data)
}

/// The data of an object, if it has any; `None` where it is not written as ours are.
#[allow(clippy::option_option)] // not ours, or ours without data
fn stream(object: &[u8]) -> Option<Option<Range<usize>>> {
    let Some(rest) = object.strip_prefix(b"<</Length ") else {
        let plain = find(object, b"\nstream\n").is_none() && find(object, b"endobj\n").is_none();
        return plain.then_some(None);
    };
    let digits = rest.iter().take_while(|b| b.is_ascii_digit()).count();
    let length = number(rest.get(..digits)?)?;
    let begin = find(object, b">>\nstream\n")? + b">>\nstream\n".len();
    let end = begin.checked_add(length)?;
    (object.get(end..)? == b"\nendstream").then_some(Some(begin..end))
}

/// A number as it is written: no zeros before it.
fn number(digits: &[u8]) -> Option<usize> {
    if digits.len() > 1 && digits.first() == Some(&b'0') {
        return None;
    }
    digits_of(digits)
}

fn digits_of(digits: &[u8]) -> Option<usize> {
    if !digits.iter().all(u8::is_ascii_digit) {
        return None;
    }
    std::str::from_utf8(digits).ok()?.parse().ok()
}

fn find(bytes: &[u8], what: &[u8]) -> Option<usize> {
    bytes.windows(what.len()).position(|window| window == what)
}
