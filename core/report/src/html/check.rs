//! What must hold before a report may be set out.

use std::collections::BTreeSet;

use serde_json::Value;
use swarfbook_job::id::Sha256Hex;

use crate::ReportError;
use crate::content::{Content, FORM, Photos};

/// Checks that each figure rests on a source and each photo is whole and tells
/// nothing beside its picture.
///
/// # Errors
/// [`ReportError`], the first that was found.
pub fn check(content: &Content, photos: &Photos) -> Result<(), ReportError> {
    if content.form != FORM {
        return Err(ReportError::Form {
            found: content.form,
        });
    }
    for entry in entries_named(content)? {
        if !content.sources.contains_key(&entry) {
            return Err(ReportError::NoSource { entry });
        }
    }
    if let Some(entry) = content.deciding
        && !content.photos.iter().any(|photo| photo.entry == entry)
    {
        return Err(ReportError::NotAmongPhotos { entry });
    }
    for copy in content.copies() {
        let bytes = photos
            .get(&copy)
            .ok_or(ReportError::PhotoMissing { copy })?;
        check_jpeg(copy, bytes)?;
    }
    Ok(())
}

/// Every line that something said rests on. Read from the canonical form, so
/// that a part of the tree which is added later can't be forgotten here.
fn entries_named(content: &Content) -> Result<BTreeSet<swarfbook_job::id::EntryId>, ReportError> {
    let tree = serde_json::to_value(content).map_err(ReportError::Words)?;
    let mut texts = BTreeSet::new();
    collect(&tree, &mut texts);
    let photos = content.photos.iter().map(|photo| photo.entry);
    Ok(texts
        .into_iter()
        .filter_map(|text| text.parse().ok())
        .chain(photos)
        .collect())
}

fn collect<'a>(tree: &'a Value, texts: &mut BTreeSet<&'a str>) {
    match tree {
        Value::Array(items) => items.iter().for_each(|item| collect(item, texts)),
        Value::Object(fields) => {
            for (name, value) in fields {
                match (name.as_str(), value) {
                    ("from", Value::Array(lines)) => {
                        texts.extend(lines.iter().filter_map(Value::as_str));
                    }
                    _ => collect(value, texts),
                }
            }
        }
        _ => {}
    }
}

/// A baseline or progressive JPEG with nothing in it but the picture: JFIF and
/// Adobe headers may stay, every other application segment and comment may not.
fn check_jpeg(copy: Sha256Hex, bytes: &[u8]) -> Result<(), ReportError> {
    if Sha256Hex::of(bytes) != copy {
        return Err(ReportError::PhotoChanged { copy });
    }
    let mut rest = bytes
        .strip_prefix(&[0xff, 0xd8])
        .ok_or(ReportError::NotJpeg { copy })?;
    loop {
        let [0xff, marker, high, low, after @ ..] = rest else {
            return Err(ReportError::NotJpeg { copy });
        };
        match marker {
            // Start of scan: the picture itself begins.
            0xda => return Ok(()),
            // APP0 and APP14 hold density and colour transform only.
            0xe0 | 0xee => {}
            0xe1..=0xef | 0xfe => return Err(ReportError::PhotoTells { copy }),
            _ => {}
        }
        let length = usize::from(u16::from_be_bytes([*high, *low]));
        rest = length
            .checked_sub(2)
            .and_then(|skip| after.get(skip..))
            .ok_or(ReportError::NotJpeg { copy })?;
    }
}
