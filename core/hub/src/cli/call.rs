//! `swarfbook call`: the door over standard input and output.

use std::io::{BufRead, Write};
use std::process::ExitCode;

use clap::Args;
use serde::Serialize;
use swarfbook_app::App;
use swarfbook_app::problem::Problem;
use swarfbook_app::reply::Reply;

use super::{Data, Failure};
use crate::command;

#[derive(Args)]
pub(super) struct Call {
    #[command(flatten)]
    data: Data,
}

#[derive(Serialize)]
#[serde(untagged)]
enum Line {
    Reply(Box<Reply>),
    Problem { problem: Problem },
}

impl Call {
    pub(super) fn run(self) -> Result<ExitCode, Failure> {
        let app = self.data.open()?;
        let mut out = super::out::out();
        for line in std::io::stdin().lock().lines() {
            let line =
                line.map_err(|error| Failure::new(format!("The input can't be read: {error}.")))?;
            if line.trim().is_empty() {
                continue;
            }
            let answer = match answer(&app, &line) {
                Ok(reply) => Line::Reply(Box::new(reply)),
                Err(problem) => Line::Problem { problem },
            };
            serde_json::to_writer(&mut out, &answer).map_err(std::io::Error::from)?;
            // One whole line at once: whoever reads it may rely on what it says.
            out.write_all(b"\n")?;
            out.flush()?;
        }
        Ok(ExitCode::SUCCESS)
    }
}

fn answer(app: &App, line: &str) -> Result<Reply, Problem> {
    app.call(command::read(line.as_bytes()).map_err(|no| no.problem)?)
}
