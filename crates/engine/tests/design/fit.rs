//! Readings against the fit that a duty names.

use super::*;
use engine::design::achieved_fit;
use engine::view::joint_view;
use mechanics::fits::Place;

const H7S6: &str = "[[duty]]\nof = \"j\"\nfit = \"60 H7/s6\"\n";

fn against(inner: &str, outer: &str, duty: &str) -> (Design, Judgement) {
    let j = judged(&pair("pressed", ("pin", inner), ("hole", outer), duty));
    let d = of(&j, "j", &[]);
    (d, j)
}

/// ISO 286-2 (read in a public copy): 60 H7 is +30/0, s6 +72/+53 um, interference 23 to 72 um.
#[test]
fn a_pressed_pair_is_judged_by_its_fit() {
    for (inner, outer, place, word) in [
        ("60.060 mm", "60.010 mm", Place::Inside, "within"),
        ("60.030 mm", "60.010 mm", Place::Above, "too loose"),
        ("60.090 mm", "60.010 mm", Place::Below, "too tight"),
    ] {
        let (d, j) = against(inner, outer, H7S6);
        let ix = j.engine().joint_by_id("j").expect("the joint");
        let fit = achieved_fit(&j, ix).expect("a fit").expect("both gauged");
        assert_eq!(fit.judged.place, place, "{inner} in {outer}");
        let Says::Words(said) = line(&d, "against the fit") else { panic!("words") };
        assert_eq!(said, word);
        // The joint's own view says the same.
        let view = joint_view(&j, ix).fit.expect("a fit");
        assert_eq!((view.verdict, view.of), (word, "interference"));
    }
    let (d, _) = against("60.060 mm", "60.010 mm", H7S6);
    let Says::Band(low, high, _) = line(&d, "interference by 60 H7/s6") else { panic!("a band") };
    assert!((low - 23e-6).abs() < 1e-9 && (high - 72e-6).abs() < 1e-9);
    let Says::One(i, _) = line(&d, "interference as gauged") else { panic!("a figure") };
    assert!((i - 50e-6).abs() < 1e-7, "{i}");
}

/// ISO 14253-1: nearer to a limit than 1.645 standard uncertainties it cannot be told. One gauge for
/// both sides, so its shared error cancels in the difference: by hand from its repeatability alone.
#[test]
fn near_a_limit_it_cannot_be_told() {
    // The gauge of these checks: own repeatability of a tenth of a micrometre a reading; 23.05 um of
    // interference is within its guard band of the least, 23 um.
    let (d, j) = against("60.03405 mm", "60.011 mm", H7S6);
    let ix = j.engine().joint_by_id("j").expect("the joint");
    let fit = achieved_fit(&j, ix).expect("a fit").expect("both gauged");
    assert_eq!(fit.judged.place, Place::CannotTell, "{:?}", fit.judged);
    let u = j.joint(ix).measure(engine::model::Measure::Interference).expect("gauged").u();
    assert!(close(fit.judged.clearance_u_m, u, 1e-6), "{} {u}", fit.judged.clearance_u_m);
    let Says::Words(said) = line(&d, "against the fit") else { panic!("words") };
    assert_eq!(said, "cannot tell");
}

/// ANSI B4.1 (read in a public copy): FN 2 at 1.5 in is 0.8 to 2.4 thou of interference. A side that
/// is not gauged is said, not judged.
#[test]
fn inch_classes_count_too() {
    let duty = "[[duty]]\nof = \"j\"\nfit = \"1.5 in FN 2\"\n";
    let (d, _) = against("1.5018 in", "1.5002 in", duty);
    let Says::Band(low, high, _) = line(&d, "interference by 1.5 in FN 2") else { panic!("band") };
    assert!((low - 0.8e-3 * INCH).abs() < 1e-9 && (high - 2.4e-3 * INCH).abs() < 1e-9);
    let (d, _) = against("1.5018 in", "1.5002 in", "[[duty]]\nof = \"j\"\nfit = \"1.5 in FN 9\"\n");
    assert!(d.absent.iter().any(|a| a.why.contains("FN 9")), "{:?}", d.absent);
}
