//! What to machine a surface to: a simple dimensioned view, for the person at the machine.
//!
//! Dimension lines as the drawing trade does them, ISO 129-1 (from memory): extension lines that
//! begin a little off the outline and run a little past the dimension line, closed filled arrow
//! heads, the figure above its line, the other system in brackets under it. Axes are long-dashed
//! dotted, outlines thick, hatching thin at 45 degrees (ISO 128, from memory).

use crate::error::DrawingError;
use crate::lettering::wrapped;
use crate::svg::{Anchor, At, Dash, Fill, INK, Lettering, Pen, Picture, Svg, arrow_head};

/// A surface with the size to make it to.
#[derive(Clone, Debug)]
pub struct MachineSketch {
    /// What it is.
    pub title: String,
    /// Its shape.
    pub shape: SketchShape,
    /// Size and tolerance in millimetres, as printed: `202.70 ± 0.02 mm`.
    pub metric: String,
    /// The same in inches.
    pub imperial: String,
    /// Length of the surface, as printed, where it is known.
    pub length: Option<String>,
    /// What else the machinist must know.
    pub notes: Vec<String>,
}

/// What is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SketchShape {
    /// A journal against a collar.
    Journal,
    /// A plain round pin or bolt shank.
    Pin,
    /// A bush, in section.
    Bore,
    /// A hole through a plate, in section.
    Hole,
    /// An outside cone with its gauge plane.
    Cone,
    /// An inside cone with its gauge plane, in section.
    Socket,
    /// Two outside faces.
    Thickness,
    /// Two inside faces, in section.
    Gap,
    /// Two centres.
    Centres,
    /// Any other length.
    Length,
}

impl SketchShape {
    fn is_round(self) -> bool {
        use SketchShape as S;
        matches!(self, S::Journal | S::Pin | S::Bore | S::Hole | S::Cone | S::Socket)
    }
}

const WIDTH: f64 = 240.0;
const OUTLINE: Pen = Pen::ink(1.2);
const THIN: Pen = Pen::ink(0.5);
const AXIS: Pen = Pen { colour: INK, width: 0.5, dash: Dash::Axis };
const HATCH: Pen = Pen::ink(0.4);
const ARROW: f64 = 6.0;

// The part stands in this box; its axis is half-way down.
const LEFT: f64 = 16.0;
const RIGHT: f64 = 108.0;
const AXIS_Y: f64 = 56.0;
const HALF: f64 = 24.0;
const DIMENSION_X: f64 = 128.0;

/// A dimensioned view, not to scale.
///
/// # Errors
/// There is no size to print.
pub fn machine_sketch(sketch: &MachineSketch) -> Result<Picture, DrawingError> {
    if sketch.metric.is_empty() && sketch.imperial.is_empty() {
        return Err(DrawingError::Nothing { what: "no size to make it to" });
    }
    let mut svg = Svg::new(WIDTH, 0.0);
    let title = Lettering::new(8.5).bold();
    svg.text((2.0, 10.0), &title.fitted(&sketch.title, WIDTH - 4.0), title);
    if sketch.shape.is_round() {
        let (size_from, length_line) = round_part(&mut svg, sketch.shape);
        if let Some(length) = &sketch.length {
            dimension_below(&mut svg, (length_line.0, length_line.1), 107.0, length);
        }
        dimension_beside(&mut svg, size_from, sketch);
    } else {
        let (from, to) = flat_part(&mut svg, sketch.shape);
        dimension_above(&mut svg, from, to, sketch);
    }
    let letter = Lettering::new(7.2);
    let mut y = 120.0;
    for note in &sketch.notes {
        for line in wrapped(note, WIDTH - 4.0, letter.size) {
            svg.text((2.0, y), &line, letter);
            y += 9.0;
        }
    }
    svg.text((WIDTH - 2.0, 107.0), "not to scale", letter.at(Anchor::End));
    svg.set_height(y - 4.0);
    let description = format!(
        "{}: make to {} ({}). {}",
        sketch.title,
        sketch.metric,
        sketch.imperial,
        sketch.notes.join(" ")
    );
    svg.finish(&sketch.title, &description)
}

