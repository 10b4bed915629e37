//! One script of commands over all three carriers: the shell's IPC, the hub's
//! HTTP and the command line. Each must answer alike, good input or bad.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

mod command_line;
mod http;
mod ipc;
mod plain;
mod script;

use serde_json::Value;

/// What carries commands to a door of its own, on an empty store.
trait Carrier {
    /// A command in; a reply, or a problem.
    fn call(&mut self, command: &Value) -> Result<Value, Value>;
    /// A photo's bytes in; its name, or a problem.
    fn put_photo(&mut self, bytes: &[u8]) -> Result<String, Value>;
}

/// What a carrier answered, a line a step, with all that differs by nature
/// (ids, times) made plain.
fn transcript(carrier: &mut dyn Carrier) -> Vec<(String, Value)> {
    let mut names = plain::Names::default();
    script::run(carrier)
        .into_iter()
        .map(|(step, answer)| (step, names.plain(answer)))
        .collect()
}

#[test]
fn the_three_carriers_answer_alike() {
    let ipc = transcript(&mut ipc::Shell::open());
    assert!(ipc.len() > 20, "the script is a job of some length");
    let http = transcript(&mut http::Hub::open());
    let command_line = transcript(&mut command_line::Pipe::open());
    for (index, (step, answer)) in ipc.iter().enumerate() {
        assert_eq!(&http[index].1, answer, "over HTTP at \"{step}\"");
        assert_eq!(
            &command_line[index].1, answer,
            "on the command line at \"{step}\""
        );
    }
    assert_eq!((http.len(), command_line.len()), (ipc.len(), ipc.len()));
    // The script would prove nothing if everything were refused.
    let refused = ipc
        .iter()
        .filter(|(_, answer)| answer.get("problem").is_some())
        .count();
    assert!(
        (4..ipc.len() / 2).contains(&refused),
        "{refused} of {} refused",
        ipc.len()
    );
}
