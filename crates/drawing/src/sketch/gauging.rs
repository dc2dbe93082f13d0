//! Where the gauge goes: stations along a surface and directions around it, for the person with
//! the gauge in hand.
//!
//! Stations are lettered as the engine names them; directions count anticlockwise from the right
//! (the horizontal), looking along the axis with the first station nearest.

use super::{AXIS_Y, HALF, LEFT, RIGHT, SketchShape, THIN, flat_part, round_part};
use crate::error::{DrawingError, angle, length};
use crate::svg::{Anchor, At, Dash, Fill, Lettering, Pen, Picture, Svg, arrow_head};

/// A surface and the places at which it is gauged.
#[derive(Clone, Debug)]
pub struct GaugingSketch {
    /// What it is.
    pub title: String,
    /// Its shape.
    pub shape: SketchShape,
    /// Stations in the order in which a person goes along.
    pub stations: Vec<GaugingStation>,
    /// Directions in the order in which a person goes round, radians; none for what is not round.
    pub directions_rad: Vec<f64>,
}

/// A station.
#[derive(Clone, Debug)]
pub struct GaugingStation {
    /// Its name.
    pub name: String,
    /// Along the axis, metres.
    pub at_m: f64,
}

const WIDTH: f64 = 240.0;
const HEIGHT: f64 = 112.0;
/// Centre and radius of the view along the axis.
const END: At = (190.0, AXIS_Y);
const RADIUS: f64 = 24.0;
/// Names are written to this many stations; of more, the first and the last.
const MOST_NAMED: usize = 7;

/// Where the gauge goes, not to scale.
///
/// # Errors
/// A place or direction is not finite or absurd.
pub fn gauging_sketch(sketch: &GaugingSketch) -> Result<Picture, DrawingError> {
    for s in &sketch.stations {
        length("a station", s.at_m)?;
    }
    for d in &sketch.directions_rad {
        angle("a direction", *d)?;
    }
    let mut svg = Svg::new(WIDTH, HEIGHT);
    if sketch.shape.is_round() {
        let (_, (from, to)) = round_part(&mut svg, sketch.shape);
        stations(&mut svg, sketch, (from.0, to.0), (AXIS_Y - HALF, AXIS_Y + HALF));
        end_view(&mut svg, sketch);
    } else {
        let (from, to) = flat_part(&mut svg, sketch.shape);
        across(&mut svg, sketch, from, to);
    }
    let letter = Lettering::new(6.5).at(Anchor::End);
    svg.text((WIDTH - 2.0, HEIGHT - 2.0), "not to scale", letter);
    svg.finish(&sketch.title, &description(sketch))
}

fn description(sketch: &GaugingSketch) -> String {
    let names: Vec<&str> = sketch.stations.iter().map(|s| s.name.as_str()).collect();
    let mut words = format!("{}: gauge", sketch.title);
    if !names.is_empty() {
        words.push_str(&format!(" at {}", names.join(", ")));
    }
    if !sketch.directions_rad.is_empty() {
        let all: Vec<String> = sketch.directions_rad.iter().map(|d| degrees(*d)).collect();
        words.push_str(&format!(" across {}", all.join(", ")));
    }
    words.push('.');
    words
}

fn degrees(radians: f64) -> String {
    let degrees = radians.to_degrees();
    if (degrees - degrees.round()).abs() < 0.05 {
        // "-0" is nought.
        format!("{:.0}°", degrees.round() + 0.0)
    } else {
        format!("{degrees:.1}°")
    }
}

/// The place of every station between two ends, in proportion where the places differ, else evenly.
fn places(stations: &[GaugingStation], from: f64, to: f64) -> Vec<f64> {
    let inset = (to - from) * 0.1;
    let (from, to) = (from + inset, to - inset);
    let least = stations.iter().map(|s| s.at_m).fold(f64::INFINITY, f64::min);
    let most = stations.iter().map(|s| s.at_m).fold(f64::NEG_INFINITY, f64::max);
    let last = stations.len().saturating_sub(1).max(1) as f64;
    stations
        .iter()
        .enumerate()
        .map(|(i, s)| {
            let share =
                if most > least { (s.at_m - least) / (most - least) } else { i as f64 / last };
            if stations.len() == 1 { (from + to) / 2.0 } else { from + share * (to - from) }
        })
        .collect()
}

/// Stations of a round surface: a line through it, arrows where the gauge touches, the name above.
fn stations(
    svg: &mut Svg,
    sketch: &GaugingSketch,
    (from, to): (f64, f64),
    (top, bottom): (f64, f64),
) {
    use SketchShape as S;
    let inside = matches!(sketch.shape, S::Bore | S::Hole | S::Socket);
    let letter = Lettering::new(9.0).bold().at(Anchor::Middle);
    let count = sketch.stations.len();
    let places = places(&sketch.stations, from, to);
    for (i, (s, x)) in sketch.stations.iter().zip(&places).enumerate() {
        let x = *x;
        // The surface of a cone runs from its narrow to its wide end.
        let lower = match sketch.shape {
            S::Cone | S::Socket => 9.0 * (RIGHT - x) / (RIGHT - LEFT),
            _ => 0.0,
        };
        let (a, b) = (top + lower, bottom - lower);
        let name_y = if inside { 9.0 } else { 14.0 };
        let (from_y, to_y) = (name_y + 3.0, if inside { b } else { b + 16.0 });
        svg.line((x, from_y), (x, to_y), THIN.dashed(Dash::Dashed));
        let (up, down) = if inside { (-1.0, 1.0) } else { (1.0, -1.0) };
        svg.polygon(&arrow_head((x, a), (0.0, up), 7.0), INK_FILL, None);
        svg.polygon(&arrow_head((x, b), (0.0, down), 7.0), INK_FILL, None);
        if count <= MOST_NAMED || i == 0 || i + 1 == count {
            let room = if count <= 1 { 80.0 } else { (to - from) / count.min(MOST_NAMED) as f64 };
            svg.label((x, name_y), &letter.fitted(&s.name, room.max(12.0)), letter);
        }
    }
}

