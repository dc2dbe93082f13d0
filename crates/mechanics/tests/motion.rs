//! Motion, clearance and barring against closed forms, textbook figures and independent methods.
//!
//! Case numbers SC-xx are those of the project's list of reference values; each says whether its
//! figure was verified in a text or is from memory.

// Set-up shared by the tests unwraps as well.
#![allow(clippy::unwrap_used)]

use mechanics::motion::*;
use proptest::prelude::*;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

fn line(place: Place, lateral_m: f64, crank_lag_rad: f64) -> CylinderLine {
    CylinderLine {
        place,
        lateral_m,
        crank_throw_m: 0.33,
        rod_centres_m: 2.0,
        incline_rad: 0.0,
        offset_m: 0.0,
        crank_lag_rad,
    }
}

fn two_inside(leading: Leading) -> Motion {
    let lines: Vec<_> = crank_lags(CrankSequence::TwoInside { leading })
        .unwrap()
        .into_iter()
        .map(|(place, lag)| line(place, if place == Place::InsideLeft { 0.3 } else { -0.3 }, lag))
        .collect();
    Motion::new(&lines).unwrap()
}

/// SC-01: Khurmi & Gupta, Theory of Machines, ch. 15 (from memory). The book's series form gives
/// 6.89 m/s and 124.9 m/s²; the exact figures of the list are 6.905 and 124.95.
#[test]
fn sc_01_velocity_and_acceleration() {
    let sc = SliderCrank::new(0.150, 0.600, 0.0).unwrap();
    let w = 450.0 * TAU / 60.0;
    let at = sc.at(60.0_f64.to_radians()).unwrap();
    // Towards the front is positive here; the book counts away from the dead centre.
    assert!((-at.position_per_rad_m * w - 6.905).abs() < 0.0005);
    assert!((-at.position_per_rad2_m * w * w - 124.95).abs() < 0.01);
    // The series of the book, cut after the second term, is near but not the same.
    let (s, s2) = (60.0_f64.to_radians().sin(), 120.0_f64.to_radians().sin());
    let series = w * 0.150 * (s + s2 / (2.0 * 4.0));
    assert!((series - 6.887).abs() < 0.001);
    assert!((series + at.position_per_rad_m * w).abs() < 0.02);
}

/// SC-03: stroke fractions in per cent, l/r = 4, 5, 6, 7 (computed by the list's own script).
#[test]
fn sc_03_stroke_fractions() {
    let table = [
        (4.0, [8.27, 29.74, 56.35, 79.74]),
        (5.0, [7.95, 28.78, 55.05, 78.78]),
        (6.0, [7.74, 28.14, 54.20, 78.14]),
        (7.0, [7.59, 27.69, 53.59, 77.69]),
    ];
    for (ratio, row) in table {
        let motion = Motion::new(&[CylinderLine {
            crank_throw_m: 0.3,
            rod_centres_m: 0.3 * ratio,
            ..line(Place::Middle, 0.0, 0.0)
        }])
        .unwrap();
        for (angle, wanted) in [30.0, 60.0, 90.0, 120.0].into_iter().zip(row) {
            let wheel = WheelAngle::from_deg(angle).unwrap();
            let at = motion.cylinder_at(CylinderNo(0), wheel, &Running::STANDING).unwrap();
            assert!((100.0 * at.from_front_share - wanted).abs() < 0.01, "{ratio} {angle}");
        }
    }
}

/// SC-04: greatest piston speed with l/r = 4 at 76.72°, 1.0309 ω r (computed by the list).
#[test]
fn sc_04_greatest_piston_speed() {
    let sc = SliderCrank::new(0.25, 1.0, 0.0).unwrap();
    let (mut best, mut at) = (0.0, 0.0);
    for i in 0..18_000 {
        let f = f64::from(i) * 0.01_f64.to_radians();
        let v = -sc.at(f).unwrap().position_per_rad_m / 0.25;
        if best < v {
            (best, at) = (v, f.to_degrees());
        }
    }
    assert!((at - 76.72).abs() < 0.02 && (best - 1.0309).abs() < 0.0001, "{at} {best}");
}

