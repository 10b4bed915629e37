//! Whether a file is as it was signed, and by which key.

use std::fmt;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use ed25519_dalek::{Signature, VerifyingKey};
use swarfbook_job::id::Sha256Hex;

use crate::statement::{
    FIRST_FORM, FORM, FileKind, PURPOSE, Part, Seal, Statement, fields, from_hex,
};
use crate::{layout, page, paper};

/// The content of a report takes no more than this, bytes.
const MAX_CONTENT: usize = 64 * 1024 * 1024;

/// What is wrong with a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Fault {
    /// It carries no seal, or more than one.
    NoSeal,
    /// The seal can't be read.
    SealDamaged,
    /// It is of a form that this version does not know.
    Form(u32),
    /// The statement is not what the key's owner signed.
    Signature,
    /// It was sealed as another kind of file.
    Kind,
    /// A part of the file is not as signed.
    Changed(String),
    /// A part that was signed is not there.
    Missing(String),
    /// Something stands in the file that was not signed.
    Added(String),
    /// A field of the content that the file carries is not as signed.
    Field(String),
    /// What stands in the file is not where it was written, or not as long.
    Layout,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Fault::NoSeal => write!(
                f,
                "There is no seal in this file. It is no signed report, or the seal was taken out."
            ),
            Fault::SealDamaged => write!(f, "The seal was changed: it can't be read."),
            Fault::Form(form) => write!(
                f,
                "The seal is of form {form}, which this version does not know. Update the tool."
            ),
            Fault::Signature => write!(
                f,
                "The seal was changed: the signature does not belong to this statement and key."
            ),
            Fault::Kind => write!(f, "The seal was made for another kind of file."),
            Fault::Changed(part) => write!(f, "Changed since it was signed: {part}."),
            Fault::Missing(part) => write!(f, "Taken out since it was signed: {part}."),
            Fault::Added(part) => write!(f, "Put in since it was signed: {part}."),
            Fault::Field(field) => write!(
                f,
                "Changed since it was signed: the carried data of \"{field}\"."
            ),
            Fault::Layout => write!(
                f,
                "Changed since it was signed: its bytes don't lie where they were written, so that readers may show other words."
            ),
        }
    }
}

/// Checks a file, HTML or PDF. What it states is to be believed only when this succeeds;
/// whether the key is the shop's own is for the reader to ask.
///
/// # Errors
/// All that is wrong, in the order of the file.
pub fn verify(file: &[u8]) -> Result<Statement, Vec<Fault>> {
    let opened = if file.starts_with(b"%PDF-") {
        open_pdf(file)
    } else {
        open_html(file)
    }
    .map_err(|fault| vec![fault])?;
    let seal = written(opened.seal).ok_or(vec![Fault::SealDamaged])?;
    let statement = stated(&seal).map_err(|fault| vec![fault])?;
    let mut faults = Vec::new();
    if statement.file != opened.kind {
        faults.push(Fault::Kind);
    }
    compare(&statement.parts, &opened.parts, &mut faults);
    let length = statement.length.unwrap_or(opened.length);
    // A part that was changed says more than that all behind it moved.
    if faults.is_empty() && (!opened.laid_out || length != opened.length) {
        faults.push(Fault::Layout);
    }
    let carried = Sha256Hex::of(seal.content.as_bytes());
    if statement.carried.is_some_and(|signed| signed != carried) {
        faults.push(Fault::SealDamaged);
    }
    match opened.kind {
        FileKind::Html => content(&statement, &seal.content, &mut faults),
        FileKind::Pdf if !seal.content.is_empty() => faults.push(Fault::SealDamaged),
        FileKind::Pdf => {}
    }
    if faults.is_empty() {
        Ok(statement)
    } else {
        Err(faults)
    }
}

/// A file by what its seal is over.
struct Opened<'a> {
    kind: FileKind,
    seal: &'a str,
    parts: Vec<Part>,
    /// As [`Statement::length`].
    length: u64,
    /// Every byte lies where the writer puts it.
    laid_out: bool,
}

fn open_html(file: &[u8]) -> Result<Opened<'_>, Fault> {
    let text = std::str::from_utf8(file).map_err(|_| Fault::NoSeal)?;
    let around = page::open(text).ok_or(Fault::NoSeal)?;
    Ok(Opened {
        kind: FileKind::Html,
        seal: around[1],
        length: page::length(around),
        parts: page::parts(around),
        laid_out: true,
    })
}

