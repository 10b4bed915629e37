//! A paired phone writes more text than its screens would let it: the hub's reports, photos and
//! end wait for none of it, and nothing of it is lost.
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests are outside of them

mod common;

use std::io::{Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::time::{Duration, Instant};

use chrono::DateTime;
use common::tls::Phone;
use common::{Running, picture, signal};
use serde_json::{Value, json};
use swarfbook_app::App;
use swarfbook_app::command::Command;
use swarfbook_job::fact::Fact;
use swarfbook_job::id::JobId;
use swarfbook_store::NewEntry;

/// What the door takes of one note, in letters.
const DOORS: usize = 20_000;

/// Past the door, as a phone's own program could write it.
fn noted(app: &App, job: &Value, texts: impl Iterator<Item = String>) {
    let job: JobId = serde_json::from_value(job.clone()).expect("a job");
    let now = DateTime::parse_from_rfc3339("2026-03-02T08:00:00+01:00").expect("a time");
    let notes: Vec<NewEntry> = texts
        .map(|text| NewEntry {
            job,
            fact: Fact::Noted {
                step: "car".into(),
                topic: None,
                text,
                private: false,
            },
            now,
        })
        .collect();
    app.store().append(&notes).expect("written");
}

fn lines_of(app: &App) -> Vec<String> {
    let store = app.store();
    let lines = store.entries_after(store.device(), 0, usize::MAX);
    let lines = lines.expect("lines").into_iter();
    lines.map(|line| line.bytes).collect()
}

fn pdf_of(job: &Value) -> Value {
    json!({"do":"make_report_pdf","job":job,"sheet":"a4",
        "leave_out":{"customer":false,"car":false},"language":null})
}

#[test]
fn a_text_that_is_too_long_is_kept_whole_and_shown_cut() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let phone = Phone::new();
    let shown = hub.ask("POST", "/pair-code", "", b"").json();
    let paired = phone.ask(&json!({"do":"pair","address":hub.address,"code":shown["code"]}));
    assert_eq!(paired["sync"]["hub"], json!(hub.address), "{paired}");
    let job = phone.ask(&json!({"do":"open_job"}))["job"]["id"].clone();
    noted(&phone.app, &job, std::iter::once("x".repeat(5 * DOORS)));
    let sent = phone.ask(&json!({"do":"sync_now"}));
    assert_eq!(sent["sync"]["lines_waiting"], 0, "{sent}");

    let preview = hub.call(&json!({"do":"preview_report","job":job,
        "leave_out":{"customer":false,"car":false},"language":"de"}));
    let page = preview.json()["html"].as_str().expect("a page").to_owned();
    let shown = "x".repeat(DOORS);
    assert!(page.contains(&shown) && !page.contains(&format!("{shown}x")));
    for words in ["[Cut here:", "Hier gekürzt:", "Cortado aquí:"] {
        assert!(page.contains(words), "{words}");
    }
    let told = hub.call(&json!({"do":"job","job":job})).text();
    assert!(told.len() < 10 * DOORS, "{} bytes", told.len());
    let begun = Instant::now();
    let pdf = hub.call(&pdf_of(&job));
    assert_eq!(pdf.status, 200, "{}", pdf.text());
    println!(
        "a PDF with {DOORS} letters without a space: {:?}",
        begun.elapsed()
    );

    // The log is as it was written.
    assert!(hub.stop());
    let hub = App::open(dir.path()).expect("opens").store().entries_after(
        phone.app.store().device(),
        0,
        usize::MAX,
    );
    let kept: Vec<String> = hub
        .expect("lines")
        .into_iter()
        .map(|line| line.bytes)
        .collect();
    assert_eq!(kept, lines_of(&phone.app));
}

/// A job whose report takes longer than any patience.
fn endless(dir: &Path) -> Value {
    let app = App::open(dir).expect("opens");
    let open = serde_json::from_value::<Command>(json!({"do":"open_job"})).expect("a command");
    let reply = serde_json::to_value(app.call(open).expect("opens")).expect("JSON");
    let job = reply["job"]["id"].clone();
    noted(&app, &job, (0..400).map(|_| "word ".repeat(DOORS / 5)));
    job
}

/// Asks for a report and does not wait for it.
fn asked_for(hub: &Running, job: &Value) -> TcpStream {
    let body = pdf_of(job).to_string();
    let mut stream = hub.connect_from("127.0.0.1");
    write!(
        stream,
        "POST /call HTTP/1.1\r\nHost: {}\r\nCookie: {}\r\nOrigin: {}\r\n\
         Content-Type: application/json\r\nContent-Length: {}\r\n\r\n{body}",
        hub.host(),
        hub.cookie(),
        hub.address,
        body.len()
    )
    .expect("sent");
    std::thread::sleep(Duration::from_secs(1));
    stream
}

/// Whoever asked stays, or has gone: nobody can end what they began.
#[test]
fn photos_come_in_while_reports_take_for_ever() {
    let dir = tempfile::tempdir().expect("folder");
    let job = endless(dir.path());
    let hub = Running::start(dir.path(), &[]);
    drop(asked_for(&hub, &job));
    let stay: Vec<TcpStream> = (0..3).map(|_| asked_for(&hub, &job)).collect();
    let begun = Instant::now();
    let photo = hub.ask("POST", "/photo", "image/png", &picture());
    assert_eq!(photo.status, 200, "{}", photo.text());
    let waited = begun.elapsed();
    println!("a photo came in after {waited:?}");
    assert!(waited < Duration::from_secs(30), "{waited:?}");
    drop(stay);
}

#[test]
fn it_ends_in_time_while_a_report_is_being_made() {
    let dir = tempfile::tempdir().expect("folder");
    let job = endless(dir.path());
    let hub = Running::start(dir.path(), &[]);
    let pid = hub.pid();
    let mut report = asked_for(&hub, &job);
    let begun = Instant::now();
    signal(pid, "-TERM");
    // Its ten seconds, and a busy machine.
    let patience = Duration::from_secs(18);
    // Gone, or waiting to be asked how it ended.
    while std::fs::metadata(format!("/proc/{pid}/exe")).is_ok() {
        let waited = begun.elapsed();
        assert!(waited < patience, "it runs {waited:?} after its end");
        std::thread::sleep(Duration::from_millis(100));
    }
    println!("it ended after {:?}", begun.elapsed());
    let mut answer = Vec::new();
    let _ = report.read_to_end(&mut answer);
    assert!(answer.is_empty(), "the report was no long work");
}
