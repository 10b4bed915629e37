//! What can be read on the way between a hub and those who ask it: nothing, within TLS; and
//! all of it in the clear, where the same looking finds it.
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests are outside of them

mod common;

use std::io::{Read, Write};
use std::net::{Shutdown, TcpListener, TcpStream};
use std::sync::{Arc, Mutex};
use std::time::Duration;

use common::tls::{Phone, browse, call, code, fingerprint, first_cookie, get, own_number, what};
use common::{Running, picture};
use rustls::crypto::ring;
use rustls::pki_types::{PrivateKeyDer, ServerName};
use rustls::sign::{CertifiedKey, SingleCertAndKey};
use rustls::{ClientConnection, ServerConfig, ServerConnection};
use serde_json::{Value, json};
use swarfbook_app::{App, Fingerprint};
use swarfbook_sync::{Pin, SERVER_NAME};

/// An invented plate.
const PLATE: &str = "SWF-INV 4711";
const NAME: &str = "Adalind Quillfeather-Invented";
const CONTACT: &str = "555 0100 22";

/// Passes bytes on to a hub and keeps a copy of each stream, as a neighbour's antenna does.
struct Relay {
    host: String,
    heard: Arc<Mutex<Vec<Stream>>>,
}

#[derive(Default, Clone)]
struct Stream {
    asked: Vec<u8>,
    answered: Vec<u8>,
}

impl Relay {
    fn to(host: &str) -> Relay {
        let listener = TcpListener::bind("127.0.0.1:0").expect("binds");
        let own = listener.local_addr().expect("an address").to_string();
        let heard = Arc::new(Mutex::new(Vec::new()));
        let (to, all) = (host.to_owned(), heard.clone());
        std::thread::spawn(move || {
            for near in listener.incoming().flatten() {
                let Ok(far) = TcpStream::connect(&to) else {
                    return;
                };
                let index = {
                    let mut all = all.lock().expect("whole");
                    all.push(Stream::default());
                    all.len() - 1
                };
                for asks in [true, false] {
                    let (near, far) = (near.try_clone(), far.try_clone());
                    let (near, far) = (near.expect("one more"), far.expect("one more"));
                    let (from, into) = if asks { (near, far) } else { (far, near) };
                    let all = all.clone();
                    std::thread::spawn(move || pass(from, into, &all, index, asks));
                }
            }
        });
        Relay { host: own, heard }
    }

    fn streams(&self) -> Vec<Stream> {
        std::thread::sleep(Duration::from_millis(100));
        self.heard.lock().expect("whole").clone()
    }

    fn heard(&self, what: &[u8]) -> bool {
        let holds = |bytes: &[u8]| bytes.windows(what.len()).any(|part| part == what);
        let streams = self.streams();
        streams
            .iter()
            .any(|s| holds(&s.asked) || holds(&s.answered))
    }
}

fn pass(mut from: TcpStream, mut into: TcpStream, all: &Mutex<Vec<Stream>>, at: usize, asks: bool) {
    let mut bytes = [0; 16 * 1024];
    while let Ok(read @ 1..) = from.read(&mut bytes) {
        {
            let mut all = all.lock().expect("whole");
            let stream = &mut all[at];
            let copy = if asks {
                &mut stream.asked
            } else {
                &mut stream.answered
            };
            copy.extend(&bytes[..read]);
        }
        if into.write_all(&bytes[..read]).is_err() {
            break;
        }
    }
    let _ = into.shutdown(Shutdown::Write);
}

