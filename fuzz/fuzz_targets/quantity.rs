//! Sizes and tapers as people write them.
#![no_main]
use libfuzzer_sys::fuzz_target;
use quantity::{Quantity, Taper, Unit};

fuzz_target!(|text: &str| {
    if let Ok(q) = Quantity::parse(text) {
        assert!(q.si().is_finite());
        assert_eq!(q.text(), text);
    }
    if let Err(e) = Quantity::parse_decimal_comma(text, Unit::find("mm")) {
        assert!(!e.caret().is_empty());
    }
    if let Some(unit) = Unit::find("in") {
        let _ = Quantity::parse_in(text, unit);
    }
    let _ = Taper::parse(text);
});
