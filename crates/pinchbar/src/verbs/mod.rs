//! One module a verb.

mod add;
mod ask;
#[cfg(feature = "bench")]
mod bench;
pub(crate) mod book;
mod design;
mod film;
mod fit;
mod motion;
mod motion_drawing;
mod motion_what_if;
mod new;
mod paper;
mod record;
mod works;
mod works_drawing;

pub(crate) use ask::report as write_report;

use crate::args::{Args, Verb};
use crate::demo;
use crate::failure::put;
use crate::failure::{BEYOND, DONE, Failure, PARTLY};
use crate::folder::{Opened, open};
use crate::say;
use engine::judge::{Judgement, Verdict};
use engine::model::{Date, JointIx};
use engine::readings::Refused;
use engine::repair::Scope;
use serde::Serialize;
use serde_json::json;

/// Runs the verb; the result is the exit code.
pub(crate) fn run(args: &Args) -> Result<u8, Failure> {
    let today = today(args)?;
    match &args.verb {
        Verb::Demo { engine, to } => demo::run(args, *engine, to),
        Verb::Pattern { id } => new::patterns(args, id.as_deref()),
        Verb::New { .. } => new::new(args),
        Verb::Book { verb } => book::run(args, verb, today),
        #[cfg(feature = "bench")]
        Verb::Bench { .. } => bench::run(args),
        Verb::Add { engine, .. } | Verb::Decide { engine, .. } | Verb::StrikeOut { engine, .. }
            if crate::folder::is_book(engine) =>
        {
            book::on_a_book(args, engine, today)
        }
        Verb::Add { .. } => add::add(args, today),
        Verb::Judge { engine, all } => {
            let opened = open(engine, Some(today))?;
            let refused = refused_json(&opened);
            let (judgement, whole) = judged(args, opened)?;
            let summary = engine::view::summary(&judgement);
            if args.json {
                print_json(&json!({ "summary": summary, "refused": refused }))?;
            } else {
                say::summary(&summary, args.units, *all);
            }
            Ok(code(&judgement, whole))
        }
        Verb::Joint { engine, joint } => {
            let (judgement, whole) = judged(args, open(engine, Some(today))?)?;
            let ix = find_joint(&judgement, joint)?;
            let view = engine::view::joint_view(&judgement, ix);
            let options = engine::view::option_views(&judgement, ix);
            if args.json {
                print_json(&json!({ "joint": view, "options": options }))?;
            } else {
                say::joint(&view, args.units);
                say::options(&options, args.units);
            }
            let beyond = judgement.joint(ix).verdict == Verdict::Beyond;
            Ok(if !whole {
                PARTLY
            } else if beyond {
                BEYOND
            } else {
                DONE
            })
        }
        Verb::Chain { engine, chain, draws, seed } => {
            ask::chain(args, open(engine, Some(today))?, chain, *draws, *seed)
        }
        Verb::Try { engine, acts } => ask::try_acts(args, open(engine, Some(today))?, acts),
        Verb::Decide { .. } => record::decide(args, today),
        Verb::StrikeOut { .. } => record::strike_out(args, today),
        Verb::MachineTo { engine, refit } => {
            let (judgement, whole) = judged(args, open(engine, Some(today))?)?;
            let scope = if *refit { Scope::Refit } else { Scope::Service };
            let list = engine::repair::machine_to_within(&judgement, scope);
            let view = engine::view::machine_to_view(&judgement, &list);
            if args.json {
                print_json(&view)?;
            } else {
                say::machine_to(&view, args.units);
            }
            Ok(code(&judgement, whole))
        }
        Verb::Where { .. }
        | Verb::Bring { .. }
        | Verb::Reach { .. }
        | Verb::Clearances { .. }
        | Verb::Centre { .. }
        | Verb::Loads { .. }
        | Verb::Balance { .. } => motion::run(args, today),
        Verb::Design { .. } => design::design(args, today),
        Verb::Plan { .. }
        | Verb::Today { .. }
        | Verb::Done { .. }
        | Verb::Stuck { .. }
        | Verb::Why { .. }
        | Verb::Lift { .. } => works::run(args, today),
        Verb::Fit { tyre: Some(tyre), gap, .. } => fit::tyre(args, tyre, gap),
        Verb::Fit { symbol, size, clearance, .. } => {
            fit::fit(args, symbol.as_deref(), size.as_deref(), clearance.as_deref())
        }
        Verb::Film(said) => film::film(args, said),
        Verb::Sheet { .. } | Verb::Tags { .. } | Verb::Dossier { .. } => paper::run(args, today),
        Verb::Card { .. } => works::run(args, today),
        Verb::Report { engine, to, paper } => {
            let (judgement, whole) = judged(args, open(engine, Some(today))?)?;
            ask::report(args, &judgement, to, *paper)?;
            Ok(code(&judgement, whole))
        }
    }
}

