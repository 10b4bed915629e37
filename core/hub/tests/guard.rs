//! Who is let in, and what is not taken.
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests are outside of them

mod common;

use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::Duration;

use common::Running;
use serde_json::json;

#[test]
fn without_the_key_every_route_is_closed() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let zero = "0".repeat(64);
    let wrong = hub.cookie().replace(&hub.session, &zero);
    let photo = format!("/photo/{zero}");
    let old_form = hub.cookie().replace(&hub.session, &hub.key);
    for (method, target) in [
        ("GET", "/"),
        ("GET", "/index.html"),
        ("POST", "/call"),
        ("POST", "/photo"),
        ("GET", photo.as_str()),
        ("POST", "/pair-code"),
        ("GET", "/pair"),
        ("POST", "/pair"),
        ("POST", "/pair/remove"),
        ("GET", "/browsers"),
        ("POST", "/browsers/end"),
        ("GET", "/?key=wrong"),
        ("GET", "/sync/standing"),
        ("GET", "/sync/lines?device=x"),
        ("POST", "/sync/lines"),
    ] {
        for headers in [
            vec![],
            vec![("cookie", wrong.as_str())],
            vec![("cookie", old_form.as_str())],
            vec![("authorization", "Swarfbook a b c d e")],
        ] {
            let answer = hub.send(method, target, &headers, b"{}");
            assert_eq!(answer.status, 401, "{method} {target} {headers:?}");
            assert!(!answer.text().contains(&hub.key));
            assert!(!answer.text().contains(&hub.session));
        }
    }
    // Pairing is open to all, but not without a code that is shown.
    assert_eq!(hub.send("POST", "/sync/pair", &[], b"{}").status, 400);
}

/// Who has no key is told in the browser's language, else in the hub's own.
#[test]
fn strangers_are_told_in_their_language() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let ask = |target: &str, headers: &[(&str, &str)]| hub.send("GET", target, headers, b"").text();
    let german = ("accept-language", "de-AT,de;q=0.9,en;q=0.7");
    let french = ("accept-language", "fr-FR,fr;q=0.9");
    let elsewhere = ("host", "shop.example");
    let pages = |wish: (&str, &str)| {
        [
            ask("/", &[wish]),
            ask("/", &[wish, elsewhere]),
            ask("/r/nobody-knows-it", &[wish]),
        ]
    };
    let says = |pages: [String; 3], lang: &str, titles: [&str; 3]| {
        for (page, title) in pages.iter().zip(titles) {
            assert!(page.contains(&format!("<html lang=\"{lang}\">")), "{page}");
            assert!(page.contains(&format!("<h1>{title}</h1>")), "{page}");
        }
    };
    let in_german = [
        "Dieser Server kennt Sie nicht",
        "Nicht unter dieser Adresse",
        "Hier ist kein Bericht",
    ];
    let in_english = [
        "This hub does not know you",
        "Not this address",
        "No report here",
    ];
    says(pages(german), "de", in_german);
    says(pages(french), "en", in_english);
    let settings =
        json!({"do":"save_settings","settings":{"technician":"T. Muster","language":"de"}});
    assert_eq!(hub.call(&settings).status, 200);
    says(pages(french), "de", in_german);
    says(pages(("accept-language", "en")), "en", in_english);

    // Who has the key is told in the hub's language, whatever the browser's is.
    let cookie = hub.cookie();
    let known = [("cookie", cookie.as_str()), ("accept-language", "en")];
    assert!(ask("/no.such.file", &known).contains("Unter dieser Adresse gibt es nichts."));
    assert!(ask("/pair", &known).contains("Gerät"));
    let refused = hub.ask("POST", "/call", "text/plain", b"{}").json();
    assert_eq!(refused["do_next"], "Den Inhaltstyp angeben.");
    let no_job = hub.call(&json!({"do":"job","job":"00000000-0000-7000-8000-000000000000"}));
    assert!(
        no_job
            .text()
            .contains("Diesen Auftrag gibt es auf diesem Gerät nicht.")
    );
}

#[test]
fn the_key_in_the_address_becomes_a_cookie_that_only_this_hub_gets() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let answer = hub.send("GET", &format!("/?key={}", hub.key), &[], b"");
    assert_eq!((answer.status, answer.header("location")), (303, "/"));
    let cookie = answer.header("set-cookie");
    let name = hub.cookie().replace(&hub.session, "");
    assert!(cookie.starts_with(&name), "{cookie}");
    assert!(cookie.contains("HttpOnly") && cookie.contains("SameSite=Strict"));
    assert!(!cookie.contains(&hub.key), "the key is in no cookie");
    assert!(!cookie.contains(&hub.session), "each has its own");
    let page = hub.ask("GET", "/", "", b"");
    assert_eq!(page.status, 200);
    assert!(
        page.header("content-security-policy")
            .contains("default-src 'self'")
    );
    assert!(
        !page
            .header("content-security-policy")
            .contains("script-src 'self' 'unsafe-inline'")
    );
    assert_eq!(page.header("x-content-type-options"), "nosniff");
    assert_eq!(page.header("referrer-policy"), "same-origin");
    let (key, session) = (hub.key.clone(), hub.session.clone());
    assert!(hub.stop(), "ends well when it is told to");
    let again = Running::start(dir.path(), &[]);
    assert_eq!(again.key, key);
    let before = again.cookie().replace(&again.session, &session);
    let page = again.send("GET", "/", &[("cookie", &before)], b"");
    assert_eq!(page.status, 200, "a browser stays known");
}

