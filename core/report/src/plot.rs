//! The report's pictures, as SVG without scripts: the same in the app, in HTML
//! and on paper.
//!
//! Ink is `currentColor`, ground is `var(--paper, #fff)`; nothing is said by
//! colour. Each is `role="img"` with a title and a description that says in
//! words what it shows. `id` must differ between pictures of one page.

mod close_up;
mod gauge;
mod histogram;
mod mark;
mod outlines;
mod reading_plot;
mod svg;
mod trend;

pub use close_up::close_up;
pub use gauge::Gauge;
pub(crate) use gauge::{band_name, shape};
pub use histogram::histogram;
pub use mark::line_sample;
pub(crate) use outlines::letters_of;
pub use outlines::outlines;
pub use reading_plot::reading_plot;
pub(crate) use svg::escape;
pub use trend::trend_plot;
