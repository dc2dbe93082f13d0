//! Plans, day's lists, reasons and lifts as words on a terminal.

use super::{amount, both, figure, short, table};
use crate::args::Units;
use crate::failure::put;
use engine::view::{
    Amount, ChangeView, DayListView, Figure, LiftView, LineView, PlanView, SoonestView, WayView,
    WhyView,
};
use engine::works::NoPlan;

/// Days and lines of a plan.
pub(crate) fn plan(p: &PlanView, reasons: bool) {
    put!("{}, {}: {} works to do, {} done", p.engine, p.stage, p.works, p.done.len());
    if let Some(to) = &p.only_to {
        put!("only as far as: {to}");
    }
    put!("from {} to {}: {} of working time", p.begins, p.ends, p.elapsed);
    let proof = if p.optimal {
        "no plan is shorter".to_owned()
    } else {
        format!(
            "at most {:.1} % above the shortest there can be ({} min)",
            p.gap_percent, p.bound_min
        )
    };
    put!(
        "{proof}; {} moves of the engine, {} set-ups of the crane, {:.0} hours of people",
        p.moves,
        p.set_ups,
        p.people_hours
    );
    for s in &p.stuck {
        let why = if s.why.is_empty() { String::new() } else { format!(" ({})", s.why) };
        put!("will not go: {} - {}{why}", s.name, s.how);
    }
    changes(&p.changes);
    for d in &p.days {
        put!();
        put!("{} {}, {}; here: {}", d.weekday, d.date, d.hours, d.people.join(", "));
        for g in &d.goes_on {
            put!("        goes on: {g}");
        }
        for l in &d.lines {
            line(l, reasons);
        }
        for h in &d.hangs {
            put!("        overnight: {h}");
        }
    }
    put!();
    for w in &p.ways_out {
        put!("no way: {w}");
    }
    for n in &p.notes {
        put!("note: {n}");
    }
    put!("! {}", p.caution);
}

fn line(l: &LineView, reasons: bool) {
    if l.kind == "bar" {
        put!("  {:>5}  --- bar the engine round {} ({}, {} min)", l.from, l.how, who(l), l.minutes);
        return;
    }
    let mark = if l.kind == "hold point" { "HOLD " } else { "" };
    let number = l.number.map_or(String::new(), |n| format!("{n:>3} "));
    put!("  {:>5}  {number}{mark}{}  [{}]", l.from, l.name, l.work);
    let time = match l.until.as_str() {
        "goes on" => format!("{} min before the break, goes on after it", l.minutes),
        until => format!("{} min, until {until}", l.minutes),
    };
    let mut facts = vec![l.how.clone(), format!("{}, {time}", who(l))];
    if !l.place.is_empty() {
        facts.push(l.place.clone());
    }
    if !l.kit.is_empty() {
        facts.push(l.kit.join(", "));
    }
    put!("             {}", facts.join("; "));
    for x in &l.leaves {
        put!("             leaves hanging: {x}");
    }
    for x in &l.stays {
        put!("             stays: {x}");
    }
    if let Some(lift) = &l.lift {
        put!("             lift: {lift}");
    }
    if l.fails_percent >= 10.0 || reasons {
        for o in l.others.iter().filter(|o| !o.stuck) {
            let odds = if l.fails_percent > 0.0 {
                format!("may not go ({:.0} %)", l.fails_percent)
            } else {
                "other way".to_owned()
            };
            put!("             {odds}; then: {}", other_way(o));
        }
    }
    if reasons {
        put!("             why here: {}", l.why);
        for c in &l.cautions {
            put!("             ! {c}");
        }
    }
}

/// By name, or how many.
fn who(l: &LineView) -> String {
    if l.who.is_empty() { people(l.people) } else { l.who.join(" + ") }
}

fn people(n: u32) -> String {
    if n == 1 { "1 person".to_owned() } else { format!("{n} people") }
}

/// Another way and what it would take.
fn other_way(o: &WayView) -> String {
    let mut all =
        vec![format!("{} [{}]", o.how, o.way), format!("{}, {} min", people(o.people), o.minutes)];
    if !o.kit.is_empty() {
        all.push(o.kit.join(", "));
    }
    all.extend(o.besides.iter().map(|b| format!("first {b}")));
    all.push(match o.more_people_min {
        0 => "as many people-minutes".to_owned(),
        more if more > 0 => format!("{more} people-minutes more"),
        less => format!("{} people-minutes less", -less),
    });
    all.join("; ")
}

/// Works taken out of their order that are told one by one.
const MOST_MOVED: usize = 8;

fn changes(list: &[ChangeView]) {
    if list.is_empty() {
        return;
    }
    put!();
    put!("changed:");
    let (moved, turned): (Vec<_>, Vec<_>) =
        list.iter().filter(|c| !c.only_time).partition(|c| c.only_order);
    for c in turned.iter().chain(moved.iter().take(MOST_MOVED)) {
        put!("  {}: {} - {}", c.name, c.what, c.why);
    }
    if moved.len() > MOST_MOVED {
        put!(
            "  and {} more taken out of their place (--json lists them)",
            moved.len() - MOST_MOVED
        );
    }
    let later = list.iter().filter(|c| c.only_time).count();
    if later > 0 {
        put!("  {later} works keep their place in the order and are only later or sooner");
    }
}

