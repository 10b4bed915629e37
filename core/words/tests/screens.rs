//! The TypeScript of the screens' messages is made from the English ones, and is current.
//! Anew by `make types`.
#![allow(clippy::unwrap_used)] // helpers are not #[test] functions

mod common;

use std::fmt::Write;
use std::fs;

use common::{messages, root};

const TARGET: &str = "ui/src/words/messages.ts";

fn made() -> String {
    let mut out = String::from(
        "/** Every message of the screens with its values: made from core/words/en by `make types`. */\n\
         export type Value = string | number;\n\nexport interface Messages {\n",
    );
    for message in messages("en") {
        if message.file != "screens.ftl" {
            continue;
        }
        let id = match message.id.contains('-') {
            true => format!("'{}'", message.id),
            false => message.id,
        };
        if message.values.is_empty() {
            writeln!(out, "  {id}: null;").unwrap();
        } else {
            let values: Vec<String> = message
                .values
                .iter()
                .map(|name| format!("{name}: Value"))
                .collect();
            writeln!(out, "  {id}: {{ {} }};", values.join("; ")).unwrap();
        }
    }
    out + "}\n"
}

#[test]
fn the_screens_know_every_message() {
    let target = root().join(TARGET);
    if std::env::var_os("UPDATE").is_some() {
        fs::write(&target, made()).unwrap();
    }
    let kept = fs::read_to_string(&target).unwrap_or_default();
    assert!(kept == made(), "{TARGET} is not current: make types");
    assert!(kept.lines().count() > 800);
}
