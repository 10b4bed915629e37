//! What is kept of a job between two calls: it must never say less or other than the log.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

mod bay;

use bay::{Bay, noted};
use chrono::DateTime;
use swarfbook_app::command::Command;
use swarfbook_app::reply::Reply;
use swarfbook_app::settings::Settings;
use swarfbook_app::view::JobLine;
use swarfbook_job::entry::Entry;
use swarfbook_job::fact::{Car, Fact};
use swarfbook_job::id::{DeviceId, EntryId, JobId, Sha256Hex};
use swarfbook_store::{NewEntry, StoreError};
use swarfbook_words::Language;
use uuid::Uuid;

fn car(plate: &str) -> Fact {
    Fact::CarNoted {
        car: Car {
            plate: plate.into(),
            odometer_km: Some(90_000.0),
            ..Car::default()
        },
    }
}

impl Bay {
    fn list(&self, search: &str) -> Vec<JobLine> {
        let (search, skip, limit) = (search.to_owned(), 0, 50);
        match self.app.call(Command::Jobs {
            search,
            skip,
            limit,
        }) {
            Ok(Reply::Jobs { jobs, .. }) => jobs,
            other => panic!("{other:?}"),
        }
    }

    fn says(&self, text: &str) -> bool {
        let view = self.view();
        let mut lines = view.recent.iter();
        lines.any(|line| line.words.contains(text) && !line.retracted && !line.undoes)
    }
}

#[test]
fn a_line_that_came_in_beside_the_door_is_seen_at_the_next_look() {
    let bay = Bay::new();
    assert!(!bay.says("from elsewhere"));
    let wall = DateTime::parse_from_rfc3339("2026-03-02T08:00:00+01:00").expect("a time");
    let line = Entry {
        id: EntryId(Uuid::from_u128(5)),
        job: bay.job,
        device: DeviceId(Uuid::from_u128(3)),
        seq: 1,
        wall,
        hlc: Default::default(),
        prev: Sha256Hex::ZERO,
        body: noted("from elsewhere").into(),
    };
    let line = line.seal().expect("sealed");
    bay.app.store().import(&[line], 0).expect("taken in");
    assert!(bay.says("from elsewhere"));
    // The same through the same program's own lines, and taken back.
    bay.write(noted("from here"));
    assert!(bay.says("from here"));
    // The one from before lines were signed is shown as such.
    for line in bay.view().recent {
        assert_eq!(line.unsigned, line.words.contains("from elsewhere"));
    }
    bay.app
        .call(Command::Undo { job: bay.job })
        .expect("undone");
    assert!(!bay.says("from here"));
}

#[test]
fn lines_that_were_never_committed_are_seen_by_nobody() {
    let bay = Bay::new();
    bay.view();
    let new = |text: &str| NewEntry {
        job: bay.job,
        fact: noted(text),
        now: DateTime::parse_from_rfc3339("2026-03-02T08:00:00+01:00").expect("a time"),
    };
    let undone = bay.app.store().together(|store| {
        store.append(&[new("not kept")])?;
        Err::<(), _>(StoreError::Full)
    });
    assert!(undone.is_err());
    assert!(!bay.says("not kept"));
    bay.app.store().append(&[new("kept")]).expect("written");
    assert!(bay.says("kept") && !bay.says("not kept"));
}

#[test]
fn an_earlier_visit_counts_before_anybody_opened_the_list() {
    let bay = Bay::new();
    let line = NewEntry {
        job: JobId(Uuid::from_u128(7)),
        fact: car("SB 101"),
        now: DateTime::parse_from_rfc3339("2026-03-02T08:00:00+01:00").expect("a time"),
    };
    bay.app.store().append(&[line]).expect("written");
    let less = Fact::CarNoted {
        car: Car {
            plate: "sb 101".into(),
            odometer_km: Some(80_000.0),
            ..Car::default()
        },
    };
    let doubt = bay.try_write(less, false).expect_err("below the last");
    assert!(doubt.what.contains("90,000 km"), "{doubt}");
}

#[test]
fn another_language_makes_no_row_of_the_list_anew() {
    let bay = Bay::new();
    bay.write(car("SB 101"));
    let english = bay.list("");
    let language = Some(Language::De);
    let settings = Settings {
        language,
        ..Settings::default()
    };
    bay.app
        .call(Command::SaveSettings { settings })
        .expect("kept");
    assert_eq!(bay.app.store().stale_jobs().expect("reads"), []);
    let german = bay.list("");
    assert_eq!(german[0].title, english[0].title);
    assert_ne!(german[0].stage, english[0].stage);
}

#[test]
fn a_setting_that_is_too_long_is_named() {
    let bay = Bay::new();
    let long = "9".repeat(1_000);
    let of = |address: &str, telephone: &str| Settings {
        address: address.into(),
        telephone: telephone.into(),
        ..Settings::default()
    };
    for (settings, named) in [
        (of(&long, ""), "The shop's address has 1000 characters"),
        (of("", &long), "The shop's telephone number has 1000"),
    ] {
        let refused = bay.app.call(Command::SaveSettings { settings });
        let said = refused.expect_err("too long").what;
        assert!(said.starts_with(named), "{said}");
    }
}

#[test]
fn an_erased_customer_finds_no_job_any_more() {
    let bay = Bay::new();
    bay.app
        .call(Command::SaveCustomer {
            job: bay.job,
            name: "Ada Invented".into(),
            contact: String::new(),
        })
        .expect("kept");
    assert_eq!(bay.list("ada").len(), 1);
    let customer = bay.view().customer.expect("linked").id;
    bay.app
        .call(Command::EraseCustomer { customer })
        .expect("erased");
    // Before the list is opened again, too: nothing of the name lies in the index.
    let found = bay.app.store().jobs("ada", 0, 9).expect("reads");
    assert_eq!(found.total, 0);
    assert_eq!(bay.list("ada").len(), 0);
    assert_eq!(bay.list("").len(), 1);
}
