//! Making sealed files; the form and the check of the seal are in `swarfbook_seal`.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;

use swarfbook_job::id::Sha256Hex;
use swarfbook_seal::{FORM, FileKind, PURPOSE, Part, Seal, Statement, fields, fingerprint};
use swarfbook_seal::{page, paper};

use crate::ReportError;
use crate::content::{Content, Photos};
use crate::html::Key;
use crate::pdf::{Attached, Paper, set_page};

/// Who signs: the secret stays with its owner.
pub struct Signer<'a> {
    /// The public key, 64 hexadecimal digits.
    pub public_hex: &'a str,
    /// Ed25519 over a text's bytes, 128 hexadecimal digits.
    pub sign: &'a dyn Fn(&str) -> String,
}

impl Signer<'_> {
    fn key(&self) -> Result<Key, ReportError> {
        Ok(Key {
            public: self.public_hex.to_owned(),
            fingerprint: fingerprint(self.public_hex).ok_or(ReportError::Key)?,
        })
    }

    fn seal(
        &self,
        content: &Content,
        file: FileKind,
        (parts, length): (Vec<Part>, u64),
        carried: String,
    ) -> Result<String, ReportError> {
        let mut statement =
            stated(content, file, parts, self.public_hex).map_err(ReportError::Words)?;
        statement.length = Some(length);
        statement.carried = Some(Sha256Hex::of(carried.as_bytes()));
        let statement =
            serde_json_canonicalizer::to_string(&statement).map_err(ReportError::Words)?;
        let seal = Seal {
            content: carried,
            signature: (self.sign)(&format!("{PURPOSE}{statement}")),
            statement,
        };
        let text = serde_json_canonicalizer::to_string(&seal).map_err(ReportError::Words)?;
        Ok(STANDARD.encode(text))
    }
}

/// The report as a sealed page.
///
/// # Errors
/// As [`crate::render`]; [`ReportError::Key`] when the signer has no key.
pub fn sign_html(
    content: &Content,
    photos: &Photos,
    signer: &Signer<'_>,
) -> Result<String, ReportError> {
    let page = crate::html::page(content, photos, Some(&signer.key()?))?;
    let around = page::open(&page).ok_or(ReportError::NoPlace)?;
    let text = content.canonical().map_err(ReportError::Words)?;
    let carried = STANDARD.encode(miniz_oxide::deflate::compress_to_vec_zlib(
        text.as_bytes(),
        8,
    ));
    let seal = signer.seal(
        content,
        FileKind::Html,
        (page::parts(around), page::length(around)),
        carried,
    )?;
    let [before, _, after] = around;
    Ok([before, page::OPEN, &seal, page::CLOSE, after].concat())
}

/// Room for the seal of a usual report, bytes.
const ROOM: usize = 16 * 1024;

/// The report as a sealed PDF.
///
/// # Errors
/// As [`crate::render_pdf`]; [`ReportError::Key`] when the signer has no key.
pub fn sign_pdf(
    content: &Content,
    photos: &Photos,
    paper: Paper,
    signer: &Signer<'_>,
) -> Result<Vec<u8>, ReportError> {
    let page = crate::html::page(content, photos, Some(&signer.key()?))?;
    let text = content.canonical().map_err(ReportError::Words)?;
    let mut room = ROOM;
    loop {
        let empty = [paper::MARK, &vec![b' '; room], &[paper::END]].concat();
        let attached = Attached {
            content: text.clone(),
            seal: empty,
        };
        let mut file = set_page(&page, content, paper, Some(attached))?;
        let place = paper::place(&file).ok_or(ReportError::NoPlace)?;
        let whole = (paper::parts(&file, &place), file.len() as u64);
        let seal = signer.seal(content, FileKind::Pdf, whole, String::new())?;
        if seal.len() > room {
            // All but a few digits of the length are as long the second time.
            room = seal.len() + 16;
            continue;
        }
        if let Some(room) = file.get_mut(place.start..place.start + seal.len()) {
            room.copy_from_slice(seal.as_bytes());
        }
        return Ok(file);
    }
}

/// What a file that shows `content` in these parts states.
fn stated(
    content: &Content,
    file: FileKind,
    parts: Vec<Part>,
    key: &str,
) -> Result<Statement, serde_json::Error> {
    let text = content.canonical()?;
    Ok(Statement {
        form: FORM,
        file,
        shop: content.shop.name.clone(),
        invented: content.invented,
        made: content.made.clone(),
        content: Sha256Hex::of(text.as_bytes()),
        fields: fields(&text)?,
        photos: content.copies().collect(),
        parts,
        length: None,
        carried: None,
        key: key.to_owned(),
    })
}
