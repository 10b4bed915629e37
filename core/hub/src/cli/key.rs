//! `swarfbook key new`: another key for the hub, which ends all sessions.

use std::io::{ErrorKind, IsTerminal, Write};
use std::process::ExitCode;

use clap::{Args, Subcommand};

use super::serve::ADDRESS_FILE;
use super::{Data, Failure};

#[derive(Args)]
pub(super) struct Key {
    #[command(subcommand)]
    what: What,
}

#[derive(Subcommand)]
enum What {
    /// Change the key of the hub's address; every browser must open the new one.
    New {
        #[command(flatten)]
        data: Data,
    },
}

impl Key {
    pub(super) fn run(self) -> Result<ExitCode, Failure> {
        let What::New { data } = self.what;
        let key = crate::serve::Key::renew(&data.open()?)?;
        let mut said =
            "The hub's key is changed, at a hub that runs too. No browser is let in any more.\n"
                .to_owned();
        if std::io::stdout().is_terminal() {
            said += &format!(
                "Open the hub's address with this behind it:\n/?key={}\n",
                key.as_str()
            );
        }
        // A hub that was started without a terminal keeps its address there.
        let file = data.dir.join(ADDRESS_FILE);
        let failed = |error| Failure::file(&file, &error);
        match std::fs::read_to_string(&file) {
            Ok(kept) => {
                let address = kept.split("?key=").next().unwrap_or_default();
                swarfbook_store::private_file(&file)
                    .and_then(|mut to| writeln!(to, "{address}?key={}", key.as_str()))
                    .map_err(failed)?;
                said += &format!("The address with its key is in {}\n", file.display());
            }
            Err(error) if error.kind() == ErrorKind::NotFound => {
                said += "The hub writes its address with the new key when it starts.\n";
            }
            Err(error) => return Err(failed(error)),
        }
        super::out::out().write_all(said.as_bytes())?;
        Ok(ExitCode::SUCCESS)
    }
}
