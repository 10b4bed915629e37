//! The procedures at hand: the one that ships and the shop's own.

use std::sync::LazyLock;

use swarfbook_job::procedure::{BUILT_IN, BUILT_IN_EARLIER, Procedure, ProcedureError, load};
use swarfbook_store::Store;
use swarfbook_words::say;

use crate::problem::{Problem, ProblemKind};

/// The newest version of the procedure of that id; the built-in one without.
pub(crate) fn newest(store: &Store, id: Option<&str>) -> Result<Procedure, Problem> {
    let built_in = built_in()?;
    let Some(id) = id.filter(|id| *id != built_in.id) else {
        return Ok(built_in);
    };
    match store.procedures()?.iter().rev().find(|p| p.id == id) {
        Some(text) => parse(&text.text),
        None => Err(Problem::not_found(say!(
            "there-is-no-procedure-id-on-this-device",
            id = id
        ))),
    }
}

/// The procedure that a job began with, in the version that it began with; the one that ships
/// where the log does not say.
pub(crate) fn of_job(
    store: &Store,
    followed: Option<&(String, u32)>,
) -> Result<Procedure, Problem> {
    let Some((id, version)) = followed else {
        return built_in();
    };
    let is = |p: &&Procedure| p.id == *id && p.version == *version;
    if let Some(shipped) = shipped()?.iter().find(is) {
        return Ok(shipped.clone());
    }
    let texts = store.procedures()?;
    let text = texts
        .iter()
        .find(|p| p.id == *id && p.version == *version)
        .ok_or_else(|| {
            Problem::new(
                ProblemKind::NotFound,
                say!(
                    "this-job-follows-the-procedure-id-version-version",
                    id = id,
                    version = version
                ),
                if built_in().is_ok_and(|known| known.id == *id) {
                    say!("a-newer-version-of-the-app-has-it")
                } else {
                    say!("add-the-file-under-procedures-or-sync-with")
                },
            )
        })?;
    parse(&text.text)
}

/// The procedure that ships, in each of its versions, the newest last. Read once: each
/// write and each look asks for it.
fn shipped() -> Result<&'static [Procedure], Problem> {
    static SHIPPED: LazyLock<Result<Vec<Procedure>, ProcedureError>> = LazyLock::new(|| {
        let texts = BUILT_IN_EARLIER.iter().chain([&BUILT_IN]);
        texts.map(|text| load(text)).collect()
    });
    SHIPPED.as_deref().map_err(|fault| unusable(fault.clone()))
}

/// The newest version of the one that ships.
pub(crate) fn built_in() -> Result<Procedure, Problem> {
    match shipped()?.last() {
        Some(newest) => Ok(newest.clone()),
        None => parse(BUILT_IN),
    }
}

/// A procedure from its text.
pub(crate) fn parse(text: &str) -> Result<Procedure, Problem> {
    load(text).map_err(unusable)
}

fn unusable(fault: ProcedureError) -> Problem {
    Problem::bad_input(
        say!(
            "this-procedure-cant-be-used-in-line-line",
            line = fault.line,
            trim_end_matches = fault.reason.trim_end_matches('.')
        ),
        say!("mend-the-file-and-add-it-again-nothing"),
    )
}
