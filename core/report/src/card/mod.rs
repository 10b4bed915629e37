//! The gauge card in true size: what it shows, and the sheet that it is printed on.
//!
//! Outline as ISO/IEC 7810 ID-1; origin at the top left corner of the outline,
//! x right, y down, mm. Prints last for years: another drawing needs another payload.

mod sheet;

use fast_qr::qr::QRBuilder;
use fast_qr::{ECL, Version};

use crate::ReportError;
pub use sheet::sheet;

/// Width and height, mm (ISO/IEC 7810 ID-1).
pub const SIZE_MM: [f64; 2] = [85.60, 53.98];
/// Radius of the corners, mm.
pub const CORNER_MM: f64 = 3.18;

const PAYLOAD: &str = "SWB-GC1 85.60x53.98";
/// Left, top and module of the QR code, mm.
const CODE: [f64; 3] = [5.0, 16.99, 0.8];
const RINGS: [[f64; 2]; 4] = [[5.0, 5.0], [80.6, 5.0], [80.6, 48.98], [5.0, 48.98]];
/// Radii of the black disc and the white one in it, mm.
const RING: [f64; 2] = [2.5, 1.2];
const SQUARE: f64 = 7.0;
const GREY_X: [f64; 6] = [14.0, 24.0, 34.0, 44.0, 54.0, 64.0];
const GREY_Y: f64 = 3.0;
/// Nominal sRGB values.
const GREY: [u8; 6] = [243, 200, 160, 122, 85, 52];
const COLOUR_X: f64 = 30.0;
const COLOUR_PITCH: f64 = 8.4;
const COLOUR_Y: f64 = 13.5;
const COLOURS: [[u8; 3]; 6] = [
    [176, 52, 44],
    [222, 180, 44],
    [70, 132, 72],
    [52, 92, 150],
    [122, 76, 48],
    [150, 72, 128],
];
const RULER_MM: [u32; 2] = [15, 75];
const TICK: f64 = 0.12;
const BLACK: [u8; 3] = [0; 3];
const WHITE: [u8; 3] = [255; 3];

/// A form on the card, mm and sRGB.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Form {
    /// Left, top, width, height.
    Rect([f64; 4], [u8; 3]),
    /// Centre, radius.
    Disc([f64; 2], f64, [u8; 3]),
}

/// All forms in the order of painting, on white.
///
/// # Errors
/// [`ReportError::Card`] when the code can't be made.
pub fn forms() -> Result<Vec<Form>, ReportError> {
    let mut forms = Vec::new();
    for centre in RINGS {
        forms.push(Form::Disc(centre, RING[0], BLACK));
        forms.push(Form::Disc(centre, RING[1], WHITE));
    }
    for (x, grey) in GREY_X.into_iter().zip(GREY) {
        forms.push(Form::Rect([x, GREY_Y, SQUARE, SQUARE], [grey; 3]));
    }
    for (n, colour) in (0_u8..).zip(COLOURS) {
        let x = COLOUR_X + COLOUR_PITCH * f64::from(n);
        forms.push(Form::Rect([x, COLOUR_Y, SQUARE, SQUARE], colour));
    }
    for mm in RULER_MM[0]..=RULER_MM[1] {
        let high = match mm {
            mm if mm % 10 == 0 => 4.0,
            mm if mm % 5 == 0 => 3.0,
            _ => 2.0,
        };
        let left = f64::from(mm) - TICK / 2.0;
        forms.push(Form::Rect([left, SIZE_MM[1] - high, TICK, high], BLACK));
    }
    code(&mut forms)?;
    Ok(forms)
}

/// The dark modules, those that follow each other in a row as one.
fn code(forms: &mut Vec<Form>) -> Result<(), ReportError> {
    let code = QRBuilder::new(PAYLOAD)
        .ecl(ECL::M)
        .version(Version::V02)
        .build()
        .map_err(|_| ReportError::Card)?;
    let [left, top, module] = CODE;
    for (row, cells) in (0_u32..).zip(code.data.chunks_exact(code.size).take(code.size)) {
        let mut column = 0_u32;
        for run in cells.chunk_by(|a, b| a.value() == b.value()) {
            let length = u32::try_from(run.len()).unwrap_or(0);
            if run.first().is_some_and(|cell| cell.value()) {
                let at = [column, row].map(f64::from);
                forms.push(Form::Rect(
                    [
                        left + at[0] * module,
                        top + at[1] * module,
                        f64::from(length) * module,
                        module,
                    ],
                    BLACK,
                ));
            }
            column += length;
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_code_is_25_modules_wide_where_it_should_be() {
        let mut modules = Vec::new();
        code(&mut modules).unwrap();
        let ends = modules.iter().map(|form| match form {
            Form::Rect([x, y, w, h], _) => [*x, *y, x + w, y + h],
            Form::Disc(..) => panic!("a disc in the code"),
        });
        let all = ends.fold([f64::MAX, f64::MAX, 0.0, 0.0], |a: [f64; 4], e| {
            [
                a[0].min(e[0]),
                a[1].min(e[1]),
                a[2].max(e[2]),
                a[3].max(e[3]),
            ]
        });
        for (is, should) in all.into_iter().zip([5.0, 16.99, 25.0, 36.99]) {
            assert!((is - should).abs() < 1e-9, "{all:?}");
        }
    }
}
