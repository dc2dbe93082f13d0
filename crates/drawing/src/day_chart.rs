//! A plan by day: a row for each person and piece of kit, what is waited for, and where the engine
//! stands along the bottom. Days are panels, set one after another and line below line.
//!
//! Everything can be told apart without colour: work on the engine is a white bar, at the bench a
//! hatched one, a lift has a heavy outline, a hold point is black, a wait is a dotted line, a move
//! of the engine is closely hatched.

use crate::svg::{Anchor, Dash, Fill, GREY, INK, Lettering, PALE, PAPER, Pen, Svg};
use crate::{DrawingError, Picture};

/// A clock minute of a panel.
pub type When = (usize, u32);

/// How a bar looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// Work on the engine.
    OnEngine,
    /// Work at the bench.
    Bench,
    /// A lift, or a load on jacks.
    Lift,
    /// A hold point.
    Hold,
    /// The engine is moved.
    Move,
    /// The engine stands.
    Stands,
    /// Something is waited for.
    Wait,
}

/// One bar.
#[derive(Clone, Debug, PartialEq)]
pub struct Bar {
    /// From.
    pub from: When,
    /// Until.
    pub until: When,
    /// Its number in the key.
    pub number: Option<usize>,
    /// Words, shown where there is room.
    pub label: String,
    /// Look.
    pub look: Look,
}

/// One row.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Name.
    pub name: String,
    /// It is a person; other rows are left out of a line of panels in which they have no bar.
    pub person: bool,
    /// Bars, none over another.
    pub bars: Vec<Bar>,
    /// When it is not there: panel, from, until.
    pub away: Vec<(usize, u32, u32)>,
}

/// One day.
#[derive(Clone, Debug, PartialEq)]
pub struct Panel {
    /// Words over it.
    pub label: String,
    /// First clock minute.
    pub opens_min: u32,
    /// Last clock minute.
    pub closes_min: u32,
    /// When nobody is there.
    pub empty: Vec<(u32, u32)>,
}

/// A plan by day.
#[derive(Clone, Debug, PartialEq)]
pub struct DayChart {
    /// Title.
    pub title: String,
    /// Days.
    pub panels: Vec<Panel>,
    /// People first, then kit.
    pub rows: Vec<Row>,
    /// Where the engine stands and when it is moved.
    pub engine: Vec<Bar>,
    /// What is waited for.
    pub waits: Vec<Bar>,
    /// Numbers and what they stand for.
    pub key: Vec<(usize, String)>,
}

/// Width of the sheet: A4 across, less its margins.
const WIDTH: f64 = 780.0;
/// A single day is drawn to be read on a page or an upright sheet: this much for an hour, and no
/// narrower than its key.
const HOUR_OF_ONE_DAY: f64 = 56.0;
const NARROWEST: f64 = 330.0;
const NAMES: f64 = 78.0;
const MARGIN: f64 = 6.0;
const HOUR: f64 = 44.0;
const ROW: f64 = 15.0;
const GAP: f64 = 7.0;
const SMALL: Lettering = Lettering::new(6.8);
const USUAL: Lettering = Lettering::new(8.5);
/// Most panels and bars that are drawn: more is no picture.
const MOST: usize = 20_000;

/// Draws a plan.
///
/// # Errors
/// No days; too many; bars outside the days.
pub fn day_chart(chart: &DayChart) -> Result<Picture, DrawingError> {
    if chart.panels.is_empty() {
        return Err(DrawingError::Nothing { what: "days with work in them" });
    }
    let bars: usize = chart.rows.iter().map(|r| r.bars.len()).sum();
    let count = bars.max(chart.panels.len()) + chart.waits.len() + chart.engine.len();
    if count > MOST {
        return Err(DrawingError::OutOfRange {
            what: "number of bars",
            value: count as f64,
            least: 1.0,
            most: MOST as f64,
            unit: "bars",
        });
    }
    // Once to see how high it comes, once on a sheet of that height.
    let (_, high) = drawn(chart, 100.0);
    let (svg, _) = drawn(chart, high);
    let people = chart.rows.iter().filter(|r| r.person).count();
    let about = format!(
        "{}: {} works of {people} people over {} days, with the position of the engine",
        chart.title,
        chart.key.len(),
        chart.panels.len()
    );
    svg.finish(&chart.title, &about)
}