/// The day of judging.
fn today(args: &Args) -> Result<Date, Failure> {
    match &args.today {
        Some(text) => Date::parse(text).map_err(|e| Failure::wrong(format!("--today: {e}"), "")),
        None => {
            let now = jiff::Timestamp::now().to_zoned(jiff::tz::TimeZone::UTC).date();
            Date::new(now.year(), now.month(), now.day()).map_err(Failure::Fault)
        }
    }
}

/// Judges what was opened, having said what was refused. The flag says whether all was taken.
pub(crate) fn judged(args: &Args, opened: Opened) -> Result<(Judgement, bool), Failure> {
    let whole = opened.whole();
    if !whole {
        match args.verb {
            Verb::Judge { .. } => say::refused(&opened),
            _ => say::refused_briefly(&opened),
        }
        if !args.json {
            put!("(what was refused is listed on standard error; the rest is judged)\n");
        }
    }
    if opened.engine.features.is_empty() {
        return Err(Failure::wrong(
            "the engine has no features to judge",
            "describe some, or make it from a pattern",
        ));
    }
    Ok((opened.judge(), whole))
}

/// A refused row of one table, for a script.
pub(crate) fn refused_row(r: &Refused) -> serde_json::Value {
    json!({ "line": r.line, "column": r.column, "what": r.what, "mend": r.mend, "row": r.row })
}

/// Everything refused, for a script.
fn refused_json(opened: &Opened) -> serde_json::Value {
    let problems = opened.problems.iter().map(|p| {
        json!({ "file": p.place.file, "line": p.place.line, "column": p.place.column, "what": p.what, "mend": p.mend })
    });
    let rows = opened.refused().map(|(file, r)| {
        json!({ "file": file.display().to_string(), "line": r.line, "column": r.column, "what": r.what, "mend": r.mend, "row": r.row })
    });
    problems.chain(rows).collect()
}

pub(crate) fn code(judgement: &Judgement, whole: bool) -> u8 {
    if !whole {
        PARTLY
    } else if judgement.joints().iter().any(|j| j.verdict == Verdict::Beyond)
        || pistons_beyond(judgement)
    {
        BEYOND
    } else {
        DONE
    }
}

/// A piston clearance is beyond a limit in service.
fn pistons_beyond(judgement: &Judgement) -> bool {
    (0..judgement.engine().motion.cylinders.len())
        .filter_map(|at| engine::motion::piston_ends(judgement, at).ok())
        .any(|found| found.ends.iter().any(|e| e.verdict == Verdict::Beyond))
}

pub(crate) fn find_joint(judgement: &Judgement, id: &str) -> Result<JointIx, Failure> {
    let engine = judgement.engine();
    engine.joint_by_id(id).ok_or_else(|| {
        // A feature's name leads to the joint it is in.
        let through = engine
            .feature_by_id(id)
            .and_then(|f| engine.feature(f).in_joints.first().copied())
            .map(|j| engine.joint(j).id.as_str());
        // A name without its side: every joint that goes on from there.
        let longer: Vec<&str> = engine
            .joints
            .iter()
            .map(|j| j.id.as_str())
            .filter(|known| known.strip_prefix(id).is_some_and(|rest| rest.starts_with('.')))
            .collect();
        let mend = match (through.or_else(|| engine.nearest_id(id)), longer.as_slice()) {
            (Some(near), _) => format!("did you mean \"{near}\"?"),
            (None, []) => "`pinchbar judge --all` lists the joints".to_owned(),
            (None, [last]) => format!("did you mean \"{last}\"?"),
            (None, [some @ .., last]) => format!("there are {} and {last}", some.join(", ")),
        };
        Failure::wrong(format!("there is no joint \"{id}\""), mend)
    })
}

pub(crate) fn print_json(value: &impl Serialize) -> Result<(), Failure> {
    let text = serde_json::to_string_pretty(value).map_err(|e| Failure::Fault(e.to_string()))?;
    put!("{text}");
    Ok(())
}