/// A rod of no obliquity makes simple harmonic motion (closed form).
#[test]
fn an_endless_rod_is_simple_harmonic() {
    let (r, l) = (0.3, 5e4);
    let sc = SliderCrank::new(r, l, 0.0).unwrap();
    for i in 0..72 {
        let f = f64::from(i) * 5.0_f64.to_radians();
        let at = sc.at(f).unwrap();
        assert!((at.position_m - l - r * f.cos()).abs() < 2e-6);
        assert!((at.position_per_rad_m + r * f.sin()).abs() < 2e-6);
        assert!((at.position_per_rad2_m + r * f.cos()).abs() < 4e-6);
        assert!(at.rod_angle_rad.abs() < 1e-5);
    }
}

/// The distance between the pins is the rod, for any size and angle; derivatives agree with
/// central differences.
#[test]
fn rod_stays_its_length_and_derivatives_are_differences() {
    let h = 1e-4;
    for e in [-0.12, 0.0, 0.07] {
        let (r, l) = (0.31, 1.6);
        let sc = SliderCrank::new(r, l, e).unwrap();
        for i in 0..360 {
            let f = f64::from(i).to_radians() + 0.003;
            let at = sc.at(f).unwrap();
            let rod = (at.position_m - r * f.cos()).hypot(e + r * f.sin());
            assert!((rod - l).abs() < 1e-14);
            let (p, m) = (sc.at(f + h).unwrap(), sc.at(f - h).unwrap());
            let d1 = (p.position_m - m.position_m) / (2.0 * h);
            let d2 = (p.position_m - 2.0 * at.position_m + m.position_m) / (h * h);
            let g1 = (p.rod_angle_rad - m.rod_angle_rad) / (2.0 * h);
            let g2 = (p.rod_angle_per_rad - m.rod_angle_per_rad) / (2.0 * h);
            assert!((d1 - at.position_per_rad_m).abs() < 1e-8);
            assert!((d2 - at.position_per_rad2_m).abs() < 1e-6);
            assert!((g1 - at.rod_angle_per_rad).abs() < 1e-8);
            assert!((g2 - at.rod_angle_per_rad2).abs() < 1e-8);
            let q = sc.partials(f).unwrap();
            let by = |r2: f64, l2: f64, e2: f64| {
                let up = SliderCrank::new(r + r2 * h, l + l2 * h, e + e2 * h).unwrap();
                let down = SliderCrank::new(r - r2 * h, l - l2 * h, e - e2 * h).unwrap();
                (up.at(f).unwrap().position_m - down.at(f).unwrap().position_m) / (2.0 * h)
            };
            assert!((by(1.0, 0.0, 0.0) - q.by_throw).abs() < 1e-7);
            assert!((by(0.0, 1.0, 0.0) - q.by_rod).abs() < 1e-7);
            assert!((by(0.0, 0.0, 1.0) - q.by_offset).abs() < 1e-7);
        }
    }
}

/// Dead centres with an offset are where the crosshead really turns back (searched for), and the
/// stroke is then longer than twice the throw.
#[test]
fn dead_centres_are_the_ends_of_the_stroke() {
    for e in [-0.25, -0.05, 0.0, 0.04, 0.2] {
        let sc = SliderCrank::new(0.3, 1.5, e).unwrap();
        let ends = sc.dead_centres();
        let s = |f: f64| sc.at(f).unwrap().position_m;
        assert!((s(ends.front_crank_rad) - ends.front_m).abs() < 1e-14);
        assert!((s(ends.back_crank_rad) - ends.back_m).abs() < 1e-14);
        let all = (0..62_832).map(|i| s(f64::from(i) * 1e-4));
        let (low, high) = all.fold((f64::MAX, f64::MIN), |(a, b), x| (a.min(x), b.max(x)));
        assert!((high - ends.front_m).abs() < 1e-9 && (low - ends.back_m).abs() < 1e-9);
        assert!(if e == 0.0 { ends.stroke_m() - 0.6 < 1e-15 } else { 0.6 < ends.stroke_m() });
    }
}

/// A distance of half the circumference turns the wheels half round (rolling distance, closed
/// form of the list), and the mean piston speed over a half turn is the stroke over its time.
#[test]
fn rolling_distance_and_mean_speed() {
    let motion = two_inside(Leading::Right);
    let tyre = Tyre { diameter_m: 1.55, diameter_standard_m: 0.0 };
    let barring = Barring::new(&motion, tyre, AxleBoxes::AS_DRAWN).unwrap();
    let standing =
        StandingAt { position: Wanted::FrontDeadCentre(CylinderNo(0)), standard_rad: 0.0 };
    let go = barring.moves(standing, Wanted::BackDeadCentre(CylinderNo(0))).unwrap();
    assert!((go.shorter.distance_m - PI * 0.775).abs() < 1e-12);
    assert!((go.shorter.turns - 0.5).abs() < 1e-12);

    let w = 20.0;
    let revolution = motion.revolution(3600, &Running::steady(w)).unwrap();
    let trace = &revolution.cylinders[1];
    let path: f64 = trace.velocity_m_s.iter().map(|v| v.abs()).sum::<f64>() * TAU / 3600.0 / w;
    assert!((path - 2.0 * trace.stroke_m).abs() < 1e-6);
}

