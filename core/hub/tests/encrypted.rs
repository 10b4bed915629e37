//! Who is let in within TLS and in the clear, for how long, and by which certificate.
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests are outside of them

mod common;

use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::{Duration, Instant};

use common::tls::{Phone, browse, call, code, fingerprint, first_cookie, get, own_number};
use common::{Running, swarfbook};
use serde_json::json;
use swarfbook_app::Fingerprint;
use swarfbook_sync::SERVER_NAME;

#[test]
fn in_the_clear_a_network_is_told_how_to_come_and_nothing_else() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start_at(dir.path(), "0.0.0.0:0", &[]);
    assert!(
        hub.address.starts_with("http://127.0.0.1:"),
        "{}",
        hub.address
    );
    let port = hub.host().rsplit(':').next().expect("a port");
    let host = format!("{}:{port}", own_number());
    let digits = fingerprint(&hub);
    let plain = hub.cookie();
    for request in [
        get(&host, &format!("/?key={}", hub.key), ""),
        get(&host, "/", &plain),
        get(&host, "/pair", &plain),
        get(&host, "/trust", ""),
        call(&host, &plain, &json!({"do":"start"})),
        get(&host, "/sync/standing", ""),
        get("evil.example", "/", &plain),
    ] {
        let answer = browse(&host, None, "", &request);
        assert!(answer.starts_with("HTTP/1.1 403"), "{request}: {answer}");
        for secret in ["set-cookie", &hub.key, &hub.session, &digits] {
            assert!(!answer.contains(secret), "{secret}: {answer}");
        }
    }
    let page = browse(&host, None, "", &get(&host, "/r/abc?x=1", ""));
    assert!(
        page.contains(&format!("href=\"https://{host}/r/abc\"")),
        "{page}"
    );
    let old_app = browse(&host, None, "", &get(&host, "/sync/standing", ""));
    assert!(
        old_app.contains("{\"words\":\"The hub exchanges encrypted only."),
        "{old_app}"
    );

    // Encrypted, all is as on its own machine; a cookie of there is none here.
    let own = "localhost";
    let stranger = browse(&host, Some(&digits), own, &get(&host, "/", &plain));
    assert!(stranger.starts_with("HTTP/1.1 401"), "{stranger}");
    let entered = browse(
        &host,
        Some(&digits),
        own,
        &get(&host, &format!("/?key={}", hub.key), ""),
    );
    let cookie = first_cookie(&entered).split(';').next().expect("a value");
    let started = browse(
        &host,
        Some(&digits),
        own,
        &call(&host, cookie, &json!({"do":"start"})),
    );
    assert!(started.starts_with("HTTP/1.1 200"), "{started}");
    for (origin, status) in [("https", "200"), ("http", "403")] {
        let request = call(&host, cookie, &json!({"do":"start"})).replace(
            "Connection: close",
            &format!("Connection: close\r\nOrigin: {origin}://{host}"),
        );
        let answer = browse(&host, Some(&digits), own, &request);
        assert!(
            answer.starts_with(&format!("HTTP/1.1 {status}")),
            "{origin}: {answer}"
        );
    }
    let printed = hub.printed();
    assert!(printed.contains(&format!("https://{host}")), "{printed}");
    assert!(printed.contains(&digits), "{printed}");
    assert!(!printed.contains("key="), "{printed}");
}

#[test]
fn sessions_are_seen_and_ended_and_a_new_key_ends_all() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let other = hub.log_in(&hub.key);
    let with = |session: &str| hub.cookie().replace(&hub.session, session);
    let opens = |session: &str| {
        hub.send("GET", "/pair", &[("cookie", &with(session))], b"")
            .status
    };
    assert_eq!((opens(&hub.session), opens(&other)), (200, 200));
    let page = hub.ask("GET", "/browsers", "", b"").text();
    assert_eq!(
        page.matches("value=\"").count(),
        3,
        "two, and all others: {page}"
    );
    assert!(
        page.contains("127.0.0.1") && page.contains("This one"),
        "{page}"
    );
    let form = "application/x-www-form-urlencoded";
    let nonsense = hub.ask("POST", "/browsers/end", form, b"which=x");
    assert_eq!(nonsense.status, 422, "{}", nonsense.text());
    assert_eq!(
        hub.ask("POST", "/browsers/end", form, b"which=others")
            .status,
        200
    );
    assert_eq!((opens(&hub.session), opens(&other)), (200, 401));
    let second = hub.log_in(&hub.key);
    assert_eq!(opens(&second), 200);
    // Who comes again with the key has a new session, not two.
    let target = format!("/?key={}", hub.key);
    let again = hub.send("GET", &target, &[("cookie", &with(&second))], b"");
    let (_, third) = again
        .header("set-cookie")
        .split_once('=')
        .expect("a cookie");
    let third = third.split(';').next().expect("a value").to_owned();
    assert_eq!((opens(&second), opens(&third)), (401, 200));
    assert!(!page.contains(&hub.session), "its secret is on no page");

    let said = swarfbook()
        .args(["key", "new", "--data"])
        .arg(dir.path())
        .output()
        .expect("runs");
    assert!(said.status.success(), "{said:?}");
    let said = String::from_utf8(said.stdout).expect("text");
    let kept = std::fs::read_to_string(dir.path().join("hub-address")).expect("kept");
    let (address, key) = kept.trim().split_once("/?key=").expect("with its key");
    assert_eq!(address, hub.address);
    assert!(
        key.len() == 64 && key != hub.key && !said.contains(key),
        "{said}"
    );
    assert_eq!((opens(&hub.session), opens(&third)), (401, 401), "at once");
    assert_eq!(hub.log_in(&hub.key), "", "the old key opens nothing");
    assert_eq!(opens(&hub.log_in(key)), 200);
}

