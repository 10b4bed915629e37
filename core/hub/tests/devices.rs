//! Devices pair with a running hub and sync with it over loopback.
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests are outside of them

mod common;

use std::fs;
use std::io::{Read, Write};
use std::net::{TcpListener, TcpStream};
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread::sleep;
use std::time::{Duration, Instant};

use common::{Calls, Running, picture};
use serde_json::{Value, json};
use swarfbook_app::App;
use swarfbook_app::command::Command;
use swarfbook_job::id::Sha256Hex;
use tempfile::TempDir;

struct Phone {
    dir: TempDir,
    app: App,
}

impl Phone {
    fn new() -> Phone {
        let dir = tempfile::tempdir().expect("folder");
        let app = App::open(dir.path()).expect("opens");
        Phone { dir, app }
    }

    fn ask(&self, command: &Value) -> Value {
        let command: Command = serde_json::from_value(command.clone()).expect("a command");
        match self.app.call(command) {
            Ok(reply) => serde_json::to_value(reply).expect("JSON"),
            Err(problem) => json!({ "problem": problem }),
        }
    }

    fn pair(&self, hub: &Running) {
        let paired = self.ask(&json!({"do":"pair","address":hub.address,"code":code(hub)}));
        assert_eq!(paired["sync"]["hub"], json!(hub.address), "{paired}");
    }

    fn sync(&self) -> Value {
        self.ask(&json!({"do":"sync_now"}))
    }

    fn lines(&self) -> Vec<String> {
        lines_of(&self.app)
    }
}

fn lines_of(app: &App) -> Vec<String> {
    let store = app.store();
    let mut lines = Vec::new();
    for device in store.heads().expect("heads").into_keys() {
        let of_device = store.entries_after(device, 0, usize::MAX).expect("lines");
        lines.extend(of_device.into_iter().map(|line| line.bytes));
    }
    lines
}

/// Waits for a photo's copy, which is made in the background.
fn copy_of(copies: &Path, photo: Sha256Hex) {
    let name = photo.to_string();
    let made = || {
        let forms = fs::read_dir(copies).into_iter().flatten().flatten();
        forms
            .map(|form| form.path().join(&name[..2]).join(&name))
            .any(|copy| copy.is_file())
    };
    let soon = Instant::now() + Duration::from_secs(30);
    while !made() {
        assert!(Instant::now() < soon, "no copy in {}", copies.display());
        sleep(Duration::from_millis(20));
    }
}

fn code(hub: &Running) -> String {
    let shown = hub.ask("POST", "/pair-code", "", b"").json();
    shown["code"].as_str().expect("a code").to_owned()
}

fn note(job: &Value, text: &str) -> Value {
    json!({"do":"write","job":job,"fact":{"fact":"noted","step":"car","topic":null,"text":text}})
}

#[test]
fn two_phones_and_a_hub_end_in_the_same_state_over_loopback() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let (bay, bench) = (Phone::new(), Phone::new());
    let waiting = bay.sync();
    assert_eq!(waiting["problem"]["kind"], "not_yet", "{waiting}");
    bay.pair(&hub);
    bench.pair(&hub);
    let job = bay.ask(&json!({"do":"open_job"}))["job"]["id"].clone();
    let photo = bay.app.put_photo(&picture()).expect("kept");
    let taken = bay.ask(&json!({"do":"write","job":job,"fact":{"fact":"photo_taken",
        "step":"car","photo":photo,"subject":"other"}}));
    assert_eq!(taken["reply"], "written", "{taken}");
    let state = bay.ask(&json!({"do":"sync_state"}));
    assert_eq!(state["sync"]["photos_waiting"], 1);
    assert!(state["sync"]["lines_waiting"].as_u64() >= Some(2));

    let done = bay.sync();
    assert_eq!(done["sync"]["lines_waiting"], 0, "{done}");
    assert_eq!(done["sync"]["photos_waiting"], 0);
    assert!(done["sync"]["last"].is_string());
    bench.sync();
    bench.ask(&note(&job, "by the bench"));
    bay.ask(&note(&job, "by the bay"));
    bench.sync();
    bay.sync();
    bench.sync();
    assert_eq!(bay.lines(), bench.lines());
    assert!(bench.app.store().has_photo(photo));
    // Each makes its own copy for reports as the photo comes in, no report being asked for.
    copy_of(&dir.path().join("copies"), photo);
    copy_of(&bench.dir.path().join("copies"), photo);
    let level = bay.sync();
    assert_eq!(
        level["sync"]["words"],
        "The hub and this device have the same."
    );
    assert!(hub.stop());
    let hub_app = App::open(dir.path()).expect("opens");
    assert_eq!(lines_of(&hub_app), bay.lines());
    assert!(hub_app.store().has_photo(photo));
}

