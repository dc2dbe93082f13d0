//! Words that look like markup, commands or attacks are printed as they were written.

use super::engines::judged;
use super::pages;
use crate::content::report_content;
use crate::{ReportOptions, condition_report, condition_report_html, machine_to_sheet};

const NASTY: &[&str] = &[
    "#panic(\"boo\")",
    "#include \"/etc/passwd\"",
    "$x^2$ and $sum_(k=0)^n$",
    "*bold* _leaning_ `raw` = heading",
    "#{ while true {} }",
    "#set page(width: 1pt)",
    "@label <label> #cite(<x>)",
    "</svg><script>alert(1)</script>",
    "]]> <!-- --> &amp; &lt;",
    "\\ \\u{0041} \\\\",
    "{{7*7}} %s %n ${HOME}",
    "\u{202E}turned round\u{202C}",
    "ÆØÅ ß ﬁ 字 ع 😀 e\u{301}",
    "\"quoted\" 'and' \u{201C}curled\u{201D}",
];

/// A small engine with one word or text everywhere a person may write one.
fn engine_of(text: &str) -> String {
    let q = toml_string(text);
    format!(
        r#"
[engine]
name = {q}
railway = {q}
note = {q}
[[gauge]]
id = "om"
kind = {q}
error = "0.003 mm"
repeat = "0.002 mm"
[[part]]
id = "pin"
name = {q}
[[part]]
id = "eye"
name = {q}
[[feature]]
id = "pin.outside"
part = "pin"
kind = "journal"
name = {q}
as-made = "50 mm"
stations = ["A", "B"]
can = ["turning", "new"]
[[feature]]
id = "eye.inside"
part = "eye"
kind = "bore"
name = {q}
as-made = "50.1 mm"
stations = ["A", "B"]
can = ["boring", "lining"]
[[joint]]
id = "pin-in-eye"
name = {q}
kind = "running"
inner = "pin.outside"
outer = "eye.inside"
[[limit]]
on = "pin-in-eye"
of = "clearance"
when = "service"
max = "0.3 mm"
source = "engineer"
note = {q}
[[limit]]
on = "pin-in-eye"
of = "clearance"
when = "refit"
min = "0.05 mm"
max = "0.15 mm"
source = "engineer"
note = {q}
[[finding]]
on = "pin.outside"
condition = "scored"
by = {q}
note = {q}
[[decision]]
joint = "pin-in-eye"
repair = "line"
by = {q}
reason = {q}
"#
    )
}

fn toml_string(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            c if c.is_control() => out.push_str(&format!("\\u{:04X}", c as u32)),
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

fn readings_by(person: &str) -> String {
    let mut csv =
        String::from("feature,station,direction,reading,unit,gauge,by,when,temperature\n");
    let person = format!("\"{}\"", person.replace('"', "\"\""));
    for (feature, size) in [("pin.outside", 49.7), ("eye.inside", 50.3)] {
        for (station, off) in [("A", 0.0), ("B", 0.02)] {
            for (direction, oval) in [(0, 0.0), (90, 0.03)] {
                let mm = size + off + oval;
                csv.push_str(&format!(
                    "{feature},{station},{direction},{mm:.3},mm,om,{person},2026-03-02,20\n"
                ));
            }
        }
    }
    csv
}

#[test]
fn markup_is_printed_as_it_was_written() {
    for text in NASTY {
        let judgement = judged(&engine_of(text), &readings_by(text));
        let content = report_content(&judgement, &ReportOptions::default(), &mut Vec::new());
        let set = pages(include_str!("../typst/report.typ"), &content).expect(text);
        // The typesetter joins and mirrors letters of other scripts; plain ones come back as
        // they went in.
        if text.is_ascii() {
            let printed = set.all();
            assert!(printed.matches(text).count() >= 6, "\"{text}\" in\n{printed}");
        }
        machine_to_sheet(&judgement, &ReportOptions::default()).expect(text);
        let html = condition_report_html(&judgement);
        assert!(!html.contains("<script"), "{text}");
        assert!(!html.contains(text) || !text.contains('<'), "{text}");
    }
}

#[test]
fn endless_words_are_cut_and_told() {
    for text in ["x".repeat(4000), "a b ".repeat(1000), "字".repeat(4000)] {
        let judgement = judged(&engine_of(&text), &readings_by("A.B."));
        let options = ReportOptions::default();
        let report = condition_report(&judgement, &options).expect("set");
        assert!(report.pages < 30, "{} pages", report.pages);
        assert!(
            report.warnings.iter().any(|w| w.starts_with("the railway") && w.contains("4,000")),
            "{:?}",
            report.warnings
        );
        machine_to_sheet(&judgement, &options).expect("set");
        assert!(!condition_report_html(&judgement).contains(&text));
    }
}

#[test]
fn control_characters_do_no_harm() {
    let text = "bell\u{7} null-ish\u{1} line\nfeed\ttab\u{7f}";
    let judgement = judged(&engine_of(text), &readings_by("A.B."));
    condition_report(&judgement, &ReportOptions::default()).expect("set");
    let html = condition_report_html(&judgement);
    assert!(!html.contains('\u{7}') && !html.contains('\u{1}'));
}

#[test]
fn a_template_sees_no_file_but_its_own() {
    // A sheet that asked for a file, a package or the clock would get none.
    for reach in [
        "#read(\"/etc/passwd\")",
        "#image(\"/picture.png\")",
        "#import \"@preview/any:1.0.0\": x",
        "#include \"/other.typ\"",
        "#datetime.today()",
    ] {
        let leaked: &'static str = Box::leak(reach.to_owned().into_boxed_str());
        assert!(pages(leaked, &()).is_err(), "{reach}");
    }
}
