//! Several browsers of one hub: each is somebody.
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests are outside of them

mod common;

use common::Running;
use serde_json::{Value, json};

/// A browser: the cookies that it was given when it opened the printed address.
struct Browser<'a> {
    hub: &'a Running,
    cookies: String,
}

impl<'a> Browser<'a> {
    fn open(hub: &'a Running) -> Browser<'a> {
        let answer = hub.send("GET", &format!("/?key={}", hub.key), &[], b"");
        let cookies: Vec<&str> = answer
            .headers
            .get_all("set-cookie")
            .iter()
            .map(|cookie| cookie.to_str().expect("text"))
            .inspect(|cookie| {
                for must in ["HttpOnly", "SameSite=Strict", "Path=/"] {
                    assert!(cookie.contains(must), "{cookie}");
                }
            })
            .filter_map(|cookie| cookie.split(';').next())
            .collect();
        Browser {
            hub,
            cookies: cookies.join("; "),
        }
    }

    fn call(&self, command: &Value) -> Value {
        let headers = [
            ("cookie", self.cookies.as_str()),
            ("content-type", "application/json"),
        ];
        let body = command.to_string();
        let answer = self.hub.send("POST", "/call", &headers, body.as_bytes());
        assert_eq!(answer.status, 200, "{command}: {}", answer.text());
        answer.json()
    }

    fn start(&self) -> Value {
        self.call(&json!({"do": "start"}))["start"].clone()
    }

    fn set(&self, name: &str, hand: &str, language: &str) {
        let mut settings = self.start()["settings"].clone();
        settings["technician"] = json!(name);
        settings["hand"] = json!(hand);
        settings["language"] = json!(language);
        self.call(&json!({"do": "save_settings", "settings": settings}));
    }

    fn note(&self, job: &Value, text: &str) {
        self.call(&json!({"do": "write", "job": job, "fact": {
            "fact": "noted", "step": "complaint", "topic": null, "text": text, "private": false,
        }}));
    }
}

#[test]
fn each_browser_has_its_own_name_hand_language_and_place() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let (one, other) = (Browser::open(&hub), Browser::open(&hub));
    assert_ne!(one.cookies, other.cookies);
    assert_eq!(one.start()["first_run"], true);
    one.set("Ada Invented", "left", "de");
    // The name is nobody's until it is typed, and the other one is asked for it.
    let start = other.start();
    assert_eq!(start["first_run"], true);
    assert_eq!(start["settings"]["technician"], "");
    other.set("Bo Invented", "right", "en");

    let job = one.call(&json!({"do": "open_job"}))["job"]["id"].clone();
    one.call(&json!({"do": "stand_at", "job": job, "place": "log"}));
    let settings = |browser: &Browser| browser.start()["settings"].clone();
    for (browser, name, hand, language) in [
        (&one, "Ada Invented", "left", "de"),
        (&other, "Bo Invented", "right", "en"),
    ] {
        let set = settings(browser);
        assert_eq!(set["technician"], name);
        assert_eq!(set["hand"], hand);
        assert_eq!(set["language"], language);
    }
    assert_eq!(one.start()["place"], "log");
    assert_eq!(other.start()["place"], "");

    // The list and the problems come in the language of who looks.
    let stage = |browser: &Browser| {
        let jobs = browser.call(&json!({"do": "jobs", "limit": 9}));
        jobs["jobs"][0]["stage"].clone()
    };
    assert_eq!(stage(&one), "Annahme");
    assert_eq!(stage(&other), "Take in");
}

#[test]
fn a_line_is_under_the_name_of_the_browser_that_wrote_it() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let (one, other) = (Browser::open(&hub), Browser::open(&hub));
    one.set("Ada Invented", "right", "en");
    other.set("Bo Invented", "right", "en");
    let job = one.call(&json!({"do": "open_job"}))["job"]["id"].clone();
    one.note(&job, "first");
    other.note(&job, "second");
    one.note(&job, "third");
    let log = one.call(&json!({"do": "log", "job": job}));
    let written: Vec<(String, String)> = log["lines"]
        .as_array()
        .expect("lines")
        .iter()
        .filter(|line| line["words"].as_str().expect("text").starts_with("Note"))
        .map(|line| {
            let text = |field: &str| line[field].as_str().expect("text").to_owned();
            (text("words"), text("by"))
        })
        .collect();
    assert_eq!(written.len(), 3, "{log}");
    for ((words, by), (text, name)) in written.iter().zip([
        ("first", "Ada Invented"),
        ("second", "Bo Invented"),
        ("third", "Ada Invented"),
    ]) {
        assert!(words.contains(text), "{words}");
        assert_eq!(by, name, "{words}");
    }
}

#[test]
fn the_shop_is_one_for_all_browsers() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let (one, other) = (Browser::open(&hub), Browser::open(&hub));
    let mut settings = one.start()["settings"].clone();
    settings["technician"] = json!("Ada Invented");
    settings["shop"] = json!("Invented Driveline Shop");
    settings["units"]["distance"] = json!("mile");
    one.call(&json!({"do": "save_settings", "settings": settings}));
    let seen = other.start()["settings"].clone();
    assert_eq!(seen["shop"], "Invented Driveline Shop");
    // A new browser begins with the units of the shop, and may choose its own.
    assert_eq!(seen["units"]["distance"], "mile");
}

#[test]
fn a_browser_that_is_known_already_gets_its_name_as_it_opens_a_screen() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let cookie = hub.cookie();
    let opened = hub.send("GET", "/", &[("cookie", &cookie)], b"");
    assert!(opened.header("set-cookie").starts_with("swarfbook-who-"));
    // A program with the key and no other cookie is the hub itself, and is not named.
    let called = hub.call(&json!({"do": "start"}));
    assert_eq!(called.header("set-cookie"), "");
    // What is no name of ours is none.
    let port = hub.address.rsplit(':').next().expect("a port");
    let bent = format!("{cookie}; swarfbook-who-{port}=../../etc");
    let opened = hub.send("GET", "/", &[("cookie", &bent)], b"");
    assert!(opened.header("set-cookie").starts_with("swarfbook-who-"));
}

#[test]
fn undo_takes_back_ones_own_line_and_not_the_other_browsers() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let (one, other) = (Browser::open(&hub), Browser::open(&hub));
    one.set("Ada Invented", "right", "en");
    other.set("Bo Invented", "right", "en");
    let job = one.call(&json!({"do": "open_job"}))["job"]["id"].clone();
    one.note(&job, "by Ada");
    other.note(&job, "by Bo");
    let seen = one.call(&json!({"do": "job", "job": job}));
    assert_eq!(seen["job"]["undo_words"], "Note: by Ada");
    one.call(&json!({"do": "undo", "job": job}));
    let log = one.call(&json!({"do": "log", "job": job}));
    let retracted = |words: &str| {
        let lines = log["lines"].as_array().expect("lines").iter();
        let line = lines.clone().find(|line| line["words"] == words);
        line.expect("there")["retracted"].clone()
    };
    assert_eq!(retracted("Note: by Ada"), true);
    assert_eq!(retracted("Note: by Bo"), false);
}
