//! The PDF read back by a program that is not ours, where it is installed (Debian:
//! poppler-utils). The same is tested without it from the typesetter's own pages; this looks at
//! the file itself.

use engine::description::SourceText;
use engine::judge::Judgement;
use engine::model::Date;
use paper::{ReportOptions, condition_report};
use std::process::Command;

#[test]
fn words_of_text_and_drawings_come_out_of_the_pdf() {
    if Command::new("pdftotext").arg("-v").output().is_err() {
        eprintln!("NOT TESTED: pdftotext is not installed; apt-get install poppler-utils");
        return;
    }
    let text = SourceText {
        file: "engine.toml".to_owned(),
        text: include_str!("small/engine.toml").to_owned(),
    };
    let mut loaded = engine::load(vec![text], Date::parse("2026-04-01").ok());
    let table = include_str!("small/readings.csv");
    engine::readings::read_table(&mut loaded.engine, 1, table.as_bytes()).expect("a table");
    let judgement = Judgement::of(loaded.finish().0);
    let report = condition_report(&judgement, &ReportOptions::default()).expect("set");

    let file = std::env::temp_dir().join(format!("pinchbar-report-{}.pdf", std::process::id()));
    std::fs::write(&file, &report.pdf).expect("written");
    let out = Command::new("pdftotext").arg("-layout").arg(&file).arg("-").output().expect("run");
    std::fs::remove_file(&file).expect("removed");
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    let text = String::from_utf8(out.stdout).expect("utf-8");

    assert_eq!(text.matches('\u{c}').count(), report.pages, "a form feed ends each page");
    for wanted in [
        "Condition report",
        // An id that was broken over lines or not comes out whole, without a space in it.
        "rod.bolt-joint-3",
        "1 of ",
        // From the drawings.
        "metal inside",
        "1 ring = ",
        "journal.left, along the axis",
    ] {
        assert!(text.contains(wanted), "no \"{wanted}\" in\n{text}");
    }
}
