//! The sheet that the card is printed on: twice, with a line to measure.

use krilla::color::rgb;
use krilla::configure::{Accessibility, ConfigurationBuilder};
use krilla::destination::XyzDestination;
use krilla::geom::{Path, PathBuilder, Point, Rect, Transform};
use krilla::metadata::Metadata;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::Stroke;
use krilla::surface::Surface;
use krilla::tagging::{ContentTag, SpanTag, Tag, TagGroup, TagKind, TagTree, kind};
use krilla::{Document, SerializeSettings};
use swarfbook_words::id;

use super::{BLACK, CORNER_MM, Form, SIZE_MM, WHITE, forms};
use crate::ReportError;
use crate::pdf::{Fonts, Ink, Inline, Look, RunOf, Span, circle, plain, set};
use crate::words::Words;

/// Points a millimetre.
const MM: f32 = 72.0 / 25.4;
/// Fits A4 and Letter alike, so that no printer is tempted to shrink it: mm.
const PAGE: [f32; 2] = [210.0, 279.4];
const LEFT: f32 = 25.0;
/// Length of the line to measure, mm.
const LINE: f32 = 150.0;
/// The dark rim round the second card, mm.
const RIM: f32 = 6.0;

/// The sheet as a PDF, in the words of a language.
///
/// # Errors
/// [`ReportError`] when it would not be what it must be.
pub fn sheet(lang: &str) -> Result<Vec<u8>, ReportError> {
    let words = Words::of(lang);
    let fonts = Fonts::read()?;
    let pdf = |what: String| ReportError::Pdf(what);
    let mut document = Document::new_with(SerializeSettings {
        configuration: ConfigurationBuilder::new()
            .with_accessibility_validator(Accessibility::UA1)
            .finish()
            .map_err(|error| ReportError::PdfRule(format!("{error:?}")))?,
        ..SerializeSettings::default()
    });
    let size = PageSettings::from_wh(PAGE[0] * MM, PAGE[1] * MM)
        .ok_or_else(|| pdf("the sheet has no size".into()))?;
    let mut page = document.start_page_with(size);
    let mut surface = page.surface();
    let mut sheet = Sheet {
        surface: &mut surface,
        fonts: &fonts,
        tree: TagTree::new().with_lang(Some(lang.to_owned())),
        y: 16.0,
    };
    let title = words.get(id!("report-card-title")).to_owned();
    let level = std::num::NonZeroU16::MIN;
    sheet.text(
        &title,
        18.0,
        true,
        Tag::<kind::Hn>::Hn(level, Some(title.clone())),
    );
    sheet.text(
        words.get(id!("report-card-print")),
        10.0,
        false,
        Tag::<kind::P>::P,
    );
    sheet.y += 4.0;
    sheet.line(words.get(id!("report-card-line-alt")));
    sheet.text(
        words.get(id!("report-card-line")),
        10.0,
        false,
        Tag::<kind::P>::P,
    );
    sheet.y += 6.0;
    let forms = forms()?;
    sheet.text(
        words.get(id!("report-card-light")),
        11.0,
        true,
        Tag::<kind::P>::P,
    );
    sheet.card(&forms, 0.0, words.get(id!("report-card-alt")));
    sheet.y += 6.0;
    sheet.text(
        words.get(id!("report-card-dark")),
        11.0,
        true,
        Tag::<kind::P>::P,
    );
    sheet.card(&forms, RIM, words.get(id!("report-card-alt")));
    sheet.y += 3.0;
    sheet.text(
        words.get(id!("report-card-check")),
        10.0,
        false,
        Tag::<kind::P>::P,
    );
    sheet.text(
        words.get(id!("report-card-use")),
        10.0,
        false,
        Tag::<kind::P>::P,
    );
    let tree = sheet.tree;
    surface.finish();
    page.finish();
    let mut outline = Outline::new();
    let top = XyzDestination::new(0, Point::from_xy(0.0, 0.0));
    outline.push_child(OutlineNode::new(title.clone(), top));
    document.set_outline(outline);
    document.set_tag_tree(tree);
    document.set_metadata(Metadata::new().title(title).language(lang.to_owned()));
    document
        .finish()
        .map_err(|error| ReportError::PdfRule(format!("{error:?}")))
}

struct Sheet<'s, 'p, 'f> {
    surface: &'s mut Surface<'p>,
    fonts: &'f Fonts,
    tree: TagTree,
    /// Where the next thing begins, mm.
    y: f32,
}

