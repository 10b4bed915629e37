//! What is signed.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use swarfbook_job::id::Sha256Hex;

use crate::made::Made;

/// The form of a statement; a reader of another form must not guess.
pub const FORM: u32 = 2;

/// The form before it, without [`Statement::length`] and [`Statement::carried`].
pub const FIRST_FORM: u32 = 1;

/// Begins what is signed, so that a signature for something else can't pass.
pub const PURPOSE: &str = "swarfbook-report-1\n";

/// The kind of file that is sealed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum FileKind {
    /// One self-contained page.
    Html,
    /// A print on paper (PDF).
    Pdf,
}

/// A part of the file by its name.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Part {
    /// The heading it stands under, "photo 1", "page 2".
    pub name: String,
    /// SHA-256 of its bytes.
    pub sha256: Sha256Hex,
}

/// What the signature is over.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Statement {
    /// [`FORM`]; [`FIRST_FORM`] in early reports.
    pub form: u32,
    /// The kind of file.
    pub file: FileKind,
    /// The shop by its name.
    pub shop: String,
    /// All of it is invented (demo).
    pub invented: bool,
    /// When and from what: the job, and the last line of each device's log.
    pub made: Made,
    /// SHA-256 of the content's canonical form.
    pub content: Sha256Hex,
    /// SHA-256 of the canonical form of each field of the content.
    pub fields: BTreeMap<String, Sha256Hex>,
    /// SHA-256 of each photo's copy, in the order of the content.
    pub photos: Vec<Sha256Hex>,
    /// The parts of the file, in their order.
    pub parts: Vec<Part>,
    /// Bytes of the file: of a PDF all of them, of a page those around the seal.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length: Option<u64>,
    /// SHA-256 of [`Seal::content`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub carried: Option<Sha256Hex>,
    /// The public key, 64 hexadecimal digits.
    pub key: String,
}

/// A hash a field of the content's canonical text.
///
/// # Errors
/// When the text is no JSON object.
pub fn fields(text: &str) -> Result<BTreeMap<String, Sha256Hex>, serde_json::Error> {
    let tree: BTreeMap<String, serde_json::Value> = serde_json::from_str(text)?;
    tree.into_iter()
        .map(|(name, value)| {
            let text = serde_json_canonicalizer::to_string(&value)?;
            Ok((name, Sha256Hex::of(text.as_bytes())))
        })
        .collect()
}

/// The seal as it stands in a file. The statement is kept as the text that was
/// signed, not as what a reader makes of it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Seal {
    /// Canonical content, deflated (RFC 1950), base64; empty in PDF, which has it attached.
    pub content: String,
    /// 128 hexadecimal digits.
    pub signature: String,
    /// Canonical statement.
    pub statement: String,
}

/// A public key in short, for reading out: the first 80 bits of its SHA-256, in
/// groups of four digits. `None` when it is no key.
pub fn fingerprint(public_hex: &str) -> Option<String> {
    let bytes = from_hex::<32>(public_hex)?;
    let hash = Sha256Hex::of(&bytes).to_string();
    let groups: Vec<&str> = (0..5).filter_map(|n| hash.get(4 * n..4 * n + 4)).collect();
    Some(groups.join(" "))
}

pub(crate) fn from_hex<const N: usize>(text: &str) -> Option<[u8; N]> {
    if text.len() != 2 * N || !text.is_ascii() {
        return None;
    }
    let mut bytes = [0; N];
    for (index, byte) in bytes.iter_mut().enumerate() {
        *byte = u8::from_str_radix(text.get(2 * index..2 * index + 2)?, 16).ok()?;
    }
    Some(bytes)
}
