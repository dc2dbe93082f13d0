//! Two-point diameters of a journal or bore about its axis.

use crate::error::{DrawingError, angle, length};
use crate::lettering::wrapped;
use crate::polar_frame::{Frame, degrees};
use crate::scale::{both, decimals_mm, extent, mm, step_for};
use crate::sign::Verdict;
use crate::surface::{Bound, LimitSize, Mark, Surface};
use crate::svg::{Anchor, At, Dash, Fill, INK, Lettering, OUT, PALE, PAPER, Pen, Picture, Svg};
use std::f64::consts::PI;

/// A journal or bore as two-point diameters show it.
#[derive(Clone, Debug)]
pub struct PolarPlot {
    /// What it is.
    pub title: String,
    /// Outside or inside.
    pub surface: Surface,
    /// Diameters read, station by station along the axis.
    pub stations: Vec<StationDiameters>,
    /// Diameter as made.
    pub as_made: Option<Mark>,
    /// Limits of the diameter.
    pub limits: Vec<LimitSize>,
    /// What was found: beyond is drawn in the one colour.
    pub verdict: Verdict,
}

/// Diameters read at one station.
#[derive(Clone, Debug)]
pub struct StationDiameters {
    /// Its name.
    pub name: String,
    /// What was read; several of one direction are drawn as their mean.
    pub diameters: Vec<Diameter>,
}

/// One two-point diameter.
#[derive(Clone, Copy, Debug)]
pub struct Diameter {
    /// Direction of one of its ends, anticlockwise from the right.
    pub angle_rad: f64,
    /// Its size.
    pub diameter_m: f64,
}

/// Stations that can be told apart.
const MOST_STATIONS: usize = 8;
const WIDTH: f64 = 240.0;
const RADIUS: f64 = 70.0;
const CENTRE: At = (86.0, 100.0);
const LEGEND_X: f64 = 176.0;

/// Two-point diameters drawn about the axis, both ends of each, exaggerated about the mean.
///
/// The scale is stated on the plot as what one ring is worth. A limit or the size as made is drawn
/// as a circle where it comes near enough to be shown beside the readings, and named with its
/// distance where it does not.
///
/// # Errors
/// No diameters, or a figure that is not finite or outside what an engine has.
pub fn polar_plot(plot: &PolarPlot) -> Result<Picture, DrawingError> {
    let stations = collected(plot)?;
    let all = || stations.iter().flat_map(|s| s.diameters.iter().map(|d| d.diameter_m));
    let Some(read) = extent(all()) else {
        return Err(DrawingError::Nothing { what: "no two-point diameters" });
    };
    let mean_m = all().sum::<f64>() / all().count() as f64;
    let range = widened(read, plot)?;
    let frame = Frame::over(CENTRE, RADIUS, range);
    let mut directions: Vec<f64> = stations
        .iter()
        .flat_map(|s| s.diameters.iter().flat_map(|d| [d.angle_rad, d.angle_rad + PI]))
        .collect();
    directions.sort_by(f64::total_cmp);
    directions.dedup_by(|a, b| (*a - *b).abs() < 0.5f64.to_radians());

    let mut svg = Svg::new(WIDTH, 0.0);
    let title = Lettering::new(8.5).bold();
    svg.text((2.0, 10.0), &title.fitted(&plot.title, WIDTH - 4.0), title);
    shade_limits(&mut svg, &frame, plot);
    frame.draw(&mut svg, &directions);
    draw_circles(&mut svg, &frame, plot);
    let oval = worst_ovality(&stations);
    for (i, station) in stations.iter().enumerate().take(MOST_STATIONS) {
        draw_station(&mut svg, &frame, station, Look::of(i), plot);
    }
    if let Some(oval) = &oval {
        draw_ovality(&mut svg, &frame, oval);
    }
    let decimals = decimals_mm(frame.ring_m);
    frame.name_rings(&mut svg, &directions, |m| mm(m, decimals));
    let word = match plot.surface {
        Surface::Outside => "metal inside",
        Surface::Inside => "metal outside",
    };
    svg.text((CENTRE.0, CENTRE.1 + 2.0), word, Lettering::new(6.0).at(Anchor::Middle));
    legend(&mut svg, &stations, plot, decimals);

    let exaggeration =
        (frame.outer - frame.inner) / (frame.high_m - frame.low_m) * mean_m / frame.radius(mean_m);
    let mut notes = vec![format!(
        "1 ring = {} on diameter; departures drawn about {} times too large.",
        both(frame.ring_m),
        round_figure(exaggeration)
    )];
    if let Some(o) = &oval {
        notes.push(format!(
            "Ovality at most {}, at {}: largest at {}, smallest at {}.",
            both(o.ovality_m),
            o.station,
            degrees(o.largest_rad),
            degrees(o.smallest_rad)
        ));
    }
    notes.extend(off_the_plot(&frame, plot));
    if stations.len() > MOST_STATIONS {
        notes.push(format!("{} more stations not drawn.", stations.len() - MOST_STATIONS));
    }
    notes.push("Two-point diameters cannot see a shape with an odd number of lobes.".to_owned());
    let bottom = write_notes(&mut svg, CENTRE.1 + RADIUS + 22.0, WIDTH, &notes);
    svg.set_height(bottom);
    let description = format!("{}, polar plot. {}", plot.title, notes.join(" "));
    svg.finish(&plot.title, &description)
}

