//! The faces that every PDF carries: they are embedded, so that it reads the
//! same in ten years.

use krilla::text::Font;
use rustybuzz::Face as Shaper;

use crate::ReportError;

const REGULAR: &[u8] = include_bytes!("../../fonts/AtkinsonHyperlegibleNext-Regular.ttf");
const BOLD: &[u8] = include_bytes!("../../fonts/AtkinsonHyperlegibleNext-Bold.ttf");
/// Greek, Cyrillic, Hebrew, Arabic and signs, for what people write.
const OTHER: &[u8] = include_bytes!("../../fonts/DejaVuSans.ttf");
/// Faces, hands, people, tools, cars and signs in one ink, as people put them between words.
const SIGNS: &[u8] = include_bytes!("../../fonts/NotoEmoji-Part.ttf");

/// Stands for a letter that no face has.
pub(crate) const UNKNOWN: char = '\u{fffd}';

/// A face by its place in [`Fonts`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum FaceName {
    Regular,
    Bold,
    Other,
    Signs,
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
    signs: Face,
}

impl Fonts {
    pub fn read() -> Result<Fonts, ReportError> {
        Ok(Fonts {
            regular: Face::read(REGULAR)?,
            bold: Face::read(BOLD)?,
            other: Face::read(OTHER)?,
            signs: Face::read(SIGNS)?,
        })
    }

    pub fn face(&self, name: FaceName) -> &Face {
        match name {
            FaceName::Regular => &self.regular,
            FaceName::Bold => &self.bold,
            FaceName::Other => &self.other,
            FaceName::Signs => &self.signs,
        }
    }

    /// Whether a text has a sign that no face has, so that [`UNKNOWN`] stands for it.
    pub fn lack_one_of(&self, text: &str) -> bool {
        text.chars().any(|letter| {
            !letter.is_control() && !is_unseen(letter) && self.face_of(letter, false).is_none()
        })
    }

    /// The face that has a letter, the wanted one first; `None` when none has.
    pub fn face_of(&self, letter: char, bold: bool) -> Option<FaceName> {
        let wanted = if bold {
            FaceName::Bold
        } else {
            FaceName::Regular
        };
        [wanted, FaceName::Other, FaceName::Signs]
            .into_iter()
            .find(|name| self.face(*name).has(letter))
    }
}

/// Letters that steer others and are not seen: joiners, direction marks, variation
/// selectors, and the shades of skin, which one ink does not have.
pub(crate) fn is_unseen(letter: char) -> bool {
    matches!(letter,
        '\u{ad}' | '\u{34f}' | '\u{61c}' | '\u{180b}'..='\u{180f}' | '\u{200b}'..='\u{200f}'
        | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{fe00}'..='\u{fe0f}' | '\u{feff}'
        | '\u{1f3fb}'..='\u{1f3ff}' | '\u{e0000}'..='\u{e0fff}')
}
