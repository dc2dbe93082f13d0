//! Decisions and strike-outs: records beside the engine's own file, added to and never edited.

use super::{find_joint, judged, print_json};
use crate::args::{Args, Verb};
use crate::failure::put;
use crate::failure::{DONE, Failure};
use crate::folder::{append, folder_of, open};
use crate::say;
use engine::model::{Date, RepairKind};
use quantity::{Dimension, Quantity};
use serde_json::json;
use std::fmt::Write as _;
use std::path::Path;

const DECISIONS: &str = "decisions.toml";
const STRIKE_OUTS: &str = "strike-outs.toml";

fn quoted(text: &str) -> String {
    toml::Value::String(text.to_owned()).to_string()
}

/// Records a decision and shows what it does.
pub(super) fn decide(args: &Args, today: Date) -> Result<u8, Failure> {
    let Verb::Decide { engine, joint, repair, make, by, reason } = &args.verb else {
        return Err(Failure::Fault("not `decide`".to_owned()));
    };
    let folder = folder_of(engine)?;
    let (judgement, _) = judged(args, open(folder, Some(today))?)?;
    let ix = find_joint(&judgement, joint)?;
    let repair = RepairKind::parse(repair)
        .map_err(|e| Failure::wrong(format!("\"{repair}\" is not a repair"), e))?;
    let mut record = format!(
        "\n[[decision]]\njoint = {}\nrepair = {}\nby = {}\nwhen = {}\n",
        quoted(joint),
        quoted(repair.word()),
        quoted(by),
        quoted(&today.to_string())
    );
    if !reason.is_empty() {
        let _ = writeln!(record, "reason = {}", quoted(reason));
    }
    let mut sizes = Vec::new();
    for text in make {
        let Some((feature, size)) = text.split_once('=') else {
            return Err(Failure::wrong(
                format!("--make {text} has no \"=\""),
                "--make big-end.left.bore=\"203.40 mm\"",
            ));
        };
        let feature = feature.trim();
        if judgement.engine().feature_by_id(feature).is_none() {
            let near = judgement
                .engine()
                .nearest_id(feature)
                .map_or_else(String::new, |n| format!("did you mean \"{n}\"?"));
            return Err(Failure::wrong(format!("there is no feature \"{feature}\""), near));
        }
        let size = Quantity::parse_as(size.trim(), Dimension::Length)
            .map_err(|e| Failure::wrong(format!("{}\n{}", e.reason(), e.caret()), e.hint()))?;
        if size.si() <= 0.0 {
            return Err(Failure::wrong(format!("a size of {} cannot be", size.text()), ""));
        }
        sizes.push(format!("{{ feature = {}, to = {} }}", quoted(feature), quoted(size.text())));
    }
    if !sizes.is_empty() {
        let _ = writeln!(record, "make = [{}]", sizes.join(", "));
    }
    let file = folder.join(DECISIONS);
    append(
        &file,
        "# Decisions, oldest first. A later one on the same joint takes the place of an earlier.\n",
        &record,
    )?;
    let _ = ix;
    told(args, &file, &record, folder, today)
}

fn told(args: &Args, file: &Path, record: &str, folder: &Path, today: Date) -> Result<u8, Failure> {
    // Read back from the disk, so that what is shown is what stands there.
    let opened = open(folder, Some(today))?;
    if args.json {
        print_json(
            &json!({ "file": file.display().to_string(), "record": record.trim(), "read_back": opened.whole() }),
        )?;
    } else {
        put!("recorded in {}:{record}", file.display());
        say::refused(&opened);
    }
    Ok(DONE)
}

/// Strikes out a reading.
pub(super) fn strike_out(args: &Args, today: Date) -> Result<u8, Failure> {
    let Verb::StrikeOut { engine, feature, value, station, direction, reason, by } = &args.verb
    else {
        return Err(Failure::Fault("not `strike-out`".to_owned()));
    };
    let folder = folder_of(engine)?;
    let opened = open(folder, Some(today))?;
    let Some(ix) = opened.engine.feature_by_id(feature) else {
        let near = opened
            .engine
            .nearest_id(feature)
            .map_or_else(String::new, |n| format!("did you mean \"{n}\"?"));
        return Err(Failure::wrong(format!("there is no feature \"{feature}\""), near));
    };
    let there = opened
        .engine
        .readings
        .iter()
        .filter(|r| r.feature == ix && !r.struck && *r.text == *value.trim())
        .count();
    if there == 0 {
        return Err(Failure::wrong(
            format!("{feature} has no reading \"{value}\" that still counts"),
            "give the figure character for character as `pinchbar joint` lists it",
        ));
    }
    if there > 1 && station.is_none() && direction.is_none() {
        return Err(Failure::wrong(
            format!("{feature} has {there} readings \"{value}\""),
            "say which with --station and --direction",
        ));
    }
    let mut record = format!(
        "\n[[strike-out]]\nfeature = {}\nvalue = {}\n",
        quoted(feature),
        quoted(value.trim())
    );
    for (name, text) in [("station", station), ("direction", direction)] {
        if let Some(text) = text {
            let _ = writeln!(record, "{name} = {}", quoted(text));
        }
    }
    let _ = writeln!(record, "reason = {}\nby = {}", quoted(reason), quoted(by));
    let file = folder.join(STRIKE_OUTS);
    append(
        &file,
        "# Readings that no longer count, with the reason. The readings themselves stay where they are.\n",
        &record,
    )?;
    told(args, &file, &record, folder, today)
}