/// Small print under a plot; returns where it ends.
pub(crate) fn write_notes(svg: &mut Svg, top: f64, width: f64, notes: &[String]) -> f64 {
    let letter = Lettering::new(6.8);
    let mut y = top;
    for note in notes {
        for line in wrapped(note, width - 4.0, letter.size) {
            svg.text((2.0, y), &line, letter);
            y += 8.4;
        }
    }
    y - 4.0
}

/// Two figures of a factor: it is told to give a feeling, not to be reckoned with.
fn round_figure(factor: f64) -> String {
    let step = 10f64.powf(factor.abs().max(1.0).log10().floor() - 1.0);
    format!("{:.0}", (factor / step).round() * step)
}

/// The readings checked, those of one direction made into their mean, in order of direction.
fn collected(plot: &PolarPlot) -> Result<Vec<StationDiameters>, DrawingError> {
    let mut out = Vec::new();
    for station in &plot.stations {
        let mut by_direction: Vec<(f64, f64, f64)> = Vec::new();
        for d in &station.diameters {
            length("a diameter", d.diameter_m)?;
            // A diameter is the same from either end.
            let a = angle("a direction", d.angle_rad)?.rem_euclid(PI);
            let near = |b: f64| {
                let apart = (a - b).abs();
                apart.min(PI - apart) < 0.5f64.to_radians()
            };
            match by_direction.iter_mut().find(|(b, _, _)| near(*b)) {
                Some((_, sum, n)) => {
                    *sum += d.diameter_m;
                    *n += 1.0;
                }
                None => by_direction.push((a, d.diameter_m, 1.0)),
            }
        }
        by_direction.sort_by(|a, b| a.0.total_cmp(&b.0));
        if !by_direction.is_empty() {
            out.push(StationDiameters {
                name: station.name.clone(),
                diameters: by_direction
                    .into_iter()
                    .map(|(angle_rad, sum, n)| Diameter { angle_rad, diameter_m: sum / n })
                    .collect(),
            });
        }
    }
    Ok(out)
}

/// The range to draw: the readings, and what comes near enough not to squeeze them.
fn widened(read: (f64, f64), plot: &PolarPlot) -> Result<(f64, f64), DrawingError> {
    let span = (read.1 - read.0).max(10e-6);
    let mut range = read;
    let as_made = plot.as_made.as_ref().map(|m| m.at_m);
    for size in as_made.into_iter().chain(plot.limits.iter().map(|l| l.size_m)) {
        length("a size", size)?;
        let (low, high) = (range.0.min(size), range.1.max(size));
        if high - low <= 2.5 * span {
            range = (low, high);
        }
    }
    Ok(range)
}

