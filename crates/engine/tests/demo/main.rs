//! The patterns and the demo engines: that they read without a fault, that everything planted in
//! them is found and named, and that what is said of an engine is true of it.
//!
//! The outside reference here is the generator (`examples/demo_readings`): it knows the true size
//! of every surface and draws gauge errors, repeatability and temperatures from what the engine
//! file says of them, without using the judging code. What the engine says from the readings is
//! compared with that truth.

#[allow(dead_code)]
#[path = "../../examples/demo_readings.rs"]
mod demo_readings;

mod changes;
mod interval;
mod patterns;
mod planted;
mod repair;

use demo_readings::shed::Taken;
use demo_readings::sheet::{Save, sheet};
use demo_readings::truth::Shape;
use demo_readings::{Demo, GOODS, NARROW, tables};
use engine::description::SourceText;
use engine::judge::Judgement;
use engine::model::{Date, Engine, FeatureIx, JointIx, Measure};
use engine::readings::read_table;
use engine::view;
use std::path::{Path, PathBuf};

fn demo_folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo")
}

fn day() -> Date {
    Date::new(2026, 11, 20).expect("a day")
}

fn own_file(demo: &Demo) -> Vec<u8> {
    std::fs::read(demo_folder().join(demo.folder).join("engine.toml")).expect("the demo is there")
}

/// A demo engine with the tables that stand beside it, in the order of their names.
fn load_demo(demo: &Demo) -> Engine {
    let folder = demo_folder().join(demo.folder);
    let source = SourceText::from_bytes("engine.toml", &own_file(demo)).expect("UTF-8");
    let mut loaded = engine::load(vec![source], Some(day()));
    let mut files: Vec<PathBuf> = std::fs::read_dir(&folder)
        .expect("the demo is there")
        .map(|entry| entry.expect("readable").path())
        .filter(|path| path.extension().is_some_and(|e| e == "csv"))
        .collect();
    files.sort();
    assert!(!files.is_empty());
    for (i, file) in files.iter().enumerate() {
        let bytes = std::fs::read(file).expect("readable");
        let read = read_table(&mut loaded.engine, i as u16 + 1, &bytes[..]).expect("a table");
        assert!(read.refused.is_empty(), "{}: {:?}", file.display(), read.refused);
        assert_eq!(read.rows, read.taken + read.findings, "{}", file.display());
    }
    let (engine, problems) = loaded.finish();
    assert!(problems.is_empty(), "{}", problems[0]);
    engine
}

fn judged(demo: &Demo) -> Judgement {
    Judgement::of(load_demo(demo))
}

/// An engine from a text alone.
fn engine_of(text: &str) -> Engine {
    let source = SourceText { file: "engine.toml".into(), text: text.into() };
    let (engine, problems) = engine::load(vec![source], Some(day())).finish();
    assert!(problems.is_empty(), "{}", problems[0]);
    engine
}

fn feature(engine: &Engine, id: &str) -> FeatureIx {
    engine.feature_by_id(id).unwrap_or_else(|| panic!("no feature {id}"))
}

fn joint(engine: &Engine, id: &str) -> JointIx {
    engine.joint_by_id(id).unwrap_or_else(|| panic!("no joint {id}"))
}

#[test]
fn the_demos_load_whole() {
    // Counts as docs/demo.md states them.
    for (demo, parts, features, joints, chains, readings) in
        [(&GOODS, 151, 378, 138, 21, 1734), (&NARROW, 77, 138, 48, 10, 684)]
    {
        let counts = view::summary(&judged(demo)).counts;
        let got = (counts.parts, counts.features, counts.joints, counts.chains, counts.readings);
        assert_eq!(got, (parts, features, joints, chains, readings), "{}", demo.folder);
        let told = counts.within + counts.near + counts.beyond;
        assert!(told * 100 > joints * 90, "{}: most joints can be told: {told}", demo.folder);
        assert!(counts.within > 8 * counts.beyond, "{}: most are within", demo.folder);
        assert_eq!(counts.no_limit, 0, "{}: every joint has a limit", demo.folder);
    }
}

#[test]
fn the_tables_are_what_the_generator_writes() {
    for demo in [GOODS, NARROW] {
        for table in tables(&demo, &own_file(&demo)).expect("it writes") {
            let path = demo_folder().join(demo.folder).join(table.file);
            let there = std::fs::read_to_string(&path).expect("readable");
            assert!(there == table.text, "{}: run the demo_readings example", path.display());
        }
    }
}

/// Writes readings down, reads them back and judges.
fn written_and_judged(engine: &Engine, rows: &[Taken], seed: u64, save: Save) -> Judgement {
    let days: Vec<Date> = (6..=25).filter_map(|d| Date::new(2026, 10, d).ok()).collect();
    let text = sheet(engine, seed, rows, &days, &["A.B."], save);
    let mut engine = engine.clone();
    let read = read_table(&mut engine, 1, text.as_bytes()).expect("a table");
    assert!(read.refused.is_empty(), "{:?}", read.refused[0]);
    assert_eq!(read.taken as usize, rows.len());
    Judgement::of(engine)
}

/// What a joint truly measures: clearance, interference or draw, metres.
fn true_measure(engine: &Engine, shapes: &[Shape], ix: JointIx) -> f64 {
    let joint = engine.joint(ix);
    let size = |f: FeatureIx| shapes[f.index()].size_m;
    let fills: f64 = joint.fills.iter().map(|f| size(*f)).sum();
    let clearance = size(joint.outer) - size(joint.inner) - fills;
    match joint.kind.measure() {
        Measure::Interference => -clearance,
        Measure::Draw => -clearance / joint.taper.unwrap_or(1.0),
        _ => clearance,
    }
}