#[test]
fn a_stranger_and_a_removed_device_get_nothing() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let (phone, stranger) = (Phone::new(), Phone::new());
    let shown = code(&hub);
    let wrong = if shown == "00000000" {
        "00000001"
    } else {
        "00000000"
    };
    // A stranger's guesses lock out the stranger's address, and void nothing.
    let guess = format!(
        "{{\"code\":\"{wrong}\",\"device\":\"00000000-0000-4000-8000-000000000001\",\
         \"name\":\"x\",\"public_key\":\"x\",\"proof\":\"x\"}}"
    );
    for _ in 0..5 {
        let refused = hub.post_from("127.0.0.2", "/sync/pair", &guess);
        assert!(refused.starts_with("HTTP/1.1 403"), "{refused}");
    }
    let right = guess.replace(wrong, &shown);
    for form in [&guess, &right] {
        let locked = hub.post_from("127.0.0.2", "/sync/pair", form);
        assert!(locked.starts_with("HTTP/1.1 429"), "{locked}");
        assert!(locked.contains("Too many wrong codes"), "{locked}");
    }
    phone.ask(&json!({"do":"pair","address":hub.address,"code":shown}));
    let used = stranger.ask(&json!({"do":"pair","address":hub.address,"code":shown}));
    assert_eq!(used["problem"]["kind"], "hub", "a code works once: {used}");
    assert_eq!(phone.sync()["reply"], "sync");

    let page = hub.ask("GET", "/pair", "", b"").text();
    let device = page.split("value=\"").nth(1).expect("listed")[..36].to_owned();
    hub.ask(
        "POST",
        "/pair/remove",
        "application/x-www-form-urlencoded",
        format!("device={device}").as_bytes(),
    );
    let gone = phone.sync();
    assert!(
        gone["problem"]["what"]
            .as_str()
            .is_some_and(|w| w.contains("not paired")),
        "{gone}"
    );
    phone.pair(&hub);
    assert_eq!(
        phone.sync()["reply"],
        "sync",
        "the same device may be paired again"
    );
}

#[test]
fn a_hub_set_to_german_pairs_and_refuses_in_german() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let settings = json!({"do": "save_settings", "settings": {"technician": "", "shop": "",
        "hand": "right", "paper": "bay", "glove": false, "meter": null, "language": "de"}});
    let saved = hub.ask(
        "POST",
        "/call",
        "application/json",
        settings.to_string().as_bytes(),
    );
    assert!(!saved.text().contains("problem"), "{}", saved.text());
    let page = hub.ask("GET", "/pair", "", b"").text();
    for words in [
        "Ein Gerät koppeln",
        "Kein Gerät ist gekoppelt",
        "lang=\"de\"",
    ] {
        assert!(page.contains(words), "{page}");
    }
    let form = "application/x-www-form-urlencoded";
    let refused = hub.ask("POST", "/pair/remove", form, b"device=none").text();
    assert!(refused.contains("Kein Gerät wurde genannt."), "{refused}");
}

/// A request that was overheard can be neither sent again nor changed.
#[test]
fn an_overheard_request_is_of_no_use() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let phone = Phone::new();
    phone.pair(&hub);
    let proxy = Proxy::to(&hub, usize::MAX);
    phone.ask(&json!({"do":"open_job"}));
    repoint(&phone, &proxy.address);
    assert_eq!(phone.sync()["reply"], "sync");
    let heard = proxy.heard();
    let head = heard.split("\r\n\r\n").next().expect("a head");
    let authorization = head
        .lines()
        .find_map(|line| line.strip_prefix("authorization: "))
        .expect("signed");
    let again = hub.send(
        "GET",
        "/sync/standing",
        &[("authorization", authorization)],
        b"",
    );
    assert_eq!(again.status, 401);
    assert!(again.text().contains("twice"), "{}", again.text());
    let other = hub.send(
        "GET",
        "/sync/photos",
        &[("authorization", authorization)],
        b"",
    );
    assert!(other.text().contains("not paired"), "{}", other.text());
}

/// The network breaks after any number of bytes; in the end all is there once.
#[test]
fn cut_at_any_byte_over_loopback_and_run_again() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let phone = Phone::new();
    phone.pair(&hub);
    let job = phone.ask(&json!({"do":"open_job"}))["job"]["id"].clone();
    let photo = phone.app.put_photo(&picture()).expect("kept");
    phone.ask(&json!({"do":"write","job":job,"fact":{"fact":"photo_taken",
        "step":"car","photo":photo,"subject":"other"}}));
    let mut cuts = 0;
    for budget in [
        0, 40, 300, 700, 1_200, 2_000, 3_500, 6_000, 9_000, 15_000, 40_000,
    ] {
        phone.ask(&note(&job, &format!("before {budget}")));
        let proxy = Proxy::to(&hub, budget);
        repoint(&phone, &proxy.address);
        let ended = phone.sync();
        cuts += usize::from(ended["problem"]["kind"] == "hub");
    }
    assert!(cuts >= 5, "the cuts did cut: {cuts}");
    repoint(&phone, &hub.address);
    assert_eq!(phone.sync()["reply"], "sync");
    let lines = phone.lines();
    assert!(hub.stop());
    let hub_app = App::open(dir.path()).expect("opens");
    assert_eq!(lines_of(&hub_app), lines);
    assert_eq!(
        hub_app.store().photo(photo).expect("whole"),
        picture(),
        "the photo is there whole"
    );
}

