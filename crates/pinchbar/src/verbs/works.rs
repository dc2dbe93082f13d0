//! Verbs of strip, lift and build: plan, today, done, stuck, why, lift.

use super::paper::{beside, units};
use super::{judged, print_json, works_drawing as drawing};
use crate::args::{Args, Verb};
use crate::failure::{DONE, Failure, PARTLY, put};
use crate::folder::{Opened, append, folder_of, is_book, open, write_whole};
use crate::say;
use book::Said;
use engine::judge::Judgement;
use engine::model::Date;
use engine::view;
use engine::works::{
    self, Ask, KeptPlans, Moment, News, NoPlan, OnTheDay, Planned, Stage, Step, Watch, WorkId,
};
use serde_json::json;
use signal_hook::consts::SIGINT;
use std::fmt::Write as _;
use std::io::IsTerminal;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

/// Plans stand beside the engine's own file, written anew with every plan.
const PLANS: &str = "plan.json";
/// What happened, added to.
const PROGRESS: &str = "progress.toml";
/// Plans tried where nobody says how long to search: the same input gives the same plan.
const STEPS: u64 = 30_000;
/// Plans tried for a day's list and for each question of what something would save.
const FEW_STEPS: u64 = 600;

/// Runs one of them.
pub(super) fn run(args: &Args, today: Date) -> Result<u8, Failure> {
    let engine = match &args.verb {
        Verb::Plan { engine, .. }
        | Verb::Today { engine, .. }
        | Verb::Done { engine, .. }
        | Verb::Stuck { engine, .. }
        | Verb::Why { engine, .. }
        | Verb::Card { engine, .. }
        | Verb::Lift { engine, .. } => engine,
        _ => return Err(Failure::Fault("not a verb of strip and build".to_owned())),
    };
    let (judgement, whole) = judged(args, opened(engine, today)?)?;
    match &args.verb {
        Verb::Plan { .. } => plan(args, &judgement, engine)?,
        Verb::Today { .. } => day(args, &judgement, engine)?,
        Verb::Done { .. } | Verb::Stuck { .. } => happened(args, &judgement, engine, today)?,
        Verb::Why { .. } => why(args, &judgement, engine)?,
        Verb::Card { .. } => cards(args, &judgement, engine)?,
        _ => lift(args, &judgement)?,
    }
    Ok(if whole { DONE } else { PARTLY })
}

/// The engine with what has happened to its works: a book says it in entries of its own.
fn opened(engine: &Path, today: Date) -> Result<Opened, Failure> {
    let mut opened = open(engine, Some(today))?;
    if is_book(engine) {
        let book = super::book::open(engine)?;
        for left_out in book.fold().tell_works(&mut opened.engine) {
            eprintln!("{left_out}");
        }
    }
    Ok(opened)
}

fn wrong(e: NoPlan) -> Failure {
    match e {
        NoPlan::NoTarget { name, mend } => {
            Failure::wrong(format!("nothing is called \"{name}\" here"), mend)
        }
        other => Failure::wrong(other.to_string(), ""),
    }
}

fn stage(build: bool) -> Stage {
    if build { Stage::Build } else { Stage::Strip }
}

/// Where the plans of an engine stand; nowhere for a book or a single file.
fn plans_of(engine: &Path) -> Option<PathBuf> {
    (!is_book(engine) && engine.is_dir()).then(|| engine.join(PLANS))
}

/// The plans stored. A file that cannot be read is no reason not to plan: it is made anew.
fn kept_plans(engine: &Path) -> KeptPlans {
    let read = plans_of(engine).and_then(|f| std::fs::read(f).ok());
    read.and_then(|bytes| serde_json::from_slice(&bytes).ok()).unwrap_or_default()
}

fn keep(engine: &Path, planned: &Planned) -> Result<(), Failure> {
    // A plan to somewhere on the way is an answer, not the plan in force.
    let (Some(file), None) = (plans_of(engine), &planned.kept.only_to) else { return Ok(()) };
    let mut plans = kept_plans(engine);
    if plans.of(planned.assembled.stage) == Some(&planned.kept) {
        return Ok(());
    }
    plans.put(planned.assembled.stage, planned.kept.clone());
    let text = serde_json::to_string(&plans).map_err(|e| Failure::Fault(e.to_string()))?;
    // A folder that nothing can be written to still gets its answer.
    match write_whole(&file, text.as_bytes()) {
        Err(Failure::Fault(what)) => {
            eprintln!("the plan could not be kept: {what}");
            Ok(())
        }
        other => other,
    }
}

