//! A table of readings: every row with something in it is taken or refused.
#![no_main]
use engine::description::SourceText;
use engine::readings::read_table;
use libfuzzer_sys::fuzz_target;

const ENGINE: &str = "[engine]\nname = \"x\"\n[[gauge]]\nid = \"M\"\nerror = \"1 thou\"\n[[part]]\nid = \"p\"\n[[feature]]\nid = \"j\"\npart = \"p\"\nkind = \"journal\"\nas-made = \"8 in\"\nstations = [\"A\", \"B\"]\n";

fuzz_target!(|bytes: &[u8]| {
    let source = SourceText { file: "engine.toml".into(), text: ENGINE.into() };
    let mut loaded = engine::load(vec![source], None);
    if let Ok(read) = read_table(&mut loaded.engine, 0, bytes) {
        assert_eq!(read.rows, read.taken + read.findings + read.refused_count());
        let judgement = engine::judge::Judgement::of(loaded.finish().0);
        let _ = engine::view::summary(&judgement);
    }
});
