//! Photos with their outlines, and plots.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use krilla::image::Image;
use krilla::tagging::{Tag, kind};

use super::flow::{Flow, Mark, Piece, What, class_is};
use super::inline::Element;
use super::strings::text_string;
use super::tags::TagRef;

/// A photo beside what is said of it; before and after side by side.
pub(super) fn set_figure<'d>(flow: &mut Flow<'d>, element: Element<'d>, tag: Option<TagRef>) {
    let tag = flow.tags.group(tag, Tag::<kind::Div>::Div);
    let frames: Vec<Element<'d>> = element
        .descendants()
        .filter(|node| class_is(*node, "frame"))
        .collect();
    let caption = element
        .children()
        .find(|child| child.has_tag_name("figcaption"));
    let space = 14.0;
    if let [first, second] = frames.as_slice() {
        let width = (flow.width - space) / 2.0;
        let places = [[flow.left, width], [flow.left + width + space, width]];
        let columns = [first, second]
            .into_iter()
            .zip(places)
            .map(|(frame, place)| flow.column(place, |flow| set_photo(flow, *frame, tag)))
            .collect();
        flow.beside(columns, 8.0);
        if let Some(piece) = flow.pieces.last_mut() {
            piece.keep = true;
        }
        if let Some(caption) = caption {
            flow.children(caption, Some(tag));
        }
        return;
    }
    let decides = element
        .prev_sibling_element()
        .is_some_and(|before| before.has_tag_name("h2"));
    let share = if decides { 0.6 } else { 0.46 };
    let left = (flow.width - space) * share;
    let places = [
        [flow.left, left],
        [flow.left + left + space, flow.width - left - space],
    ];
    let photo = flow.column(places[0], |flow| match frames.first() {
        Some(frame) => set_photo(flow, *frame, tag),
        None => {
            for gone in element.children().filter(|child| child.has_tag_name("p")) {
                let own = flow.tags.group(Some(tag), Tag::<kind::P>::P);
                flow.lines(gone, flow.look, own, 0.0);
            }
        }
    });
    let words = flow.column(places[1], |flow| {
        if let Some(caption) = caption {
            flow.children(caption, Some(tag));
        }
    });
    flow.beside(vec![photo, words], 9.0);
}

/// The photo of a frame with its outlines.
fn set_photo<'d>(flow: &mut Flow<'d>, frame: Element<'d>, tag: TagRef) {
    let Some(img) = frame.descendants().find(|node| node.has_tag_name("img")) else {
        return;
    };
    let over = frame.descendants().find(|node| node.has_tag_name("svg"));
    let image = img
        .attribute("src")
        .and_then(|src| src.strip_prefix("data:image/jpeg;base64,"))
        .and_then(|data| STANDARD.decode(data).ok())
        .ok_or_else(|| "a photo of the page is no JPEG".to_owned())
        .and_then(|bytes| Image::from_jpeg(bytes.into(), false));
    let image = match image {
        Ok(image) => image,
        Err(why) => {
            flow.trouble.get_or_insert(why);
            return;
        }
    };
    let (wide, high) = image.size();
    let mut width = flow.width;
    let mut height = width * high.max(1) as f32 / wide.max(1) as f32;
    let most = (flow.tallest * 0.45).min(width);
    if height > most {
        width *= most / height;
        height = most;
    }
    let alt = img.attribute("alt").filter(|alt| !alt.is_empty());
    let kind = Tag::<kind::Figure>::Figure(Some(text_string(alt.unwrap_or("Photo"))));
    let tag = flow.tags.group(Some(tag), kind);
    let slot = flow.tags.slot(tag);
    let left = flow.left;
    let mark = |slot, what| Mark {
        at: [left, 0.0],
        size: [width, height],
        slot,
        link: None,
        what,
    };
    flow.push(Piece {
        gap: 4.0,
        height,
        marks: vec![
            mark(Some(slot), What::Photo { image, over }),
            mark(None, What::Frame),
        ],
        ..Piece::default()
    });
}

/// Close-ups and the pan beside each other, each as wide as its class says.
pub(super) fn set_strip<'d>(flow: &mut Flow<'d>, element: Element<'d>, tag: Option<TagRef>) {
    let tag = flow.tags.group(tag, Tag::<kind::Div>::Div);
    let parts: Vec<Element<'d>> = element.children().filter(Element::is_element).collect();
    let share = |part: &Element<'d>| if part.has_tag_name("svg") { 1.75 } else { 1.0 };
    let all: f32 = parts.iter().map(share).sum();
    let space = 10.0;
    let room = flow.width - space * (parts.len().max(1) - 1) as f32;
    // One picture alone is not as large as the paper.
    let one = (room / all.max(1.0)).min(flow.width * 0.17);
    let mut left = flow.left;
    let mut columns = Vec::new();
    for part in parts {
        let width = one * share(&part);
        columns.push(flow.column([left, width], |flow| {
            if part.has_tag_name("svg") {
                set_plot(flow, part, Some(tag));
                return;
            }
            for frame in part.children().filter(|child| class_is(*child, "frame")) {
                set_photo(flow, frame, tag);
            }
            for caption in part.children().filter(|c| c.has_tag_name("figcaption")) {
                flow.children(caption, Some(tag));
            }
        }));
        left += width + space;
    }
    flow.beside(columns, 4.0);
}

/// A plot that stands by itself; its title and description are its alternative text.
pub(super) fn set_plot<'d>(flow: &mut Flow<'d>, element: Element<'d>, tag: Option<TagRef>) {
    let said = |name: &str| {
        element
            .children()
            .find(|child| child.has_tag_name(name))
            .and_then(|child| child.text())
            .unwrap_or_default()
    };
    let alt = format!("{}. {}", said("title"), said("desc"));
    let [_, _, wide, high] = super::svg::view_box(element);
    let most = match element.attribute("class") {
        Some("gauge") => 270.0,
        Some("sizes" | "trend") => 240.0,
        _ => 210.0,
    };
    let width = flow.width.min(most);
    let height = width * high / wide.max(1.0);
    let tag = flow
        .tags
        .group(tag, Tag::<kind::Figure>::Figure(Some(text_string(&alt))));
    let slot = flow.tags.slot(tag);
    flow.push(Piece {
        gap: 4.0,
        height,
        marks: vec![Mark {
            at: [flow.left, 0.0],
            size: [width, height],
            slot: Some(slot),
            link: None,
            what: What::Svg(element),
        }],
        ..Piece::default()
    });
}
