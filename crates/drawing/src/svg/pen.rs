//! Inks, lines and fills: the look of every drawing.

use super::Svg;

/// Ink.
pub const INK: &str = "#111111";
/// Lines that stand back: rings, ticks, construction. Not for words: a printer without colour breaks
/// grey letters up into dots.
pub const GREY: &str = "#8a8a8a";
/// Areas that stand back: what lies beyond a limit.
pub const PALE: &str = "#e2e2e2";
/// Paper.
pub const PAPER: &str = "#ffffff";
/// The one colour, for lines and marks of what is beyond its limit. Prints as a dark grey; shape and word say the
/// same, so nothing is lost.
pub const OUT: &str = "#9c2f1f";

/// How a line is broken up. The kinds are those of ISO 128-2 (from memory): 01 continuous,
/// 02 dashed, 07 dotted, 04 long-dashed dotted for axes, 05 long-dashed double-dotted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Dash {
    /// Unbroken.
    #[default]
    Solid,
    /// Dashes.
    Dashed,
    /// Dots.
    Dotted,
    /// Long dash, dot: axes.
    Axis,
    /// Long dash, two dots.
    DoubleDotted,
    /// Long dashes.
    Long,
}

impl Dash {
    /// Lengths of dash and gap in line widths.
    fn pattern(self) -> &'static [f64] {
        match self {
            Dash::Solid => &[],
            Dash::Dashed => &[4.0, 2.5],
            Dash::Dotted => &[1.0, 2.0],
            Dash::Axis => &[12.0, 2.5, 1.5, 2.5],
            Dash::DoubleDotted => &[9.0, 2.0, 1.2, 2.0, 1.2, 2.0],
            Dash::Long => &[9.0, 3.5],
        }
    }
}

/// What a line is drawn with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pen {
    /// Ink.
    pub colour: &'static str,
    /// Width, points.
    pub width: f64,
    /// Broken how.
    pub dash: Dash,
}

impl Pen {
    /// An unbroken line in ink.
    pub const fn ink(width: f64) -> Pen {
        Pen { colour: INK, width, dash: Dash::Solid }
    }

    /// An unbroken grey line.
    pub const fn grey(width: f64) -> Pen {
        Pen { colour: GREY, width, dash: Dash::Solid }
    }

    /// The same, broken.
    pub const fn dashed(self, dash: Dash) -> Pen {
        Pen { dash, ..self }
    }

    /// The same in another ink.
    pub const fn in_colour(self, colour: &'static str) -> Pen {
        Pen { colour, ..self }
    }
}

/// What an area is filled with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fill {
    /// Nothing.
    None,
    /// An ink.
    Colour(&'static str),
}

impl Svg {
    pub(super) fn paint(&mut self, fill: Fill, pen: Option<&Pen>) -> Vec<(&'static str, String)> {
        let mut out = vec![(
            "fill",
            match fill {
                Fill::None => "none".to_owned(),
                Fill::Colour(c) => c.to_owned(),
            },
        )];
        if let Some(pen) = pen {
            out.push(("stroke", pen.colour.to_owned()));
            out.push(("stroke-width", self.number(pen.width)));
            let pattern = pen.dash.pattern();
            if !pattern.is_empty() {
                // Thin lines get no shorter dashes than one of 0.6 pt would: they would close up
                // in print.
                let unit = pen.width.max(0.6);
                let dashes: Vec<String> = pattern.iter().map(|p| self.number(p * unit)).collect();
                out.push(("stroke-dasharray", dashes.join(" ")));
            }
        }
        out
    }
}
