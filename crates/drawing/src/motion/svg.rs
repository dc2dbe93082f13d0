//! The look of the motion's drawings: inks, pens, labels, over the crate's writer of SVG.

use super::{DrawingError, DrawingStyle};

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

    fn attributes(&self) -> Attributes {
        let mut list = vec![
            ("fill", self.fill.to_owned()),
            ("stroke", self.stroke.to_owned()),
            ("stroke-width", number(self.width)),
        ];
        if !self.dash.is_empty() {
            list.push(("stroke-dasharray", self.dash.to_owned()));
        }
        list
    }
}

/// How a group of a drawing moves as the wheels turn.
#[derive(Debug, Clone, Copy)]
pub(super) enum Moves {
    /// Round the axle, with the crank.
    Crank,
    /// With both its ends, on the crank pin and in the crosshead.
    Rod,
    /// Along the cylinder, with the crosshead.
    Piston,
    /// Not at all: true of the position drawn alone.
    Not,
}

impl Moves {
    fn word(self) -> &'static str {
        match self {
            Moves::Crank => "crank",
            Moves::Rod => "rod",
            Moves::Piston => "piston",
            Moves::Not => "not",
        }
    }
}

/// Where a text stands on its point.
#[derive(Debug, Clone, Copy)]
pub(super) enum Anchor {
    Start,
    Middle,
    End,
}

/// A picture being written. Places are in units of the page, down and to the right. It lays the
/// look of the motion's drawings over the crate's one writer.
pub(super) struct Svg {
    sheet: crate::svg::Svg,
    what: &'static str,
    text: f64,
    family: String,
}

type Attributes = Vec<(&'static str, String)>;

impl Svg {
    pub(super) fn new(what: &'static str, style: &DrawingStyle) -> Self {
        Self {
            // The size is known when all is drawn.
            sheet: crate::svg::Svg::clear(0.0, 0.0),
            what,
            text: style.text,
            family: style.font_family.clone(),
        }
    }

    pub(super) fn text_height(&self) -> f64 {
        self.text
    }

    fn places(&mut self, list: &[(&'static str, f64)]) -> Attributes {
        list.iter().map(|(name, v)| (*name, self.sheet.number(*v))).collect()
    }

    fn element(
        &mut self,
        name: &str,
        mut attributes: Attributes,
        pen: Pen,
        last: &[(&'static str, &'static str)],
    ) {
        attributes.extend(pen.attributes());
        attributes.extend(last.iter().map(|(k, v)| (*k, (*v).to_owned())));
        self.sheet.element(name, &attributes);
    }

    /// What is drawn by `draw` moves together: a page can turn it. Paper takes no notice.
    pub(super) fn moving(&mut self, moves: Moves, cylinder: usize, draw: impl FnOnce(&mut Svg)) {
        self.sheet.group(&[
            ("data-moves", moves.word().to_owned()),
            ("data-cylinder", cylinder.to_string()),
        ]);
        draw(self);
        self.sheet.group_end();
    }

    /// As [`Svg::moving`], saying from where and at which scale metres stand on the page.
    pub(super) fn placed(&mut self, origin: (f64, f64), scale: f64, draw: impl FnOnce(&mut Svg)) {
        let at = [self.sheet.number(origin.0), self.sheet.number(origin.1), number(scale)];
        self.sheet.group(&[("data-place", at.join(" "))]);
        draw(self);
        self.sheet.group_end();
    }

    pub(super) fn line(&mut self, a: (f64, f64), b: (f64, f64), pen: Pen) {
        let at = self.places(&[("x1", a.0), ("y1", a.1), ("x2", b.0), ("y2", b.1)]);
        self.element("line", at, pen, &[("stroke-linecap", "round")]);
    }

    pub(super) fn circle(&mut self, centre: (f64, f64), radius: f64, pen: Pen) {
        let at = self.places(&[("cx", centre.0), ("cy", centre.1), ("r", radius)]);
        self.element("circle", at, pen, &[]);
    }

    pub(super) fn rectangle(&mut self, corner: (f64, f64), size: (f64, f64), pen: Pen) {
        // NaN stays NaN, so that the picture is refused.
        let positive = |v: f64| if v < 0.0 { 0.0 } else { v };
        let (w, h) = (positive(size.0), positive(size.1));
        let at = self.places(&[("x", corner.0), ("y", corner.1), ("width", w), ("height", h)]);
        self.element("rect", at, pen, &[]);
    }

    fn points(&mut self, points: &[(f64, f64)]) -> Attributes {
        let text: Vec<String> = points
            .iter()
            .map(|p| format!("{},{}", self.sheet.number(p.0), self.sheet.number(p.1)))
            .collect();
        vec![("points", text.join(" "))]
    }

    pub(super) fn polygon(&mut self, points: &[(f64, f64)], pen: Pen) {
        let points = self.points(points);
        self.element("polygon", points, pen, &[("stroke-linejoin", "round")]);
    }

    pub(super) fn polyline(&mut self, points: &[(f64, f64)], pen: Pen) {
        let points = self.points(points);
        self.element("polyline", points, pen, &[("stroke-linejoin", "round")]);
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
        self.lettering(at, anchor, size, text, false);
    }

    /// A text with a rim of paper round its letters, where lines run behind it.
    pub(super) fn halo_label(&mut self, at: (f64, f64), anchor: Anchor, size: f64, text: &str) {
        self.lettering(at, anchor, size, text, true);
        self.lettering(at, anchor, size, text, false);
    }

    fn lettering(&mut self, at: (f64, f64), anchor: Anchor, size: f64, text: &str, rim: bool) {
        let anchor = match anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        let height = size * self.text;
        // Not every reader of SVG knows dominant-baseline: the line is lowered by hand.
        let mut list = self.places(&[("x", at.0), ("y", at.1 + 0.35 * height)]);
        let size = self.sheet.number(height);
        list.push(("font-family", self.family.clone()));
        list.push(("font-size", size));
        list.push(("text-anchor", anchor.to_owned()));
        if rim {
            let wide = self.sheet.number(0.3 * height);
            list.push(("fill", PAPER.to_owned()));
            list.push(("stroke", PAPER.to_owned()));
            list.push(("stroke-width", wide));
            list.push(("stroke-linejoin", "round".to_owned()));
        } else {
            list.push(("fill", INK.to_owned()));
        }
        self.sheet.text_element(&list, text);
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
        let what = self.what;
        self.sheet.bare(width, height, title, PAPER).ok_or(DrawingError::NoPlace { what })
    }
}

/// Two places after the point, without an empty tail or a minus before nothing.
pub(super) fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short_and_nonsense_is_refused() {
        assert_eq!(number(1.0), "1");
        assert_eq!(number(-0.001), "0");
        assert_eq!(number(2.345), "2.35");
        assert_eq!(number(100.0), "100");
        let mut svg = Svg::new("a test", &DrawingStyle::default());
        svg.line((0.0, f64::NAN), (1.0, 1.0), Pen::line(INK, 1.0));
        assert!(svg.finish(10.0, 10.0, "t").is_err());
    }
}
