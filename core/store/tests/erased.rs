//! What was erased is gone from the disk, too, though somebody reads meanwhile.
#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

use std::fs;
use std::path::Path;
use std::sync::mpsc::channel;
use std::thread;
use std::time::Duration;

use chrono::DateTime;
use swarfbook_job::id::CustomerId;
use swarfbook_store::{Store, StoreError};
use uuid::Uuid;

const NAME: &str = "Invented Name Of Somebody";

fn lies_in(dir: &Path) -> bool {
    let files = ["swarfbook.db", "swarfbook.db-wal"].map(|name| fs::read(dir.join(name)));
    let name = NAME.as_bytes();
    let mut files = files.iter().flatten();
    files.any(|bytes| bytes.windows(name.len()).any(|part| part == name))
}

#[test]
fn who_reads_a_moment_of_before_is_waited_for_or_it_is_said() {
    let dir = tempfile::tempdir().expect("folder");
    let store = Store::open(dir.path()).expect("opens");
    let now = DateTime::parse_from_rfc3339("2026-03-02T08:00:00+01:00").expect("a time");
    let customer = CustomerId(Uuid::from_u128(1));
    let save = || store.save_customer(customer, NAME, "", now).expect("kept");
    let read_for = |long: Duration| {
        let (begun, has_begun) = channel();
        let store = store.clone();
        let reader = thread::spawn(move || {
            store.at_one_moment(|store| {
                let there = store.customer(customer)?.expect("there");
                begun.send(()).expect("heard");
                thread::sleep(long);
                assert_eq!(store.customer(customer)?, Some(there));
                Ok::<_, StoreError>(())
            })
        });
        has_begun.recv().expect("reads");
        reader
    };
    save();
    assert!(lies_in(dir.path()));
    // A short look is waited for.
    let reader = read_for(Duration::from_millis(500));
    store.erase_customer(customer, now).expect("erased");
    assert!(!lies_in(dir.path()));
    reader.join().expect("ends").expect("reads");
    // A long one is not: the name is gone from the shop, and it is said that it still lies there.
    let other = CustomerId(Uuid::from_u128(2));
    store.save_customer(other, NAME, "", now).expect("kept");
    let reader = read_for(Duration::from_secs(8));
    let told = store.erase_customer(other, now);
    assert!(matches!(told, Err(StoreError::Busy)), "{told:?}");
    assert!(store.customer(other).expect("reads").expect("there").erased);
    assert!(lies_in(dir.path()));
    reader.join().expect("ends").expect("reads");
    store.erase_customer(other, now).expect("erased");
    assert!(!lies_in(dir.path()));
}