/// Draws a part about a level axis; returns where the two ends of the diameter are taken from and
/// the two ends of the length.
fn round_part(svg: &mut Svg, shape: SketchShape) -> ((At, At), (At, At)) {
    use SketchShape as S;
    let (top, bottom) = (AXIS_Y - HALF, AXIS_Y + HALF);
    let mut size_at = RIGHT;
    let mut length_from = LEFT;
    let mut half_at_size = HALF;
    let mut length_y = bottom;
    match shape {
        S::Journal => {
            // A collar, broken off on the far side, and the journal's free end.
            let collar = 22.0;
            length_from = LEFT + collar;
            let (a, b) = (AXIS_Y - HALF - 11.0, AXIS_Y + HALF + 11.0);
            svg.polyline(&[(LEFT, a), (length_from, a), (length_from, b), (LEFT, b)], OUTLINE);
            broken_edge(svg, LEFT, a, b);
            svg.polyline(
                &[
                    (length_from, top),
                    (RIGHT - 3.0, top),
                    (RIGHT, top + 3.0),
                    (RIGHT, bottom - 3.0),
                    (RIGHT - 3.0, bottom),
                    (length_from, bottom),
                ],
                OUTLINE,
            );
            svg.line((RIGHT - 3.0, top), (RIGHT - 3.0, bottom), THIN);
            size_at = RIGHT - 3.0;
        }
        S::Pin => {
            let c = 3.0;
            svg.polygon(
                &[
                    (LEFT, top + c),
                    (LEFT + c, top),
                    (RIGHT - c, top),
                    (RIGHT, top + c),
                    (RIGHT, bottom - c),
                    (RIGHT - c, bottom),
                    (LEFT + c, bottom),
                    (LEFT, bottom - c),
                ],
                Fill::None,
                Some(OUTLINE),
            );
            for x in [LEFT + c, RIGHT - c] {
                svg.line((x, top), (x, bottom), THIN);
            }
            size_at = RIGHT - c;
        }
        S::Bore | S::Hole => {
            let wall = if shape == S::Bore { 11.0 } else { 15.0 };
            let from = if shape == S::Bore { LEFT } else { LEFT + 26.0 };
            length_from = from;
            length_y = bottom + wall;
            for y in [top - wall, bottom] {
                svg.hatch((from, y), RIGHT - from, wall, 4.2, HATCH);
            }
            if shape == S::Bore {
                for y in [top - wall, bottom] {
                    svg.rect((from, y), RIGHT - from, wall, Fill::None, Some(OUTLINE));
                }
            } else {
                for (surface, edge) in [(top, top - wall), (bottom, bottom + wall)] {
                    svg.polyline(
                        &[(from, edge), (from, surface), (RIGHT, surface), (RIGHT, edge)],
                        OUTLINE,
                    );
                }
            }
            for x in [from, RIGHT] {
                svg.line((x, top), (x, bottom), OUTLINE);
            }
        }
        S::Cone | S::Socket => {
            let small = HALF - 9.0;
            let slope = [(LEFT, AXIS_Y - small), (RIGHT, top)];
            let under = [(RIGHT, bottom), (LEFT, AXIS_Y + small)];
            if shape == S::Socket {
                length_y = bottom + 10.0;
                cone_section(svg, small);
            } else {
                svg.polygon(&[slope[0], slope[1], under[0], under[1]], Fill::None, Some(OUTLINE));
            }
            // The size is at the gauge plane, a little in from the wide end.
            size_at = RIGHT - 8.0;
            half_at_size = HALF - 9.0 * 8.0 / (RIGHT - LEFT);
            svg.line(
                (size_at, AXIS_Y - HALF - 6.0),
                (size_at, AXIS_Y + HALF + 6.0),
                THIN.dashed(Dash::DoubleDotted),
            );
            let letter = Lettering::new(6.5).at(Anchor::End);
            svg.label((size_at - 2.0, AXIS_Y - 5.0), "gauge plane", letter);
        }
        S::Thickness | S::Gap | S::Centres | S::Length => {}
    }
    svg.line((LEFT - 8.0, AXIS_Y), (RIGHT + 10.0, AXIS_Y), AXIS);
    (
        ((size_at, AXIS_Y - half_at_size), (size_at, AXIS_Y + half_at_size)),
        ((length_from, length_y), (RIGHT, length_y)),
    )
}

/// The hatched walls of a tapered socket, their inner edge rising with the taper.
fn cone_section(svg: &mut Svg, small: f64) {
    let wall = HALF + 10.0;
    for side in [-1.0, 1.0] {
        let outer = AXIS_Y + side * wall;
        let (left, right) = (AXIS_Y + side * small, AXIS_Y + side * HALF);
        svg.polygon(
            &[(LEFT, outer), (RIGHT, outer), (RIGHT, right), (LEFT, left)],
            Fill::None,
            Some(OUTLINE),
        );
        // Strips narrow enough that their square ends follow the slope.
        let strips = 24;
        let width = (RIGHT - LEFT) / f64::from(strips);
        for i in 0..strips {
            let x = LEFT + f64::from(i) * width;
            let inner = left + (right - left) * (f64::from(i) + 0.5) / f64::from(strips);
            let (top, bottom) = (outer.min(inner), outer.max(inner));
            svg.hatch((x, top), width, bottom - top, 4.2, HATCH);
        }
    }
    for x in [(LEFT, small), (RIGHT, HALF)] {
        svg.line((x.0, AXIS_Y - x.1), (x.0, AXIS_Y + x.1), OUTLINE);
    }
}

