//! Jacks, slopes and drawing.

use super::{body, near, weight};
use mechanics::lifting::*;
use mechanics::wedge::{Friction, Spread};
use proptest::prelude::*;

fn jack(x: f64, y: f64) -> Support {
    let kind = SupportKind::Jack { rated_kg: 20_000.0, side_share: 0.05 };
    Support { at_m: [x, y], kind, packing: None }
}

fn on_jacks(centre: [f64; 3], places: &[[f64; 2]]) -> Jacking {
    Jacking {
        body: body(30_000.0, centre),
        supports: places.iter().map(|p| jack(p[0], p[1])).collect(),
        heads_m: 0.0,
        side_n: 0.0,
        side_above_heads_m: 1.0,
        grade_rad: 0.0,
        heads: Friction::new(0.1, 0.2, 0.3).unwrap(),
    }
}

const CORNERS: [[f64; 2]; 4] = [[-2.0, -0.8], [2.0, -0.8], [2.0, 0.8], [-2.0, 0.8]];

/// Four jacks round the middle: a quarter each, or half on two of them when two stand low; LS-05:
/// 30 t, 1.05 m of 2.4 m from the first pair: 16.875 and 13.125 t on the pairs (statics).
#[test]
fn load_on_four_jacks() {
    let loads = jack_loads(&on_jacks([0.0, 0.0, 1.0], &CORNERS)).unwrap();
    for load in &loads.loads {
        assert!(near(load.even_n, weight(7500.0), 1e-3));
        assert!(near(load.most_n, weight(15_000.0), 1e-3) && near(load.least_n, 0.0, 1e-3));
    }
    assert!(near(loads.margin_m, 0.8, 1e-12));
    assert!(near(loads.tip_rad, 0.8_f64.atan(), 1e-12));
    assert!(near(loads.tip_n, weight(30_000.0) * 0.8, 1e-3));
    assert!(loads.findings.iter().all(|f| matches!(f, JackFinding::MayStandFree { .. })));
    let places = [[0.0, -0.5], [0.0, 0.5], [2.4, -0.5], [2.4, 0.5]];
    let loads = jack_loads(&on_jacks([1.05, 0.0, 1.0], &places)).unwrap().loads;
    assert!(near(loads[0].even_n + loads[1].even_n, weight(16_875.0), 1e-3));
    assert!(near(loads[2].even_n + loads[3].even_n, weight(13_125.0), 1e-3));
}

/// Side force and slope eat the margin; a steep side force slides the load off before it tips.
#[test]
fn stability_on_jacks() {
    let mut case = on_jacks([0.0, 0.0, 1.5], &CORNERS);
    case.side_n = 0.2 * weight(30_000.0);
    case.grade_rad = 0.02;
    let loads = jack_loads(&case).unwrap();
    assert!(near(loads.left_m, 0.8 - 0.2 - 1.5 * 0.02_f64.tan(), 1e-9));
    let said = |f: fn(&JackFinding) -> bool| loads.findings.iter().any(f);
    assert!(said(|f| matches!(f, JackFinding::Slides { .. })));
    assert!(said(|f| matches!(f, JackFinding::SideLoad { .. })));
    case.side_n = weight(30_000.0);
    let tips = jack_loads(&case).unwrap();
    assert!(tips.findings.iter().any(|f| matches!(f, JackFinding::Tips { .. })));
    let outside = jack_loads(&on_jacks([0.0, 0.9, 1.0], &CORNERS));
    assert!(matches!(outside, Err(LiftingError::OutsideSupports { .. })));
    let line = jack_loads(&on_jacks([0.0, 0.0, 1.0], &[[0.0, 0.0], [1.0, 1.0], [2.0, 2.0]]));
    assert!(matches!(line, Err(LiftingError::InLine { .. })));
}

/// Packing: pressure over area, height over width.
#[test]
fn packing_under_a_jack() {
    let mut case = on_jacks([0.0, 0.0, 1.0], &CORNERS);
    case.supports[1].packing = Some(Packing {
        height_m: 1.0,
        width_m: 0.3,
        area_m2: 0.04,
        most_pressure_pa: 3e6,
        most_slenderness: 3.0,
    });
    let loads = jack_loads(&case).unwrap();
    assert!(near(loads.loads[1].pressure_pa.unwrap(), weight(15_000.0) / 0.04, 1e-3));
    let said = |f: fn(&JackFinding) -> bool| loads.findings.iter().any(f);
    assert!(said(|f| matches!(f, JackFinding::Slender { support: 1, .. })));
    assert!(said(|f| matches!(f, JackFinding::Crushed { support: 1, .. })));
}

