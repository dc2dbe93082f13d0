//! Plans, day's lists and reasons.

use super::shapes::*;
use crate::judge::Judgement;
use crate::model::{Date, Engine};
use crate::motion::Mechanism;
use crate::works::words;
use crate::works::{
    Assembled, DayAnswer, PersonBar, Planned, SavingAnswer, Soonest, Stage, Way, What, WhyAnswer,
    Work, WorkKind, people_bars, ties,
};
use mechanics::motion::{CylinderNo, WheelAngle};
use sequence::{Change, Explainer, KitId, Line, Plan, Progress, Scheme, Step, Targets, Turned};

const CAUTION: &str = "a computed plan: whoever leads the work decides, and a competent person checks lifts and jacking";
const DAYS: [&str; 7] =
    ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"];

pub(super) fn weekday(date: Date) -> &'static str {
    DAYS[date.weekday()]
}

pub(super) fn clock(min: u32) -> String {
    format!("{:02}:{:02}", min / 60, min % 60)
}

/// Says where the wheels stand.
pub(super) struct Wheels {
    mechanism: Option<Mechanism>,
    ids: Vec<String>,
}

impl Wheels {
    pub(super) fn of(judgement: &Judgement) -> Wheels {
        let ids = judgement.engine().motion.cylinders.iter().map(|c| c.id.clone()).collect();
        Wheels { mechanism: Mechanism::of(judgement).ok(), ids }
    }

    /// Every crank past its front dead centre, to the degree.
    pub(super) fn words(&self, rad: f64) -> String {
        let Some(m) = &self.mechanism else { return format!("wheel {:.0}", rad.to_degrees()) };
        let running = m.running(0.0);
        let mut all = Vec::new();
        for (at, id) in self.ids.iter().enumerate() {
            let past = WheelAngle::from_rad(rad)
                .and_then(|w| m.motion.cylinder_at(CylinderNo(at), w, &running))
                .map(|s| s.past_front_dead_centre_rad.to_degrees());
            if let Ok(deg) = past {
                all.push(format!("{id} {:.0}", deg.round().rem_euclid(360.0)));
            }
        }
        if all.is_empty() {
            return format!("wheel {:.0}", rad.to_degrees());
        }
        format!("{} past front", all.join(", "))
    }
}

pub(super) fn works_of<'a>(
    engine: &'a Engine,
    assembled: &Assembled,
    step: &Step,
) -> Option<(&'a Work, &'a Way)> {
    let work = &engine.works.works[*assembled.works.get(step.work.0)?];
    Some((work, work.ways.get(step.way)?))
}

/// A plan, day by day.
pub fn plan_view(judgement: &Judgement, planned: &Planned) -> PlanView {
    let engine = judgement.engine();
    let (a, plan) = (&planned.assembled, &planned.plan);
    let wheels = Wheels::of(judgement);
    let bars = people_bars(engine, planned);
    let moment = |m: Option<crate::works::Moment>| {
        m.map_or("after the calendar's end".to_owned(), |m| {
            format!("{} {m}", &weekday(m.date)[..3])
        })
    };
    let scene = Scene {
        engine,
        assembled: a,
        scheme: &a.scheme,
        progress: &planned.progress,
        plan,
        wheels: &wheels,
        bars: &bars,
    };
    let only_to = match &a.scheme.targets {
        Targets::All => None,
        Targets::Only(ids) => {
            let names: Vec<&str> = ids.iter().map(|i| words::name(&a.scheme, *i)).collect();
            Some(names.join("; "))
        }
    };
    PlanView {
        engine: engine.name.clone(),
        stage: a.stage.word(),
        only_to,
        begins: moment(a.moment(planned.progress.now_min)),
        ends: moment(a.moment_of_end(plan.cost.elapsed_min)),
        elapsed: words::hours(plan.cost.elapsed_min),
        elapsed_min: plan.cost.elapsed_min,
        bound_min: plan.bound.elapsed_min,
        gap_percent: 100.0 * plan.gap(),
        optimal: plan.optimal,
        moves: plan.cost.moves,
        set_ups: plan.cost.set_ups,
        people_hours: plan.cost.people_min as f64 / 60.0,
        works: plan.steps.len(),
        done: done(engine, planned),
        stuck: stuck(engine, planned),
        days: scene.days(),
        changes: changes_view(planned),
        ways_out: planned.ways_out.iter().map(|w| words::way_out(&a.scheme, w)).collect(),
        notes: a.notes.clone(),
        caution: CAUTION,
    }
}

