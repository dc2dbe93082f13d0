//! A figure between its limits, to be read at a glance.

use crate::error::{DrawingError, length};
use crate::scale::extent;
use crate::sign::Verdict;
use crate::surface::Mark;
use crate::svg::{Anchor, At, Dash, Fill, Lettering, PALE, PAPER, Pen, Picture, Svg};

/// A figure against a limit.
#[derive(Clone, Debug)]
pub struct LimitBar {
    /// What it is of: `clearance in service`.
    pub name: String,
    /// Not less than.
    pub least: Option<Mark>,
    /// Not more than.
    pub most: Option<Mark>,
    /// As made, for how far it has come.
    pub as_made: Option<Mark>,
    /// Guard band on either side of each limit.
    pub guard_m: f64,
    /// The figure; absent when it could not be had.
    pub value: Option<Mark>,
    /// Its expanded uncertainty.
    pub expanded_m: f64,
    /// What was found.
    pub verdict: Verdict,
}

const WIDTH: f64 = 240.0;
const LEFT: f64 = 2.0;
const RIGHT: f64 = 238.0;
const BAR_TOP: f64 = 22.0;
const BAR: f64 = 11.0;
const HEIGHT: f64 = 45.0;

/// A horizontal bar: white where the figure is within, grey where it is beyond, hatched where it
/// cannot be told, the figure a diamond with its expanded uncertainty as a whisker.
///
/// # Errors
/// No limit, limits crossed, a negative width, or a figure that is not finite.
pub fn limit_bar(bar: &LimitBar) -> Result<Picture, DrawingError> {
    let marks = [&bar.least, &bar.most, &bar.as_made, &bar.value];
    for m in marks.into_iter().flatten() {
        length("a figure on the bar", m.at_m)?;
    }
    for (what, width) in [("guard band", bar.guard_m), ("uncertainty", bar.expanded_m)] {
        length(what, width)?;
        if width < 0.0 {
            return Err(DrawingError::OutOfRange {
                what,
                value: width,
                least: 0.0,
                most: crate::error::LONGEST_M,
                unit: "m",
            });
        }
    }
    if bar.least.is_none() && bar.most.is_none() {
        return Err(DrawingError::Nothing { what: "no limit" });
    }
    if let (Some(a), Some(b)) = (&bar.least, &bar.most)
        && a.at_m > b.at_m
    {
        return Err(DrawingError::OutOfRange {
            what: "least",
            value: a.at_m,
            least: -crate::error::LONGEST_M,
            most: b.at_m,
            unit: "m",
        });
    }
    let (low, high) = range(bar);
    let x = |m: f64| (LEFT + (m - low) / (high - low) * (RIGHT - LEFT)).clamp(LEFT, RIGHT);

    let mut svg = Svg::new(WIDTH, HEIGHT);
    heading(&mut svg, bar);
    zones(&mut svg, bar, x);
    marks_under(&mut svg, bar, x);
    if let Some(value) = &bar.value {
        let middle = BAR_TOP + BAR / 2.0;
        let ink = bar.verdict.ink();
        let at = x(value.at_m);
        let (from, to) = (x(value.at_m - bar.expanded_m), x(value.at_m + bar.expanded_m));
        let pen = Pen::ink(1.3).in_colour(ink);
        svg.line((from, middle), (to, middle), pen);
        for end in [from, to] {
            svg.line((end, middle - 3.2), (end, middle + 3.2), pen);
        }
        let r = 3.0;
        svg.polygon(
            &[(at, middle - r), (at + r, middle), (at, middle + r), (at - r, middle)],
            Fill::Colour(ink),
            Some(Pen::ink(0.7).in_colour(PAPER)),
        );
        let letter = Lettering::new(7.2).bold();
        place(&mut svg, at, BAR_TOP - 2.8, &value.text, letter);
    }
    let word = bar.verdict.word();
    let said = |m: &Option<Mark>, what: &str| {
        m.as_ref().map_or_else(String::new, |m| format!(", {what} {}", m.text))
    };
    let description = format!(
        "{}: {word}{}{}{}",
        bar.name,
        said(&bar.value, "figure"),
        said(&bar.least, "least"),
        said(&bar.most, "most")
    );
    svg.finish(&bar.name, &description)
}

/// Limits, guard bands and the whisker, with room beside them.
fn range(bar: &LimitBar) -> (f64, f64) {
    let limits = [&bar.least, &bar.most].into_iter().flatten();
    let around = limits.flat_map(|m| [m.at_m - 2.0 * bar.guard_m, m.at_m + 2.0 * bar.guard_m]);
    let value = bar.value.iter().flat_map(|v| [v.at_m - bar.expanded_m, v.at_m + bar.expanded_m]);
    let as_made = bar.as_made.iter().map(|m| m.at_m);
    let (low, high) = extent(around.chain(value).chain(as_made)).unwrap_or((0.0, 1e-3));
    let room = (0.09 * (high - low)).max(2e-6);
    (low - room, high + room)
}