/// Width of the sheet for a chart.
fn width(chart: &DayChart) -> f64 {
    match chart.panels.as_slice() {
        [day] => {
            let hours = minutes(day) / 60.0;
            (NAMES + 2.0 * MARGIN + HOUR_OF_ONE_DAY * hours).clamp(NARROWEST, WIDTH)
        }
        _ => WIDTH,
    }
}

fn drawn(chart: &DayChart, high: f64) -> (Svg, f64) {
    let mut svg = Svg::new(width(chart), high);
    let mut y = MARGIN + 12.0;
    svg.text((MARGIN, y), &chart.title, USUAL.bold());
    y += 6.0;
    let lines = lines(chart);
    for (i, line) in lines.iter().enumerate() {
        let next = lines.get(i + 1).map_or(chart.panels.len(), |l| l.first);
        y = panel_line(&mut svg, chart, line, next, y);
        y += 12.0;
    }
    y = key(&mut svg, chart, y);
    (svg, y + MARGIN)
}

/// Panels beside each other.
struct PanelLine {
    first: usize,
    /// Left edge of each panel.
    left: Vec<f64>,
    /// Points a minute.
    scale: f64,
}

fn minutes(p: &Panel) -> f64 {
    f64::from(p.closes_min.saturating_sub(p.opens_min).max(1))
}

fn lines(chart: &DayChart) -> Vec<PanelLine> {
    let room = width(chart) - NAMES - 2.0 * MARGIN;
    // The longest day must fit; shorter scale for all, so that an hour is an hour everywhere.
    let longest = chart.panels.iter().map(minutes).fold(1.0, f64::max);
    let scale = match chart.panels.len() {
        1 => room / longest,
        _ => (HOUR / 60.0).min(room / longest),
    };
    let mut lines: Vec<PanelLine> = Vec::new();
    let mut at = f64::INFINITY;
    for (i, p) in chart.panels.iter().enumerate() {
        let wide = minutes(p) * scale;
        if at + wide > width(chart) - MARGIN + 1e-6 {
            lines.push(PanelLine { first: i, left: Vec::new(), scale });
            at = MARGIN + NAMES;
        }
        if let Some(line) = lines.last_mut() {
            line.left.push(at);
        }
        at += wide + GAP;
    }
    lines
}

impl PanelLine {
    fn has(&self, panel: usize, next: usize) -> bool {
        panel >= self.first && panel < next
    }

    /// Place of a clock minute, held inside its panel.
    fn x(&self, chart: &DayChart, (panel, min): When) -> f64 {
        let Some(p) = chart.panels.get(panel) else { return MARGIN + NAMES };
        let left = self.left.get(panel.saturating_sub(self.first)).copied();
        let min = min.clamp(p.opens_min, p.closes_min.max(p.opens_min));
        left.unwrap_or(MARGIN + NAMES) + f64::from(min - p.opens_min) * self.scale
    }
}

