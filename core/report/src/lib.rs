//! State to condition report.
//!
//! - [`card`]: the gauge card that photos are measured with, to print.
//! - [`content`]: all that the report says, already judged, in its canonical form.
//! - [`answer`]: the two sentences at the top, and the advice in full.
//! - [`words`]: the fixed texts of the report, in its language.
//! - [`plot`]: the pictures: pan gauge, sizes, readings, outlines (SVG).
//! - [`reply`]: the page on which the customer answers.
//! - [`html`]: the content set out as one self-contained file.
//! - [`pdf`]: the same page set for paper.
//! - [`seal`]: the signature over both.
//!
//! ```text
//! JobState --(core/app)--> Content + Photos --render--> one HTML file
//! ```
//!
//! Pure: no I/O, no clock; the same content and photos give the same bytes.

pub mod answer;
pub mod card;
pub mod content;
mod error;
pub mod html;
pub mod pdf;
pub mod plot;
pub mod reply;
pub mod seal;
mod ties;
pub mod words;

pub use content::{Content, Photos};
pub use error::ReportError;
pub use html::{render, zone};
pub use pdf::{Paper, render_pdf};
