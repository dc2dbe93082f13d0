//! Loads through a turn, from the motion of the demo engine.

use super::*;
use engine::design::{Carries, TurnLoad};
use mechanics::bearing::LoadCharacter;

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
    assert_eq!(t.carries, Carries::BigEnd);
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
    assert_eq!(t.carries, Carries::SlideBars);
    let piston = 100.0 * PSI * PI / 4.0 * (17.5 * INCH).powi(2);
    let by_hand = piston * 13.0 / (74.0f64.powi(2) - 13.0f64.powi(2)).sqrt();
    let (upper, lower) = t.along_n();
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

/// A box carries its dead load up and down all the turn, and no more than the wheels put on the rail
/// less wheels and axle: 7.9 tonf a wheel less half of the demo's 3 ton 4 cwt of wheelset.
#[test]
fn a_box_carries_its_dead_load() {
    let t = turn("axlebox.driving.right", &STARTING);
    assert_eq!(t.carries, Carries::Axlebox);
    let by_hand = (7.9 - 1.6) * 9_964.016_418;
    assert!(t.steps.iter().all(|s| close(s.along_n, by_hand, 1e-3)), "{:?}", t.dead_n);
    // The pins' push to and fro is on top of that, both ways in every turn.
    let (forward, backward) = t.across_n();
    assert!(forward > 10e3 && backward > 10e3, "{forward} {backward}");
    assert!(
        t.greatest_n >= forward.hypot(by_hand) * 0.999
            || t.greatest_n >= backward.hypot(by_hand) * 0.999
    );
    assert_eq!(t.swing.expect("a journal turns").character, LoadCharacter::SteadyWithSwing);
}

/// A coupling rod's bush drifting at speed: half the rod between leading and driving pins, 352 lb in the
/// demo's file, is flung outwards, m r w^2 at 10 in of throw; the pistons' inertia adds a push to and fro.
#[test]
fn a_coupling_rod_is_flung_outwards() {
    let t = turn("coupling-rod.right.leading", &[("speed", "60 mph"), ("steam", "0 psi")]);
    assert_eq!(t.carries, Carries::CouplingPin);
    let flung = 0.5 * 352.0 * 0.453_592_37 * 10.0 * INCH * t.wheel_rad_s.powi(2);
    // Down and up nothing else acts: rods lie level.
    let (down, up) = t.across_n();
    assert!(close(down, flung, 1e-3) && close(up, flung, 1e-3), "{down} {up} {flung}");
    assert!(t.greatest_n >= flung * 0.999);
    assert!(t.point.contains("drifting"), "{}", t.point);
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