#[test]
fn a_given_certificate_is_shown_to_browsers_and_phones_know_the_hub_on() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let own = fingerprint(&hub);
    assert!(hub.stop());
    let files = tempfile::tempdir().expect("folder");
    let (certificate, key) = (files.path().join("c.pem"), files.path().join("k.pem"));
    let pair = rcgen::generate_simple_self_signed(vec!["hub.shop.example".into()]).expect("made");
    std::fs::write(&certificate, pair.cert.pem()).expect("written");
    std::fs::write(&key, pair.signing_key.serialize_pem()).expect("written");
    let given: Fingerprint = swarfbook_job::id::Sha256Hex::of(pair.cert.der()).into();
    let options = [
        "--certificate",
        certificate.to_str().expect("text"),
        "--certificate-key",
        key.to_str().expect("text"),
    ];
    let hub = Running::start(dir.path(), &options);
    let host = hub.host();
    let (entry, name) = (format!("/?key={}", hub.key), "hub.shop.example");
    let asks = |as_host: &str| browse(host, Some(given.as_str()), name, &get(as_host, &entry, ""));
    assert!(asks(name).starts_with("HTTP/1.1 303"), "under its name");
    assert!(asks("evil.example").starts_with("HTTP/1.1 421"));
    // In the clear nobody shows a certificate, so that no name is the hub's.
    let clear = browse(host, None, "", &get(name, &entry, ""));
    assert!(clear.starts_with("HTTP/1.1 421"), "{clear}");
    let phones = browse(host, Some(&own), SERVER_NAME, &get(host, &entry, ""));
    assert!(phones.starts_with("HTTP/1.1 303"), "{phones}");
    let phone = Phone::new();
    let paired = phone.pair(&format!("https://{host}"), &code(&hub), &own);
    assert_eq!(paired["reply"], "sync", "{paired}");

    std::fs::write(&key, "no key").expect("written");
    let refused = swarfbook()
        .args(["serve", "--listen", "127.0.0.1:0", "--data"])
        .arg(files.path().join("data"))
        .args(options)
        .output()
        .expect("runs");
    let why = String::from_utf8(refused.stderr).expect("text");
    assert!(
        !refused.status.success() && why.contains("can't be used"),
        "{why}"
    );
}

/// Whoever begins a handshake and does not go on, or says nothing at all, is cut off.
#[test]
fn a_handshake_that_never_ends_is_cut_off() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let begun = Instant::now();
    let callers: Vec<_> = [
        &b""[..],
        &[22],
        &[22, 3, 1, 1, 0, 1],
        b"\x16garbage, and no record",
    ]
    .into_iter()
    .map(|first| {
        let mut stream = TcpStream::connect(hub.host()).expect("connects");
        stream
            .set_read_timeout(Some(Duration::from_secs(30)))
            .expect("set");
        stream.write_all(first).expect("sent");
        stream
    })
    .collect();
    for mut stream in callers {
        // The end of the stream, an alert before it, or a reset: each is being cut off.
        let mut rest = Vec::new();
        let ended = stream.read_to_end(&mut rest);
        let waited = ended
            .err()
            .is_some_and(|error| error.kind() == std::io::ErrorKind::WouldBlock);
        assert!(
            !waited && begun.elapsed() < Duration::from_secs(25),
            "{:?}",
            begun.elapsed()
        );
    }
    assert!(
        begun.elapsed() > Duration::from_secs(8),
        "they had their time"
    );
    assert_eq!(hub.call(&json!({"do":"start"})).status, 200, "it serves on");
    assert!(hub.stop(), "and ends well");
}