/// Draws a part with two faces; returns the two points between which the size is taken.
fn flat_part(svg: &mut Svg, shape: SketchShape) -> (At, At) {
    use SketchShape as S;
    let (left, right) = (LEFT + 44.0, RIGHT + 44.0);
    let (top, bottom) = (46.0, 98.0);
    match shape {
        S::Gap => {
            let wall = 18.0;
            let floor = bottom - 12.0;
            svg.hatch((left - wall, top), wall, bottom - top, 4.2, HATCH);
            svg.hatch((right, top), wall, bottom - top, 4.2, HATCH);
            svg.hatch((left, floor), right - left, bottom - floor, 4.2, HATCH);
            svg.polygon(
                &[
                    (left - wall, top),
                    (left, top),
                    (left, floor),
                    (right, floor),
                    (right, top),
                    (right + wall, top),
                    (right + wall, bottom),
                    (left - wall, bottom),
                ],
                Fill::None,
                Some(OUTLINE),
            );
        }
        S::Centres => {
            let y = 74.0;
            svg.line((left - 18.0, y), (right + 18.0, y), AXIS);
            for x in [left, right] {
                svg.circle((x, y), 10.0, Fill::None, Some(OUTLINE));
                svg.line((x, y - 24.0), (x, y + 16.0), AXIS);
            }
            return ((left, y - 22.0), (right, y - 22.0));
        }
        _ => {
            svg.rect((left, top), right - left, bottom - top, Fill::None, Some(OUTLINE));
            let middle = (top + bottom) / 2.0;
            svg.line((left - 6.0, middle), (right + 6.0, middle), AXIS);
        }
    }
    ((left, top), (right, top))
}

/// A wavy edge: the part goes on.
fn broken_edge(svg: &mut Svg, x: f64, top: f64, bottom: f64) {
    let steps = 24;
    let points: Vec<At> = (0..=steps)
        .map(|i| {
            let t = f64::from(i) / f64::from(steps);
            (x + 1.8 * (t * 4.0 * std::f64::consts::PI).sin(), top + t * (bottom - top))
        })
        .collect();
    svg.polyline(&points, THIN);
}

/// Gap between outline and extension line, and how far that runs past the dimension line.
const OFF: f64 = 1.5;
const PAST: f64 = 2.5;

/// The diameter, its line upright to the right, its figure on a shelf.
fn dimension_beside(svg: &mut Svg, (a, b): (At, At), sketch: &MachineSketch) {
    for p in [a, b] {
        svg.line((p.0 + OFF, p.1), (DIMENSION_X + PAST, p.1), THIN);
    }
    svg.line((DIMENSION_X, a.1), (DIMENSION_X, b.1), THIN);
    svg.polygon(&arrow_head((DIMENSION_X, a.1), (0.0, -1.0), ARROW), Fill::Colour(INK), None);
    svg.polygon(&arrow_head((DIMENSION_X, b.1), (0.0, 1.0), ARROW), Fill::Colour(INK), None);
    let letter = Lettering::new(9.0).bold();
    let shelf = WIDTH - 2.0;
    let y = AXIS_Y;
    svg.line((DIMENSION_X, y), (shelf, y), THIN);
    // The sign stands alone: not every bold letter has it.
    svg.text((DIMENSION_X + 5.0, y - 2.5), "\u{2300}", Lettering::new(9.5));
    let from = DIMENSION_X + 13.0;
    svg.text((from, y - 2.5), &letter.fitted(&sketch.metric, shelf - from), letter);
    let small = Lettering::new(8.0);
    let text = small.fitted(&format!("({})", sketch.imperial), shelf - DIMENSION_X - 6.0);
    svg.text((DIMENSION_X + 5.0, y + 8.5), &text, small);
}

/// A length under the part.
fn dimension_below(svg: &mut Svg, (a, b): (At, At), y: f64, text: &str) {
    for p in [a, b] {
        svg.line((p.0, p.1 + OFF), (p.0, y + PAST), THIN);
    }
    level_line(svg, a.0, b.0, y);
    let letter = Lettering::new(7.2).at(Anchor::Middle);
    svg.label(((a.0 + b.0) / 2.0, y - 2.5), &letter.fitted(text, b.0 - a.0), letter);
}

/// The size between two faces, above the part.
fn dimension_above(svg: &mut Svg, a: At, b: At, sketch: &MachineSketch) {
    let y = 34.0;
    for p in [a, b] {
        svg.line((p.0, p.1 - OFF), (p.0, y - PAST), THIN);
    }
    level_line(svg, a.0, b.0, y);
    let middle = (a.0 + b.0) / 2.0;
    let letter = Lettering::new(9.0).bold().at(Anchor::Middle);
    svg.text((middle, y - 2.5), &letter.fitted(&sketch.metric, 200.0), letter);
    let small = Lettering::new(8.0).at(Anchor::Middle);
    svg.text((middle, y + 8.5), &small.fitted(&format!("({})", sketch.imperial), 200.0), small);
}

fn level_line(svg: &mut Svg, from: f64, to: f64, y: f64) {
    svg.line((from, y), (to, y), THIN);
    svg.polygon(&arrow_head((from, y), (-1.0, 0.0), ARROW), Fill::Colour(INK), None);
    svg.polygon(&arrow_head((to, y), (1.0, 0.0), ARROW), Fill::Colour(INK), None);
}

mod gauging;
#[cfg(test)]
mod tests;

pub use gauging::{GaugingSketch, GaugingStation, gauging_sketch};
