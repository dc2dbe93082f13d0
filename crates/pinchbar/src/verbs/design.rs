//! Designing repairs: asks the engine, hands figures to the drawings, writes what was wanted.

use super::{find_joint, judged, print_json};
use crate::args::{Args, Units, Verb};
use crate::failure::put;
use crate::failure::{DONE, Failure, PARTLY};
use crate::folder::{open, write_whole};
use crate::say;
use drawing::Picture;
use drawing::sheet::{Row, Sheet, Table, sheet_html};
use engine::design::{DesignError, MapAsked, design as design_joint, map_of};
use engine::judge::{Judgement, Verdict};
use engine::model::{Date, JointIx};
use engine::view::{DesignView, design_view};
use mechanics::bearing::{MapControl, MapEnd};
use paper::design_pictures;
use std::fmt::Write as _;
use std::num::NonZeroUsize;
use std::path::Path;
use std::sync::atomic::AtomicBool;

/// Designs one joint, or all that are beyond their limits.
pub(super) fn design(args: &Args, today: Date) -> Result<u8, Failure> {
    let Verb::Design { engine, joint, with, svg, sheet, to, map } = &args.verb else {
        return Err(Failure::Fault("not `design`".to_owned()));
    };
    let with = what_if(with)?;
    let (judgement, whole) = judged(args, open(engine, Some(today))?)?;
    let code = if whole { DONE } else { PARTLY };
    let Some(joint) = joint else {
        return all(args, &judgement, &with, to.as_deref()).map(|()| code);
    };
    let ix = find_joint(&judgement, joint)?;
    let found = design_joint(&judgement, ix, &with).map_err(wrong)?;
    let view = design_view(&judgement, &found);
    let mut pictures = design_pictures(&view, &found).map_err(|e| Failure::Fault(e.to_string()))?;
    if args.json {
        print_json(&view)?;
    } else {
        say::design(&view, args.units);
    }
    if let Some(file) = svg {
        if pictures.is_empty() {
            return Err(Failure::wrong(
                format!("there is nothing to draw of \"{joint}\""),
                "what was not worked out stands above, with what it wants",
            ));
        }
        // One file, one drawing: the first is the one to work from.
        write_whole(file, pictures.swap_remove(0).svg.as_bytes())?;
        told(args, &format!("drawing: {}", file.display()));
        if let Some(sheet) = sheet {
            let again =
                design_pictures(&view, &found).map_err(|e| Failure::Fault(e.to_string()))?;
            write_sheet(args, &view, &again, sheet)?;
        }
    } else if let Some(sheet) = sheet {
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
            "name a .html file; a browser prints it",
        ));
    }
    write_whole(file, sheet_html(&sheet(view, pictures, args.units)).as_bytes())?;
    told(args, &format!("sheet: {}", file.display()));
    Ok(())
}

/// Every joint beyond its limit.
fn all(
    args: &Args,
    judgement: &Judgement,
    with: &[(String, String)],
    to: Option<&Path>,
) -> Result<(), Failure> {
    let beyond: Vec<JointIx> = judgement
        .worst_first()
        .into_iter()
        .filter(|j| judgement.joint(*j).verdict == Verdict::Beyond)
        .collect();
    if let Some(folder) = to {
        std::fs::create_dir_all(folder)
            .map_err(|e| Failure::Fault(format!("{} could not be made: {e}", folder.display())))?;
    }
    let mut views = Vec::new();
    let mut written = Vec::new();
    for ix in beyond {
        let found = design_joint(judgement, ix, with).map_err(wrong)?;
        let view = design_view(judgement, &found);
        let mut files = (None, None);
        if let Some(folder) = to {
            let pictures =
                design_pictures(&view, &found).map_err(|e| Failure::Fault(e.to_string()))?;
            let name = file_name(&view.joint);
            let file = format!("{name}.html");
            write_whole(
                &folder.join(&file),
                sheet_html(&sheet(&view, &pictures, args.units)).as_bytes(),
            )?;
            files.0 = Some(file);
            if let Some(first) = pictures.first() {
                let file = format!("{name}.svg");
                write_whole(&folder.join(&file), first.svg.as_bytes())?;
                files.1 = Some(file);
            }
        }
        views.push(view);
        written.push(files);
    }
    if args.json {
        return print_json(&views);
    }
    if views.is_empty() {
        put!("no joint is beyond its limit");
        return Ok(());
    }
    say::designed(&views, &written);
    match to {
        Some(folder) => put!("\nsheets and drawings are in {}", folder.display()),
        None => put!(
            "\n`pinchbar design ENGINE JOINT` shows one in full; --to FOLDER writes their sheets and drawings"
        ),
    }
    Ok(())
}

/// A joint's id as a file name: nothing that a file system could take for a path.
fn file_name(id: &str) -> String {
    id.chars()
        .map(|c| if c.is_alphanumeric() || matches!(c, '.' | '-' | '_') { c } else { '_' })
        .collect::<String>()
        .trim_start_matches('.')
        .to_owned()
}

