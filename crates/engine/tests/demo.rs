//! The patterns and the demo engines: that they read without a fault, that everything planted in
//! them is found and named, and that what is said of an engine is true of it.
//!
//! The outside reference here is the generator (`examples/demo_readings`): it knows the true size
//! of every surface and draws gauge errors, repeatability and temperatures from what the engine
//! file says of them, without using the judging code. What the engine says from the readings is
//! compared with that truth.

#[allow(dead_code)]
#[path = "../examples/demo_readings.rs"]
mod demo_readings;

use demo_readings::chance::Chance;
use demo_readings::shed::{Shed, Slips, Taken, places};
use demo_readings::sheet::{Save, sheet};
use demo_readings::truth::{Shape, Special, THOU, true_measure, truth};
use demo_readings::{Demo, GOODS, NARROW, tables};
use engine::description::SourceText;
use engine::judge::{Change, Judgement};
use engine::model::{Date, Engine, FeatureIx, JointIx, JointKind, Measure};
use engine::readings::read_table;
use engine::repair::{Trial, machine_to, parse_act};
use engine::view;
use serde::Deserialize;
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

#[derive(Deserialize)]
struct PlantedFile {
    planted: Vec<Planted>,
}

#[derive(Deserialize)]
struct Planted {
    engine: String,
    id: String,
    list: String,
    at: String,
    says: Vec<String>,
}

fn planted() -> Vec<Planted> {
    let text = std::fs::read_to_string(demo_folder().join("planted.toml")).expect("readable");
    toml::from_str::<PlantedFile>(&text).expect("TOML").planted
}

#[test]
fn everything_planted_is_found_and_named() {
    let planted = planted();
    assert!(planted.len() >= 12);
    for demo in [GOODS, NARROW] {
        let summary = serde_json::to_value(view::summary(&judged(&demo))).expect("JSON");
        for p in planted.iter().filter(|p| p.engine == demo.folder) {
            let list = summary[&p.list].as_array().unwrap_or_else(|| panic!("no {}", p.list));
            let says = |entry: &serde_json::Value| {
                let text = entry.to_string();
                let named = entry
                    .as_object()
                    .is_some_and(|o| o.values().any(|v| v.as_str() == Some(p.at.as_str())));
                // Quotation marks in `says` are JSON's own: a field and its value.
                named && p.says.iter().all(|s| text.contains(s))
            };
            let found = list.iter().filter(|e| says(e)).count();
            assert!(found >= 1, "{}: {} of {} says not {:?}", p.id, p.at, p.list, p.says);
        }
    }
}

#[test]
fn little_else_looks_suspicious() {
    let planted = planted();
    for demo in [GOODS, NARROW] {
        let summary = view::summary(&judged(&demo));
        let of_readings: Vec<&str> = planted
            .iter()
            .filter(|p| p.engine == demo.folder && p.list == "suspicious")
            .map(|p| p.at.as_str())
            .chain(["coupling-pin.left.driving"])
            .collect();
        let others: Vec<_> = summary
            .suspicious
            .iter()
            .filter(|s| !of_readings.contains(&s.feature.as_str()))
            .map(|s| (&s.feature, &s.text, &s.why))
            .collect();
        // One in some thousand readings may look odd by chance.
        assert!(others.len() <= 2, "{others:?}");
        let swaps = summary.swaps.len();
        assert_eq!(swaps, usize::from(demo.folder == "goods"), "{:?}", summary.swaps);
    }
}

