//! A small writer of SVG 1.1 with plain attributes.

use super::{DrawingError, DrawingStyle};
use std::fmt::Write;

/// Ink. Greys and one dark red that prints as a dark grey.
pub(super) const INK: &str = "#1a1a1a";
pub(super) const DARK: &str = "#5a5a5a";
pub(super) const FAINT: &str = "#9a9a9a";
pub(super) const PALE: &str = "#e4e4e4";
pub(super) const METAL: &str = "#c9ced4";
pub(super) const RED: &str = "#a3261b";
pub(super) const PAPER: &str = "#ffffff";

/// Dashes that tell lines apart, the first one whole.
pub(super) const DASHES: [&str; 6] = ["", "9 4", "3 3", "12 3 3 3", "6 2 2 2 2 2", "1 4"];

/// Pen of a line or shape.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pen {
    pub(super) stroke: &'static str,
    pub(super) width: f64,
    pub(super) fill: &'static str,
    pub(super) dash: &'static str,
}

impl Pen {
    pub(super) const fn line(stroke: &'static str, width: f64) -> Self {
        Self { stroke, width, fill: "none", dash: "" }
    }

    pub(super) const fn shape(stroke: &'static str, width: f64, fill: &'static str) -> Self {
        Self { stroke, width, fill, dash: "" }
    }

    pub(super) const fn dashed(self, dash: &'static str) -> Self {
        Self { dash, ..self }
    }

    fn attributes(&self) -> String {
        let mut text = format!(
            "fill=\"{}\" stroke=\"{}\" stroke-width=\"{}\"",
            self.fill,
            self.stroke,
            number(self.width)
        );
        if !self.dash.is_empty() {
            // Infallible: writing to a string.
            let _ = write!(text, " stroke-dasharray=\"{}\"", self.dash);
        }
        text
    }
}

/// Where a text stands on its point.
#[derive(Debug, Clone, Copy)]
pub(super) enum Anchor {
    Start,
    Middle,
    End,
}

/// A picture being written. Places are in units of the page, down and to the right.
pub(super) struct Svg {
    body: String,
    what: &'static str,
    sound: bool,
    text: f64,
    family: String,
}

impl Svg {
    pub(super) fn new(what: &'static str, style: &DrawingStyle) -> Self {
        Self {
            body: String::new(),
            what,
            sound: true,
            text: style.text,
            family: escape(&style.font_family),
        }
    }

    pub(super) fn text_height(&self) -> f64 {
        self.text
    }

    fn sees(&mut self, numbers: &[f64]) {
        self.sound &= numbers.iter().all(|n| n.is_finite());
    }

    fn put(&mut self, element: std::fmt::Arguments<'_>) {
        // Infallible: writing to a string.
        let _ = writeln!(self.body, "{element}");
    }

    pub(super) fn line(&mut self, a: (f64, f64), b: (f64, f64), pen: Pen) {
        self.sees(&[a.0, a.1, b.0, b.1]);
        let (x1, y1, x2, y2) = (number(a.0), number(a.1), number(b.0), number(b.1));
        let pen = pen.attributes();
        self.put(format_args!(
            "<line x1=\"{x1}\" y1=\"{y1}\" x2=\"{x2}\" y2=\"{y2}\" {pen} stroke-linecap=\"round\"/>"
        ));
    }

    pub(super) fn circle(&mut self, centre: (f64, f64), radius: f64, pen: Pen) {
        self.sees(&[centre.0, centre.1, radius]);
        let (x, y, r, pen) = (number(centre.0), number(centre.1), number(radius), pen.attributes());
        self.put(format_args!("<circle cx=\"{x}\" cy=\"{y}\" r=\"{r}\" {pen}/>"));
    }

    pub(super) fn rectangle(&mut self, corner: (f64, f64), size: (f64, f64), pen: Pen) {
        self.sees(&[corner.0, corner.1, size.0, size.1]);
        let (x, y) = (number(corner.0), number(corner.1));
        let (w, h, pen) = (number(size.0.max(0.0)), number(size.1.max(0.0)), pen.attributes());
        self.put(format_args!("<rect x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\" {pen}/>"));
    }

    fn points(&mut self, points: &[(f64, f64)]) -> String {
        let mut text = String::with_capacity(points.len() * 14);
        for p in points {
            self.sees(&[p.0, p.1]);
            if !text.is_empty() {
                text.push(' ');
            }
            let _ = write!(text, "{},{}", number(p.0), number(p.1));
        }
        text
    }

