//! Every sheet of an engine, from its own file and tables:
//! `cargo run -p paper --example sheets -- ENGINE_DIR DAY OUT_DIR [letter]`
//!
//! ENGINE_DIR holds `engine.toml` and tables of readings ending in `.csv`.

use engine::description::SourceText;
use engine::judge::Judgement;
use engine::model::Date;
use paper::{PaperSize, ReportOptions, condition_report, condition_report_html, machine_to_sheet};
use std::io::BufReader;
use std::path::{Path, PathBuf};
use std::time::Instant;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let [dir, day, out, rest @ ..] = args.as_slice() else {
        return Err("say ENGINE_DIR DAY OUT_DIR".into());
    };
    let judgement = judged(Path::new(dir), Date::parse(day)?)?;
    let options = ReportOptions {
        paper: if rest.is_empty() { PaperSize::A4 } else { PaperSize::UsLetter },
        ..ReportOptions::default()
    };
    // Twice: the first reads the letters in.
    for _ in 0..2 {
        let start = Instant::now();
        let report = condition_report(&judgement, &options)?;
        println!(
            "report.pdf: {} pages, {} kB, {:.2?}",
            report.pages,
            report.pdf.len() / 1000,
            start.elapsed()
        );
        for w in &report.warnings {
            println!("  {w}");
        }
        std::fs::write(Path::new(out).join("report.pdf"), report.pdf)?;
    }
    let start = Instant::now();
    let sheet = machine_to_sheet(&judgement, &options)?;
    println!("machine-to.pdf: {} pages, {:.2?}", sheet.pages, start.elapsed());
    std::fs::write(Path::new(out).join("machine-to.pdf"), sheet.pdf)?;
    std::fs::write(Path::new(out).join("report.html"), condition_report_html(&judgement))?;
    Ok(())
}

fn judged(dir: &Path, day: Date) -> Result<Judgement, Box<dyn std::error::Error>> {
    let text = SourceText::from_bytes("engine.toml", &std::fs::read(dir.join("engine.toml"))?)
        .map_err(|p| p.to_string())?;
    let mut loaded = engine::load(vec![text], Some(day));
    let mut tables: Vec<PathBuf> = std::fs::read_dir(dir)?
        .filter_map(|entry| entry.ok().map(|e| e.path()))
        .filter(|p| p.extension().is_some_and(|e| e == "csv"))
        .collect();
    tables.sort();
    for (i, table) in tables.iter().enumerate() {
        let input = BufReader::new(std::fs::File::open(table)?);
        let read = engine::readings::read_table(&mut loaded.engine, i as u16 + 1, input)?;
        println!("{}: {} readings, {} refused", table.display(), read.taken, read.refused_count());
    }
    let (engine, problems) = loaded.finish();
    for p in &problems {
        println!("{p}");
    }
    Ok(Judgement::of(engine))
}
