//! A plan as panels, rows and bars.

use super::plan::{Wheels, clock, numbers, weekday, works_of};
use super::shapes::*;
use crate::judge::Judgement;
use crate::model::Date;
use crate::works::{Planned, Spell, WorkKind, people_bars};
use sequence::{Lane, Wait, gantt};

/// A plan as a chart: rows by person and kit, where the engine stands along the bottom, a panel a
/// day.
pub fn chart_view(judgement: &Judgement, planned: &Planned) -> ChartView {
    let engine = judgement.engine();
    let model = &engine.works;
    let (a, plan) = (&planned.assembled, &planned.plan);
    let (from, until) = (planned.progress.now_min, plan.cost.elapsed_min);
    let days = Days::of(&a.spells, from, until);
    let wheels = Wheels::of(judgement);
    let numbers = numbers(plan);
    let number_of = |w| plan.steps.iter().position(|s| s.work == w).map(|i| numbers[i]);
    let look_of = |w: sequence::WorkId| {
        let Some(step) = plan.step(w) else { return "engine" };
        match works_of(engine, a, step) {
            Some((work, _)) if work.kind == WorkKind::Hold => "hold",
            Some((_, way)) if way.lift.is_some() => "lift",
            Some((_, way)) if way.bench => "bench",
            _ => "engine",
        }
    };
    let label = |w| a.scheme.work(w).map_or(String::new(), |x| x.title.clone());
    let mut rows: Vec<ChartRowView> = model
        .crew
        .iter()
        .enumerate()
        .map(|(p, person)| ChartRowView {
            name: person.id.clone(),
            person: true,
            bars: Vec::new(),
            away: days.away(&a.spells, |s| s.people.contains(&p)),
        })
        .collect();
    for b in people_bars(engine, planned) {
        let (number, words, look) = match b.work {
            Some(w) => (number_of(w), label(w), look_of(w)),
            None => (None, "bar".to_owned(), "bar"),
        };
        days.cut(b.start_min, b.end_min, |bar| {
            rows[b.person].bars.push(ChartBarView { number, label: words.clone(), look, ..bar });
        });
    }
    let used: Vec<bool> = rows.iter().map(|r| !r.bars.is_empty()).collect();
    let mut used = used.into_iter();
    rows.retain(|_| used.next().unwrap_or(true));
    let mut engine_bars = Vec::new();
    let mut shown: Vec<sequence::WorkId> = Vec::new();
    for row in gantt(&a.scheme, &planned.progress, plan) {
        match row.lane {
            Lane::Person(_) => {}
            Lane::Kit(k, n) => {
                let kit = &model.kit[k.0];
                if n == 0 {
                    shown.clear();
                }
                let name = kit.name.clone();
                let mut out = ChartRowView {
                    name,
                    person: false,
                    bars: Vec::new(),
                    away: days.away(&a.spells, |s| {
                        kit.there.as_ref().is_none_or(|on| on.iter().any(|o| o.holds(s.date)))
                    }),
                };
                if kit.ticket {
                    continue;
                }
                for b in &row.bars {
                    // Several pieces for one work are one bar.
                    let Some(w) = b.work.filter(|w| !shown.contains(w)) else { continue };
                    shown.push(w);
                    let (number, look) = (number_of(w), look_of(w));
                    days.cut(b.start_min, b.end_min, |bar| {
                        out.bars.push(ChartBarView { number, look, ..bar });
                    });
                }
                if !out.bars.is_empty() {
                    rows.push(out);
                }
            }
            Lane::Engine => {
                for b in &row.bars {
                    let look = if b.moves { "bar" } else { "stands" };
                    let label = match b.angle_rad {
                        Some(rad) if !b.moves => wheels.words(rad),
                        _ => String::new(),
                    };
                    days.cut(b.start_min, b.end_min, |bar| {
                        engine_bars.push(ChartBarView { label: label.clone(), look, ..bar });
                    });
                }
            }
        }
    }
    let key = plan.steps.iter().zip(&numbers).map(|(s, n)| (*n, label(s.work))).collect();
    let title = format!("{}: {}", engine.name, a.stage.word());
    let waits = waits(planned, &days);
    ChartView { title, panels: days.panels(&a.spells), rows, engine: engine_bars, waits, key }
}

