//! What a hub says of itself to those who keep it running: whether it is well, numbers, and a
//! line an event; and how it ends.
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests are outside of them

mod common;

use std::collections::BTreeSet;
use std::io::{Read, Write};
use std::net::TcpStream;
use std::process::Stdio;
use std::time::Duration;

use common::tls::{browse, fingerprint, get};
use common::{Running, signal, swarfbook};
use serde_json::{Value, json};

/// An invented plate.
const PLATE: &str = "SWF-INV 4711";

/// The values of a text by their names and labels. The form: OpenMetrics 1.0.0, "Text format".
fn read(text: &str) -> Vec<(String, f64)> {
    assert!(text.ends_with("# EOF\n"), "{text}");
    let mut typed = BTreeSet::new();
    let mut values = Vec::new();
    for line in text.lines() {
        if let Some(comment) = line.strip_prefix("# ") {
            if let Some((name, _)) = comment
                .strip_prefix("TYPE ")
                .and_then(|t| t.split_once(' '))
            {
                assert!(typed.insert(name.to_owned()), "{name} is told twice");
            }
            continue;
        }
        let (name, value) = line.rsplit_once(' ').expect("a name and a value");
        let plain = name.split('{').next().expect("a name");
        assert!(
            typed.iter().any(|one| plain.starts_with(one.as_str())),
            "{line}: of no type"
        );
        values.push((name.to_owned(), value.parse().expect("a number")));
    }
    values
}

fn value(all: &[(String, f64)], name: &str) -> f64 {
    let found = all.iter().find(|(one, _)| one == name);
    found.map_or(0.0, |(_, value)| *value)
}

#[test]
fn its_health_and_numbers_are_told_and_hold_nothing_of_the_book() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let well = hub.send("GET", "/health", &[], b"");
    assert_eq!((well.status, well.json()), (200, json!({"status": "ok"})));
    let numbers = || hub.send("GET", "/metrics", &[], b"");
    let before = numbers();
    assert!(
        before
            .header("content-type")
            .starts_with("application/openmetrics-text")
    );
    let job = hub.call(&json!({"do":"open_job"})).json()["job"]["id"].clone();
    let car = hub.call(
        &json!({"do":"write","job":job,"fact":{"fact":"car_noted","car":{
        "plate":PLATE,"vin":null,"description":"","odometer_km":null,
        "fluid_changed_at_km":null}}}),
    );
    assert_eq!(car.status, 200, "{}", car.text());
    assert_eq!(
        hub.send("GET", "/r/a-secret-of-a-link", &[], b"").status,
        404
    );
    let after = numbers();
    for text in [PLATE, "a-secret", &hub.key, &hub.session, "127.0.0.1"] {
        assert!(!after.text().contains(text), "{text}");
    }
    let (before, after) = (read(&before.text()), read(&after.text()));
    for (name, more) in [
        (
            "swarfbook_requests_total{kind=\"Call\",status=\"200\"}",
            2.0,
        ),
        (
            "swarfbook_requests_total{kind=\"Report\",status=\"404\"}",
            1.0,
        ),
        (
            "swarfbook_requests_total{kind=\"Watch\",status=\"200\"}",
            1.0,
        ),
        ("swarfbook_answer_seconds_count", 4.0),
        ("swarfbook_devices", 0.0),
    ] {
        assert_eq!(
            value(&after, name) - value(&before, name),
            more,
            "{name}: {after:?}"
        );
    }
    assert_eq!(value(&after, "swarfbook_sessions"), 1.0);
    assert!(value(&after, "swarfbook_connections") >= 1.0);
    // To others the numbers are not told; whether it is well is.
    let digits = fingerprint(&hub);
    let over_tls = |target: &str, cookie: &str| {
        let request = get(hub.host(), target, cookie);
        browse(hub.host(), Some(&digits), "localhost", &request)
    };
    assert!(over_tls("/health", "").starts_with("HTTP/1.1 200"));
    assert!(over_tls("/metrics", "").starts_with("HTTP/1.1 401"));
}

#[test]
fn its_log_says_what_was_done_and_of_nobody() {
    let dir = tempfile::tempdir().expect("folder");
    let mut child = swarfbook()
        .args(["serve", "--listen", "127.0.0.1:0", "--log", "--data"])
        .arg(dir.path())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("starts");
    let mut first = [0; 1];
    let out = child.stdout.as_mut().expect("piped");
    out.read_exact(&mut first).expect("prints its address");
    let whole = std::fs::read_to_string(dir.path().join("hub-address")).expect("kept");
    let (address, key) = whole.trim().split_once("/?key=").expect("with its key");
    let host = address.trim_start_matches("http://");
    for target in [
        &format!("/?key={key}"),
        "/r/a-secret-of-a-link",
        "/photo/ABC",
        "/call",
    ] {
        browse(host, None, "", &get(host, target, &format!("{PLATE}=x")));
    }
    signal(child.id(), "-TERM");
    let ended = child.wait_with_output().expect("ends");
    assert!(ended.status.success());
    let log = String::from_utf8(ended.stderr).expect("text");
    let lines: Vec<Value> = log
        .lines()
        .map(|line| serde_json::from_str(line).unwrap_or_else(|_| panic!("no JSON: {line}")))
        .collect();
    let of = |event: &str| lines.iter().filter(|line| line["event"] == event).count();
    assert_eq!((of("start"), of("request"), of("stop")), (1, 4, 1), "{log}");
    let known = ["at", "event", "kind", "status", "ms", "version"];
    for line in &lines {
        let names: Vec<&String> = line.as_object().expect("an object").keys().collect();
        assert!(
            names.iter().all(|name| known.contains(&name.as_str())),
            "{line}"
        );
        let at = line["at"].as_str().expect("a time");
        assert!(chrono::DateTime::parse_from_rfc3339(at).is_ok(), "{at}");
    }
    for secret in [key, "a-secret", PLATE, "127.0.0.1"] {
        assert!(!log.contains(secret), "{secret}: {log}");
    }
}

/// Who is told to stop takes nobody new and finishes what was begun.
#[test]
fn a_request_in_hand_is_answered_before_it_ends() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let silent = TcpStream::connect(hub.host()).expect("connects");
    let mut stream = TcpStream::connect(hub.host()).expect("connects");
    stream
        .set_read_timeout(Some(Duration::from_secs(30)))
        .expect("set");
    let body = json!({"do":"open_job"}).to_string();
    let (begin, rest) = body.split_at(5);
    write!(
        stream,
        "POST /call HTTP/1.1\r\nHost: {}\r\nCookie: {}\r\nContent-Type: application/json\r\n\
         Content-Length: {}\r\n\r\n{begin}",
        hub.host(),
        hub.cookie(),
        body.len()
    )
    .expect("sent");
    std::thread::sleep(Duration::from_millis(300));
    signal(hub.pid(), "-TERM");
    std::thread::sleep(Duration::from_millis(300));
    assert!(TcpStream::connect(hub.host()).is_err(), "nobody new");
    stream.write_all(rest.as_bytes()).expect("sent");
    let mut answer = String::new();
    let _ = stream.read_to_string(&mut answer);
    assert!(answer.starts_with("HTTP/1.1 200"), "{answer}");
    let begun = std::time::Instant::now();
    assert!(hub.stop(), "ends well");
    assert!(
        begun.elapsed() < Duration::from_secs(5),
        "waits for no silent caller"
    );
    drop(silent);
}
