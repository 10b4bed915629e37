//! Ways to change a signed file: blind ones, and those of somebody who knows its form.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use serde_json::Value;
use swarfbook_seal::{page, paper};

/// Splitmix64: the same changes for the same seed.
pub struct Draw(pub u64);

impl Draw {
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    pub fn below(&mut self, end: usize) -> usize {
        (self.next() % end.max(1) as u64) as usize
    }

    fn of<T: Copy>(&mut self, all: &[T]) -> T {
        all[self.below(all.len())]
    }
}

/// Changes a file in one way, sometimes in two; `other` is another signed file of its kind.
pub fn mutated(draw: &mut Draw, file: &[u8], other: &[u8]) -> Vec<u8> {
    let mut changed = one(draw, file.to_vec(), other);
    if draw.below(5) == 0 {
        changed = one(draw, changed, other);
    }
    changed
}

fn one(draw: &mut Draw, file: Vec<u8>, other: &[u8]) -> Vec<u8> {
    let pdf = file.starts_with(b"%PDF-");
    match draw.below(10) {
        0..=2 => bytes(draw, file),
        3 => pieces(draw, file, other),
        4 | 5 => behind(draw, file),
        6 if pdf => table(draw, file),
        6 => tags(draw, file),
        7 if pdf => filling(draw, file),
        _ => seal(draw, file, other),
    }
}

/// Some bytes: flipped, set, put in, taken out.
fn bytes(draw: &mut Draw, mut file: Vec<u8>) -> Vec<u8> {
    let at = draw.below(file.len());
    let upto = (at + 1 + draw.below(16)).min(file.len());
    match draw.below(5) {
        0 => file[at] ^= 1 << draw.below(8),
        1 => file[at] = draw.of(b" \n\r\0<>(%/0"),
        2 => drop(file.splice(at..at, vec![draw.of(b" \n\t\0%"); upto - at])),
        3 => drop(file.drain(at..upto)),
        _ => {
            // A number by another of the same length.
            if let Some(digit) = file.iter().skip(at).position(u8::is_ascii_digit) {
                file[at + digit] = b'0' + (draw.below(10) as u8);
            }
        }
    }
    file
}

/// Larger pieces: twice, elsewhere, or out of the other file.
fn pieces(draw: &mut Draw, mut file: Vec<u8>, other: &[u8]) -> Vec<u8> {
    let from = draw.below(file.len());
    let piece = file[from..(from + draw.below(3_000)).min(file.len())].to_vec();
    let to = draw.below(file.len());
    match draw.below(3) {
        0 => drop(file.splice(to..to, piece)),
        1 => {
            let end = (to + piece.len()).min(file.len());
            file.splice(to..end, piece);
        }
        _ => {
            let from = draw.below(other.len());
            let end = (from + piece.len()).min(other.len());
            file.splice(to..to, other[from..end].iter().copied());
        }
    }
    file
}

/// Something behind the end or before the beginning.
fn behind(draw: &mut Draw, mut file: Vec<u8>) -> Vec<u8> {
    let table = digits_behind(&file, b"startxref\n").map_or(0, |(_, at)| at);
    let at = file.len();
    let more = match draw.below(6) {
        0 => "\n".to_owned(),
        1 => " ".repeat(1 + draw.below(40)),
        2 => "<!-- -->".to_owned(),
        3 => "%%EOF".to_owned(),
        4 => "<p>More.</p>".to_owned(),
        // What a later writer adds: an object in place of another, and a table before ours.
        _ => format!(
            "\n1 0 obj\n<</Type/Pages/Count 0/Kids[]>>\nendobj\nxref\n1 1\n{:010} 00000 n\r\ntrailer\n<</Size 900/Root 882 0 R/Prev {table}>>\nstartxref\n{}\n%%EOF",
            at + 1,
            at + 50
        ),
    };
    if draw.below(4) == 0 {
        file.splice(0..0, more.bytes());
    } else {
        file.extend(more.bytes());
    }
    file
}

/// Where the file's end says that its table is, or what the table says.
fn table(draw: &mut Draw, mut file: Vec<u8>) -> Vec<u8> {
    let Some((place, table)) = digits_behind(&file, b"startxref\n") else {
        return file;
    };
    if draw.below(2) == 0 {
        let to = (table + draw.below(400)).saturating_sub(200);
        let end = place + table.to_string().len();
        file.splice(place..end, to.to_string().bytes());
    } else {
        let row = table + 10 + 20 * draw.below(800);
        if let Some(digit) = file.get_mut(row + 4 + draw.below(6)) {
            *digit = b'0' + (draw.below(10) as u8);
        }
    }
    file
}

