//! Designing repairs: asks the engine, hands figures to the drawings, writes what was wanted.

use super::film::{csv_of, run_map, spans};
use super::{find_joint, judged, print_json};
use crate::args::{Args, Sheet as Size, Units, Verb};
use crate::failure::put;
use crate::failure::{DONE, Failure, PARTLY};
use crate::folder::{open, write_whole};
use crate::say;
use drawing::Picture;
use drawing::sheet::sheet_html;
use engine::design::{Design, DesignError, MapAsked, design as design_joint, map_of};
use engine::judge::{Judgement, Verdict};
use engine::model::{Date, JointIx};
use engine::view::{DesignView, design_view};
use mechanics::bearing::MapEnd;
use paper::{design_drawings, design_sheet};
use quantity::System;
use std::path::Path;

/// Designs one joint, or all that are beyond their limits.
pub(super) fn design(args: &Args, today: Date) -> Result<u8, Failure> {
    let Verb::Design { engine, joint, with, press_record, svg, sheet, to, map, paper } = &args.verb
    else {
        return Err(Failure::Fault("not `design`".to_owned()));
    };
    let mut with = what_if(with)?;
    if let Some(file) = press_record {
        with.push(("press-record".to_owned(), press_readings(file)?));
    }
    let (judgement, whole) = judged(args, open(engine, Some(today))?)?;
    let code = if whole { DONE } else { PARTLY };
    let pdf = sheet.as_deref().filter(|f| f.extension().is_some_and(|e| e == "pdf"));
    let sheet = sheet.as_deref().filter(|_| pdf.is_none());
    let Some(joint) = joint else {
        if sheet.is_some() {
            return Err(Failure::wrong(
                "sheets of all joints go into one .pdf",
                "name a .pdf file, or --to FOLDER for .html",
            ));
        }
        let designs = all(args, &judgement, &with, to.as_deref())?;
        if let Some(file) = pdf {
            write_pdf(args, &judgement, &designs, file, *paper)?;
        }
        return Ok(code);
    };
    let ix = find_joint(&judgement, joint)?;
    let found = design_joint(&judgement, ix, &with).map_err(wrong)?;
    let view = design_view(&judgement, &found);
    let pictures = design_drawings(&view, &found).map_err(|e| Failure::Fault(e.to_string()))?;
    if args.json {
        print_json(&view)?;
    } else {
        say::design(&view, args.units);
    }
    if let Some(file) = pdf {
        write_pdf(args, &judgement, std::slice::from_ref(&found), file, *paper)?;
    }
    if let Some(file) = svg {
        // One file, one drawing: the first is the one to work from.
        let Some(first) = pictures.first() else {
            return Err(Failure::wrong(
                format!("there is nothing to draw of \"{joint}\""),
                "what was not worked out stands above, with what it wants",
            ));
        };
        write_whole(file, first.svg.as_bytes())?;
        told(args, &format!("drawing: {}", file.display()));
    }
    if let Some(sheet) = sheet {
        write_sheet(args, &view, &pictures, sheet)?;
    }
    if let Some(file) = map {
        write_map(args, &judgement, ix, &with, file)?;
    }
    Ok(code)
}

fn told(args: &Args, text: &str) {
    if args.json {
        eprintln!("{text}");
    } else {
        put!("{text}");
    }
}

fn wrong(error: DesignError) -> Failure {
    match error {
        DesignError::WhatIf { what, mend } => Failure::wrong(what, mend),
        other => Failure::wrong(other.to_string(), ""),
    }
}

fn what_if(texts: &[String]) -> Result<Vec<(String, String)>, Failure> {
    texts
        .iter()
        .map(|text| {
            text.split_once('=')
                .map(|(a, b)| (a.trim().to_owned(), b.trim().to_owned()))
                .ok_or_else(|| {
                    Failure::wrong(format!("--with {text} has no \"=\""), "--with load=\"9 tonf\"")
                })
        })
        .collect()
}

fn first(units: Units) -> System {
    match units {
        Units::Metric => System::Metric,
        Units::Imperial => System::Imperial,
    }
}

/// A table of what was read in pressing, as a line of the duty: stroke and force, with their units
/// in the cells or in the headings ("stroke mm", "force kN").
fn press_readings(file: &Path) -> Result<String, Failure> {
    let name = file.display().to_string();
    let text = std::fs::read_to_string(file).map_err(|e| {
        Failure::wrong(format!("{name} cannot be read: {e}"), "check the name and the rights")
    })?;
    press_lines(&name, &text)
}

