//! A pattern, filled in with what it suggests.
#![no_main]
use engine::pattern::Pattern;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    if let Ok(pattern) = Pattern::parse("fuzz", text) {
        let _ = pattern.expand(&Default::default());
    }
});
