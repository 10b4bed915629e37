//! The command line: `swarfbook call`, and `swarfbook photo` beside it.

use std::io::{BufRead, BufReader, Write};
use std::path::PathBuf;
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};

use serde_json::Value;

use crate::Carrier;

/// The program, built beside the tests.
pub fn swarfbook() -> PathBuf {
    let test = std::env::current_exe().expect("this program");
    let folder = test
        .parent()
        .and_then(|deps| deps.parent())
        .expect("a target folder");
    let program = folder.join(format!("swarfbook{}", std::env::consts::EXE_SUFFIX));
    assert!(
        program.exists(),
        "build it first: cargo build -p swarfbook-hub"
    );
    program
}

/// A running `swarfbook call`.
pub struct Pipe {
    dir: tempfile::TempDir,
    child: Child,
    to: ChildStdin,
    from: BufReader<ChildStdout>,
}

impl Pipe {
    pub fn open() -> Pipe {
        let dir = tempfile::tempdir().expect("folder");
        let mut child = Command::new(swarfbook())
            .args(["call", "--data"])
            .arg(dir.path())
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .expect("it starts");
        let to = child.stdin.take().expect("in");
        let from = BufReader::new(child.stdout.take().expect("out"));
        Pipe {
            dir,
            child,
            to,
            from,
        }
    }
}

impl Carrier for Pipe {
    fn call(&mut self, command: &Value) -> Result<Value, Value> {
        writeln!(self.to, "{command}").expect("written");
        self.to.flush().expect("sent");
        let mut line = String::new();
        self.from.read_line(&mut line).expect("answered");
        let answer: Value = serde_json::from_str(&line).expect("json");
        match answer.get("problem") {
            Some(problem) => Err(problem.clone()),
            None => Ok(answer),
        }
    }

    fn put_photo(&mut self, bytes: &[u8]) -> Result<String, Value> {
        let file = self.dir.path().join("in.jpg");
        std::fs::write(&file, bytes).expect("written");
        let out = Command::new(swarfbook())
            .arg("photo")
            .arg(&file)
            .arg("--data")
            .arg(self.dir.path())
            .output()
            .expect("it runs");
        if out.status.success() {
            Ok(String::from_utf8(out.stdout)
                .expect("text")
                .trim()
                .to_owned())
        } else {
            // For people, in one line: what happened and what to do.
            Err(Value::from(
                String::from_utf8(out.stderr)
                    .expect("text")
                    .trim()
                    .to_owned(),
            ))
        }
    }
}

impl Drop for Pipe {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