/// Twenty-seven answers in millimetres, of an engine a fifth smaller.
const SMALLER: &str = r#"
[engine]
name = "smaller"
pattern = "inside-six-coupled"
[dimensions]
cylinder-bore = "380 mm"
stroke = "560 mm"
piston-width = "90 mm"
piston-clearance = "8 mm"
piston-rod = "60 mm"
slide-bars = "110 mm"
rod-centres = "1650 mm"
gudgeon-pin = "75 mm"
big-end-pin = "165 mm"
big-end-width = "95 mm"
strap-bolt = "30 mm"
driving-journal = "180 mm"
coupled-journal = "170 mm"
journal-length = "180 mm"
axlebox = "250 mm"
hubs = "1345 mm"
coupling-front = "1900 mm"
coupling-back = "2050 mm"
driving-pin = "100 mm"
end-pin = "85 mm"
wheel = "1300 mm"
eccentric = "340 mm"
motion-pin = "40 mm"
link-slot = "55 mm"
valve-spindle = "40 mm"
tender-journal = "125 mm"
tender-wheel = "1000 mm"
"#;

/// The narrow-gauge pattern answered in inches.
const LARGER: &str = r#"
[engine]
name = "larger"
pattern = "outside-four-coupled"
[dimensions]
cylinder-bore = "12 in"
stroke = "18 in"
piston-width = "4 in"
piston-rod = "2 1/4 in"
rod-centres = "5 ft 0 in"
big-end-pin = "4 in"
journal = "5 1/4 in"
wheelbase = "5 ft 3 in"
coupling-pin = "3 1/2 in"
wheel = "2 ft 9 in"
"#;

