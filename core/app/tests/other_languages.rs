//! The demo's jobs on a device that speaks another language than English: what the core says is
//! in it, what people wrote stays as they wrote it.
#![cfg(feature = "demo")]
#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

mod bay;

use std::collections::BTreeSet;

use swarfbook_app::App;
use swarfbook_app::command::Command;
use swarfbook_app::reply::Reply;
use swarfbook_app::settings::Settings;
use swarfbook_job::id::JobId;
use swarfbook_words::{Language, sentences, speaking};

/// Texts this short may stand in what people wrote, too.
const LONG: usize = 24;

fn speak(app: &App, language: Language) {
    let settings = Settings {
        technician: "A. Muster".to_owned(),
        language: Some(language),
        ..Settings::default()
    };
    app.call(Command::SaveSettings { settings }).expect("saved");
}

fn report(app: &App, job: JobId, language: Option<Language>) -> String {
    match app.call(Command::PreviewReport {
        job,
        leave_out: Default::default(),
        language,
    }) {
        Ok(Reply::Report { html, .. }) => html,
        other => panic!("{other:?}"),
    }
}

/// The languages beside English, each with a line of the first step and a word of every report.
const OTHERS: [(Language, &str, &str); 2] = [
    (
        Language::De,
        "Wannenschrauben: von Hand, dann über Kreuz",
        "Verschleiß",
    ),
    (
        Language::Es,
        "Tornillos del cárter: a mano, después en cruz",
        "desgaste",
    ),
];

/// English sentences of ours that stand in a text, but for those that are the same in the
/// language.
fn english_in(text: &str, language: Language) -> Vec<&'static str> {
    let its: BTreeSet<&str> = sentences(language).map(|(_, text)| text).collect();
    sentences(Language::En)
        .map(|(_, english)| english)
        .filter(|english| english.len() > LONG && !its.contains(english))
        .filter(|english| text.contains(english))
        .collect()
}

#[test]
fn a_device_is_told_in_the_language_that_it_speaks() {
    let (_dir, app, jobs) = bay::demo();
    let told = |job: JobId| -> String {
        let views =
            [Command::Job { job }, Command::Log { job }].map(|ask| app.call(ask).expect("a view"));
        serde_json::to_string(&views).expect("json")
    };
    for (language, title, _) in OTHERS {
        speak(&app, Language::En);
        // The look itself finds English where English is spoken.
        let found = |job: &JobId| english_in(&told(*job), language).len();
        assert!(jobs.iter().all(|job| found(job) > 20));
        speak(&app, language);
        for job in &jobs {
            let told = told(*job);
            assert_eq!(
                english_in(&told, language),
                Vec::<&str>::new(),
                "{language:?}"
            );
            assert!(told.contains(title), "{language:?}");
        }
    }
}

#[test]
fn the_list_follows_a_change_of_language() {
    let (_dir, app, _) = bay::demo();
    let list = || {
        let ask = Command::Jobs {
            search: String::new(),
            skip: 0,
            limit: 10,
        };
        format!("{:?}", app.call(ask).expect("list"))
    };
    assert!(list().contains("Hand over"));
    speak(&app, Language::De);
    assert!(list().contains("Übergabe") && !list().contains("Hand over"));
    speak(&app, Language::En);
    assert!(list().contains("Hand over"));
}

#[test]
fn a_problem_is_told_in_german() {
    let (_dir, app, _) = bay::demo();
    speak(&app, Language::De);
    let missing = Command::Job {
        job: "00000000-0000-7000-8000-000000000000"
            .parse()
            .expect("an id"),
    };
    let problem = app.call(missing).expect_err("no such job");
    assert_eq!(
        problem.to_string(),
        "Diesen Auftrag gibt es auf diesem Gerät nicht. Zurück zur Liste gehen und noch einmal öffnen."
    );
}

#[test]
fn the_language_is_decided_once_a_call() {
    let (_dir, app, _) = bay::demo();
    let missing = || {
        let job = "00000000-0000-7000-8000-000000000000".parse();
        let ask = Command::Job {
            job: job.expect("an id"),
        };
        app.call(ask).expect_err("no such job").to_string()
    };
    let within = app.speaking(|| {
        // The device is set anew meanwhile; this call ends as it began.
        speak(&app, Language::De);
        (speaking(), missing())
    });
    assert_eq!(within.0, Language::En);
    assert!(within.1.starts_with("There is no such job"), "{}", within.1);
    assert!(missing().starts_with("Diesen Auftrag"), "{}", missing());
}

#[test]
fn the_report_is_in_the_customers_language_whatever_the_device_speaks() {
    let (_dir, app, jobs) = bay::demo();
    for job in &jobs {
        for device in Language::ALL {
            speak(&app, device);
            let english = report(&app, *job, Some(Language::En));
            assert!(english.contains("<html lang=\"en\""));
            for (language, _, wear) in OTHERS {
                let theirs = report(&app, *job, Some(language));
                let tag = format!("<html lang=\"{}\"", language.tag());
                assert!(
                    theirs.contains(&tag) && theirs.contains(wear),
                    "{language:?}"
                );
                assert_eq!(
                    english_in(&theirs, language),
                    Vec::<&str>::new(),
                    "{device:?}"
                );
                assert!(!english.contains(wear), "{device:?}");
            }
            // The device's own, when none is named.
            let own = report(&app, *job, None);
            let tag = format!("<html lang=\"{}\"", device.tag());
            assert!(own.contains(&tag), "{device:?}");
        }
    }
}