const INK_FILL: Fill = Fill::Colour(crate::svg::INK);

/// The view along the axis, with every direction named where one goes first.
fn end_view(svg: &mut Svg, sketch: &GaugingSketch) {
    use SketchShape as S;
    let inside = matches!(sketch.shape, S::Bore | S::Hole | S::Socket);
    if inside {
        svg.ring(END, RADIUS, RADIUS + 6.0, Fill::Colour(crate::svg::PALE));
        svg.circle(END, RADIUS + 6.0, Fill::None, Some(THIN));
    }
    svg.circle(END, RADIUS, Fill::None, Some(Pen::ink(1.2)));
    let letter = Lettering::new(7.5).bold().at(Anchor::Middle);
    let many = sketch.directions_rad.len() > 8;
    for (i, d) in sketch.directions_rad.iter().enumerate() {
        let (x, y) = (d.cos(), -d.sin());
        let reach = RADIUS + if inside { 0.0 } else { 7.0 };
        let at = |r: f64| (END.0 + x * r, END.1 + y * r);
        svg.line(at(-reach), at(reach), THIN.dashed(Dash::Dashed));
        for side in [1.0, -1.0] {
            let towards = if inside { side } else { -side };
            svg.polygon(
                &arrow_head(at(side * RADIUS), (x * towards, y * towards), 6.0),
                INK_FILL,
                None,
            );
        }
        if !many || i == 0 {
            let r = RADIUS + if inside { 15.0 } else { 16.0 };
            svg.label((END.0 + x * r, END.1 + y * r + 2.5), &degrees(*d), letter);
        }
    }
}

/// Stations of two faces: arrows across, one under the other.
fn across(svg: &mut Svg, sketch: &GaugingSketch, from: At, to: At) {
    let inside = sketch.shape == SketchShape::Gap;
    let centres = sketch.shape == SketchShape::Centres;
    let letter = Lettering::new(9.0).bold();
    let count = sketch.stations.len().max(1);
    let (top, bottom) = if centres {
        (74.0, 74.0)
    } else if inside {
        (54.0, 80.0)
    } else {
        (54.0, 90.0)
    };
    for i in 0..count.min(MOST_NAMED) {
        let y = if count == 1 {
            (top + bottom) / 2.0
        } else {
            top + (bottom - top) * i as f64 / (count.min(MOST_NAMED) - 1).max(1) as f64
        };
        if inside || centres {
            svg.line((from.0, y), (to.0, y), THIN);
            svg.polygon(&arrow_head((from.0, y), (-1.0, 0.0), 6.0), INK_FILL, None);
            svg.polygon(&arrow_head((to.0, y), (1.0, 0.0), 6.0), INK_FILL, None);
        } else {
            svg.line((from.0 - 18.0, y), (from.0, y), THIN);
            svg.line((to.0 + 18.0, y), (to.0, y), THIN);
            svg.polygon(&arrow_head((from.0, y), (1.0, 0.0), 6.0), INK_FILL, None);
            svg.polygon(&arrow_head((to.0, y), (-1.0, 0.0), 6.0), INK_FILL, None);
        }
        if let Some(s) = sketch.stations.get(i) {
            svg.label((to.0 + 30.0, y + 3.0), &letter.fitted(&s.name, 50.0), letter);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sketch(shape: SketchShape, stations: usize, directions: &[f64]) -> GaugingSketch {
        GaugingSketch {
            title: "journal <left>".to_owned(),
            shape,
            stations: (0..stations)
                .map(|i| GaugingStation { name: format!("S{i}"), at_m: 0.05 * i as f64 })
                .collect(),
            directions_rad: directions.iter().map(|d| d.to_radians()).collect(),
        }
    }

    #[test]
    fn every_shape_is_drawn_inside_its_sheet() {
        use SketchShape as S;
        for shape in [
            S::Journal,
            S::Pin,
            S::Bore,
            S::Hole,
            S::Cone,
            S::Socket,
            S::Thickness,
            S::Gap,
            S::Centres,
            S::Length,
        ] {
            for stations in [0, 1, 3, 40] {
                let p = gauging_sketch(&sketch(shape, stations, &[0.0, 45.0, 90.0, 135.0]))
                    .expect("drawn");
                crate::check::check(&p);
                assert!(p.svg.contains("not to scale") && !p.svg.contains("<left>"));
                if shape.is_round() && (1..=7).contains(&stations) {
                    assert!(p.svg.contains(">S0<") && p.svg.contains("135°"));
                }
            }
        }
    }

    #[test]
    fn what_cannot_be_placed_is_refused() {
        let mut bad = sketch(SketchShape::Bore, 2, &[0.0]);
        bad.stations[1].at_m = f64::NAN;
        assert!(gauging_sketch(&bad).is_err());
        let bad = sketch(SketchShape::Bore, 2, &[f64::INFINITY]);
        assert!(gauging_sketch(&bad).is_err());
    }
}
