//! The messages as they stand in their files.
#![allow(dead_code, clippy::unwrap_used, clippy::panic)] // each test uses what it needs of this

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use fluent_syntax::ast::{Entry, Expression, InlineExpression, Pattern, PatternElement};
use fluent_syntax::parser;

pub struct Message {
    pub file: String,
    pub id: String,
    pub values: BTreeSet<String>,
    /// Its texts: one, or one for each choice, with `{$name}` at the places.
    pub texts: Vec<String>,
}

pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// Every message of a language, in the order of the files and within them.
pub fn messages(language: &str) -> Vec<Message> {
    let folder = root().join("core/words").join(language);
    let mut files: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    files.sort();
    let mut all = Vec::new();
    for path in files {
        let file = path.file_name().unwrap().to_str().unwrap().to_owned();
        let text = fs::read_to_string(&path).unwrap();
        for entry in parser::parse(text.as_str()).unwrap().body {
            let Entry::Message(message) = entry else {
                continue;
            };
            let value = message.value.unwrap();
            let mut values = BTreeSet::new();
            let texts = texts(&value, &mut values);
            all.push(Message {
                file: file.clone(),
                id: message.id.name.to_owned(),
                values,
                texts,
            });
        }
    }
    all
}

fn texts(pattern: &Pattern<&str>, values: &mut BTreeSet<String>) -> Vec<String> {
    let mut told = vec![String::new()];
    for element in &pattern.elements {
        let pieces = match element {
            PatternElement::TextElement { value } => vec![(*value).to_owned()],
            PatternElement::Placeable {
                expression: Expression::Inline(one),
            } => match one {
                InlineExpression::VariableReference { id } => {
                    values.insert(id.name.to_owned());
                    vec![format!("{{${}}}", id.name)]
                }
                InlineExpression::StringLiteral { value } => vec![(*value).to_owned()],
                other => panic!("{other:?}"),
            },
            PatternElement::Placeable {
                expression: Expression::Select { selector, variants },
            } => {
                if let InlineExpression::VariableReference { id } = selector {
                    values.insert(id.name.to_owned());
                }
                let variants = variants.iter();
                variants.flat_map(|one| texts(&one.value, values)).collect()
            }
        };
        told = told
            .iter()
            .flat_map(|before| pieces.iter().map(move |piece| format!("{before}{piece}")))
            .collect();
    }
    told
}

/// A text without what is put in.
pub fn without_places(text: &str) -> String {
    let mut parts = text.split("{$");
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |told, part| {
        told + part.split_once('}').map_or("", |(_, rest)| rest)
    })
}