/// What a record changed.
pub(crate) fn changed(p: &PlanView, was: &str) {
    if p.ends == was {
        put!("the {} still ends {}", p.stage, p.ends);
    } else {
        put!("the {} now ends {} (before: {was})", p.stage, p.ends);
    }
    for s in &p.stuck {
        put!("will not go: {} - {}", s.name, s.how);
    }
    changes(&p.changes);
    put!();
    put!("next:");
    let lines = p.days.iter().flat_map(|d| d.lines.iter().map(move |l| (d, l)));
    for (d, l) in lines.take(4) {
        put!("  {} {} {}  {} - {}", &d.weekday[..3], d.date, l.from, l.name, l.how);
    }
}

/// A plan as a table.
pub(crate) fn plan_csv(p: &PlanView) -> String {
    let mut out = String::from(
        "number,date,from,until,minutes,kind,work,name,way,how,people,who,kit,place,position,lift,leaves,stays,why\r\n",
    );
    for d in &p.days {
        for l in &d.lines {
            let cells = [
                l.number.map_or(String::new(), |n| n.to_string()),
                d.date.clone(),
                l.from.clone(),
                l.until.clone(),
                l.minutes.to_string(),
                l.kind.to_owned(),
                l.work.clone(),
                l.name.clone(),
                l.way.clone(),
                l.how.clone(),
                l.people.to_string(),
                l.who.join("; "),
                l.kit.join("; "),
                l.place.clone(),
                l.position.clone(),
                l.lift.clone().unwrap_or_default(),
                l.leaves.join("; "),
                l.stays.join("; "),
                l.why.clone(),
            ];
            out.push_str(&cells.map(|c| cell(&c)).join(","));
            out.push_str("\r\n");
        }
    }
    out
}

/// A cell of RFC 4180; what a spreadsheet would take for a formula is kept a text.
fn cell(text: &str) -> String {
    let text =
        if text.starts_with(['=', '+', '-', '@']) { format!("'{text}") } else { text.to_owned() };
    if text.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text
    }
}

/// A day's list.
pub(crate) fn day(d: &DayListView) {
    put!("{}: {} {}, people: {}", d.engine, d.weekday, d.date, d.people);
    for n in &d.notes {
        put!("note: {n}");
    }
    if d.lines.is_empty() {
        put!("nothing can be done that day");
    }
    put!();
    for l in &d.lines {
        line(l, false);
    }
    put!();
    let list = |title: &str, what: &[String]| {
        if !what.is_empty() {
            put!("{title}: {}", what.join(", "));
        }
    };
    list("fetch", &d.fetch);
    list("and", &d.bring);
    list("lifts to be gone through first", &d.lifts);
    list("hangs overnight", &d.hangs_overnight);
    for w in &d.waits {
        put!("waits: {w}");
    }
    put!("chance that all of it goes at once: {:.0} %", d.all_go_percent);
    put!("the rest then ends {}", d.then_ends);
    put!();
    for c in &d.cautions {
        put!("! {c}");
    }
}

/// Why one is before another.
pub(crate) fn why(w: &WhyView) {
    match (w.is, w.must) {
        (true, true) => put!("\"{}\" must come before \"{}\":", w.first, w.then),
        (true, false) => put!(
            "\"{}\" need not come before \"{}\"; in this plan it does, going back from the later:",
            w.first,
            w.then
        ),
        _ => put!("\"{}\" and \"{}\":", w.first, w.then),
    }
    for r in &w.reasons {
        put!("  {r}");
    }
}

/// How soon something can be done.
pub(crate) fn soonest(s: &SoonestView) {
    put!("{} [{}]", s.name, s.work);
    put!("  in the plan it is done {}", s.in_plan);
    put!(
        "  if all else waits: {}, after {} of work; never before {}",
        s.alone,
        s.alone_takes,
        s.not_before
    );
    put!("  on the way, in order:");
    for w in &s.by {
        put!("    {w}");
    }
    if !s.how.is_empty() {
        put!("  in the plan: {}", s.how);
    }
    for w in &s.ways {
        let stuck = if w.stuck { " (will not go, as recorded)" } else { "" };
        put!("  other way{stuck}: {}", other_way(w));
    }
    put!("  what would help:");
    for x in &s.savings {
        put!(
            "    {}: saves {} (for certain {}, at most {})",
            x.what,
            x.saves,
            x.at_least,
            x.at_most
        );
    }
}

/// A list of lifts.
pub(crate) fn lifts(all: &[Result<LiftView, NoPlan>], units: Units) {
    let rows: Vec<Vec<String>> = all
        .iter()
        .map(|l| match l {
            Ok(l) => vec![l.lift.clone(), l.name.clone(), both(&l.mass, units), kinds(l)],
            Err(e) => vec!["?".to_owned(), e.to_string(), String::new(), String::new()],
        })
        .collect();
    table::print(&["lift", "what", "mass", "how"], &rows);
}