/// Plans, stopping after so many seconds when that is said.
fn planned(
    judgement: &Judgement,
    ask: &Ask,
    engine: &Path,
    seconds: Option<f64>,
) -> Result<Planned, Failure> {
    let stop = Arc::new(AtomicBool::new(false));
    // Ctrl-C ends the search and keeps the best plan so far; a second one ends the program.
    let mut heard = Vec::new();
    for register in [
        signal_hook::flag::register_conditional_default(SIGINT, Arc::clone(&stop)),
        signal_hook::flag::register(SIGINT, Arc::clone(&stop)),
    ] {
        // Where signals cannot be had the search goes on without.
        heard.extend(register.ok());
    }
    if let Some(s) = seconds {
        if !(0.01..=86_400.0).contains(&s) {
            return Err(Failure::wrong(format!("{s} seconds cannot be"), "0.01 to 86400"));
        }
        let stop = Arc::clone(&stop);
        std::thread::spawn(move || {
            std::thread::sleep(Duration::from_secs_f64(s));
            stop.store(true, Ordering::Relaxed);
        });
    }
    let told = Mutex::new(None);
    let news = |news: &News| tell(&told, news);
    let watch = Watch { news: &news, stop: &stop };
    let plans = kept_plans(engine);
    let last = plans.of(ask.stage);
    let found = works::plan(judgement, ask, last, &watch).map_err(wrong);
    if told.into_inner().is_ok_and(|t| t.is_some()) {
        eprint!("\r{:70}\r", "");
    }
    heard.into_iter().for_each(|id| {
        signal_hook::low_level::unregister(id);
    });
    found
}

/// Says on a terminal, now and then, how the search stands.
fn tell(told: &Mutex<Option<Instant>>, news: &News) {
    const EVERY: Duration = Duration::from_millis(250);
    if !std::io::stderr().is_terminal() {
        return;
    }
    let Ok(mut last) = told.lock() else { return };
    if last.is_some_and(|l| l.elapsed() < EVERY) {
        return;
    }
    *last = Some(Instant::now());
    let (best, least) = (news.cost.elapsed_min, news.bound.elapsed_min);
    let line =
        format!("{} plans tried, {best} min, none under {least} (Ctrl-C keeps it)", news.steps);
    eprint!("\r{line:70}");
}

fn plan(args: &Args, judgement: &Judgement, engine: &Path) -> Result<(), Failure> {
    let Verb::Plan { build, only_to, seconds, seed, afresh, reasons, svg, csv, print, .. } =
        &args.verb
    else {
        return Err(Failure::Fault("not `plan`".to_owned()));
    };
    let ask = Ask {
        only_to: only_to.clone(),
        seed: *seed,
        // With a clock the search ends when the time is up.
        steps: if seconds.is_some() { u64::MAX / 4 } else { STEPS },
        // Whoever says how long to search wants a search.
        afresh: *afresh || seconds.is_some(),
        ..Ask::of(stage(*build))
    };
    let found = planned(judgement, &ask, engine, *seconds)?;
    keep(engine, &found)?;
    let shown = view::plan_view(judgement, &found);
    if let Some(file) = svg {
        drawing::chart(&view::chart_view(judgement, &found), file)?;
    }
    if let Some(file) = csv {
        write_whole(file, say::works::plan_csv(&shown).as_bytes())?;
    }
    if let Some(file) = &print.sheet {
        let charts = ::paper::day_pictures(&view::chart_view(judgement, &found))
            .map_err(drawing::undrawn)?;
        let plan = ::paper::plan_of(&shown, &charts);
        beside(args, "plan", file, print.paper, |o| ::paper::plan_sheet(&plan, o))?;
    }
    if args.json {
        return print_json(&shown);
    }
    say::works::plan(&shown, *reasons);
    for file in svg.iter().chain(csv) {
        put!("written: {}", file.display());
    }
    Ok(())
}

