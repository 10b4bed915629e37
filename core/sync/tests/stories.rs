//! What devices and a hub go through together.
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests are outside of them

mod common;

use common::{Device, at, job};
use swarfbook_job::fact::Fact;
use swarfbook_job::id::CustomerId;
use swarfbook_store::ProcedureText;
use uuid::Uuid;

/// Two phones work on one job without a signal; once both have synced with the
/// hub, all three tell the same, and syncing again moves nothing.
#[test]
fn two_phones_on_one_job_and_a_hub_end_in_the_same_state() {
    let (hub, bay, bench) = (Device::new(), Device::new(), Device::new());
    let one = job(1);
    bay.write(
        one,
        [Fact::Opened {
            procedure: "pan-service-electrical".into(),
            procedure_version: 1,
        }],
        0,
    );
    bay.sync_with(&hub).expect("first");
    bench.sync_with(&hub).expect("bench has the job");
    let pan = bay.take_photo(one, &vec![7; 1_300_000], 5);
    bench.tick(one, "codes-before", 6);
    bay.tick(one, "pan-off", 7);
    bench.take_photo(one, b"a magnet", 8);
    hub.tick(one, "written-at-the-desk", 9);

    let sent = bay.sync_with(&hub).expect("bay");
    assert_eq!((sent.lines_sent, sent.photos_sent), (2, 1));
    let both = bench.sync_with(&hub).expect("bench");
    assert_eq!((both.lines_sent, both.photos_sent), (2, 1));
    assert_eq!((both.lines_taken, both.photos_taken), (3, 1));
    bay.sync_with(&hub).expect("bay takes in");

    assert_eq!(bay.content(), hub.content());
    assert_eq!(bench.content(), hub.content());
    assert_eq!(bay.state(one), hub.state(one));
    assert_eq!(bench.state(one), hub.state(one));
    assert_eq!(hub.state(one).lines.len(), 6);
    assert_eq!(
        bench.store().photo(pan).expect("the other's photo"),
        vec![7; 1_300_000]
    );
    let before = hub.content();
    for device in [&bay, &bench] {
        let again = device.sync_with(&hub).expect("again");
        assert!(again.was_level(), "{again:?}");
    }
    assert_eq!(hub.content(), before);
}

/// Names and contacts follow the last change; erasing wins over any.
#[test]
fn customers_follow_the_last_change_and_an_erased_one_stays_erased() {
    let (hub, bay, desk) = (Device::new(), Device::new(), Device::new());
    let id = |n| CustomerId(Uuid::from_u128(n));
    bay.store()
        .save_customer(id(1), "Ada Invented", "1", at(0))
        .expect("saved");
    bay.store()
        .save_customer(id(2), "Bo Invented", "2", at(0))
        .expect("saved");
    bay.sync_with(&hub).expect("up");
    desk.sync_with(&hub).expect("down");
    desk.store()
        .save_customer(id(1), "Ada Invented", "new number", at(9))
        .expect("changed");
    desk.store().erase_customer(id(2), at(10)).expect("erased");
    bay.store()
        .save_customer(id(2), "Bo Invented", "typed after it was erased", at(20))
        .expect("saved without knowing");
    desk.sync_with(&hub).expect("up");
    bay.sync_with(&hub).expect("both ways");
    desk.sync_with(&hub).expect("down");
    for device in [&hub, &bay, &desk] {
        let one = device
            .store()
            .customer(id(1))
            .expect("read")
            .expect("there");
        assert_eq!(one.contact, "new number");
        let two = device
            .store()
            .customer(id(2))
            .expect("read")
            .expect("there");
        assert!(two.erased && two.name.is_empty() && two.contact.is_empty());
    }
    assert!(bay.sync_with(&hub).expect("again").was_level());
}

fn procedure(version: u32, title: &str) -> ProcedureText {
    let shipped = include_str!("../../job/procedures/pan-service-electrical.toml");
    let mut text: toml::Table = shipped.parse().expect("TOML");
    text.insert("id".into(), "shop-way".into());
    text.insert("version".into(), i64::from(version).into());
    text.insert("title".into(), title.into());
    ProcedureText {
        id: "shop-way".into(),
        version,
        text: text.to_string(),
    }
}