fn digits_behind(file: &[u8], word: &[u8]) -> Option<(usize, usize)> {
    let at = file.windows(word.len()).rposition(|w| w == word)? + word.len();
    let digits: String = file[at..]
        .iter()
        .take_while(|b| b.is_ascii_digit())
        .map(|b| char::from(*b))
        .collect();
    Some((at, digits.parse().ok()?))
}

/// Markup of a page, put in where a tag begins.
fn tags(draw: &mut Draw, mut file: Vec<u8>) -> Vec<u8> {
    let at = draw.below(file.len());
    let Some(tag) = file.iter().skip(at).position(|byte| *byte == b'<') else {
        return file;
    };
    let more = draw.of(&[
        "<b>not</b>",
        "<pre id=\"seal\" hidden=\"hidden\"></pre>",
        "<style>p{display:none}</style>",
        "</pre>",
        "<!--",
        " ",
        "\n",
    ]);
    file.splice(at + tag..at + tag, more.bytes());
    file
}

/// The spaces behind a PDF's seal: more, fewer, or other signs.
fn filling(draw: &mut Draw, mut file: Vec<u8>) -> Vec<u8> {
    let Some(place) = paper::place(&file) else {
        return file;
    };
    let spaces = file[place.clone()]
        .iter()
        .rev()
        .take_while(|byte| **byte == b' ')
        .count();
    let from = place.end - spaces;
    match draw.below(4) {
        0 | 1 => {
            let more = 1 + draw.below(3_000);
            file.splice(from..from, vec![b' '; more]);
        }
        2 => drop(file.drain(from..from + draw.below(spaces + 1))),
        _ => {
            let at = (from + draw.below(spaces)).min(place.end - 1);
            file[at] = draw.of(b"\0\t\r%=A");
        }
    }
    file
}

/// The seal written in another way, or that of another file.
fn seal(draw: &mut Draw, file: Vec<u8>, other: &[u8]) -> Vec<u8> {
    let (Some(was), Some(others)) = (seal_of(&file), seal_of(other)) else {
        return file;
    };
    let Some(is) = rewritten(draw, &was, &others) else {
        return file;
    };
    let at = file
        .windows(was.len())
        .position(|w| w == was.as_bytes())
        .unwrap();
    let mut file = file;
    // A PDF's filling takes up the difference, as somebody would do it.
    let spaces = if file.starts_with(b"%PDF-") {
        is.len().saturating_sub(was.len())
    } else {
        0
    };
    let behind = at + was.len();
    let free = file[behind..].iter().take_while(|b| **b == b' ').count();
    let mut is = is.into_bytes();
    if file.starts_with(b"%PDF-") {
        is.resize(is.len().max(was.len()), b' ');
    }
    file.splice(at..behind + spaces.min(free), is);
    file
}

fn seal_of(file: &[u8]) -> Option<String> {
    if file.starts_with(b"%PDF-") {
        let text = String::from_utf8(file[paper::place(file)?].to_vec()).ok()?;
        return Some(text.trim_end().to_owned());
    }
    let text = std::str::from_utf8(file).ok()?;
    Some(page::open(text)?[1].to_owned())
}

fn rewritten(draw: &mut Draw, was: &str, others: &str) -> Option<String> {
    let text = String::from_utf8(STANDARD.decode(was).ok()?).ok()?;
    let mut tree: Value = serde_json::from_str(&text).ok()?;
    let fields = tree.as_object_mut()?;
    Some(match draw.below(8) {
        0 => STANDARD.encode(format!("{text}\n")),
        1 => STANDARD.encode(serde_json::to_string_pretty(&tree).ok()?),
        2 => STANDARD.encode(text.replacen('s', "\\u0073", 1)),
        3 => {
            let upper = fields.get("signature")?.as_str()?.to_uppercase();
            fields.insert("signature".into(), upper.into());
            STANDARD.encode(tree.to_string())
        }
        4 => {
            fields.insert("more".into(), "words".into());
            STANDARD.encode(tree.to_string())
        }
        5 => {
            // The same content, deflated otherwise.
            let carried = STANDARD.decode(fields.get("content")?.as_str()?).ok()?;
            let content = miniz_oxide::inflate::decompress_to_vec_zlib(&carried).ok()?;
            let level = draw.below(8) as u8;
            let again = miniz_oxide::deflate::compress_to_vec_zlib(&content, level);
            fields.insert("content".into(), STANDARD.encode(again).into());
            STANDARD.encode(serde_json_canonicalizer::to_string(&tree).ok()?)
        }
        6 => was.trim_end_matches('=').to_owned(),
        _ => others.to_owned(),
    })
}