#[test]
fn other_sites_can_not_reach_it_under_a_name_of_theirs_nor_in_the_persons_name() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let cookie = hub.cookie();
    let json = ("content-type", "application/json");
    let me = ("cookie", cookie.as_str());
    let jobs = br#"{"do":"jobs","limit":1}"#;
    for host in ["evil.example", "127.0.0.1.evil.example:80", "", "a b"] {
        let answer = hub.send("POST", "/call", &[me, json, ("host", host)], jobs);
        assert!(
            [400, 421].contains(&answer.status),
            "{host:?}: {}",
            answer.status
        );
    }
    for origin in ["http://evil.example", "http://127.0.0.1:1", "null"] {
        let answer = hub.send("POST", "/call", &[me, json, ("origin", origin)], jobs);
        assert_eq!(answer.status, 403, "{origin}");
    }
    let own = hub.address.clone();
    let answer = hub.send("POST", "/call", &[me, json, ("origin", &own)], jobs);
    assert_eq!(answer.status, 200);
    for kind in ["text/plain", "application/x-www-form-urlencoded", ""] {
        let answer = hub.ask("POST", "/call", kind, jobs);
        assert_eq!(answer.status, 415, "{kind}");
    }
}

#[test]
fn what_can_not_be_understood_is_told_in_words() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let json = |body: &str| hub.ask("POST", "/call", "application/json", body.as_bytes());
    for (body, status) in [
        ("", 400),
        ("nonsense", 400),
        ("{\"do\":", 400),
        ("{\"do\":\"no_such_thing\"}", 422),
        ("{\"do\":\"jobs\",\"limit\":-1}", 422),
        (
            "{\"do\":\"job\",\"job\":\"00000000-0000-0000-0000-000000000000\"}",
            422,
        ),
    ] {
        let answer = json(body);
        assert_eq!(answer.status, status, "{body}");
        let problem = answer.json();
        for part in ["kind", "what", "do_next"] {
            assert!(problem[part].is_string(), "{body}: {problem}");
        }
    }
    let photo = |body: &[u8]| hub.ask("POST", "/photo", "image/jpeg", body);
    for body in [&b""[..], b"no picture", b"\xff\xd8\xff\xe0"] {
        let answer = photo(body);
        assert_eq!(answer.status, 422);
        assert!(answer.json()["what"].is_string());
    }
    for (target, status) in [
        ("/photo/../../swarfbook.db", 404),
        ("/photo/ABC", 404),
        (&*format!("/photo/{}", "0".repeat(64)), 404),
        (&*format!("/photo/{}?w=wide", "0".repeat(64)), 422),
    ] {
        assert_eq!(hub.ask("GET", target, "", b"").status, status, "{target}");
    }
}

/// Sizes are counted as bytes come in, not believed from a header.
#[test]
fn too_much_is_not_taken_in() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    for (target, most) in [("/call", 8), ("/photo", 64)] {
        let mut stream = connect(&hub);
        write!(
            stream,
            "POST {target} HTTP/1.1\r\nHost: {}\r\nCookie: {}\r\n\
             Content-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\n",
            host(&hub),
            hub.cookie()
        )
        .expect("sent");
        let megabyte = vec![b' '; 1024 * 1024];
        for _ in 0..most + 2 {
            // The hub may hang up before all was sent; that is the point.
            let sent = write!(stream, "100000\r\n")
                .and_then(|()| stream.write_all(&megabyte))
                .and_then(|()| stream.write_all(b"\r\n"));
            if sent.is_err() {
                break;
            }
        }
        let answer = read_some(&mut stream);
        assert!(
            answer.starts_with("HTTP/1.1 413") || answer.is_empty(),
            "{target}: {answer}"
        );
    }
    // A request to pair is small, and open to strangers.
    let long = format!("{{\"code\":\"{}\"}}", "1".repeat(100_000));
    assert_eq!(
        hub.send("POST", "/sync/pair", &[], long.as_bytes()).status,
        413
    );
    assert_eq!(hub.call(&json!({"do":"start"})).status, 200, "it serves on");
}

/// A caller that sends its head a byte at a time is cut off.
#[test]
fn a_head_that_never_ends_is_cut_off() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let mut stream = connect(&hub);
    write!(stream, "GET / HTTP/1.1\r\nHost: x\r\nX-Slow: ").expect("sent");
    let begun = std::time::Instant::now();
    let mut rest = Vec::new();
    // The end of the stream, or a reset: either is being cut off.
    let _ = stream.read_to_end(&mut rest);
    let waited = begun.elapsed();
    assert!((8..25).contains(&waited.as_secs()), "{waited:?}");
}

