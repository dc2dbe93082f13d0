//! Engines to set sheets of.

use engine::description::SourceText;
use engine::judge::Judgement;
use engine::model::Date;

/// The day they are judged on.
pub(crate) const DAY: &str = "2026-04-01";

/// An engine from its file and a table of readings.
pub(crate) fn judged(toml: &str, readings: &str) -> Judgement {
    let text = SourceText { file: "engine.toml".to_owned(), text: toml.to_owned() };
    let mut loaded = engine::load(vec![text], Date::parse(DAY).ok());
    if !readings.is_empty() {
        let read = engine::readings::read_table(&mut loaded.engine, 1, readings.as_bytes());
        let read = read.expect("a table");
        assert_eq!(read.refused_count(), 0, "{:?}", read.refused);
    }
    let (engine, problems) = loaded.finish();
    assert!(problems.is_empty(), "{problems:?}");
    Judgement::of(engine)
}

/// Ten joints, invented: see `tests/small/engine.toml`.
pub(crate) fn small() -> Judgement {
    judged(
        include_str!("../../tests/small/engine.toml"),
        include_str!("../../tests/small/readings.csv"),
    )
}