/// Right hand leading: going forward the right crank passes front dead centre a quarter turn
/// before the left, and so with the sides changed; a crank goes over the top to the front.
#[test]
fn leading_hand_and_direction() {
    for (leading, first, second) in [(Leading::Right, 1, 0), (Leading::Left, 0, 1)] {
        let motion = two_inside(leading);
        let dead = |i| motion.wheel_angle(CylinderNo(i), 0.0).unwrap().rad();
        assert!((dead(second) - dead(first) - FRAC_PI_2).rem_euclid(TAU) < 1e-12);
    }
    let motion = two_inside(Leading::Left);
    let at = |deg| {
        let wheel = WheelAngle::from_deg(deg).unwrap();
        motion.cylinder_at(CylinderNo(0), wheel, &Running::steady(1.0)).unwrap()
    };
    // 270° top, 360° front, 90° bottom.
    assert!((at(270.0).crank_pin.z_m - 0.33).abs() < 1e-12);
    assert!((at(360.0).crank_pin.x_m - 0.33).abs() < 1e-12);
    assert!((at(90.0).crank_pin.z_m + 0.33).abs() < 1e-12);
    // From the front to the bottom the piston goes back; the crank pin is below, so the rod angle
    // is positive.
    assert!(at(45.0).velocity_m_s < 0.0 && 0.0 < at(45.0).rod_angle_rad);
    assert!(0.0 < at(300.0).velocity_m_s && at(300.0).rod_angle_rad < 0.0);
}

/// Three cylinders, the middle one steeper: with even beats the front dead centres follow at 120°,
/// with even cranks they do not, by just the difference of incline.
#[test]
fn three_cylinders_beat_evenly() {
    let (middle, outside) = (0.125, 0.02);
    let beats = Beats::EvenBeats { middle_incline_rad: middle, outside_incline_rad: outside };
    for (beats, shift) in [(beats, 0.0), (Beats::EvenCranks, middle - outside)] {
        let lags = crank_lags(CrankSequence::Three { leading: Leading::Right, beats }).unwrap();
        let lines: Vec<_> = lags
            .into_iter()
            .map(|(place, lag)| CylinderLine {
                incline_rad: if place == Place::Middle { middle } else { outside },
                ..line(place, 0.0, lag)
            })
            .collect();
        let motion = Motion::new(&lines).unwrap();
        let dead = |i| motion.wheel_angle(CylinderNo(i), 0.0).unwrap().rad();
        let (left, mid, right) = (dead(0), dead(1), dead(2));
        assert!(((left - right).rem_euclid(TAU) - TAU / 3.0).abs() < 1e-12);
        assert!(((mid - left).rem_euclid(TAU) - (TAU / 3.0 - shift)).abs() < 1e-12);
    }
}

