//! A photo is what its name says, or it is no photo: in a folder, and in whatever else
//! keeps blobs.

#![allow(clippy::expect_used)] // in helpers of tests, too

mod memory;

use std::fs;
use std::sync::Arc;

use memory::Memory;
use swarfbook_job::id::{DeviceId, Sha256Hex};
use swarfbook_store::{Arrived, MAX_PHOTO_BYTES, Store, StoreError, photo_path};
use tempfile::TempDir;
use uuid::Uuid;

const TAKEN: &[u8] = b"a picture, as taken";

/// A store, and where its photos are kept: in its folder, or in memory.
struct Kept {
    dir: TempDir,
    memory: Option<Arc<Memory>>,
    store: Store,
}

impl Kept {
    fn of(memory: Option<Arc<Memory>>) -> Kept {
        let dir = tempfile::tempdir().expect("folder");
        let store = Store::open(dir.path()).expect("opens");
        let store = match &memory {
            Some(memory) => store.with_blobs(memory.clone()),
            None => store,
        };
        Kept { dir, memory, store }
    }

    /// As after a restart.
    fn again(&mut self) {
        let store = Store::open(self.dir.path()).expect("opens");
        self.store = match &self.memory {
            Some(memory) => store.with_blobs(memory.clone()),
            None => store,
        };
    }

    /// Its one photo with a flipped bit, as a disk or a memory card makes it.
    fn with_a_flipped_bit(self) -> (Kept, Sha256Hex) {
        let photo = self.store.put_photo(TAKEN).expect("kept");
        match &self.memory {
            Some(memory) => memory.flip(photo, 4),
            None => {
                let file = photo_path(self.dir.path(), photo);
                let mut bytes = fs::read(&file).expect("reads");
                bytes[4] ^= 1;
                fs::write(&file, bytes).expect("written");
            }
        }
        (self, photo)
    }

    /// How many blobs there are, those set aside too.
    fn count(&self, photo: Sha256Hex) -> usize {
        match &self.memory {
            Some(memory) => memory.count(),
            None => {
                let file = photo_path(self.dir.path(), photo);
                let shelf = fs::read_dir(file.parent().expect("a folder"));
                shelf.expect("reads").count()
            }
        }
    }
}

/// Each kind of blob store with nothing in it.
fn each() -> [Kept; 2] {
    [Kept::of(None), Kept::of(Some(Arc::default()))]
}

#[test]
fn a_photo_is_kept_under_its_hash_as_taken_and_an_empty_or_huge_one_is_refused() {
    for mut kept in each() {
        let photo = kept.store.put_photo(TAKEN).expect("kept");
        assert_eq!(photo, Sha256Hex::of(TAKEN));
        assert_eq!(kept.store.put_photo(TAKEN).expect("again"), photo);
        assert_eq!(kept.count(photo), 1);
        kept.again();
        assert!(kept.store.has_photo(photo));
        assert_eq!(kept.store.photo(photo).expect("here"), TAKEN);
        let range = |from, most| kept.store.photos().range(photo, from, most).expect("reads");
        let total = TAKEN.len() as u64;
        assert_eq!(range(0, 9), Some((total, b"a picture".to_vec())));
        assert_eq!(range(14, 99), Some((total, b"taken".to_vec())));
        assert_eq!(range(99, 9), Some((total, Vec::new())));
        let other = Sha256Hex::of(b"another");
        assert!(!kept.store.has_photo(other));
        assert!(matches!(kept.store.photo(other), Err(StoreError::Photo(_))));
        assert_eq!(kept.store.photos().range(other, 0, 9).expect("none"), None);
        for bad in [&[][..], &vec![0; MAX_PHOTO_BYTES + 1]] {
            assert!(matches!(
                kept.store.put_photo(bad),
                Err(StoreError::Photo(_))
            ));
        }
    }
}

#[test]
fn a_photo_with_a_flipped_bit_is_not_given_out() {
    for kept in each() {
        let (kept, photo) = kept.with_a_flipped_bit();
        for reading in 0..2 {
            let why = kept.store.photo(photo).expect_err("damaged").to_string();
            assert!(why.contains("damaged"), "reading {reading}: {why}");
        }
        assert!(
            !kept.store.has_photo(photo),
            "so that it is asked for again"
        );
    }
}

