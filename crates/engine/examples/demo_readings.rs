//! Writes the tables of readings of the demo engines, the same to the byte every time.
//!
//! `cargo run -p engine --example demo_readings` from the top of the repository. The truth it
//! gauges (`truth.rs`) is the drawing, the tolerance and the wear; the shed (`shed.rs`) adds what
//! every reading brings: the gauge's own error, repeatability, the cold; the sheet (`sheet.rs`)
//! writes it as fitters do. What is planted is listed here and, for the reader and the tests, in
//! each demo's `planted.toml`.

#[path = "demo_readings/chance.rs"]
pub(crate) mod chance;
#[path = "demo_readings/shed.rs"]
pub(crate) mod shed;
#[path = "demo_readings/sheet.rs"]
pub(crate) mod sheet;
#[path = "demo_readings/truth.rs"]
pub(crate) mod truth;

use engine::description::SourceText;
use engine::model::{Date, Engine, FeatureIx};
use shed::{Shed, Slip, Slips, Taken};
use sheet::{Save, sheet};
use std::path::Path;
use truth::{Set, Special, truth};

/// A demo engine.
pub(crate) struct Demo {
    /// Folder in `demo`.
    pub(crate) folder: &'static str,
    seed: u64,
    special: Special,
    slips: Slips,
    /// Journals traversed with a dial, and the height of their three lobes on radius, thou.
    traversed: &'static [(&'static str, f64)],
    /// First day of gauging, and of the gauging at the last overhaul.
    began: &'static str,
    last_time: &'static str,
    people: &'static [&'static str],
    /// Features whose id begins so go to the second sheet.
    second_sheet: &'static [&'static str],
    /// Features whose id begins so were gauged at the last overhaul too.
    gauged_last_time: &'static [&'static str],
}

/// The goods engine.
pub(crate) const GOODS: Demo = Demo {
    folder: "goods",
    seed: 27,
    special: Special {
        life: &[
            ("big-end.left", 0.66),
            ("big-end.right", 0.72),
            ("axlebox.driving.right", 0.55),
            ("strap.left.2", 0.1),
            ("strap.right.1", 0.1),
        ],
        worked: &[
            ("crank-pin.left", 62.5),
            ("crank-pin.right", 62.5),
            ("journal.driving.left", 31.25),
            ("journal.driving.right", 31.25),
            ("strap.left.hole-2", 10.0),
            ("strap.right.hole-1", 20.0),
            ("strap.right.hole-2", 5.0),
            ("brass.right.fixed.height", 30.0),
            ("brass.right.moving.height", 70.0),
            ("tender-journal.2.left", 125.0),
            ("tender-journal.2.right", 125.0),
        ],
        shapes: &[
            ("journal.driving.right", Set::Oval, 16.0),
            ("big-end.left.bore", Set::Taper, 9.0),
            ("strap.left.hole-2", Set::Barrel, -3.5),
            ("strap.right.bolt-1", Set::Size, -10.0),
        ],
        packing: &[("wedge.right", 62.5)],
    },
    slips: Slips {
        gauge: &[
            ("coupling-pin.left.driving", "om-5-old"),
            ("coupling-pin.right.driving", "om-5-old"),
            ("journal.driving.left", "om-m225"),
            ("journal.driving.right", "om-m225"),
        ],
        left_out: &[
            "coupling-pin.left.leading.seat",
            "wheel.leading.left.pin-hole",
            "coupling-pin.right.leading.seat",
            "wheel.leading.right.pin-hole",
        ],
        slips: &[
            ("journal.leading.left", 5, Slip::WrongUnit),
            ("crank-pin.left", 7, Slip::ThimbleTurn),
            ("journal.trailing.right", 3, Slip::Transposed(1)),
            ("piston-rod.right.rod", 0, Slip::Drift(6.0)),
        ],
        mixed: &["piston-rod.right.rod"],
    },
    traversed: &[("journal.driving.left", 1.5), ("journal.driving.right", 1.0)],
    began: "2026-10-12",
    last_time: "2015-03-09",
    people: &["R.V.", "T.O.", "M.E.", "J.K."],
    second_sheet: &[
        "journal",
        "crown",
        "axle",
        "horn",
        "wheel",
        "tender",
        "frame",
        "coupling-pin",
        "spring",
    ],
    gauged_last_time: &[
        "journal",
        "crown",
        "crank-pin",
        "big-end",
        "coupling-pin",
        "bush",
        "eccentric",
        "cylinder",
    ],
};

pub(crate) const NARROW: Demo = Demo {
    folder: "narrow",
    seed: 4,
    special: Special {
        life: &[
            ("lever.right.upper", 0.5),
            ("axlebox.driving.left", 0.88),
            ("slide-bars.right", 0.9),
            ("big-end.left", 0.7),
        ],
        worked: &[("crank-pin.left.big-end", 20.0), ("crank-pin.right.big-end", 20.0)],
        shapes: &[],
        packing: &[],
    },
    slips: Slips {
        gauge: &[],
        // Still in the shed on the other side of the valley.
        left_out: &["valve-guide.right.bore"],
        slips: &[("journal.leading.left", 8, Slip::Decimal)],
        mixed: &[],
    },
    traversed: &[],
    began: "2026-10-19",
    last_time: "2017-01-16",
    people: &["A.D.", "S.W."],
    second_sheet: &[],
    gauged_last_time: &[],
};

