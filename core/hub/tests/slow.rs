//! Callers that are slow, many, or never read: they hold up nobody but themselves.
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests are outside of them

mod common;

use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::{Duration, Instant};

use common::{Running, picture};
use serde_json::json;

const SOON: Duration = Duration::from_secs(5);

/// A request whose body is announced and never comes.
fn without_its_body(stream: &mut TcpStream, hub: &Running, target: &str, cookie: &str) {
    let _ = write!(
        stream,
        "POST {target} HTTP/1.1\r\nHost: {}\r\nCookie: {cookie}\r\nContent-Length: 900\r\n\r\nx",
        hub.host()
    );
}

/// How many the hub has, with the one that asks.
fn connections(hub: &Running) -> u32 {
    let numbers = hub.send("GET", "/metrics", &[], b"").text();
    let line = numbers
        .lines()
        .find_map(|line| line.strip_prefix("swarfbook_connections "));
    line.and_then(|number| number.parse().ok())
        .unwrap_or_else(|| panic!("no number: {numbers}"))
}

fn answers_soon(hub: &Running) -> Duration {
    let begun = Instant::now();
    assert_eq!(hub.call(&json!({"do":"start"})).status, 200);
    begun.elapsed()
}

#[test]
fn two_hundred_slow_callers_of_one_address_shut_nobody_else_out() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let mut slow = Vec::new();
    for _ in 0..220 {
        let mut stream = hub.connect_from("127.0.0.2");
        without_its_body(&mut stream, &hub, "/sync/pair", "");
        slow.push(stream);
    }
    let waited = answers_soon(&hub);
    assert!(waited < SOON, "{waited:?}");
    // The one that is too many is told, not left to wait.
    let mut said = String::new();
    let mut more = hub.connect_from("127.0.0.2");
    more.set_read_timeout(Some(SOON)).expect("set");
    let _ = more.read_to_string(&mut said);
    let told = said.contains("Too many connections from this address");
    assert!(told || said.is_empty(), "{said}");
}

#[test]
fn a_body_that_comes_a_byte_at_a_time_is_cut_off() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let mut stream = hub.connect_from("127.0.0.2");
    without_its_body(&mut stream, &hub, "/sync/pair", "");
    let begun = Instant::now();
    stream
        .set_read_timeout(Some(Duration::from_secs(2)))
        .expect("set");
    let mut answer = [0; 16];
    let ended = loop {
        if begun.elapsed() > Duration::from_secs(50) {
            break None;
        }
        let sent = stream.write_all(b"x");
        match stream.read(&mut answer) {
            Err(error) if error.kind() == std::io::ErrorKind::WouldBlock && sent.is_ok() => {}
            _ => break Some(begun.elapsed()),
        }
    };
    let ended = ended.expect("cut off within 50 s");
    assert!(ended > Duration::from_secs(15), "{ended:?}");
}

#[test]
fn slow_uploads_do_not_stop_the_reading_of_photos() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let kept = hub.ask("POST", "/photo", "image/png", &picture()).json();
    let photo = format!("/photo/{}?w=200", kept["photo"].as_str().expect("kept"));
    let slow: Vec<_> = (0..4)
        .map(|_| {
            let mut stream = hub.connect_from("127.0.0.1");
            without_its_body(&mut stream, &hub, "/photo", &hub.cookie());
            stream
        })
        .collect();
    std::thread::sleep(Duration::from_millis(300));
    let begun = Instant::now();
    assert_eq!(hub.ask("GET", &photo, "", b"").status, 200);
    assert!(begun.elapsed() < SOON, "{:?}", begun.elapsed());
    drop(slow);
}

#[test]
fn who_asks_for_photos_and_never_reads_them_is_cut_off() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let kept = hub.ask("POST", "/photo", "image/png", &picture()).json();
    let photo = format!("/photo/{}", kept["photo"].as_str().expect("kept"));
    let one = hub.ask("GET", &photo, "", b"").body.len();
    // More than the buffers of two sockets hold.
    let many = 1 + 64 * 1024 * 1024 / one;
    let mut stream = hub.connect_from("127.0.0.1");
    let request = format!(
        "GET {photo} HTTP/1.1\r\nHost: {}\r\nCookie: {}\r\n\r\n",
        hub.host(),
        hub.cookie()
    );
    stream
        .set_write_timeout(Some(Duration::from_secs(1)))
        .expect("set");
    // Once the hub is held up it reads no further requests either; that is enough.
    for _ in 0..many {
        if stream.write_all(request.as_bytes()).is_err() {
            break;
        }
    }
    // However long a busy machine takes to fill the buffers: then the hub gives up.
    let begun = Instant::now();
    while connections(&hub) > 1 {
        assert!(begun.elapsed() < Duration::from_secs(120), "never cut off");
        std::thread::sleep(Duration::from_secs(1));
    }
    // What is left in the buffers comes, then an end.
    stream
        .set_read_timeout(Some(Duration::from_secs(5)))
        .expect("set");
    let mut got = 0;
    let mut bytes = vec![0; 1 << 20];
    let ended = loop {
        match stream.read(&mut bytes) {
            Ok(0) => break true,
            Ok(read) => got += read,
            Err(error) => break error.kind() == std::io::ErrorKind::ConnectionReset,
        }
        if got > 40 * 1024 * 1024 {
            break false;
        }
    };
    assert!(ended, "still sending after {got} bytes");
}
