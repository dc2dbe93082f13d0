//! A dial traverse: departures from round, with the circles that judge them.

use crate::error::{DrawingError, angle, length};
use crate::polar::{Look, write_notes};
use crate::polar_frame::{Frame, degrees};
use crate::scale::{both, decimals_mm, extent, mm};
use crate::svg::{At, Dash, Fill, INK, Lettering, Pen, Picture, Svg};
use std::f64::consts::TAU;

/// Dial readings about an axis of turning, station by station.
#[derive(Clone, Debug)]
pub struct TraversePlot {
    /// What was traversed.
    pub title: String,
    /// Stations.
    pub stations: Vec<TraverseStation>,
}

/// The traverse of one station.
#[derive(Clone, Debug)]
pub struct TraverseStation {
    /// Its name.
    pub name: String,
    /// What the dial showed.
    pub points: Vec<DialPoint>,
    /// Least-squares circle, where the readings fix one.
    pub least_squares: Option<OffsetCircle>,
    /// Minimum-zone circles, where the readings fix them.
    pub minimum_zone: Option<ZoneCircles>,
}

/// One dial reading.
#[derive(Clone, Copy, Debug)]
pub struct DialPoint {
    /// Direction of the point under the dial, anticlockwise from the right.
    pub angle_rad: f64,
    /// Radial departure, positive where there is more radius.
    pub radial_m: f64,
}

/// A circle about a centre off the axis of turning.
#[derive(Clone, Copy, Debug)]
pub struct OffsetCircle {
    /// Its centre towards direction 0.
    pub x_m: f64,
    /// Its centre towards a quarter turn.
    pub y_m: f64,
    /// Its radius less the radius at which the dial reads nought.
    pub radial_m: f64,
}

/// The two circles of the narrowest zone.
#[derive(Clone, Copy, Debug)]
pub struct ZoneCircles {
    /// The circle half-way between them.
    pub middle: OffsetCircle,
    /// Distance between them: roundness.
    pub roundness_m: f64,
}

impl OffsetCircle {
    /// Its departure in a direction, to first order in the offset.
    fn at(&self, angle_rad: f64) -> f64 {
        self.radial_m + self.x_m * angle_rad.cos() + self.y_m * angle_rad.sin()
    }

    fn check(&self) -> Result<(), DrawingError> {
        length("a circle's offset", self.x_m)?;
        length("a circle's offset", self.y_m)?;
        length("a circle's radius", self.radial_m)?;
        Ok(())
    }
}

const MOST_STATIONS: usize = 4;
const WIDTH: f64 = 240.0;
const RADIUS: f64 = 70.0;
const CENTRE: At = (86.0, 100.0);
const LEGEND_X: f64 = 176.0;

/// Dial readings drawn about the centre of each station's least-squares circle (so that being off
/// the axis of turning does not hide the shape), with that circle and the minimum-zone circles of
/// the first station.
///
/// # Errors
/// No readings, or a figure that is not finite or outside what an engine has.
pub fn traverse_plot(plot: &TraversePlot) -> Result<Picture, DrawingError> {
    let mut curves = Vec::new();
    for s in plot.stations.iter().filter(|s| !s.points.is_empty()).take(MOST_STATIONS) {
        curves.push((s, centred(s)?));
    }
    let Some((first, _)) = curves.first() else {
        return Err(DrawingError::Nothing { what: "no dial readings" });
    };
    let zone = zone_of(first);
    let departures = curves.iter().flat_map(|(_, c)| c.iter().map(|p| p.1));
    let edges = zone.iter().flat_map(|(inner, outer)| inner.iter().chain(outer).map(|p| p.1));
    let Some((low, high)) = extent(departures.chain(edges).chain([0.0])) else {
        return Err(DrawingError::Nothing { what: "no dial readings" });
    };
    let frame = Frame::over(CENTRE, RADIUS, (low, high));
    let directions: Vec<f64> =
        curves.iter().flat_map(|(_, c)| c.iter().map(|p| p.0.rem_euclid(TAU))).collect();
    let marked = [0.0, TAU / 4.0, TAU / 2.0, 3.0 * TAU / 4.0];

    let mut svg = Svg::new(WIDTH, 0.0);
    let title = Lettering::new(8.5).bold();
    svg.text((2.0, 10.0), &title.fitted(&plot.title, WIDTH - 4.0), title);
    frame.draw(&mut svg, &marked);
    if first.least_squares.is_some() {
        svg.circle(CENTRE, frame.radius(0.0), Fill::None, Some(LEAST_SQUARES));
    }
    if let Some((inner, outer)) = &zone {
        for circle in [inner, outer] {
            let points: Vec<At> = circle.iter().map(|(a, m)| frame.at(*a, *m)).collect();
            svg.polygon(&points, Fill::None, Some(ZONE));
        }
    }
    for (i, (_, curve)) in curves.iter().enumerate() {
        draw_curve(&mut svg, &frame, curve, Look::of(i));
    }
    let decimals = decimals_mm(frame.ring_m).max(2);
    let named: Vec<f64> = directions.iter().chain(&marked).copied().collect();
    frame.name_rings(&mut svg, &named, |m| mm(m, decimals));
    legend(&mut svg, &curves, zone.is_some());

    let notes = notes(&frame, &curves, plot.stations.len());
    let bottom = write_notes(&mut svg, CENTRE.1 + RADIUS + 22.0, WIDTH, &notes);
    svg.set_height(bottom);
    let description = format!("{}, dial traverse. {}", plot.title, notes.join(" "));
    svg.finish(&plot.title, &description)
}

