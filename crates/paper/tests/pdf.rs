//! The PDFs read back by programs that are not ours, where they are installed (Debian:
//! poppler-utils): words by `pdftotext`, places of words by its boxes, pictures by `pdftoppm`, and
//! QR codes from those pictures by `rqrr`.

use engine::description::SourceText;
use engine::judge::Judgement;
use engine::model::Date;
use paper::*;
use std::path::PathBuf;
use std::process::Command;

/// Names that look like markup, commands or attacks, and names that are absurdly long.
fn nasty() -> String {
    format!(
        "#panic(\"boo\") $x^2$ *bold* </svg><script> \\u{{0041}} #{{}} {} {}",
        "very-long-name.".repeat(12),
        "n".repeat(90)
    )
}

fn poppler() -> bool {
    let there = Command::new("pdftotext").arg("-v").output().is_ok();
    if !there {
        eprintln!("NOT TESTED: pdftotext is not installed; apt-get install poppler-utils");
    }
    there
}

fn engine_of(text: &str, table: &str) -> Judgement {
    let text = SourceText { file: "engine.toml".to_owned(), text: text.to_owned() };
    let mut loaded = engine::load(vec![text], Date::parse("2026-04-01").ok());
    engine::readings::read_table(&mut loaded.engine, 1, table.as_bytes()).expect("a table");
    Judgement::of(loaded.finish().0)
}

fn small() -> Judgement {
    engine_of(include_str!("small/engine.toml"), include_str!("small/readings.csv"))
}

fn kept(set: &Rendered, name: &str) -> PathBuf {
    let file = std::env::temp_dir().join(format!("pinchbar-{}-{name}.pdf", std::process::id()));
    std::fs::write(&file, &set.pdf).expect("written");
    file
}

fn run(program: &str, args: &[&str], file: &PathBuf) -> Vec<u8> {
    let out = Command::new(program).args(args).arg(file).arg("-").output().expect("run");
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    out.stdout
}

/// The words of a PDF, when every page of it is of the size asked for and no word stands outside
/// a margin of 3 mm.
fn words_inside(set: &Rendered, name: &str, paper: PaperSize) -> String {
    let file = kept(set, name);
    let boxes = String::from_utf8(run("pdftotext", &["-bbox"], &file)).expect("utf-8");
    let text = String::from_utf8(run("pdftotext", &["-layout"], &file)).expect("utf-8");
    std::fs::remove_file(&file).expect("removed");
    assert_eq!(text.matches('\u{c}').count(), set.pages, "a form feed ends each page");
    let figure = |line: &str, name: &str| -> f64 {
        let rest = line.split_once(&format!("{name}=\"")).expect(line).1;
        rest.split_once('"').expect(line).0.parse().expect(line)
    };
    // ISO 216 and 8 1/2 by 11 in, points.
    let (short, long) = match paper {
        PaperSize::A4 => (595.3, 841.9),
        PaperSize::UsLetter => (612.0, 792.0),
    };
    let (mut width, mut height, mut pages) = (0.0, 0.0, 0);
    for line in boxes.lines() {
        if line.contains("<page ") {
            (width, height) = (figure(line, "width"), figure(line, "height"));
            let (a, b) = if width < height { (width, height) } else { (height, width) };
            assert!((a - short).abs() < 0.5 && (b - long).abs() < 0.5, "{name}: {line}");
            pages += 1;
        } else if line.contains("<word ") {
            let edge = 8.5;
            assert!(
                figure(line, "xMin") > edge
                    && figure(line, "xMax") < width - edge
                    && figure(line, "yMin") > edge
                    && figure(line, "yMax") < height - edge,
                "{name}, page {pages}: {line}"
            );
        }
    }
    assert_eq!(pages, set.pages, "{name}");
    text
}

fn both_sizes(name: &str, wanted: &[&str], set: impl Fn(&SheetOptions) -> Rendered) {
    if !poppler() {
        return;
    }
    for paper in [PaperSize::A4, PaperSize::UsLetter] {
        let options = SheetOptions { paper, ..SheetOptions::default() };
        let one = set(&options);
        assert!(one.pdf == set(&options).pdf, "{name}: the same content, other bytes");
        let text = words_inside(&one, name, paper);
        for w in wanted {
            assert!(text.contains(w), "{name}: no \"{w}\" in\n{text}");
        }
    }
}