fn done(engine: &Engine, planned: &Planned) -> Vec<DoneView> {
    let a = &planned.assembled;
    let view = |s: &Step| {
        let (work, way) = works_of(engine, a, s)?;
        let ended = a.moment_of_end(s.end_min).map_or(String::new(), |m| m.to_string());
        let (work, name) = (work.id.clone(), work.name.clone());
        Some(DoneView { work, name, how: way.how.clone(), ended })
    };
    planned.progress.done.iter().filter_map(view).collect()
}

fn stuck(engine: &Engine, planned: &Planned) -> Vec<StuckView> {
    let a = &planned.assembled;
    let view = |(id, way): &(sequence::WorkId, usize)| {
        let at = *a.works.get(id.0)?;
        let work = &engine.works.works[at];
        let said = engine.works.progress.iter().rev();
        let why = said
            .filter(|h| h.work == at && h.what == What::Stuck)
            .find(|h| h.way.is_none_or(|w| w == *way))
            .map_or(String::new(), |h| h.why.clone());
        let how = work.ways.get(*way)?.how.clone();
        Some(StuckView { work: work.id.clone(), name: work.name.clone(), how, why })
    };
    planned.progress.stuck.iter().filter_map(view).collect()
}

/// What is otherwise than in the plan before.
pub fn changes_view(planned: &Planned) -> Vec<ChangeView> {
    let scheme = &planned.assembled.scheme;
    let view = |c: &Change| ChangeView {
        work: scheme.tag(c.work).to_owned(),
        name: words::name(scheme, c.work).to_owned(),
        what: words::turned(scheme, c.work, &c.turned),
        why: why_changed(planned, c),
        only_time: matches!(c.turned, Turned::Later(_) | Turned::Sooner(_)),
        only_order: matches!(c.turned, Turned::Order),
    };
    planned.changes.iter().map(view).collect()
}

fn why_changed(planned: &Planned, c: &Change) -> String {
    let scheme = &planned.assembled.scheme;
    match c.turned {
        Turned::Way { .. } | Turned::Left => c.why.clone(),
        Turned::New => {
            let needs = |s: &&Step| {
                let way = scheme.way(s.work, s.way).map_or(&[][..], |w| &w.after);
                way.iter().any(|b| b.work == c.work)
            };
            planned.plan.steps.iter().find(needs).map_or(c.why.clone(), |s| {
                format!("needed before \"{}\"", words::name(scheme, s.work))
            })
        }
        Turned::Order | Turned::Later(_) | Turned::Sooner(_) => {
            let (progress, plan) = (&planned.progress, &planned.plan);
            words::cause(scheme, &Explainer { scheme, progress, plan }.cause(c.work))
        }
    }
}

/// What a line is written from.
struct Scene<'a> {
    engine: &'a Engine,
    assembled: &'a Assembled,
    /// That of the plan, which a day's list may have cut otherwise.
    scheme: &'a Scheme,
    progress: &'a Progress,
    plan: &'a Plan,
    wheels: &'a Wheels,
    bars: &'a [PersonBar],
}