fn heading(svg: &mut Svg, bar: &LimitBar) {
    let word = Lettering::new(8.0).bold().at(Anchor::End);
    svg.text((RIGHT, 8.5), bar.verdict.word(), word);
    let sign_x = RIGHT - word.width(bar.verdict.word()) - 7.0;
    svg.sign((sign_x, 6.0), 7.0, bar.verdict);
    let name = Lettering::new(8.0);
    svg.text((LEFT, 8.5), &name.fitted(&bar.name, sign_x - 12.0 - LEFT), name);
}

fn zones(svg: &mut Svg, bar: &LimitBar, x: impl Fn(f64) -> f64) {
    let least = bar.least.as_ref().map(|m| m.at_m);
    let most = bar.most.as_ref().map(|m| m.at_m);
    if let Some(m) = least {
        svg.rect((LEFT, BAR_TOP), x(m) - LEFT, BAR, Fill::Colour(PALE), None);
    }
    if let Some(m) = most {
        svg.rect((x(m), BAR_TOP), RIGHT - x(m), BAR, Fill::Colour(PALE), None);
    }
    for m in least.into_iter().chain(most) {
        let (from, to) = (x(m - bar.guard_m), x(m + bar.guard_m));
        svg.hatch((from, BAR_TOP), to - from, BAR, 2.6, Pen::ink(0.45));
    }
    for edge in [BAR_TOP, BAR_TOP + BAR] {
        svg.line((LEFT, edge), (RIGHT, edge), Pen::ink(0.6));
    }
    for m in least.into_iter().chain(most) {
        svg.line((x(m), BAR_TOP - 2.0), (x(m), BAR_TOP + BAR + 3.0), Pen::ink(1.6));
    }
    if let Some(m) = &bar.as_made {
        let pen = Pen::ink(0.7).dashed(Dash::Dashed);
        svg.line((x(m.at_m), BAR_TOP), (x(m.at_m), BAR_TOP + BAR + 3.0), pen);
    }
}

/// Limits under the bar, moved apart where they would run into one another; as made only where
/// there is room, for the limits matter more.
fn marks_under(svg: &mut Svg, bar: &LimitBar, x: impl Fn(f64) -> f64) {
    let letter = Lettering::new(6.8);
    let y = BAR_TOP + BAR + 10.0;
    let most_width = if bar.least.is_some() && bar.most.is_some() { 114.0 } else { 150.0 };
    let set = |mark: &Mark, what: &str| {
        let text = letter.fitted(&format!("{what} {}", mark.text), most_width);
        let width = letter.width(&text);
        (left_end(x(mark.at_m), width), width, text)
    };
    let mut taken: Vec<(f64, f64, String)> = Vec::new();
    taken.extend(bar.least.as_ref().map(|m| set(m, "least")));
    taken.extend(bar.most.as_ref().map(|m| set(m, "most")));
    if let ([a, b], Some(least), Some(most)) = (&mut taken[..], &bar.least, &bar.most) {
        let between = (x(least.at_m) + x(most.at_m)) / 2.0;
        let between = between.min(RIGHT - b.1 - 3.0).max(LEFT + a.1 + 3.0);
        a.0 = a.0.min(between - 3.0 - a.1);
        b.0 = b.0.max(between + 3.0);
    }
    for (from, _, text) in &taken {
        svg.text((*from, y), text, letter);
    }
    let Some(as_made) = &bar.as_made else { return };
    let (wished, width, text) = set(as_made, "as made");
    let beside = |t: &(f64, f64, String)| [t.0 - 6.0 - width, t.0 + t.1 + 6.0];
    let fits = |from: &f64| {
        *from >= LEFT
            && from + width <= RIGHT
            && taken.iter().all(|t| from + width + 4.0 <= t.0 || *from >= t.0 + t.1 + 4.0)
    };
    // Not further off than its own width: it must still be plain which line it names.
    let near = |from: &f64| (from - wished).abs() <= width;
    let places = std::iter::once(wished).chain(taken.iter().flat_map(beside));
    if let Some(from) = places.filter(near).find(fits) {
        svg.text((from, y), &text, letter);
    }
}

/// Where a centred text begins that is kept on the picture.
fn left_end(middle: f64, width: f64) -> f64 {
    (middle - width / 2.0).min(RIGHT - width).max(LEFT)
}

fn place(svg: &mut Svg, middle: f64, y: f64, text: &str, letter: Lettering) {
    let text = letter.fitted(text, RIGHT - LEFT);
    let at: At = (left_end(middle, letter.width(&text)), y);
    svg.text(at, &text, letter);
}

#[cfg(test)]
mod tests;