    pub(super) fn polygon(&mut self, points: &[(f64, f64)], pen: Pen) {
        let points = self.points(points);
        let pen = pen.attributes();
        self.put(format_args!("<polygon points=\"{points}\" {pen} stroke-linejoin=\"round\"/>"));
    }

    pub(super) fn polyline(&mut self, points: &[(f64, f64)], pen: Pen) {
        let points = self.points(points);
        let pen = pen.attributes();
        self.put(format_args!("<polyline points=\"{points}\" {pen} stroke-linejoin=\"round\"/>"));
    }

    /// An arc of a circle, clockwise on the page from one angle to another (rad, clockwise from
    /// the right).
    pub(super) fn arc(&mut self, centre: (f64, f64), radius: f64, from: f64, to: f64, pen: Pen) {
        let steps = 48;
        let points: Vec<_> = (0..=steps)
            .map(|i| from + (to - from) * f64::from(i) / f64::from(steps))
            .map(|a| (centre.0 + radius * a.cos(), centre.1 + radius * a.sin()))
            .collect();
        self.polyline(&points, pen);
    }

    /// An arrow head with its point at `tip`, pointing along `direction` (rad, clockwise from the
    /// right).
    pub(super) fn arrow_head(&mut self, tip: (f64, f64), direction: f64, size: f64) {
        let back = |turn: f64| {
            let a = direction + std::f64::consts::PI + turn;
            (tip.0 + size * a.cos(), tip.1 + size * a.sin())
        };
        self.polygon(&[tip, back(0.35), back(-0.35)], Pen::shape(INK, 0.5, INK));
    }

    /// A text whose middle line is at the point, of a size relative to the usual lettering.
    pub(super) fn sized_label(&mut self, at: (f64, f64), anchor: Anchor, size: f64, text: &str) {
        self.sees(&[at.0, at.1]);
        let anchor = match anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        let height = size * self.text;
        // Not every reader of SVG knows dominant-baseline: the line is lowered by hand.
        let (x, y, h) = (number(at.0), number(at.1 + 0.35 * height), number(height));
        let (family, text) = (self.family.clone(), escape(text));
        self.put(format_args!(
            "<text x=\"{x}\" y=\"{y}\" font-family=\"{family}\" font-size=\"{h}\" \
             text-anchor=\"{anchor}\" fill=\"{INK}\">{text}</text>"
        ));
    }

    /// A label on a patch of paper, so that lines behind it do not run through the letters.
    pub(super) fn patch_label(&mut self, at: (f64, f64), anchor: Anchor, size: f64, text: &str) {
        let width = 0.58 * size * self.text * text.chars().count() as f64 + 4.0;
        let height = 1.25 * size * self.text;
        let left = match anchor {
            Anchor::Start => at.0 - 2.0,
            Anchor::Middle => at.0 - 0.5 * width,
            Anchor::End => at.0 - width + 2.0,
        };
        self.rectangle(
            (left, at.1 - 0.5 * height),
            (width, height),
            Pen { stroke: "none", width: 0.0, fill: PAPER, dash: "" },
        );
        self.sized_label(at, anchor, size, text);
    }

    /// The whole picture.
    pub(super) fn finish(
        self,
        width: f64,
        height: f64,
        title: &str,
    ) -> Result<String, DrawingError> {
        if !self.sound || !width.is_finite() || !height.is_finite() {
            return Err(DrawingError::NoPlace { what: self.what });
        }
        let (w, h) = (number(width), number(height));
        Ok(format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{w}\" \
             height=\"{h}\" viewBox=\"0 0 {w} {h}\">\n<title>{}</title>\n<rect x=\"0\" y=\"0\" \
             width=\"{w}\" height=\"{h}\" fill=\"{PAPER}\"/>\n{}</svg>\n",
            escape(title),
            self.body
        ))
    }
}

/// Two places after the point, without an empty tail or a minus before nothing.
pub(super) fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            // Characters XML 1.0 does not allow.
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short_and_texts_escaped() {
        assert_eq!(number(1.0), "1");
        assert_eq!(number(-0.001), "0");
        assert_eq!(number(2.345), "2.35");
        assert_eq!(number(100.0), "100");
        assert_eq!(escape("a<b & \"c\"\u{7}"), "a&lt;b &amp; &quot;c&quot; ");
        let mut svg = Svg::new("a test", &DrawingStyle::default());
        svg.line((0.0, f64::NAN), (1.0, 1.0), Pen::line(INK, 1.0));
        assert!(svg.finish(10.0, 10.0, "t").is_err());
    }
}
