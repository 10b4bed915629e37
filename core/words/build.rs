//! Reads the messages of every language, refuses a folder that is not whole, and hands the ids
//! on, so that a sentence that is asked for wrongly does not compile.
#![allow(clippy::unwrap_used, clippy::panic)] // what is wrong here ends the build

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;
use std::fs;
use std::path::Path;

use fluent_syntax::ast::{
    Entry, Expression, InlineExpression, Pattern, PatternElement, VariantKey,
};
use fluent_syntax::parser;

/// The languages, each a folder. English is the one that the others are held against.
const FOLDERS: [&str; 3] = ["en", "de", "es"];

/// Files whose sentences only pages with a script say, so that no program holds them.
const BY_SCRIPTS: [&str; 2] = ["screens.ftl", "verifier.ftl"];

/// What a message is given.
#[derive(Default, PartialEq, Eq, Debug)]
struct Given {
    /// Every value that it shows or chooses by.
    values: BTreeSet<String>,
    /// Those that it chooses by as a number.
    numbers: BTreeSet<String>,
}

/// A message, by the file that it stands in.
struct Message {
    file: String,
    given: Given,
}

fn main() {
    let english = messages("en");
    for folder in &FOLDERS[1..] {
        compare(folder, &english);
    }
    let mut out = String::new();
    let rows = english
        .iter()
        .filter(|(_, message)| !BY_SCRIPTS.contains(&message.file.as_str()));
    writeln!(out, "pub(crate) const MESSAGES: &[Row] = &[").unwrap();
    for (id, Message { given, .. }) in rows {
        let Given { values, numbers } = given;
        let (values, numbers): (Vec<_>, Vec<_>) =
            (values.iter().collect(), numbers.iter().collect());
        writeln!(
            out,
            "Row {{ id: {id:?}, values: &{values:?}, numbers: &{numbers:?} }},"
        )
        .unwrap();
    }
    writeln!(out, "];").unwrap();
    for folder in FOLDERS {
        let name = folder.to_uppercase();
        writeln!(out, "pub(crate) const {name}: &[&str] = &[").unwrap();
        for file in files(folder) {
            if !BY_SCRIPTS.contains(&file.as_str()) {
                let path = Path::new(folder).join(&file).canonicalize().unwrap();
                writeln!(out, "include_str!({path:?}),").unwrap();
            }
        }
        writeln!(out, "];").unwrap();
    }
    let target = std::env::var("OUT_DIR").unwrap();
    fs::write(Path::new(&target).join("messages.rs"), out).unwrap();
}

/// The names of a folder's files, in order.
fn files(folder: &str) -> BTreeSet<String> {
    println!("cargo::rerun-if-changed={folder}");
    let entries = fs::read_dir(folder).unwrap_or_else(|e| panic!("core/words/{folder}: {e}"));
    let names = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap());
    names.filter(|name| name.ends_with(".ftl")).collect()
}

fn messages(folder: &str) -> BTreeMap<String, Message> {
    let mut all = BTreeMap::new();
    for file in files(folder) {
        let place = format!("core/words/{folder}/{file}");
        println!("cargo::rerun-if-changed={folder}/{file}");
        let text = fs::read_to_string(Path::new(folder).join(&file)).unwrap();
        let read = parser::parse(text.as_str()).unwrap_or_else(|(_, e)| panic!("{place}: {e:?}"));
        for entry in read.body {
            let Entry::Message(message) = entry else {
                assert!(
                    matches!(
                        entry,
                        Entry::Comment(_) | Entry::GroupComment(_) | Entry::ResourceComment(_)
                    ),
                    "{place}: only messages and comments: {entry:?}"
                );
                continue;
            };
            let id = message.id.name.to_owned();
            let mut given = Given::default();
            let value = message
                .value
                .unwrap_or_else(|| panic!("{place}: {id} says nothing"));
            assert!(
                message.attributes.is_empty(),
                "{place}: {id} has attributes, which nobody reads"
            );
            gather(&value, &mut given);
            let file = file.clone();
            let twice = all.insert(id.clone(), Message { file, given });
            assert!(twice.is_none(), "{place}: {id} stands there twice");
        }
    }
    all
}

fn gather(pattern: &Pattern<&str>, given: &mut Given) {
    for element in &pattern.elements {
        match element {
            PatternElement::TextElement { .. } => {}
            PatternElement::Placeable {
                expression: Expression::Inline(one),
            } => inline(one, given),
            PatternElement::Placeable {
                expression: Expression::Select { selector, variants },
            } => {
                inline(selector, given);
                for variant in variants {
                    gather(&variant.value, given);
                    let plural = match &variant.key {
                        VariantKey::NumberLiteral { .. } => true,
                        VariantKey::Identifier { name } => {
                            ["zero", "one", "two", "few", "many"].contains(name)
                        }
                    };
                    if let (true, InlineExpression::VariableReference { id }) = (plural, selector) {
                        given.numbers.insert(id.name.to_owned());
                    }
                }
            }
        }
    }
}

fn inline(expression: &InlineExpression<&str>, given: &mut Given) {
    match expression {
        InlineExpression::VariableReference { id } => {
            given.values.insert(id.name.to_owned());
        }
        InlineExpression::StringLiteral { .. } | InlineExpression::NumberLiteral { .. } => {}
        InlineExpression::Placeable { .. }
        | InlineExpression::FunctionReference { .. }
        | InlineExpression::MessageReference { .. }
        | InlineExpression::TermReference { .. } => {
            panic!("only values and quoted texts stand in braces: {expression:?}")
        }
    }
}

/// A language says all that English says, with the same values.
fn compare(folder: &str, english: &BTreeMap<String, Message>) {
    let others = messages(folder);
    for (id, message) in english {
        let other = others.get(id);
        let other = other.unwrap_or_else(|| panic!("core/words/{folder}: no {id}"));
        assert_eq!(
            other.file, message.file,
            "core/words/{folder}: {id} stands in another file"
        );
        assert_eq!(
            other.given.values, message.given.values,
            "core/words/{folder}: {id} shows other values than the English one"
        );
    }
    let left = others.keys().find(|id| !english.contains_key(*id));
    assert!(
        left.is_none(),
        "core/words/{folder}: no English for {left:?}"
    );
}