fn host(hub: &Running) -> &str {
    hub.address.trim_start_matches("http://")
}

fn connect(hub: &Running) -> TcpStream {
    let stream = TcpStream::connect(host(hub)).expect("connects");
    stream
        .set_read_timeout(Some(Duration::from_secs(30)))
        .expect("set");
    stream
}

fn read_some(stream: &mut TcpStream) -> String {
    let mut bytes = [0; 512];
    let read = stream.read(&mut bytes).unwrap_or(0);
    String::from_utf8_lossy(&bytes[..read]).into_owned()
}

/// A path of two strokes is a host to a browser: the key's owner would be led there.
#[test]
fn the_key_leads_to_no_other_host() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    for path in ["//evil.example/", "//evil.example", "/\\evil.example/"] {
        let mut stream = connect(&hub);
        let (host, key) = (host(&hub), &hub.key);
        write!(
            stream,
            "GET {path}?key={key} HTTP/1.1\r\nHost: {host}\r\n\r\n"
        )
        .expect("sent");
        let answer = read_some(&mut stream);
        assert!(!answer.contains("evil.example"), "{path}: {answer}");
    }
}

/// What is printed lands in journals; what is kept is for this account alone.
#[cfg(unix)]
#[test]
fn no_key_is_printed_to_what_is_no_terminal_and_no_file_is_for_others() {
    use std::os::unix::fs::PermissionsExt;
    let top = tempfile::tempdir().expect("folder");
    let dir = top.path().join("of the shop");
    let hub = Running::start(&dir, &[]);
    let picture = common::picture();
    assert_eq!(hub.ask("POST", "/photo", "image/png", &picture).status, 200);
    let out = top.path().join("all.zip");
    let said = common::swarfbook()
        .args(["export", "--data"])
        .arg(&dir)
        .arg("--out")
        .arg(&out)
        .output()
        .expect("runs");
    assert!(said.status.success(), "{said:?}");
    let mut looked_at = 0;
    let mut left = vec![dir.clone(), out];
    while let Some(path) = left.pop() {
        let meta = std::fs::metadata(&path).expect("is there");
        let mode = meta.permissions().mode() & 0o777;
        assert_eq!(mode & 0o077, 0, "{} is {mode:o}", path.display());
        looked_at += 1;
        if meta.is_dir() {
            let within = std::fs::read_dir(&path).expect("reads");
            left.extend(within.map(|file| file.expect("reads").path()));
        }
    }
    assert!(looked_at >= 8, "{looked_at}");
    let printed = hub.printed();
    assert!(printed.contains("hub-address"), "{printed}");
    assert!(!printed.contains("key="), "{printed}");
}

/// A name that another device or a customer chose must not write to a terminal.
#[test]
fn escape_sequences_of_foreign_text_are_shown_not_done() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let job = hub.call(&json!({"do":"open_job"})).json()["job"]["id"].clone();
    assert!(hub.stop());
    let hostile = "x\u{1b}]0;owned\u{7}\u{9b}31m";
    // The door takes no such text; another device's line can hold it.
    let car = json!({"fact":"car_noted","car":{"plate":hostile,"vin":null,"description":hostile,
        "odometer_km":null,"fluid_changed_at_km":null}});
    let line = swarfbook_store::NewEntry {
        job: serde_json::from_value(job.clone()).expect("a job"),
        fact: serde_json::from_value(car).expect("a fact"),
        now: chrono::Local::now().fixed_offset(),
    };
    let store = swarfbook_store::Store::open(dir.path()).expect("opens");
    store.append(&[line]).expect("written");
    drop(store);
    for (verb, input) in [
        ("jobs", String::new()),
        ("call", json!({"do":"log","job":job}).to_string()),
        ("call", json!({"do":hostile}).to_string()),
    ] {
        let mut child = common::swarfbook()
            .args([verb, "--data"])
            .arg(dir.path())
            .stdin(std::process::Stdio::piped())
            .stdout(std::process::Stdio::piped())
            .stderr(std::process::Stdio::piped())
            .spawn()
            .expect("starts");
        let mut to = child.stdin.take().expect("piped");
        writeln!(to, "{input}").expect("sent");
        drop(to);
        let said = child.wait_with_output().expect("ends");
        let all = [said.stdout, said.stderr].concat();
        let text = String::from_utf8(all).expect("text");
        let done: Vec<char> = text
            .chars()
            .filter(|c| c.is_control() && !['\n', '\t'].contains(c))
            .collect();
        assert!(done.is_empty(), "{verb}: {done:?} in {text:?}");
        assert!(text.contains("u001b"), "{verb}: it is shown: {text:?}");
    }
    let said = common::swarfbook()
        .args(["verify", hostile])
        .output()
        .expect("runs");
    let text = String::from_utf8(said.stderr).expect("text");
    assert!(
        text.contains("u001b") && !text.contains('\u{1b}'),
        "{text:?}"
    );
}
