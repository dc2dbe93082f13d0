//! Checks of verdicts at and around the guard band.

use super::*;
use crate::metrology::budget::Dof;

fn stated(value: f64, standard_uncertainty: f64) -> Stated {
    Stated { value, standard_uncertainty, dof: Dof::Infinite }
}

const BAND: Limits = Limits { min: Some(0.0), max: Some(30.0) };

#[test]
fn guard_band_of_a_bore() {
    // Reference value UN-09: ISO 14253-1:2017 default 95 %, from memory; 1.6449 × 2 = 3.29.
    let of = |value| judge(&stated(value, 2.0), &BAND, &Rule::default()).unwrap();
    assert!((of(10.0).guard_band - 3.2897).abs() < 1e-4);
    assert_eq!(of(3.2).verdict, Verdict::CannotTell);
    assert_eq!(of(3.3).verdict, Verdict::Within);
    assert_eq!(of(26.7).verdict, Verdict::Within);
    assert_eq!(of(26.8).verdict, Verdict::CannotTell);
    assert_eq!(of(-3.2).verdict, Verdict::CannotTell);
    assert_eq!(of(-3.3).verdict, Verdict::Beyond(LimitSide::Min));
    assert_eq!(of(33.3).verdict, Verdict::Beyond(LimitSide::Max));
    assert_eq!(of(20.0).margin_to_max, Some(10.0));
}

#[test]
fn a_band_narrower_than_the_guard_bands_promise_is_not_within() {
    // Band 4 u wide, value in the middle: each one-sided band (1.645 u) is kept, but only 95.45 %
    // lies inside both; at 99 % confidence that is not enough, nor at a 3.4 u band for 95 %.
    let narrow = Limits { min: Some(0.0), max: Some(3.4) };
    let judged = judge(&stated(1.7, 1.0), &narrow, &Rule::default()).unwrap();
    assert!((judged.probability_inside - 0.9109).abs() < 1e-4);
    assert_eq!(judged.verdict, Verdict::CannotTell);
}

#[test]
fn near_is_within_with_little_left() {
    let limit = Limits { min: Some(190.0), max: None };
    let rule = NearRule { as_made: 200.0, little: 0.2 };
    let of = |value| {
        judge(&stated(value, 0.1), &limit, &Rule { near: Some(rule), ..Rule::default() }).unwrap()
    };
    assert_eq!(of(195.0).verdict, Verdict::Within);
    assert_eq!(of(191.9).verdict, Verdict::Near(LimitSide::Min));
    assert!((of(191.9).left_of_band.unwrap() - 0.19).abs() < 1e-12);
    assert_eq!(of(190.1).verdict, Verdict::CannotTell);
    let wrong = NearRule { as_made: 185.0, little: 0.2 };
    assert!(
        judge(&stated(195.0, 0.1), &limit, &Rule { near: Some(wrong), ..Rule::default() }).is_err()
    );
}

#[test]
fn no_uncertainty_means_the_limit_itself_is_within() {
    assert_eq!(judge(&stated(0.0, 0.0), &BAND, &Rule::default()).unwrap().verdict, Verdict::Within);
    let below = judge(&stated(-1e-9, 0.0), &BAND, &Rule::default()).unwrap();
    assert_eq!(below.verdict, Verdict::Beyond(LimitSide::Min));
    assert_eq!(below.probability_inside, 0.0);
}

#[test]
fn few_repeats_widen_the_guard_band() {
    // Student's t one-sided 95 % at 4 degrees of freedom is 2.132 (tables, from memory).
    let few = Stated { value: 4.0, standard_uncertainty: 2.0, dof: Dof::Finite(4.0) };
    let judged = judge(&few, &BAND, &Rule::default()).unwrap();
    assert!((judged.coverage_factor - 2.132).abs() < 5e-4);
    assert_eq!(judged.verdict, Verdict::CannotTell);
}

#[test]
fn coarsest_gauge_that_can_tell_comes_first() {
    let outlook = GaugeOutlook {
        value: 5.0,
        rest_uncertainty: 1.0,
        rest_dof: Dof::Infinite,
        limits: BAND,
        confidence: 0.95,
    };
    let gauge = |gauge, contribution| GaugeCandidate { gauge, contribution, dof: Dof::Infinite };
    // Needed: √(1 + c²) ≤ 5/1.6449 = 3.040, c ≤ 2.871.
    let found = which_gauge_could_tell(&outlook, &[gauge(0, 1.0), gauge(1, 5.0), gauge(2, 2.8)]);
    let Ok(BetterGauge::These(list)) = found else { panic!("{found:?}") };
    assert_eq!(list.iter().map(|g| g.gauge).collect::<Vec<_>>(), [2, 0]);
    assert_eq!(list[0].verdict, Verdict::Within);
    let Ok(BetterGauge::NoneOfThese { needed_contribution }) =
        which_gauge_could_tell(&outlook, &[gauge(1, 5.0)])
    else {
        panic!("expected none of these")
    };
    assert!((needed_contribution - 2.8706).abs() < 1e-3, "{needed_contribution}");
    let hopeless = GaugeOutlook { rest_uncertainty: 4.0, ..outlook };
    assert_eq!(which_gauge_could_tell(&hopeless, &[gauge(0, 0.1)]), Ok(BetterGauge::NoGauge));
}

#[test]
fn refuses_nonsense() {
    assert!(judge(&stated(1.0, -1.0), &BAND, &Rule::default()).is_err());
    assert!(judge(&stated(f64::NAN, 1.0), &BAND, &Rule::default()).is_err());
    assert!(judge(&stated(1.0, 1.0), &Limits { min: None, max: None }, &Rule::default()).is_err());
    assert!(
        judge(&stated(1.0, 1.0), &Limits { min: Some(2.0), max: Some(1.0) }, &Rule::default())
            .is_err()
    );
    assert!(judge(&stated(1.0, 1.0), &BAND, &Rule { confidence: 1.0, near: None }).is_err());
}
