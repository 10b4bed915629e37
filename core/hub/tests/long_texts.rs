//! A paired phone writes more text than its screens would let it: reports wait for none of it,
//! and nothing of it is lost.
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests are outside of them

mod common;

use std::time::Instant;

use chrono::DateTime;
use common::Running;
use common::tls::Phone;
use serde_json::{Value, json};
use swarfbook_app::App;
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