fn shade_limits(svg: &mut Svg, frame: &Frame, plot: &PolarPlot) {
    for limit in plot.limits.iter().filter(|l| frame.holds(l.size_m)) {
        let r = frame.radius(limit.size_m);
        match limit.bound {
            Bound::Least => svg.ring(frame.centre, frame.inner, r, Fill::Colour(PALE)),
            Bound::Most => svg.ring(frame.centre, r, frame.outer, Fill::Colour(PALE)),
        }
    }
}

const AS_MADE: Pen = Pen { colour: INK, width: 0.7, dash: Dash::Long };
const LIMIT: Pen = Pen { colour: INK, width: 1.5, dash: Dash::Solid };

fn draw_circles(svg: &mut Svg, frame: &Frame, plot: &PolarPlot) {
    if let Some(m) = plot.as_made.as_ref().filter(|m| frame.holds(m.at_m)) {
        svg.circle(frame.centre, frame.radius(m.at_m), Fill::None, Some(AS_MADE));
    }
    for limit in plot.limits.iter().filter(|l| frame.holds(l.size_m)) {
        svg.circle(frame.centre, frame.radius(limit.size_m), Fill::None, Some(LIMIT));
    }
}

/// How a station is told from the others.
#[derive(Clone, Copy)]
pub(crate) struct Look {
    dash: Dash,
    marker: usize,
}

impl Look {
    pub(crate) fn of(position: usize) -> Look {
        const DASHES: [Dash; 4] = [Dash::Solid, Dash::Dashed, Dash::Axis, Dash::Dotted];
        Look { dash: DASHES[position % DASHES.len()], marker: position % MOST_STATIONS }
    }

    pub(crate) fn pen(self, colour: &'static str) -> Pen {
        Pen { colour, width: 0.9, dash: self.dash }
    }

    /// A mark of its own shape.
    pub(crate) fn mark(self, svg: &mut Svg, (x, y): At, colour: &'static str) {
        let r = 1.9;
        let pen = Some(Pen::ink(0.8).in_colour(colour));
        let full = if self.marker < 4 { PAPER } else { colour };
        match self.marker % 4 {
            0 => svg.circle((x, y), r, Fill::Colour(full), pen),
            1 => {
                let a = r * 0.88;
                svg.rect((x - a, y - a), 2.0 * a, 2.0 * a, Fill::Colour(full), pen);
            }
            2 => {
                let p = [(x, y - r * 1.2), (x + r * 1.1, y + r * 0.8), (x - r * 1.1, y + r * 0.8)];
                svg.polygon(&p, Fill::Colour(full), pen);
            }
            _ => {
                let a = r * 1.25;
                svg.polygon(
                    &[(x, y - a), (x + a, y), (x, y + a), (x - a, y)],
                    Fill::Colour(full),
                    pen,
                );
            }
        }
    }
}

fn draw_station(
    svg: &mut Svg,
    frame: &Frame,
    station: &StationDiameters,
    look: Look,
    plot: &PolarPlot,
) {
    let ends: Vec<(f64, f64)> = [0.0, PI]
        .into_iter()
        .flat_map(|turn| station.diameters.iter().map(move |d| (d.angle_rad + turn, d.diameter_m)))
        .collect();
    let out = |m: f64| plot.limits.iter().any(|l| l.passed_by(m));
    let any_out = ends.iter().any(|(_, m)| out(*m));
    let pen = look.pen(if any_out || plot.verdict == Verdict::Beyond { OUT } else { INK });
    for (i, from) in ends.iter().enumerate() {
        let mut to = ends[(i + 1) % ends.len()];
        if to.0 <= from.0 {
            to.0 += 2.0 * PI;
        }
        // Across more than a quarter turn nothing is known: no line.
        if to.0 - from.0 < 100f64.to_radians() {
            svg.polyline(&frame.sweep(*from, to), pen);
        }
    }
    for (a, m) in &ends {
        look.mark(svg, frame.at(*a, *m), if out(*m) { OUT } else { pen.colour });
    }
}

struct Ovality {
    station: String,
    ovality_m: f64,
    largest_rad: f64,
    smallest_rad: f64,
}

