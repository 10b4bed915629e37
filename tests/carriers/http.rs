//! HTTP: `swarfbook serve` on a free port of the loopback.

use std::io::{BufRead, BufReader};
use std::process::{Child, Command, Stdio};

use serde_json::Value;

use crate::Carrier;
use crate::command_line::swarfbook;

/// A running hub, entered by its printed address.
pub struct Hub {
    _dir: tempfile::TempDir,
    child: Child,
    address: String,
    agent: ureq::Agent,
}

impl Hub {
    pub fn open() -> Hub {
        let dir = tempfile::tempdir().expect("folder");
        let mut child = Command::new(swarfbook())
            .args(["serve", "--listen", "127.0.0.1:0", "--data"])
            .arg(dir.path())
            .stdout(Stdio::piped())
            .spawn()
            .expect("it starts");
        let mut line = String::new();
        BufReader::new(child.stdout.take().expect("out"))
            .read_line(&mut line)
            .expect("an address");
        assert!(!line.contains("key="), "no key is printed: {line}");
        let whole = std::fs::read_to_string(dir.path().join("hub-address")).expect("kept");
        let (address, _) = whole
            .trim()
            .split_once("/?key=")
            .expect("an address with its key");
        let agent: ureq::Agent = ureq::Agent::config_builder()
            .http_status_as_error(false)
            .build()
            .into();
        // The kept address gives the cookie that all else needs.
        let entered = agent.get(whole.trim()).call().expect("served");
        assert!(entered.status().is_success(), "{}", entered.status());
        Hub {
            _dir: dir,
            child,
            address: address.to_owned(),
            agent,
        }
    }

    fn post(&self, path: &str, kind: &str, body: &[u8]) -> Result<Value, Value> {
        let mut answer = self
            .agent
            .post(format!("{}{path}", self.address))
            .header("content-type", kind)
            .send(body)
            .expect("served");
        let status = answer.status().as_u16();
        let value: Value =
            serde_json::from_str(&answer.body_mut().read_to_string().expect("text")).expect("json");
        match status {
            200 => Ok(value),
            422 => Err(value),
            other => panic!("{path} answered {other}: {value}"),
        }
    }
}

impl Carrier for Hub {
    fn call(&mut self, command: &Value) -> Result<Value, Value> {
        self.post("/call", "application/json", command.to_string().as_bytes())
    }

    fn put_photo(&mut self, bytes: &[u8]) -> Result<String, Value> {
        let kept = self.post("/photo", "image/jpeg", bytes)?;
        Ok(kept["photo"].as_str().expect("a name").to_owned())
    }
}

impl Drop for Hub {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
