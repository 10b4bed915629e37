//! Paints the report's own pictures: the few forms of SVG that [`crate::plot`] writes.

use std::rc::Rc;

use krilla::color::rgb;
use krilla::geom::{Path, PathBuilder, Point, Rect, Transform};
use krilla::num::NormalizedF32;
use krilla::paint::{Fill, FillRule, LineJoin, Stroke, StrokeDash};
use krilla::surface::Surface;

use super::fonts::Fonts;
use super::inline::Element;
use super::path;
use super::text::{Ink, Inline, LEAST, Look, RunOf, Span, set};

pub(crate) fn ink(ink: Ink) -> rgb::Color {
    match ink {
        Ink::Full => rgb::Color::new(0x16, 0x14, 0x12),
        Ink::Soft => rgb::Color::new(0x4a, 0x46, 0x41),
    }
}

/// Left, top, width, height of a picture in its own units.
pub(crate) fn view_box(element: Element<'_>) -> [f32; 4] {
    let mut numbers = element
        .attribute("viewBox")
        .unwrap_or_default()
        .split(' ')
        .filter_map(|number| number.parse().ok());
    let mut next = |other| numbers.next().unwrap_or(other);
    [next(0.0), next(0.0), next(100.0), next(100.0)]
}

/// Paints a picture into a rectangle: left, top, width, height.
pub(crate) fn paint(
    surface: &mut Surface<'_>,
    fonts: &Fonts,
    picture: Element<'_>,
    [left, top, width, height]: [f32; 4],
) {
    let [x, y, wide, high] = view_box(picture);
    let stretch = picture.attribute("preserveAspectRatio") == Some("none");
    let (mut across, mut down) = (width / wide.max(0.1), height / high.max(0.1));
    if !stretch {
        across = across.min(down);
        down = across;
    }
    surface.push_transform(&Transform::from_row(
        across,
        0.0,
        0.0,
        down,
        left - x * across,
        top - y * down,
    ));
    let mut brush = Brush {
        surface,
        fonts,
        picture,
        scale: across,
    };
    if picture.attribute("class") == Some("line") {
        // The ground that the line stands on in a photo.
        brush.fill_all(rgb::Color::new(0xb9, 0xb2, 0xa6), [wide, high]);
    }
    for child in picture.children().filter(Element::is_element) {
        brush.element(child);
    }
    surface.pop();
}

struct Brush<'s, 'p, 'f, 'd> {
    surface: &'s mut Surface<'p>,
    fonts: &'f Fonts,
    picture: Element<'d>,
    /// Points a unit.
    scale: f32,
}

#[derive(Clone, Copy, PartialEq)]
enum Paint<'a> {
    None,
    Plain(rgb::Color),
    Pattern(&'a str),
}

impl Brush<'_, '_, '_, '_> {
    fn fill_all(&mut self, colour: rgb::Color, [wide, high]: [f32; 2]) {
        let Some(rect) = Rect::from_xywh(0.0, 0.0, wide, high) else {
            return;
        };
        let mut path = PathBuilder::new();
        path.push_rect(rect);
        self.surface.set_stroke(None);
        self.surface.set_fill(Some(plain(colour, 1.0)));
        if let Some(path) = path.finish() {
            self.surface.draw_path(&path);
        }
    }

    fn element(&mut self, element: Element<'_>) {
        match element.tag_name().name() {
            "path" => self.shape(
                path::read(element.attribute("d").unwrap_or_default()),
                element,
            ),
            "rect" => {
                let at = |name| number(element, name).unwrap_or(0.0);
                let rect = Rect::from_xywh(at("x"), at("y"), at("width"), at("height"));
                let mut path = PathBuilder::new();
                if let Some(rect) = rect {
                    path.push_rect(rect);
                }
                self.shape(path.finish(), element);
            }
            "circle" => {
                let at = |name| number(element, name).unwrap_or(0.0);
                self.shape(path::circle([at("cx"), at("cy")], at("r")), element);
            }
            "use" => {
                let id = element.attribute("href").unwrap_or_default();
                let used = self
                    .picture
                    .descendants()
                    .find(|node| node.attribute("id") == Some(id.trim_start_matches('#')));
                let path =
                    used.and_then(|used| path::read(used.attribute("d").unwrap_or_default()));
                self.stroke_only(path, element);
            }
            "text" => self.text(element),
            _ => {}
        }
    }

