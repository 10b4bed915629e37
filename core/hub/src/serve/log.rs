//! What the hub writes down of its own work, where that is asked for: a line of JSON an event,
//! on standard error. Kinds, numbers and times; no address, no path, nothing of the book.

use std::io::Write;

use chrono::{Local, SecondsFormat};
use serde_json::{Value, json};

/// Whether it is asked for.
#[derive(Debug, Clone, Copy, Default)]
pub struct Log(pub bool);

impl Log {
    pub(crate) fn write(self, event: &str, more: Value) {
        if !self.0 {
            return;
        }
        let mut line = json!({
            "at": Local::now().to_rfc3339_opts(SecondsFormat::Millis, false),
            "event": event,
        });
        if let (Some(line), Value::Object(more)) = (line.as_object_mut(), more) {
            line.extend(more);
        }
        // Nobody is left to tell when this fails. One write, so that lines stay whole.
        let _ = std::io::stderr().write_all(format!("{line}\n").as_bytes());
    }
}
