//! Turning moment or forces through a revolution.

use super::axes::{Axes, round_step};
use super::svg::{Anchor, DARK, DASHES, INK, Pen, RED, Svg};
use super::{DrawingError, DrawingStyle};

/// What is plotted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PlottedLoad {
    /// Turning moments, N·m.
    Moment,
    /// Forces, N.
    Force,
}

/// One curve, at equal steps of the wheel from 0.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LoadCurve<'a> {
    /// Its name.
    pub name: &'a str,
    /// Values, N·m or N.
    pub values: &'a [f64],
    /// Drawn heavier, as the sum of the others is.
    pub heavy: bool,
}

/// A plot of loads against the wheel angle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LoadPlot<'a> {
    /// Title.
    pub title: &'a str,
    /// What is plotted.
    pub load: PlottedLoad,
    /// What positive means: "driving forward".
    pub positive: &'a str,
    /// Curves, alike in their number of steps.
    pub curves: &'a [LoadCurve<'a>],
    /// A level to mark, with its name: the mean.
    pub level: Option<(&'a str, f64)>,
}

/// Loads against the wheel angle, one curve a cylinder, rod or box.
///
/// # Errors
/// No curve, more than twelve, curves without a step or of different lengths; a value that is no
/// number.
pub fn load_plot(plot: &LoadPlot<'_>, style: &DrawingStyle) -> Result<String, DrawingError> {
    style.check()?;
    let steps = plot.curves.first().map_or(0, |c| c.values.len());
    let what = "curves of a load plot";
    if !(1..=12).contains(&plot.curves.len()) {
        return Err(DrawingError::Unequal { what, given: plot.curves.len(), wanted: 1 });
    }
    if let Some(odd) = plot.curves.iter().find(|c| c.values.len() != steps || steps == 0) {
        let what = "steps of a curve";
        return Err(DrawingError::Unequal { what, given: odd.values.len(), wanted: steps.max(1) });
    }
    let unit = match plot.load {
        PlottedLoad::Moment => style.units.moment(),
        PlottedLoad::Force => style.units.force(),
    };
    let all = || plot.curves.iter().flat_map(|c| c.values).map(|v| v * unit.per_si);
    let (most, least) = (all().fold(0.0, f64::max), all().fold(0.0, f64::min));
    if !(most.is_finite() && least.is_finite() && all().all(f64::is_finite)) {
        return Err(DrawingError::NoPlace { what: "loads" });
    }
    let step = round_step((most - least).max(1e-3), 7.0);
    let text = style.text;
    let in_key = plot.curves.len() + usize::from(plot.level.is_some());
    let key_rows = in_key.div_ceil(3) as f64;
    let axes = Axes {
        left: 5.0 * text,
        top: (3.6 + 1.5 * key_rows) * text,
        width: style.width - 6.5 * text,
        height: 0.40 * style.width,
        x: (0.0, 360.0),
        y: ((least / step).floor() * step, (most / step).ceil().max(1.0) * step),
    };
    let mut svg = Svg::new("the load plot", style);
    svg.sized_label((1.2 * text, 1.1 * text), Anchor::Start, 1.15, plot.title);
    let over = format!("{} ({})", unit.name, plot.positive);
    axes.draw(&mut svg, 30.0, step, ["wheel angle, degrees", &over]);
    let key = |svg: &mut Svg, i: usize, pen: Pen, words: &str| {
        let (column, row) = ((i % 3) as f64, (i / 3) as f64);
        let (x, y) = (axes.left + column * axes.width / 3.0, (2.6 + 1.5 * row) * text);
        svg.line((x, y), (x + 3.0 * text, y), pen);
        svg.sized_label((x + 3.6 * text, y), Anchor::Start, 0.85, words);
    };
    // The level first, so that no curve is hidden by it.
    if let Some((name, level)) = plot.level {
        let (y, pen) = (level * unit.per_si, Pen::line(DARK, 1.0).dashed("1 5"));
        svg.line(axes.at(0.0, y), axes.at(360.0, y), pen);
        key(&mut svg, plot.curves.len(), pen, &format!("{name} {}", unit.say(level)));
    }
    for (i, c) in plot.curves.iter().enumerate() {
        let (colour, width) = if c.heavy { (RED, 2.4) } else { (INK, 1.3) };
        // The sum of the others is told by its weight, so it need not be broken up.
        let dash = if c.heavy { "" } else { DASHES[i % DASHES.len()] };
        let pen = Pen::line(colour, width).dashed(dash);
        let points: Vec<(f64, f64)> = (0..=steps)
            .map(|k| (360.0 * k as f64 / steps as f64, unit.per_si * c.values[k % steps]))
            .collect();
        axes.curve(&mut svg, &points, pen);
        key(&mut svg, i, pen, c.name);
    }
    svg.finish(style.width, axes.top + axes.height + 3.2 * text, plot.title)
}
