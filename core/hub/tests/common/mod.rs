//! The built program, started as a person would, and asked over loopback.
#![allow(dead_code)]

pub mod tls;

use std::io::{BufRead, BufReader, Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::path::Path;
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::time::Duration;

use serde_json::Value;
use socket2::{Domain, Socket, Type};
use ureq::http::{Request, Response};

pub fn swarfbook() -> Command {
    Command::new(env!("CARGO_BIN_EXE_swarfbook"))
}

/// A hub on a port of its own.
pub struct Running {
    child: Child,
    out: BufReader<ChildStdout>,
    pub address: String,
    pub key: String,
    /// The secret of the session that the key began.
    pub session: String,
}

impl Running {
    pub fn start(dir: &Path, more: &[&str]) -> Running {
        Running::start_at(dir, "127.0.0.1:0", more)
    }

    pub fn start_at(dir: &Path, listen: &str, more: &[&str]) -> Running {
        let mut child = swarfbook()
            .args(["serve", "--listen", listen, "--data"])
            .arg(dir)
            .args(more)
            .stdout(Stdio::piped())
            .spawn()
            .expect("starts");
        let mut out = BufReader::new(child.stdout.take().expect("piped"));
        let mut line = String::new();
        out.read_line(&mut line).expect("prints its address");
        let whole = std::fs::read_to_string(dir.join("hub-address")).expect("kept");
        let (address, key) = whole.trim().split_once("/?key=").expect("with its key");
        assert_eq!(line.trim(), format!("{address}/"), "no key is printed");
        let mut hub = Running {
            child,
            out,
            address: address.to_owned(),
            key: key.to_owned(),
            session: String::new(),
        };
        hub.session = hub.log_in(key);
        hub
    }

    /// The session that a key begins; nothing where it begins none.
    pub fn log_in(&self, key: &str) -> String {
        let answer = self.send("GET", &format!("/?key={key}"), &[], b"");
        let (_, value) = answer
            .header("set-cookie")
            .split_once('=')
            .unwrap_or_default();
        value.split(';').next().unwrap_or_default().to_owned()
    }

    /// All that it printed since its first line; ends it.
    pub fn printed(mut self) -> String {
        signal(self.pid(), "-TERM");
        let mut rest = String::new();
        self.out.read_to_string(&mut rest).expect("text");
        self.child.wait().expect("ends");
        rest
    }

    pub fn pid(&self) -> u32 {
        self.child.id()
    }

    pub fn cookie(&self) -> String {
        let port = self.address.rsplit(':').next().expect("a port");
        format!("swarfbook-{port}={}", self.session)
    }

    /// A request by the person at the hub.
    pub fn ask(&self, method: &str, target: &str, kind: &str, body: &[u8]) -> Answer {
        let cookie = self.cookie();
        self.send(
            method,
            target,
            &[("cookie", &cookie), ("content-type", kind)],
            body,
        )
    }

    /// A request with these headers and no others.
    pub fn send(
        &self,
        method: &str,
        target: &str,
        headers: &[(&str, &str)],
        body: &[u8],
    ) -> Answer {
        let mut request = Request::builder()
            .method(method)
            .uri(format!("{}{target}", self.address));
        for (name, value) in headers {
            request = request.header(*name, *value);
        }
        let answered = if method == "GET" {
            agent().run(request.body(()).expect("a request"))
        } else {
            agent().run(request.body(body).expect("a request"))
        };
        Answer::read(answered.expect("answers"))
    }

    pub fn host(&self) -> &str {
        self.address.trim_start_matches("http://")
    }

    /// A connection from another address of this machine (RFC 1122, 3.2.1.3: all of 127/8).
    pub fn connect_from(&self, from: &str) -> TcpStream {
        let socket = Socket::new(Domain::IPV4, Type::STREAM, None).expect("a socket");
        let own: SocketAddr = format!("{from}:0").parse().expect("an address");
        socket
            .bind(&own.into())
            .expect("an address of this machine");
        let to: SocketAddr = self.host().parse().expect("an address");
        socket.connect(&to.into()).expect("connects");
        socket.into()
    }

    /// What a stranger at another address of this machine is answered, head and all.
    pub fn post_from(&self, from: &str, target: &str, body: &str) -> String {
        let mut stream = self.connect_from(from);
        write!(
            stream,
            "POST {target} HTTP/1.1\r\nHost: {}\r\nConnection: close\r\n\
             Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {}\r\n\r\n{body}",
            self.host(),
            body.len()
        )
        .expect("sent");
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).expect("an answer");
        String::from_utf8_lossy(&answer).into_owned()
    }

    pub fn call(&self, command: &Value) -> Answer {
        let body = command.to_string();
        self.ask("POST", "/call", "application/json", body.as_bytes())
    }

    /// Ends it as the system does at shutdown; whether it ended well.
    pub fn stop(mut self) -> bool {
        signal(self.pid(), "-TERM");
        self.child.wait().expect("ends").success()
    }

    /// Ends it as a power cut does.
    pub fn kill(mut self) {
        self.child.kill().expect("killed");
        self.child.wait().expect("ends");
    }
}

