//! Cards and sheets from what the engine plans: its views, laid out for the ones who do the work.

use super::cards::*;
use crate::options::UnitsFirst;
use crate::pictures::motion_pictures;
use drawing::Picture;
use drawing::motion::DrawingStyle;
use engine::judge::Judgement;
use engine::motion::{Mechanism, parse_said};
use engine::view::{
    Amount, DayListView, Figure, LiftPartView, LiftView, LineView, PlanView, SlingView,
};
use engine::works::Work;

/// One system of units, or both.
fn amount(a: &Amount, units: UnitsFirst) -> String {
    both(&a.metric, &a.imperial, units)
}

fn figure(f: &Figure, units: UnitsFirst) -> String {
    both(&f.metric, &f.imperial, units)
}

fn both(metric: &str, imperial: &str, units: UnitsFirst) -> String {
    let (first, second) = match units {
        UnitsFirst::Metric => (metric, imperial),
        UnitsFirst::Imperial => (imperial, metric),
    };
    if second.is_empty() || first == second {
        first.to_owned()
    } else {
        format!("{first} ({second})")
    }
}

/// A plan as a sheet, with the charts of its days where they are given: each with the words over it,
/// in which the date stands.
pub fn plan_of(view: &PlanView, charts: &[(String, Picture)]) -> PlanSheet {
    let bound = if view.optimal {
        "no shorter plan can be".to_owned()
    } else {
        format!("at most {:.1} % longer than the shortest there can be", view.gap_percent)
    };
    let mut notes = vec![format!(
        "{} works, {:.0} hours of people, {} moves of the engine, {} set-ups.",
        view.works, view.people_hours, view.moves, view.set_ups
    )];
    notes.extend(view.done.iter().map(|d| format!("Done: {}, {}.", d.name, d.ended)));
    notes.extend(view.stuck.iter().map(|s| format!("Stuck: {}, {}: {}.", s.name, s.how, s.why)));
    notes.extend(
        view.changes.iter().map(|c| format!("Changed: {}: {} ({}).", c.name, c.what, c.why)),
    );
    notes.extend(view.notes.iter().cloned());
    let mut days: Vec<PlanDay> = view
        .days
        .iter()
        .map(|d| PlanDay {
            title: format!("{} {}, {}", d.weekday, d.date, d.hours),
            position: String::new(),
            chart: None,
            works: d.lines.iter().map(plan_work).collect(),
        })
        .collect();
    for (day, shown) in days.iter_mut().zip(&view.days) {
        let mut said = vec![format!("Here: {}.", shown.people.join(", "))];
        if !shown.goes_on.is_empty() {
            said.push(format!("Goes on from before: {}.", shown.goes_on.join(", ")));
        }
        if !shown.hangs.is_empty() {
            said.push(format!("Hangs overnight: {}.", shown.hangs.join(", ")));
        }
        day.position = said.join(" ");
    }
    for (day, shown) in days.iter_mut().zip(&view.days) {
        day.chart =
            charts.iter().find(|(label, _)| label.contains(&shown.date)).map(|c| c.1.clone());
    }
    PlanSheet {
        engine: view.engine.clone(),
        title: match &view.only_to {
            Some(to) => format!("Plan of the {} as far as {to}", view.stage),
            None => format!("Plan of the {}", view.stage),
        },
        from: view.begins.clone(),
        takes: format!("{} to {}; {bound}", view.elapsed, view.ends),
        by: String::new(),
        notes,
        cautions: vec![view.caution.to_owned()],
        days,
        not_considered: Vec::new(),
    }
}

fn plan_work(line: &LineView) -> PlanWork {
    let who = if line.who.is_empty() { format!("{}", line.people) } else { line.who.join(", ") };
    let mut kit = line.kit.clone();
    if !line.place.is_empty() {
        kit.push(line.place.clone());
    }
    let mut note = Vec::new();
    if line.kind == "hold point" {
        note.push("HOLD POINT".to_owned());
    }
    if !line.position.is_empty() {
        note.push(format!("at {}", line.position));
    }
    note.extend(line.cautions.iter().map(|c| format!("! {c}")));
    note.extend(line.leaves.iter().map(|l| format!("leaves {l}")));
    note.extend(line.stays.iter().map(|s| format!("stays there: {s}")));
    if !line.note.is_empty() {
        note.push(line.note.clone());
    }
    let how = if line.how.is_empty() { String::new() } else { format!(": {}", line.how) };
    PlanWork {
        from: line.from.clone(),
        to: line.until.clone(),
        work: format!("{}{how}", line.name),
        people: who,
        kit: kit.join(", "),
        note: note.join("; "),
    }
}