impl Sheet<'_, '_, '_> {
    fn text(&mut self, words: &str, size: f32, bold: bool, kind: impl Into<TagKind>) {
        let look = Look {
            size,
            bold,
            ink: Ink::Full,
            rise: 0.0,
        };
        let span: Span<()> = Span {
            what: Inline::Text(words.to_owned()),
            look,
            tag: None,
            link: None,
        };
        let mut group = TagGroup::new(kind);
        for line in set(self.fonts, &[span], (PAGE[0] - 2.0 * LEFT) * MM) {
            let id = self
                .surface
                .start_tagged(ContentTag::Span(SpanTag::empty()));
            for run in &line.runs {
                let RunOf::Glyphs { face, text, glyphs } = &run.what else {
                    continue;
                };
                let at = Point::from_xy(LEFT * MM + run.x, self.y * MM + line.baseline);
                let font = self.fonts.face(*face).font.clone();
                self.surface.set_stroke(None);
                self.surface.set_fill(Some(colour(BLACK)));
                self.surface
                    .draw_glyphs(at, glyphs, font, text, size, false);
            }
            self.surface.end_tagged();
            group.push(id);
            self.y += line.height / MM;
        }
        self.tree.push(group);
        self.y += 1.5;
    }

    /// Something painted in mm from here, as one figure of a height.
    fn figure(&mut self, alt: &str, height: f32, paint: impl FnOnce(&mut Surface<'_>)) {
        let id = self.surface.start_tagged(ContentTag::Other);
        let place = Transform::from_row(MM, 0.0, 0.0, MM, LEFT * MM, self.y * MM);
        self.surface.push_transform(&place);
        paint(self.surface);
        self.surface.pop();
        self.surface.end_tagged();
        let mut group = TagGroup::new(Tag::<kind::Figure>::Figure(Some(alt.to_owned())));
        group.push(id);
        self.tree.push(group);
        self.y += height;
    }

    /// A line with ends, to be measured.
    fn line(&mut self, alt: &str) {
        self.figure(alt, 6.0, |surface| {
            // The ends' inner edges are what is measured from and to.
            fill(surface, rect([0.0, 1.9, LINE, 0.2]), BLACK);
            for x in [0.0, LINE] {
                fill(surface, rect([x - 0.1, 0.0, 0.2, 4.0]), BLACK);
            }
        });
    }

    fn card(&mut self, forms: &[Form], rim: f32, alt: &str) {
        let [wide, high] = SIZE_MM.map(|mm| mm as f32);
        let radius = CORNER_MM as f32;
        self.figure(alt, high + 2.0 * rim + 2.0, |surface| {
            surface.push_transform(&Transform::from_translate(rim, rim));
            if rim > 0.0 {
                let around = rounded(
                    [-rim, -rim, wide + 2.0 * rim, high + 2.0 * rim],
                    radius + rim,
                );
                fill(surface, around, [40; 3]);
            }
            let outline = || rounded([0.0, 0.0, wide, high], radius);
            fill(surface, outline(), WHITE);
            for form in forms {
                match *form {
                    Form::Rect(at, ink) => fill(surface, rect(at.map(|mm| mm as f32)), ink),
                    Form::Disc(at, radius, ink) => {
                        fill(surface, circle(at.map(|mm| mm as f32), radius as f32), ink);
                    }
                }
            }
            if let Some(outline) = outline() {
                surface.set_fill(None);
                surface.set_stroke(Some(Stroke {
                    paint: rgb::Color::new(136, 136, 136).into(),
                    width: 0.1,
                    ..Stroke::default()
                }));
                surface.draw_path(&outline);
            }
            surface.pop();
        });
    }
}

fn colour([r, g, b]: [u8; 3]) -> krilla::paint::Fill {
    plain(rgb::Color::new(r, g, b), 1.0)
}

fn fill(surface: &mut Surface<'_>, path: Option<Path>, ink: [u8; 3]) {
    let Some(path) = path else { return };
    surface.set_stroke(None);
    surface.set_fill(Some(colour(ink)));
    surface.draw_path(&path);
}

fn rect([x, y, w, h]: [f32; 4]) -> Option<Path> {
    let mut path = PathBuilder::new();
    path.push_rect(Rect::from_xywh(x, y, w, h)?);
    path.finish()
}

/// A rectangle with rounded corners.
fn rounded([x, y, w, h]: [f32; 4], r: f32) -> Option<Path> {
    // How far the handles of a quarter circle stand from its corner.
    let k = r * (1.0 - 0.552_284_8);
    let (right, bottom) = (x + w, y + h);
    let mut path = PathBuilder::new();
    path.move_to(x + r, y);
    path.line_to(right - r, y);
    path.cubic_to(right - k, y, right, y + k, right, y + r);
    path.line_to(right, bottom - r);
    path.cubic_to(right, bottom - k, right - k, bottom, right - r, bottom);
    path.line_to(x + r, bottom);
    path.cubic_to(x + k, bottom, x, bottom - k, x, bottom - r);
    path.line_to(x, y + r);
    path.cubic_to(x, y + k, x + k, y, x + r, y);
    path.close();
    path.finish()
}
