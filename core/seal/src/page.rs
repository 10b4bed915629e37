//! The parts of an HTML report, and the place of its seal.

use swarfbook_job::id::Sha256Hex;

use crate::statement::Part;

/// Before the seal. No words of others can hold them: theirs are escaped.
pub const OPEN: &str = "<pre id=\"seal\" hidden=\"hidden\">";
/// Behind it.
pub const CLOSE: &str = "</pre>";

const PHOTO: &str = "src=\"data:image/jpeg;base64,";

/// What stands around the seal, and the seal; `None` when there is not just one.
pub fn open(file: &str) -> Option<[&str; 3]> {
    let (before, rest) = file.split_once(OPEN)?;
    let (seal, after) = rest.split_once(CLOSE)?;
    (!after.contains(OPEN)).then_some([before, seal, after])
}

/// Bytes around the seal.
pub fn length([before, _, after]: [&str; 3]) -> u64 {
    (before.len() + OPEN.len() + CLOSE.len() + after.len()) as u64
}

/// Every byte but the seal's as named parts: what stands before the first
/// section, each section under its heading, each photo, what stands behind.
pub fn parts([before, _, after]: [&str; 3]) -> Vec<Part> {
    let mut parts = Vec::new();
    let mut photos = 0;
    for (n, section) in before.split_inclusive("</section>").enumerate() {
        let at = section.find("<section").unwrap_or(section.len());
        let (outside, inside) = section.split_at(at);
        if !outside.is_empty() {
            let name = if n == 0 {
                "the head"
            } else {
                "between the sections"
            };
            add(&mut parts, name, outside);
        }
        let name = heading(inside);
        let mut rest = inside;
        while let Some(at) = rest.find(PHOTO) {
            let (words, photo) = rest.split_at(at + PHOTO.len());
            add(&mut parts, &name, words);
            photos += 1;
            let (photo, words) = photo.split_at(photo.find('"').unwrap_or(photo.len()));
            add(&mut parts, &format!("photo {photos}"), photo);
            rest = words;
        }
        if !rest.is_empty() {
            add(&mut parts, &name, rest);
        }
    }
    add(&mut parts, "the end", after);
    parts
}

fn add(parts: &mut Vec<Part>, name: &str, bytes: &str) {
    parts.push(Part {
        name: name.to_owned(),
        sha256: Sha256Hex::of(bytes.as_bytes()),
    });
}

/// The words of a section's heading.
fn heading(section: &str) -> String {
    let words = || {
        let (_, rest) = section.split_once("<h2")?;
        let (_, rest) = rest.split_once('>')?;
        rest.split_once("</h2>").map(|(words, _)| words)
    };
    words().unwrap_or("a section").to_owned()
}
