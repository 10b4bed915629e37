//! The command line: one file a subcommand, and what they share.

mod backup;
mod bytes;
mod call;
mod card;
mod census;
mod display;
mod export;
mod in_order;
mod jobs;
mod key;
mod lessons;
mod lines;
mod not_whole;
mod out;
mod photo;
mod report;
mod serve;
mod verifier;
mod verify;

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::{Args, Parser, Subcommand};
use swarfbook_app::App;
use swarfbook_app::problem::Problem;

/// From the oil pan to a report that can be followed back.
#[derive(Parser)]
#[command(name = "swarfbook", version, arg_required_else_help = true)]
struct Cli {
    #[command(subcommand)]
    verb: Verb,
}

#[derive(Subcommand)]
enum Verb {
    /// Serve the screens, the door and sync from a data folder.
    Serve(serve::Serve),
    /// Change the key that opens the hub's screens.
    Key(key::Key),
    /// Read photos and tell what debris they show.
    Census(census::CensusOf),
    /// Read the number on a meter's display in photos; its unit is not read.
    Display(display::DisplayOf),
    /// Commands in, one JSON a line; replies out, one a line.
    Call(call::Call),
    /// List the jobs, one a line, the id first.
    Jobs(jobs::Jobs),
    /// Keep a photo and print its name, for a line that takes it.
    Photo(photo::Photo),
    /// Write everything to one file.
    Export(export::Export),
    /// Take in what an export holds and the folder lacks.
    Import(export::Import),
    /// Write a backup to a folder, also while the hub is running.
    Backup(backup::Backup),
    /// Make a new folder of data out of a backup.
    Restore(backup::Restore),
    /// What technicians confirmed and corrected, to learn from.
    Lessons(lessons::Lessons),
    /// Write the report of a job.
    Report(report::Report),
    /// Check that a signed report is whole and genuine.
    Verify(verify::Verify),
    /// Write the page that checks a report in a browser, offline.
    Verifier(verifier::Verifier),
    /// Write the gauge card, to print.
    Card(card::Card),
}

/// Where the data lie.
#[derive(Args)]
struct Data {
    /// The folder of the data; made when it is not there.
    #[arg(long = "data", value_name = "DIR")]
    dir: PathBuf,
}

impl Data {
    fn open(&self) -> Result<App, Failure> {
        let app = App::open(&self.dir)?;
        say_read_only(&app);
        Ok(app)
    }
}

/// Nothing is written into a folder of data, nor over a file of it. Asked before that of the
/// command is opened, and so before it is made.
fn refuse_inside(out: &Path, data: Option<&Data>) -> Result<(), Failure> {
    let data = data.map(|data| data.dir.as_path());
    swarfbook_store::refuse_inside(out, data).map_err(|why| Problem::from(why).into())
}

/// A store that can only be read is used as far as it goes, and said to be one.
fn say_read_only(app: &App) {
    if let Some(problem) = app.read_only() {
        let _ = writeln!(out::err(), "{problem}");
    }
}

/// Why a subcommand ended early, in words, and the exit code that says so.
struct Failure {
    words: String,
    code: u8,
}

impl Failure {
    fn new(words: impl Into<String>) -> Failure {
        Failure {
            words: words.into(),
            code: 1,
        }
    }

    /// A file that can't be read or written.
    fn file(path: &Path, error: &std::io::Error) -> Failure {
        Failure::new(format!("{}: {error}.", path.display()))
    }
}

impl From<Problem> for Failure {
    fn from(problem: Problem) -> Failure {
        Failure::new(problem.to_string())
    }
}

/// Standard output that is gone (a closed pipe) ends the work.
impl From<std::io::Error> for Failure {
    fn from(error: std::io::Error) -> Failure {
        Failure::new(format!("The output can't be written: {error}."))
    }
}

/// Reads the arguments, does it, and says what went wrong on standard error.
pub fn run() -> ExitCode {
    let done = match Cli::parse().verb {
        Verb::Serve(verb) => verb.run(),
        Verb::Key(verb) => verb.run(),
        Verb::Census(verb) => verb.run(),
        Verb::Display(verb) => verb.run(),
        Verb::Call(verb) => verb.run(),
        Verb::Jobs(verb) => verb.run(),
        Verb::Photo(verb) => verb.run(),
        Verb::Export(verb) => verb.run(),
        Verb::Import(verb) => verb.run(),
        Verb::Backup(verb) => verb.run(),
        Verb::Restore(verb) => verb.run(),
        Verb::Lessons(verb) => verb.run(),
        Verb::Report(verb) => verb.run(),
        Verb::Verify(verb) => verb.run(),
        Verb::Verifier(verb) => verb.run(),
        Verb::Card(verb) => verb.run(),
    };
    match done {
        Ok(code) => code,
        Err(failure) => {
            // Nothing is left to say it to when this fails.
            let _ = writeln!(out::err(), "{}", failure.words);
            ExitCode::from(failure.code)
        }
    }
}
