//! A link as a picture that a camera reads.

use fast_qr::QRBuilder;
use fast_qr::convert::svg::SvgBuilder;
use fast_qr::convert::{Builder, Shape};

use swarfbook_words::say;

use crate::problem::{Problem, ProblemKind};

/// A QR code (ISO/IEC 18004) as SVG.
///
/// # Errors
/// A [`Problem`] when the text is too long for one.
pub fn svg(text: &str) -> Result<String, Problem> {
    let code = QRBuilder::new(text).build().map_err(|_| {
        Problem::new(
            ProblemKind::BadInput,
            say!("the-address-is-too-long-for-a-code"),
            say!("give-the-address-as-text"),
        )
    })?;
    Ok(SvgBuilder::default().shape(Shape::Square).to_str(&code))
}
