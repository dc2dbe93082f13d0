//! The demo engines, inside the binary, laid out in a folder so that a person can play with them.

use crate::args::{Args, DemoEngine, Sheet};
use crate::failure::put;
use crate::failure::{DONE, Failure};
use crate::folder::{open, write_whole};
use crate::{say, verbs};
use engine::model::Date;
use std::path::Path;

type Files = &'static [(&'static str, &'static str)];

const GOODS: Files = &[
    ("engine.toml", include_str!("../../../demo/goods/engine.toml")),
    ("motion.toml", include_str!("../../../demo/goods/motion.toml")),
    ("build.toml", include_str!("../../../demo/goods/build.toml")),
    ("duty.toml", include_str!("../../../demo/goods/duty.toml")),
    ("lifts.toml", include_str!("../../../demo/goods/lifts.toml")),
    ("one-side.toml", include_str!("../../../demo/goods/one-side.toml")),
    ("works.toml", include_str!("../../../demo/goods/works.toml")),
    ("readings-last-time.csv", include_str!("../../../demo/goods/readings-last-time.csv")),
    ("readings-strip.csv", include_str!("../../../demo/goods/readings-strip.csv")),
    ("readings-wheels.csv", include_str!("../../../demo/goods/readings-wheels.csv")),
];
const NARROW: Files = &[
    ("engine.toml", include_str!("../../../demo/narrow/engine.toml")),
    ("motion.toml", include_str!("../../../demo/narrow/motion.toml")),
    ("readings.csv", include_str!("../../../demo/narrow/readings.csv")),
];

/// The day the demo is judged on, so that its calibrations do not lapse as the years pass.
const DEMO_DAY: (i16, i8, i8) = (2026, 11, 20);

/// Day of judging of the demo.
pub(crate) fn day() -> Result<Date, Failure> {
    let (year, month, day) = DEMO_DAY;
    Date::new(year, month, day).map_err(Failure::Fault)
}

/// Writes the book of the goods engine as it stands on the day of the demo: stripped and gauged.
#[cfg(feature = "bench")]
pub(crate) fn book_of_today(to: &Path) -> Result<(), Failure> {
    crate::demo_book::write(to, GOODS, Some(day()?))
}

/// Lays out a demo engine, judges it, prints the machine-to list and writes the report.
pub(crate) fn run(args: &Args, which: DemoEngine, to: &Path) -> Result<u8, Failure> {
    let (name, files) = match which {
        DemoEngine::Goods => ("goods", GOODS),
        DemoEngine::Narrow => ("narrow", NARROW),
    };
    let folder = to.join(name);
    std::fs::create_dir_all(&folder)
        .map_err(|e| Failure::Fault(format!("{} could not be made: {e}", folder.display())))?;
    for (file, text) in files {
        let path = folder.join(file);
        // A person may have played with it: what is there stays.
        if !path.exists() {
            write_whole(&path, text.as_bytes())?;
        }
    }
    let book = to.join(format!("{name}.book"));
    if which == DemoEngine::Goods && !book.exists() {
        crate::demo_book::write(&book, files, None)?;
    }
    let day = match &args.today {
        Some(text) => Date::parse(text).map_err(|e| Failure::wrong(format!("--today: {e}"), ""))?,
        None => day()?,
    };
    let (judgement, _) = verbs::judged(args, open(&folder, Some(day))?)?;
    let summary = engine::view::summary(&judgement);
    let list = engine::view::machine_to_view(&judgement, &engine::repair::machine_to(&judgement));
    let report = folder.join("condition-report.pdf");
    if args.json {
        verbs::print_json(&serde_json::json!({ "summary": summary, "machine_to": list }))?;
    } else {
        say::summary(&summary, args.units, false);
        put!();
        say::machine_to(&list, args.units);
        put!();
        verbs::write_report(args, &judgement, &report, Sheet::A4)?;
        put!(
            "the engine is in {}; next: pinchbar joint {0} JOINT, pinchbar try {0} \"close BEARING 8 thou\"",
            folder.display()
        );
        if which == DemoEngine::Goods {
            put!(
                "its book, four years of it, is {}; next: pinchbar book history {0} big-end.left (who signs there: \"{}\")",
                book.display(),
                crate::demo_book::PASSWORD
            );
        }
    }
    Ok(DONE)
}
