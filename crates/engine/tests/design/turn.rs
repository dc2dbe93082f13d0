//! Loads through a turn, from the motion of the demo engine.

use super::*;
use engine::design::{Carries, TurnLoad};
use mechanics::bearing::LoadCharacter;
use mechanics::motion::CylinderNo;

fn turn(joint: &str, with: &[(&str, &str)]) -> TurnLoad {
    let d = of(demo(), joint, with);
    let bearing = d.detail.bearing.and_then(|b| b.turn);
    bearing
        .or(d.detail.slide.and_then(|s| s.turn))
        .unwrap_or_else(|| panic!("no load through a turn: {:?}", d.absent))
}

const STARTING: [(&str, &str); 3] =
    [("speed", "0.5 mph"), ("steam", "100 psi"), ("cut-off", "100 %")];

/// Statics by hand. Crawling with steam for nearly the whole stroke nothing but the steam loads the
/// pin: pressure on the piston, less 180 lbf of friction, over the cosine of the rod's angle, 13 in
/// of throw on 74 in of rod, less or more the slide bars' 6 per cent of a fifth of it.
#[test]
fn a_crawling_engine_loads_its_big_end_by_the_steam_alone() {
    let t = turn("big-end.left", &STARTING);
    assert_eq!(t.carries, Carries::BigEnd(0));
    let piston = 100.0 * PSI * PI / 4.0 * (17.5 * INCH).powi(2);
    // The bore as gauged is a little above its 17 1/2 in.
    assert!((0.97..1.05).contains(&(t.greatest_n / piston)), "{} {piston}", t.greatest_n);
    assert!((0.88..1.02).contains(&(t.mean_n / piston)), "{} {piston}", t.mean_n);
    // Thrust and pull in turn: both brasses, within a tenth of one another.
    let (outer, inner) = t.along_n();
    assert!(close(outer, inner, 0.1), "{outer} {inner}");
    assert_eq!(t.swing.expect("a journal turns").character, LoadCharacter::Reversing);
    // Rubbing: 0.5 mph on a 61 in wheel, pin 7 3/4 in less its wear, by hand within the rod's swing.
    let speed = 0.5 * 0.447_04 / (61.0 * INCH / 2.0) * 7.75 / 2.0 * INCH;
    assert!((0.8..1.25).contains(&(t.rubbing_m_s.1 / speed)), "{} {speed}", t.rubbing_m_s.1);
}

/// Slide bars by hand: the crosshead is pressed up by thrust times the tangent of the rod's angle,
/// greatest near mid stroke, 13 / sqrt(74^2 - 13^2); running forward it is always the upper bar.
#[test]
fn slide_bars_carry_the_rod_s_slope() {
    let t = turn("slide-bars.right", &STARTING);
    assert_eq!(t.carries, Carries::SlideBars(1));
    let piston = 100.0 * PSI * PI / 4.0 * (17.5 * INCH).powi(2);
    let by_hand = piston * 13.0 / (74.0f64.powi(2) - 13.0f64.powi(2)).sqrt();
    let (lower, upper) = t.along_n();
    assert!((0.93..1.05).contains(&(upper / by_hand)), "{upper} {by_hand}");
    assert!(lower < 0.01 * upper, "{lower}");
}

/// Greatest speed of the crosshead: a little above throw times turning (13 in, rod of 74 in: by a
/// factor of about sqrt(1 + (13/74)^2), textbook).
#[test]
fn the_crosshead_runs_at_the_pin_s_speed() {
    let t = turn("slide-bars.right", &[("speed", "45 mph")]);
    let pin = 13.0 * INCH * t.wheel_rad_s;
    assert!(close(t.rubbing_m_s.0, pin * (1.0f64 + (13.0f64 / 74.0).powi(2)).sqrt(), 5e-3));
}

/// Coupling cranks set beside the inside cranks of their side instead of opposite them take load off
/// the driving boxes: the trade's reason for that arrangement (common practice).
#[test]
fn coupling_cranks_beside_the_inside_ones_ease_the_boxes() {
    let greatest = |lags: &str| {
        turn(
            "axlebox.driving.right",
            &[STARTING[0], STARTING[1], STARTING[2], ("coupling-lags", lags)],
        )
        .across_n()
    };
    let (opposite, beside) = (greatest("270 deg; 180 deg"), greatest("90 deg; 0 deg"));
    assert!(beside.0.max(beside.1) < 0.8 * opposite.0.max(opposite.1), "{beside:?} {opposite:?}");
}

