//! The `swarfbook` command.

use std::process::ExitCode;

fn main() -> ExitCode {
    swarfbook_hub::cli::run()
}