fn panel_line(svg: &mut Svg, chart: &DayChart, line: &PanelLine, next: usize, top: f64) -> f64 {
    let here = |b: &&Bar| line.has(b.from.0, next);
    let rows: Vec<&Row> =
        chart.rows.iter().filter(|r| r.person || r.bars.iter().any(|b| here(&b))).collect();
    let waits: Vec<&Bar> =
        chart.waits.iter().filter(|b| b.from.0 < next && b.until.0 >= line.first).collect();
    let lanes = lanes(&waits);
    let wait_rows = lanes.iter().map(|l| l + 1).max().unwrap_or(0);
    let head = top + 22.0;
    let foot = head + ROW * (rows.len() + wait_rows + 2) as f64;
    // Ground: where nobody is there, hours, frames.
    for panel in line.first..next {
        let p = &chart.panels[panel];
        let (left, right) = (line.x(chart, (panel, 0)), line.x(chart, (panel, u32::MAX)));
        svg.text(
            (left, top + 10.0),
            &USUAL.bold().fitted(&p.label, right - left + GAP),
            USUAL.bold(),
        );
        for (from, until) in &p.empty {
            let (a, b) = (line.x(chart, (panel, *from)), line.x(chart, (panel, *until)));
            svg.rect((a, head), b - a, foot - head, Fill::Colour(PALE), None);
        }
        let first_hour = p.opens_min.div_ceil(60);
        for hour in first_hour..=p.closes_min / 60 {
            let x = line.x(chart, (panel, 60 * hour));
            svg.line((x, head), (x, foot), Pen::grey(0.3));
            svg.text((x, head - 2.0), &hour.to_string(), SMALL.at(Anchor::Middle));
        }
        svg.rect((left, head), right - left, foot - head, Fill::None, Some(Pen::ink(0.6)));
    }
    let mut y = head;
    for row in rows {
        let name = USUAL.fitted(&row.name, NAMES - 4.0);
        svg.text((MARGIN, y + ROW - 4.5), &name, USUAL);
        for (panel, from, until) in row.away.iter().filter(|a| line.has(a.0, next)) {
            let (a, b) = (line.x(chart, (*panel, *from)), line.x(chart, (*panel, *until)));
            svg.rect((a, y + 0.5), b - a, ROW - 1.0, Fill::Colour(PALE), None);
        }
        for b in row.bars.iter().filter(here) {
            bar(svg, chart, line, b, y);
        }
        rule(svg, chart, line, next, y + ROW);
        y += ROW;
    }
    if wait_rows > 0 {
        svg.text((MARGIN, y + ROW - 4.5), "waits", USUAL);
    }
    for (b, lane) in waits.iter().zip(&lanes) {
        wait(svg, chart, line, next, b, y + ROW * *lane as f64);
    }
    y += ROW * wait_rows as f64;
    rule(svg, chart, line, next, y);
    svg.text((MARGIN, y + ROW - 4.5), "engine", USUAL.bold());
    svg.text((MARGIN, y + ROW + 5.0), "cranks past front", SMALL);
    for b in chart.engine.iter().filter(here) {
        stands(svg, chart, line, b, y);
    }
    foot
}

fn rule(svg: &mut Svg, chart: &DayChart, line: &PanelLine, next: usize, y: f64) {
    for panel in line.first..next {
        let (a, b) = (line.x(chart, (panel, 0)), line.x(chart, (panel, u32::MAX)));
        svg.line((a, y), (b, y), Pen::grey(0.3));
    }
}

fn bar(svg: &mut Svg, chart: &DayChart, line: &PanelLine, b: &Bar, y: f64) {
    let (from, until) = (line.x(chart, b.from), line.x(chart, b.until));
    let (top, high, wide) = (y + 2.0, ROW - 4.0, (until - from).max(0.8));
    let (fill, pen, ink) = match b.look {
        Look::Hold => (Fill::Colour(INK), Pen::ink(0.6), PAPER),
        Look::Lift => (Fill::Colour(PAPER), Pen::ink(1.6), INK),
        _ => (Fill::Colour(PAPER), Pen::ink(0.6), INK),
    };
    svg.rect((from, top), wide, high, fill, Some(pen));
    hatch(svg, b.look, (from, top), wide, high);
    let number = b.number.map_or(String::new(), |n| n.to_string());
    let words = match (b.look, number.is_empty()) {
        (Look::Move, _) => String::new(),
        (_, true) => b.label.clone(),
        (_, false) => format!("{number} {}", b.label),
    };
    let whole = SMALL.fitted(&words, wide - 3.0);
    // A stump of a word says nothing: the number alone, or nothing at all.
    let text = if whole.chars().count() >= number.chars().count() + 6 || whole == words {
        whole
    } else if SMALL.width(&number) <= wide - 0.5 {
        number
    } else {
        String::new()
    };
    let at = (from + 1.5, y + ROW - 5.0);
    if b.look == Look::Bench && !text.is_empty() {
        svg.rect(
            (from + 0.8, top + 1.0),
            SMALL.width(&text) + 1.5,
            high - 2.0,
            Fill::Colour(PAPER),
            None,
        );
    }
    svg.text(at, &text, SMALL.in_colour(ink));
}