/// A day's list as a sheet.
pub fn day_of(view: &DayListView) -> PlanSheet {
    let mut notes = Vec::new();
    for (word, items) in [
        ("Fetch", &view.fetch),
        ("Bring", &view.bring),
        ("Lifts", &view.lifts),
        ("Waits", &view.waits),
    ] {
        if !items.is_empty() {
            notes.push(format!("{word}: {}.", items.join(", ")));
        }
    }
    if !view.hangs_overnight.is_empty() {
        notes.push(format!("Hangs overnight: {}.", view.hangs_overnight.join(", ")));
    }
    notes.extend(view.notes.iter().cloned());
    PlanSheet {
        engine: view.engine.clone(),
        title: "The day's list".to_owned(),
        from: format!("{} {}", view.weekday, view.date),
        takes: format!("all of it goes with a chance of {:.0} %", view.all_go_percent),
        by: String::new(),
        notes,
        cautions: view.cautions.clone(),
        days: vec![PlanDay {
            title: format!("{} {}, {}", view.weekday, view.date, view.people),
            position: String::new(),
            chart: None,
            works: view.lines.iter().map(plan_work).collect(),
        }],
        not_considered: Vec::new(),
    }
}

/// A card for a line of a plan or a day's list; `None` for a move of the engine, which has no work.
/// What could not be drawn or lifted is told in the card's notes.
pub fn card_of(
    judgement: &Judgement,
    line: &LineView,
    day: &str,
    units: UnitsFirst,
) -> Option<JobCard> {
    let engine = judgement.engine();
    let work = engine.works.works.get(engine.works.work_by_id(&line.work)?)?;
    let way = work.ways.iter().find(|w| w.id == line.way);
    let mut notes: Vec<String> = line.leaves.iter().map(|l| format!("Leaves {l}.")).collect();
    notes.extend(line.stays.iter().map(|s| format!("Stays there: {s}.")));
    if line.fails_percent > 0.0 {
        notes.push(format!("In {:.0} of 100 it will not go this way.", line.fails_percent));
        notes.extend(line.others.iter().map(|o| {
            let needs = if o.needs.is_empty() {
                String::new()
            } else {
                format!("; first: {}", o.needs.join(", "))
            };
            format!("Else: {} ({} min, {} people{needs}).", o.how, o.minutes, o.people)
        }));
    }
    for text in [&line.note, &work.note] {
        if !text.is_empty() && !notes.contains(text) {
            notes.push(text.clone());
        }
    }
    let position_drawing = match position_picture(judgement, &line.position) {
        Some(Ok(picture)) => Some(picture),
        Some(Err(why)) => {
            notes.push(format!("The position is not drawn: {why}."));
            None
        }
        None => None,
    };
    let (mut lifts, mut cautions) = (Vec::new(), line.cautions.clone());
    if let Some(at) = way.and_then(|w| w.lift) {
        match engine::works::lift(engine, at) {
            Ok(answer) => {
                let view = engine::view::lift_view(engine, &answer);
                lifts.push(card_lift(&view, units));
                cautions.extend(view.cautions.iter().map(|c| (*c).to_owned()));
            }
            Err(why) => notes.push(format!("The lift is not worked out: {why}.")),
        }
    }
    let mut once = Vec::new();
    cautions.retain(|c| {
        !once.contains(c) && {
            once.push(c.clone());
            true
        }
    });
    let mut kit = line.kit.clone();
    kit.extend(line.bring.iter().cloned());
    Some(JobCard {
        engine: engine.name.clone(),
        work: work.id.clone(),
        title: work.name.clone(),
        when: format!("{day} {} to {}", line.from, line.until).trim().to_owned(),
        takes: format!("{} min, {} people", line.minutes, line.people),
        cautions,
        people: if line.who.is_empty() {
            vec![format!("{} people", line.people)]
        } else {
            line.who.clone()
        },
        kit,
        position: line.position.clone(),
        position_drawing,
        first: first(judgement, work),
        parts: parts(judgement, work),
        steps: steps(judgement, work, line),
        lifts,
        lift_drawing: None,
        notes,
    })
}

