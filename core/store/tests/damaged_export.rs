//! An export of which a disk changed a photo: all the rest comes in, and the photo is named.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

use std::io::{Cursor, Read, Write};

use swarfbook_job::id::Sha256Hex;
use swarfbook_store::{Exported, Store, StoreError, read_back};
use zip::write::SimpleFileOptions;
use zip::{ZipArchive, ZipWriter};

const GENUINE: &[u8] = include_bytes!("fixtures/export-of-4.zip");
const PHOTO: &[u8] = b"stands for a photo";

fn import(store: &Store, bytes: &[u8]) -> Exported {
    store
        .import_export(Cursor::new(bytes), 0, &["settings"], |_| None)
        .expect("the rest comes in")
}

#[test]
fn a_damaged_photo_in_an_export_keeps_nothing_else_back() {
    let mut bad = GENUINE.to_vec();
    let at = bad
        .windows(PHOTO.len())
        .position(|part| part == PHOTO)
        .expect("photos are stored as they are");
    bad[at] ^= 1;
    let photo = Sha256Hex::of(PHOTO);
    // Who has just written it must write it again.
    let refused = read_back(Cursor::new(&bad)).expect_err("not whole");
    assert!(
        refused.to_string().contains(&photo.to_string()),
        "{refused}"
    );

    let dir = tempfile::tempdir().expect("folder");
    let store = Store::open(dir.path()).expect("opens");
    let new = import(&store, &bad);
    assert_eq!((new.entries, new.photos, new.customers), (8, 0, 1));
    assert_eq!(new.not_whole.photos_damaged, [photo]);
    assert!(matches!(store.photo(photo), Err(StoreError::Photo(_))));
    let mended = import(&store, GENUINE);
    assert_eq!((mended.entries, mended.photos), (0, 1));
    assert!(mended.not_whole.photos_damaged.is_empty());
    assert_eq!(store.photo(photo).expect("there"), PHOTO);
}

/// The same export with its parts as this makes them, by name; those are left out of which it
/// makes none.
fn changed(change: impl Fn(&str, String) -> Option<String>) -> Vec<u8> {
    let mut from = ZipArchive::new(Cursor::new(GENUINE)).expect("an archive");
    let mut to = ZipWriter::new(Cursor::new(Vec::new()));
    for at in 0..from.len() {
        let mut part = from.by_index(at).expect("a part");
        let name = part.name().expect("text").into_owned();
        let mut bytes = Vec::new();
        part.read_to_end(&mut bytes).expect("reads");
        let text = String::from_utf8(bytes).expect("text");
        let Some(text) = change(&name, text) else {
            continue;
        };
        to.start_file(name, SimpleFileOptions::default())
            .expect("begun");
        to.write_all(text.as_bytes()).expect("written");
    }
    to.finish().expect("ends").into_inner()
}

/// With one figure of its second line changed.
fn with_a_changed_line(signed: bool) -> Vec<u8> {
    changed(|name, text| {
        if name.starts_with("log/") {
            let changed = text.replacen("\"odometer_km\":120000", "\"odometer_km\":130000", 1);
            assert_ne!(text, changed, "nothing to change: {text}");
            return Some(changed);
        }
        (signed || !name.starts_with("signatures/")).then_some(text)
    })
}

fn refused(bytes: Vec<u8>) -> String {
    let dir = tempfile::tempdir().expect("folder");
    let store = Store::open(dir.path()).expect("opens");
    let refused = store
        .import_export(Cursor::new(bytes), 0, &["settings"], |_| None)
        .expect_err("a part was changed");
    assert!(store.heads().expect("reads").is_empty());
    assert!(store.customers().expect("reads").is_empty());
    refused.to_string()
}

/// Which line it was can be told by a signature alone: without one it is that or the one behind.
#[test]
fn an_export_of_which_a_line_was_changed_is_refused_in_words_that_say_so() {
    for (signed, words) in [
        (true, "is not as that device signed it"),
        (false, "one of the two is not as it was written"),
    ] {
        let refused = refused(with_a_changed_line(signed));
        assert!(
            refused.starts_with("the export was changed: line "),
            "{refused}"
        );
        assert!(refused.ends_with(words), "{refused}");
    }
}

/// A parser would say "expected value at line 1 column 2", in English, of a file that nobody opens.
#[test]
fn a_part_that_is_in_no_form_is_named_in_words_of_our_own() {
    for (part, words) in [
        ("manifest.json", "its form is not that of such a part"),
        ("customers.jsonl", "its form is not that of such a part"),
        ("log/", "it is not in the form of a line"),
    ] {
        let broken = changed(|name, text| {
            let broken = name.starts_with(part).then(|| format!("x{text}"));
            Some(broken.unwrap_or(text))
        });
        let refused = refused(broken);
        assert!(refused.contains(part), "{refused}");
        assert!(refused.ends_with(words), "{refused}");
    }
}