/// What is waited for: from the end of the earlier work to when the later may begin.
fn waits(planned: &Planned, days: &Days) -> Vec<ChartBarView> {
    let a = &planned.assembled;
    let steps = || planned.progress.done.iter().chain(&planned.plan.steps);
    let mut all: Vec<ChartBarView> = Vec::new();
    for s in &planned.plan.steps {
        let work = a.scheme.work(s.work).map_or(&[][..], |w| &w.after);
        let way = a.scheme.way(s.work, s.way).map_or(&[][..], |w| &w.after);
        for b in work.iter().chain(way).filter(|b| b.wait != Wait::None) {
            let Some(end) = steps().find(|x| x.work == b.work).map(|x| x.end_min) else { continue };
            let until = match b.wait {
                Wait::None => end,
                Wait::Minutes(m) => end + u64::from(m),
                Wait::Days(n) => {
                    let Some(m) = a.moment_of_end(end) else { continue };
                    a.opens_min(m.date.plus_days(i64::from(n)))
                }
            };
            let (Some(from), Some(to)) = (days.at(end), days.at_end(until.max(end + 1))) else {
                continue;
            };
            let known = all.iter().any(|w| w.label == b.reason && (w.panel, w.from_min) == from);
            if !known {
                all.push(ChartBarView {
                    panel: from.0,
                    from_min: from.1,
                    to_panel: to.0,
                    until_min: to.1,
                    number: None,
                    label: b.reason.clone(),
                    look: "wait",
                });
            }
        }
    }
    all
}

/// Panels of a chart: the dates on which something goes on.
struct Days {
    /// Date, first and last clock minute.
    dates: Vec<(Date, u32, u32)>,
    /// Working minute at which a spell begins, its length, panel, clock minute.
    spells: Vec<(u64, u64, usize, u32)>,
}

impl Days {
    fn of(spells: &[Spell], from: u64, until: u64) -> Days {
        let (mut dates, mut cut): (Vec<(Date, u32, u32)>, Vec<_>) = (Vec::new(), Vec::new());
        let mut opens = 0u64;
        for s in spells {
            let minutes = u64::from(s.minutes);
            if opens + minutes > from && opens < until {
                match dates.last_mut() {
                    Some(d) if d.0 == s.date => d.2 = s.opens_min + s.minutes,
                    _ => dates.push((s.date, s.opens_min, s.opens_min + s.minutes)),
                }
                cut.push((opens, minutes, dates.len() - 1, s.opens_min));
            }
            opens += minutes;
        }
        Days { dates, spells: cut }
    }

    /// Pieces of a bar, spell by spell.
    fn cut(&self, start: u64, end: u64, mut with: impl FnMut(ChartBarView)) {
        for (opens, minutes, panel, clock) in &self.spells {
            let (a, b) = (start.max(*opens), end.min(opens + minutes));
            if a < b {
                let at = |m: u64| clock + (m - opens) as u32;
                with(ChartBarView {
                    panel: *panel,
                    from_min: at(a),
                    to_panel: *panel,
                    until_min: at(b),
                    number: None,
                    label: String::new(),
                    look: "engine",
                });
            }
        }
    }

    fn at(&self, working: u64) -> Option<(usize, u32)> {
        let s = self.spells.iter().find(|s| working >= s.0 && working < s.0 + s.1)?;
        Some((s.2, s.3 + (working - s.0) as u32))
    }

    fn at_end(&self, working: u64) -> Option<(usize, u32)> {
        let s = self.spells.iter().find(|s| working > s.0 && working <= s.0 + s.1);
        match s {
            Some(s) => Some((s.2, s.3 + (working - s.0) as u32)),
            None => self.dates.last().map(|d| (self.dates.len() - 1, d.2)),
        }
    }

    /// When a row is not there.
    fn away(&self, spells: &[Spell], there: impl Fn(&Spell) -> bool) -> Vec<(usize, u32, u32)> {
        let mut all = Vec::new();
        for s in spells {
            if let Some(panel) = self.dates.iter().position(|d| d.0 == s.date)
                && !there(s)
            {
                all.push((panel, s.opens_min, s.opens_min + s.minutes));
            }
        }
        all
    }

    fn panels(&self, spells: &[Spell]) -> Vec<PanelView> {
        self.dates
            .iter()
            .map(|(date, opens, closes)| {
                let mut empty = Vec::new();
                let mut at = *opens;
                for s in spells.iter().filter(|s| s.date == *date) {
                    if s.opens_min > at {
                        empty.push((at, s.opens_min));
                    }
                    at = at.max(s.opens_min + s.minutes);
                }
                PanelView {
                    label: format!(
                        "{} {date}, {}-{}",
                        &weekday(*date)[..3],
                        clock(*opens),
                        clock(*closes)
                    ),
                    opens_min: *opens,
                    closes_min: *closes,
                    empty,
                }
            })
            .collect()
    }
}
