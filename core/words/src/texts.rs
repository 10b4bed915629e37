//! The messages of a language, read once.

use std::collections::HashMap;
use std::sync::OnceLock;

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource};

use crate::Language;
use crate::message::{self, MESSAGES};

pub(crate) struct Texts {
    bundle: FluentBundle<FluentResource>,
    /// Those that are given nothing, as they are said.
    plain: HashMap<&'static str, String>,
}

/// The files of a language.
pub(crate) fn files(language: Language) -> &'static [&'static str] {
    match language {
        Language::En => message::EN,
        Language::De => message::DE,
        Language::Es => message::ES,
    }
}

pub(crate) fn texts(language: Language) -> &'static Texts {
    static READ: [OnceLock<Texts>; Language::ALL.len()] =
        [const { OnceLock::new() }; Language::ALL.len()];
    READ[language as usize].get_or_init(|| Texts::read(language))
}

impl Texts {
    fn read(language: Language) -> Texts {
        // A tag of ours can be read, and so can its files, which the build has read.
        let tag = language.tag().parse().unwrap_or_default();
        let mut bundle = FluentBundle::new_concurrent(vec![tag]);
        // Marks of direction around each value would stand in files and in what is compared.
        bundle.set_use_isolating(false);
        for file in files(language) {
            let read = FluentResource::try_new((*file).to_owned());
            let read = read.unwrap_or_else(|(whole, _)| whole);
            // The build has refused an id that stands there twice.
            let _ = bundle.add_resource(read);
        }
        let mut texts = Texts {
            bundle,
            plain: HashMap::new(),
        };
        let plain = MESSAGES.iter().filter(|row| row.values.is_empty());
        texts.plain = plain
            .map(|row| (row.id, texts.told(row.id, None)))
            .collect();
        texts
    }

    /// A message that is given nothing.
    pub(crate) fn plain(&self, id: &str) -> Option<&str> {
        self.plain.get(id).map(String::as_str)
    }

    /// Those that are given nothing, with their ids.
    pub(crate) fn all_plain(&self) -> impl Iterator<Item = (&'static str, &str)> {
        self.plain.iter().map(|(id, text)| (*id, text.as_str()))
    }

    /// A message with its values. One that is not there is its id, so that a slip shows
    /// instead of a gap.
    pub(crate) fn told(&self, id: &str, values: Option<&FluentArgs<'_>>) -> String {
        let message = self.bundle.get_message(id);
        let Some(pattern) = message.and_then(|message| message.value()) else {
            debug_assert!(false, "there is no message {id}");
            return id.to_owned();
        };
        let mut faults = Vec::new();
        let told = self.bundle.format_pattern(pattern, values, &mut faults);
        debug_assert!(faults.is_empty(), "{id}: {faults:?}");
        told.into_owned()
    }
}

/// Every sentence of a language that is given nothing, with its id.
pub fn sentences(language: Language) -> impl Iterator<Item = (&'static str, &'static str)> {
    texts(language).all_plain()
}
