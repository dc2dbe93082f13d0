//! Ratings beside published tables.

use super::{body, near};
use mechanics::lifting::*;

const DEG: f64 = std::f64::consts::PI / 180.0;

fn straight(legs: LegCount, deg: f64) -> SlingUse {
    SlingUse::Straight { legs, angle_rad: deg * DEG }
}

/// LG-02: mode factors 1.4 / 1.0, 2.1 / 1.5, endless choke 1.6 (BS EN 13414-1:2003 Table 4, leg
/// factor K_L, verified in a copy of that table).
#[test]
fn mode_factors_of_the_standard() {
    use AngleBand::{To45, To60};
    for (legs, band, factor) in [
        (LegCount::One, To45, 1.0),
        (LegCount::Two, To45, 1.4),
        (LegCount::Two, To60, 1.0),
        (LegCount::ThreeOrFour, To45, 2.1),
        (LegCount::ThreeOrFour, To60, 1.5),
    ] {
        assert_eq!(mode_factor(legs, band), factor);
    }
    assert!(near(
        rated_mass_kg(1.0, SlingUse::EndlessChoked { choke_rad: 130.0 * DEG }).unwrap(),
        1.6,
        1e-12
    ));
    assert_eq!(AngleBand::of(45.0 * DEG).unwrap(), To45);
    assert_eq!(AngleBand::of(60.0 * DEG).unwrap(), To60);
    assert!(matches!(AngleBand::of(60.1 * DEG), Err(LiftingError::LegTooFlat { .. })));
    // The factors are statics rounded down: n cos β at the end of the band, four legs as three.
    for (legs, n) in [(LegCount::Two, 2.0), (LegCount::ThreeOrFour, 3.0)] {
        for (band, deg) in [(To45, 45.0), (To60, 60.0)] {
            let exact = n * f64::cos(deg * DEG);
            let factor = mode_factor(legs, band);
            assert!(factor <= exact + 1e-9 && factor > 0.98 * exact);
        }
    }
}

/// Rows of published tables: `(one leg, two legs to 45, to 60, three or four to 45, to 60, endless
/// choked, share by which the table's preferred numbers may differ)`.
///
/// LG-03 rope 16 mm, t (BS EN 13414-1:2003 Table 4, verified in a copy): exact.
/// LG-04 rope 10 mm, t (same table): rounded to 0.05 t in use, within 3 %.
/// LG-09 grade 8 chain 8 mm, t (EN 818-4:1996, verified in a catalogue that prints the table):
/// preferred numbers 4.25 and 3.15, within 2 %.
#[test]
fn rows_of_the_tables() {
    let rows = [
        ([3.00, 4.20, 3.00, 6.30, 4.50, 4.80], 1e-9),
        ([1.15, 1.60, 1.15, 2.40, 1.70, 1.85], 0.03),
        ([2.00, 2.80, 2.00, 4.25, 3.00, 3.15], 0.02),
    ];
    for (row, share) in rows {
        let one = row[0];
        let uses = [
            straight(LegCount::One, 0.0),
            straight(LegCount::Two, 44.0),
            straight(LegCount::Two, 59.0),
            straight(LegCount::ThreeOrFour, 44.0),
            straight(LegCount::ThreeOrFour, 59.0),
            SlingUse::EndlessChoked { choke_rad: 125.0 * DEG },
        ];
        for (used, expected) in uses.iter().zip(row) {
            let got = rated_mass_kg(one, *used).unwrap();
            assert!((got / expected - 1.0).abs() <= share, "{got} {expected}");
        }
    }
}

/// LG-06: alloy chain 1/2 in, 29 CFR 1910.184 Table N-184-1 before 2011 (from memory), and LG-10:
/// grade 80 chain 1/2 in, OSHA Guidance on Safe Sling Use, Table 1 (verified in a copy). These
/// tables use statics at 60, 45 and 30 degrees to the horizontal, rounded to 50 or 100 lb.
#[test]
fn american_chain_tables_by_statics() {
    let rows = [
        (11_250.0, [19_500.0, 15_900.0, 11_250.0], [29_000.0, 24_000.0, 17_000.0]),
        (12_000.0, [20_800.0, 17_000.0, 12_000.0], [31_200.0, f64::NAN, f64::NAN]),
    ];
    for (one, double, triple) in rows {
        for (i, deg) in [30.0_f64, 45.0, 60.0].into_iter().enumerate() {
            for (n, expected) in [(2, double[i]), (3, triple[i])] {
                if expected.is_nan() {
                    continue;
                }
                // The mass at which the legs of a real hang reach their rating.
                let radius = 2.0 * (deg * DEG).sin();
                let legs: Vec<Leg> = (0..n)
                    .map(|k| {
                        let a = std::f64::consts::TAU * f64::from(k) / f64::from(n);
                        Leg::new([radius * a.cos(), radius * a.sin(), 0.0], 2.0)
                    })
                    .collect();
                let at = hang(&body(1000.0, [0.0, 0.0, -0.3]), &legs).unwrap();
                let most = at.legs[0].tension.most_n / STANDARD_GRAVITY_M_S2;
                let rated = one / most * 1000.0;
                assert!((rated / expected - 1.0).abs() < 0.01, "{rated} {expected}");
            }
        }
    }
}

