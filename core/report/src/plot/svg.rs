//! What every picture needs: numbers in few digits, text that can't break out.

use std::fmt::Write;

/// Text made safe for SVG and HTML, in elements and in attributes. Control
/// characters, which no HTML may hold, become the replacement character.
pub(crate) fn escape(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            '\n' | '\t' => safe.push(letter),
            // The last two are no letters, and XML may not hold them.
            other if other.is_control() || matches!(other, '\u{fffe}' | '\u{ffff}') => {
                safe.push('\u{fffd}');
            }
            other => safe.push(other),
        }
    }
    safe
}

/// The first letters of a text, for a place that holds no more.
pub(crate) fn short(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    text.chars()
        .take(most.saturating_sub(1))
        .chain(['…'])
        .collect()
}

/// A coordinate: one digit behind the point, none where it is zero.
pub(crate) fn at(value: f64) -> String {
    let text = format!("{value:.1}");
    match text.strip_suffix(".0") {
        Some("-0") => "0".to_owned(),
        Some(whole) => whole.to_owned(),
        None => text,
    }
}

/// A picture in the making.
pub(crate) struct Picture {
    text: String,
}

impl Picture {
    /// Opens a picture of `width` by `height` units.
    pub fn new(class: &str, id: &str, size: [f64; 2], title: &str, desc: &str) -> Picture {
        let [width, height] = size.map(at);
        let [id, title, desc] = [id, title, desc].map(escape);
        Picture {
            text: format!(
                "<svg class=\"{class}\" viewBox=\"0 0 {width} {height}\" role=\"img\" \
                 aria-labelledby=\"{id}-t {id}-d\" xmlns=\"http://www.w3.org/2000/svg\">\
                 <title id=\"{id}-t\">{title}</title><desc id=\"{id}-d\">{desc}</desc>"
            ),
        }
    }

    /// Adds markup that is already safe.
    pub fn add(&mut self, markup: &str) {
        self.text.push_str(markup);
    }

    /// Adds a text at a point; `style` holds further attributes.
    pub fn text(&mut self, [x, y]: [f64; 2], style: &str, text: &str) {
        let _ = write!(
            self.text,
            "<text x=\"{}\" y=\"{}\" {style}>{}</text>",
            at(x),
            at(y),
            escape(text)
        );
    }

    /// Adds a line; `style` holds further attributes.
    pub fn line(&mut self, [x1, y1]: [f64; 2], [x2, y2]: [f64; 2], style: &str) {
        let _ = write!(
            self.text,
            "<path d=\"M{} {}L{} {}\" {style}/>",
            at(x1),
            at(y1),
            at(x2),
            at(y2)
        );
    }

    /// The picture as SVG, its root element ended.
    pub fn close(mut self) -> String {
        self.text.push_str("</svg>");
        self.text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_breaks_out_of_text_or_attribute() {
        assert_eq!(
            escape("<b a=\"x\" b='y'>&\u{0}\u{1b}"),
            "&lt;b a=&quot;x&quot; b=&#39;y&#39;&gt;&amp;\u{fffd}\u{fffd}"
        );
    }

    #[test]
    fn coordinates_are_short() {
        assert_eq!([1.0, 1.25, -0.04, 100.0].map(at), ["1", "1.2", "0", "100"]);
    }
}