impl Drop for Running {
    /// A test that failed leaves no hub behind.
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

pub fn signal(pid: u32, which: &str) {
    let done = Command::new("kill")
        .args([which, &pid.to_string()])
        .status()
        .expect("kill is there");
    assert!(done.success());
}

pub struct Answer {
    pub status: u16,
    pub headers: ureq::http::HeaderMap,
    pub body: Vec<u8>,
}

impl Answer {
    fn read(mut response: Response<ureq::Body>) -> Answer {
        Answer {
            status: response.status().as_u16(),
            headers: response.headers().clone(),
            body: response.body_mut().read_to_vec().expect("a body"),
        }
    }

    pub fn json(&self) -> Value {
        serde_json::from_slice(&self.body).expect("JSON")
    }

    pub fn text(&self) -> String {
        String::from_utf8_lossy(&self.body).into_owned()
    }

    pub fn header(&self, name: &str) -> &str {
        self.headers
            .get(name)
            .map_or("", |value| value.to_str().expect("text"))
    }
}

fn agent() -> ureq::Agent {
    ureq::Agent::config_builder()
        .http_status_as_error(false)
        .max_redirects(0)
        .proxy(None)
        .timeout_global(Some(Duration::from_secs(60)))
        .build()
        .into()
}

/// `swarfbook call` kept open, one command at a time.
pub struct Calls {
    pub child: Child,
    input: Option<ChildStdin>,
    out: BufReader<ChildStdout>,
}

impl Calls {
    pub fn open(dir: &Path) -> Calls {
        let mut child = swarfbook()
            .args(["call", "--data"])
            .arg(dir)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .expect("starts");
        Calls {
            input: child.stdin.take(),
            out: BufReader::new(child.stdout.take().expect("piped")),
            child,
        }
    }

    pub fn send(&mut self, line: &str) {
        let input = self.input.as_mut().expect("open");
        writeln!(input, "{line}").expect("sent");
    }

    /// Sends a line unless the program is gone; whether it went.
    pub fn try_send(&mut self, line: &str) -> bool {
        let input = self.input.as_mut().expect("open");
        writeln!(input, "{line}").is_ok()
    }

    /// The next answer; `None` when the program is gone.
    pub fn next(&mut self) -> Option<Value> {
        let mut line = String::new();
        self.out.read_line(&mut line).expect("reads");
        serde_json::from_str(&line).ok()
    }

    pub fn ask(&mut self, command: &Value) -> Value {
        self.send(&command.to_string());
        self.next().expect("an answer")
    }

    pub fn close(mut self) {
        self.input.take();
        assert!(self.child.wait().expect("ends").success());
    }
}

/// A picture of noise, as a JPEG or PNG would hold it.
pub fn picture() -> Vec<u8> {
    let picture = image::RgbImage::from_fn(320, 240, |x, y| {
        image::Rgb([
            (x * 7 % 256) as u8,
            (y * 5 % 256) as u8,
            ((x + y) % 256) as u8,
        ])
    });
    let mut bytes = std::io::Cursor::new(Vec::new());
    picture
        .write_to(&mut bytes, image::ImageFormat::Png)
        .expect("encodes");
    bytes.into_inner()
}