fn main() -> Result<(), String> {
    for demo in [GOODS, NARROW] {
        let folder = Path::new("demo").join(demo.folder);
        let path = folder.join("engine.toml");
        let text = std::fs::read(&path).map_err(|e| format!("{}: {e}", path.display()))?;
        for table in tables(&demo, &text)? {
            let path = folder.join(table.file);
            std::fs::write(&path, &table.text).map_err(|e| format!("{}: {e}", path.display()))?;
            println!("{}: {} readings", path.display(), table.readings);
        }
    }
    Ok(())
}

/// A table of readings.
pub(crate) struct Table {
    /// Its file.
    pub(crate) file: &'static str,
    /// What is in it.
    pub(crate) text: String,
    /// How many readings.
    pub(crate) readings: usize,
}

/// The tables of a demo, from its engine file.
pub(crate) fn tables(demo: &Demo, engine_file: &[u8]) -> Result<Vec<Table>, String> {
    let source = SourceText::from_bytes("engine.toml", engine_file).map_err(|p| p.to_string())?;
    // What the file says of readings leans on the tables; only the engine is wanted here.
    let engine = engine::load(vec![source], None).engine;
    let shapes = truth(&engine, demo.seed, &demo.special);
    let days = working_days(demo.began, 25)?;
    let shed = Shed::new(&engine, demo.seed);
    let (mut first, mut second) = (Vec::new(), Vec::new());
    for (i, feature) in engine.features.iter().enumerate() {
        let Some(ix) = engine.feature_by_id(&feature.id) else { continue };
        let day = day_of(demo.seed, &engine, ix, days.len());
        let mut rows = shed.gauge(ix, &shapes[i], day, &demo.slips);
        if let Some((_, lobes)) = demo.traversed.iter().find(|(id, _)| *id == feature.id) {
            rows.extend(shed.traverse(ix, &shapes[i], day, 12, lobes * truth::THOU));
        }
        let is_second = demo.second_sheet.iter().any(|p| feature.id.starts_with(p));
        if is_second { second.extend(rows) } else { first.extend(rows) }
    }
    let mut out = Vec::new();
    let mut add = |file, mut rows: Vec<Taken>, save| {
        rows.sort_by_key(|r| r.day);
        let text = sheet(&engine, demo.seed, &rows, &days, demo.people, save);
        out.push(Table { file, text, readings: rows.len() });
    };
    if demo.second_sheet.is_empty() {
        add("readings.csv", first, Save::Plain);
    } else {
        add("readings-strip.csv", first, Save::Plain);
        add("readings-wheels.csv", second, Save::Semicolons);
    }
    if !demo.gauged_last_time.is_empty() {
        let days = working_days(demo.last_time, 15)?;
        let rows = last_time(demo, &engine, &shapes, days.len());
        let text = sheet(&engine, demo.seed + 1, &rows, &days, &["H.P.", "W.N."], Save::Plain);
        out.push(Table { file: "readings-last-time.csv", text, readings: rows.len() });
    }
    Ok(out)
}

/// The gauging at the last overhaul: other errors of the gauges, other weather, sizes before the
/// wear, two readings each.
fn last_time(demo: &Demo, engine: &Engine, shapes: &[truth::Shape], days: usize) -> Vec<Taken> {
    let seed = demo.seed + 1;
    let shed = Shed::new(engine, seed);
    let mut rows = Vec::new();
    for (i, feature) in engine.features.iter().enumerate() {
        let wanted = feature.kind.is_round()
            && demo.gauged_last_time.iter().any(|p| feature.id.starts_with(p))
            && !feature.id.ends_with(".outside");
        let Some(ix) = engine.feature_by_id(&feature.id).filter(|_| wanted) else { continue };
        let shape = truth::Shape {
            size_m: shapes[i].last_m,
            ovality_m: 0.2 * truth::THOU,
            ..truth::Shape::default()
        };
        let day = day_of(seed, engine, ix, days);
        let taken = shed.gauge(ix, &shape, day, &Slips::default());
        let middle = taken.len() / 2;
        rows.extend(taken.into_iter().skip(middle).take(2));
    }
    rows.sort_by_key(|r| r.day);
    rows
}

/// Everything on one part is gauged on one day.
fn day_of(seed: u64, engine: &Engine, ix: FeatureIx, days: usize) -> usize {
    let part = &engine.parts[engine.feature(ix).part.index()].id;
    chance::Chance::of(seed, &format!("day of {part}")).below(days)
}

/// Mondays to Fridays from a Monday on.
fn working_days(first: &str, count: usize) -> Result<Vec<Date>, String> {
    let digits: Vec<i64> = first.split('-').map(|d| d.parse().unwrap_or(0)).collect();
    let [year, month, day] = digits[..] else { return Err(format!("\"{first}\" is no day")) };
    let (mut year, mut month, mut day) = (year, month, day);
    let mut out = Vec::new();
    for n in 0.. {
        if out.len() == count {
            break;
        }
        if n % 7 < 5 {
            out.push(Date::parse(&format!("{year:04}-{month:02}-{day:02}"))?);
        }
        day += 1;
        if Date::parse(&format!("{year:04}-{month:02}-{day:02}")).is_err() {
            (day, month) = (1, month + 1);
            if month > 12 {
                (month, year) = (1, year + 1);
            }
        }
    }
    Ok(out)
}
