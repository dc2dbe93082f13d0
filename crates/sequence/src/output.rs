//! A plan as a readable list, and as rows by person and kit with the engine along the bottom.

use crate::plan::{Plan, Progress, Step};
use crate::repair::words;
use crate::scheme::{KitId, Scheme, WorkId};
use std::fmt::Write;

/// Whose row it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lane {
    /// A person, numbered from 0; who it is, the shop decides.
    Person(usize),
    /// One piece of a kit, numbered from 0.
    Kit(KitId, usize),
    /// The engine: where it stands, and its moves.
    Engine,
}

/// One bar.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GanttBar {
    /// Working minute at which it begins.
    pub start_min: u64,
    /// Working minute at which it ends.
    pub end_min: u64,
    /// The work; `None` for a move of the engine or its standing still.
    pub work: Option<WorkId>,
    /// On the engine's row: crank angle stood at, or moved to, radians.
    pub angle_rad: Option<f64>,
    /// A move of the engine.
    pub moves: bool,
}

/// One row.
#[derive(Debug, Clone, PartialEq)]
pub struct GanttRow {
    /// Whose.
    pub lane: Lane,
    /// Its bars by start; none overlap.
    pub bars: Vec<GanttBar>,
}

/// Rows by person and by piece of kit, the engine's last. Running works are in it.
#[must_use]
pub fn gantt(scheme: &Scheme, progress: &Progress, plan: &Plan) -> Vec<GanttRow> {
    // (start, end, work, people)
    let steps = || progress.running.iter().chain(&plan.steps);
    let way = |s: &Step| scheme.way(s.work, s.way);
    let bar = |s: &Step| GanttBar {
        start_min: s.start_min,
        end_min: s.end_min,
        work: Some(s.work),
        angle_rad: None,
        moves: false,
    };
    let mut people: Vec<(GanttBar, u32)> =
        steps().filter_map(|s| way(s).map(|y| (bar(s), y.people))).collect();
    people.extend(plan.moves.iter().map(|m| {
        let (start_min, end_min) = (m.start_min, m.end_min);
        let bar = GanttBar { start_min, end_min, work: None, angle_rad: None, moves: true };
        (bar, scheme.barring.people)
    }));
    let mut rows: Vec<GanttRow> = share(people)
        .into_iter()
        .enumerate()
        .map(|(p, bars)| GanttRow { lane: Lane::Person(p), bars })
        .collect();
    for k in 0..scheme.kits.len() {
        let uses: Vec<(GanttBar, u32)> = steps()
            .filter_map(|s| {
                let count: u32 = way(s)?.kit.iter().filter(|x| x.0.0 == k).map(|x| x.1).sum();
                (count > 0).then(|| (bar(s), count))
            })
            .collect();
        let each = share(uses).into_iter().enumerate();
        rows.extend(each.map(|(i, bars)| GanttRow { lane: Lane::Kit(KitId(k), i), bars }));
    }
    let mut bars = Vec::new();
    let mut stands_rad = progress.stands_rad.unwrap_or(scheme.stands_rad);
    let mut from = progress.moving_until_min.unwrap_or(0).max(progress.now_min);
    let still = |start_min, end_min, angle: f64| {
        let angle_rad = Some(angle);
        GanttBar { start_min, end_min, work: None, angle_rad, moves: false }
    };
    for m in &plan.moves {
        bars.push(still(from, m.start_min, stands_rad));
        let (start_min, end_min, angle_rad) = (m.start_min, m.end_min, Some(m.to_rad));
        bars.push(GanttBar { start_min, end_min, work: None, angle_rad, moves: true });
        (stands_rad, from) = (m.to_rad, m.end_min);
    }
    bars.push(still(from, plan.cost.elapsed_min.max(from), stands_rad));
    bars.retain(|b| b.end_min > b.start_min);
    rows.push(GanttRow { lane: Lane::Engine, bars });
    rows
}

/// Shares bars out so that none overlap in a row; as many rows as are ever needed at once.
fn share(mut bars: Vec<(GanttBar, u32)>) -> Vec<Vec<GanttBar>> {
    bars.sort_by_key(|(b, _)| (b.start_min, b.end_min));
    let mut rows: Vec<Vec<GanttBar>> = Vec::new();
    for (bar, count) in bars {
        let mut left = count;
        for row in &mut rows {
            if left > 0 && row.last().is_none_or(|b| b.end_min <= bar.start_min) {
                row.push(bar);
                left -= 1;
            }
        }
        for _ in 0..left {
            rows.push(vec![bar]);
        }
    }
    rows
}

/// The plan as lines to read: day, clock, work, way, people, kit, and why it comes there.
#[must_use]
pub fn listing(scheme: &Scheme, progress: &Progress, plan: &Plan) -> Vec<String> {
    let explainer = crate::explain::Explainer { scheme, progress, plan };
    let mut lines: Vec<(u64, String)> = Vec::new();
    let when = |m: u64| match scheme.calendar.day_of(m) {
        Some((d, minute)) => {
            let clock = scheme.calendar.days[d].opens_min + minute;
            format!("day {} {:02}:{:02}", d + 1, clock / 60, clock % 60)
        }
        None => "after the calendar".into(),
    };
    for s in &plan.steps {
        let Some(way) = scheme.way(s.work, s.way) else { continue };
        let work = &scheme.works[s.work.0];
        let mut line = format!(
            "{}  {} ({}): {}, {} min, {} people",
            when(s.start_min),
            work.title,
            work.tag,
            way.title,
            way.minutes,
            way.people
        );
        for (kit, count) in &way.kit {
            let _ = write!(line, ", {count} {}", scheme.kits[kit.0].name);
        }
        for hang in &way.leaves {
            let _ = write!(line, "; leaves {} hanging", hang.what);
        }
        let _ = write!(line, " - {}", words(scheme, &explainer.cause(s.work)));
        lines.push((s.start_min, line));
    }
    for m in &plan.moves {
        let minutes = m.end_min - m.start_min;
        let degrees = m.to_rad.to_degrees().rem_euclid(360.0);
        let line =
            format!("{}  bar the engine to {degrees:.0} deg, {minutes} min", when(m.start_min));
        lines.push((m.start_min, line));
    }
    lines.sort_by_key(|l| l.0);
    lines.into_iter().map(|l| l.1).collect()
}