fn press_lines(name: &str, text: &str) -> Result<String, Failure> {
    let mut rows = text
        .trim_start_matches('\u{feff}')
        .lines()
        .map(str::trim)
        .enumerate()
        .filter(|(_, l)| !l.is_empty() && !l.starts_with('#'));
    let shape = || {
        Failure::wrong(
            format!("{name} has no columns stroke and force"),
            "head it: stroke mm,force kN",
        )
    };
    let (_, head) = rows.next().ok_or_else(shape)?;
    let mark = if head.contains(';') { ';' } else { ',' };
    let cells = |line: &str| -> Vec<String> {
        line.split(mark).map(|c| c.trim().trim_matches('"').to_owned()).collect()
    };
    let heads = cells(head);
    let column = |word: &str| -> Result<(usize, String), Failure> {
        heads
            .iter()
            .position(|h| h.to_lowercase().starts_with(word))
            .map(|at| (at, heads[at][word.len()..].trim().trim_matches(['(', ')']).to_owned()))
            .ok_or_else(shape)
    };
    let (stroke, force) = (column("stroke")?, column("force")?);
    let mut out = Vec::new();
    for (at, line) in rows {
        let row = cells(line);
        let cell = |(column, unit): &(usize, String)| {
            row.get(*column)
                .filter(|c| !c.is_empty())
                .map(|c| format!("{c} {unit}").trim().to_owned())
        };
        match (cell(&stroke), cell(&force)) {
            (Some(s), Some(f)) => out.push(format!("{s}: {f}")),
            _ => {
                return Err(Failure::wrong(
                    format!("{name}:{}: stroke or force is missing", at + 1),
                    "give both, or take the row out",
                ));
            }
        }
    }
    if out.is_empty() {
        return Err(Failure::wrong(format!("{name} has no readings"), "one row a reading"));
    }
    Ok(out.join("; "))
}

fn write_sheet(
    args: &Args,
    view: &DesignView,
    pictures: &[Picture],
    file: &Path,
) -> Result<(), Failure> {
    let extension = file.extension().and_then(|e| e.to_str()).unwrap_or("");
    if !matches!(extension, "html" | "htm") {
        return Err(Failure::wrong(
            format!("a sheet cannot be written as \".{extension}\""),
            "name a .pdf file, or a .html file that a browser prints",
        ));
    }
    write_whole(file, sheet_html(&design_sheet(view, pictures, first(args.units))).as_bytes())?;
    told(args, &format!("sheet: {}", file.display()));
    Ok(())
}

/// Sheets for the bench as one PDF.
fn write_pdf(
    args: &Args,
    judgement: &Judgement,
    designs: &[Design],
    file: &Path,
    paper: Size,
) -> Result<(), Failure> {
    let options = ::paper::SheetOptions {
        paper: super::paper::size(paper),
        units: super::paper::units(args),
        links: None,
    };
    let set = ::paper::repair_sheets(judgement, designs, &options).map_err(super::paper::failed)?;
    write_whole(file, &set.pdf)?;
    told(args, &format!("sheet: {}, {} pages, {} bytes", file.display(), set.pages, set.pdf.len()));
    Ok(())
}

/// Joints beyond their limits, the worst first.
fn beyond(judgement: &Judgement) -> Vec<JointIx> {
    let bad = |j: &JointIx| judgement.joint(*j).verdict == Verdict::Beyond;
    judgement.worst_first().into_iter().filter(bad).collect()
}