fn hatch(svg: &mut Svg, look: Look, corner: (f64, f64), wide: f64, high: f64) {
    match look {
        Look::Bench => svg.hatch(corner, wide, high, 3.0, Pen::grey(0.5)),
        Look::Move => svg.hatch(corner, wide, high, 1.8, Pen::ink(0.6)),
        _ => {}
    }
}

fn wait(svg: &mut Svg, chart: &DayChart, line: &PanelLine, next: usize, b: &Bar, y: f64) {
    let from = if b.from.0 < line.first { (line.first, 0) } else { b.from };
    let until = if b.until.0 >= next { (next - 1, u32::MAX) } else { b.until };
    let (a, z) = (line.x(chart, from), line.x(chart, until));
    let middle = y + ROW / 2.0;
    svg.line((a, middle), (z, middle), Pen::ink(1.0).dashed(Dash::Dotted));
    if from == b.from {
        svg.line((a, y + 3.0), (a, y + ROW - 3.0), Pen::ink(0.8));
    }
    if until == b.until {
        svg.line((z, y + 3.0), (z, y + ROW - 3.0), Pen::ink(0.8));
    }
    let text = SMALL.fitted(&b.label, (z - a - 4.0).max(0.0));
    if text.chars().count() > 6 {
        svg.label((a + 3.0, middle + 2.2), &text, SMALL);
    }
}

/// Rows in which waits do not lie over each other.
fn lanes(waits: &[&Bar]) -> Vec<usize> {
    let mut ends: Vec<When> = Vec::new();
    waits
        .iter()
        .map(|w| match ends.iter().position(|e| *e <= w.from) {
            Some(i) => {
                ends[i] = w.until;
                i
            }
            None => {
                ends.push(w.until);
                ends.len() - 1
            }
        })
        .collect()
}

fn stands(svg: &mut Svg, chart: &DayChart, line: &PanelLine, b: &Bar, y: f64) {
    let (from, until) = (line.x(chart, b.from), line.x(chart, b.until));
    let high = 2.0 * ROW;
    if b.look == Look::Move {
        let wide = (until - from).max(1.5);
        svg.rect((from, y), wide, high, Fill::Colour(PAPER), Some(Pen::ink(0.6)));
        hatch(svg, b.look, (from, y), wide, high);
        return;
    }
    svg.line((until, y), (until, y + high), Pen::ink(0.5));
    // "left 62, right 152 past front": a line a crank, the last words stand at the row's name.
    let words = b.label.trim_end_matches(" past front");
    for (i, part) in words.split(", ").take(2).enumerate() {
        let text = SMALL.fitted(part, until - from - 3.0);
        if text == part {
            svg.text((from + 2.0, y + 10.0 + 10.0 * i as f64), &text, SMALL);
        }
    }
}