impl Scene<'_> {
    fn days(&self) -> Vec<PlanDayView> {
        let spells = &self.assembled.spells;
        let mut days: Vec<PlanDayView> = Vec::new();
        let mut opens = 0u64;
        let numbers = numbers(self.plan);
        let last = self.plan.cost.elapsed_min;
        let mut date = None;
        for s in spells {
            let closes = opens + u64::from(s.minutes);
            if closes > self.progress.now_min && opens < last {
                let hours = format!("{}-{}", clock(s.opens_min), clock(s.opens_min + s.minutes));
                let names: Vec<String> =
                    s.people.iter().map(|p| self.engine.works.crew[*p].id.clone()).collect();
                if date != Some(s.date) {
                    date = Some(s.date);
                    days.push(PlanDayView {
                        date: s.date.to_string(),
                        weekday: weekday(s.date),
                        people: Vec::new(),
                        hours: String::new(),
                        lines: Vec::new(),
                        goes_on: self.going_on(opens),
                        hangs: Vec::new(),
                    });
                }
                if let Some(day) = days.last_mut() {
                    let parted = if day.hours.is_empty() { "" } else { ", " };
                    day.hours.push_str(&format!("{parted}{hours}"));
                    for n in names {
                        if !day.people.contains(&n) {
                            day.people.push(n);
                        }
                    }
                    self.lines_between(opens, closes, &numbers, &mut day.lines);
                    day.hangs = self.hangs(closes);
                }
            }
            opens = closes;
        }
        days.retain(|d| !d.lines.is_empty() || !d.goes_on.is_empty());
        days
    }

    fn going_on(&self, at: u64) -> Vec<String> {
        let all = self.plan.steps.iter().filter(|s| s.start_min < at && s.end_min > at);
        all.map(|s| {
            let until = self.assembled.moment_of_end(s.end_min);
            let until = until.map_or(String::new(), |m| format!(", until {m}"));
            format!("{}{until}", words::name(self.scheme, s.work))
        })
        .collect()
    }

    fn hangs(&self, at: u64) -> Vec<String> {
        let steps = || self.progress.done.iter().chain(&self.plan.steps);
        let over = |w| steps().any(|s| s.work == w && s.end_min <= at);
        let mut all = Vec::new();
        for s in steps().filter(|s| s.end_min <= at) {
            for h in self.scheme.way(s.work, s.way).map_or(&[][..], |w| &w.leaves) {
                if !h.until.is_some_and(over) && !all.contains(&h.what) {
                    all.push(h.what.clone());
                }
            }
        }
        all
    }

    fn lines_between(&self, opens: u64, closes: u64, numbers: &[usize], lines: &mut Vec<LineView>) {
        let mut found: Vec<(u64, u8, LineView)> = Vec::new();
        for (i, s) in self.plan.steps.iter().enumerate() {
            if s.start_min >= opens && s.start_min < closes {
                found.extend(self.line(s, numbers.get(i).copied()).map(|l| (s.start_min, 1, l)));
            }
        }
        for m in self.plan.moves.iter().filter(|m| m.start_min >= opens && m.start_min < closes) {
            found.push((m.start_min, 0, self.bar(m)));
        }
        found.sort_by_key(|f| (f.0, f.1, f.2.number));
        lines.extend(found.into_iter().map(|f| f.2));
    }

    fn line(&self, s: &Step, number: Option<usize>) -> Option<LineView> {
        let model = &self.engine.works;
        let (work, way) = works_of(self.engine, self.assembled, s)?;
        let planned_way = self.scheme.way(s.work, s.way)?;
        let explainer = Explainer { scheme: self.scheme, progress: self.progress, plan: self.plan };
        let (from, until) = self.span(s.start_min, s.end_min);
        let mut who: Vec<String> = Vec::new();
        for b in self.bars.iter().filter(|b| b.work == Some(s.work)) {
            let id = &model.crew[b.person].id;
            if !who.contains(id) {
                who.push(id.clone());
            }
        }
        let mut cautions: Vec<String> = planned_way.hazards.iter().map(|h| h.caution()).collect();
        cautions.dedup();
        let start_rad = self.progress.stands_rad.unwrap_or(self.scheme.stands_rad);
        let others = work.ways.iter().enumerate().filter(|(k, _)| *k != s.way);
        Some(LineView {
            number,
            kind: work.kind.word(),
            from,
            until,
            minutes: s.end_min - s.start_min,
            work: work.id.clone(),
            name: work.name.clone(),
            way: way.id.clone(),
            how: way.how.clone(),
            people: way.people,
            who,
            kit: way.kit.iter().map(|(k, n)| counted(*n, &model.kit[*k].name)).collect(),
            bring: way.bring.clone(),
            place: match (way.bench, way.from) {
                (true, _) => "bench".to_owned(),
                (false, Some(p)) => model.places[p].name.clone(),
                (false, None) => String::new(),
            },
            position: if way.bench {
                String::new()
            } else {
                self.wheels.words(self.plan.stands_rad(start_rad, s.start_min))
            },
            cautions,
            leaves: way.leaves.iter().map(|l| l.0.clone()).collect(),
            stays: way
                .stays
                .iter()
                .map(|(k, n, u)| {
                    format!("{} until: {}", counted(*n, &model.kit[*k].name), model.works[*u].name)
                })
                .collect(),
            why: words::cause(self.scheme, &explainer.cause(s.work)),
            others: others
                .map(|(k, w)| self.way_view(s, w, self.progress.stuck.contains(&(s.work, k))))
                .collect(),
            lift: way.lift.map(|l| model.lifts[l].id.clone()),
            fails_percent: 100.0 * way.fails,
            note: work.note.clone(),
        })
    }

    fn bar(&self, m: &sequence::Move) -> LineView {
        let (from, until) = self.span(m.start_min, m.end_min);
        let mut who: Vec<String> = Vec::new();
        for b in self.bars.iter().filter(|b| b.work.is_none() && b.start_min < m.end_min) {
            let id = &self.engine.works.crew[b.person].id;
            if b.end_min > m.start_min && !who.contains(id) {
                who.push(id.clone());
            }
        }
        LineView {
            number: None,
            kind: "bar",
            from,
            until,
            minutes: m.end_min - m.start_min,
            work: String::new(),
            name: "bar the engine round".to_owned(),
            way: String::new(),
            how: format!("to {}", self.wheels.words(m.to_rad)),
            people: self.scheme.barring.people,
            who,
            kit: Vec::new(),
            bring: Vec::new(),
            place: String::new(),
            position: self.wheels.words(m.to_rad),
            cautions: vec![
                "everybody out of the motion and told; cocks open, reverser in mid gear; scotches out and a hand at them; one person gives the word; scotched again both ways".to_owned(),
            ],
            leaves: Vec::new(),
            stays: Vec::new(),
            why: String::new(),
            others: Vec::new(),
            lift: None,
            fails_percent: 0.0,
            note: String::new(),
        }
    }

    /// Another way of a work in the plan, with what it would take.
    fn way_view(&self, s: &Step, w: &Way, stuck: bool) -> WayView {
        let works = &self.engine.works.works;
        let in_plan = |work: usize| {
            self.assembled.id_of(work).is_none_or(|id| {
                let over = self.progress.done.iter().chain(&self.progress.running);
                self.plan.step(id).is_some() || over.map(|x| x.work).any(|x| x == id)
            })
        };
        let besides: Vec<usize> = w.needs.iter().map(|n| n.work).filter(|n| !in_plan(*n)).collect();
        let people_min = |w: &Way| i64::from(w.minutes) * i64::from(w.people);
        let least = |n: &usize| works[*n].ways.iter().min_by_key(|w| people_min(w));
        let planned = self.scheme.way(s.work, s.way).map_or(0, |y| y.people_min());
        let more: i64 = besides.iter().filter_map(least).map(people_min).sum();
        WayView {
            way: w.id.clone(),
            how: w.how.clone(),
            minutes: w.minutes,
            people: w.people,
            kit: w.kit.iter().map(|(k, n)| counted(*n, &self.engine.works.kit[*k].name)).collect(),
            needs: w.needs.iter().map(|n| works[n.work].name.clone()).collect(),
            besides: besides
                .iter()
                .map(|n| match least(n) {
                    Some(y) => {
                        format!("{} ({} people, {} min)", works[*n].name, y.people, y.minutes)
                    }
                    None => works[*n].name.clone(),
                })
                .collect(),
            more_people_min: people_min(w) + more - i64::try_from(planned).unwrap_or(i64::MAX),
            fails_percent: 100.0 * w.fails,
            stuck,
        }
    }

    /// Clock of a beginning, and of an end with its date where that is another.
    fn span(&self, start: u64, end: u64) -> (String, String) {
        let (a, b) = (self.assembled.moment(start), self.assembled.moment_of_end(end));
        let from = a.map_or("?".to_owned(), |m| clock(m.clock_min.unwrap_or(0)));
        let until = match (a, b) {
            (Some(a), Some(b)) if a.date == b.date => clock(b.clock_min.unwrap_or(0)),
            (_, Some(b)) => format!("{} {b}", &weekday(b.date)[..3]),
            _ => "?".to_owned(),
        };
        (from, until)
    }
}