/// One end raised: the load leans on the pivot. By hand: 3 of 4 m, level half... every point turned.
#[test]
fn one_end_raised() {
    let case =
        EndLift { mass_kg: 1000.0, balance_m: 2.0, balance_above_m: 0.8, jack_m: 4.0, lift_m: 0.5 };
    let at = end_lift(&case).unwrap();
    let tilt = 0.125_f64.asin();
    let x = |p: f64, z: f64| p * tilt.cos() - z * tilt.sin();
    assert!(near(at.start_n, weight(500.0), 1e-9));
    assert!(near(at.jack_n, weight(1000.0) * x(2.0, 0.8) / x(4.0, 0.0), 1e-9));
    assert!(near(at.jack_n + at.pivot_n, weight(1000.0), 1e-9));
    assert!(near(at.drawn_m, 4.0 - x(4.0, 0.0), 1e-12));
}

/// Beer & Johnston, Statics, sample problem 8.1 (from memory): a block of 300 lb on a slope of 3 in 4
/// with friction 0.25 pushed up by 100 lb is not in equilibrium: it needs 80 lb of friction and has
/// 60. So 120 lb would just hold it.
#[test]
fn block_on_a_slope_of_beer_and_johnston() {
    let lb = 0.453_592_37;
    let part = OnSlope {
        mass_kg: 300.0 * lb,
        slope_rad: 0.75_f64.atan(),
        resistance: Friction::exactly(0.25).unwrap(),
        run_m: 1.0,
    };
    let forces = slope_forces(&part).unwrap();
    assert_eq!(forces.holds, SelfHold::Runs);
    let in_lb = |n: f64| n / (lb * STANDARD_GRAVITY_M_S2);
    assert!(near(in_lb(forces.hold_back_n.at_likely), 120.0, 1e-9));
    assert!(near(in_lb(forces.haul_up_n.at_likely), 240.0, 1e-9));
    assert!(forces.start_down_n.at_likely == 0.0);
    // Energy: what it falls less what rubs.
    let v = (2.0 * STANDARD_GRAVITY_M_S2 * (0.6 - 0.25 * 0.8)).sqrt();
    assert!(near(forces.foot_speed_m_s, v, 1e-9));
    let rubs = 0.25 * STANDARD_GRAVITY_M_S2 * forces.run_out_m;
    assert!(near(rubs, 0.5 * v * v, 1e-9));
}

/// More supports than the range of statics is worked out for are refused, not run for ever.
#[test]
fn a_forest_of_jacks_is_refused() {
    let places: Vec<[f64; 2]> = (0..40).map(|i| [f64::from(i % 8), f64::from(i / 8)]).collect();
    let many = jack_loads(&on_jacks([3.0, 2.0, 1.0], &places));
    assert!(matches!(many, Err(LiftingError::Count { most: 12, .. })), "{many:?}");
}

/// The angle of repose divides what stays from what runs.
#[test]
fn repose() {
    let holds = |slope_rad: f64| {
        let resistance = Friction::new(0.1, 0.2, 0.3).unwrap();
        slope_forces(&OnSlope { mass_kg: 50.0, slope_rad, resistance, run_m: 2.0 }).unwrap().holds
    };
    assert_eq!(holds(0.09_f64.atan()), SelfHold::StaysComputed);
    assert_eq!(holds(0.25_f64.atan()), SelfHold::MayRun);
    assert_eq!(holds(0.31_f64.atan()), SelfHold::Runs);
}

/// Beer & Johnston, Statics, sample problem 8.7 (from memory): a hawser twice round a bollard, 150 N
/// against 7.5 kN, gives friction 0.311; three turns hold 52.7 kN.
#[test]
fn hawser_of_beer_and_johnston() {
    let turn = std::f64::consts::TAU;
    let mu = Friction::exactly(0.311).unwrap();
    let two = rope_round_post(7500.0, 2.0 * turn, mu).unwrap().at_likely;
    assert!(near(two, 150.0, 1.0), "{two}");
    let three = rope_round_post(52_700.0, 3.0 * turn, mu).unwrap().at_likely;
    assert!(near(three, 150.0, 1.0), "{three}");
}