#[test]
fn adding_the_genuine_photo_again_mends_it() {
    // Whether somebody has read it in between or not.
    for (kept, read) in each()
        .into_iter()
        .zip([false; 2])
        .chain(each().into_iter().zip([true; 2]))
    {
        let (mut kept, photo) = kept.with_a_flipped_bit();
        if read {
            kept.store.photo(photo).expect_err("damaged");
        }
        assert_eq!(kept.store.put_photo(TAKEN).expect("kept"), photo);
        assert_eq!(kept.store.photo(photo).expect("mended"), TAKEN);
        assert_eq!(kept.count(photo), 1, "nothing damaged stays beside it");
        kept.again();
        assert_eq!(kept.store.photo(photo).expect("still"), TAKEN);
    }
}

#[test]
fn a_genuine_photo_that_arrives_in_pieces_mends_it() {
    for kept in each() {
        let (kept, photo) = kept.with_a_flipped_bit();
        let store = kept.store;
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
}

#[test]
fn what_arrives_in_pieces_goes_on_where_it_ended_and_is_thrown_away_where_it_is_wrong() {
    for mut kept in each() {
        let photo = Sha256Hex::of(TAKEN);
        let (from, other) = (DeviceId(Uuid::from_u128(5)), DeviceId(Uuid::from_u128(6)));
        let total = TAKEN.len() as u64;
        let arrive = |kept: &Kept, from, at: usize, piece: &[u8]| {
            let done = kept.store.arrive(photo, from, at as u64, piece, total);
            done.expect("taken")
        };
        assert_eq!(arrive(&kept, from, 0, &TAKEN[..7]), Arrived::Upto(7));
        kept.again();
        assert_eq!(
            arrive(&kept, from, 3, b"xx"),
            Arrived::Upto(7),
            "passed over"
        );
        assert_eq!(
            arrive(&kept, other, 0, b"another pictur"),
            Arrived::Upto(14)
        );
        assert_eq!(arrive(&kept, other, 14, b"e, no"), Arrived::Wrong);
        assert_eq!(
            kept.store.arrived(photo, other).expect("reads"),
            Arrived::Upto(0)
        );
        let beyond = kept.store.arrive(photo, from, 7, TAKEN, total);
        assert!(matches!(beyond, Err(StoreError::Photo(_))), "{beyond:?}");
        assert!(!kept.store.has_photo(photo));
        assert_eq!(arrive(&kept, from, 7, &TAKEN[7..]), Arrived::Whole);
        assert_eq!(arrive(&kept, other, 0, b"late"), Arrived::Whole);
        assert_eq!(kept.store.photo(photo).expect("here"), TAKEN);
        kept.store.forget_arrived(photo, from);
        assert_eq!(kept.count(photo), 1);
    }
}

/// Reports show copies: a copy with a flipped bit would be signed as if it were the photo.
#[test]
fn a_copy_with_a_flipped_bit_is_as_good_as_none() {
    for kept in each() {
        let photos = kept.store.photos();
        let photo = photos.put(TAKEN).expect("kept");
        photos.keep_copy(photo, "small", b"smaller").expect("kept");
        assert_eq!(photos.copy(photo, "small").expect("here"), b"smaller");
        let name = photo.to_string();
        let file = kept.dir.path().join("copies/small");
        let file = file.join(&name[..2]).join(&name);
        let whole = 64 + b"smaller".len();
        for at in 0..whole {
            match &kept.memory {
                Some(memory) => memory.flip_copy(photo, "small", at),
                None => {
                    let mut bytes = fs::read(&file).expect("reads");
                    bytes[at] ^= 1;
                    fs::write(&file, bytes).expect("written");
                }
            }
            assert_eq!(photos.copy(photo, "small"), None, "byte {at}");
            photos.keep_copy(photo, "small", b"smaller").expect("kept");
        }
    }
}