fn kinds(l: &LiftView) -> String {
    let mut all = Vec::new();
    if let Some(s) = &l.sling {
        all.push(match s.legs.len() {
            1 => "1 leg".to_owned(),
            n => format!("{n} legs"),
        });
    }
    if l.slide.is_some() {
        all.push("slides off its seat".to_owned());
    }
    if let Some(j) = &l.jacks {
        all.push(format!("{} supports", j.loads.len()));
    }
    if l.draw.is_some() {
        all.push("drawn".to_owned());
    }
    all.join(", ")
}

/// A lift.
pub(crate) fn lift(l: &LiftView, units: Units) {
    put!("{} [{}]", l.name, l.lift);
    for p in &l.parts {
        put!("  {}: {}, {}", p.name, both(&p.mass, units), p.how);
    }
    put!(
        "  on the hook: {}, standard uncertainty {}",
        both(&l.mass, units),
        amount(&l.mass_doubt, units)
    );
    let at: Vec<&str> = l.balance.iter().map(|f| short(f, units)).collect();
    let datum = if l.datum.is_empty() { "the datum" } else { l.datum.as_str() };
    put!("  balance point: {} along, {} across, {} up from {datum}", at[0], at[1], at[2]);
    if let Some(s) = &l.sling {
        put!();
        put!("slings: {} rated {} a leg", s.gear, both(&s.rated, units));
        let rows: Vec<Vec<String>> = s
            .legs
            .iter()
            .map(|g| {
                vec![
                    g.leg.to_string(),
                    format!("{:.0} deg", g.angle_deg),
                    both(&g.tension, units),
                    both(&g.most, units),
                    format!("{:.0} %", g.share_percent),
                ]
            })
            .collect();
        table::print(&["leg", "to the vertical", "tension", "at most", "of its rating"], &rows);
        put!(
            "  hangs {:.1} deg out of level, the hook {} above the balance point",
            s.tilt_deg,
            figure(&s.hook_above, units)
        );
        let mode = s.mode_percent.map_or(String::new(), |m| format!(", {m:.0} % of it"));
        put!(
            "  rating: {} by statics, {} by mode factor{mode}",
            if s.within_by_statics { "within" } else { "NOT within" },
            if s.within_by_mode { "within" } else { "NOT within" }
        );
        for f in &s.findings {
            put!("  ! {f}");
        }
    }
    if let Some(s) = &l.slide {
        put!();
        put!("off its seat, what carries (minus: holds down):");
        let rows: Vec<Vec<String>> = s
            .stages
            .iter()
            .map(|g| {
                let f = |a: &Amount| amount(a, units).to_owned();
                vec![
                    short(&g.out, units).to_owned(),
                    f(&g.seat_inner),
                    f(&g.seat_outer),
                    f(&g.crane),
                    f(&g.hands),
                    format!("{} to {}", f(&g.pull), f(&g.pull_high)),
                    format!("{}{}", if g.bad { "! " } else { "" }, g.state),
                ]
            })
            .collect();
        table::print(
            &["out", "inner edge", "outer edge", "crane", "hands", "to draw it", "it"],
            &rows,
        );
        for e in s.events.iter().chain(&s.advice) {
            put!("  {e}");
        }
    }
    if let Some(j) = &l.jacks {
        put!();
        put!("on jacks and packing:");
        let rows: Vec<Vec<String>> = j
            .loads
            .iter()
            .map(|g| {
                vec![
                    g.support.to_string(),
                    g.kind.to_owned(),
                    both(&g.load, units),
                    both(&g.most, units),
                    g.share_percent.map_or(String::new(), |s| format!("{s:.0} %")),
                ]
            })
            .collect();
        table::print(&["no.", "what", "load", "at most", "of its rating"], &rows);
        let f = |f: &Figure| figure(f, units);
        put!(
            "  balance point {} inside the supports, {} after side force, slope and doubt; tips at {:.0} deg",
            f(&j.margin),
            f(&j.left),
            j.tip_deg
        );
        for x in &j.findings {
            put!("  ! {x}");
        }
    }
    if let Some(d) = &l.draw {
        put!();
        let all: Vec<String> = d.force.iter().map(|f| amount(f, units).to_owned()).collect();
        put!("drawing: {} ({})", all.join(" / "), d.source);
        put!(
            "  {} at the pump, {} at the high figure; {:.0} % of the rating: {}",
            both(&d.pressure, units),
            amount(&d.pressure_high, units),
            d.share_percent,
            d.finding
        );
        put!("  the tackle must stand {} when the pump's valve lifts", both(&d.at_valve, units));
    }
    put!();
    for n in &l.notes {
        put!("note: {n}");
    }
    if !l.used_by.is_empty() {
        put!("used by: {}", l.used_by.join(", "));
    }
    for c in &l.cautions {
        put!("! {c}");
    }
}
