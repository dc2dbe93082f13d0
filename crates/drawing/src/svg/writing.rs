//! Words on a drawing.

use super::{At, Fill, PAPER, Svg, escape_into};
use crate::lettering::{shortened, width_of};

/// The letter: the report's own, then those of about the same width that a browser may have.
pub const FONT: &str = "Libertinus Serif, Liberation Serif, Times New Roman, Times, serif";

/// Where a text stands to its place.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Anchor {
    /// Begins there.
    #[default]
    Start,
    /// Its middle is there.
    Middle,
    /// Ends there.
    End,
}

/// How heavy.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Weight {
    /// Regular.
    #[default]
    Regular,
    /// Bold.
    Bold,
}

/// How a text is set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lettering {
    /// Size, points.
    pub size: f64,
    /// Heavy or not.
    pub weight: Weight,
    /// Ink.
    pub colour: &'static str,
    /// Where it stands to its place.
    pub anchor: Anchor,
    /// Turned by this many degrees, clockwise.
    pub turned_deg: f64,
}

impl Lettering {
    /// Regular, in ink, beginning at its place.
    pub const fn new(size: f64) -> Lettering {
        Lettering {
            size,
            weight: Weight::Regular,
            colour: super::INK,
            anchor: Anchor::Start,
            turned_deg: 0.0,
        }
    }

    /// The same, bold.
    pub const fn bold(self) -> Lettering {
        Lettering { weight: Weight::Bold, ..self }
    }

    /// The same, standing otherwise to its place.
    pub const fn at(self, anchor: Anchor) -> Lettering {
        Lettering { anchor, ..self }
    }

    /// The same in another ink.
    pub const fn in_colour(self, colour: &'static str) -> Lettering {
        Lettering { colour, ..self }
    }

    /// The same, turned clockwise.
    pub const fn turned(self, degrees: f64) -> Lettering {
        Lettering { turned_deg: degrees, ..self }
    }

    /// Width of a text set like this, points; right for the report's own letter, near enough for
    /// others.
    pub fn width(&self, text: &str) -> f64 {
        width_of(text, self.size, self.weight)
    }

    /// The text, cut with an ellipsis where it is wider than this many points.
    pub fn fitted(&self, text: &str, width: f64) -> String {
        shortened(text, width, self.size, self.weight)
    }
}

impl Svg {
    /// A text with its base line at a place.
    pub fn text(&mut self, at: At, text: &str, lettering: Lettering) {
        if text.is_empty() {
            return;
        }
        let (x, y) = (self.number(at.0), self.number(at.1));
        let mut a = vec![
            ("x", x.clone()),
            ("y", y.clone()),
            ("font-family", FONT.to_owned()),
            ("font-size", self.number(lettering.size)),
            ("fill", lettering.colour.to_owned()),
        ];
        if lettering.weight == Weight::Bold {
            a.push(("font-weight", "bold".to_owned()));
        }
        match lettering.anchor {
            Anchor::Start => {}
            Anchor::Middle => a.push(("text-anchor", "middle".to_owned())),
            Anchor::End => a.push(("text-anchor", "end".to_owned())),
        }
        if lettering.turned_deg != 0.0 {
            let turned = self.number(lettering.turned_deg);
            a.push(("transform", format!("rotate({turned} {x} {y})")));
        }
        self.body.push_str("<text");
        self.attributes(&a);
        self.body.push('>');
        escape_into(&mut self.body, text);
        self.body.push_str("</text>\n");
    }

    /// A text on a white ground, so that lines under it do not run through it. Not for turned
    /// texts.
    pub fn label(&mut self, at: At, text: &str, lettering: Lettering) {
        let width = lettering.width(text);
        let left = match lettering.anchor {
            Anchor::Start => at.0,
            Anchor::Middle => at.0 - width / 2.0,
            Anchor::End => at.0 - width,
        };
        let size = lettering.size;
        self.rect(
            (left - 0.8, at.1 - 0.74 * size),
            width + 1.6,
            0.96 * size,
            Fill::Colour(PAPER),
            None,
        );
        self.text(at, text, lettering);
    }
}
