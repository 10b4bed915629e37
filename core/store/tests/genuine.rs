//! A photo is what its name says, or it is no photo.

#![allow(clippy::expect_used)] // in helpers of tests, too

use std::fs;
use std::path::PathBuf;

use swarfbook_job::id::{DeviceId, Sha256Hex};
use swarfbook_store::{Arrived, Store};
use tempfile::TempDir;
use uuid::Uuid;

const TAKEN: &[u8] = b"a picture, as taken";

/// A store whose one photo has a flipped bit, as a disk or a memory card makes it.
fn with_a_flipped_bit() -> (TempDir, Store, Sha256Hex, PathBuf) {
    let dir = tempfile::tempdir().expect("folder");
    let store = Store::open(dir.path()).expect("opens");
    let photo = store.put_photo(TAKEN).expect("kept");
    let file = store.photo_path(photo);
    let mut bytes = TAKEN.to_vec();
    bytes[4] ^= 1;
    fs::write(&file, bytes).expect("written");
    (dir, store, photo, file)
}

#[test]
fn a_photo_with_a_flipped_bit_is_not_given_out() {
    let (_dir, store, photo, _) = with_a_flipped_bit();
    for reading in 0..2 {
        let why = store.photo(photo).expect_err("damaged").to_string();
        assert!(why.contains("damaged"), "reading {reading}: {why}");
    }
    assert!(!store.has_photo(photo), "so that it is asked for again");
}

#[test]
fn adding_the_genuine_photo_again_mends_it() {
    // Whether somebody has read it in between or not.
    for read in [false, true] {
        let (dir, store, photo, file) = with_a_flipped_bit();
        if read {
            store.photo(photo).expect_err("damaged");
        }
        assert_eq!(store.put_photo(TAKEN).expect("kept"), photo);
        assert_eq!(store.photo(photo).expect("mended"), TAKEN);
        drop(store);
        let shelf = fs::read_dir(file.parent().expect("a shelf")).expect("reads");
        assert_eq!(shelf.count(), 1, "nothing damaged stays beside it");
        let store = Store::open(dir.path()).expect("opens");
        assert_eq!(store.photo(photo).expect("still"), TAKEN);
    }
}

#[test]
fn a_genuine_photo_that_arrives_in_pieces_mends_it() {
    let (_dir, store, photo, _) = with_a_flipped_bit();
    store.photo(photo).expect_err("damaged");
    let from = DeviceId(Uuid::from_u128(5));
    assert_eq!(store.arrived(photo, from).expect("reads"), Arrived::Upto(0));
    let (first, rest) = TAKEN.split_at(7);
    let total = TAKEN.len() as u64;
    store.arrive(photo, from, 0, first, total).expect("taken");
    let done = store.arrive(photo, from, 7, rest, total).expect("taken");
    assert_eq!(done, Arrived::Whole);
    assert_eq!(store.photo(photo).expect("mended"), TAKEN);
}

/// Reports show copies: a copy with a flipped bit would be signed as if it were the photo.
#[test]
fn a_copy_with_a_flipped_bit_is_as_good_as_none() {
    let dir = tempfile::tempdir().expect("folder");
    let store = Store::open(dir.path()).expect("opens");
    let shelves = store.shelves();
    let photo = store.put_photo(TAKEN).expect("kept");
    shelves.keep_copy(photo, "small", b"smaller").expect("kept");
    assert_eq!(shelves.copy(photo, "small").expect("here"), b"smaller");
    let name = photo.to_string();
    let file = dir.path().join("copies/small").join(&name[..2]).join(&name);
    let whole = fs::read(&file).expect("reads");
    for at in 0..whole.len() {
        let mut bytes = whole.clone();
        bytes[at] ^= 1;
        fs::write(&file, bytes).expect("written");
        assert_eq!(shelves.copy(photo, "small"), None, "byte {at}");
    }
}
