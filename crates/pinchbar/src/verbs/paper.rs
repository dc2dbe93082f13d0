//! Sheets for the shop as PDF: asks the engine or the book, hands it to `paper`, writes the file.

use super::{judged, print_json};
use crate::args::{Args, Sheet, SheetArgs, TagSizeWord, Units, Verb};
use crate::failure::put;
use crate::failure::{DONE, Failure, PARTLY};
use crate::folder::{from_book, is_book};
use crate::folder::{open, write_whole};
use ::paper::{
    GaugeSheetOf, JobCard, Links, PaperError, PaperSize, Rendered, SheetOptions, TagSize, TagWords,
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
        Verb::Dossier { book, sheet } => bound(args, book, sheet, today),
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
    let mut all = if is_book(path) {
        let book = crate::verbs::book::open(path)?;
        // A book may have tags before anything is described.
        let described = !book.fold().engine_sources().texts.is_empty();
        let opened = if described { Some(from_book(&book, Some(today))?) } else { None };
        dossier::tags(Some(book.fold()), opened.as_ref().map(|o| &o.engine))
    } else {
        dossier::tags(None, Some(&open(path, Some(today))?.engine))
    };
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

/// A job card from its file.
pub(super) fn card(file: &Path) -> Result<JobCard, Failure> {
    let text = std::fs::read_to_string(file).map_err(|e| {
        Failure::wrong(format!("{} cannot be read: {e}", file.display()), "check the name")
    })?;
    toml::from_str(&text).map_err(|e| {
        Failure::wrong(
            format!("{}: {}", file.display(), e.to_string().trim()),
            "docs/paper.md lists the lines of a card",
        )
    })
}

/// The dossier of a book.
fn bound(args: &Args, path: &Path, sheet: &SheetArgs, today: Date) -> Result<u8, Failure> {
    is_pdf(&sheet.to)?;
    if !is_book(path) {
        return Err(Failure::wrong(
            format!("{} is not a book", path.display()),
            "a dossier is made from a book; `pinchbar book start` begins one from an engine folder",
        ));
    }
    let mut book = crate::verbs::book::open(path)?;
    let mut whole = true;
    let judgement = if book.fold().engine_sources().texts.is_empty() {
        None
    } else {
        let opened = from_book(&book, Some(today))?;
        whole = opened.whole();
        if !whole {
            crate::say::refused(&opened);
        }
        Some(opened.judge())
    };
    let record = dossier::record(&mut book, judgement.as_ref(), Some(today))
        .map_err(|e| Failure::Fault(e.to_string()))?;
    let set = ::paper::dossier(judgement.as_ref(), &record, &options(args, sheet));
    written(args, "dossier", &sheet.to, &set.map_err(failed)?)?;
    Ok(if whole { DONE } else { PARTLY })
}

/// Writes a sheet beside what is said; `told` says so.
pub(super) fn beside(
    args: &Args,
    what: &str,
    to: &Path,
    paper: Sheet,
    set: impl FnOnce(&SheetOptions) -> Result<Rendered, PaperError>,
) -> Result<(), Failure> {
    is_pdf(to)?;
    let options = SheetOptions { paper: size(paper), units: units(args), links: None };
    let set = set(&options).map_err(failed)?;
    write_whole(to, &set.pdf)?;
    let told = format!("{what}: {}, {} pages, {} bytes", to.display(), set.pages, set.pdf.len());
    if args.json {
        eprintln!("{told}");
    } else {
        put!("{told}");
    }
    Ok(())
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
