//! Words that a person reads.

use crate::judge::Why;
use mechanics::metrology::suspect::UnitSlipKind;
use quantity::{System, print_difference};

/// A sign for a verdict that does not rest on colour.
pub fn verdict_sign(word: &str) -> &'static str {
    match word {
        "beyond" => "\u{2716}", // heavy cross
        "near" => "\u{25B2}",   // triangle
        "cannot tell" => "?",
        "within" => "\u{25CF}", // dot
        _ => "\u{2013}",        // dash
    }
}

/// What looks wrong with a reading: one word for it, and a sentence.
pub fn suspicion_words(why: &Why) -> (&'static str, String) {
    let both = |m: f64| {
        format!(
            "{} ({})",
            print_difference(m, System::Metric, Some(2e-6)),
            print_difference(m, System::Imperial, Some(2e-6))
        )
    };
    match why {
        Why::Unit(slip) => {
            let words = match slip.kind {
                UnitSlipKind::InchesAsMillimetres => "inches written as millimetres".to_owned(),
                UnitSlipKind::MillimetresAsInches => "millimetres written as inches".to_owned(),
                UnitSlipKind::ThouAsHundredths => "thou written as hundredths".to_owned(),
                UnitSlipKind::HundredthsAsThou => "hundredths written as thou".to_owned(),
                UnitSlipKind::DecimalPoint { places } => {
                    format!("decimal point {} place(s) out", places.abs())
                }
                UnitSlipKind::RadiusForDiameter => "a radius written for a diameter".to_owned(),
                UnitSlipKind::DiameterForRadius => "a diameter written for a radius".to_owned(),
            };
            ("wrong unit", words)
        }
        Why::Setting(slip) => {
            ("thimble turn", format!("off by {} of {}", slip.steps, both(slip.step_m)))
        }
        Why::Digits(d) => (
            "transposed",
            format!("digits exchanged: {} would lie among its fellows", d.meant_text),
        ),
        Why::Outlier(_) => ("far off", "far from the other readings of this feature".to_owned()),
        Why::OtherSide(m) => {
            ("other side", format!("the same diameter from the other side differs by {}", both(*m)))
        }
        Why::Drift(m) => (
            "drift",
            format!(
                "readings run with the order they were taken in, by {} in all: gauge or part warming?",
                both(*m)
            ),
        ),
        Why::GaugeLapsed(due) => {
            ("gauge lapsed", format!("taken after the gauge's calibration ran out on {due}"))
        }
        Why::OutOfRange => ("range", "outside the range of the gauge named".to_owned()),
        Why::InFuture => ("date", "dated after the day of judging".to_owned()),
    }
}

/// What is said with every judgement and every list.
pub fn caution_texts() -> Vec<String> {
    [
        "Sizes are at 20 degC, from the readings and limits given; nothing else was considered: not strength, not cracks that were not looked for, not the boiler.",
        "Limits marked common practice are to be confirmed by the responsible engineer before they are worked to.",
        "Gauge again after every operation; a size on this list is not a release. The responsible engineer releases the work.",
        "Lifting, jacking, drawing by hydraulic jack, moving the engine, hot metal and lead: to the plan of a competent person, under local rules, by those licensed to where a licence is required. Scotch the wheels, and nobody in the motion when the engine is moved.",
    ]
    .map(str::to_owned)
    .to_vec()
}
