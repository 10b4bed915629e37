//! How input is changed: in a few places, each in one of the ways in which parsers are wrong.

use std::rc::Rc;

use proptest::prelude::*;
use proptest::sample::Index;

/// Numbers at the ends of what fits, as lengths and sizes.
const NUMBERS: [u64; 12] = [
    0,
    1,
    2,
    63,
    64,
    255,
    256,
    0x7FFF,
    0xFFFF,
    0x7FFF_FFFF,
    0xFFFF_FFFF,
    u64::MAX,
];

/// What means something in JSON, TOML, links, forms, dates and numbers.
const TOKENS: [&str; 34] = [
    "\"",
    "\\",
    "\\u0000",
    "\\ud800",
    "{",
    "}",
    "[[",
    "]",
    ":",
    ",",
    "null",
    "true",
    "-",
    "-0",
    "1e999",
    "1e-400",
    "99999999999999999999",
    "0.1",
    "NaN",
    "\n",
    "\r\n",
    "\t",
    "\0",
    "%",
    "%00",
    "%zz",
    "&",
    "=",
    "?",
    "://",
    "\u{202e}",
    "\u{feff}",
    "½",
    "🛢",
];

#[derive(Debug, Clone)]
enum Change {
    Flip(Index, u8),
    Set(Index, u8),
    End(Index),
    TakeOut(Index, usize),
    Again(Index, usize, usize),
    Number(Index, usize, bool, usize),
    Token(Index, usize),
    /// The rest from another input.
    Graft(Index, Index, Index),
    Fill(Vec<u8>),
}

fn change() -> impl Strategy<Value = Change> {
    let at = any::<Index>;
    prop_oneof![
        4 => (at(), 0..8_u8).prop_map(|(at, bit)| Change::Flip(at, bit)),
        4 => (at(), any::<u8>()).prop_map(|(at, byte)| Change::Set(at, byte)),
        1 => at().prop_map(Change::End),
        2 => (at(), 1..64_usize).prop_map(|(at, n)| Change::TakeOut(at, n)),
        2 => (at(), 1..256_usize, 1..4_usize).prop_map(|(at, n, times)| Change::Again(at, n, times)),
        3 => (at(), 0..NUMBERS.len(), any::<bool>(), 1..=8_usize)
            .prop_map(|(at, which, big, size)| Change::Number(at, which, big, size)),
        4 => (at(), 0..TOKENS.len()).prop_map(|(at, which)| Change::Token(at, which)),
        1 => (at(), at(), at()).prop_map(|(at, other, from)| Change::Graft(at, other, from)),
        1 => prop::collection::vec(any::<u8>(), 0..64).prop_map(Change::Fill),
    ]
}

/// An input with up to six changes; without any it is as it was.
pub fn changed(corpus: &[Vec<u8>]) -> impl Strategy<Value = Vec<u8>> {
    let corpus: Rc<[Vec<u8>]> = corpus.into();
    let changes = prop::collection::vec(change(), 0..7);
    (any::<Index>(), changes).prop_map(move |(which, changes)| {
        let mut bytes = corpus[which.index(corpus.len())].clone();
        for change in &changes {
            apply(change, &mut bytes, &corpus);
        }
        bytes
    })
}

fn apply(change: &Change, bytes: &mut Vec<u8>, corpus: &[Vec<u8>]) {
    if bytes.is_empty() {
        if let Change::Fill(with) = change {
            bytes.clone_from(with);
        }
        return;
    }
    let place = |at: &Index| at.index(bytes.len());
    match change {
        Change::Flip(at, bit) => {
            let at = place(at);
            bytes[at] ^= 1 << bit;
        }
        Change::Set(at, byte) => {
            let at = place(at);
            bytes[at] = *byte;
        }
        Change::End(at) => bytes.truncate(place(at)),
        Change::TakeOut(at, n) => {
            let at = place(at);
            let end = (at + n).min(bytes.len());
            bytes.drain(at..end);
        }
        Change::Again(at, n, times) => {
            let at = place(at);
            let end = (at + n).min(bytes.len());
            let again = bytes[at..end].repeat(*times);
            bytes.splice(at..at, again);
        }
        Change::Number(at, which, big, size) => {
            let at = place(at);
            let number = NUMBERS[*which];
            let all = match big {
                true => number.to_be_bytes()[8 - *size..].to_vec(),
                false => number.to_le_bytes()[..*size].to_vec(),
            };
            for (to, from) in bytes[at..].iter_mut().zip(all) {
                *to = from;
            }
        }
        Change::Token(at, which) => {
            let at = place(at);
            bytes.splice(at..at, TOKENS[*which].bytes());
        }
        Change::Graft(at, other, from) => {
            let at = place(at);
            let other = &corpus[other.index(corpus.len())];
            bytes.truncate(at);
            if !other.is_empty() {
                bytes.extend_from_slice(&other[from.index(other.len())..]);
            }
        }
        Change::Fill(with) => bytes.extend_from_slice(with),
    }
}