/// `swarfbook call` on the hub's own folder and the running hub do not harm each other.
#[test]
fn the_command_line_beside_a_running_hub() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let mut calls = Calls::open(dir.path());
    let job = calls.ask(&json!({"do":"open_job"}))["job"]["id"].clone();
    for n in 0..5 {
        assert_eq!(hub.call(&note(&job, &format!("hub {n}"))).status, 200);
        assert_eq!(
            calls.ask(&note(&job, &format!("line {n}")))["reply"],
            "written"
        );
    }
    let log = calls.ask(&json!({"do":"log","job":job}));
    let notes = log["lines"].to_string();
    assert_eq!(
        notes.matches("hub ").count() + notes.matches("line ").count(),
        10,
        "{notes}"
    );
    calls.close();
}

/// Sets where the phone finds its hub, as if the network had changed.
fn repoint(phone: &Phone, address: &str) {
    let store = phone.app.store();
    let mut paired: Value = store.setting("sync").expect("read").expect("paired");
    paired["address"] = json!(address);
    store.set("sync", &paired).expect("set");
}

/// Passes bytes on to the hub, listens in, and breaks once its budget is spent.
struct Proxy {
    address: String,
    heard: Arc<std::sync::Mutex<Vec<u8>>>,
}

impl Proxy {
    fn to(hub: &Running, budget: usize) -> Proxy {
        let listener = TcpListener::bind("127.0.0.1:0").expect("binds");
        let address = format!("http://{}", listener.local_addr().expect("an address"));
        let to = hub.address.trim_start_matches("http://").to_owned();
        let heard = Arc::new(std::sync::Mutex::new(Vec::new()));
        let (left, log) = (Arc::new(AtomicUsize::new(budget)), heard.clone());
        std::thread::spawn(move || {
            for stream in listener.incoming().flatten() {
                let Ok(there) = TcpStream::connect(&to) else {
                    return;
                };
                for (from, into, log) in [
                    (stream.try_clone(), there.try_clone(), Some(log.clone())),
                    (Ok(there), Ok(stream), None),
                ] {
                    let (Ok(from), Ok(into)) = (from, into) else {
                        return;
                    };
                    let left = left.clone();
                    std::thread::spawn(move || pass(from, into, &left, log.as_deref()));
                }
            }
        });
        Proxy { address, heard }
    }

    fn heard(&self) -> String {
        std::thread::sleep(Duration::from_millis(50));
        String::from_utf8_lossy(&self.heard.lock().expect("whole")).into_owned()
    }
}

fn pass(
    mut from: TcpStream,
    mut into: TcpStream,
    left: &AtomicUsize,
    log: Option<&std::sync::Mutex<Vec<u8>>>,
) {
    let mut bytes = [0; 1024];
    while let Ok(read @ 1..) = from.read(&mut bytes) {
        let allowed = left
            .fetch_update(Ordering::SeqCst, Ordering::SeqCst, |left| {
                Some(left.saturating_sub(read))
            })
            .unwrap_or(0)
            .min(read);
        if let Some(log) = log {
            log.lock().expect("whole").extend(&bytes[..allowed]);
        }
        if into.write_all(&bytes[..allowed]).is_err() || allowed < read {
            break;
        }
    }
    let _ = into.shutdown(std::net::Shutdown::Both);
    let _ = from.shutdown(std::net::Shutdown::Both);
}

/// The hub's machine broke: a new one with the backup is the hub that the phones know.
#[test]
fn phones_stay_paired_with_a_hub_that_was_restored() {
    let dir = tempfile::tempdir().expect("folder");
    let (data, kept) = (dir.path().join("data"), dir.path().join("kept"));
    let hub = Running::start(&data, &[]);
    let bay = Phone::new();
    bay.pair(&hub);
    let job = bay.ask(&json!({"do":"open_job"}))["job"]["id"].clone();
    assert_eq!(bay.sync()["sync"]["lines_waiting"], 0);
    let run = |args: &[&Path]| {
        let done = common::swarfbook().args(args).output().expect("runs");
        assert!(done.status.success(), "{done:?}");
    };
    let (of, new) = (Path::new("--data"), dir.path().join("new"));
    run(&[Path::new("backup"), &kept, of, &data]);
    let address = hub.address.trim_start_matches("http://").to_owned();
    assert!(hub.stop());
    run(&[Path::new("restore"), &kept, of, &new]);
    let hub = Running::start_at(&new, &address, &[]);
    bay.ask(&note(&job, "written meanwhile"));
    let done = bay.sync();
    assert_eq!(done["sync"]["lines_waiting"], 0, "{done}");
    assert!(hub.stop());
    assert_eq!(lines_of(&App::open(&new).expect("opens")), bay.lines());
}