fn day(args: &Args, judgement: &Judgement, engine: &Path) -> Result<(), Failure> {
    let Verb::Today { day, from, people, hours, without, weather, build, print, cards, .. } =
        &args.verb
    else {
        return Err(Failure::Fault("not `today`".to_owned()));
    };
    let found = planned(judgement, &Ask { steps: STEPS, ..Ask::of(stage(*build)) }, engine, None)?;
    let day = match day {
        Some(text) => {
            Some(Date::parse(text).map_err(|e| Failure::wrong(format!("--day: {e}"), ""))?)
        }
        None => None,
    };
    let from = match from {
        Some(text) => {
            Moment::parse(&format!("2000-01-01 {text}"))
                .map_err(|e| Failure::wrong(format!("--from: {e}"), ""))?
                .clock_min
        }
        None => None,
    };
    let minutes = match hours {
        Some(h) if (0.1..=24.0).contains(h) => Some((h * 60.0).round() as u32),
        Some(h) => return Err(Failure::wrong(format!("{h} hours cannot be"), "0.1 to 24")),
        None => None,
    };
    if people.is_some_and(|p| p == 0 || p > 100) {
        return Err(Failure::wrong("so many people cannot be", "--people 1 to 100"));
    }
    let weather = weather
        .iter()
        .map(|w| works::weather(w).map_err(|e| Failure::wrong(e, "")))
        .collect::<Result<Vec<_>, _>>()?;
    let here = OnTheDay {
        day,
        from,
        people: *people,
        minutes,
        weather,
        without: without.clone(),
        steps: FEW_STEPS,
        seed: 1,
    };
    let answer = works::day_list(judgement, found, &here).map_err(wrong)?;
    let shown = view::day_view(judgement, &answer);
    if let Some(file) = &print.sheet {
        let list = ::paper::day_of(&shown);
        beside(args, "day's list", file, print.paper, |o| ::paper::plan_sheet(&list, o))?;
    }
    if let Some(file) = cards {
        let units = units(args);
        let cards: Vec<_> = shown
            .lines
            .iter()
            .filter_map(|line| ::paper::card_of(judgement, line, &shown.date, units))
            .collect();
        beside(args, "job cards", file, print.paper, |o| ::paper::job_cards(&cards, o))?;
    }
    if args.json {
        return print_json(&shown);
    }
    say::works::day(&shown);
    Ok(())
}

/// `done` and `stuck`.
fn happened(args: &Args, judgement: &Judgement, engine: &Path, today: Date) -> Result<(), Failure> {
    let (work, way, when) = match &args.verb {
        Verb::Done { work, way, when, .. } | Verb::Stuck { work, way, when, .. } => {
            (work, way, when)
        }
        _ => return Err(Failure::Fault("neither `done` nor `stuck`".to_owned())),
    };
    let model = &judgement.engine().works;
    let at = model.work_by_id(work).ok_or_else(|| {
        let mend = model.nearest_work(work).map_or_else(
            || "`pinchbar plan ENGINE` lists them".to_owned(),
            |n| format!("did you mean \"{n}\"?"),
        );
        Failure::wrong(format!("there is no work \"{work}\""), mend)
    })?;
    let described = &model.works[at];
    let before =
        planned(judgement, &Ask { steps: STEPS, ..Ask::of(described.stage) }, engine, None)?;
    keep(engine, &before)?;
    let id = before.assembled.id_of(at);
    let step = id.and_then(|id| step_of(&before, id));
    let way_id = match way {
        Some(name) => {
            let known: Vec<&str> = described.ways.iter().map(|w| w.id.as_str()).collect();
            if !known.contains(&name.trim()) {
                return Err(Failure::wrong(
                    format!("\"{work}\" has no way \"{name}\""),
                    format!("its ways are: {}", known.join(", ")),
                ));
            }
            name.trim().to_owned()
        }
        None => described.ways[step.map_or(0, |s| s.way)].id.clone(),
    };
    let when = match when {
        Some(text) => {
            Moment::parse(text).map_err(|e| Failure::wrong(format!("--when: {e}"), ""))?.to_string()
        }
        None => as_planned(&before, id).map_or_else(|| today.to_string(), |m| m.to_string()),
    };
    let told = if is_book(engine) {
        in_the_book(args, engine, work.trim(), &way_id, &when)?
    } else {
        in_the_folder(args, engine, work.trim(), &way_id, &when)?
    };
    // Read back, so that what is shown is what stands there.
    let (judgement, _) = judged(args, opened(engine, today)?)?;
    let after =
        planned(&judgement, &Ask { steps: STEPS, ..Ask::of(described.stage) }, engine, None)?;
    keep(engine, &after)?;
    let shown = view::plan_view(&judgement, &after);
    let was = view::plan_view(&judgement, &before).ends;
    if args.json {
        return print_json(&json!({
            "recorded": told, "ended_before": was,
            "changes": shown.changes, "plan": shown,
        }));
    }
    put!("recorded in {told}");
    say::works::changed(&shown, &was);
    Ok(())
}

