//! An engine's own file, judged as far as it can be read.
#![no_main]
use engine::description::SourceText;
use engine::judge::Judgement;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    if let Ok(source) = SourceText::from_bytes("engine.toml", bytes) {
        let (engine, problems) = engine::load(vec![source], None).finish();
        for p in &problems {
            assert!(!p.what.is_empty());
        }
        let judgement = Judgement::of(engine);
        let _ = engine::view::summary(&judgement);
        let _ = engine::repair::machine_to(&judgement);
    }
});
