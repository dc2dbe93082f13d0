//! Patterns, and engines made from them.

use super::print_json;
use crate::args::{Args, Verb};
use crate::failure::put;
use crate::failure::{DONE, Failure};
use crate::folder::write_whole;
use engine::pattern::{Ask, Pattern};
use indexmap::IndexMap;
use quantity::{Dimension, Quantity};
use serde_json::json;
use std::fmt::Write as _;
use std::io::{BufRead, Write as _};

/// Lists the patterns, or what one asks.
pub(super) fn patterns(args: &Args, id: Option<&str>) -> Result<u8, Failure> {
    let ids: Vec<&str> = match id {
        Some(id) => vec![id],
        None => Pattern::built_in().collect(),
    };
    let mut out = Vec::new();
    for id in ids {
        out.push(Pattern::find(id).map_err(|e| Failure::wrong(e, ""))?);
    }
    if args.json {
        let list: Vec<_> = out
            .iter()
            .map(|p| {
                let asks: Vec<_> = p
                    .asks
                    .iter()
                    .map(|a| json!({ "name": a.name, "ask": a.ask, "suggest": a.suggest.text() }))
                    .collect();
                json!({ "id": p.id, "about": p.about, "asks": asks })
            })
            .collect();
        print_json(&list)?;
        return Ok(DONE);
    }
    for p in &out {
        put!("{}: {}", p.id, p.about);
        if id.is_some() {
            for a in &p.asks {
                put!("  {:<24} {} [{}]", a.name, a.ask, a.suggest.text());
            }
        }
    }
    if id.is_none() {
        put!(
            "\n`pinchbar pattern ID` lists what a pattern asks; `pinchbar new FOLDER --pattern ID --name NAME --ask` asks it"
        );
    }
    Ok(DONE)
}

/// Makes a new engine.
pub(super) fn new(args: &Args) -> Result<u8, Failure> {
    let Verb::New { folder, pattern, name, railway, set, ask } = &args.verb else {
        return Err(Failure::Fault("not `new`".to_owned()));
    };
    let pattern = Pattern::find(pattern).map_err(|e| Failure::wrong(e, ""))?;
    let mut answers = answers_from(set)?;
    if *ask {
        ask_all(&pattern, &mut answers)?;
    }
    // Filled once here so that a wrong answer is told before anything is written.
    pattern.expand(&answers).map_err(|problems| {
        let all: Vec<String> = problems.iter().map(ToString::to_string).collect();
        Failure::wrong(all.join("\n"), "")
    })?;
    if folder.exists() {
        let empty = folder.is_dir() && folder.read_dir().is_ok_and(|mut d| d.next().is_none());
        if !empty {
            return Err(Failure::wrong(
                format!("{} exists and is not an empty folder", folder.display()),
                "name a folder that does not exist yet; nothing was changed",
            ));
        }
    }
    std::fs::create_dir_all(folder)
        .map_err(|e| Failure::Fault(format!("{} could not be made: {e}", folder.display())))?;
    let file = folder.join("engine.toml");
    write_whole(&file, engine_text(&pattern, name, railway, &answers).as_bytes())?;
    if args.json {
        print_json(&json!({ "engine": folder.display().to_string(), "pattern": pattern.id }))?;
    } else {
        put!("{} made from pattern {}.", file.display(), pattern.id);
        put!(
            "Correct its [dimensions], add readings with `pinchbar add {} TABLE.csv`, then `pinchbar judge {0}`.",
            folder.display()
        );
    }
    Ok(DONE)
}

fn answers_from(set: &[String]) -> Result<IndexMap<String, Quantity>, Failure> {
    let mut answers = IndexMap::new();
    for text in set {
        let Some((name, size)) = text.split_once('=') else {
            return Err(Failure::wrong(
                format!("--set {text} has no \"=\""),
                "--set crank-pin=\"8 3/16 in\"",
            ));
        };
        answers.insert(name.trim().to_owned(), size_of(size)?);
    }
    Ok(answers)
}

fn size_of(text: &str) -> Result<Quantity, Failure> {
    Quantity::parse_as(text.trim(), Dimension::Length)
        .map_err(|e| Failure::wrong(format!("{}\n{}", e.reason(), e.caret()), e.hint()))
}

/// Asks every question on the terminal; an empty line takes what is suggested.
fn ask_all(pattern: &Pattern, answers: &mut IndexMap<String, Quantity>) -> Result<(), Failure> {
    let mut lines = std::io::stdin().lock().lines();
    for Ask { name, ask, suggest } in &pattern.asks {
        if answers.contains_key(name) {
            continue;
        }
        loop {
            eprint!("{ask} [{}] ", suggest.text());
            let _ = std::io::stderr().flush();
            let line = match lines.next() {
                Some(Ok(line)) => line,
                // The end of the input takes what is suggested for the rest.
                Some(Err(_)) | None => String::new(),
            };
            if line.trim().is_empty() {
                break;
            }
            match size_of(&line) {
                Ok(size) => {
                    answers.insert(name.clone(), size);
                    break;
                }
                Err(failure) => eprintln!("{failure}"),
            }
        }
    }
    Ok(())
}

fn engine_text(
    pattern: &Pattern,
    name: &str,
    railway: &str,
    answers: &IndexMap<String, Quantity>,
) -> String {
    let mut text = String::new();
    let quoted = |t: &str| toml::Value::String(t.to_owned()).to_string();
    let _ = writeln!(text, "# {}: made from pattern {}.", name.replace('\n', " "), pattern.id);
    let _ = writeln!(
        text,
        "# Anything the pattern lays out can be changed here by its id; see docs/engine-file.md.\n"
    );
    let _ = writeln!(
        text,
        "[engine]\nname = {}\nrailway = {}\npattern = {}",
        quoted(name),
        quoted(railway),
        quoted(&pattern.id)
    );
    let _ = writeln!(
        text,
        "# overhaul-began = \"2025-01-31\"   # readings before this day are \"last time\"\n"
    );
    let _ = writeln!(text, "[dimensions]");
    for Ask { name, ask, suggest } in &pattern.asks {
        let _ = writeln!(text, "# {ask}");
        match answers.get(name) {
            Some(size) => {
                let _ = writeln!(text, "{name} = {}", quoted(size.text()));
            }
            None => {
                let _ =
                    writeln!(text, "{name} = {}   # suggested: correct it", quoted(suggest.text()));
            }
        }
    }
    text
}