/// Adds a record to the folder's file; says where.
fn in_the_folder(
    args: &Args,
    engine: &Path,
    work: &str,
    way_id: &str,
    when: &str,
) -> Result<String, Failure> {
    let mut record = format!("\n[[progress]]\nwork = {}\n", quoted(work));
    let mut line = |name: &str, text: &str| {
        if !text.is_empty() {
            let _ = writeln!(record, "{name} = {}", quoted(text));
        }
    };
    match &args.verb {
        Verb::Done { stands, undo, why, by, way, .. } => {
            if *undo {
                line("way", way.as_deref().unwrap_or_default());
            } else {
                line("way", way_id);
            }
            line(if *undo { "undone" } else { "done" }, when);
            line("stands", stands.as_deref().unwrap_or_default());
            line("why", why);
            line("by", by);
        }
        Verb::Stuck { why, by, .. } => {
            line("way", way_id);
            line("stuck", when);
            line("why", why);
            line("by", by);
        }
        _ => {}
    }
    let file = folder_of(engine)?.join(PROGRESS);
    append(&file, "# What happened, oldest first.\n", &record)?;
    Ok(file.display().to_string())
}

/// Writes an entry into the book; says which.
fn in_the_book(
    args: &Args,
    engine: &Path,
    work: &str,
    way_id: &str,
    when: &str,
) -> Result<String, Failure> {
    let work = work.to_owned();
    let (by, said) = match &args.verb {
        Verb::Done { undo: true, why, by, .. } => (by, Said::WorkUndone { work, why: why.clone() }),
        Verb::Done { by, why, .. } => {
            let (way, note, minutes) = (way_id.to_owned(), why.clone(), String::new());
            (by, Said::WorkDone { work, way, minutes, note })
        }
        Verb::Stuck { by, why, .. } => {
            (by, Said::WorkStuck { work, way: way_id.to_owned(), why: why.clone() })
        }
        _ => return Err(Failure::Fault("neither `done` nor `stuck`".to_owned())),
    };
    if by.trim().is_empty() {
        return Err(Failure::wrong("a book wants to know who writes", "--by NAME"));
    }
    // The entry is dated when it happened; the shed's clock is written as it stands.
    let time = Moment::parse(when).ok().map(|m| {
        let clock = m.clock_min.unwrap_or(23 * 60 + 59);
        format!("{}T{:02}:{:02}:00Z", m.date, clock / 60, clock % 60)
    });
    let entry = super::book::say_of_a_work(engine, by, time, said)?;
    Ok(format!("{}, entry {entry}", engine.display()))
}

/// When a work ends as planned, or, where others were planned before it that are not done, as if it
/// had been begun now.
fn as_planned(before: &Planned, id: Option<WorkId>) -> Option<Moment> {
    let a = &before.assembled;
    let step = step_of(before, id?)?;
    let in_turn = before
        .plan
        .steps
        .iter()
        .all(|s| s.start_min >= step.start_min || s.end_min > step.start_min);
    let end = if in_turn {
        step.end_min
    } else {
        before.progress.now_min + (step.end_min - step.start_min)
    };
    a.moment_of_end(end)
}

/// A work as the plan has it, or as it is under way.
fn step_of(before: &Planned, id: WorkId) -> Option<Step> {
    let under_way = || before.progress.running.iter().find(|s| s.work == id);
    before.plan.step(id).or_else(under_way).copied()
}

fn quoted(text: &str) -> String {
    toml::Value::String(text.to_owned()).to_string()
}