/// A shop's own procedure reaches every device; two that differ under one
/// version are both kept where they are, and somebody is told.
#[test]
fn procedures_travel_and_a_conflict_is_told_not_settled() {
    let (hub, bay, desk) = (Device::new(), Device::new(), Device::new());
    bay.store()
        .add_procedure(&procedure(1, "One"))
        .expect("kept");
    bay.sync_with(&hub).expect("up");
    desk.sync_with(&hub).expect("down");
    assert_eq!(desk.content().procedures, [procedure(1, "One")]);

    bay.store()
        .add_procedure(&procedure(2, "Two by bay"))
        .expect("kept");
    desk.store()
        .add_procedure(&procedure(2, "Two by desk"))
        .expect("kept");
    bay.sync_with(&hub).expect("up");
    let told = desk.sync_with(&hub).expect("goes through");
    assert_eq!(told.refused.len(), 1, "{told:?}");
    assert!(told.refused[0].words.contains("differs here and there"));
    assert!(
        desk.content()
            .procedures
            .contains(&procedure(2, "Two by desk"))
    );
    assert!(
        hub.content()
            .procedures
            .contains(&procedure(2, "Two by bay"))
    );
}

/// A photo that a lost phone took never arrives; the others go on and say so.
#[test]
fn a_photo_that_is_nowhere_holds_nothing_up() {
    let (hub, lost, bay) = (Device::new(), Device::new(), Device::new());
    let photo = lost.take_photo(job(1), b"gone with the phone", 0);
    // Only its lines went through.
    let lines = {
        let store = lost.store();
        store.entries_after(store.device(), 0, usize::MAX)
    }
    .expect("lines");
    hub.store().import(&lines, 0).expect("taken in");
    bay.tick(job(1), "a", 1);
    let done = bay.sync_with(&hub).expect("goes through");
    assert_eq!((done.lines_sent, done.lines_taken), (1, 1));
    assert_eq!((done.photos_taken, done.photos_nowhere), (0, 1));
    assert!(!bay.store().has_photo(photo));
}

/// Thousands of customers come in pages, lines in pages, and all arrive.
#[test]
fn much_is_sent_in_parts() {
    let (hub, bay, desk) = (Device::new(), Device::new(), Device::new());
    let long = "x".repeat(400_000);
    for minute in 0..6 {
        bay.write(
            job(1),
            [Fact::Noted {
                step: "s".into(),
                topic: None,
                text: long.clone(),
                private: false,
            }],
            minute,
        );
    }
    let id = CustomerId(Uuid::from_u128(0));
    bay.store().save_customer(id, "x", "y", at(0)).expect("one");
    let one = bay.store().customer(id).expect("read").expect("there");
    let many: Vec<_> = (0..4_500u128)
        .map(|n| swarfbook_store::Customer {
            id: CustomerId(Uuid::from_u128(n)),
            ..one.clone()
        })
        .collect();
    bay.store().merge_customers(&many, 0).expect("many");
    let sent = bay.sync_with(&hub).expect("up");
    assert_eq!((sent.lines_sent, sent.beside), (6, 4_500));
    let taken = desk.sync_with(&hub).expect("down");
    assert_eq!((taken.lines_taken, taken.beside), (6, 4_500));
    assert_eq!(desk.content(), bay.content());
    assert!(desk.sync_with(&hub).expect("again").was_level());
}

/// A bit that flipped on one disk: the other side has the genuine photo.
#[test]
fn a_photo_that_was_damaged_on_one_side_comes_back_from_the_other() {
    for on_the_hub in [true, false] {
        let (phone, hub) = (Device::new(), Device::new());
        let photo = phone.take_photo(job(1), b"as taken", 1);
        phone.sync_with(&hub).expect("syncs");
        let broken = if on_the_hub { &hub } else { &phone };
        let file = swarfbook_store::photo_path(broken.dir(), photo);
        std::fs::write(&file, b"as tajen").expect("written");
        assert!(broken.store().photo(photo).is_err(), "noticed when read");
        phone.sync_with(&hub).expect("syncs");
        assert_eq!(broken.store().photo(photo).expect("mended"), b"as taken");
    }
}