/// All readings of an engine, taken of a truth in one shed.
fn gauged(engine: &Engine, shapes: &[Shape], seed: u64) -> Vec<Taken> {
    let shed = Shed::new(engine, seed);
    (0..engine.features.len())
        .flat_map(|i| {
            let ix = feature(engine, &engine.features[i].id);
            shed.gauge(ix, &shapes[i], i % 20, &Slips::default())
        })
        .collect()
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

#[test]
fn another_engine_of_the_same_pattern_is_judged_as_it_is() {
    for (text, save) in [(SMALLER, Save::Plain), (LARGER, Save::Semicolons)] {
        let engine = engine_of(text);
        let shapes = truth(&engine, 5, &Special::default());
        let rows = gauged(&engine, &shapes, 6);
        let judgement = written_and_judged(&engine, &rows, 7, save);
        let (mut far, mut told, mut sum) = (0, 0, 0.0);
        for (i, state) in judgement.joints().iter().enumerate() {
            let ix = joint(&engine, &engine.joints[i].id);
            let kind = engine.joint(ix).kind;
            let split = !engine.feature(engine.joint(ix).outer).halves.is_empty();
            if kind == JointKind::Wedged || split {
                continue;
            }
            let estimate = state.measure(kind.measure());
            let estimate = estimate.unwrap_or_else(|| panic!("{} is gauged", engine.joint(ix).id));
            let off = (estimate.si() - true_measure(&engine, &shapes, ix)) / estimate.u();
            told += 1;
            sum += off * off;
            far += usize::from(off.abs() > 3.0);
        }
        // Beyond three standard uncertainties lies 0.3 % of a normal; the joints share gauges, so
        // that a few may go together. The mean square would be 1 with uncertainties just right.
        assert!(told > 40 && far * 100 <= 2 * told, "{far} of {told} beyond 3 u");
        let mean_square = sum / told as f64;
        assert!((0.4..1.8).contains(&mean_square), "mean square {mean_square}");
        // The pattern's own chains close: sizes as made give what was asked for.
        for id in ["clearance.left.front", "clearance.right.back"] {
            let chain = judgement.chain(engine.chain_by_id(id).expect("a chain"));
            let asked = if text == SMALLER { 8e-3 } else { 7e-3 };
            let made = chain.as_made_si.expect("sizes as made");
            assert!((made - asked).abs() < 1e-6, "{id}: {made}");
        }
    }
}

#[test]
fn unanswered_questions_take_what_is_suggested() {
    for id in engine::pattern::Pattern::built_in() {
        let engine = engine_of(&format!("[engine]\nname = \"x\"\npattern = \"{id}\"\n"));
        for chain in &engine.chains {
            let made: f64 = chain
                .terms
                .iter()
                .map(|(factor, f)| {
                    factor * engine.feature(*f).as_made.as_ref().map_or(f64::NAN, |q| q.si())
                })
                .sum();
            if let Some(wanted) = &chain.as_made {
                assert!((made - wanted.si()).abs() < 1e-6, "{id} {}: {made}", chain.id);
            }
            let inside = chain.limits.iter().all(|l| {
                l.min_si().is_none_or(|m| made >= m) && l.max_si().is_none_or(|m| made <= m)
            });
            assert!(inside, "{id}: chain {} as made is outside its own limits: {made}", chain.id);
        }
        for joint in &engine.joints {
            // Sizes as made must suit the limits for putting back, or the pattern is at odds
            // with itself.
            let made = |f: FeatureIx| engine.feature(f).as_made.as_ref().map_or(0.0, |q| q.si());
            let fills: f64 = joint.fills.iter().map(|f| made(*f)).sum();
            let clearance = made(joint.outer) - made(joint.inner) - fills;
            let value = match joint.kind.measure() {
                Measure::Clearance => clearance,
                Measure::Interference => -clearance,
                Measure::Draw => -clearance / joint.taper.unwrap_or(1.0),
                _ => continue,
            };
            for l in joint.limits.iter().filter(|l| l.measure == joint.kind.measure()) {
                let inside = l.min_si().is_none_or(|m| value >= m - 1e-9)
                    && l.max_si().is_none_or(|m| value <= m + 1e-9);
                assert!(inside, "{id}: {} {} as made is {value}", joint.id, l.when);
            }
        }
    }
}

#[test]
fn every_limit_of_a_pattern_says_where_it_comes_from() {
    for id in engine::pattern::Pattern::built_in() {
        let engine = engine_of(&format!("[engine]\nname = \"x\"\npattern = \"{id}\"\n"));
        let limits = engine
            .features
            .iter()
            .flat_map(|f| &f.limits)
            .chain(engine.joints.iter().flat_map(|j| &j.limits))
            .chain(engine.chains.iter().flat_map(|c| &c.limits));
        let mut count = 0;
        for limit in limits {
            count += 1;
            assert_eq!(limit.source.word(), "common practice");
            let note = limit.note.strip_prefix("to be confirmed by the responsible engineer: ");
            assert!(note.is_some_and(|n| !n.is_empty()), "{:?}", limit.note);
        }
        assert!(count > 100, "{id}: {count}");
    }
}

/// Everything judged, state by state, to the last bit of every figure.
#[derive(PartialEq)]
struct States {
    features: Vec<String>,
    joints: Vec<String>,
    chains: Vec<String>,
    swaps: String,
}

fn states(judgement: &Judgement) -> States {
    fn all<T: std::fmt::Debug>(list: &[T]) -> Vec<String> {
        list.iter().map(|x| format!("{x:?}")).collect()
    }
    States {
        features: all(judgement.features()),
        joints: all(judgement.joints()),
        chains: all(judgement.chains()),
        swaps: format!("{:?}", judgement.swaps()),
    }
}

#[test]
fn the_same_readings_give_the_same_judgement() {
    for demo in [GOODS, NARROW] {
        let (a, b) = (judged(&demo), judged(&demo));
        assert!(states(&a) == states(&b), "{}", demo.folder);
        let list = |j: &Judgement| format!("{:?}", machine_to(j));
        assert!(list(&a) == list(&b), "{}", demo.folder);
        let shown = |j: &Judgement| serde_json::to_string(&view::summary(j)).expect("JSON");
        assert!(shown(&a) == shown(&b), "{}", demo.folder);
    }
}

#[test]
fn a_change_reaches_what_depends_on_it_and_nothing_else() {
    let mut judgement = judged(&GOODS);
    let mut chance = Chance::of(11, "changes");
    let mut reached_by_repeats = 0;
    for round in 0..120 {
        let before = states(&judgement);
        let at = chance.below(judgement.engine().readings.len());
        let mut reading = judgement.engine().readings[at].clone();
        let changed = reading.feature;
        let change = match chance.below(4) {
            0 => Change::StrikeOut(at as u32),
            // The same place again: a repeat, which changes what is known of its gauge.
            1 => {
                reading.si += chance.normal(3e-6);
                Change::Add(reading)
            }
            2 => {
                reading.si += chance.normal(2e-4);
                Change::Correct(at as u32, reading)
            }
            _ => {
                reading.si *= 25.4;
                Change::Correct(at as u32, reading)
            }
        };
        let rejudged = judgement.change(change).expect("the reading is there");
        let after = states(&judgement);
        let afresh = states(&Judgement::of(judgement.engine().clone()));
        assert!(after == afresh, "round {round}: not the same as judged afresh");

        assert!(rejudged.features.contains(&changed));
        reached_by_repeats += usize::from(rejudged.features.len() > 1);
        let moved = |a: &[String], b: &[String]| -> Vec<usize> {
            (0..a.len()).filter(|i| a[*i] != b[*i]).collect()
        };
        for i in moved(&before.features, &after.features) {
            let listed = rejudged.features.iter().any(|f| f.index() == i);
            assert!(listed, "round {round}: feature {i} changed and is not listed");
            // Another feature changes only because it was read with the same gauge.
            let shares_a_gauge = before.features[i] == before.features[changed.index()] || {
                let gauges = |f: usize| {
                    judgement
                        .engine()
                        .readings
                        .iter()
                        .filter(|r| r.feature.index() == f)
                        .filter_map(|r| r.gauge)
                        .collect::<Vec<_>>()
                };
                gauges(i).iter().any(|g| gauges(changed.index()).contains(g))
            };
            assert!(shares_a_gauge, "round {round}: feature {i}");
        }
        for i in moved(&before.joints, &after.joints) {
            assert!(rejudged.joints.iter().any(|j| j.index() == i), "round {round}: joint {i}");
        }
        for i in moved(&before.chains, &after.chains) {
            assert!(rejudged.chains.iter().any(|c| c.index() == i), "round {round}: chain {i}");
        }
        for j in &rejudged.joints {
            let touches = rejudged
                .features
                .iter()
                .any(|f| judgement.engine().feature(*f).in_joints.contains(j));
            assert!(touches, "round {round}: a joint judged again for nothing");
        }
        if rejudged.features.len() == 1 {
            assert!(rejudged.joints.len() < 10, "one journal is not the whole engine");
        }
    }
    assert!(reached_by_repeats > 0, "some repeat must have moved a gauge's repeatability");
}

#[test]
fn options_are_in_order() {
    for demo in [GOODS, NARROW] {
        let judgement = judged(&demo);
        for i in 0..judgement.engine().joints.len() {
            let id = judgement.engine().joints[i].id.clone();
            let ix = joint(judgement.engine(), &id);
            let options = view::option_views(&judgement, ix);
            assert!(!options.is_empty(), "{id}");
            let recommended = options.iter().filter(|o| o.recommended).count();
            assert!(recommended <= 1, "{id}");
            for o in &options {
                assert!(o.probability.is_none_or(|p| (0.0..=1.0).contains(&p)), "{id}: {o:?}");
                assert!(!o.recommended || (o.can_be_done && o.against.is_empty()), "{id}: {o:?}");
                assert!(o.can_be_done || !o.against.is_empty(), "{id}: says no reason: {o:?}");
                for t in &o.targets {
                    assert!(t.to.si > 0.0 && t.tolerance.si > 0.0, "{id}: {t:?}");
                }
                // What is recommended brings the joint inside its limits more likely than not.
                if o.recommended {
                    assert!(o.probability.is_none_or(|p| p >= 0.9), "{id}: {o:?}");
                }
            }
        }
        // Whatever is beyond has a way out, or the list says why not.
        let list = view::machine_to_view(&judgement, &machine_to(&judgement));
        for line in view::summary(&judgement).joints.iter().filter(|l| l.verdict == "beyond") {
            let listed = list.lines.iter().any(|l| l.joint == line.id)
                || list.open.iter().any(|o| o.joint == line.id && !o.why.is_empty());
            assert!(listed, "{} is beyond and on no list", line.id);
        }
    }
}

/// How far a joint's or a chain's measure moves in a trial, thou.
fn moves_thou(judgement: &Judgement, act: &str) -> impl Fn(&str) -> f64 {
    let mut trial = Trial::default();
    let act = parse_act(judgement, act).unwrap_or_else(|e| panic!("{e}"));
    act.lay_on(judgement, &mut trial).unwrap_or_else(|e| panic!("{e}"));
    let view = view::trial_view(judgement, &[], &trial.run(judgement));
    move |id: &str| {
        let all = view.joints.iter().chain(&view.chains);
        let effect = all.filter(|e| e.id == id).next().unwrap_or_else(|| panic!("{id} stays"));
        effect.moves.as_ref().unwrap_or_else(|| panic!("{id}: no figure")).si / THOU
    }
}

#[test]
fn closing_the_brasses_moves_what_it_must() {
    // By hand. Eight thou off the joint faces together is four off each brass. The bore is eight
    // smaller along the rod, so the clearance is eight less. The brasses fill eight thou less of
    // the slot: the wedge, 1 in 10, comes in 80 thou and gives up eight of its take-up.
    //
    // Goods: the fixed brass lies against the crown of the strap, R = X - l - h1. h1 loses four, the
    // rod is four longer, the piston four nearer the front cover and four farther from the back.
    let goods = judged(&GOODS);
    let moved = moves_thou(&goods, "close big-end.left.bore 8 thou");
    for (id, by) in [
        ("big-end.left", -8.0),
        ("wedge.left", -8.0),
        ("rod-centres.left", 4.0),
        ("clearance.left.front", -4.0),
        ("clearance.left.back", 4.0),
    ] {
        assert!((moved(id) - by).abs() < 1e-6, "{id}: {} thou, by hand {by}", moved(id));
    }
    // Narrow: the fixed brass lies against the butt, R = X + l + h1: everything but the clearance and
    // the wedge goes the other way.
    let narrow = judged(&NARROW);
    let moved = moves_thou(&narrow, "close big-end.right 8 thou");
    for (id, by) in [
        ("big-end.right", -8.0),
        ("wedge.right", -8.0),
        ("rod-centres.right", -4.0),
        ("clearance.right.front", 4.0),
        ("clearance.right.back", -4.0),
    ] {
        assert!((moved(id) - by).abs() < 1e-6, "{id}: {} thou, by hand {by}", moved(id));
    }
    // A liner of 1/16 in behind the wedge: it goes out and has 62.5 thou more to take up.
    let moved = moves_thou(&goods, "line wedge.left 1/16 in");
    assert!((moved("wedge.left") - 62.5).abs() < 1e-6, "{}", moved("wedge.left"));
    // A liner 20 thou thicker behind the fixed brass of the goods engine: the brass stands 20 thou
    // nearer the gudgeon, and the wedge goes out.
    let thickness = goods.feature(feature(goods.engine(), "liner.left.thickness"));
    let now_m = thickness.size.as_ref().expect("gauged").si();
    let act = format!("make liner.left.thickness {:.9} mm", (now_m + 20.0 * THOU) * 1e3);
    let moved = moves_thou(&goods, &act);
    for (id, by) in
        [("rod-centres.left", -20.0), ("clearance.left.front", 20.0), ("wedge.left", 20.0)]
    {
        assert!((moved(id) - by).abs() < 1e-3, "{id}: {} thou, by hand {by}", moved(id));
    }
}

#[test]
fn worn_parts_and_wedges_are_no_slips() {
    // A tyre worn to half its thickness, a brake block likewise, and a wedge that stands at half
    // of what the drawing shows are honest readings: only round things have a radius.
    let text = format!(
        "{SMALLER}\n{}{}{}",
        "[[reading]]\nfeature = \"wheel.leading.left.tyre\"\nvalue = \"1 1/2 in\"\ngauge = \"om-2\"\n",
        "[[reading]]\nfeature = \"brake.leading.left.block\"\nvalue = \"1.125 in\"\ngauge = \"om-2\"\n",
        "[[reading]]\nfeature = \"wedge.left.stand\"\nvalue = \"3/4 in\"\ngauge = \"rule\"\n",
    );
    let judgement = Judgement::of(engine_of(&text));
    let suspicious = view::summary(&judgement).suspicious;
    assert!(suspicious.is_empty(), "{suspicious:?}");
    // A journal read as its radius still is one.
    let text = format!(
        "{SMALLER}\n[[reading]]\nfeature = \"journal.driving.left\"\nvalue = \"90 mm\"\ngauge = \"om-4\"\n"
    );
    let suspicious = view::summary(&Judgement::of(engine_of(&text))).suspicious;
    assert!(suspicious.iter().any(|s| s.why.contains("radius")), "{suspicious:?}");
}

#[test]
fn the_true_clearance_lies_in_the_interval_as_often_as_it_says() {
    // JCGM 100:2008, 6.2: an interval at 95 % holds the true value 95 times in a hundred. Five
    // hundred engines are made, each with its own truth, its own gauge errors within their limits
    // (even over them), repeatability, expansions, thermometer and cold; their readings are
    // written down as text, rounded, read back and judged. The share of 500 has a standard
    // deviation of 1 %, so 92 to 98.2 % is three of them, with room on the upper side because an
    // even error has no tails.
    let demo_text = String::from_utf8(own_file(&GOODS)).expect("UTF-8");
    let engine = engine_of(demo_text.split("[[reading]]").next().expect("a text"));
    for id in ["axlebox.driving.left", "slide-bars.left"] {
        let ix = joint(&engine, id);
        let (inner, outer) = (engine.joint(ix).inner, engine.joint(ix).outer);
        let trials = 500;
        let mut held = 0;
        let mut u_sum = 0.0;
        let mut square = 0.0;
        for seed in 1000..1000 + trials {
            let shapes = truth(&engine, seed, &Special::default());
            let shed = Shed::new(&engine, seed);
            let mut rows = Vec::new();
            for (f, day) in [(inner, seed as usize % 20), (outer, (seed as usize + 7) % 20)] {
                let taken = shed.gauge(f, &shapes[f.index()], day, &Slips::default());
                assert_eq!(taken.len(), places(&engine, f).len());
                rows.extend(taken);
            }
            let judgement = written_and_judged(&engine, &rows, seed, Save::Plain);
            let shown = view::joint_view(&judgement, ix);
            let figure = &shown.measures.first().expect("gauged").figure;
            assert!(shown.degrees_of_freedom.is_none(), "no repeats: 1.96 is the factor");
            let u = figure.u_si.expect("an uncertainty");
            let off = figure.si - true_measure(&engine, &shapes, ix);
            held += usize::from(off.abs() <= 1.96 * u);
            u_sum += u;
            square += off * off;
        }
        let share = held as f64 / trials as f64;
        let (mean_u, spread) = (u_sum / trials as f64, (square / trials as f64).sqrt());
        println!("{id}: {share} held; u {:.1} um, spread {:.1} um", mean_u * 1e6, spread * 1e6);
        assert!((0.92..=0.982).contains(&share), "{id}: {share} of the intervals hold the truth");
        // And the uncertainty is of the size of the errors that were made, not merely large enough.
        assert!((0.8..1.25).contains(&(mean_u / spread)), "{id}: u {mean_u}, spread {spread}");
    }
}
