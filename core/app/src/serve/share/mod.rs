//! The customer's side: a link that opens the report, and their answers to it.

mod answer;
mod link;
mod open;

pub(super) use answer::answer;
pub(super) use link::{LinkAsked, share};
pub(crate) use open::language;
pub(super) use open::{LinkUsed, page, read};
