//! What stands in the report and on the machine-to sheet.

use super::engines::{judged, small};
use super::{Pages, pages};
use crate::content::{Report, machine_to_content, report_content};
use crate::{PaperSize, ReportOptions, condition_report, condition_report_html, machine_to_sheet};
use engine::judge::Judgement;

fn content(judgement: &Judgement, options: &ReportOptions) -> Report {
    report_content(judgement, options, &mut Vec::new())
}

fn set(judgement: &Judgement, options: &ReportOptions) -> Pages {
    pages(include_str!("../typst/report.typ"), &content(judgement, options)).expect("set")
}

#[test]
fn the_report_says_what_was_found() {
    let pages = set(&small(), &ReportOptions::default());
    let all = pages.all();
    for wanted in [
        "Test bed No. 1",
        "Nowhere Light Railway",
        "2026-03-01",
        "Of 10 joints: 2 beyond a limit in service",
        "Joints, worst first",
        "axlebox.left",
        "The other joints",
        "Piston clearances and chains",
        "taken as made: span, collar",
        "Suspicious readings",
        "102.482 mm",
        "set aside",
        "Conditions found",
        "light scoring at the crown",
        "Joints in full",
        "Verdict by limit",
        "What can be done",
        "recommended",
        "Decided",
        "both boxes to one size",
        "What the uncertainty of the clearance comes from",
        "Readings as written",
        "Machine-to list",
        "Gauges",
        "Cautions",
        "What was not considered",
        "rod.bolt-8",
        "signature",
    ] {
        assert!(all.contains(wanted), "no \"{wanted}\" in\n{all}");
    }
}

#[test]
fn every_page_has_its_number_and_engine() {
    let pages = set(&small(), &ReportOptions::default());
    let n = pages.texts.len();
    assert!((4..=12).contains(&n), "{n} pages");
    for (i, text) in pages.texts.iter().enumerate() {
        assert!(text.contains(&format!("{} of {n}", i + 1)), "page {}: {text}", i + 1);
        assert!(text.contains("Test bed No. 1") && text.contains("judged on 2026-04-01"));
    }
}

#[test]
fn worst_joints_come_first_and_figures_are_the_engines() {
    let judgement = small();
    let report = content(&judgement, &ReportOptions::default());
    let order: Vec<&str> = report.worst.iter().map(|r| r.verdict).collect();
    assert!(order.starts_with(&["beyond", "beyond"]), "{order:?}");
    let view = engine::view::summary(&judgement);
    assert_eq!(report.worst.len() + report.rest.len(), view.joints.len());
    for (row, line) in report.worst.iter().chain(&report.rest).zip(&view.joints) {
        assert_eq!((row.id.text(), row.verdict), (line.id.as_str(), line.verdict));
    }
    // The limit that decides is the one the engine names.
    let worst = &report.worst[1];
    assert_eq!(worst.id.text(), "axlebox.left");
    let limit = worst.limit.as_ref().expect("a limit");
    assert_eq!(limit.metric, "most 0.500 mm");
}

#[test]
fn expanded_uncertainty_stands_beside_every_measure_of_a_joint() {
    let judgement = small();
    let report = content(&judgement, &ReportOptions::default());
    let page = report.full.iter().find(|p| p.id.text() == "axlebox.left").expect("in full");
    let clearance = page.measures.iter().find(|m| m.strong).expect("the main measure");
    let (value, wide) = clearance.value.metric.split_once(" ± ").expect("±");
    let wide: f64 = wide.trim_end_matches(" mm").parse().expect("a figure");
    let value: f64 = value.parse().expect("a figure");
    let ix = judgement.engine().joint_by_id("axlebox.left").expect("there");
    let estimate = judgement.joint(ix).measure(engine::model::Measure::Clearance).expect("gauged");
    assert!((value - estimate.si() * 1e3).abs() < 0.001);
    // JCGM 100:2008, G.3: the factor for 95 % is 1.96 for infinitely many degrees of freedom and
    // larger for fewer; 12.7 for a single one (Table G.2, from memory).
    let factor = wide / (estimate.u() * 1e3);
    assert!((1.9..=12.8).contains(&factor), "{factor}");
}