/// Forces on the axle balance: what both boxes get forward is what rods, coupling rods and rail put
/// on the axle, each taken from the motion's own answer.
#[test]
fn both_boxes_together_carry_what_is_put_on_the_axle() {
    let with = [("speed", "30 mph"), ("steam", "120 psi"), ("cut-off", "40 %")];
    let (left, right) = (turn("axlebox.driving.left", &with), turn("axlebox.driving.right", &with));
    let j = demo();
    let mechanism = engine::motion::Mechanism::of(j).expect("described");
    let steam = engine::motion::SteamSaid::CutOff(120.0 * PSI, 0.4);
    let w = engine::motion::working(j, &mechanism, 30.0 * 0.447_04, &steam).expect("described");
    let tyre_m = mechanism.tyre().expect("described").diameter_m;
    // Wheel loads 6.2, 7.9 and 6.5 tonf: the driver's share of the moment goes to the rail, the rest
    // through both coupling rods. A pair at a crank angle a pushes M sin a / (r sum sin^2): two rods
    // at 270 and 180 degrees behind.
    let share = 7.9 / (6.2 + 7.9 + 6.5);
    for (i, (a, b)) in left.steps.iter().zip(&right.steps).enumerate() {
        let pins: f64 = w.loads.cylinders.iter().map(|c| c.pin_along_n[i]).sum();
        let moment = w.loads.moment_nm[i];
        let angle = |lag: f64| a.wheel_rad - lag.to_radians();
        let (s, t) = (angle(270.0).sin(), angle(180.0).sin());
        // To hold back the moment passed on, the rods push the driver against its turning.
        let rods = (1.0 - share) * moment / (12.0 * INCH) * (s + t) / (s * s + t * t);
        let rail = share * moment / (0.5 * tyre_m);
        let sum = a.across_n + b.across_n;
        assert!((sum - (pins + rods + rail)).abs() < 1.0, "{i}: {sum} {}", pins + rods + rail);
    }
    assert_eq!(mechanism.motion.cylinders(), 2);
    assert!(mechanism.motion.line(CylinderNo(0)).is_ok_and(|l| l.incline_rad == 0.0));
}

/// A coupling rod's bush: drifting without load, only the rod's share flung outwards is left, m r w^2,
/// turning with the pin, so that a whole turn's wedge stays.
#[test]
fn a_coupling_rod_is_flung_outwards() {
    let t = turn(
        "coupling-rod.right.leading",
        &[("speed", "60 mph"), ("steam", "0 psi"), ("cut-off", "50 %")],
    );
    let flung = 194.0 * 0.453_592_37 * 12.0 * INCH * t.wheel_rad_s.powi(2);
    // Inertia of the pistons still passes a moment through the rods: to and fro about the weight.
    assert!(t.steps.iter().all(|s| close(
        s.across_n.hypot(0.0),
        (flung * (s.wheel_rad - PI).sin()).abs(),
        1e-6
    ) || s.across_n.abs() < 1.0));
    assert!(t.greatest_n >= flung * 0.999, "{} {flung}", t.greatest_n);
}

/// A load tried out wins over the motion, and is said to.
#[test]
fn a_load_laid_over_is_the_one_that_counts() {
    let d = of(demo(), "big-end.left", &[("load", "50 kN")]);
    let b = d.detail.bearing.expect("designed");
    assert!(b.turn.is_none());
    let p = b.duty.expect("a duty").pressure_pa;
    let by_hand = 50e3 / (4.09375 * INCH * 0.5 * (b.journal_m.0 + b.journal_m.1));
    assert!(close(p, by_hand, 1e-6), "{p} {by_hand}");
}

/// Working point and steadiness are said; a reversing load is never judged by a steady film.
#[test]
fn the_working_point_and_the_film_s_limits_are_said() {
    let d = of(demo(), "big-end.right", &[]);
    let Says::Words(point) = line(&d, "taken at") else { panic!("words") };
    assert!(point.contains("45 miles an hour") && point.contains("cut-off 25 %"), "{point}");
    let Says::Words(swing) = line(&d, "oil wedge left by the swing") else { panic!("words") };
    assert!(swing.contains("less than half"), "{swing}");
    for film in &d.detail.bearing.expect("designed").films {
        if let Some(judged) = &film.judged {
            assert_eq!(judged.verdict, mechanics::bearing::FilmVerdict::CannotTell);
        }
    }
    // A little end swings: no steady film at all.
    let with = [
        ("speed", "45 mph"),
        ("length", "3 1/2 in"),
        ("load-basis", "greatest load"),
        ("place", "crosshead pin"),
        ("bearing-metal", "cast bronze"),
    ];
    let d = of(demo(), "small-end.left", &with);
    assert!(d.absent.iter().any(|a| a.why.contains("swings to and fro")), "{:?}", d.absent);
}
