//! Reading engines and tables: what is taken, what is refused, and that nothing is lost or
//! crashes.

use engine::description::SourceText;
use engine::judge::Judgement;
use engine::model::{Date, Engine};
use engine::problem::Problem;
use engine::readings::{TableRead, read_table};
use proptest::prelude::*;
use std::io::{BufReader, Read};

const SMALL: &str = r#"
[engine]
name = "Small"

[[material]]
id = "steel"
expansion = "11.5e-6 /K"

[[gauge]]
id = "M8"
kind = "outside micrometer"
error = "0.005 mm"
material = "steel"
due = "2030-01-01"

[[part]]
id = "axle"
material = "steel"

[[part]]
id = "box"
material = "steel"

[[feature]]
id = "journal"
part = "axle"
kind = "journal"
as-made = "203.2 mm"
stations = ["A", "B"]
length = "200 mm"

[[feature]]
id = "bore"
part = "box"
kind = "bore"
as-made = "203.4 mm"
stations = ["A", "B"]
length = "200 mm"

[[joint]]
id = "axlebox"
kind = "running"
inner = "journal"
outer = "bore"

[[limit]]
on = "axlebox"
of = "clearance"
max = "1 mm"
source = "common practice"
"#;

fn load(text: &str) -> (Engine, Vec<Problem>) {
    let source = SourceText { file: "engine.toml".into(), text: text.into() };
    engine::load(vec![source], Date::new(2026, 11, 20).ok()).finish()
}

fn small() -> Engine {
    let (engine, problems) = load(SMALL);
    assert!(problems.is_empty(), "{problems:?}");
    engine
}

fn table(bytes: &[u8]) -> (Engine, TableRead) {
    let mut engine = small();
    let read = read_table(&mut engine, 0, bytes).expect("readable");
    (engine, read)
}

#[test]
fn a_table_as_a_spreadsheet_saves_it() {
    let text = "\u{feff}Feature;Station;Direction;Reading;Unit;Gauge;By;When;Temperature;Note\r\n\
                journal;A;0;203,15;mm;M8;fitter 1;14.03.2026;12,5;\r\n\
                ;;;;;;;;;\r\n\r\n\
                journal;B;V;8;in;M8;fitter 1;2026-03-14;54 degF;\"a \"\"quoted\"\" note; with a semicolon\"\r\n\
                bore;a;90°;\"8 1/64\"\"\";;M8;;;;\r\n";
    let (engine, read) = table(text.as_bytes());
    assert!(read.refused.is_empty(), "{:?}", read.refused);
    assert_eq!((read.rows, read.taken, read.blank), (3, 3, 1));
    let [a, b, c] = engine.readings.as_slice() else { panic!("three readings") };
    assert_eq!(a.si, 0.20315);
    assert_eq!(&*a.text, "203,15 mm");
    assert_eq!(a.when, Date::new(2026, 3, 14).ok());
    assert_eq!(a.temperature_c, Some(12.5));
    assert_eq!(b.si, 0.2032);
    assert!((b.temperature_c.expect("given") - 12.22).abs() < 0.01, "54 degF is 12.2 degC");
    assert_eq!(b.direction_rad.to_degrees().round(), 90.0);
    assert_eq!(c.si, 0.203_596_875, "8 1/64 in, exactly");
    assert_eq!(&*c.text, "8 1/64\"");
}