fn key(svg: &mut Svg, chart: &DayChart, top: f64) -> f64 {
    let right = width(chart) - MARGIN;
    let mut y = top + 8.0;
    let samples = [
        (Some(Look::OnEngine), "on the engine"),
        (Some(Look::Bench), "at the bench"),
        (Some(Look::Lift), "lift or jacks"),
        (Some(Look::Hold), "hold point"),
        (Some(Look::Move), "engine moved"),
        (Some(Look::Wait), "waiting"),
        (None, "not there"),
    ];
    let mut x = MARGIN;
    for (look, words) in samples {
        let wide = 34.0 + SMALL.width(words);
        if x + wide - 10.0 > right {
            (x, y) = (MARGIN, y + 13.0);
        }
        let (fill, pen) = match look {
            Some(Look::Hold) => (Fill::Colour(INK), Pen::ink(0.6)),
            Some(Look::Lift) => (Fill::Colour(PAPER), Pen::ink(1.6)),
            None => (Fill::Colour(PALE), Pen { colour: GREY, ..Pen::ink(0.3) }),
            _ => (Fill::Colour(PAPER), Pen::ink(0.6)),
        };
        if look == Some(Look::Wait) {
            svg.line((x, y - 2.5), (x + 20.0, y - 2.5), Pen::ink(1.0).dashed(Dash::Dotted));
        } else {
            svg.rect((x, y - 7.0), 20.0, 9.0, fill, Some(pen));
            hatch(svg, look.unwrap_or(Look::OnEngine), (x, y - 7.0), 20.0, 9.0);
        }
        svg.text((x + 24.0, y), words, SMALL);
        x += wide;
    }
    y += 14.0;
    let columns = if right < 500.0 { 2 } else { 3 };
    let each = chart.key.len().div_ceil(columns);
    let wide = (right - MARGIN) / columns as f64;
    for (i, (number, words)) in chart.key.iter().enumerate() {
        let x = MARGIN + wide * (i / each.max(1)) as f64;
        let at = y + 9.0 * (i % each.max(1)) as f64;
        svg.text((x + 16.0, at), &number.to_string(), SMALL.at(Anchor::End));
        svg.text((x + 20.0, at), &SMALL.fitted(words, wide - 24.0), SMALL);
    }
    y + 9.0 * each as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bar(from: When, until: When, look: Look) -> Bar {
        Bar { from, until, number: Some(1), label: "<b>draw the strap</b>".into(), look }
    }

    fn panel(label: &str) -> Panel {
        Panel { label: label.into(), opens_min: 540, closes_min: 960, empty: vec![(750, 795)] }
    }

    fn chart() -> DayChart {
        DayChart {
            title: "No. 1: strip".into(),
            panels: (0..4).map(|i| panel(&format!("day {i}"))).collect(),
            rows: vec![
                Row {
                    name: "A.B.".into(),
                    person: true,
                    bars: vec![
                        bar((0, 540), (0, 600), Look::OnEngine),
                        bar((3, 600), (3, 700), Look::Hold),
                    ],
                    away: vec![(1, 540, 960)],
                },
                Row {
                    name: "crane".into(),
                    person: false,
                    bars: vec![bar((0, 600), (0, 700), Look::Lift)],
                    away: vec![],
                },
            ],
            engine: vec![bar((0, 540), (0, 960), Look::Stands)],
            waits: vec![bar((0, 700), (3, 600), Look::Wait)],
            key: vec![(1, "draw the strap".into())],
        }
    }

    #[test]
    fn it_is_drawn_whole_and_words_stay_words() {
        let picture = day_chart(&chart()).expect("drawn");
        crate::check::check(&picture);
        assert!(!picture.svg.contains("<b>"));
        assert!(picture.svg.contains("&lt;b&gt;draw the strap"));
        // Two lines of panels: a row of kit without bars in the second is left out of it.
        assert_eq!(picture.svg.matches(">crane<").count(), 1);
        assert_eq!(picture.svg.matches(">A.B.<").count(), 2);
    }

    #[test]
    fn nonsense_is_refused_or_held_inside() {
        assert!(day_chart(&DayChart { panels: vec![], ..chart() }).is_err());
        let mut odd = chart();
        odd.rows[0].bars.push(bar((9, 0), (9, 5), Look::Bench));
        odd.rows[0].bars.push(bar((0, 0), (0, u32::MAX), Look::Bench));
        odd.panels[0].closes_min = 0;
        assert!(day_chart(&odd).is_ok());
    }
}