/// Choker angles of ASME B30.9 as printed in a maker's instructions (verified there): over 120
/// degrees 1.00, 90-120 0.87, 60-89 0.74, 30-59 0.62, 0-29 0.49. Choked 0.8 for chain (verified in
/// a maker's manual). Basket 2.0 / 1.4 / 1.0 (EN 1492-1, from memory). Edges 1.0 / 0.7 (verified in
/// a maker's table).
#[test]
fn choke_basket_and_edge() {
    for (deg, factor) in [
        (135.0, 1.0),
        (121.0, 1.0),
        (120.0, 0.87),
        (90.0, 0.87),
        (89.0, 0.74),
        (60.0, 0.74),
        (45.0, 0.62),
        (20.0, 0.49),
    ] {
        assert_eq!(choke_angle_factor(deg * DEG).unwrap(), factor, "{deg}");
    }
    let choked = SlingUse::Choked { legs: LegCount::One, angle_rad: 0.0, choke_rad: 130.0 * DEG };
    assert!(near(rated_mass_kg(1000.0, choked).unwrap(), 800.0, 1e-9));
    for (deg, factor) in [(0.0, 2.0), (7.0, 2.0), (30.0, 1.4), (60.0, 1.0)] {
        assert_eq!(basket_factor(deg * DEG).unwrap(), factor);
    }
    assert!(basket_factor(61.0 * DEG).is_err());
    assert_eq!(edge_factor(0.03, 0.01).unwrap(), 1.0);
    assert_eq!(edge_factor(0.015, 0.01).unwrap(), 0.7);
    assert!(edge_factor(0.005, 0.01).is_err());
}

fn gear(one_leg_kg: f64, n: usize) -> Vec<LegGear> {
    vec![LegGear { one_leg_kg, hitch: Hitch::Straight, edge: 1.0 }; n]
}

const BY: JudgeBy = JudgeBy { most_tilt_rad: 0.1, four: FourLegRule::OnThree };

/// Four legs at 45 degrees rated 1000 kg each: on three 2.1 t (EN 818-4, EN 13414-1), and on two
/// 1.4 t. In between the sheet says that two legs alone would be over.
#[test]
fn four_legs_on_three_and_on_two() {
    let corner = |x: f64, y: f64| Leg::new([x, y, 0.0], 2.0);
    let legs = [corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0)];
    let judge = |mass: f64, four| {
        let at = hang(&body(mass, [0.0, 0.0, -0.3]), &legs).unwrap();
        judge_gear(&at, &gear(1000.0, 4), &JudgeBy { four, ..BY }).unwrap()
    };
    let three = judge(2099.0, FourLegRule::OnThree);
    assert!(three.within_by_statics && three.within_by_mode);
    assert!(near(three.leg_share[0], 2099.0 / 3000.0 * 2.0_f64.sqrt(), 1e-9));
    assert!(matches!(three.findings[..], [GearFinding::OverIfOthersSlack { .. }, ..]));
    assert!(!judge(2101.0, FourLegRule::OnThree).within_by_mode);
    let two = judge(1399.0, FourLegRule::OnTwo);
    assert!(two.within_by_statics && two.within_by_mode && two.findings.is_empty());
    let over = judge(1450.0, FourLegRule::OnTwo);
    assert!(!over.within_by_statics && !over.within_by_mode);
}

fn pair(half_m: f64, length_m: f64) -> [Leg; 2] {
    [Leg::new([-half_m, 0.0, 0.0], length_m), Leg::new([half_m, 0.0, 0.0], length_m)]
}

/// Two legs at 30 degrees, rated 1000 kg each: statics allow 1732 kg, the standard 1400 kg.
#[test]
fn gear_by_statics_and_by_mode() {
    let legs = pair(0.5, 1.0);
    let judge = |mass: f64| {
        let at = hang(&body(mass, [0.0, 0.0, -0.3]), &legs).unwrap();
        judge_gear(&at, &gear(1000.0, 2), &BY).unwrap()
    };
    let good = judge(1390.0);
    assert!(good.within_by_statics && good.within_by_mode && good.findings.is_empty());
    let between = judge(1500.0);
    assert!(between.within_by_statics && !between.within_by_mode);
    assert!(matches!(between.findings[..], [GearFinding::ModeOver { .. }]));
    let over = judge(1750.0);
    assert!(!over.within_by_statics);
    assert!(near(judge(1732.0).leg_share[0], 1.0, 1e-4));
}

/// Flat, upright, uneven and tilting legs are said.
#[test]
fn what_is_said_about_a_rigging() {
    let said = |legs: &[Leg], centre: [f64; 3]| {
        let at = hang(&body(100.0, centre), legs).unwrap();
        let by = JudgeBy { most_tilt_rad: 0.05, ..BY };
        judge_gear(&at, &gear(1000.0, legs.len()), &by).unwrap()
    };
    let flat = said(&pair(0.9, 1.0), [0.0, 0.0, -0.3]);
    assert!(flat.mode_share.is_none() && !flat.within_by_statics);
    assert!(matches!(flat.findings[0], GearFinding::TooFlat { leg: 0, .. }));
    let upright = said(&pair(0.1, 1.0), [0.0, 0.0, -0.3]);
    assert!(matches!(upright.findings[0], GearFinding::TooUpright { leg: 0, .. }));
    let tilted = said(&pair(0.5, 1.0), [0.2, 0.0, -0.3]);
    assert_eq!(tilted.basis, ModeBasis::OneLegInDoubt);
    assert!(tilted.findings.iter().any(|f| matches!(f, GearFinding::Tilts { .. })));
    assert!(near(tilted.mode_share.unwrap(), 0.1, 1e-9));
    // Four corners of a long part count as alike.
    let corner = |x: f64, y: f64| Leg::new([x, y, 0.0], 1.6);
    let four = [corner(-0.9, -0.3), corner(0.9, -0.3), corner(0.9, 0.3), corner(-0.9, 0.3)];
    let four = said(&four, [0.0, 0.0, 0.1]);
    assert_eq!(four.basis, ModeBasis::AllLegs);
    assert!(four.findings.iter().any(|f| matches!(f, GearFinding::BalanceAboveEyes { .. })));
}
