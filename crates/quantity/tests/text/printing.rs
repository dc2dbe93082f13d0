//! What is printed.

use quantity::{
    Dimension, System, Unit, nearest_fraction, print, print_both, print_difference, print_in,
    print_with_uncertainty,
};

/// JCGM 100:2008, 7.2.6: an uncertainty to two figures at most, the value to the same place.
#[test]
fn printed_figures_follow_the_uncertainty() {
    let (journal, length) = (0.207_960_4, Dimension::Length);
    for (u, metric, imperial) in [
        (None, "207.96 mm", "8.1874 in"),
        (Some(0.0), "207.96 mm", "8.1874 in"),
        (Some(6e-6), "207.960 mm", "8.1874 in"),
        (Some(1.2e-5), "207.96 mm", "8.1874 in"),
        (Some(9.6e-5), "208.0 mm", "8.187 in"),
        (Some(3e-3), "208 mm", "8.2 in"),
        (Some(3e-2), "210 mm", "8 in"),
        (Some(5.0), "0 mm", "0 in"),
        (Some(f64::NAN), "no value", "no value"),
        (Some(f64::INFINITY), "no value", "no value"),
    ] {
        assert_eq!(print(journal, length, System::Metric, u), metric, "{u:?}");
        assert_eq!(print(journal, length, System::Imperial, u), imperial, "{u:?}");
    }
    assert_eq!(print_both(journal, length, None), "207.96 mm (8.1874 in)");
    assert_eq!(print_both(1.0, Dimension::Time, None), "1 s");
    let with = |u| print_with_uncertainty(journal, length, System::Metric, u);
    assert_eq!(with(1.2e-5), "207.960 ± 0.012 mm");
    assert_eq!(with(9.96e-6), "207.960 ± 0.010 mm");
    assert_eq!(with(0.03), "208 ± 30 mm");
    assert_eq!(with(0.0), "207.96 ± 0 mm");
    assert_eq!(with(f64::NAN), "no value");
    let alpha = print_with_uncertainty(11.5e-6, Dimension::Expansion, System::Metric, 2e-7);
    assert_eq!(alpha, "(11.50 ± 0.20)e-6 /K");
    assert_eq!(print_in(1.1e6, Unit::BAR, None), "11 bar");
    assert_eq!(print_in(1.1e6, Unit::BAR, Some(1e4)), "11.0 bar");
    assert_eq!(print(11.5e-6, Dimension::Expansion, System::Metric, None), "11.5e-6 /K");
    assert_eq!(print(f64::NAN, length, System::Metric, None), "no value");
}

#[test]
fn forces_and_masses_change_unit_with_size() {
    for (si, kind, text) in [
        (999.0, Dimension::Force, "999 N (224.58 lbf)"),
        (1000.0, Dimension::Force, "1 kN (224.81 lbf)"),
        (9964.01641818352, Dimension::Force, "9.964 kN (1 tonf)"),
        (-20e3, Dimension::Force, "-20 kN (-2.0072 tonf)"),
        (999.0, Dimension::Mass, "999 kg (2202.4 lb)"),
        (1016.0469088, Dimension::Mass, "1.016 t (1 long ton)"),
    ] {
        assert_eq!(print_both(si, kind, None), text);
    }
}

#[test]
fn differences_carry_their_sign() {
    for (si, metric, imperial) in [
        (0.079e-3, "+0.079 mm", "+3.1 thou"),
        (-0.08e-3, "-0.08 mm", "-3.1 thou"),
        (0.0, "0 mm", "0 thou"),
        (-0.0, "0 mm", "0 thou"),
        (1e-9, "0 mm", "0 thou"),
        (-1e-9, "0 mm", "0 thou"),
        (f64::NAN, "no value", "no value"),
    ] {
        assert_eq!(print_difference(si, System::Metric, None), metric);
        assert_eq!(print_difference(si, System::Imperial, None), imperial);
    }
    assert_eq!(print_difference(-0.08e-3, System::Metric, Some(2e-6)), "-0.080 mm");
    assert_eq!(print_difference(-0.08e-3, System::Metric, Some(2e-3)), "0 mm");
}

#[test]
fn fractions_of_a_rule() {
    for (metres, denominator, text) in [
        (0.20796, 16, "8 3/16 in"),
        (0.20796, 64, "8 3/16 in"),
        (-0.20796, 64, "-8 3/16 in"),
        (0.0253, 16, "1 in"),
        (0.00476, 32, "3/16 in"),
        (0.0, 64, "0 in"),
        (-1e-9, 64, "0 in"),
        (0.01, 10, "2/5 in"),
        (f64::NAN, 64, "no fraction"),
        (f64::INFINITY, 64, "no fraction"),
        (1e300, 64, "no fraction"),
        (0.1, 0, "no fraction"),
    ] {
        assert_eq!(nearest_fraction(metres, denominator).to_string(), text);
    }
}