    fn shape(&mut self, path: Option<Path>, element: Element<'_>) {
        let Some(path) = path else { return };
        match paint_of(element, "fill") {
            Paint::None => self.surface.set_fill(None),
            Paint::Plain(colour) => {
                let opacity = number(element, "fill-opacity").unwrap_or(1.0);
                self.surface.set_fill(Some(plain(colour, opacity)));
            }
            Paint::Pattern(name) => {
                self.hatch(&path, name);
                self.surface.set_fill(None);
            }
        }
        let stroke = self.stroke_of(element, 1.0);
        let draws = stroke.is_some() || self.surface.get_fill().is_some();
        self.surface.set_stroke(stroke);
        if draws {
            self.surface.draw_path(&path);
        }
    }

    /// Outlines: their width is meant on the screen, whatever the photo's size.
    fn stroke_only(&mut self, path: Option<Path>, element: Element<'_>) {
        let Some(path) = path else { return };
        let stroke = self.stroke_of(element, 0.42 / self.scale.max(1e-6));
        self.surface.set_fill(None);
        if stroke.is_some() {
            self.surface.set_stroke(stroke);
            self.surface.draw_path(&path);
        }
    }

    fn stroke_of(&self, element: Element<'_>, unit: f32) -> Option<Stroke> {
        let Paint::Plain(colour) = paint_of(element, "stroke") else {
            return None;
        };
        let dash = element
            .attribute("stroke-dasharray")
            .filter(|dashes| *dashes != "none")
            .map(|dashes| StrokeDash {
                array: dashes
                    .split([' ', ','])
                    .filter_map(|part| part.parse::<f32>().ok())
                    .map(|part| part * unit)
                    .collect(),
                offset: 0.0,
            })
            .filter(|dash| dash.array.len() > 1);
        Some(Stroke {
            paint: colour.into(),
            width: number(element, "stroke-width").unwrap_or(1.0) * unit,
            line_join: LineJoin::Round,
            opacity: part(number(element, "stroke-opacity").unwrap_or(1.0)),
            dash,
            ..Stroke::default()
        })
    }

    /// Two inks in stripes at 45 degrees, as the pattern's two rectangles say.
    fn hatch(&mut self, path: &Path, name: &str) {
        let pattern = self
            .picture
            .descendants()
            .find(|node| node.attribute("id") == Some(name));
        let colours: Vec<rgb::Color> = pattern
            .into_iter()
            .flat_map(|pattern| pattern.children().filter(Element::is_element))
            .filter_map(|rect| match paint_of(rect, "fill") {
                Paint::Plain(colour) => Some(colour),
                _ => None,
            })
            .collect();
        let [ground, line] = colours.as_slice() else {
            return;
        };
        self.surface.set_stroke(None);
        self.surface.set_fill(Some(plain(*ground, 1.0)));
        self.surface.draw_path(path);
        self.surface.push_clip_path(path, &FillRule::NonZero);
        let [_, _, wide, high] = view_box(self.picture);
        let mut stripes = PathBuilder::new();
        let mut x = -high;
        while x < wide {
            stripes.move_to(x, high);
            stripes.line_to(x + high, 0.0);
            // Seven units across the stripes, as the pattern has it.
            x += 7.0 * std::f32::consts::SQRT_2;
        }
        self.surface.set_fill(None);
        self.surface.set_stroke(Some(Stroke {
            paint: (*line).into(),
            width: 2.0,
            ..Stroke::default()
        }));
        if let Some(stripes) = stripes.finish() {
            self.surface.draw_path(&stripes);
        }
        self.surface.pop();
    }