fn sheet(view: &DesignView, pictures: &[Picture], units: Units) -> Sheet {
    let row = |i: &engine::view::ItemView| {
        let (first, second) = match units {
            Units::Imperial if !i.imperial.is_empty() => (i.imperial.clone(), i.metric.clone()),
            _ => (i.metric.clone(), i.imperial.clone()),
        };
        Row {
            label: i.label.clone(),
            first,
            second,
            note: i.note.clone(),
            sign: match i.stands {
                "good" => "✓ ",
                "look" => "? ",
                "bad" => "✖ ",
                _ => "",
            },
        }
    };
    let by = view
        .decided_by
        .as_ref()
        .map_or_else(|| "recommended, to be decided".to_owned(), |w| format!("decided, {w}"));
    let mut tables: Vec<Table> = Vec::new();
    for wanted in [true, false] {
        for s in view.sections.iter().filter(|s| s.to_make == wanted) {
            tables.push(Table {
                title: s.title.clone(),
                rows: s.items.iter().map(row).collect(),
                boxes: wanted,
            });
        }
    }
    if view.kind == "pressed" || view.kind == "shrunk" {
        tables.push(Table {
            title: "press record: write in as it goes".into(),
            rows: (1..=8)
                .map(|i| Row {
                    label: format!("reading {i}: stroke"),
                    first: "force".into(),
                    ..Row::default()
                })
                .collect(),
            boxes: true,
        });
    }
    if !view.absent.is_empty() {
        tables.push(Table {
            title: "not worked out".into(),
            rows: view
                .absent
                .iter()
                .map(|a| Row {
                    label: a.what.clone(),
                    note: if a.why.is_empty() { a.wants.join("; ") } else { a.why.clone() },
                    ..Row::default()
                })
                .collect(),
            boxes: false,
        });
    }
    tables.push(Table {
        title: "rests on".into(),
        rows: view
            .given
            .iter()
            .map(|g| Row {
                label: g.name.clone(),
                first: g.text.clone(),
                note: g.from.clone(),
                ..Row::default()
            })
            .collect(),
        boxes: false,
    });
    Sheet {
        title: format!("{}: {}", view.engine, view.name),
        head: vec![
            format!("joint {} ({}), {}; judged {}", view.joint, view.kind, view.verdict, view.day.as_deref().unwrap_or("without a day")),
            format!("repair: {} ({by})", view.words),
        ],
        pictures: pictures.iter().map(|p| p.svg.clone()).collect(),
        tables,
        cautions: view.cautions.clone(),
        foot: vec![
            format!("Not considered: {}.", view.not_considered.join("; ")),
            "Sizes at 20 °C. Gauge again after every operation. A competent person, local rules and licensed practice decide how the work is done; the responsible engineer releases it.".into(),
        ],
        signed: vec!["made by, day".into(), "gauged by, with, day".into(), "released by, day".into()],
    }
}

/// The film over forty clearances and forty loads, on every core, with progress.
fn write_map(
    args: &Args,
    judgement: &Judgement,
    ix: JointIx,
    with: &[(String, String)],
    file: &Path,
) -> Result<(), Failure> {
    const SIDE: usize = 40;
    let joint = judgement.engine().joint(ix);
    let sized = judgement.feature(joint.inner).size.as_ref().map(engine::judge::Estimate::si);
    let Some(journal_m) = sized else {
        return Err(Failure::wrong(
            format!("the journal of \"{}\" is not gauged", joint.id),
            "gauge it",
        ));
    };
    let load = engine::design::design(judgement, ix, with)
        .map_err(wrong)?
        .detail
        .bearing
        .and_then(|b| b.duty.map(|d| d.pressure_pa))
        .ok_or_else(|| {
            Failure::wrong("a map wants the bearing's duty", "see what was not worked out above")
        })?;
    let span = |from: f64, to: f64| -> Vec<f64> {
        (0..SIDE).map(|i| from * (to / from).powf(i as f64 / (SIDE - 1) as f64)).collect()
    };
    let length_load = load * journal_m;
    let asked = MapAsked {
        // From half a thousandth to six thousandths of the journal (common practice runs 1 to 4.5).
        clearances_m: span(0.0005 * journal_m, 0.006 * journal_m),
        loads_n: Vec::new(),
    };
    let length = duty_length(judgement, ix, with)?;
    let asked =
        MapAsked { loads_n: span(0.2 * length_load * length, 2.0 * length_load * length), ..asked };
    let threads = std::thread::available_parallelism().unwrap_or(NonZeroUsize::MIN);
    let stop = AtomicBool::new(false);
    let progress = |done: usize, all: usize| {
        if done == all || done.is_multiple_of(20) {
            eprint!("\rfilm {done} of {all}");
        }
    };
    let control = MapControl { threads, progress: &progress, stop: &stop };
    let map = map_of(judgement, ix, with, &asked, &control).map_err(wrong)?;
    eprintln!();
    let mut csv = String::from(
        "clearance mm,load kN,least film um,film degC,eccentricity,power W,side flow ml/min,why not\n",
    );
    for (i, c) in asked.clearances_m.iter().enumerate() {
        for (j, w) in asked.loads_n.iter().enumerate() {
            let _ = write!(csv, "{:.4},{:.2},", 1e3 * c, 1e-3 * w);
            let _ = match map.point(i, j) {
                Some(Ok(f)) => writeln!(
                    csv,
                    "{:.2},{:.1},{:.4},{:.1},{:.2},",
                    1e6 * f.film.minimum_film_m,
                    f.film_k - 273.15,
                    f.film.numbers.eccentricity_ratio,
                    f.film.power_w,
                    6e7 * f.film.side_flow_m3_s
                ),
                Some(Err(e)) => writeln!(csv, ",,,,,\"{e}\""),
                None => writeln!(csv, ",,,,,not tried"),
            };
        }
    }
    write_whole(file, csv.as_bytes())?;
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