/// Spring travel: the exact position with the axle risen agrees with a plain circle-and-line
/// construction in the engine frame, and its derivative with differences.
#[test]
fn spring_travel_moves_the_piston() {
    let spec =
        CylinderLine { incline_rad: 0.11, offset_m: 0.05, ..line(Place::InsideLeft, 0.3, 0.7) };
    let motion = Motion::new(&[spec]).unwrap();
    let at = |deg: f64, fore: f64, rise: f64| {
        let axle = AxleBoxes::alike(AxlePosition { fore_m: fore, rise_m: rise });
        let running = Running { axle, ..Running::STANDING };
        motion.cylinder_at(CylinderNo(0), WheelAngle::from_deg(deg).unwrap(), &running).unwrap()
    };
    for deg in [0.0, 40.0, 133.0, 250.0] {
        for (fore, rise) in [(0.0, 0.03), (0.004, -0.05)] {
            let now = at(deg, fore, rise);
            let absolute: f64 = deg.to_radians() - 0.7;
            let pin = (fore + 0.33 * absolute.cos(), rise - 0.33 * absolute.sin());
            assert!((now.crank_pin.x_m - pin.0).abs() < 1e-14);
            assert!((now.crank_pin.z_m - pin.1).abs() < 1e-14);
            // On the line: square distance to the line through the origin is the offset.
            let (x, z) = (now.crosshead_pin.x_m, now.crosshead_pin.z_m);
            let across = z * 0.11_f64.cos() - x * 0.11_f64.sin();
            assert!((across - 0.05).abs() < 1e-14);
            assert!(((x - pin.0).hypot(z - pin.1) - 2.0).abs() < 1e-13);
            let h = 1e-5;
            let by_rise = (at(deg, fore, rise + h).crosshead_m
                - at(deg, fore, rise - h).crosshead_m)
                / (2.0 * h);
            let by_fore = (at(deg, fore + h, rise).crosshead_m
                - at(deg, fore - h, rise).crosshead_m)
                / (2.0 * h);
            assert!((by_rise - now.crosshead_by_axle_rise).abs() < 1e-9);
            assert!((by_fore - now.crosshead_by_axle_fore).abs() < 1e-9);
        }
    }
}

fn chain() -> ClearanceChain {
    ClearanceChain::new(ChainSizes {
        incline_rad: 0.1,
        cylinder_length_m: 0.800,
        front_cover_spigot_m: 0.012,
        back_cover_spigot_m: 0.014,
        front_joint_m: 0.001,
        back_joint_m: 0.001,
        piston_thickness_m: 0.124,
        cone_to_piston_m: 1.000,
        pin_to_cone_m: 0.150,
        rod_centres_m: 1.900,
        big_end_take_up_m: 0.0,
        small_end_take_up_m: 0.0,
        crank_throw_m: 0.320,
        line_offset_m: 0.040,
        axle_to_cylinder_m: 2.7113,
        axle_fore_m: 0.0,
        axle_rise_m: 0.0,
        big_end_slack_m: 0.0003,
        small_end_slack_m: 0.0002,
        journal_slack_m: 0.0003,
        horn_slack_m: 0.0004,
    })
    .unwrap()
}

/// Play between the covers less stroke and piston is what is left at both ends together, whatever
/// the rod (arithmetic); closing the brasses moves it from one end to the other.
#[test]
fn clearance_adds_up() {
    let c = chain();
    let z = *c.sizes();
    let [front, back] = c.at_dead_centres(Float::Middle).unwrap();
    let play = z.cylinder_length_m + z.front_joint_m + z.back_joint_m
        - z.front_cover_spigot_m
        - z.back_cover_spigot_m
        - z.piston_thickness_m;
    let stroke = c.dead_centres(Float::Middle).unwrap().stroke_m();
    assert!((front.front_m + back.back_m - (play - stroke)).abs() < 1e-14);
    // Eight thou off the rod centres: that much less at the back, to the micrometre.
    let thou = 25.4e-6;
    let shorter = ClearanceChain::new(z.with(Contributor::BigEndTakeUp, -8.0 * thou)).unwrap();
    let [front2, back2] = shorter.at_dead_centres(Float::Middle).unwrap();
    assert!((front2.front_m - front.front_m - 8.0 * thou).abs() < 1e-6);
    assert!((back.back_m - back2.back_m - 8.0 * thou).abs() < 1e-6);
    // All slack forward: half of every clearance, and the half horn gap along the incline.
    let [forward, _] = c.at_dead_centres(Float::Forward).unwrap();
    let half = 0.5 * (0.0003 + 0.0002 + 0.0003) + 0.5 * 0.0004 * 0.1_f64.cos();
    assert!((front.front_m - forward.front_m - half).abs() < 1e-6);
}

fn small_spreads() -> Spreads {
    let mut spreads = Spreads::exact();
    for (i, c) in Contributor::ALL.into_iter().enumerate() {
        let w = 0.0002 + 0.00002 * i as f64;
        spreads.set(
            c,
            match i % 3 {
                0 => Spread::Normal { standard_m: w, limit_m: 3.0 * w },
                1 => Spread::Uniform { half_width_m: w },
                _ => Spread::Triangular { half_width_m: w },
            },
        );
    }
    spreads.shared.push(SharedError {
        spread: Spread::Normal { standard_m: 0.0003, limit_m: 0.0009 },
        enters: vec![(Contributor::CylinderLength, 1.0), (Contributor::PistonThickness, 1.0)],
    });
    spreads
}