#[test]
fn words_of_text_and_drawings_come_out_of_the_pdf() {
    if !poppler() {
        return;
    }
    let report = condition_report(&small(), &ReportOptions::default()).expect("set");
    let text = words_inside(&report, "report", PaperSize::A4);
    for wanted in [
        "Condition report",
        // An id that was broken over lines or not comes out whole, without a space in it.
        "rod.bolt-joint-3",
        "1 of ",
        // From the drawings.
        "metal inside",
        "1 ring = ",
        "journal.left, along the axis",
        "Repairs designed",
    ] {
        assert!(text.contains(wanted), "no \"{wanted}\" in\n{text}");
    }
}

#[test]
fn gauge_sheets_of_every_part_and_joint() {
    let judgement = small();
    let engine = judgement.engine();
    let joint = engine.joints[0].id.clone();
    both_sizes(
        "gauge-joint",
        &["Gauge sheet", &joint, "temperature of the part", "cracked"],
        |o| gauge_sheet(&judgement, GaugeSheetOf::Joint(&joint), o).expect("set"),
    );
    let options = SheetOptions::default();
    for part in &engine.parts {
        let any = engine.features.iter().any(|f| engine.parts[f.part.index()].id == part.id);
        match gauge_sheet(&judgement, GaugeSheetOf::Part(&part.id), &options) {
            Ok(set) => assert!(any && set.pages > 0),
            Err(PaperError::Nothing(why)) => assert!(!any, "{why}"),
            Err(other) => panic!("{other}"),
        }
    }
    for joint in &engine.joints {
        gauge_sheet(&judgement, GaugeSheetOf::Joint(&joint.id), &options).expect("set");
    }
    assert!(matches!(
        gauge_sheet(&judgement, GaugeSheetOf::Part("no such"), &options),
        Err(PaperError::Nothing(_))
    ));
}

/// A journal with many stations, and its readings.
fn long_journal(stations: usize, directions: usize) -> Judgement {
    let names: Vec<String> = (1..=stations).map(|i| format!("\"S{i}\"")).collect();
    let text = format!(
        "[engine]\nname = \"long\"\n[[gauge]]\nid = \"om\"\nkind = \"outside micrometer\"\nerror = \"0.003 mm\"\nrepeat = \"0.002 mm\"\n[[part]]\nid = \"axle\"\n[[feature]]\nid = \"axle.journal\"\npart = \"axle\"\nkind = \"journal\"\nas-made = \"200 mm\"\nstations = [{}]\n",
        names.join(", ")
    );
    let mut table = String::from("feature,station,direction,reading,unit,gauge,by,when\n");
    for s in 1..=stations {
        for d in 0..directions {
            let at = d * 180 / directions;
            table.push_str(&format!(
                "axle.journal,S{s},{at},{}.{d:02},mm,om,A,2026-03-01\n",
                199 + s % 2
            ));
        }
    }
    engine_of(&text, &table)
}

#[test]
fn five_hundred_readings_have_five_hundred_boxes() {
    let judgement = long_journal(84, 6);
    assert_eq!(judgement.engine().readings.len(), 504);
    both_sizes("gauge-long", &["S1", "S84", "504", "30°", "150°"], |o| {
        gauge_sheet(&judgement, GaugeSheetOf::Part("axle"), o).expect("set")
    });
}

/// A grey picture of a page as `pdftoppm` writes it (Netpbm P5).
struct Grey {
    width: usize,
    height: usize,
    dots: Vec<u8>,
}

fn page_picture(set: &Rendered, name: &str, dots_per_inch: &str) -> Grey {
    let file = kept(set, name);
    let out = Command::new("pdftoppm")
        .args(["-gray", "-singlefile", "-f", "1", "-r", dots_per_inch])
        .arg(&file)
        .output()
        .expect("run");
    std::fs::remove_file(&file).expect("removed");
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    let mut fields = out.stdout.splitn(4, |b| b.is_ascii_whitespace());
    assert_eq!(fields.next(), Some(&b"P5"[..]));
    let number = |field: Option<&[u8]>| -> usize {
        std::str::from_utf8(field.expect("a field")).expect("ascii").parse().expect("a number")
    };
    let (width, height) = (number(fields.next()), number(fields.next()));
    let rest = fields.next().expect("dots");
    let dots = rest[rest.len() - width * height..].to_vec();
    Grey { width, height, dots }
}