/// Numbers of the steps: by start.
pub(super) fn numbers(plan: &Plan) -> Vec<usize> {
    (1..=plan.steps.len()).collect()
}

fn counted(n: u32, name: &str) -> String {
    if n == 1 { name.to_owned() } else { format!("{n} {name}") }
}

/// A day's list.
pub fn day_view(judgement: &Judgement, answer: &DayAnswer) -> DayListView {
    let engine = judgement.engine();
    let model = &engine.works;
    let wheels = Wheels::of(judgement);
    let a = &answer.planned.assembled;
    let (mut lines, mut people) = (Vec::new(), Vec::new());
    let (mut fetch, mut bring, mut lifts) = (Vec::new(), Vec::new(), Vec::new());
    let (mut cautions, mut all_go) = (Vec::<String>::new(), 1.0);
    let mut seen: Vec<sequence::WorkId> = Vec::new();
    let mut number = 0;
    for list in &answer.lists {
        let progress =
            Progress { done: answer.planned.progress.done.clone(), ..Progress::default() };
        let scene = Scene {
            engine,
            assembled: a,
            scheme: &list.scheme,
            progress: &progress,
            plan: &list.plan,
            wheels: &wheels,
            bars: &[],
        };
        for l in &list.lines {
            match l {
                Line::Do { clock_min, work, way, today_min, goes_on, .. } => {
                    if seen.contains(work) {
                        continue;
                    }
                    seen.push(*work);
                    let step = list.plan.step(*work).copied().unwrap_or(Step {
                        work: *work,
                        way: *way,
                        start_min: 0,
                        end_min: *today_min,
                    });
                    number += 1;
                    let Some(mut line) = scene.line(&step, Some(number)) else { continue };
                    line.from = clock(*clock_min);
                    line.until = if *goes_on {
                        "goes on".to_owned()
                    } else {
                        clock(clock_min + u32::try_from(*today_min).unwrap_or(0))
                    };
                    line.minutes = *today_min;
                    for b in &line.bring {
                        if !bring.contains(b) {
                            bring.push(b.clone());
                        }
                    }
                    lifts.extend(line.lift.clone());
                    lines.push(line);
                }
                Line::Bar { clock_min, to_rad } => {
                    let m = list.plan.moves.iter().find(|m| m.to_rad == *to_rad);
                    if let Some(m) = m {
                        let mut line = scene.bar(m);
                        line.from = clock(*clock_min);
                        line.until = clock(clock_min + (m.end_min - m.start_min) as u32);
                        lines.push(line);
                    }
                }
            }
        }
        for (KitId(k), n) in &list.fetch {
            if let Some(kit) = model.kit.get(*k).filter(|k| !k.ticket) {
                let text = counted(*n, &kit.name);
                if !fetch.contains(&text) {
                    fetch.push(text);
                }
            }
        }
        for c in &list.cautions {
            if !cautions.contains(c) {
                cautions.push(c.clone());
            }
        }
        all_go *= list.all_go;
    }
    for (n, from, until) in &answer.here {
        people.push(format!("{n} from {} to {}", clock(*from), clock(*until)));
    }
    let name = |w: &sequence::WorkId| words::name(&a.scheme, *w).to_owned();
    let last = answer.lists.last();
    let then_ends = last
        .and_then(|l| {
            let (d, m) = l.scheme.calendar.day_of_end(l.plan.cost.elapsed_min)?;
            let day = l.scheme.calendar.days.get(d)?;
            let first = a.spells.first()?.date;
            let date = first.plus_days(day.date);
            Some(format!("{} {date} {}", &weekday(date)[..3], clock(day.opens_min + m)))
        })
        .unwrap_or_default();
    DayListView {
        engine: engine.name.clone(),
        date: answer.date.to_string(),
        weekday: weekday(answer.date),
        people: people.join(", "),
        lines,
        fetch,
        bring,
        lifts,
        cautions,
        waits: answer.waits.iter().map(|(w, why)| format!("{}: {why}", name(w))).collect(),
        hangs_overnight: last.map_or(Vec::new(), |l| l.hangs_overnight.clone()),
        all_go_percent: 100.0 * all_go,
        then_ends,
        notes: answer.notes.clone(),
    }
}

