//! `swarfbook jobs`: one job a line, its id first.

use std::io::Write;
use std::process::ExitCode;

use clap::Args;
use swarfbook_app::command::Command;
use swarfbook_app::reply::Reply;

use super::{Data, Failure};

#[derive(Args)]
pub(super) struct Jobs {
    #[command(flatten)]
    data: Data,
}

const AT_ONCE: u32 = 200;

impl Jobs {
    pub(super) fn run(self) -> Result<ExitCode, Failure> {
        let app = self.data.open()?;
        let mut out = super::out::out();
        let mut skip = 0;
        loop {
            let reply = app.call(Command::Jobs {
                search: String::new(),
                skip,
                limit: AT_ONCE,
            })?;
            let Reply::Jobs { jobs, total } = reply else {
                return Err(Failure::new("The door gave another answer than jobs."));
            };
            for job in &jobs {
                let words = [&job.title, &job.subtitle, &job.stage, &job.touched]
                    .map(|text| text.replace(['\t', '\n', '\r'], " "));
                writeln!(out, "{}\t{}", job.id, words.join("\t"))?;
            }
            skip += AT_ONCE;
            if skip >= total || jobs.is_empty() {
                let lost = app.photos_lost()?.len();
                if lost > 0 {
                    writeln!(
                        super::out::err(),
                        "photos that were here before and are missing: {lost}; \
                         `swarfbook export` names them"
                    )?;
                }
                return Ok(ExitCode::SUCCESS);
            }
        }
    }
}