fn open_pdf(file: &[u8]) -> Result<Opened<'_>, Fault> {
    let place = paper::place(file).ok_or(Fault::NoSeal)?;
    let text = file.get(place.clone()).unwrap_or_default();
    let text = std::str::from_utf8(text).map_err(|_| Fault::SealDamaged)?;
    Ok(Opened {
        kind: FileKind::Pdf,
        // Only spaces fill it up: anything else would be bytes that nobody signed.
        seal: text.trim_end_matches(' '),
        length: file.len() as u64,
        parts: paper::parts(file, &place),
        laid_out: layout::holds(file, &place, paper::MARK.len()),
    })
}

/// The seal, if it is written in the one way in which it is.
fn written(seal: &str) -> Option<Seal> {
    let text = STANDARD.decode(seal).ok()?;
    let seal: Seal = serde_json::from_slice(&text).ok()?;
    let lower = |digit: u8| matches!(digit, b'0'..=b'9' | b'a'..=b'f');
    let again = serde_json_canonicalizer::to_string(&seal).ok()?;
    (again.as_bytes() == text && seal.signature.bytes().all(lower)).then_some(seal)
}

fn stated(seal: &Seal) -> Result<Statement, Fault> {
    let statement: Statement =
        serde_json::from_str(&seal.statement).map_err(|_| Fault::SealDamaged)?;
    match statement.form {
        FORM if statement.length.is_some() && statement.carried.is_some() => {}
        FIRST_FORM if statement.length.is_none() && statement.carried.is_none() => {}
        FORM | FIRST_FORM => return Err(Fault::SealDamaged),
        form => return Err(Fault::Form(form)),
    }
    let genuine = || {
        let key = VerifyingKey::from_bytes(&from_hex::<32>(&statement.key)?).ok()?;
        let signature = Signature::from_bytes(&from_hex::<64>(&seal.signature)?);
        let signed = format!("{PURPOSE}{}", seal.statement);
        // Strict: no weak keys, one form of each signature.
        key.verify_strict(signed.as_bytes(), &signature).ok()
    };
    match genuine() {
        Some(()) => Ok(statement),
        None => Err(Fault::Signature),
    }
}

/// Parts by place when there are as many as signed, else by name and hash.
fn compare(signed: &[Part], found: &[Part], faults: &mut Vec<Fault>) {
    let mut add = |fault: Fault| {
        if !faults.contains(&fault) {
            faults.push(fault);
        }
    };
    if signed.len() == found.len() {
        for (was, is) in signed.iter().zip(found) {
            if was != is {
                add(Fault::Changed(was.name.clone()));
            }
        }
        return;
    }
    for was in signed.iter().filter(|was| !found.contains(was)) {
        add(if found.iter().any(|is| is.name == was.name) {
            Fault::Changed(was.name.clone())
        } else {
            Fault::Missing(was.name.clone())
        });
    }
    for is in found.iter().filter(|is| !signed.contains(is)) {
        if !signed.iter().any(|was| was.name == is.name) {
            add(Fault::Added(is.name.clone()));
        }
    }
    if faults.is_empty() {
        faults.push(Fault::Added("a copy of a part".into()));
    }
}

fn content(statement: &Statement, carried: &str, faults: &mut Vec<Fault>) {
    let text = STANDARD
        .decode(carried)
        .ok()
        .and_then(|bytes| {
            miniz_oxide::inflate::decompress_to_vec_zlib_with_limit(&bytes, MAX_CONTENT).ok()
        })
        .and_then(|bytes| String::from_utf8(bytes).ok());
    let Some(text) = text else {
        faults.push(Fault::Field("all".into()));
        return;
    };
    if Sha256Hex::of(text.as_bytes()) == statement.content {
        return;
    }
    let found = fields(&text).unwrap_or_default();
    let before = faults.len();
    for (name, hash) in &statement.fields {
        if found.get(name) != Some(hash) {
            faults.push(Fault::Field(name.clone()));
        }
    }
    if faults.len() == before {
        faults.push(Fault::Field("all".into()));
    }
}