/// Where the pins stand, seen from behind, at a position as a plan says it: that of the first
/// cylinder named is enough, the others follow from it. `None` where the words are no position; the
/// reason where it cannot be drawn.
pub fn position_picture(judgement: &Judgement, position: &str) -> Option<Result<Picture, String>> {
    let first = position.split(',').next()?.trim();
    if first.is_empty() {
        return None;
    }
    let text = if first.ends_with("past front") || !position.ends_with("past front") {
        first.to_owned()
    } else {
        format!("{first} past front")
    };
    // Words that are no position (none needed, any) are no fault.
    let said = parse_said(&judgement.engine().motion, &text).ok()?;
    let drawn = || -> Result<Picture, String> {
        let mechanism = Mechanism::of(judgement).map_err(|e| e.to_string())?;
        let wheel = said.wheel_angle(&mechanism).map_err(|e| e.to_string())?;
        let style = DrawingStyle::default();
        let svg = motion_pictures(judgement, &mechanism, wheel, &style)?
            .pop()
            .ok_or_else(|| "there is nothing to draw".to_owned())?;
        let size = |name: &str| -> Option<f64> {
            let rest = svg.split_once(&format!(" {name}=\""))?.1;
            rest.split_once('"')?.0.trim_end_matches("pt").parse().ok()
        };
        match (size("width"), size("height")) {
            (Some(width_pt), Some(height_pt)) if width_pt > 0.0 && height_pt > 0.0 => Ok(Picture {
                width_pt,
                height_pt,
                description: format!("the driving axle seen from behind, {position}"),
                svg,
            }),
            _ => Err("the drawing has no size".to_owned()),
        }
    };
    Some(drawn())
}

fn first(judgement: &Judgement, work: &Work) -> Vec<String> {
    let works = &judgement.engine().works;
    let name = |at: usize| works.works.get(at).map_or("", |w| w.name.as_str());
    work.after
        .iter()
        .chain(&work.needs)
        .map(|s| {
            let why = if s.reason.is_empty() { String::new() } else { format!(" ({})", s.reason) };
            format!("{}{why}", name(s.work))
        })
        .filter(|text| !text.is_empty())
        .collect()
}

fn parts(judgement: &Judgement, work: &Work) -> Vec<CardPart> {
    let engine = judgement.engine();
    work.takes_off
        .iter()
        .map(|p| (p, "off"))
        .chain(work.puts_on.iter().map(|p| (p, "on the engine")))
        .filter_map(|(ix, to)| {
            let part = engine.parts.get(ix.index())?;
            Some(CardPart {
                part: part.id.clone(),
                name: part.name.clone(),
                tag: part.tag.clone().unwrap_or_default(),
                to: if to == "off" { String::new() } else { to.to_owned() },
            })
        })
        .collect()
}

/// What there is to do and to write down, as far as the description tells it.
fn steps(judgement: &Judgement, work: &Work, line: &LineView) -> Vec<CardStep> {
    let engine = judgement.engine();
    let step = |text: String| CardStep { text, ..CardStep::default() };
    let mut out = Vec::new();
    for r in &work.reads {
        let joint = engine.joint(*r);
        out.push(CardStep {
            figure: "read, with gauge".to_owned(),
            ..step(format!("read {} while it is together", joint.id))
        });
    }
    out.push(step(if line.how.is_empty() { work.name.clone() } else { line.how.clone() }));
    for j in &work.undoes {
        out.push(step(format!("part {}; mark what belongs together", engine.joint(*j).id)));
    }
    if !work.takes_off.is_empty() {
        out.push(step("tag what comes off, and write down where it is put".to_owned()));
    }
    for g in &work.gauges {
        out.push(CardStep {
            figure: "gauge sheet filled in".to_owned(),
            ..step(format!("gauge {}", engine.feature(*g).id))
        });
    }
    for j in &work.makes {
        out.push(step(format!("put {} together", engine.joint(*j).id)));
    }
    if line.kind == "hold point" {
        out.push(CardStep {
            hold_point: work.id.clone(),
            ..step("nobody goes on before this is released".to_owned())
        });
    }
    out
}

fn card_lift(view: &LiftView, units: UnitsFirst) -> CardLift {
    let worst = view
        .sling
        .as_ref()
        .and_then(|s| s.legs.iter().max_by(|a, b| a.share_percent.total_cmp(&b.share_percent)));
    CardLift {
        what: view.name.clone(),
        mass: mass_words(view, units),
        with: view.sling.as_ref().map_or_else(String::new, |s| s.gear.clone()),
        leg: worst.map_or_else(String::new, |l| amount(&l.most, units)),
        limit: view.sling.as_ref().map_or_else(String::new, |s| amount(&s.rated, units)),
        share: worst.map_or_else(String::new, |l| format!("{:.0} %", l.share_percent)),
    }
}

fn mass_words(view: &LiftView, units: UnitsFirst) -> String {
    let how: Vec<&str> = view.parts.iter().map(|p: &LiftPartView| p.how).collect();
    let how = if how.iter().all(|h| *h == "weighed") { "weighed" } else { "worked out" };
    format!("{} ± {}, {how}", amount(&view.mass, units), amount(&view.mass_doubt, units))
}