/// A pairing, a job with plate, name and photo, and a browser that opens it, all through a
/// relay: each secret, and whether the relay heard it.
fn overheard(encrypted: bool) -> Vec<(&'static str, bool)> {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let relay = Relay::to(hub.host());
    let host = relay.host.clone();
    let digits = fingerprint(&hub);
    let known_by = encrypted.then_some(digits.as_str());
    let scheme = if encrypted { "https" } else { "http" };

    let phone = Phone::new();
    let code = code(&hub);
    let paired = phone.pair(
        &format!("{scheme}://{host}"),
        &code,
        known_by.unwrap_or_default(),
    );
    assert_eq!(paired["reply"], "sync", "{paired}");
    let job = phone.ask(&json!({"do":"open_job"}))["job"]["id"].clone();
    let photo = phone.app.put_photo(&picture()).expect("kept");
    for command in [
        json!({"do":"write","job":job,"fact":{"fact":"car_noted","car":{"plate":PLATE,
            "vin":null,"description":"","odometer_km":null,"fluid_changed_at_km":null}}}),
        json!({"do":"save_customer","job":job,"name":NAME,"contact":CONTACT}),
        json!({"do":"write","job":job,"fact":{"fact":"photo_taken",
            "step":"car","photo":photo,"subject":"other"}}),
    ] {
        let done = phone.ask(&command);
        assert!(done["problem"].is_null(), "{done}");
    }
    let synced = phone.sync();
    assert_eq!(synced["sync"]["photos_waiting"], 0, "{synced}");

    let entered = browse(
        &host,
        known_by,
        "localhost",
        &get(&host, &format!("/?key={}", hub.key), ""),
    );
    let cookie = first_cookie(&entered);
    let (cookie, flags) = cookie.split_once(';').expect("with flags");
    for must in ["HttpOnly", "SameSite=Strict", "Path=/", "Max-Age=2592000"] {
        assert!(flags.contains(must), "{flags}");
    }
    assert_eq!(flags.contains("Secure"), encrypted, "{flags}");
    assert_eq!(cookie.starts_with("__Host-"), encrypted, "{cookie}");
    let (_, session) = cookie.split_once('=').expect("a value");
    let seen = browse(
        &host,
        known_by,
        "localhost",
        &call(&host, cookie, &json!({"do":"job","job":job})),
    );
    for what in [PLATE, NAME] {
        assert!(seen.contains(what), "the browser is shown {what}: {seen}");
    }
    let picture_out = browse(
        &host,
        known_by,
        "localhost",
        &get(&host, &format!("/photo/{photo}"), cookie),
    );
    assert!(picture_out.starts_with("HTTP/1.1 200"), "{picture_out}");

    let passed: usize = relay
        .streams()
        .iter()
        .map(|s| s.asked.len() + s.answered.len())
        .sum();
    assert!(
        passed > 2 * picture().len(),
        "all went through it: {passed}"
    );
    let middle = picture().len() / 2;
    let of_photo = picture()[middle..middle + 64].to_vec();
    let public = {
        let peers = App::open(dir.path())
            .expect("opens")
            .store()
            .peers()
            .expect("read");
        peers[0].public_key.clone()
    };
    let secrets: [(&str, Vec<u8>); 9] = [
        ("the hub's key", hub.key.clone().into()),
        ("the session", session.into()),
        ("the one-time code", code.into()),
        ("the plate", PLATE.into()),
        ("the name", NAME.into()),
        ("the contact", CONTACT.into()),
        ("the photo", of_photo),
        ("the device's public key", public.into()),
        ("the path of a photo", photo.to_string().into()),
    ];
    secrets
        .into_iter()
        .map(|(name, bytes)| (name, relay.heard(&bytes)))
        .collect()
}

#[test]
fn no_key_plate_or_name_is_on_the_wire() {
    for (what, heard) in overheard(true) {
        assert!(!heard, "{what} is on the wire");
    }
    // The same looking finds all of it where nothing is encrypted.
    for (what, heard) in overheard(false) {
        assert!(heard, "{what} would not have been found");
    }
}

#[test]
fn a_phone_takes_one_certificate_and_sends_nothing_to_another() {
    let (dir, elsewhere) = (
        tempfile::tempdir().expect("folder"),
        tempfile::tempdir().expect("folder"),
    );
    let hub = Running::start(dir.path(), &[]);
    let other = Running::start(elsewhere.path(), &[]);
    let (digits, others) = (fingerprint(&hub), fingerprint(&other));
    assert_ne!(digits, others, "each makes its own");
    let address = format!("https://{}", hub.host());
    let (phone, code) = (Phone::new(), code(&hub));
    let refused = phone.pair(&address, &code, &others);
    assert!(what(&refused).contains("another certificate"), "{refused}");
    let refused = phone.pair(&address, &code, "");
    assert!(what(&refused).contains("fingerprint"), "{refused}");
    let refused = phone.pair(&address, &code, "1234 5678");
    assert!(what(&refused).contains("no fingerprint"), "{refused}");
    let changed = if digits.starts_with('0') { "1" } else { "0" };
    let refused = phone.pair(&address, &code, &format!("{changed}{}", &digits[1..]));
    assert!(what(&refused).contains("another certificate"), "{refused}");
    // None of it used the code up. Twenty digits are enough to type.
    let typed: String = digits.replace(':', " ").chars().take(29).collect();
    let paired = phone.pair(&address, &code, &typed);
    assert_eq!(paired["sync"]["hub"], json!(address), "{paired}");
    assert_eq!(phone.sync()["reply"], "sync");
    let kept: Value = phone
        .app
        .store()
        .setting("sync")
        .expect("read")
        .expect("kept");
    let whole = digits.replace(':', "").to_lowercase();
    assert_eq!(kept["certificate"], json!(whole), "all 64 are kept");

    // Another hub at its address: a neighbour, or a hub set up anew.
    phone.ask(&json!({"do":"open_job"}));
    let relay = Relay::to(other.host());
    phone.keeps("address", &json!(format!("https://{}", relay.host)));
    let refused = phone.sync();
    assert!(what(&refused).contains("another certificate"), "{refused}");
    assert!(
        refused["problem"]["do_next"]
            .as_str()
            .is_some_and(|n| n.contains("pair again"))
    );
    let streams = relay.streams();
    let [stream] = streams.as_slice() else {
        panic!("one connection, not {}", streams.len());
    };
    // Records of TLS (RFC 8446, 5.1): what is said before and about the certificate.
    let mut rest = stream.asked.as_slice();
    while let [kind, _, _, high, low, after @ ..] = rest {
        let length = usize::from(*high) << 8 | usize::from(*low);
        let (record, next) = after.split_at(length.min(after.len()));
        // A handshake, a change of cipher, an alert, or an encrypted alert: two bytes, their
        // type and the tag of 16.
        let small = *kind == 23 && record.len() <= 2 + 1 + 16;
        assert!(
            [20, 21, 22].contains(kind) || small,
            "{kind}: {} bytes",
            record.len()
        );
        rest = next;
    }
    assert!(!stream.asked.is_empty());
    phone.keeps("address", &json!(address));
    assert_eq!(phone.sync()["reply"], "sync", "its own hub is known on");
}