#[test]
fn worst_surfaces_are_drawn() {
    let judgement = small();
    let report = content(&judgement, &ReportOptions::default());
    let page = report.full.iter().find(|p| p.id.text() == "axlebox.left").expect("in full");
    assert!(!page.bars.is_empty());
    let alts: Vec<&str> = page.plots.iter().map(|p| p.alt.as_str()).collect();
    assert!(alts[0].starts_with("journal.left, polar plot"), "{alts:?}");
    assert!(alts[1].starts_with("journal.left, along the axis"), "{alts:?}");
    for drawing in page.bars.iter().chain(&page.plots) {
        assert!(drawing.svg.len() > 1000 && drawing.height_pt > 40.0, "{}", drawing.alt);
    }
    let pages = set(&judgement, &ReportOptions::default());
    let drawn: usize = pages.drawings.iter().sum();
    let drawings: usize = report.full.iter().map(|p| p.bars.len() + p.plots.len()).sum();
    assert!(drawn > drawings, "drawings and signs: {drawn} of {drawings}");
}

#[test]
fn words_on_drawings_appear_in_the_built_in_letters() {
    let pages = set(&small(), &ReportOptions::default());
    let wanted = ["metal inside", "mm", "in", "journal.left, along the axis", "beyond"];
    for wanted in wanted {
        assert!(pages.lettered.iter().any(|(t, _)| t == wanted), "no \"{wanted}\"");
    }
    for (text, width) in &pages.lettered {
        // No letter is narrower than a fifth of its size, and none is set below six points; a
        // font that was not found leaves a text without width, or out altogether.
        let letters = text.chars().filter(|c| !c.is_whitespace()).count() as f32;
        assert!(*width > 0.2 * 6.0 * letters, "\"{text}\" is {width} pt wide");
    }
    // As wide as the drawing reckoned with: digits of Libertinus Serif are 0.465 of the size.
    let (text, width) = pages
        .lettered
        .iter()
        .find(|(t, _)| t.len() == 6 && t.chars().all(|c| c.is_ascii_digit() || c == '.'))
        .expect("a figure on a scale");
    let reckoned = 6.5 * (5.0 * 0.465 + 0.22);
    assert!((width - reckoned).abs() < 0.6, "\"{text}\" {width} for {reckoned}");
}

#[test]
fn a_traverse_is_drawn_with_its_circles() {
    let judgement = small();
    let all = ReportOptions { joints_in_full: 99, ..ReportOptions::default() };
    // The right box is within; make it beyond by asking for less.
    let toml = include_str!("../../tests/small/engine.toml")
        .replace("max = \"0.50 mm\"", "max = \"0.25 mm\"");
    let tight = judged(&toml, include_str!("../../tests/small/readings.csv"));
    let traverse = |j: &Judgement| {
        let report = content(j, &all);
        report
            .full
            .iter()
            .flat_map(|p| &p.plots)
            .filter(|p| p.alt.contains("dial traverse"))
            .map(|p| p.svg.clone())
            .collect::<Vec<_>>()
    };
    assert!(traverse(&judgement).is_empty(), "only what is beyond or near is set out");
    let drawn = traverse(&tight);
    assert_eq!(drawn.len(), 1);
    assert!(drawn[0].contains("least squares") && drawn[0].contains("narrowest zone"));
}

#[test]
fn readings_stand_as_they_were_written() {
    let report = content(&small(), &ReportOptions::default());
    let page = report.full.iter().find(|p| p.id.text() == "axlebox.left").expect("in full");
    let table = page.readings.iter().find(|r| r.feature.text() == "journal.left").expect("read");
    assert_eq!(table.directions, ["0°", "45°", "90°", "135°"]);
    let cells = |session: &str| -> Vec<&str> {
        table
            .rows
            .iter()
            .filter(|r| r.session == session)
            .flat_map(|r| r.cells.iter().flatten().map(|c| c.state))
            .collect()
    };
    assert_eq!(cells("a").len(), 12);
    assert!(cells("a").iter().all(|s| s.is_empty()), "this time's count");
    assert_eq!(cells("b").len(), 6);
    assert!(cells("b").iter().all(|s| *s == "not counted"), "last time's do not");
    let csv = include_str!("../../tests/small/readings.csv");
    for cell in table.rows.iter().flat_map(|r| r.cells.iter().flatten()) {
        let figure = cell.text.text().trim_end_matches(" mm");
        assert!(csv.contains(figure), "{figure}");
    }
}

#[test]
fn the_number_of_joints_in_full_is_kept_and_told() {
    let judgement = small();
    for (asked, pages_in_full, note) in [
        (0, 0, "The 0 worst of 2 joints"),
        (1, 1, "The 1 worst of 2 joints"),
        (5, 2, "All 2 joints"),
    ] {
        let options = ReportOptions { joints_in_full: asked, ..ReportOptions::default() };
        let report = content(&judgement, &options);
        assert_eq!(report.full.len(), pages_in_full);
        assert!(report.full_note.text().starts_with(note), "{}", report.full_note.text());
    }
}