/// Why one is before another.
pub fn why_view(planned: &Planned, answer: &WhyAnswer) -> WhyView {
    let scheme = &planned.assembled.scheme;
    WhyView {
        first: words::name(scheme, answer.first).to_owned(),
        then: words::name(scheme, answer.then).to_owned(),
        must: answer.must,
        is: answer.is,
        reasons: answer.reasons.clone(),
    }
}

/// How soon something can be done, and what would help.
pub fn soonest_view(
    judgement: &Judgement,
    planned: &Planned,
    s: &Soonest,
    savings: &[SavingAnswer],
) -> SoonestView {
    let a = &planned.assembled;
    let lines = plan_view(judgement, planned).days.into_iter().flat_map(|d| d.lines);
    let line = lines.into_iter().find(|l| l.work == a.scheme.tag(s.work));
    let (how, ways) = line.map_or((String::new(), Vec::new()), |l| (l.how, l.others));
    let end = |m: u64| {
        a.moment_of_end(m).map_or("after the calendar's end".to_owned(), |m| {
            format!("{} {m}", &weekday(m.date)[..3])
        })
    };
    let name = |w| words::name(&a.scheme, w).to_owned();
    let saving = |x: &SavingAnswer| SavingView {
        what: x.what.clone(),
        saves: words::hours(x.saving.found_min),
        at_least: words::hours(x.saving.at_least_min),
        at_most: words::hours(x.saving.at_most_min),
        found_min: x.saving.found_min,
        at_least_min: x.saving.at_least_min,
        at_most_min: x.saving.at_most_min,
    };
    SoonestView {
        work: a.scheme.tag(s.work).to_owned(),
        name: name(s.work),
        in_plan: s.in_plan_min.map_or("not in the plan: done, or not wanted".to_owned(), end),
        alone: end(s.alone.cost.elapsed_min),
        alone_takes: words::hours(
            s.alone.cost.elapsed_min.saturating_sub(planned.progress.now_min),
        ),
        not_before: end(s.alone.bound.elapsed_min),
        by: s.alone.steps.iter().map(|x| name(x.work)).collect(),
        how,
        ways,
        savings: savings.iter().map(saving).collect(),
    }
}