/// Where the chain is all but linear, drawing engines and first-order propagation agree within
/// what 400 000 engines can tell (JCGM 101:2008, clause 8, compares the two likewise).
#[test]
fn drawn_engines_agree_with_first_order() {
    let (c, spreads) = (chain(), small_spreads());
    let options = MonteCarloOptions {
        engines: 400_000,
        seed: 5,
        threads: 2,
        float: Float::Forward,
        least_front_m: 0.004,
        least_back_m: 0.004,
    };
    let mc = c.monte_carlo(&spreads, &options).unwrap();
    let rss = c.root_sum_square(&spreads, Float::Forward).unwrap();
    let standard_error = 1.0 / (2.0 * 400_000.0_f64).sqrt();
    for (mc, mean, u) in
        [(mc.front, rss.front_m, rss.front_standard_m), (mc.back, rss.back_m, rss.back_standard_m)]
    {
        assert!((mc.mean_m - mean).abs() < 4.0 * u / 400_000.0_f64.sqrt() + 1e-7);
        assert!((mc.standard_m / u - 1.0).abs() < 4.0 * standard_error);
        // Many sources: all but normal, so the 95 % ends are 1.96 standard deviations out.
        assert!(((mc.high_m - mc.low_m) / (2.0 * 1.96 * u) - 1.0).abs() < 0.01);
    }
    // The share below 4 mm by the normal distribution.
    let z = (0.004 - rss.front_m) / rss.front_standard_m;
    let share = 0.5 * statrs::function::erf::erfc(-z / std::f64::consts::SQRT_2);
    assert!((mc.front.below_least - share).abs() < 0.004, "{} {share}", mc.front.below_least);
    // Same seed, other number of threads: the same engines.
    let one = MonteCarloOptions { threads: 1, ..options };
    assert_eq!(c.monte_carlo(&spreads, &one).unwrap(), mc);
    let other = MonteCarloOptions { seed: 6, ..options };
    assert_ne!(c.monte_carlo(&spreads, &other).unwrap(), mc);
}

/// A shared error counts once: cylinder length and piston thickness read with one gauge take its
/// zero error out of their difference.
#[test]
fn a_shared_error_cancels_in_a_difference() {
    let c = chain();
    let mut apart = Spreads::exact();
    apart.set(Contributor::CylinderLength, Spread::Normal { standard_m: 1e-3, limit_m: 3e-3 });
    apart.set(Contributor::PistonThickness, Spread::Normal { standard_m: 1e-3, limit_m: 3e-3 });
    let mut shared = Spreads::exact();
    shared.shared.push(SharedError {
        spread: Spread::Normal { standard_m: 1e-3, limit_m: 3e-3 },
        enters: vec![(Contributor::CylinderLength, 1.0), (Contributor::PistonThickness, 1.0)],
    });
    let rss = |s: &Spreads| c.root_sum_square(s, Float::Middle).unwrap().front_standard_m;
    assert!((rss(&apart) - 2.0_f64.sqrt() * 1e-3).abs() < 1e-12);
    assert!(rss(&shared) < 1e-15);
}

#[test]
fn barring_both_ways_with_its_uncertainty() {
    let motion = two_inside(Leading::Right);
    let tyre = Tyre { diameter_m: 1.6, diameter_standard_m: 0.002 };
    let barring = Barring::new(&motion, tyre, AxleBoxes::AS_DRAWN).unwrap();
    let left = CylinderNo(0);
    let standing = StandingAt {
        position: Wanted::PastFrontDeadCentre { cylinder: left, past_rad: 40.0_f64.to_radians() },
        standard_rad: 2.0_f64.to_radians(),
    };
    // To the bottom: 50° on; the other way 310° back.
    let go = barring.moves(standing, Wanted::PinBottom(left)).unwrap();
    assert_eq!(go.shorter.way, Way::Forward);
    assert!((go.shorter.turn_rad.to_degrees() - 50.0).abs() < 1e-9);
    assert!((go.other.turn_rad.to_degrees() - 310.0).abs() < 1e-9);
    assert!((go.shorter.distance_m - 0.8 * 50.0_f64.to_radians()).abs() < 1e-12);
    let u = (0.8 * 2.0_f64.to_radians()).hypot(0.5 * 0.002 * 50.0_f64.to_radians());
    assert!((go.shorter.distance_standard_m - u).abs() < 1e-12);
    assert_eq!(go.within(0.5, 10.0).map(|m| m.way), Some(Way::Backward));
    assert_eq!(go.within(0.5, 0.5), None);
    // On arrival the left pin is at the bottom, and both ways arrive at the same place.
    let there = barring.positions(go.shorter.arrival).unwrap();
    assert!((there[0].crank_pin.z_m + 0.33).abs() < 1e-12);
    assert!((go.shorter.arrival.rad() - go.other.arrival.rad()).abs() < 1e-12);
    // Half stroke on the way back is past the quarter? No: before it, with a finite rod.
    let half = Wanted::CrossheadGoingBack { cylinder: left, from_front_share: 0.5 };
    let state = &barring.positions(barring.wheel_angle(half).unwrap()).unwrap()[0];
    assert!((state.from_front_share - 0.5).abs() < 1e-12);
    assert!(state.past_front_dead_centre_rad.to_degrees() < 90.0);
    // Already there: nothing to move, or a whole turn.
    let stay = barring.moves(standing, standing.position).unwrap();
    assert_eq!(stay.shorter.distance_m, 0.0);
    assert!((stay.other.turn_rad - TAU).abs() < 1e-12);
}

