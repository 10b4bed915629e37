//! Rows out of leaf pages, whatever tree they were in.

use rusqlite::types::Value;

use super::pages::{Pages, VIEWS, View, number};

/// The kind of page that holds rows of a table.
const TABLE_LEAF: u8 = 0x0d;
/// The first page begins with the head of the file.
const FILE_HEAD: usize = 100;
/// No row of ours is larger: a line has at most 4 MB.
const MAX_ROW_BYTES: usize = 16 * 1024 * 1024;

/// Hands on each row that can be read, in every reading that the images of its pages allow,
/// until `take` says that it is the right one.
pub(super) fn each(pages: &mut Pages, mut take: impl FnMut(&[Value]) -> bool) {
    let images: Vec<_> = pages.all().collect();
    for at in images {
        let Some(page) = pages.read(at) else { continue };
        let head = if page.starts_with(b"SQLite format 3\0") {
            FILE_HEAD
        } else {
            0
        };
        if page.get(head) != Some(&TABLE_LEAF) {
            continue;
        }
        let cells = number(&page, head + 3, 2) as usize;
        for cell in 0..cells.min(pages.size / 4) {
            let start = number(&page, head + 8 + 2 * cell, 2) as usize;
            for view in VIEWS {
                let row = payload(pages, &page, start, view).and_then(|row| values(&row));
                if row.is_some_and(|(row, long)| take(&row) || !long) {
                    break;
                }
            }
        }
    }
}

/// The bytes of a row, with what of it lies on further pages, and whether any does.
fn payload(pages: &mut Pages, page: &[u8], start: usize, view: View) -> Option<(Vec<u8>, bool)> {
    let (size, after) = varint(page, start)?;
    let (_, after) = varint(page, after)?;
    let size = usize::try_from(size)
        .ok()
        .filter(|size| *size <= MAX_ROW_BYTES)?;
    let usable = pages.size;
    let most = usable - 35;
    let here = if size <= most {
        size
    } else {
        let least = (usable - 12) * 32 / 255 - 23;
        let fitting = least + (size - least) % (usable - 4);
        if fitting <= most { fitting } else { least }
    };
    let mut bytes = page.get(after..after + here)?.to_vec();
    let mut next = number(page, after + here, 4) as u32;
    while bytes.len() < size {
        let further = pages.seen(next, view)?;
        let more = (size - bytes.len()).min(usable - 4);
        bytes.extend(further.get(4..4 + more)?);
        next = number(&further, 0, 4) as u32;
    }
    Some((bytes, size > here))
}

/// The values of a row; whether it had to be put together from several pages is passed on.
fn values((row, long): &(Vec<u8>, bool)) -> Option<(Vec<Value>, bool)> {
    let (head, mut at) = varint(row, 0)?;
    let head = usize::try_from(head).ok()?;
    let mut from = head;
    let mut values = Vec::new();
    while at < head {
        let (kind, after) = varint(row, at)?;
        at = after;
        let width = match kind {
            0 | 8 | 9 => 0,
            1..=4 => kind as usize,
            5 => 6,
            6 | 7 => 8,
            10 | 11 => return None,
            _ => usize::try_from((kind - 12) / 2).ok()?,
        };
        let bytes = row.get(from..from.checked_add(width)?)?;
        from += width;
        values.push(match kind {
            0 => Value::Null,
            8 => Value::Integer(0),
            9 => Value::Integer(1),
            1..=6 => {
                // Of two's complement: the bits above the number's own are its sign.
                let unused = 64 - 8 * width as u32;
                Value::Integer((number(bytes, 0, width) << unused) as i64 >> unused)
            }
            7 => Value::Real(f64::from_bits(number(bytes, 0, 8))),
            _ if kind % 2 == 0 => Value::Blob(bytes.to_vec()),
            _ => Value::Text(String::from_utf8(bytes.to_vec()).ok()?),
        });
    }
    Some((values, *long))
}

/// A number of one to nine bytes, and where it ends.
fn varint(bytes: &[u8], at: usize) -> Option<(u64, usize)> {
    let mut sum = 0;
    for place in 0..9 {
        let byte = *bytes.get(at + place)?;
        if place == 8 {
            return Some((sum << 8 | u64::from(byte), at + 9));
        }
        sum = sum << 7 | u64::from(byte & 0x7f);
        if byte & 0x80 == 0 {
            return Some((sum, at + place + 1));
        }
    }
    None
}
