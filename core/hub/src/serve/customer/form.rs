//! The fields that a browser sends (`application/x-www-form-urlencoded`).

use std::collections::HashMap;

use swarfbook_app::command::{Command, ItemAnswer};
use swarfbook_job::fact::AnswerChoice;

/// The most that a form may weigh, in bytes: several of the longest answers, each letter
/// written as up to 12 bytes.
pub(super) const MAX_BYTES: usize = 1024 * 1024;

/// The most fields: two for each thing that is asked, and a few.
const MAX_FIELDS: usize = 512;

/// A form, each field once: of two with one name the first counts.
pub struct Form(HashMap<String, String>);

/// A form of more than [`MAX_FIELDS`] fields.
#[derive(Debug)]
pub struct TooMany;

impl Form {
    /// Reads what was sent.
    ///
    /// # Errors
    /// [`TooMany`].
    pub fn read(body: &[u8]) -> Result<Form, TooMany> {
        // Counted before a field is kept.
        if body.iter().filter(|byte| **byte == b'&').count() >= MAX_FIELDS {
            return Err(TooMany);
        }
        let mut fields = HashMap::new();
        for (name, value) in form_urlencoded::parse(body) {
            fields
                .entry(name.into_owned())
                .or_insert_with(|| value.into_owned());
        }
        Ok(Form(fields))
    }

    /// The link's code; empty without.
    pub(super) fn code(&self) -> &str {
        self.get("code")
    }

    fn has(&self, name: &str) -> bool {
        self.0.contains_key(name)
    }

    fn get(&self, name: &str) -> &str {
        self.0.get(name).map_or("", String::as_str)
    }

    /// `choice-N` and `text-N` by item.
    fn answers(&self) -> Vec<ItemAnswer> {
        let mut items: Vec<ItemAnswer> = self
            .0
            .iter()
            .filter_map(|(name, text)| {
                let item: u32 = name.strip_prefix("text-")?.parse().ok()?;
                let choice = match self.get(&format!("choice-{item}")) {
                    "agree" => Some(AnswerChoice::Agree),
                    "decline" => Some(AnswerChoice::Decline),
                    "ask" => Some(AnswerChoice::Ask),
                    _ => None,
                };
                Some(ItemAnswer {
                    item,
                    choice,
                    text: text.clone(),
                })
            })
            .collect();
        items.sort_by_key(|answer| answer.item);
        items
    }

    /// What is wanted of the link.
    pub(super) fn command(&self, secret: String) -> Command {
        let code = self.code().to_owned();
        let newest = self.has("newest");
        if self.has("read") {
            return Command::ReadShared {
                secret,
                code,
                newest,
            };
        }
        if !self.has("name") {
            return Command::OpenShared {
                secret,
                code,
                newest,
            };
        }
        Command::AnswerShared {
            secret,
            code,
            newest,
            name: self.get("name").to_owned(),
            answers: self.answers(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_form_is_read_and_the_first_of_two_fields_of_one_name_counts() {
        let body = b"code=12&choice-1=agree&text-1=why+not%3F&text-0=&name=Ada&name=Eve";
        let Ok(Command::AnswerShared {
            code,
            name,
            answers,
            ..
        }) = Form::read(body).map(|form| form.command("s".into()))
        else {
            panic!("an answer")
        };
        assert_eq!((code.as_str(), name.as_str()), ("12", "Ada"));
        let said: Vec<_> = answers
            .iter()
            .map(|a| (a.item, a.choice, a.text.as_str()))
            .collect();
        assert_eq!(
            said,
            [(0, None, ""), (1, Some(AnswerChoice::Agree), "why not?")]
        );
    }

    #[test]
    fn fields_are_counted() {
        let fields = |n: usize| vec!["text-1="; n].join("&");
        assert!(Form::read(fields(MAX_FIELDS).as_bytes()).is_ok());
        assert!(Form::read(fields(MAX_FIELDS + 1).as_bytes()).is_err());
    }
}
