//! Sheets for the shop as PDF: asks the engine or the book, hands it to `paper`, writes the file.

use super::{judged, print_json};
use crate::args::{Args, Sheet, SheetArgs, TagSizeWord, Units, Verb};
use crate::failure::put;
use crate::failure::{DONE, Failure, PARTLY};
use crate::folder::{from_book, is_book};
use crate::folder::{open, write_whole};
use ::paper::{
    GaugeSheetOf, Links, PaperError, PaperSize, Rendered, SheetOptions, TagSize, TagWords,
    UnitsFirst,
};
use engine::model::Date;
use std::path::Path;

/// Runs a verb that writes a sheet.
pub(super) fn run(args: &Args, today: Date) -> Result<u8, Failure> {
    match &args.verb {
        Verb::Sheet { engine, about, sheet } => {
            let (judgement, whole) = judged(args, open(engine, Some(today))?)?;
            let of = if judgement.engine().parts.iter().any(|p| p.id == *about) {
                GaugeSheetOf::Part(about)
            } else if judgement.engine().joint_by_id(about).is_some() {
                GaugeSheetOf::Joint(about)
            } else {
                return Err(no_such(&judgement, about));
            };
            let set = ::paper::gauge_sheet(&judgement, of, &options(args, sheet));
            written(args, "gauge sheet", &sheet.to, &set.map_err(failed)?)?;
            Ok(if whole { DONE } else { PARTLY })
        }
        Verb::Tags { engine, parts, size, sheet } => {
            let tags = tags(engine, parts, today)?;
            let size = match size {
                TagSizeWord::TieOn => TagSize::TieOn,
                TagSizeWord::Tin => TagSize::Tin,
                TagSizeWord::Small => TagSize::Small,
                TagSizeWord::Large => TagSize::Large,
            };
            let set = ::paper::tag_sheets(&tags, size, &options(args, sheet)).map_err(failed)?;
            written(args, "tags", &sheet.to, &set)?;
            Ok(DONE)
        }
        _ => Err(Failure::Fault("not a verb that writes a sheet".to_owned())),
    }
}

fn no_such(judgement: &engine::judge::Judgement, about: &str) -> Failure {
    let engine = judgement.engine();
    let part_of = engine
        .feature_by_id(about)
        .and_then(|f| engine.parts.get(engine.feature(f).part.index()).map(|p| p.id.as_str()));
    let near = part_of.or_else(|| engine.nearest_id(about));
    let mend = match near {
        Some(near) => format!("did you mean \"{near}\"?"),
        None => "`pinchbar judge --all` lists the joints".to_owned(),
    };
    Failure::wrong(format!("there is neither part nor joint \"{about}\""), mend)
}

/// The tags of an engine: the codes of its book where there is one, else those of its description.
fn tags(path: &Path, parts: &[String], today: Date) -> Result<Vec<TagWords>, Failure> {
    let mut all: Vec<TagWords> = Vec::new();
    let words = |engine: &engine::model::Engine| -> Vec<TagWords> {
        let one = |p: &engine::model::Part| TagWords {
            code: p.tag.clone().unwrap_or_default(),
            part: p.id.clone(),
            name: p.name.clone(),
            side: p.side.clone(),
            engine: engine.name.clone(),
        };
        engine.parts.iter().map(one).collect()
    };
    if is_book(path) {
        let book = crate::verbs::book::open(path)?;
        // A book may have tags before anything is described.
        if !book.fold().engine_sources().texts.is_empty() {
            all = words(&from_book(&book, Some(today))?.engine);
        }
        for (name, thing) in book.fold().things() {
            let Some(code) = &thing.tag else { continue };
            match all.iter_mut().find(|t| t.part == name) {
                Some(known) => known.code.clone_from(code),
                None => all.push(TagWords {
                    code: code.clone(),
                    part: name.to_owned(),
                    engine: book.fold().name().to_owned(),
                    ..TagWords::default()
                }),
            }
        }
    } else {
        all = words(&open(path, Some(today))?.engine);
    }
    if parts.is_empty() {
        all.retain(|t| !t.code.is_empty());
        if all.is_empty() {
            return Err(Failure::wrong(
                "no part has a code yet",
                "name the parts, or `pinchbar book tag BOOK PART` gives one",
            ));
        }
        return Ok(all);
    }
    parts
        .iter()
        .map(|wanted| {
            all.iter().find(|t| t.part == *wanted || t.code == *wanted).cloned().ok_or_else(|| {
                Failure::wrong(format!("there is no part \"{wanted}\""), "name it by its id")
            })
        })
        .collect()
}

/// How the sheet is wanted.
pub(super) fn options(args: &Args, sheet: &SheetArgs) -> SheetOptions {
    SheetOptions {
        paper: size(sheet.paper),
        units: units(args),
        links: sheet.address.as_deref().map(Links::under),
    }
}

pub(super) fn size(sheet: Sheet) -> PaperSize {
    match sheet {
        Sheet::A4 => PaperSize::A4,
        Sheet::Letter => PaperSize::UsLetter,
    }
}

pub(super) fn units(args: &Args) -> UnitsFirst {
    match args.units {
        Units::Metric => UnitsFirst::Metric,
        Units::Imperial => UnitsFirst::Imperial,
    }
}

pub(super) fn failed(error: PaperError) -> Failure {
    match error {
        PaperError::Nothing(what) => Failure::wrong(what, "name another"),
        other => Failure::Fault(other.to_string()),
    }
}

/// Refuses a name that is not that of a PDF.
pub(super) fn is_pdf(to: &Path) -> Result<(), Failure> {
    let extension = to.extension().and_then(|e| e.to_str()).unwrap_or("").to_ascii_lowercase();
    if extension == "pdf" {
        Ok(())
    } else {
        Err(Failure::wrong(
            format!("a sheet cannot be written as \".{extension}\""),
            "name a .pdf file",
        ))
    }
}

/// Writes a sheet and tells of it.
pub(super) fn written(args: &Args, what: &str, to: &Path, set: &Rendered) -> Result<(), Failure> {
    is_pdf(to)?;
    for warning in &set.warnings {
        eprintln!("{what}: {warning}");
    }
    write_whole(to, &set.pdf)?;
    if args.json {
        return print_json(&serde_json::json!({
            "sheet": what,
            "file": to.display().to_string(),
            "pages": set.pages,
            "bytes": set.pdf.len(),
            "warnings": set.warnings,
        }));
    }
    let pages = if set.pages == 1 { "1 page".to_owned() } else { format!("{} pages", set.pages) };
    put!("{what}: {}, {pages}", to.display());
    Ok(())
}
