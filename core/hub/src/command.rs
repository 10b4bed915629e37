//! A command as text, read alike whoever carries it.

use swarfbook_app::command::Command;
use swarfbook_app::problem::{Problem, ProblemKind};
use swarfbook_words::{say, term};

/// Why text is no command.
pub(crate) struct NoCommand {
    /// It is not even JSON.
    pub(crate) not_json: bool,
    /// The same in words.
    pub(crate) problem: Problem,
}

pub(crate) fn read(text: &[u8]) -> Result<Command, NoCommand> {
    serde_json::from_slice(text).map_err(|error| NoCommand {
        not_json: !error.is_data(),
        problem: Problem::new(
            ProblemKind::BadRequest,
            say!("this-command-cant-be-understood-error", error = error),
            term!("send-one-command-as-the-doors-types-describe"),
        ),
    })
}