#[test]
fn both_sheet_sizes() {
    // ISO 216: A4 is 210 by 297 mm; letter is 8.5 by 11 in (ANSI/ASME Y14.1, from memory).
    for (paper, size_in) in
        [(PaperSize::A4, (210.0 / 25.4, 297.0 / 25.4)), (PaperSize::UsLetter, (8.5, 11.0))]
    {
        let options = ReportOptions { paper, ..ReportOptions::default() };
        let (w, h) = set(&small(), &options).size_pt;
        assert!((w / 72.0 - size_in.0).abs() < 0.005 && (h / 72.0 - size_in.1).abs() < 0.005);
        assert!(!condition_report(&small(), &options).expect("set").pdf.is_empty());
    }
}

#[test]
fn the_same_judgement_gives_the_same_bytes() {
    let options = ReportOptions::default();
    let one = condition_report(&small(), &options).expect("set");
    let two = condition_report(&small(), &options).expect("set");
    assert!(one.pdf == two.pdf, "the report");
    assert!(one.pdf.starts_with(b"%PDF-"));
    assert_eq!(one.warnings, Vec::<String>::new());
    let sheet = || machine_to_sheet(&small(), &options).expect("set").pdf;
    assert!(sheet() == sheet(), "the sheet");
    assert!(condition_report_html(&small()) == condition_report_html(&small()), "the page");
}

#[test]
fn nothing_known_is_said_plainly() {
    let bare = judged("[engine]\nname = \"Bare\"\n", "");
    let all = set(&bare, &ReportOptions::default()).all();
    assert!(all.contains("Nothing to judge yet"), "{all}");
    assert!(all.contains("There is nothing to machine") && all.contains("No joint is beyond"));
    let html = condition_report_html(&bare);
    assert!(html.contains("Nothing to judge yet"));
    machine_to_sheet(&bare, &ReportOptions::default()).expect("set");
}

#[test]
fn joints_without_readings_cannot_be_told() {
    let judgement = judged(include_str!("../../tests/small/engine.toml"), "");
    let all = set(&judgement, &ReportOptions::default()).all();
    assert!(all.contains("There are no readings."), "{all}");
    assert!(all.contains("10 that cannot be told"), "{all}");
    assert!(all.contains("22 features not gauged") || all.contains("features not gauged"), "{all}");
}

#[test]
fn the_machine_to_sheet_has_a_card_for_every_line() {
    let judgement = small();
    let content =
        machine_to_content(&judgement, &ReportOptions::default(), &mut Vec::new()).expect("drawn");
    let list = engine::repair::machine_to(&judgement);
    assert!(!list.lines.is_empty());
    assert_eq!(content.cards.len(), list.lines.len());
    for card in &content.cards {
        assert!(card.sketch.svg.contains("not to scale"));
        assert!(card.sketch.svg.contains(" in)"), "both systems: {}", card.sketch.alt);
    }
    let pages = pages(include_str!("../typst/machine_to.typ"), &content).expect("set");
    let all = pages.all();
    for wanted in ["Machine to", "Cautions", "size made", "signature", "responsible engineer"] {
        assert!(all.contains(wanted), "no \"{wanted}\" in\n{all}");
    }
    assert_eq!(pages.drawings.iter().sum::<usize>(), content.cards.len());
}

#[test]
fn the_page_has_what_the_paper_has() {
    let html = condition_report_html(&small());
    for wanted in [
        "Test bed No. 1",
        "Joints, worst first",
        "journal.left, along the axis",
        "Machine-to list",
        "What was not considered",
    ] {
        assert!(html.contains(wanted), "{wanted}");
    }
    for element in ["table", "tr", "td", "section", "figure", "svg", "ul", "li", "p", "div"] {
        let open = html.matches(&format!("<{element}>")).count()
            + html.matches(&format!("<{element} ")).count();
        assert_eq!(open, html.matches(&format!("</{element}>")).count(), "<{element}>");
    }
    // Self-contained: nothing is fetched, nothing runs.
    for never in ["<script", "<link", "src=", "@import", "url("] {
        assert!(!html.contains(never), "{never}");
    }
    let outside = html.replace("http://www.w3.org/2000/svg", "");
    assert!(!outside.contains("http"), "no address but the name of SVG");
}