/// Everybody is shown a certificate; only its hub has the key.
#[test]
fn a_certificate_without_its_key_is_of_no_use() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let (phone, code, digits) = (Phone::new(), code(&hub), fingerprint(&hub));
    let pin = Pin::new(Fingerprint::read(&digits).expect("one"));
    let name = ServerName::try_from(SERVER_NAME).expect("a name");
    let mut asks = ClientConnection::new(pin.config().expect("built in"), name).expect("begins");
    let mut stream = TcpStream::connect(hub.host()).expect("connects");
    asks.complete_io(&mut stream).expect("shakes hands");
    let shown = asks.peer_certificates().expect("shown")[0]
        .clone()
        .into_owned();

    let key = rcgen::KeyPair::generate().expect("made").serialize_der();
    let key = ring::sign::any_ecdsa_type(&PrivateKeyDer::Pkcs8(key.into())).expect("a key");
    let shows = SingleCertAndKey::from(CertifiedKey::new(vec![shown], key));
    let config = ServerConfig::builder_with_provider(Arc::new(ring::default_provider()))
        .with_protocol_versions(&[&rustls::version::TLS13])
        .expect("built in")
        .with_no_client_auth()
        .with_cert_resolver(Arc::new(shows));
    let config = Arc::new(config);
    let listener = TcpListener::bind("127.0.0.1:0").expect("binds");
    let at = listener.local_addr().expect("an address");
    std::thread::spawn(move || {
        for mut stream in listener.incoming().flatten() {
            let mut hears = ServerConnection::new(config.clone()).expect("begins");
            let _ = hears.complete_io(&mut stream);
        }
    });
    let refused = phone.pair(&format!("https://{at}"), &code, &digits);
    assert!(what(&refused).contains("another certificate"), "{refused}");
    let paired = phone.pair(&format!("https://{}", hub.host()), &code, &digits);
    assert_eq!(paired["reply"], "sync", "the hub itself: {paired}");
}

#[test]
fn a_pairing_of_before_sends_nothing_through_a_network_and_says_what_to_do() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &[]);
    let phone = Phone::new();
    phone.pair(&hub.address, &code(&hub), "");
    assert_eq!(phone.sync()["reply"], "sync", "plain on this machine");
    let listener = TcpListener::bind((own_number(), 0)).expect("binds");
    let at = listener.local_addr().expect("an address");
    phone.keeps("address", &json!(format!("http://{at}")));
    let refused = phone.sync();
    assert!(
        what(&refused).contains("before the exchange was encrypted"),
        "{refused}"
    );
    assert!(
        refused["problem"]["do_next"]
            .as_str()
            .is_some_and(|n| n.contains("Pair again"))
    );
    listener.set_nonblocking(true).expect("set");
    let nobody = listener.accept().map_err(|error| error.kind());
    assert_eq!(
        nobody.err(),
        Some(std::io::ErrorKind::WouldBlock),
        "nobody came"
    );
    // What speaks in the clear where TLS is asked for is no hub of today.
    let plain = TcpListener::bind("127.0.0.1:0").expect("binds");
    let at = plain.local_addr().expect("an address");
    std::thread::spawn(move || {
        for mut stream in plain.incoming().flatten() {
            let _ = stream.write_all(b"HTTP/1.1 400 Bad Request\r\n\r\n");
        }
    });
    let refused = phone.pair(&format!("https://{at}"), "12345678", &"0".repeat(64));
    assert!(what(&refused).contains("does not encrypt"), "{refused}");
}
