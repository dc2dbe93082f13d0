//! What holds for any text and any value.

use proptest::prelude::*;
use quantity::{
    Dimension, Quantity, System, Taper, Unit, nearest_fraction, print, print_difference, print_in,
    print_with_uncertainty,
};

use crate::read;

/// A way of writing a length and its parts.
fn written_length() -> impl Strategy<Value = (String, f64)> {
    let fraction =
        (0_u32..=20, 0_u32..=6, any::<u32>(), 0_usize..4).prop_map(|(whole, k, n, way)| {
            let denominator = 1 << k;
            let numerator = n % denominator;
            let inches = f64::from(whole) + f64::from(numerator) / f64::from(denominator);
            let text = match way {
                0 => format!("{whole} {numerator}/{denominator}\""),
                1 => format!("{whole}-{numerator}/{denominator} in"),
                2 => format!("{whole}\u{a0}{numerator}⁄{denominator}″"),
                _ => format!(" {whole} {numerator}/{denominator} inches "),
            };
            (text, inches * 0.0254)
        });
    let decimal = (0_u32..100_000, 0_usize..4).prop_map(|(n, decimals)| {
        let value = f64::from(n) / 10_f64.powi(decimals as i32);
        (format!("{value:.decimals$} mm"), value / 1000.0)
    });
    prop_oneof![fraction, decimal]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: ProptestConfig::default().cases.max(2000), ..ProptestConfig::default() })]

    #[test]
    fn no_text_makes_it_panic(text in prop_oneof![any::<String>(), "\\PC*", "[0-9 ./,eE+-]{0,20}\\PC{0,6}"]) {
        let _ = Quantity::parse(&text).map_err(|e| (e.caret(), e.to_string()));
        let _ = Quantity::parse_in(&text, Unit::INCH).map_err(|e| e.caret());
        let _ = Quantity::parse_decimal_comma(&text, None).map_err(|e| e.caret());
        let _ = Taper::parse(&text).map_err(|e| (e.caret(), e.to_string()));
        let _ = Unit::find(&text);
    }

    #[test]
    fn no_mixture_of_pieces_makes_it_panic(
        pieces in prop::collection::vec(prop::sample::select(vec![
            "8", "0", "3/16", "1/", "/", "½", "⅓", ".", ",", "-", "–", "−", "+", "±", " ", "\u{a0}",
            "e", "e-5", "e999", "x10^", "×10⁻⁶", "10", "in", "\"", "'", "′", "ft", "thou", "mm", "µm",
            "ton", "tonf", "cwt", "deg", "min", "°", "C", "degC", "/K", "per", "in2", "²", "to the",
            ":", "99999999999999999999", "000000000000000000000", "\n", "\u{feff}", "🚂",
        ]), 0..12),
    ) {
        let text = pieces.concat();
        for result in [
            Quantity::parse(&text),
            Quantity::parse_as(&text, Dimension::Length),
            Quantity::parse_in(&text, Unit::MILLIMETRE),
            Quantity::parse_decimal_comma(&text, Some(Unit::FOOT)),
        ] {
            match result {
                Ok(q) => {
                    prop_assert_eq!(q.text(), &text);
                    prop_assert!(q.si().is_finite() && q.magnitude().is_finite());
                    prop_assert!(q.resolution_si() > 0.0 && q.resolution_si().is_finite());
                }
                Err(e) => {
                    prop_assert!(e.at() <= text.chars().count());
                    prop_assert_eq!(e.text(), &text);
                    prop_assert_eq!(e.caret().lines().count(), 2);
                    prop_assert_eq!(e.to_string().lines().count(), 1);
                }
            }
        }
        let _ = Taper::parse(&text).map_err(|e| (e.caret(), e.to_string()));
    }

    #[test]
    fn a_written_length_is_read_and_kept((text, metres) in written_length()) {
        let q = read(&text);
        prop_assert_eq!(q.text(), &text);
        prop_assert!((q.si() - metres).abs() <= 1e-15 * metres.max(1.0));
        prop_assert!((q.unit().to_si(q.magnitude()) - q.si()).abs() <= 1e-15 * metres.max(1.0));
    }

    /// Printed with an uncertainty and read again, a value comes back within half of the last
    /// figure printed.
    #[test]
    fn printed_is_read_back_within_half_the_last_figure(
        unit in prop::sample::select(Unit::all().to_vec()),
        mantissa in -9.999_f64..9.999, exponent in -8_i32..9,
        u_mantissa in 1.0_f64..9.99, u_exponent in -9_i32..9,
    ) {
        let u = u_mantissa * 10_f64.powi(u_exponent);
        let mut value = mantissa * 10_f64.powi(exponent);
        if unit.dimension() == Dimension::Temperature {
            // rounding must not carry it below absolute zero, which is refused
            value = value.abs() + 10.0 * u;
        }
        let si = unit.to_si(value);
        let printed = print_in(si, unit, Some(u * unit.factor()));
        let read = Quantity::parse_as(&printed, unit.dimension())
            .map_err(|e| TestCaseError::fail(format!("{printed}: {e}")))?;
        prop_assert_eq!(read.unit(), unit);
        // the last figure stands in the place of the first figure of u: at most u rounded up to
        // a power of ten when its one figure rounds to 10
        let place = 10_f64.powi(u_exponent + i32::from(u_mantissa >= 9.5));
        let noise = 1e-14 * (si.abs() + unit.offset());
        prop_assert!((read.si() - si).abs() <= 0.5001 * place * unit.factor() + noise,
            "{printed} for {si:e}");
    }

    /// Without an uncertainty five figures come back.
    #[test]
    fn printed_without_uncertainty_keeps_five_figures(
        kind in prop::sample::select(Dimension::ALL.to_vec()),
        system in prop::sample::select(vec![System::Metric, System::Imperial]),
        mantissa in 1.0_f64..10.0, exponent in -9_i32..9,
    ) {
        let si = mantissa * 10_f64.powi(exponent);
        let printed = print(si, kind, system, None);
        let read = Quantity::parse_as(&printed, kind)
            .map_err(|e| TestCaseError::fail(format!("{printed}: {e}")))?;
        let scale = si.abs() + read.unit().offset();
        prop_assert!((read.si() - si).abs() <= 0.5001e-4 * scale, "{printed} for {si:e}");
    }

    /// Any bit pattern at all prints something, on one line.
    #[test]
    fn no_number_makes_printing_panic(
        si in prop::num::f64::ANY, u in prop::option::of(prop::num::f64::ANY), denominator in any::<u32>(),
        kind in prop::sample::select(Dimension::ALL.to_vec()),
        unit in prop::sample::select(Unit::all().to_vec()),
    ) {
        for text in [
            print(si, kind, System::Metric, u),
            print(si, kind, System::Imperial, u),
            print_in(si, unit, u),
            print_with_uncertainty(si, kind, System::Metric, u.unwrap_or(0.0)),
            print_difference(si, System::Imperial, u),
            nearest_fraction(si, denominator).to_string(),
        ] {
            prop_assert!(!text.is_empty() && !text.contains("NaN") && !text.contains("inf"), "{text}");
            prop_assert!(text.chars().count() < 120, "{text}");
        }
    }

    #[test]
    fn the_nearest_fraction_is_within_half_a_part(metres in -10.0_f64..10.0, k in 0_u32..=6) {
        let denominator = 1 << k;
        let fraction = nearest_fraction(metres, denominator);
        prop_assert!(fraction.error_m.abs() <= 0.0254 / f64::from(denominator) / 2.0 + 1e-15);
        let read = read(&fraction.to_string());
        prop_assert!((read.si() - (metres + fraction.error_m)).abs() < 1e-14);
        prop_assert_eq!(denominator % fraction.denominator, 0);
        prop_assert!(fraction.numerator < fraction.denominator || fraction.numerator == 0);
    }
}
