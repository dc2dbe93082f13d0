//! Readings, decisions and struck figures: the verbs that work on a folder and on a book alike.

use super::args::Hand;
use super::write::{MOST_BYTES, append, name_of, read, text_of};
use super::{failed, open, pen};
use crate::args::{Args, Verb};
use crate::failure::{DONE, Failure, PARTLY};
use crate::folder::from_book;
use crate::say;
use book::{Book, MadeTo, Pen, Said};
use engine::model::{Date, Engine, RepairKind};
use engine::readings::{ByHand, TableRead, read_table};
use engine::repair::wanted_size;
use std::path::Path;

const BY_HAND: &str = "by hand";

pub(super) fn add_table(
    args: &Args,
    path: &Path,
    table: &Path,
    hand: &Hand,
    today: Date,
) -> Result<u8, Failure> {
    let mut book = open(path)?;
    let pen = pen(&book, hand)?;
    let text = text_of(&name_of(table), read(table, MOST_BYTES)?)?;
    put_table(args, &mut book, &pen, name_of(table), text, today)
}

/// The table goes into the book as it is: rows refused today may be mended by a description
/// tomorrow, and nothing is lost.
fn put_table(
    args: &Args,
    book: &mut Book,
    pen: &Pen,
    file: String,
    table: String,
    today: Date,
) -> Result<u8, Failure> {
    let mut engine = from_book(book, Some(today))?.engine;
    let taken: TableRead = read_table(&mut engine, u16::MAX, table.as_bytes())
        .map_err(|e| Failure::wrong(format!("{file}: {e}"), ""))?;
    let written = book.append(pen, Said::Readings { file, table }).map_err(|e| failed(&e))?;
    say::book::table_taken(args, written, &taken)?;
    Ok(if taken.refused_count() == 0 { DONE } else { PARTLY })
}

fn hand_of(by: &str) -> Result<Hand, Failure> {
    if by.trim().is_empty() {
        return Err(Failure::wrong("a book wants to know who writes", "--by NAME"));
    }
    Ok(Hand { by: by.to_owned(), when: None, device: None, password_file: None })
}

/// `add` where the engine is a book.
pub(super) fn add(args: &Args, path: &Path, today: Date) -> Result<u8, Failure> {
    let Verb::Add {
        table, feature, value, station, direction, gauge, by, when, temperature, ..
    } = &args.verb
    else {
        return Err(Failure::Fault("not `add`".to_owned()));
    };
    let hand = hand_of(by)?;
    if let Some(table) = table {
        return add_table(args, path, table, &hand, today);
    }
    let (Some(feature), Some(value)) = (feature, value) else {
        return Err(Failure::wrong(
            "nothing to add",
            "name a table of readings, or give --feature and --value",
        ));
    };
    let mut book = open(path)?;
    let pen = pen(&book, &hand)?;
    let when = if when.is_empty() { today.to_string() } else { when.clone() };
    let table =
        ByHand { feature, station, direction, value, gauge, by, when: &when, temperature }.table();
    // One figure by hand is put right at once or not at all.
    let mut engine = from_book(&book, Some(today))?.engine;
    let read = read_table(&mut engine, u16::MAX, table.as_bytes()).map_err(Failure::Fault)?;
    if let Some(r) = read.refused.first() {
        return Err(Failure::wrong(format!("{}: {}", r.column, r.what), r.mend.clone()));
    }
    put_table(args, &mut book, &pen, BY_HAND.to_owned(), table, today)
}

/// `decide` where the engine is a book.
pub(super) fn decide(args: &Args, path: &Path, today: Date) -> Result<u8, Failure> {
    let Verb::Decide { joint, repair, make, by, reason, .. } = &args.verb else {
        return Err(Failure::Fault("not `decide`".to_owned()));
    };
    let mut book = open(path)?;
    let pen = pen(&book, &hand_of(by)?)?;
    let (judgement, _) = crate::verbs::judged(args, from_book(&book, Some(today))?)?;
    crate::verbs::find_joint(&judgement, joint)?;
    let repair = RepairKind::parse(repair)
        .map_err(|e| Failure::wrong(format!("\"{repair}\" is not a repair"), e))?;
    let sizes = make
        .iter()
        .map(|text| made_to(judgement.engine(), text))
        .collect::<Result<Vec<_>, Failure>>()?;
    let said = Said::Decided {
        joint: joint.clone(),
        repair: repair.word().to_owned(),
        make: sizes,
        reason: reason.clone(),
    };
    append(args, &mut book, &pen, said)
}

fn made_to(engine: &Engine, text: &str) -> Result<MadeTo, Failure> {
    let Some((feature, size)) = text.split_once('=') else {
        return Err(Failure::wrong(
            format!("--make {text} has no \"=\""),
            "--make big-end.left.bore=\"203.40 mm\"",
        ));
    };
    let (ix, size) = wanted_size(engine, feature, size).map_err(|(w, m)| Failure::wrong(w, m))?;
    Ok(MadeTo { feature: engine.feature(ix).id.clone(), to: size.text().to_owned() })
}

fn known_feature(engine: &Engine, id: &str) -> Result<String, Failure> {
    if engine.feature_by_id(id).is_some() {
        return Ok(id.to_owned());
    }
    let near = engine.nearest_id(id).map_or_else(String::new, |n| format!("did you mean \"{n}\"?"));
    Err(Failure::wrong(format!("there is no feature \"{id}\""), near))
}

/// `strike-out` where the engine is a book.
pub(super) fn strike_figure(args: &Args, path: &Path, today: Date) -> Result<u8, Failure> {
    let Verb::StrikeOut { feature, value, station, direction, reason, by, .. } = &args.verb else {
        return Err(Failure::Fault("not `strike-out`".to_owned()));
    };
    let mut book = open(path)?;
    let pen = pen(&book, &hand_of(by)?)?;
    let opened = from_book(&book, Some(today))?;
    let id = known_feature(&opened.engine, feature)?;
    let ix = opened.engine.feature_by_id(&id);
    let there = opened
        .engine
        .readings
        .iter()
        .filter(|r| Some(r.feature) == ix && !r.struck && *r.text == *value.trim())
        .count();
    match there {
        0 => Err(Failure::wrong(
            format!("{feature} has no reading \"{value}\" that still counts"),
            "give the figure character for character as `pinchbar joint` lists it",
        )),
        n if 1 < n && station.is_none() && direction.is_none() => Err(Failure::wrong(
            format!("{feature} has {n} readings \"{value}\""),
            "say which with --station and --direction",
        )),
        _ => {
            let said = Said::FigureStruckOut {
                feature: id,
                value: value.trim().to_owned(),
                station: station.clone().unwrap_or_default(),
                direction: direction.clone().unwrap_or_default(),
                reason: reason.clone(),
            };
            append(args, &mut book, &pen, said)
        }
    }
}
