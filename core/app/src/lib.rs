//! The one door: `App::call(Command) -> Result<Reply, Problem>`.
//!
//! - [`command`], [`reply`], [`problem`], [`view`]: the wire types, nowhere else.
//! - `serve`: what each command does, a file a verb.
//! - `check`: whether a line can be true, asked before it is written.
//! - `state`: a job read from the log, folded and judged once, and kept.
//! - `present`: from the state to what screens show.

mod caller;
mod check;
pub mod clock;
pub mod command;
#[cfg(feature = "demo")]
pub mod demo;
mod door;
mod present;
pub mod problem;
pub mod proof;
pub mod qr;
pub mod reply;
mod report;
mod serve;
pub mod settings;
mod state;
pub mod view;
mod wording;

pub use caller::Profile;
pub use report::card;
pub use serve::lessons::Lessons;
pub use state::App;
pub use swarfbook_sync::{Fingerprint, PairLink};
pub use swarfbook_words::Language;