fn worst_ovality(stations: &[StationDiameters]) -> Option<Ovality> {
    let mut worst: Option<Ovality> = None;
    for s in stations.iter().filter(|s| s.diameters.len() > 1) {
        let by_size = |a: &&Diameter, b: &&Diameter| a.diameter_m.total_cmp(&b.diameter_m);
        let (Some(large), Some(small)) =
            (s.diameters.iter().max_by(by_size), s.diameters.iter().min_by(by_size))
        else {
            continue;
        };
        let ovality_m = large.diameter_m - small.diameter_m;
        if ovality_m > 0.0 && worst.as_ref().is_none_or(|w| ovality_m > w.ovality_m) {
            worst = Some(Ovality {
                station: s.name.clone(),
                ovality_m,
                largest_rad: large.angle_rad,
                smallest_rad: small.angle_rad,
            });
        }
    }
    worst
}

/// Arrow heads at the rim: outwards where it is largest, inwards where it is smallest.
fn draw_ovality(svg: &mut Svg, frame: &Frame, oval: &Ovality) {
    for (angle, outwards) in [(oval.largest_rad, 1.0), (oval.smallest_rad, -1.0)] {
        for a in [angle, angle + PI] {
            let (dx, dy) = (a.cos() * outwards, -a.sin() * outwards);
            let tip = frame.on_circle(a, frame.outer + if outwards > 0.0 { 2.0 } else { -4.0 });
            svg.polygon(&crate::svg::arrow_head(tip, (dx, dy), 6.0), Fill::Colour(INK), None);
        }
    }
}

fn legend(svg: &mut Svg, stations: &[StationDiameters], plot: &PolarPlot, decimals: usize) {
    let width = WIDTH - LEGEND_X;
    let (name, small) = (Lettering::new(7.0), Lettering::new(6.5));
    svg.text((LEGEND_X, 23.0), "station, mean", Lettering::new(6.5));
    let mut y = 33.0;
    // Where sizes differ by less than a ring is worth, one more figure tells them apart.
    let decimals = (decimals + 1).min(3);
    for (i, s) in stations.iter().enumerate().take(MOST_STATIONS) {
        let look = Look::of(i);
        svg.line((LEGEND_X, y - 2.2), (LEGEND_X + 14.0, y - 2.2), look.pen(INK));
        look.mark(svg, (LEGEND_X + 7.0, y - 2.2), INK);
        svg.text((LEGEND_X + 17.0, y), &name.fitted(&s.name, width - 17.0), name);
        let mean = s.diameters.iter().map(|d| d.diameter_m).sum::<f64>() / s.diameters.len() as f64;
        y += 7.6;
        svg.text((LEGEND_X + 17.0, y), &mm(mean, decimals), small);
        y += 9.4;
    }
    let mut line = |pen: Pen, text: &str, size: &str| {
        svg.line((LEGEND_X, y - 2.2), (LEGEND_X + 14.0, y - 2.2), pen);
        svg.text((LEGEND_X + 17.0, y), &name.fitted(text, width - 17.0), name);
        y += 7.6;
        svg.text((LEGEND_X + 17.0, y), &small.fitted(size, width - 17.0), small);
        y += 9.4;
    };
    if let Some(m) = &plot.as_made {
        line(AS_MADE, "as made", &m.text);
    }
    for limit in &plot.limits {
        line(
            LIMIT,
            &limit.text,
            &mm(limit.size_m, decimals_mm(step_for(limit.size_m, 2e4)).min(2)),
        );
    }
}

/// Sizes that would squeeze the readings into a line, told in words.
fn off_the_plot(frame: &Frame, plot: &PolarPlot) -> Vec<String> {
    let mut out = Vec::new();
    let mut tell = |what: &str, size_m: f64| {
        if size_m > frame.high_m {
            out.push(format!("{what}: {} outside the outer ring.", both(size_m - frame.high_m)));
        } else if size_m < frame.low_m {
            out.push(format!("{what}: {} inside the inner ring.", both(frame.low_m - size_m)));
        }
    };
    if let Some(m) = &plot.as_made {
        tell("As made", m.at_m);
    }
    for limit in &plot.limits {
        tell(&limit.text, limit.size_m);
    }
    out
}

#[cfg(test)]
mod tests;
