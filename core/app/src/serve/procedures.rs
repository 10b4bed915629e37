//! The procedures at hand: the one that ships and the shop's own.

use swarfbook_job::procedure::Procedure;
use swarfbook_store::ProcedureText;
use swarfbook_words::say;

use crate::problem::Problem;
use crate::reply::Reply;
use crate::state::App;
use crate::state::procedures::{built_in, parse};
use crate::view::ProcedureView;

/// The most that a procedure's file may weigh.
const MAX_PROCEDURE_BYTES: usize = 512 * 1024;

pub(super) fn list(app: &App) -> Result<Reply, Problem> {
    let store = app.store();
    let built_in = built_in()?;
    let mut procedures = vec![view(&built_in, true)];
    for text in store.procedures()? {
        procedures.push(view(&parse(&text.text)?, false));
    }
    Ok(Reply::Procedures { procedures })
}

pub(super) fn add(app: &App, text: &str) -> Result<Reply, Problem> {
    if text.len() > MAX_PROCEDURE_BYTES {
        return Err(Problem::bad_input(
            say!("this-file-is-too-large-for-a-procedure"),
            say!("a-procedure-is-a-text-file-of-at"),
        ));
    }
    let procedure = parse(text)?;
    app.store().together(|store| {
        let known = built_in()?;
        let same = store
            .procedures()?
            .into_iter()
            .find(|p| p.id == procedure.id && p.version == procedure.version);
        if known.id == procedure.id || same.is_some_and(|p| p.text != text) {
            return Err(Problem::bad_input(
                say!(
                    "there-is-already-another-procedure-procedure-of",
                    procedure = procedure.id,
                    version = procedure.version
                ),
                say!("give-yours-an-id-of-its-own-or"),
            ));
        }
        Ok(store.add_procedure(&ProcedureText {
            id: procedure.id,
            version: procedure.version,
            text: text.to_owned(),
        })?)
    })?;
    list(app)
}

fn view(procedure: &Procedure, built_in: bool) -> ProcedureView {
    ProcedureView {
        id: procedure.id.clone(),
        version: procedure.version,
        title: procedure.title.clone(),
        built_in,
        steps: u32::try_from(procedure.steps().count()).unwrap_or(u32::MAX),
    }
}