/// Two jobs on two cranks: left strap bolts with the left crank 200..260° past its front dead
/// centre, right cotter with the right crank 330..20°. Right leads by 90°, so in angles of the
/// right crank the left job is at 290..350°: together at 330..350°.
#[test]
fn windows_of_two_cranks_meet() {
    let motion = two_inside(Leading::Right);
    let tyre = Tyre { diameter_m: 1.6, diameter_standard_m: 0.0 };
    let barring = Barring::new(&motion, tyre, AxleBoxes::AS_DRAWN).unwrap();
    let window = |i, from: f64, to: f64| {
        barring.wheel_windows(CylinderNo(i), &[(from.to_radians(), to.to_radians())]).unwrap()
    };
    let jobs = [
        Job { name: "left strap bolts".into(), windows: window(0, 200.0, 260.0) },
        Job { name: "right cotter".into(), windows: window(1, 330.0, 20.0) },
    ];
    let common = common_window(&jobs);
    assert_eq!(common.windows().len(), 1);
    assert!((common.windows()[0].from_rad.to_degrees() - 330.0).abs() < 1e-9);
    assert!((common.windows()[0].length_rad.to_degrees() - 20.0).abs() < 1e-9);
    let standing = StandingAt { position: Wanted::Wheel(WheelAngle::ZERO), standard_rad: 0.0 };
    let margin = 5.0_f64.to_radians();
    let [forward, backward] = barring.moves_into(standing, &common, margin).unwrap().unwrap();
    assert!((forward.turn_rad.to_degrees() - 335.0).abs() < 1e-9);
    assert!((backward.turn_rad.to_degrees() - 15.0).abs() < 1e-9);
    assert!(barring.moves_into(standing, &Arcs::never(), margin).unwrap().is_none());
    assert_eq!(stop_plan(&jobs, 0.0).unwrap().stops.len(), 1);
}

/// Any numbers at all.
fn anything() -> impl Strategy<Value = f64> {
    prop_oneof![
        any::<f64>(),
        -3.0..3.0_f64,
        Just(0.0),
        Just(f64::NAN),
        Just(f64::INFINITY),
        Just(-1e308),
        Just(1e-320),
    ]
}