/// The code in one part of a picture, as a phone held over it would see it.
fn code_in(picture: &Grey, left: f64, top: f64, width: f64, height: f64) -> Option<String> {
    let (x0, y0) = ((left * picture.width as f64) as usize, (top * picture.height as f64) as usize);
    let (w, h) =
        ((width * picture.width as f64) as usize, (height * picture.height as f64) as usize);
    let mut image = rqrr::PreparedImage::prepare_from_greyscale(w, h, |x, y| {
        picture.dots[(y + y0) * picture.width + x + x0]
    });
    image.detect_grids().iter().find_map(|g| g.decode().ok()).map(|d| d.1)
}

fn some_tags(n: usize) -> Vec<TagWords> {
    (0..n)
        .map(|i| TagWords {
            code: format!("{i:03}K"),
            part: format!("rod.{i}"),
            name: format!("connecting rod {i}"),
            side: "left".to_owned(),
            engine: "No. 1".to_owned(),
        })
        .collect()
}

#[test]
fn tags_are_read_by_another_reader() {
    if !poppler() {
        return;
    }
    let links = Some(Links::under("https://192.168.1.20:8443"));
    for paper in [PaperSize::A4, PaperSize::UsLetter] {
        for size in TagSize::ALL {
            let (across, down) = size.on_a_sheet(paper);
            let tags = some_tags(across * down + 1);
            let options = SheetOptions { paper, links: links.clone(), ..SheetOptions::default() };
            let set = tag_sheets(&tags, size, &options).expect("set");
            assert_eq!(set.pages, 2, "{size:?}: one more than fits a sheet");
            let picture = page_picture(&set, &format!("tags-{size:?}"), "300");
            let (page_w, page_h) = match paper {
                PaperSize::A4 => (210.0, 297.0),
                PaperSize::UsLetter => (215.9, 279.4),
            };
            let (w, h) = size.size_mm();
            let left = (page_w - across as f64 * w) / 2.0;
            let top = (page_h - down as f64 * h) / 2.0;
            for (i, tag) in tags[..across * down].iter().enumerate() {
                let x = left + (i % across) as f64 * w;
                let y = top + (i / across) as f64 * h;
                let read = code_in(&picture, x / page_w, y / page_h, w / page_w, h / page_h);
                let wanted = format!("https://192.168.1.20:8443/tag/{}", tag.code);
                assert_eq!(read, Some(wanted), "{size:?} on {paper:?}, tag {i}");
            }
        }
    }
}

#[test]
fn tags_take_any_words() {
    let tag = TagWords {
        code: String::new(),
        part: nasty(),
        name: nasty(),
        side: nasty(),
        engine: nasty(),
    };
    for size in TagSize::ALL {
        both_sizes(&format!("tags-nasty-{size:?}"), &["#panic"], |o| {
            tag_sheets(std::slice::from_ref(&tag), size, o).expect("set")
        });
    }
    assert!(matches!(
        tag_sheets(&[], TagSize::Small, &SheetOptions::default()),
        Err(PaperError::Nothing(_))
    ));
}

fn card_of(text: &str) -> JobCard {
    let s = || text.to_owned();
    JobCard {
        engine: s(),
        work: s(),
        title: s(),
        when: s(),
        takes: s(),
        cautions: vec![s(), s()],
        people: vec![s()],
        kit: vec![s(), s(), s()],
        position: s(),
        first: vec![s()],
        parts: vec![CardPart { part: s(), name: s(), tag: s(), to: s() }],
        steps: vec![
            CardStep { text: s(), caution: s(), figure: s(), hold_point: String::new() },
            CardStep { text: s(), caution: String::new(), figure: String::new(), hold_point: s() },
        ],
        lifts: vec![CardLift { what: s(), mass: s(), with: s(), leg: s(), limit: s(), share: s() }],
        notes: vec![s()],
        ..JobCard::default()
    }
}

