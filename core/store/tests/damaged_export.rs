//! An export of which a disk changed a photo: all the rest comes in, and the photo is named.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

use std::io::Cursor;

use swarfbook_job::id::Sha256Hex;
use swarfbook_store::{Exported, Store, StoreError, read_back};

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
