//! Killed in the middle of a stream of writes: nothing that was acknowledged
//! is lost, and what was not is there whole or not at all.
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests are outside of them

mod common;

use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use common::{Calls, Running, signal};
use serde_json::{Value, json};

fn note(job: &Value, n: usize) -> Value {
    json!({"do":"write","job":job,"fact":{"fact":"noted","step":"car","topic":null,
           "text":format!("note {n}.")}})
}

/// The numbers of the notes that the log holds, in order.
fn notes_in(calls: &mut Calls, job: &Value) -> Vec<usize> {
    let log = calls.ask(&json!({"do":"log","job":job}));
    let lines = log["lines"].as_array().expect("lines");
    lines
        .iter()
        .filter_map(|line| {
            let (_, rest) = line["words"].as_str()?.split_once("note ")?;
            rest.split('.').next()?.parse().ok()
        })
        .collect()
}

#[test]
fn kill_9_of_the_command_line_loses_nothing_acknowledged() {
    let dir = tempfile::tempdir().expect("folder");
    let mut calls = Calls::open(dir.path());
    let job = calls.ask(&json!({"do":"open_job"}))["job"]["id"].clone();
    calls.close();
    let mut acknowledged = 0;
    let mut sent = 0;
    for round in 0u64..6 {
        let mut calls = Calls::open(dir.path());
        let kept = notes_in(&mut calls, &job);
        assert!(
            kept.len() >= acknowledged,
            "{} of {acknowledged}",
            kept.len()
        );
        // Without a gap: what was sent is there up to some point.
        assert_eq!(kept, (0..kept.len()).collect::<Vec<_>>());
        acknowledged = kept.len();
        let mut next = kept.len();
        let pid = calls.child.id();
        let killer = std::thread::spawn(move || {
            std::thread::sleep(Duration::from_millis(150 + 70 * round));
            signal(pid, "-KILL");
        });
        // Two on the way at a time, so that the kill falls into one.
        calls.send(&note(&job, next).to_string());
        next += 1;
        loop {
            if calls.try_send(&note(&job, next).to_string()) {
                next += 1;
            }
            match calls.next() {
                Some(answer) => {
                    assert_eq!(answer["reply"], "written", "{answer}");
                    acknowledged += 1;
                }
                None => break,
            }
        }
        killer.join().expect("killed");
        calls.child.wait().expect("gone");
        sent = next;
    }
    let mut calls = Calls::open(dir.path());
    let kept = notes_in(&mut calls, &job);
    assert!((acknowledged..=sent).contains(&kept.len()));
    assert!(acknowledged >= 6, "the rounds did write: {acknowledged}");
}

#[test]
fn kill_9_of_the_hub_loses_nothing_acknowledged() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let job = hub.call(&json!({"do":"open_job"})).json()["job"]["id"].clone();
    let going = AtomicBool::new(true);
    let mut acknowledged = 0;
    std::thread::scope(|scope| {
        let pid = hub.pid();
        let going = &going;
        scope.spawn(move || {
            std::thread::sleep(Duration::from_millis(900));
            going.store(false, Ordering::SeqCst);
            signal(pid, "-KILL");
        });
        let sending = std::panic::AssertUnwindSafe(|| {
            for n in 0.. {
                // Once it is killed no answer comes: the request panics in the helper.
                assert_eq!(hub.call(&note(&job, n)).status, 200);
                acknowledged = n + 1;
            }
        });
        let ended = std::panic::catch_unwind(sending);
        assert!(
            ended.is_err() && !going.load(Ordering::SeqCst),
            "ended by the kill"
        );
    });
    hub.kill();
    let mut calls = Calls::open(dir.path());
    let kept = notes_in(&mut calls, &job);
    assert_eq!(kept, (0..kept.len()).collect::<Vec<_>>());
    assert!(
        (acknowledged..=acknowledged + 1).contains(&kept.len()),
        "{} kept, {acknowledged} acknowledged",
        kept.len()
    );
}
