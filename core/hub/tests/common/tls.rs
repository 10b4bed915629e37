//! Phones and browsers that speak to a hub within TLS.
#![allow(dead_code)]

use std::io::{Read, Write};
use std::net::{TcpStream, UdpSocket};
use std::time::Duration;

use rustls::pki_types::ServerName;
use rustls::{ClientConnection, StreamOwned};
use serde_json::{Value, json};
use swarfbook_app::command::Command;
use swarfbook_app::{App, Fingerprint};
use swarfbook_sync::Pin;
use tempfile::TempDir;

use super::Running;

pub struct Phone {
    _dir: TempDir,
    pub app: App,
}

impl Phone {
    pub fn new() -> Phone {
        let dir = tempfile::tempdir().expect("folder");
        let app = App::open(dir.path()).expect("opens");
        Phone { _dir: dir, app }
    }

    pub fn ask(&self, command: &Value) -> Value {
        let command: Command = serde_json::from_value(command.clone()).expect("a command");
        match self.app.call(command) {
            Ok(reply) => serde_json::to_value(reply).expect("JSON"),
            Err(problem) => json!({ "problem": problem }),
        }
    }

    pub fn pair(&self, address: &str, code: &str, fingerprint: &str) -> Value {
        self.ask(&json!({"do":"pair","address":address,"code":code,"fingerprint":fingerprint}))
    }

    pub fn sync(&self) -> Value {
        self.ask(&json!({"do":"sync_now"}))
    }

    /// Changes what it keeps of its pairing.
    pub fn keeps(&self, name: &str, value: &Value) {
        let store = self.app.store();
        let mut paired: Value = store.setting("sync").expect("read").expect("paired");
        paired[name] = value.clone();
        store.set("sync", &paired).expect("set");
    }
}

pub fn code(hub: &Running) -> String {
    let shown = hub.ask("POST", "/pair-code", "", b"").json();
    shown["code"].as_str().expect("a code").to_owned()
}

/// What the hub shows to compare with, as a person reads it.
pub fn fingerprint(hub: &Running) -> String {
    let page = hub.send("GET", "/trust", &[], b"").text();
    let (_, rest) = page.split_once("<code>").expect("shown");
    let (digits, _) = rest.split_once("</code>").expect("shown");
    assert_eq!(digits.len(), 32 * 3 - 1, "{digits}");
    digits.to_owned()
}

pub fn what(answer: &Value) -> &str {
    answer["problem"]["what"].as_str().unwrap_or_default()
}

/// A browser, bare: sends a request and reads all that comes. `known_by` asks for TLS.
pub fn browse(host: &str, known_by: Option<&str>, name: &str, request: &str) -> String {
    let stream = TcpStream::connect(host).expect("connects");
    stream
        .set_read_timeout(Some(Duration::from_secs(30)))
        .expect("set");
    let mut answer = Vec::new();
    let mut talk = |mut stream: Box<dyn Duplex>| {
        // The other side may end it before all is said.
        let _ = stream.write_all(request.as_bytes());
        let _ = stream.flush();
        let _ = stream.read_to_end(&mut answer);
    };
    match known_by {
        None => talk(Box::new(stream)),
        Some(digits) => {
            let pin = Pin::new(Fingerprint::read(digits).expect("one"));
            let name = ServerName::try_from(name.to_owned()).expect("a name");
            let config = pin.config().expect("built in");
            let client = ClientConnection::new(config, name).expect("begins");
            talk(Box::new(StreamOwned::new(client, stream)));
        }
    }
    String::from_utf8_lossy(&answer).into_owned()
}

pub trait Duplex: Read + Write {}
impl<T: Read + Write> Duplex for T {}

pub fn get(host: &str, target: &str, cookie: &str) -> String {
    format!(
        "GET {target} HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\nConnection: close\r\n\r\n"
    )
}

pub fn call(host: &str, cookie: &str, command: &Value) -> String {
    let body = command.to_string();
    format!(
        "POST /call HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\nConnection: close\r\n\
         Content-Type: application/json\r\nContent-Length: {}\r\n\r\n{body}",
        body.len()
    )
}

pub fn first_cookie(answer: &str) -> &str {
    let line = answer
        .lines()
        .find_map(|line| line.strip_prefix("set-cookie: "));
    line.unwrap_or_else(|| panic!("no cookie: {answer}"))
}

/// This machine's number in its network; nothing is sent (192.0.2.1: RFC 5737).
pub fn own_number() -> std::net::IpAddr {
    let socket = UdpSocket::bind("0.0.0.0:0").expect("binds");
    socket
        .connect("192.0.2.1:9")
        .expect("this test needs a network beside the loopback");
    socket.local_addr().expect("an address").ip()
}