fn why(args: &Args, judgement: &Judgement, engine: &Path) -> Result<(), Failure> {
    let Verb::Why { first, then, build, .. } = &args.verb else {
        return Err(Failure::Fault("not `why`".to_owned()));
    };
    let found = planned(judgement, &Ask { steps: STEPS, ..Ask::of(stage(*build)) }, engine, None)?;
    keep(engine, &found)?;
    if let Some(then) = then {
        let answer = works::why(judgement, &found, first, then).map_err(wrong)?;
        let shown = view::why_view(&found, &answer);
        if args.json {
            return print_json(&shown);
        }
        say::works::why(&shown);
        return Ok(());
    }
    let soonest = works::soonest(judgement, &found, first, FEW_STEPS).map_err(wrong)?;
    let savings =
        works::savings(judgement, &found, &soonest.alone, Some(soonest.work), FEW_STEPS / 2)
            .map_err(wrong)?;
    let shown = view::soonest_view(judgement, &found, &soonest, &savings);
    if args.json {
        return print_json(&shown);
    }
    say::works::soonest(&shown);
    Ok(())
}

/// Job cards of works as the plan has them, and of those described in files.
fn cards(args: &Args, judgement: &Judgement, engine: &Path) -> Result<(), Failure> {
    let Verb::Card { works, from, build, sheet, .. } = &args.verb else {
        return Err(Failure::Fault("not `card`".to_owned()));
    };
    let mut all = Vec::new();
    if !works.is_empty() {
        let ask = Ask { steps: STEPS, ..Ask::of(stage(*build)) };
        let shown = view::plan_view(judgement, &planned(judgement, &ask, engine, None)?);
        for wanted in works {
            let lines = shown.days.iter().flat_map(|d| d.lines.iter().map(move |l| (d, l)));
            let card = lines
                .filter(|(_, l)| l.work == *wanted)
                .find_map(|(d, l)| ::paper::card_of(judgement, l, &d.date, units(args)));
            all.push(card.ok_or_else(|| {
                let mend = match judgement.engine().works.nearest_work(wanted) {
                    Some(near) if near != wanted => format!("did you mean \"{near}\"?"),
                    _ => "it is done, not needed, or of the build (--build)".to_owned(),
                };
                Failure::wrong(format!("the plan has no work \"{wanted}\""), mend)
            })?);
        }
    }
    for file in from {
        all.push(super::paper::card(file)?);
    }
    let set = ::paper::job_cards(&all, &super::paper::options(args, sheet));
    super::paper::written(args, "job card", &sheet.to, &set.map_err(super::paper::failed)?)
}

fn lift(args: &Args, judgement: &Judgement) -> Result<(), Failure> {
    let Verb::Lift { lift, svg, print, .. } = &args.verb else {
        return Err(Failure::Fault("not `lift`".to_owned()));
    };
    let engine = judgement.engine();
    let model = &engine.works;
    let Some(name) = lift else {
        if print.sheet.is_some() {
            return Err(Failure::wrong("a sheet is of one lift", "name the lift"));
        }
        if model.lifts.is_empty() {
            return Err(Failure::wrong(
                "no lift is described",
                "write [[lift]] records; see docs/works.md",
            ));
        }
        let views: Vec<_> = (0..model.lifts.len())
            .map(|l| works::lift(engine, l).map(|a| view::lift_view(engine, &a)))
            .collect();
        if args.json {
            let list: Vec<_> = views
                .iter()
                .map(|v| match v {
                    Ok(v) => json!(v),
                    Err(e) => json!({ "fault": e.to_string() }),
                })
                .collect();
            return print_json(&list);
        }
        say::works::lifts(&views, args.units);
        return Ok(());
    };
    let at = model.lift_by_id(name).ok_or_else(|| {
        let ids: Vec<&str> = model.lifts.iter().map(|l| l.id.as_str()).collect();
        Failure::wrong(
            format!("there is no lift \"{name}\""),
            format!("there are: {}", ids.join(", ")),
        )
    })?;
    let answer = works::lift(engine, at).map_err(wrong)?;
    let shown = view::lift_view(engine, &answer);
    if let Some(file) = svg {
        drawing::lift(engine, &answer, file)?;
    }
    if let Some(file) = &print.sheet {
        let pictures = ::paper::lift_pictures(engine, &answer).map_err(drawing::undrawn)?;
        let sheet = ::paper::lift_of(&engine.name, &shown, pictures, units(args));
        beside(args, "lift sheet", file, print.paper, |o| ::paper::lift_sheet(&sheet, o))?;
    }
    if args.json {
        return print_json(&shown);
    }
    say::works::lift(&shown, args.units);
    if let Some(file) = svg {
        put!("drawn in {}", file.display());
    }
    Ok(())
}