#[test]
fn every_row_refused_is_listed_with_its_reason() {
    let text = "feature,station,direction,reading,unit,gauge,when,temperature,repeats\n\
                jornal,A,0,203.1,mm,M8,,,\n\
                journal,C,0,203.1,mm,M8,,,\n\
                journal,A,up,203.1,mm,M8,,,\n\
                journal,A,0,,mm,M8,,,\n\
                journal,A,0,2O3.1,mm,M8,,,\n\
                journal,A,0,203.1,lb,M8,,,\n\
                journal,A,0,203.1,mm,M9,,,\n\
                journal,A,0,203.1,mm,M8,31/02/2026,,\n\
                journal,A,0,203.1,mm,M8,,900,\n\
                journal,A,0,203.1,mm,M8,,,0\n\
                journal,A,0,203.1,mm,M8,,,1,too,many\n\
                journal,A,0,203.1,,M8,,,\n\
                journal,A,0,203.1,mm,M8,,,\n";
    let (engine, read) = table(text.as_bytes());
    assert_eq!((read.rows, read.taken), (13, 1));
    assert_eq!(engine.readings.len(), 1);
    let told: Vec<(u64, &str)> = read.refused.iter().map(|r| (r.line, r.column.as_str())).collect();
    assert_eq!(
        told,
        [
            (2, "feature"),
            (3, "station"),
            (4, "direction"),
            (5, "reading"),
            (6, "reading"),
            (7, "reading"),
            (8, "gauge"),
            (9, "when"),
            (10, "temperature"),
            (11, "repeats"),
            (12, ""),
            (13, "reading"),
        ]
    );
    assert!(read.refused[0].mend.contains("\"journal\""), "{:?}", read.refused[0]);
    assert!(read.refused.iter().all(|r| !r.mend.is_empty() && !r.what.is_empty()));
}

#[test]
fn bytes_that_are_not_text_refuse_their_row_only() {
    let mut bytes =
        b"feature,reading,gauge\njournal,203.1 mm,M8\njournal,203.2 mm,M\xB0\n".to_vec();
    bytes.extend(b"journal,203.3 mm,M8\n");
    let (_, read) = table(&bytes);
    assert_eq!((read.taken, read.refused.len()), (2, 1));
    assert_eq!(read.refused[0].line, 3);
    assert!(read.refused[0].what.contains("UTF-8"), "{:?}", read.refused[0]);
    let mut engine = small();
    let utf16 = b"\xFF\xFEf\0e\0a\0t\0u\0r\0e\0";
    assert!(read_table(&mut engine, 0, &utf16[..]).expect_err("UTF-16").contains("UTF-16"));
}

#[test]
fn an_open_quotation_mark_does_not_fill_the_memory() {
    // 64 MB of one cell; the long test reads 1 GB of it.
    let (taken, refused) = endless(64 << 20);
    assert_eq!((taken, refused), (1, 1));
}

#[test]
#[ignore = "long: reads 1 GB"]
fn a_gigabyte_of_one_cell_is_refused_in_bounded_memory() {
    assert_eq!(endless(1 << 30), (1, 1));
}

fn endless(bytes: u64) -> (u64, u64) {
    let head = &b"feature,reading,gauge\njournal,203.1 mm,M8\njournal,\"203.1 mm"[..];
    let input = head.chain(std::io::repeat(b'x').take(bytes));
    let mut engine = small();
    let read = read_table(&mut engine, 0, BufReader::new(input)).expect("readable");
    (read.taken, read.refused_count())
}

#[test]
fn faults_of_a_description_are_placed_and_all_told() {
    let text = SMALL
        .replace("as-made = \"203.2 mm\"", "as-made = \"-203.2 mm\"")
        .replace("inner = \"journal\"", "inner = \"jornal\"")
        .replace("max = \"1 mm\"", "max = \"1 kg\"");
    let (_, problems) = load(&text);
    let line_of =
        |what: &str| text.lines().position(|l| l.contains(what)).map(|i| i + 1).expect("there");
    let at: Vec<usize> = problems.iter().map(|p| p.place.line).collect();
    assert!(at.contains(&line_of("-203.2 mm")), "{problems:#?}");
    assert!(at.contains(&line_of("jornal")), "{problems:#?}");
    // The joint is gone, so its limit has nothing to stand on; the unit is told all the same.
    assert!(problems.iter().any(|p| p.what.contains("1 kg")), "{problems:#?}");
}