/// Every joint beyond its limit; their designs.
fn all(
    args: &Args,
    judgement: &Judgement,
    with: &[(String, String)],
    to: Option<&Path>,
) -> Result<Vec<Design>, Failure> {
    if let Some(folder) = to {
        std::fs::create_dir_all(folder)
            .map_err(|e| Failure::Fault(format!("{} could not be made: {e}", folder.display())))?;
    }
    let mut designs = Vec::new();
    let mut views = Vec::new();
    let mut written = Vec::new();
    for ix in beyond(judgement) {
        let found = design_joint(judgement, ix, with).map_err(wrong)?;
        let view = design_view(judgement, &found);
        let mut files = (None, None);
        if let Some(folder) = to {
            let pictures =
                design_drawings(&view, &found).map_err(|e| Failure::Fault(e.to_string()))?;
            let name = file_name(&view.joint);
            let file = format!("{name}.html");
            write_whole(
                &folder.join(&file),
                sheet_html(&design_sheet(&view, &pictures, first(args.units))).as_bytes(),
            )?;
            files.0 = Some(file);
            if let Some(first) = pictures.first() {
                let file = format!("{name}.svg");
                write_whole(&folder.join(&file), first.svg.as_bytes())?;
                files.1 = Some(file);
            }
        }
        designs.push(found);
        views.push(view);
        written.push(files);
    }
    if args.json {
        print_json(&views)?;
        return Ok(designs);
    }
    if views.is_empty() {
        put!("no joint is beyond its limit");
        return Ok(designs);
    }
    say::designed(&views, &written);
    match to {
        Some(folder) => put!("\nsheets and drawings are in {}", folder.display()),
        None => put!(
            "\n`pinchbar design ENGINE JOINT` shows one in full; --to FOLDER writes their sheets and drawings"
        ),
    }
    Ok(designs)
}

/// A joint's id as a file name: nothing that a file system could take for a path.
fn file_name(id: &str) -> String {
    id.chars()
        .map(|c| if c.is_alphanumeric() || matches!(c, '.' | '-' | '_') { c } else { '_' })
        .collect::<String>()
        .trim_start_matches('.')
        .to_owned()
}

/// The film over forty clearances and forty loads, on every core, with progress.
fn write_map(
    args: &Args,
    judgement: &Judgement,
    ix: JointIx,
    with: &[(String, String)],
    file: &Path,
) -> Result<(), Failure> {
    let joint = judgement.engine().joint(ix);
    let sized = judgement.feature(joint.inner).size.as_ref().map(engine::judge::Estimate::si);
    let Some(journal_m) = sized else {
        return Err(Failure::wrong(
            format!("the journal of \"{}\" is not gauged", joint.id),
            "gauge it",
        ));
    };
    let pressure_pa = engine::design::design(judgement, ix, with)
        .map_err(wrong)?
        .detail
        .bearing
        .and_then(|b| b.duty.map(|d| d.pressure_pa))
        .ok_or_else(|| {
            Failure::wrong("a map wants the bearing's duty", "see what was not worked out above")
        })?;
    let load_n = pressure_pa * journal_m * duty_length(judgement, ix, with)?;
    let (clearances_m, loads_n) = spans(journal_m, load_n);
    let asked = MapAsked { clearances_m, loads_n };
    let map = run_map(|control| map_of(judgement, ix, with, &asked, control).map_err(wrong))?;
    write_whole(file, csv_of(&map, &asked.clearances_m, &asked.loads_n).as_bytes())?;
    let end = if map.end == MapEnd::Complete { "" } else { " (stopped before its end)" };
    told(args, &format!("map: {}{end}", file.display()));
    Ok(())
}

fn duty_length(
    judgement: &Judgement,
    ix: JointIx,
    with: &[(String, String)],
) -> Result<f64, Failure> {
    let mut duty = judgement.engine().duties.get(&ix).cloned().unwrap_or_default();
    for (name, text) in with {
        duty.set(name, text).map_err(|(what, mend)| Failure::wrong(what, mend))?;
    }
    match duty.entries.get("length").map(|e| &e.value) {
        Some(engine::design::Value::One(m)) => Ok(*m),
        _ => {
            Err(Failure::wrong("a map wants the bearing's length", "write length in its [[duty]]"))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::press_lines;

    #[test]
    fn a_table_of_press_readings_becomes_a_line_of_the_duty() {
        let read = |text: &str| press_lines("t.csv", text).map_err(|e| e.to_string());
        assert_eq!(
            read("\u{feff}stroke mm,force kN\n20,9\n# a remark\n\n40,19.5\n").as_deref(),
            Ok("20 mm: 9 kN; 40 mm: 19.5 kN")
        );
        assert_eq!(read("Force (tonf);Note;Stroke (in)\n1;;2\n").as_deref(), Ok("2 in: 1 tonf"));
        assert_eq!(read("stroke,force\n2 in,1 tonf\n").as_deref(), Ok("2 in: 1 tonf"));
        assert!(read("stroke mm,force kN\n20,\n").is_err_and(|e| e.contains("t.csv:2")));
        for text in ["", "depth,load\n1,2\n", "stroke mm,force kN\n"] {
            assert!(read(text).is_err(), "{text}");
        }
    }
}