const LEAST_SQUARES: Pen = Pen { colour: INK, width: 0.8, dash: Dash::Axis };
const ZONE: Pen = Pen { colour: INK, width: 0.7, dash: Dash::Long };

/// Readings of a station as departures from its least-squares circle (from their mean where there
/// is none), in order of direction.
fn centred(s: &TraverseStation) -> Result<Vec<(f64, f64)>, DrawingError> {
    for c in s.least_squares.iter().chain(s.minimum_zone.iter().map(|z| &z.middle)) {
        c.check()?;
    }
    if let Some(z) = &s.minimum_zone {
        length("roundness", z.roundness_m)?;
    }
    let mut sum = 0.0;
    for p in &s.points {
        angle("a direction", p.angle_rad)?;
        sum += length("a dial reading", p.radial_m)?;
    }
    let mean = OffsetCircle { x_m: 0.0, y_m: 0.0, radial_m: sum / s.points.len() as f64 };
    let about = s.least_squares.unwrap_or(mean);
    let mut curve: Vec<(f64, f64)> = s
        .points
        .iter()
        .map(|p| (p.angle_rad.rem_euclid(TAU), p.radial_m - about.at(p.angle_rad)))
        .collect();
    curve.sort_by(|a, b| a.0.total_cmp(&b.0));
    Ok(curve)
}

type Curve = Vec<(f64, f64)>;

/// The minimum-zone circles seen from the least-squares centre.
fn zone_of(s: &TraverseStation) -> Option<(Curve, Curve)> {
    let (about, zone) = s.least_squares.zip(s.minimum_zone)?;
    let circle = |half: f64| {
        (0..72)
            .map(|i| f64::from(i) / 72.0 * TAU)
            .map(|a| (a, zone.middle.at(a) - about.at(a) + half))
            .collect()
    };
    Some((circle(-zone.roundness_m / 2.0), circle(zone.roundness_m / 2.0)))
}

fn draw_curve(svg: &mut Svg, frame: &Frame, curve: &Curve, look: Look) {
    for (i, from) in curve.iter().enumerate() {
        let mut to = curve[(i + 1) % curve.len()];
        if to.0 <= from.0 {
            to.0 += TAU;
        }
        if to.0 - from.0 < 100f64.to_radians() {
            svg.polyline(&frame.sweep(*from, to), look.pen(INK));
        }
    }
    // Past some two dozen the marks touch and hide the line they stand on.
    if curve.len() <= 24 {
        for (a, m) in curve {
            look.mark(svg, frame.at(*a, *m), INK);
        }
    }
}

fn legend(svg: &mut Svg, curves: &[(&TraverseStation, Curve)], zone: bool) {
    let width = WIDTH - LEGEND_X - 17.0;
    let name = Lettering::new(7.0);
    let mut y = 28.0;
    for (i, (s, _)) in curves.iter().enumerate() {
        let look = Look::of(i);
        svg.line((LEGEND_X, y - 2.2), (LEGEND_X + 14.0, y - 2.2), look.pen(INK));
        look.mark(svg, (LEGEND_X + 7.0, y - 2.2), INK);
        svg.text((LEGEND_X + 17.0, y), &name.fitted(&s.name, width), name);
        y += 12.0;
    }
    let mut entry = |pen: Pen, text: &str| {
        svg.line((LEGEND_X, y - 2.2), (LEGEND_X + 14.0, y - 2.2), pen);
        svg.text((LEGEND_X + 17.0, y), text, name);
        y += 12.0;
    };
    entry(LEAST_SQUARES, "least squares");
    if zone {
        entry(ZONE, "narrowest zone");
    }
}

fn notes(frame: &Frame, curves: &[(&TraverseStation, Curve)], given: usize) -> Vec<String> {
    let mut notes = vec![format!("1 ring = {} on radius.", both(frame.ring_m))];
    for (s, _) in curves {
        let mut said = Vec::new();
        if let Some(z) = &s.minimum_zone {
            said.push(format!("roundness {} on radius by the narrowest zone", both(z.roundness_m)));
        }
        if let Some(c) = &s.least_squares {
            let off = c.x_m.hypot(c.y_m);
            if off > 0.5e-6 {
                let towards = c.y_m.atan2(c.x_m).rem_euclid(TAU);
                said.push(format!(
                    "centre {} off the axis of turning towards {}, taken out here",
                    both(off),
                    degrees(towards)
                ));
            }
        }
        if !said.is_empty() {
            notes.push(format!("{}: {}.", s.name, said.join("; ")));
        }
    }
    if given > curves.len() {
        notes.push(format!("{} station(s) not drawn.", given - curves.len()));
    }
    notes
}

#[cfg(test)]
mod tests;
