//! Verbs that ask without changing anything: trials and the report.

use super::{judged, print_json};
use crate::args::{Args, Sheet};
use crate::failure::put;
use crate::failure::{BEYOND, DONE, Failure, PARTLY};
use crate::folder::{Opened, write_whole};
use crate::say;
use engine::judge::Judgement;
use engine::repair::{Trial, parse_act};
use std::path::Path;

/// Tries acts and shows everything that moves.
pub(super) fn try_acts(args: &Args, opened: Opened, acts: &[String]) -> Result<u8, Failure> {
    let (judgement, whole) = judged(args, opened)?;
    let mut trial = Trial::default();
    for text in acts {
        let act = parse_act(&judgement, text).map_err(|e| Failure::wrong(e, ""))?;
        act.lay_on(&judgement, &mut trial)
            .map_err(|e| Failure::wrong(e, "gauge it, or make it to a size"))?;
    }
    let view = engine::view::trial_view(&judgement, acts, &trial.run(&judgement));
    if args.json {
        print_json(&view)?;
    } else {
        say::trial(&view, args.units);
    }
    Ok(if whole { DONE } else { PARTLY })
}

/// One chain, with its simulation.
pub(super) fn chain(
    args: &Args,
    opened: Opened,
    id: &str,
    draws: u64,
    seed: u64,
) -> Result<u8, Failure> {
    let (judgement, whole) = judged(args, opened)?;
    let engine = judgement.engine();
    let ix = engine.chain_by_id(id).ok_or_else(|| {
        let near =
            engine.nearest_id(id).map_or_else(String::new, |n| format!("did you mean \"{n}\"?"));
        Failure::wrong(format!("there is no chain \"{id}\""), near)
    })?;
    let view = engine::view::chain_view(&judgement, ix);
    let simulation = engine::view::chain_simulation(&judgement, ix, draws, seed);
    if args.json {
        let simulation = simulation
            .as_ref()
            .map_or_else(|why| serde_json::json!({ "not": why }), |s| serde_json::json!(s));
        print_json(&serde_json::json!({ "chain": view, "simulation": simulation }))?;
    } else {
        say::chain(&view, simulation.as_ref().map_err(String::as_str), args.units);
    }
    let beyond = judgement.chain(ix).verdict == engine::judge::Verdict::Beyond;
    Ok(if !whole {
        PARTLY
    } else if beyond {
        BEYOND
    } else {
        DONE
    })
}

/// Writes the condition report.
pub(crate) fn report(
    args: &Args,
    judgement: &Judgement,
    to: &Path,
    sheet: Sheet,
) -> Result<(), Failure> {
    let extension = to.extension().and_then(|e| e.to_str()).unwrap_or("").to_ascii_lowercase();
    let pages = match extension.as_str() {
        "html" | "htm" => {
            write_whole(to, paper::condition_report_html(judgement).as_bytes())?;
            None
        }
        "pdf" => {
            let options = paper::ReportOptions {
                paper: match sheet {
                    Sheet::A4 => paper::PaperSize::A4,
                    Sheet::Letter => paper::PaperSize::UsLetter,
                },
                ..paper::ReportOptions::default()
            };
            let rendered = paper::condition_report(judgement, &options)
                .map_err(|e| Failure::Fault(e.to_string()))?;
            for warning in &rendered.warnings {
                eprintln!("report: {warning}");
            }
            write_whole(to, &rendered.pdf)?;
            Some(rendered.pages)
        }
        other => {
            return Err(Failure::wrong(
                format!("a report cannot be written as \".{other}\""),
                "name a .pdf or a .html file",
            ));
        }
    };
    if args.json {
        print_json(&serde_json::json!({ "report": to.display().to_string(), "pages": pages }))
    } else {
        let pages = pages.map_or(String::new(), |n| format!(", {n} pages"));
        put!("condition report: {}{pages}", to.display());
        Ok(())
    }
}
