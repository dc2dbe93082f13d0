//! A small writer of SVG 1.1: plain attributes only.
//!
//! Coordinates are points from the top left corner, y downwards. What is not finite is not
//! written: [`Svg::finish`] reports it instead of handing out a broken picture.

mod pen;
mod shapes;
mod writing;

pub use pen::{Dash, Fill, GREY, INK, OUT, PALE, PAPER, Pen};
pub use shapes::arrow_head;
pub use writing::{Anchor, FONT, Lettering, Weight};

use crate::DrawingError;

/// A place on the picture: points from the left, points from the top.
pub type At = (f64, f64);

/// A finished drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// The SVG document.
    pub svg: String,
    /// Width at which it is meant to be shown, points.
    pub width_pt: f64,
    /// Height at which it is meant to be shown, points.
    pub height_pt: f64,
    /// What it shows, in a sentence, for those who cannot see it.
    pub description: String,
}

/// A drawing being made.
#[derive(Debug)]
pub struct Svg {
    width: f64,
    height: f64,
    body: String,
    not_finite: Option<f64>,
}

impl Svg {
    /// An empty white sheet, sizes in points.
    pub fn new(width: f64, height: f64) -> Svg {
        let mut svg = Svg::clear(width, height);
        svg.rect((0.0, 0.0), width, height, Fill::Colour(PAPER), None);
        svg
    }

    /// A sheet without ground, for small signs that stand on something.
    pub fn clear(width: f64, height: f64) -> Svg {
        Svg { width, height, body: String::new(), not_finite: None }
    }

    /// Makes the sheet this high, when its content is known.
    pub fn set_height(&mut self, height: f64) {
        self.height = height;
    }

    /// The finished picture.
    ///
    /// # Errors
    /// Something was drawn at a place that is not finite.
    pub fn finish(mut self, title: &str, description: &str) -> Result<Picture, DrawingError> {
        let (w, h) = (self.number(self.width), self.number(self.height));
        if let Some(value) = self.not_finite {
            return Err(DrawingError::NotFinite { what: "a place on the drawing", value });
        }
        let mut svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{w}pt\" height=\"{h}pt\" viewBox=\"0 0 {w} {h}\">\n<title>"
        );
        escape_into(&mut svg, title);
        svg.push_str("</title>\n<desc>");
        escape_into(&mut svg, description);
        svg.push_str("</desc>\n");
        svg.push_str(&self.body);
        svg.push_str("</svg>\n");
        Ok(Picture {
            svg,
            width_pt: self.width,
            height_pt: self.height,
            description: if description.is_empty() { title } else { description }.to_owned(),
        })
    }

    /// A picture of another size than points, with its own ground; `None` where something was
    /// drawn at a place that is not finite.
    pub(crate) fn bare(
        mut self,
        width: f64,
        height: f64,
        title: &str,
        ground: &str,
    ) -> Option<String> {
        let (w, h) = (self.number(width), self.number(height));
        if self.not_finite.is_some() {
            return None;
        }
        let mut svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{w}\" height=\"{h}\" viewBox=\"0 0 {w} {h}\">\n<title>"
        );
        escape_into(&mut svg, title);
        svg.push_str("</title>\n<rect x=\"0\" y=\"0\" width=\"");
        svg.push_str(&format!("{w}\" height=\"{h}\" fill=\"{ground}\"/>\n"));
        svg.push_str(&self.body);
        svg.push_str("</svg>\n");
        Some(svg)
    }

    /// A text element from its attributes.
    pub(crate) fn text_element(&mut self, attributes: &[(&str, String)], text: &str) {
        self.body.push_str("<text");
        self.attributes(attributes);
        self.body.push('>');
        escape_into(&mut self.body, text);
        self.body.push_str("</text>\n");
    }

    /// A number with at most two decimals: a two-hundredth of a point is finer than any printer.
    pub(crate) fn number(&mut self, value: f64) -> String {
        if !value.is_finite() || value.abs() > 1e6 {
            self.not_finite.get_or_insert(value);
            return "0".to_owned();
        }
        let mut text = format!("{value:.2}");
        if text.contains('.') {
            text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
        }
        if text == "-0" { "0".to_owned() } else { text }
    }

    /// One element from its name and attributes; values are escaped.
    pub(crate) fn element(&mut self, name: &str, attributes: &[(&str, String)]) {
        self.body.push('<');
        self.body.push_str(name);
        self.attributes(attributes);
        self.body.push_str("/>\n");
    }

    /// Begins a group of elements with attributes of its own, until [`Svg::group_end`].
    pub(crate) fn group(&mut self, attributes: &[(&str, String)]) {
        self.body.push_str("<g");
        self.attributes(attributes);
        self.body.push_str(">\n");
    }

    /// Ends the group begun last.
    pub(crate) fn group_end(&mut self) {
        self.body.push_str("</g>\n");
    }

    fn attributes(&mut self, attributes: &[(&str, String)]) {
        for (key, value) in attributes {
            self.body.push(' ');
            self.body.push_str(key);
            self.body.push_str("=\"");
            escape_into(&mut self.body, value);
            self.body.push('"');
        }
    }
}

/// Appends text with everything escaped that XML gives a meaning to, and without the characters
/// that XML 1.0 does not allow at all (section 2.2, production Char).
pub(crate) fn escape_into(out: &mut String, text: &str) {
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\t' | '\n' | '\r' => out.push(' '),
            c if c.is_control() || matches!(c, '\u{FFFE}' | '\u{FFFF}') => out.push('\u{FFFD}'),
            c => out.push(c),
        }
    }
}

#[cfg(test)]
mod tests;
