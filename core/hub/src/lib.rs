//! The shop's server, and the `swarfbook` command.
//!
//! - [`cli`]: one file a subcommand.
//! - [`serve`]: the routes; [`serve::router`] builds them without a socket.

pub mod cli;
mod command;
pub mod serve;
