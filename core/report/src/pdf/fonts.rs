//! The faces that every PDF carries: they are embedded, so that it reads the
//! same in ten years.

use krilla::text::Font;
use rustybuzz::Face as Shaper;

use crate::ReportError;

const REGULAR: &[u8] = include_bytes!("../../fonts/AtkinsonHyperlegibleNext-Regular.ttf");
const BOLD: &[u8] = include_bytes!("../../fonts/AtkinsonHyperlegibleNext-Bold.ttf");
/// Greek, Cyrillic, Hebrew, Arabic and signs, for what people write.
const OTHER: &[u8] = include_bytes!("../../fonts/DejaVuSans.ttf");

/// Stands for a letter that no face has.
pub(crate) const UNKNOWN: char = '\u{fffd}';

/// A face by its place in [`Fonts`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum FaceName {
    Regular,
    Bold,
    Other,
}

/// One face, to measure with and to write with.
pub(crate) struct Face {
    pub shaper: Shaper<'static>,
    pub font: Font,
}

impl Face {
    fn read(bytes: &'static [u8]) -> Result<Face, ReportError> {
        let broken = || ReportError::Pdf("a face of the report can't be read".into());
        Ok(Face {
            shaper: Shaper::from_slice(bytes, 0).ok_or_else(broken)?,
            font: Font::new(bytes.into(), 0).ok_or_else(broken)?,
        })
    }

    fn has(&self, letter: char) -> bool {
        self.shaper.glyph_index(letter).is_some()
    }
}

/// All faces.
pub(crate) struct Fonts {
    regular: Face,
    bold: Face,
    other: Face,
}

impl Fonts {
    pub fn read() -> Result<Fonts, ReportError> {
        Ok(Fonts {
            regular: Face::read(REGULAR)?,
            bold: Face::read(BOLD)?,
            other: Face::read(OTHER)?,
        })
    }

    pub fn face(&self, name: FaceName) -> &Face {
        match name {
            FaceName::Regular => &self.regular,
            FaceName::Bold => &self.bold,
            FaceName::Other => &self.other,
        }
    }

    /// The face that has a letter, the wanted one first; `None` when none has.
    pub fn face_of(&self, letter: char, bold: bool) -> Option<FaceName> {
        let wanted = if bold {
            FaceName::Bold
        } else {
            FaceName::Regular
        };
        [wanted, FaceName::Other]
            .into_iter()
            .find(|name| self.face(*name).has(letter))
    }
}

/// Letters that steer others and are not seen: joiners, direction marks, variation selectors.
pub(crate) fn is_unseen(letter: char) -> bool {
    matches!(letter,
        '\u{ad}' | '\u{34f}' | '\u{61c}' | '\u{180b}'..='\u{180f}' | '\u{200b}'..='\u{200f}'
        | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{fe00}'..='\u{fe0f}' | '\u{feff}'
        | '\u{e0000}'..='\u{e0fff}')
}
