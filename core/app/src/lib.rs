//! The one door: `App::call(Command) -> Result<Reply, Problem>`.

pub mod command;
pub mod problem;
pub mod reply;
pub mod settings;
pub mod view;
