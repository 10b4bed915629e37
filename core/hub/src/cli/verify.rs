//! `swarfbook verify`: whether a report is whole and genuine.
//!
//! It ends with 0 only where its last line says "Genuine and known": every part is as it
//! was signed, by a key that the asker named or that the data's own shop has. A whole file
//! by a key that nobody vouched for ends with [`NOT_KNOWN`], everything else with 1.

use std::io::Write;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::Args;
use swarfbook_app::App;
use swarfbook_app::proof::{self, ReportStanding, Statement};

use super::Failure;

#[derive(Args)]
pub(super) struct Verify {
    /// The report, HTML or PDF.
    file: PathBuf,
    /// Hold it against the log and the keys of this folder too.
    #[arg(long, value_name = "DIR")]
    data: Option<PathBuf>,
    /// The short digits of the shop's key, as the shop told them.
    #[arg(long, value_name = "DIGITS")]
    key: Option<String>,
}

impl Verify {
    pub(super) fn run(self) -> Result<ExitCode, Failure> {
        let bytes = std::fs::read(&self.file).map_err(|error| Failure::file(&self.file, &error))?;
        let statement = proof::check(&bytes).map_err(|faults| {
            let lines: Vec<String> = faults.iter().map(ToString::to_string).collect();
            Failure::new(lines.join("\n"))
        })?;
        let short = proof::fingerprint(&statement.key).unwrap_or_default();
        if let Some(told) = &self.key
            && digits(told) != digits(&short)
        {
            return Err(Failure::new(format!(
                "The file is whole, but it was signed with another key: {short}."
            )));
        }
        tell(&statement, &short)?;
        if let Some(folder) = &self.data {
            held_against(&App::open(folder)?, &bytes, &statement)?;
        } else if self.key.is_none() {
            return Err(Failure {
                words: "Whole, but whose key it is is not known here. Ask the shop for its digits \
                        and give them with --key, or name the shop's own data with --data."
                    .to_owned(),
                code: NOT_KNOWN,
            });
        }
        writeln!(super::out::out(), "Genuine and known: {short}")?;
        Ok(ExitCode::SUCCESS)
    }
}

/// The exit code for a file that is whole, by a key that is not known here.
const NOT_KNOWN: u8 = 2;

fn digits(text: &str) -> String {
    text.chars()
        .filter(char::is_ascii_hexdigit)
        .map(|digit| digit.to_ascii_lowercase())
        .collect()
}

fn tell(statement: &Statement, short: &str) -> Result<(), Failure> {
    let mut out = super::out::out();
    writeln!(out, "Whole: every part is as it was signed.")?;
    // One line a fact, whatever a shop's name holds.
    writeln!(
        out,
        "Shop:  {}",
        statement.shop.replace(char::is_control, " ")
    )?;
    writeln!(out, "Made:  {}", statement.made.at.to_rfc3339())?;
    writeln!(out, "Job:   {}", statement.made.job)?;
    for (device, head) in &statement.made.heads {
        writeln!(
            out,
            "Log:   device {device}, line {}, hash {}",
            head.seq, head.hash
        )?;
    }
    writeln!(out, "Key:   {short}  (ask the shop whether it is theirs)")?;
    Ok(())
}

fn held_against(app: &App, file: &[u8], statement: &Statement) -> Result<(), Failure> {
    let known = app.knows(file, statement)?;
    let (mut here, mut wrong) = (Vec::new(), Vec::new());
    match &known.signer {
        Some(name) => here.push(format!("signed by {}", name.replace(char::is_control, " "))),
        None => {
            wrong.push("No device of this shop has the key that it was signed with.".to_owned())
        }
    }
    for (device, seq) in &known.other {
        wrong.push(format!(
            "Line {seq} of device {device} is another one in this log."
        ));
    }
    for (device, seq) in &known.absent {
        wrong.push(format!("Line {seq} of device {device} is not in this log."));
    }
    match &known.standing {
        None => wrong.push("No line of this log says that this very file was made.".to_owned()),
        Some(ReportStanding::Stands) => here.push("it stands".to_owned()),
        Some(ReportStanding::Superseded { at }) => {
            here.push(format!("superseded by a report that was made {at}"));
        }
        Some(ReportStanding::Withdrawn { at, reason }) => wrong.push(format!(
            "The shop withdrew this report {at}. Its reason: {}",
            reason.replace(char::is_control, " ")
        )),
    }
    if wrong.is_empty() {
        here.push("the lines that it was made from are in this log".to_owned());
    }
    let mut out = super::out::out();
    for said in here {
        writeln!(out, "Here:  {said}")?;
    }
    if wrong.is_empty() {
        Ok(())
    } else {
        Err(Failure::new(wrong.join("\n")))
    }
}