/// A lift as a sheet, with its drawings.
pub fn lift_of(
    engine: &str,
    view: &LiftView,
    drawings: Vec<Picture>,
    units: UnitsFirst,
) -> LiftSheet {
    let mut tables = vec![FigureTable {
        title: "On the hook".to_owned(),
        heading: ["part", "named", "mass", "how it is known"].map(str::to_owned).to_vec(),
        rows: view
            .parts
            .iter()
            .map(|p| vec![p.part.clone(), p.name.clone(), amount(&p.mass, units), p.how.to_owned()])
            .collect(),
    }];
    let mut notes = Vec::new();
    if let Some(s) = &view.sling {
        sling(s, units, &mut tables, &mut notes);
    }
    if let Some(s) = &view.slide {
        tables.push(FigureTable {
            title: "Coming off its seat".to_owned(),
            heading: ["out", "inner edge", "outer edge", "crane", "hands", "pull", "it"]
                .map(str::to_owned)
                .to_vec(),
            rows: s
                .stages
                .iter()
                .map(|r| {
                    vec![
                        figure(&r.out, units),
                        amount(&r.seat_inner, units),
                        amount(&r.seat_outer, units),
                        amount(&r.crane, units),
                        amount(&r.hands, units),
                        format!("{} to {}", amount(&r.pull, units), amount(&r.pull_high, units)),
                        if r.bad { format!("! {}", r.state) } else { r.state.to_owned() },
                    ]
                })
                .collect(),
        });
        notes.extend(s.events.iter().cloned());
        notes.extend(s.advice.iter().cloned());
    }
    if let Some(j) = &view.jacks {
        tables.push(FigureTable {
            title: "Jacks and packing".to_owned(),
            heading: ["support", "is", "load, all alike", "the most", "of its rating"]
                .map(str::to_owned)
                .to_vec(),
            rows: j
                .loads
                .iter()
                .map(|l| {
                    vec![
                        l.support.to_string(),
                        l.kind.to_owned(),
                        amount(&l.load, units),
                        amount(&l.most, units),
                        l.share_percent.map_or_else(String::new, |p| format!("{p:.0} %")),
                    ]
                })
                .collect(),
        });
        notes.push(format!(
            "The balance point is {} inside the nearest side of the supports; of that {} is left; {:.1}° of tilt would tip it.",
            figure(&j.margin, units),
            figure(&j.left, units),
            j.tip_deg
        ));
        notes.extend(j.findings.iter().cloned());
    }
    if let Some(d) = &view.draw {
        let force: Vec<String> = d.force.iter().map(|f| amount(f, units)).collect();
        notes.push(format!(
            "Draw: {} at low, likely and high friction ({}); {} at the pump, {} at high friction, {:.0} % of the rating; the tackle must stand {} when the valve lifts; {}.",
            force.join(" / "),
            d.source,
            amount(&d.pressure, units),
            amount(&d.pressure_high, units),
            d.share_percent,
            amount(&d.at_valve, units),
            d.finding
        ));
    }
    LiftSheet {
        engine: engine.to_owned(),
        title: view.name.clone(),
        mass: mass_words(view, units),
        with: view.sling.as_ref().map_or_else(String::new, |s| s.gear.clone()),
        cautions: view.cautions.iter().map(|c| (*c).to_owned()).collect(),
        tables,
        drawings,
        steps: Vec::new(),
        notes,
        not_considered: view.notes.clone(),
    }
}

fn sling(s: &SlingView, units: UnitsFirst, tables: &mut Vec<FigureTable>, notes: &mut Vec<String>) {
    tables.push(FigureTable {
        title: "Sling".to_owned(),
        heading: [
            "leg",
            "angle to the vertical",
            "tension",
            "the most it can come to",
            "it may carry",
            "share",
        ]
        .map(str::to_owned)
        .to_vec(),
        rows: s
            .legs
            .iter()
            .map(|l| {
                vec![
                    l.leg.to_string(),
                    format!("{:.0}°", l.angle_deg),
                    amount(&l.tension, units),
                    amount(&l.most, units),
                    amount(&s.rated, units),
                    format!("{:.0} %", l.share_percent),
                ]
            })
            .collect(),
    });
    let said = |within: bool| if within { "within the rating" } else { "NOT within the rating" };
    notes.push(format!("By statics {}.", said(s.within_by_statics)));
    notes.push(match s.mode_percent {
        Some(p) => format!("By the mode factor {} ({p:.0} % of it).", said(s.within_by_mode)),
        None => format!("By the mode factor {}.", said(s.within_by_mode)),
    });
    notes.push(format!(
        "It hangs {:.1}° out of level, the hook {} above the balance point.",
        s.tilt_deg,
        figure(&s.hook_above, units)
    ));
    notes.extend(s.findings.iter().cloned());
}
