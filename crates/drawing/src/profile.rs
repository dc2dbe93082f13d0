//! Size along the axis: taper, barrel, bell-mouth.

use crate::error::{DrawingError, length};
use crate::polar::write_notes;
use crate::scale::{both, decimals_mm, extent, step_for};
use crate::sign::Verdict;
use crate::surface::{Bound, LimitSize, Mark, Surface};
use crate::svg::{Anchor, Dash, Fill, INK, Lettering, OUT, PALE, PAPER, Pen, Picture, Svg};

/// A surface as its stations show it.
#[derive(Clone, Debug)]
pub struct ProfilePlot {
    /// What it is.
    pub title: String,
    /// Outside or inside.
    pub surface: Surface,
    /// Stations.
    pub stations: Vec<ProfileStation>,
    /// Size as made.
    pub as_made: Option<Mark>,
    /// Limits of the size.
    pub limits: Vec<LimitSize>,
    /// What was found.
    pub verdict: Verdict,
    /// What else is said under the plot: taper, barrel.
    pub notes: Vec<String>,
}

/// One station.
#[derive(Clone, Debug)]
pub struct ProfileStation {
    /// Its name.
    pub name: String,
    /// Along the axis.
    pub at_m: f64,
    /// Mean size.
    pub mean_m: f64,
    /// Smallest read.
    pub least_m: f64,
    /// Largest read.
    pub most_m: f64,
}

const WIDTH: f64 = 240.0;
const LEFT: f64 = 40.0;
const RIGHT: f64 = 200.0;
const TOP: f64 = 26.0;
const BOTTOM: f64 = 124.0;

/// Mean, largest and smallest size at each station along the axis, exaggerated; what the scale is
/// worth stands at its sides, millimetres left, inches right.
///
/// # Errors
/// No stations, or a figure that is not finite or outside what an engine has.
pub fn profile_plot(plot: &ProfilePlot) -> Result<Picture, DrawingError> {
    for s in &plot.stations {
        length("the place of a station", s.at_m)?;
        length("a size", s.mean_m)?;
        length("a size", s.least_m)?;
        length("a size", s.most_m)?;
    }
    let sizes = plot.stations.iter().flat_map(|s| [s.mean_m, s.least_m, s.most_m]);
    let Some(read) = extent(sizes) else {
        return Err(DrawingError::Nothing { what: "no stations" });
    };
    let range = widened(read, plot)?;
    let step = step_for((range.1 - range.0).max(4e-6), 4.0);
    let low = ((range.0 - 0.15 * step) / step).floor() * step;
    let high = ((range.1 + 0.15 * step) / step).ceil() * step;
    let y = |m: f64| BOTTOM - (m - low) / (high - low) * (BOTTOM - TOP);
    let (first, last) = extent(plot.stations.iter().map(|s| s.at_m)).unwrap_or((0.0, 0.0));
    let x = |m: f64| {
        if last > first {
            LEFT + 14.0 + (m - first) / (last - first) * (RIGHT - LEFT - 28.0)
        } else {
            (LEFT + RIGHT) / 2.0
        }
    };

    let mut svg = Svg::new(WIDTH, 0.0);
    let title = Lettering::new(8.5).bold();
    svg.text((2.0, 10.0), &title.fitted(&plot.title, WIDTH - 4.0), title);
    for limit in plot.limits.iter().filter(|l| (low..=high).contains(&l.size_m)) {
        let at = y(limit.size_m);
        let (top, height) = match limit.bound {
            Bound::Least => (at, BOTTOM - at),
            Bound::Most => (TOP, at - TOP),
        };
        svg.rect((LEFT, top), RIGHT - LEFT, height, Fill::Colour(PALE), None);
    }
    axes(&mut svg, (low, high, step), y);
    if let Some(m) = plot.as_made.as_ref().filter(|m| (low..=high).contains(&m.at_m)) {
        let pen = Pen::ink(0.7).dashed(Dash::Long);
        svg.line((LEFT, y(m.at_m)), (RIGHT, y(m.at_m)), pen);
    }
    for limit in plot.limits.iter().filter(|l| (low..=high).contains(&l.size_m)) {
        svg.line((LEFT, y(limit.size_m)), (RIGHT, y(limit.size_m)), Pen::ink(1.5));
    }
    draw_stations(&mut svg, plot, x, y);
    name_lines(&mut svg, plot, (low, high), y);

    svg.text((2.0, 21.0), "mm", Lettering::new(6.5));
    svg.text((WIDTH - 2.0, 21.0), "in", Lettering::new(6.5).at(Anchor::End));
    let mut notes = vec![format!(
        "Up is larger; 1 division = {}. Dots: mean; bars: smallest to largest read.",
        both(step)
    )];
    if last > first {
        notes.push(format!("{:.0} mm between the first and last station.", (last - first) * 1e3));
    } else {
        notes.push("One place along the axis: taper cannot be seen.".to_owned());
    }
    notes.extend(off_the_plot((low, high), plot));
    notes.extend(plot.notes.iter().cloned());
    let bottom = write_notes(&mut svg, BOTTOM + 25.0, WIDTH, &notes);
    svg.set_height(bottom);
    let description = format!("{}, sizes along the axis. {}", plot.title, notes.join(" "));
    svg.finish(&plot.title, &description)
}