proptest! {
    /// Nothing panics, and what comes back as an answer is made of numbers.
    #[test]
    fn no_input_makes_it_fall_over(
        v in proptest::collection::vec(anything(), 12),
        number in 0_usize..4,
    ) {
        if let Ok(sc) = SliderCrank::new(v[0], v[1], v[2]) {
            if let Ok(at) = sc.at(v[3]) {
                prop_assert!(at.position_m.is_finite() && at.position_per_rad2_m.is_finite());
            }
            if let Ok([a, b]) = sc.crank_angles_at(v[4]) {
                prop_assert!(a.is_finite() && b.is_finite());
            }
        }
        let spec = CylinderLine {
            place: Place::Middle,
            lateral_m: v[0],
            crank_throw_m: v[1],
            rod_centres_m: v[2],
            incline_rad: v[3],
            offset_m: v[4],
            crank_lag_rad: v[5],
        };
        let axle = AxleBoxes {
            left: AxlePosition { fore_m: v[6], rise_m: v[7] },
            right: AxlePosition { fore_m: v[8], rise_m: v[9] },
            box_centres_m: v[10],
        };
        let running = Running { axle, speed_rad_s: v[11], acceleration_rad_s2: v[0] };
        let good = line(Place::Middle, 0.0, 0.0);
        for lines in [&[spec][..], &[good][..], &[good, spec][..]] {
            let Ok(motion) = Motion::new(lines) else { continue };
            if let Ok(wheel) = WheelAngle::from_rad(v[5]) {
                let _ = motion.cylinder_at(CylinderNo(number), wheel, &running);
            }
            let _ = motion.revolution(number, &running);
            let tyre = Tyre { diameter_m: v[1], diameter_standard_m: v[2] };
            if let Ok(barring) = Barring::new(&motion, tyre, axle) {
                let wanted = Wanted::CrossheadGoingForward {
                    cylinder: CylinderNo(number),
                    from_front_share: v[3],
                };
                let standing = StandingAt {
                    position: Wanted::PastFrontDeadCentre { cylinder: CylinderNo(0), past_rad: v[4] },
                    standard_rad: v[5],
                };
                if let Ok(go) = barring.moves(standing, wanted) {
                    prop_assert!(go.shorter.distance_m.is_finite());
                    prop_assert!(go.shorter.distance_m <= go.other.distance_m);
                }
            }
        }
        let _ = Arcs::from_to(&[(v[0], v[1]), (v[2], v[3])]);
        let mut sizes = *chain().sizes();
        for (i, c) in Contributor::ALL.into_iter().enumerate() {
            if i % 3 == number % 3 {
                sizes = sizes.with(c, v[i % 12]);
            }
        }
        if let Ok(c) = ClearanceChain::new(sizes) {
            let _ = c.at(v[0], Float::Back);
            let mut spreads = small_spreads();
            spreads.set(Contributor::CrankThrow, Spread::Uniform { half_width_m: v[1] });
            let _ = c.worst_case(&spreads, Float::Forward);
            let _ = c.root_sum_square(&spreads, Float::Forward);
        }
        let readings = BumpReadings {
            bump_front_m: v[0],
            travel_front_m: v[1],
            travel_back_m: v[2],
            bump_back_m: v[3],
            mark_standard_m: v[4],
            float: Float::Middle,
        };
        let _ = bump_test(&chain(), &Spreads::exact(), &readings, &[]);
        let target = CentringTarget { front_m: v[0], back_m: v[1], wanted_front_minus_back_m: v[2] };
        let _ = centring_changes(&chain(), &target);
    }

    /// Worst case encloses the drawn engines; barring there and back again ends where it began.
    #[test]
    fn worst_case_and_round_trip(from in 0.0..7.0_f64, to in 0.0..7.0_f64, seed in 0_u64..50) {
        let motion = two_inside(Leading::Left);
        let tyre = Tyre { diameter_m: 1.6, diameter_standard_m: 0.001 };
        let barring = Barring::new(&motion, tyre, AxleBoxes::AS_DRAWN).unwrap();
        let past = |past_rad| Wanted::PastFrontDeadCentre { cylinder: CylinderNo(1), past_rad };
        let there = barring
            .moves(StandingAt { position: past(from), standard_rad: 0.01 }, past(to))
            .unwrap();
        let back = barring
            .moves(
                StandingAt { position: Wanted::Wheel(there.shorter.arrival), standard_rad: 0.01 },
                past(from),
            )
            .unwrap();
        prop_assert!((there.shorter.distance_m - back.shorter.distance_m).abs() < 1e-9);
        prop_assert!(there.shorter.turn_rad <= PI + 1e-12);

        let mut spreads = Spreads::exact();
        for c in Contributor::ALL {
            spreads.set(c, Spread::Uniform { half_width_m: 0.0001 });
        }
        let options = MonteCarloOptions {
            engines: 200,
            seed,
            threads: 1,
            float: Float::Back,
            least_front_m: 0.0,
            least_back_m: 0.0,
        };
        let mc = chain().monte_carlo(&spreads, &options).unwrap();
        let worst = chain().worst_case(&spreads, Float::Back).unwrap();
        prop_assert!(worst.front_least_m < mc.front.low_m && mc.front.high_m < worst.front_greatest_m);
        prop_assert!(worst.back_least_m < mc.back.low_m && mc.back.high_m < worst.back_greatest_m);
    }
}