/// A way as it is described, outside any plan.
fn described(engine: &Engine, w: &Way) -> WayView {
    WayView {
        way: w.id.clone(),
        how: w.how.clone(),
        minutes: w.minutes,
        people: w.people,
        kit: w.kit.iter().map(|(k, n)| counted(*n, &engine.works.kit[*k].name)).collect(),
        needs: w.needs.iter().map(|n| engine.works.works[n.work].name.clone()).collect(),
        besides: Vec::new(),
        more_people_min: 0,
        fails_percent: 100.0 * w.fails,
        stuck: false,
    }
}

/// Every work of a stage as described.
pub fn works_view(judgement: &Judgement, stage: Stage) -> Vec<WorkView> {
    let engine = judgement.engine();
    let all = engine.works.works.iter().enumerate().filter(|w| w.1.stage == stage);
    let found = ties(engine, stage);
    all.map(|(w, _)| one_work(engine, w, &found)).collect()
}

/// One work as described, with what comes before it.
pub fn work_view(judgement: &Judgement, work: usize) -> Option<WorkView> {
    let engine = judgement.engine();
    let stage = engine.works.works.get(work)?.stage;
    Some(one_work(engine, work, &ties(engine, stage)))
}

fn one_work(engine: &Engine, w: usize, found: &[crate::works::WorkTie]) -> WorkView {
    let work = &engine.works.works[w];
    let parts = work.takes_off.iter().chain(&work.puts_on);
    let mine = found.iter().filter(|t| t.later == w);
    WorkView {
        work: work.id.clone(),
        name: work.name.clone(),
        stage: work.stage.word(),
        kind: match work.kind {
            WorkKind::TakeOff => "off",
            other => other.word(),
        },
        when_needed: work.when_needed,
        parts: parts.map(|p| engine.part(*p).name.clone()).collect(),
        after: mine
            .map(|t| format!("{} ({})", engine.works.works[t.earlier].name, t.reason))
            .collect(),
        ways: work.ways.iter().map(|x| described(engine, x)).collect(),
    }
}
