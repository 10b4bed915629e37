//! Whether a file is as it was signed, and by which key.

use std::fmt;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use ed25519_dalek::{Signature, VerifyingKey};
use swarfbook_job::id::Sha256Hex;

use crate::statement::{FORM, FileKind, PURPOSE, Part, Seal, Statement, fields, from_hex};
use crate::{page, paper};

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
        }
    }
}

/// Checks a file, HTML or PDF. What it states is to be believed only when this succeeds;
/// whether the key is the shop's own is for the reader to ask.
///
/// # Errors
/// All that is wrong, in the order of the file.
pub fn verify(file: &[u8]) -> Result<Statement, Vec<Fault>> {
    let (kind, seal, parts) = if file.starts_with(b"%PDF-") {
        open_pdf(file)
    } else {
        open_html(file)
    }
    .map_err(|fault| vec![fault])?;
    let seal = STANDARD
        .decode(seal)
        .ok()
        .and_then(|text| serde_json::from_slice::<Seal>(&text).ok())
        .ok_or(vec![Fault::SealDamaged])?;
    let statement = stated(&seal).map_err(|fault| vec![fault])?;
    let mut faults = Vec::new();
    if statement.file != kind {
        faults.push(Fault::Kind);
    }
    compare(&statement.parts, &parts, &mut faults);
    if kind == FileKind::Html {
        content(&statement, &seal.content, &mut faults);
    }
    if faults.is_empty() {
        Ok(statement)
    } else {
        Err(faults)
    }
}

fn open_html(file: &[u8]) -> Result<(FileKind, &str, Vec<Part>), Fault> {
    let text = std::str::from_utf8(file).map_err(|_| Fault::NoSeal)?;
    let around = page::open(text).ok_or(Fault::NoSeal)?;
    Ok((FileKind::Html, around[1], page::parts(around)))
}

fn open_pdf(file: &[u8]) -> Result<(FileKind, &str, Vec<Part>), Fault> {
    let place = paper::place(file).ok_or(Fault::NoSeal)?;
    let text = file.get(place.clone()).unwrap_or_default();
    let text = std::str::from_utf8(text).map_err(|_| Fault::SealDamaged)?;
    // Only spaces fill it up: anything else would be bytes that nobody signed.
    let seal = text.trim_end_matches(' ');
    Ok((FileKind::Pdf, seal, paper::parts(file, &place)))
}

fn stated(seal: &Seal) -> Result<Statement, Fault> {
    let statement: Statement =
        serde_json::from_str(&seal.statement).map_err(|_| Fault::SealDamaged)?;
    if statement.form != FORM {
        return Err(Fault::Form(statement.form));
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