/// Ten square centimetres at 700 bar: 70 kN (definition of pressure). A round ram of 5.08 cm bore
/// (2 in): π/4 · 4 in² at 10 000 psi is 31 416 lbf.
#[test]
fn force_of_a_ram() {
    let jack = DrawJack {
        ram: RamArea::Maker { area_m2: 10e-4 },
        jacks: 1,
        efficiency: 1.0,
        rated_n: 70e3,
        valve_pa: 700e5,
        stroke_m: 0.05,
    };
    let need = Spread { at_low: 30e3, at_likely: 50e3, at_high: 80e3 };
    let check = check_draw(&jack, need).unwrap();
    assert!(near(check.force_at_valve_n, 70e3, 1e-6) && near(check.valve_share, 1.0, 1e-12));
    assert!(near(check.pressure_pa.at_likely, 500e5, 1e-3));
    assert_eq!(check.finding, DrawFinding::MayStick);
    let weak = check_draw(&jack, Spread { at_likely: 75e3, ..need }).unwrap();
    assert_eq!(weak.finding, DrawFinding::TooWeak);
    let two = check_draw(&DrawJack { jacks: 2, ..jack }, need).unwrap();
    assert_eq!(two.finding, DrawFinding::Enough);
    let inches = RamArea::Solid { diameter_m: 0.0508 }.area_m2().unwrap();
    let lbf = inches * 10_000.0 * 6_894.757_293 / 4.448_221_615;
    assert!(near(lbf, 31_415.9, 0.1), "{lbf}");
    let hollow = RamArea::Hollow { outer_m: 0.1, inner_m: 0.06 }.area_m2().unwrap();
    assert!(near(hollow, std::f64::consts::PI * (0.0025 - 0.0009), 1e-12));
}

/// Cords: tension by statics, stored energy by the work of the pull (half force times way).
#[test]
fn cords_store_energy() {
    let cords = PullCords {
        cords: 2,
        angle_rad: std::f64::consts::FRAC_PI_3,
        length_m: 2.0,
        axial_n: 1e6,
        rated_n: 20e3,
    };
    let pull = cord_pull(&cords, 10e3).unwrap();
    assert!(near(pull.each_n, 10e3, 1e-6) && near(pull.one_less_n, 20e3, 1e-6));
    // The point moves by stretch / cos 60 degrees along the pull.
    assert!(near(pull.stored_j, 0.5 * 10e3 * pull.stretch_m / 0.5, 1e-6));
}

proptest! {
    /// Loads on random jacks carry the weight and balance about its balance point.
    #[test]
    fn jacks_balance(
        places in prop::collection::vec(prop::array::uniform2(-3.0..3.0_f64), 3..8),
        centre in prop::array::uniform2(-1.0..1.0_f64),
    ) {
        let case = on_jacks([centre[0], centre[1], 1.0], &places);
        if let Ok(all) = jack_loads(&case) {
            let w = weight(30_000.0);
            let sum: f64 = all.loads.iter().map(|l| l.even_n).sum();
            prop_assert!(near(sum, w, 1e-5 * w));
            for axis in 0..2 {
                let m: f64 = all.loads.iter().zip(&places).map(|(l, p)| l.even_n * p[axis]).sum();
                prop_assert!(near(m / w, centre[axis], 1e-5));
            }
            for l in &all.loads {
                prop_assert!(l.least_n <= l.even_n + 1e-5 * w && l.even_n <= l.most_n + 1e-5 * w);
            }
            // The margin is the distance to the nearest side: a point so far off in any of 360
            // directions is still inside, one a little farther is not in all of them.
            let base = base_of(&places).unwrap();
            let least = (0..3600).map(|k| {
                let a = f64::from(k) * std::f64::consts::TAU / 3600.0;
                let (mut low, mut high) = (0.0, 10.0);
                for _ in 0..50 {
                    let r = 0.5 * (low + high);
                    let p = [centre[0] + r * a.cos(), centre[1] + r * a.sin()];
                    if base.margin(p).0 >= 0.0 { low = r } else { high = r }
                }
                low
            }).fold(f64::INFINITY, f64::min);
            prop_assert!(least >= all.margin_m - 1e-9 && least <= all.margin_m + 1e-3);
        }
    }
}