    fn text(&mut self, element: Element<'_>) {
        let size = number(element, "font-size").unwrap_or(14.0);
        // A small picture's words are as large as all others.
        let size = size.max(LEAST / self.scale.max(1e-6));
        let look = Look {
            size,
            bold: element.attribute("font-weight") == Some("700"),
            ink: Ink::Full,
            rise: 0.0,
        };
        let span: Span<()> = Span {
            what: Inline::Text(element.text().unwrap_or_default().to_owned()),
            look,
            tag: None,
            link: None,
        };
        let lines = set(self.fonts, &[span], 1.0e6);
        let Some(line) = lines.first() else { return };
        let at = |name| number(element, name).unwrap_or(0.0);
        let left = match element.attribute("text-anchor") {
            Some("middle") => at("x") - line.width / 2.0,
            Some("end") => at("x") - line.width,
            _ => at("x"),
        };
        let fill = match paint_of(element, "fill") {
            Paint::Plain(colour) => colour,
            _ => ink(Ink::Full),
        };
        for run in &line.runs {
            let RunOf::Glyphs { face, text, glyphs } = &run.what else {
                continue;
            };
            let font = &self.fonts.face(*face).font;
            let place = Point::from_xy(left + run.x, at("y"));
            let text = Rc::clone(text);
            if let Some(edge) = self.stroke_of(element, 1.0) {
                // A light edge behind the letter, so that it shows on any ground.
                self.surface.set_fill(None);
                self.surface.set_stroke(Some(edge));
                self.surface
                    .draw_glyphs(place, glyphs, font.clone(), &text, size, true);
            }
            self.surface.set_stroke(None);
            self.surface.set_fill(Some(plain(fill, 1.0)));
            self.surface
                .draw_glyphs(place, glyphs, font.clone(), &text, size, false);
        }
    }
}

pub(crate) fn plain(colour: rgb::Color, opacity: f32) -> Fill {
    Fill {
        paint: colour.into(),
        opacity: part(opacity),
        rule: FillRule::NonZero,
    }
}

fn part(opacity: f32) -> NormalizedF32 {
    NormalizedF32::new(opacity.clamp(0.0, 1.0)).unwrap_or(NormalizedF32::ONE)
}

fn number(element: Element<'_>, name: &str) -> Option<f32> {
    element.attribute(name)?.parse().ok()
}

/// The paint of an attribute, or of the style that stands in for it.
fn paint_of<'a>(element: Element<'a>, name: &str) -> Paint<'a> {
    let style = element.attribute("style").and_then(|style| {
        style
            .split(';')
            .find_map(|rule| rule.strip_prefix(name)?.strip_prefix(':'))
    });
    let Some(value) = style.or_else(|| element.attribute(name)) else {
        return Paint::None;
    };
    match value {
        "none" => Paint::None,
        "currentColor" => Paint::Plain(ink(Ink::Full)),
        "#fff" => Paint::Plain(rgb::Color::white()),
        "#111" => Paint::Plain(rgb::Color::new(0x11, 0x11, 0x11)),
        value if value.starts_with("var(--paper") => Paint::Plain(rgb::Color::white()),
        value => {
            if let Some(name) = value
                .strip_prefix("url(#")
                .and_then(|v| v.strip_suffix(')'))
            {
                return Paint::Pattern(name);
            }
            let inside = value.strip_prefix("rgb(").and_then(|v| v.strip_suffix(')'));
            let parts: Vec<u8> = inside
                .unwrap_or_default()
                .split(',')
                .filter_map(|part| part.trim().parse().ok())
                .collect();
            match parts.as_slice() {
                [red, green, blue] => Paint::Plain(rgb::Color::new(*red, *green, *blue)),
                _ => Paint::Plain(ink(Ink::Full)),
            }
        }
    }
}