fn widened(read: (f64, f64), plot: &ProfilePlot) -> Result<(f64, f64), DrawingError> {
    let span = (read.1 - read.0).max(10e-6);
    let mut range = read;
    let as_made = plot.as_made.as_ref().map(|m| m.at_m);
    for size in as_made.into_iter().chain(plot.limits.iter().map(|l| l.size_m)) {
        length("a size", size)?;
        let (low, high) = (range.0.min(size), range.1.max(size));
        if high - low <= 5.0 * span {
            range = (low, high);
        }
    }
    Ok(range)
}

fn axes(svg: &mut Svg, (low, high, step): (f64, f64, f64), y: impl Fn(f64) -> f64) {
    let letter = Lettering::new(6.5);
    let decimals = decimals_mm(step);
    // As many decimals of an inch as tell the divisions apart.
    let inch_decimals = if step < 12e-6 { 5 } else { 4 };
    let divisions = ((high - low) / step).round().clamp(1.0, 40.0) as usize;
    for i in 0..=divisions {
        let m = low + i as f64 * step;
        svg.line((LEFT, y(m)), (RIGHT, y(m)), Pen::grey(0.3));
        let metric = format!("{:.*}", decimals, m * 1e3);
        let imperial = format!("{:.*}", inch_decimals, m / 25.4e-3);
        svg.text((LEFT - 3.0, y(m) + 2.1), &metric, letter.at(Anchor::End));
        svg.text((RIGHT + 3.0, y(m) + 2.1), &imperial, letter);
    }
    svg.line((LEFT, TOP), (LEFT, BOTTOM), Pen::ink(0.6));
    svg.line((RIGHT, TOP), (RIGHT, BOTTOM), Pen::ink(0.6));
}

fn draw_stations(
    svg: &mut Svg,
    plot: &ProfilePlot,
    x: impl Fn(f64) -> f64,
    y: impl Fn(f64) -> f64,
) {
    let mut order: Vec<&ProfileStation> = plot.stations.iter().collect();
    order.sort_by(|a, b| a.at_m.total_cmp(&b.at_m));
    let ink = if plot.verdict == Verdict::Beyond { OUT } else { INK };
    let line: Vec<(f64, f64)> = order.iter().map(|s| (x(s.at_m), y(s.mean_m))).collect();
    if line.len() > 1 {
        svg.polyline(&line, Pen::ink(1.1).in_colour(ink));
    }
    let out = |m: f64| plot.limits.iter().any(|l| l.passed_by(m));
    // Names are set where they do not run into one another.
    let letter = Lettering::new(7.0).at(Anchor::Middle);
    let mut free_from = f64::NEG_INFINITY;
    for s in order {
        let at = x(s.at_m);
        let colour = if out(s.least_m) || out(s.most_m) { OUT } else { ink };
        let pen = Pen::ink(0.8).in_colour(colour);
        svg.line((at, y(s.most_m)), (at, y(s.least_m)), pen);
        for end in [s.most_m, s.least_m] {
            svg.line((at - 3.0, y(end)), (at + 3.0, y(end)), pen);
        }
        svg.circle((at, y(s.mean_m)), 2.0, Fill::Colour(colour), None);
        let name = letter.fitted(&s.name, 48.0);
        let half = letter.width(&name) / 2.0;
        if at - half > free_from {
            svg.line((at, BOTTOM), (at, BOTTOM + 2.5), Pen::ink(0.6));
            svg.text((at, BOTTOM + 10.0), &name, letter);
            free_from = at + half + 3.0;
        }
    }
}

/// What the level lines are, written on them at the right inside edge.
fn name_lines(svg: &mut Svg, plot: &ProfilePlot, (low, high): (f64, f64), y: impl Fn(f64) -> f64) {
    let letter = Lettering::new(6.5).at(Anchor::End);
    let mut taken: Vec<f64> = Vec::new();
    let mut name = |svg: &mut Svg, size_m: f64, text: &str| {
        if !(low..=high).contains(&size_m) {
            return;
        }
        let mut at = y(size_m) - 2.5;
        if at - 6.0 < TOP {
            at = y(size_m) + 7.0;
        }
        while taken.iter().any(|t| (t - at).abs() < 6.5) {
            at += 6.5;
        }
        taken.push(at);
        let text = letter.fitted(text, 90.0);
        let width = letter.width(&text);
        let corner = (RIGHT - 4.0 - width, at - 5.0);
        svg.rect(corner, width + 2.0, 6.4, Fill::Colour(PAPER), None);
        svg.text((RIGHT - 3.0, at), &text, letter);
    };
    if let Some(m) = &plot.as_made {
        name(svg, m.at_m, &format!("as made {}", m.text));
    }
    for limit in &plot.limits {
        name(svg, limit.size_m, &limit.text);
    }
}

fn off_the_plot((low, high): (f64, f64), plot: &ProfilePlot) -> Vec<String> {
    let mut out = Vec::new();
    let mut tell = |what: String, size_m: f64| {
        if size_m > high {
            out.push(format!("{what}: {} above the plot.", both(size_m - high)));
        } else if size_m < low {
            out.push(format!("{what}: {} below the plot.", both(low - size_m)));
        }
    };
    if let Some(m) = &plot.as_made {
        tell(format!("As made {}", m.text), m.at_m);
    }
    for limit in &plot.limits {
        tell(limit.text.clone(), limit.size_m);
    }
    out
}

#[cfg(test)]
mod tests;