#[test]
fn cards_plans_and_lifts_take_any_words() {
    for text in ["strap off", &nasty()] {
        let start: String = text.chars().take(6).collect();
        let cards = vec![card_of(text), JobCard::default()];
        both_sizes("card", &["job card", "Lifts", "signed", "hold point", &start], |o| {
            job_cards(&cards, o).expect("set")
        });
        let work = PlanWork {
            from: "8:00".to_owned(),
            to: "9:30".to_owned(),
            work: text.to_owned(),
            people: text.to_owned(),
            kit: text.to_owned(),
            note: text.to_owned(),
        };
        let day = PlanDay {
            title: text.to_owned(),
            position: text.to_owned(),
            chart: None,
            works: vec![work; 40],
        };
        let plan = PlanSheet {
            engine: text.to_owned(),
            title: text.to_owned(),
            days: vec![day; 2],
            cautions: vec![text.to_owned()],
            ..PlanSheet::default()
        };
        both_sizes("plan", &["done, signed", "9:30", &start], |o| {
            plan_sheet(&plan, o).expect("set")
        });
        let lift = LiftSheet {
            engine: text.to_owned(),
            title: text.to_owned(),
            cautions: vec![text.to_owned()],
            tables: vec![FigureTable {
                title: text.to_owned(),
                heading: vec!["leg".to_owned(), "load".to_owned(), text.to_owned()],
                // Too short and too long a row.
                rows: vec![vec!["A".to_owned()], vec![text.to_owned(); 5]],
            }],
            ..LiftSheet::default()
        };
        both_sizes("lift", &["competent person", "load", &start], |o| {
            lift_sheet(&lift, o).expect("set")
        });
    }
    assert!(matches!(job_cards(&[], &SheetOptions::default()), Err(PaperError::Nothing(_))));
    plan_sheet(&PlanSheet::default(), &SheetOptions::default()).expect("an empty plan");
    lift_sheet(&LiftSheet::default(), &SheetOptions::default()).expect("an empty lift");
}

#[test]
fn drawings_stand_on_cards_however_large() {
    let mut svg = drawing::svg::Svg::new(2000.0, 1500.0);
    svg.text((40.0, 60.0), "a very wide drawing", drawing::svg::Lettering::new(40.0));
    let picture = svg.finish("wide", "").expect("drawn");
    let mut card = card_of("wide");
    card.position_drawing = Some(picture.clone());
    card.lift_drawing = Some(picture);
    both_sizes("card-wide", &["a very wide drawing"], |o| {
        job_cards(std::slice::from_ref(&card), o).expect("set")
    });
}

#[test]
fn repairs_of_every_joint_that_has_one() {
    let judgement = small();
    let engine = judgement.engine();
    let designs: Vec<_> = engine
        .joints
        .iter()
        .filter_map(|j| engine.joint_by_id(&j.id))
        .map(|ix| engine::design::design(&judgement, ix, &[]).expect("no line is tried"))
        .collect();
    both_sizes("repairs", &["Not considered", "gauged by, with", "What it rests on"], |o| {
        repair_sheets(&judgement, &designs, o).expect("set")
    });
    assert!(matches!(
        repair_sheets(&judgement, &[], &SheetOptions::default()),
        Err(PaperError::Nothing(_))
    ));
}

fn record_of(n: u64, text: &str) -> Record {
    Record {
        entry: EntryRef { sequence: n, hash: format!("{n:064x}") },
        day: "2026-03-02".to_owned(),
        by: text.to_owned(),
        about: text.to_owned(),
        text: text.to_owned(),
        note: text.to_owned(),
        struck: if n.is_multiple_of(2) { text.to_owned() } else { String::new() },
    }
}

