//! Several threads at one door: none that writes waits for one that reads, and of two that
//! would do the same thing one finds it done.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

mod bay;

use std::collections::BTreeSet;
use std::sync::Barrier;
use std::sync::mpsc::channel;
use std::thread;
use std::time::Duration;

use bay::{Bay, noted};
use swarfbook_app::App;
use swarfbook_app::command::Command;
use swarfbook_app::problem::Problem;
use swarfbook_app::reply::Reply;
use swarfbook_job::fact::{Car, Fact};

/// Longer than any write takes here, however busy the machine.
const PATIENCE: Duration = Duration::from_secs(60);
/// At one time.
const THREADS: usize = 6;

impl Bay {
    fn facts(&self) -> Vec<Fact> {
        let lines = self.app.store().entries(self.job).expect("reads");
        let facts = lines.iter().filter_map(|line| line.body.known().cloned());
        facts.collect()
    }

    /// What each of some threads gets that do this at one time.
    fn all_at_once<T: Send>(&self, what: impl Fn(usize) -> T + Sync) -> Vec<T> {
        let begin = Barrier::new(THREADS);
        thread::scope(|scope| {
            let all: Vec<_> = (0..THREADS)
                .map(|n| {
                    let (what, begin) = (&what, &begin);
                    scope.spawn(move || {
                        begin.wait();
                        what(n)
                    })
                })
                .collect();
            let all = all.into_iter().map(|one| one.join().expect("ends"));
            all.collect()
        })
    }
}

#[test]
fn a_slow_read_sees_one_moment_and_no_write_waits_for_it() {
    let bay = Bay::new();
    let ((begun, has_begun), (written, is_written)) = (channel(), channel());
    let bay = &bay;
    thread::scope(|scope| {
        scope.spawn(move || {
            let counts = bay.app.store().at_one_moment(|store| {
                let before = store.entries(bay.job)?.len();
                begun.send(()).expect("heard");
                is_written
                    .recv_timeout(PATIENCE)
                    .expect("the write did not wait");
                Ok::<_, Problem>((before, store.entries(bay.job)?.len()))
            });
            let (before, after) = counts.expect("reads");
            assert_eq!(before, after);
        });
        has_begun.recv_timeout(PATIENCE).expect("reads");
        bay.write(noted("meanwhile"));
        written.send(()).expect("heard");
    });
    assert!(bay.facts().contains(&noted("meanwhile")));
}

/// The photo's file is a pipe here, which gives nothing until somebody writes to it.
#[cfg(unix)]
#[test]
fn no_write_waits_for_a_report_that_reads_its_photos() {
    use std::fs::{self, File, OpenOptions};
    use std::io::Write;
    use std::process::Command as Program;

    use swarfbook_job::fact::PhotoSubject;
    use swarfbook_store::photo_path;

    let dir = tempfile::tempdir().expect("folder");
    let bay = Bay::with(|_| App::open(dir.path()).expect("opens"));
    let picture = include_bytes!("guard/grey.png");
    let photo = bay.app.put_photo(picture).expect("kept");
    bay.write(Fact::PhotoTaken {
        step: "pan-photo".into(),
        photo,
        subject: PhotoSubject::Pan,
    });
    let path = photo_path(dir.path(), photo);
    let genuine = path.with_extension("genuine");
    fs::rename(&path, &genuine).expect("moved");
    let made = Program::new("mkfifo").arg(&path).status().expect("runs");
    assert!(made.success());
    let (written, is_written) = channel();
    let bay = &bay;
    thread::scope(|scope| {
        let report = scope.spawn(|| {
            bay.app.call(Command::MakeReport {
                job: bay.job,
                leave_out: Default::default(),
                language: None,
            })
        });
        // Opens once the report reads.
        let mut pipe: File = OpenOptions::new().write(true).open(&path).expect("opens");
        scope.spawn(move || {
            let done = bay.try_write(noted("meanwhile"), false);
            written.send(done).expect("heard");
        });
        let done = is_written.recv_timeout(PATIENCE);
        // Read again it is whole; the report must end before this test can fail.
        fs::rename(&genuine, &path).expect("back");
        pipe.write_all(picture).expect("given");
        drop(pipe);
        let report = report.join().expect("ends");
        assert!(report.is_ok(), "{report:?}");
        done.expect("the write waits for the report")
            .expect("written");
    });
}

#[test]
fn of_several_who_undo_at_once_each_takes_back_another_line() {
    let bay = Bay::new();
    for n in 0..2 * THREADS {
        bay.write(noted(&format!("note {n}")));
    }
    let undo = |_| bay.app.call(Command::Undo { job: bay.job });
    for _ in 0..2 {
        for undone in bay.all_at_once(undo) {
            undone.expect("there is one for each");
        }
    }
    let facts = bay.facts();
    let undone = facts.iter().filter_map(|fact| match fact {
        Fact::Retracted { entry, .. } => Some(*entry),
        _ => None,
    });
    let undone: Vec<_> = undone.collect();
    assert_eq!(undone.len(), 2 * THREADS);
    assert_eq!(
        BTreeSet::from_iter(&undone).len(),
        2 * THREADS,
        "{undone:?}"
    );
}

#[test]
fn several_who_name_the_customer_at_once_make_one() {
    for _ in 0..5 {
        let bay = Bay::new();
        let named = bay.all_at_once(|n| {
            bay.app.call(Command::SaveCustomer {
                job: bay.job,
                name: format!("Invented {n}"),
                contact: String::new(),
            })
        });
        assert!(named.iter().all(Result::is_ok), "{named:?}");
        let facts = bay.facts();
        let linked = facts
            .iter()
            .filter(|fact| matches!(fact, Fact::CustomerLinked { .. }));
        assert_eq!(linked.count(), 1);
        assert_eq!(bay.app.store().customers().expect("reads").len(), 1);
    }
}

/// A row that was made from the job of before must not stand for the job of after.
#[test]
fn the_list_tells_the_last_of_several_lines_that_came_while_it_was_made() {
    let bay = Bay::new();
    let list = || {
        let (search, skip, limit) = (String::new(), 0, 9);
        let listed = bay.app.call(Command::Jobs {
            search,
            skip,
            limit,
        });
        match listed {
            Ok(Reply::Jobs { jobs, .. }) => jobs,
            other => panic!("{other:?}"),
        }
    };
    for round in 0..10 {
        let write = |n: usize| {
            let plate = format!("SB {round} {n}");
            let car = Car {
                plate,
                ..Car::default()
            };
            bay.insist(Fact::CarNoted { car });
        };
        bay.all_at_once(|n| match n % 2 {
            0 => write(n),
            _ => drop(list()),
        });
        let last = bay.facts().into_iter().rev().find_map(|fact| match fact {
            Fact::CarNoted { car } => Some(car.plate),
            _ => None,
        });
        let (jobs, last) = (list(), last.expect("written"));
        let told = format!("{:?}", jobs[0]);
        assert!(told.contains(&last), "{last}: {told}");
    }
}