#[test]
fn circular_parts_are_told_once_and_do_not_hang() {
    let text = SMALL.replace("id = \"axle\"", "id = \"axle\"\ninside = \"box\"").replacen(
        "id = \"box\"\nmaterial",
        "id = \"box\"\ninside = \"axle\"\nmaterial",
        1,
    );
    let (engine, problems) = load(&text);
    assert_eq!(problems.iter().filter(|p| p.what.contains("circle")).count(), 1, "{problems:#?}");
    assert_eq!(engine.parts.len(), 2);
}

#[test]
fn an_unknown_pattern_and_dimension_are_told() {
    let (_, problems) = load("[engine]\nname = \"x\"\npattern = \"garratt\"\n");
    assert!(problems.iter().any(|p| p.what.contains("garratt")), "{problems:#?}");
    let (_, problems) = load(
        "[engine]\nname = \"x\"\npattern = \"inside-six-coupled\"\n[dimensions]\nfunnel = \"1 ft\"\n",
    );
    assert!(problems.iter().any(|p| p.what.contains("funnel")), "{problems:#?}");
}

#[test]
fn absurd_readings_do_not_crash_the_judge() {
    let text = "feature,station,direction,reading,gauge\n\
                journal,A,0,0 mm,M8\njournal,A,90,-5 mm,M8\njournal,B,0,99999 m,M8\n\
                bore,A,0,1e-300 mm,M8\nbore,A,0,1e300 mm,M8\nbore,,,203.4 mm,\n";
    let (engine, _) = table(text.as_bytes());
    let judgement = Judgement::of(engine);
    let _ = engine::view::summary(&judgement);
    let _ = engine::repair::machine_to(&judgement);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever the bytes, every row with something in it is taken or refused.
    #[test]
    fn rows_are_taken_or_refused(bytes in proptest::collection::vec(any::<u8>(), 0..600)) {
        let mut whole = b"feature,station,direction,reading,unit,gauge\n".to_vec();
        whole.extend(bytes);
        let mut engine = small();
        let read = read_table(&mut engine, 0, whole.as_slice()).expect("its heading is good");
        prop_assert_eq!(read.rows, read.taken + read.findings + read.refused_count());
        prop_assert_eq!(read.taken as usize, engine.readings.len());
    }

    /// Cells of the right kind in any mixture.
    #[test]
    fn likely_rows_never_crash(rows in proptest::collection::vec(
        ("(journal|bore|x)", "[AB]?", "(0|90|V|-?[0-9]{1,3})?", "-?[0-9]{0,4}[.,]?[0-9]{0,4}( mm| in| thou|\")?", "(M8)?"), 0..30)) {
        let mut text = "feature;station;direction;reading;gauge\n".to_owned();
        for (f, s, d, r, g) in rows {
            text.push_str(&format!("{f};{s};{d};{r};{g}\n"));
        }
        let mut engine = small();
        let read = read_table(&mut engine, 0, text.as_bytes()).expect("its heading is good");
        prop_assert_eq!(read.rows, read.taken + read.findings + read.refused_count());
        let judgement = Judgement::of(engine);
        let _ = engine::view::summary(&judgement);
        let _ = engine::repair::machine_to(&judgement);
    }

    /// A description with any one line taken out, doubled or overwritten is read or refused, with
    /// every problem placed.
    #[test]
    fn damaged_descriptions_never_crash(at in 0usize..60, how in 0u8..4, junk in "\\PC{0,40}") {
        let mut lines: Vec<&str> = SMALL.lines().collect();
        let at = at % lines.len();
        match how {
            0 => { lines.remove(at); }
            1 => lines.insert(at, lines[at]),
            2 => lines[at] = &junk,
            _ => lines.insert(at, &junk),
        }
        let (engine, problems) = load(&lines.join("\n"));
        for p in &problems {
            prop_assert!(!p.what.is_empty());
        }
        let _ = engine::view::summary(&Judgement::of(engine));
    }
}