fn dossier_of(text: &str, entries: u64) -> Dossier {
    let some: Vec<Record> = (1..4).map(|n| record_of(n, text)).collect();
    let head = EntryRef { sequence: entries, hash: format!("{:0>64}", "feedc0de") };
    Dossier {
        engine: text.to_owned(),
        head: head.clone(),
        people: vec![DossierPerson { name: text.to_owned(), ..DossierPerson::default() }],
        descriptions: some.clone(),
        found: some.clone(),
        readings: vec![DossierReadings {
            feature: text.to_owned(),
            sittings: vec![DossierSitting {
                words: text.to_owned(),
                readings: (0..500)
                    .map(|i| DossierReading {
                        sequence: i,
                        place: "A 45°".to_owned(),
                        text: "7 11/16 in + 23 thou".to_owned(),
                        struck: i == 3,
                    })
                    .collect(),
            }],
        }],
        decisions: vec![DossierDecision {
            record: record_of(7, text),
            make: vec![text.to_owned()],
            rests_on: (1..100)
                .map(|n| EntryRef { sequence: n, hash: format!("{n:064x}") })
                .collect(),
            replaced_by: Some(head),
        }],
        hold_points: vec![DossierHoldPoint {
            set: record_of(5, text),
            reached: Some(record_of(6, text)),
            released: None,
        }],
        work: some.clone(),
        sign_offs: some.clone(),
        concessions: some.clone(),
        past_concessions: some.clone(),
        struck: some.clone(),
        open: some,
        photographs: vec![
            DossierPhotograph {
                record: record_of(8, text),
                bytes: b"\xFF\xD8 no picture".to_vec(),
            },
            DossierPhotograph { record: record_of(9, text), bytes: Vec::new() },
        ],
        entries: (1..=entries)
            .map(|n| DossierEntry {
                entry: EntryRef { sequence: n, hash: format!("{n:064x}") },
                time: "2026-03-02T09:00:00Z".to_owned(),
                by: text.to_owned(),
                device: text.to_owned(),
                words: text.to_owned(),
                struck: n == 2,
            })
            .collect(),
        ..Dossier::default()
    }
}

#[test]
fn a_dossier_takes_any_words_and_names_its_head_on_every_page() {
    let judgement = small();
    for text in ["bent", &nasty()] {
        let d = dossier_of(text, 60);
        both_sizes(
            "dossier",
            &["Contents", "Concessions that hold", "60·00000000", "not a picture"],
            |o| dossier(Some(&judgement), &d, o).expect("set"),
        );
        if poppler() {
            let set = dossier(None, &d, &SheetOptions::default()).expect("without an engine");
            assert!(
                set.warnings.iter().any(|w| w.contains("picture of entry 8")),
                "{:?}",
                set.warnings
            );
            let words = words_inside(&set, "dossier-head", PaperSize::A4);
            for (i, page) in words.split('\u{c}').take(set.pages).enumerate() {
                assert!(page.contains(&format!("{:0>64}", "feedc0de")), "page {}", i + 1);
                assert!(page.contains(&format!("{} of {}", i + 1, set.pages)), "page {}", i + 1);
                assert!(page.contains("entry 60 is the last"), "page {}", i + 1);
            }
        }
    }
    assert!(matches!(
        dossier(None, &Dossier::default(), &SheetOptions::default()),
        Err(PaperError::Nothing(_))
    ));
}

#[test]
fn contents_lead_to_the_pages_they_name() {
    if !poppler() {
        return;
    }
    let set =
        dossier(Some(&small()), &dossier_of("bent", 900), &SheetOptions::default()).expect("set");
    let words = words_inside(&set, "dossier-contents", PaperSize::A4);
    let pages: Vec<&str> = words.split('\u{c}').collect();
    let mut led = 0;
    for line in pages[1].lines().filter(|l| l.contains(". . .")) {
        let title = line.split_once(" . ").expect(line).0.trim();
        let page: usize = line
            .rsplit(|c: char| !c.is_ascii_digit())
            .find(|n| !n.is_empty())
            .expect(line)
            .parse()
            .expect(line);
        let (number, name) = title.split_once(' ').expect(line);
        let there = pages[page - 1].lines().any(|l| {
            l.trim_start().starts_with(number) && l.contains(name.trim()) && !l.contains(". . .")
        });
        assert!(there, "\"{title}\" is not on page {page}:\n{}", pages[page - 1]);
        led += 1;
    }
    assert!(led >= 15, "{led} lines of contents");
}

#[test]
fn an_empty_engine_has_its_sheets_or_is_told_why_not() {
    let judgement = engine_of("[engine]\nname = \"empty\"", "feature,reading\n");
    both_sizes("dossier-empty", &["Appendix", "Nothing was signed off"], |o| {
        let mut d = dossier_of("x", 1);
        d.sign_offs.clear();
        dossier(Some(&judgement), &d, o).expect("set")
    });
    condition_report(&judgement, &ReportOptions::default()).expect("set");
}
