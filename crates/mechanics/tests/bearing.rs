//! The oil film, its temperature and its supply, beside published values and balances.
//!
//! "From memory" at a check means that the published figure was recalled and not looked up.
//! One file for the whole topic keeps the test binaries few.

// Helpers of a test may unwrap as its tests do; published figures are not constants of pi.
#![allow(clippy::unwrap_used, clippy::approx_constant)]

use std::f64::consts::{PI, TAU};
use std::num::NonZeroUsize;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

use mechanics::bearing::film::{
    Arc, Cavitation, Film, FilmNumbers, FilmOptions, FilmProblem, FilmSolver, FilmStart, Spacing,
    solve_film,
};
use mechanics::bearing::{
    BearingError, BearingMetal, DutyInput, DutyVerdict, Felt, FeltOil, FillingEnd, FilmSetting,
    FilmVerdict, HANDBOOK_PRESSURES, HANDBOOK_PROPORTIONS, HeatPath, JournalBearing,
    JournalOptions, Keep, LoadCharacter, MapControl, MapEnd, MapInput, Oil, OilCooling, OilPoint,
    OilSheet, Place, PressureBasis, SteadyDuty, ViscosityLaw, bearing_duty, dubois_ocvirk_1953,
    felt_flow, filling_lasts, film_for_load, film_map, iso_7902_2_load_number, judge_duty,
    judge_film, permeability_from_drip, pore_from_lift, sommerfeld_1904, trimming_flow, warm_film,
};
use proptest::prelude::*;

const PSI_PA: f64 = 6894.757;
const LBF_N: f64 = 4.448_222;
const INCH_M: f64 = 0.0254;

fn close(got: f64, expected: f64, share: f64) -> bool {
    (got / expected - 1.0).abs() <= share
}

fn ring(length_over_diameter: f64, eccentricity_ratio: f64) -> FilmProblem {
    FilmProblem {
        length_over_diameter,
        eccentricity_ratio,
        tilt_ratio: 0.0,
        arc: Arc::FullRing,
        thinnest_from_start_rad: 0.0,
    }
}

fn fine() -> FilmOptions {
    FilmOptions { around: 200, across: 60, ..FilmOptions::default() }
}

fn solve(problem: FilmProblem, options: FilmOptions) -> Film {
    solve_film(&problem, &options).unwrap()
}

/// A brass loaded in its middle: swings the journal until the load points there.
fn central_brass(extent_deg: f64, eccentricity_ratio: f64, squat: f64) -> FilmNumbers {
    let extent_rad = extent_deg.to_radians();
    let load_from_start_rad = 0.5 * extent_rad;
    let mut solver = FilmSolver::new(fine()).unwrap();
    let mut attitude = 0.7;
    for _ in 0..400 {
        let problem = FilmProblem {
            length_over_diameter: squat,
            eccentricity_ratio,
            tilt_ratio: 0.0,
            arc: Arc::Brass { extent_rad, load_from_start_rad },
            thinnest_from_start_rad: load_from_start_rad + attitude,
        };
        let numbers = solver.numbers(&problem).unwrap();
        if (numbers.attitude_rad - attitude).abs() < 1e-6 {
            return numbers;
        }
        attitude = numbers.attitude_rad;
    }
    panic!("the attitude did not settle");
}

// Raimondi & Boyd

/// JB-01 to JB-07 and JB-12. Source: Raimondi & Boyd, Trans. ASLE 1 (1958) 159-209, part III
/// tables, full bearing (from memory), 2 per cent. The last column is an independent
/// finite-difference solution in NumPy, 0.5 per cent, where one was made.
#[test]
fn raimondi_boyd_full_bearing() {
    // L/D, e, S, attitude deg, friction, Q, Qs/Q, P/pmax
    let rows: [(&str, [f64; 8]); 8] = [
        ("JB-01", [1.0, 0.2, 0.631, 74.0, 12.8, 3.59, 0.280, 0.529]),
        ("JB-02", [1.0, 0.6, 0.121, 50.6, 3.22, 4.33, 0.680, 0.415]),
        ("JB-03", [1.0, 0.8, 0.0446, 36.2, 1.70, 4.62, 0.842, 0.313]),
        ("JB-04", [0.5, 0.6, 0.319, 48.1, 8.10, 4.85, 0.730, 0.365]),
        ("JB-05", [0.5, 0.2, 2.03, 74.9, 40.9, 3.72, 0.318, 0.506]),
        ("JB-06", [0.25, 0.4, 2.83, 60.9, 61.1, 4.37, 0.567, 0.415]),
        ("JB-07", [0.25, 0.8, 0.261, 31.0, 8.80, 5.60, 0.884, 0.240]),
        ("JB-12", [0.5, 0.4, 0.779, 61.5, 17.0, 4.29, 0.552, 0.441]),
    ];
    for (row, [squat, e, s, attitude, friction, inflow, share, peak]) in rows {
        let got = solve(ring(squat, e), fine()).numbers;
        println!(
            "{row}: S {:.4}/{s} att {:.2}/{attitude} f {:.3}/{friction} Q {:.3}/{inflow} \
             Qs/Q {:.4}/{share} P/pmax {:.4}/{peak}",
            got.sommerfeld,
            got.attitude_rad.to_degrees(),
            got.friction_ring,
            got.inflow_number,
            got.side_flow_share(),
            1.0 / got.peak_ratio
        );
        assert!(close(got.sommerfeld, s, 0.02), "{row} S {}", got.sommerfeld);
        assert!(close(got.attitude_rad.to_degrees(), attitude, 0.02), "{row}");
        assert!(close(got.friction_ring, friction, 0.02), "{row} f {}", got.friction_ring);
        assert!(close(got.inflow_number, inflow, 0.02), "{row} Q {}", got.inflow_number);
        assert!(close(got.side_flow_share(), share, 0.02), "{row} Qs/Q");
        // The table's 0.313 at e = 0.8 is 2 per cent below every numerical solution (0.320).
        let slack = if row == "JB-03" { 0.025 } else { 0.02 };
        assert!(close(1.0 / got.peak_ratio, peak, slack), "{row} P/pmax {}", got.peak_ratio);
        assert!(got.convergence.residual < 1e-9, "{row} {}", got.convergence);
    }
    // Independent finite-difference solution in NumPy.
    for (squat, e, s, attitude, friction) in [
        (1.0, 0.2, 0.632, 73.9, 12.83),
        (1.0, 0.6, 0.121, 50.5, 3.216),
        (1.0, 0.8, 0.0446, 36.2, 1.703),
        (0.5, 0.6, 0.3193, 48.05, 8.10),
        (0.5, 0.2, 2.032, 75.1, 41.0),
        (0.25, 0.4, 2.842, 61.2, 61.4),
        (0.25, 0.8, 0.2633, 31.25, 8.87),
        (0.5, 0.4, 0.7856, 61.8, 17.09),
    ] {
        let got = solve(ring(squat, e), fine()).numbers;
        assert!(close(got.sommerfeld, s, 0.005));
        assert!(close(got.attitude_rad.to_degrees(), attitude, 0.005));
        assert!(close(got.friction_ring, friction, 0.005));
    }
}

/// Counting only the streamers past rupture gives 10 to 20 per cent less: 2.73 in place of 3.22
/// at L/D 1, e 0.6 (reference collection, from memory).
#[test]
fn streamers_rub_less_than_a_whole_ring() {
    let got = solve(ring(1.0, 0.6), fine()).numbers;
    assert!(close(got.friction_streamers, 2.73, 0.02), "{}", got.friction_streamers);
    assert!(got.friction_streamers < got.friction_ring);
}

/// Source: Raimondi & Boyd (1958), partial bearings of 180 and 120 degrees, load in the middle,
/// L/D 1 (from memory; the attitude at 180 degrees, e = 0.4 is recalled as 58.86, which breaks
/// the row of its neighbours and is left out).
#[test]
fn raimondi_boyd_partial_bearings() {
    for (extent, e, s, friction) in [
        (180.0, 0.1, 1.40, 14.1),
        (180.0, 0.2, 0.670, 7.15),
        (180.0, 0.4, 0.278, 3.61),
        (180.0, 0.6, 0.128, 2.28),
        (180.0, 0.8, 0.0463, 1.39),
        (120.0, 0.1, 2.14, 14.5),
        (120.0, 0.2, 1.01, 7.44),
        (120.0, 0.4, 0.385, 3.60),
        (120.0, 0.6, 0.162, 2.16),
        (120.0, 0.8, 0.0531, 1.27),
    ] {
        let got = central_brass(extent, e, 1.0);
        assert!(close(got.sommerfeld, s, 0.02), "{extent} {e}: S {}", got.sommerfeld);
        assert!(close(got.friction_ring, friction, 0.02), "{extent} {e}: f {}", got.friction_ring);
    }
    for (e, attitude, inflow, share) in [
        (0.1, 78.50, 3.34, 0.139),
        (0.2, 68.93, 3.46, 0.252),
        (0.6, 44.67, 3.25, 0.572),
        (0.8, 32.33, 2.63, 0.721),
    ] {
        let got = central_brass(180.0, e, 1.0);
        assert!(close(got.attitude_rad.to_degrees(), attitude, 0.02));
        assert!(close(got.inflow_number, inflow, 0.02));
        assert!(close(got.side_flow_share(), share, 0.02));
    }
}

/// JB-08. Source: Shigley's Mechanical Engineering Design, 9th ed. (2011), examples 12-1 to 12-4
/// (from memory), 2 per cent for chart readings.
#[test]
fn shigley_examples_12_1_to_12_4() {
    let bearing = JournalBearing {
        journal_diameter_m: 1.5 * INCH_M,
        length_m: 1.5 * INCH_M,
        diametral_clearance_m: 0.003 * INCH_M,
        tilt_m: 0.0,
        arc: Arc::FullRing,
    };
    let duty = SteadyDuty { load_n: 500.0 * LBF_N, speed_rad_s: 30.0 * TAU };
    // One reyn is one lbf s/in2 = 6894.757 Pa s.
    let viscosity = 4e-6 * PSI_PA;
    let options = JournalOptions { film: fine(), ..JournalOptions::default() };
    let film = film_for_load(&bearing, &duty, viscosity, &options).unwrap();
    let inch3 = INCH_M.powi(3);
    let torque = film.torque_n_m / (LBF_N * INCH_M);
    assert!(close(film.projected_pressure_pa / PSI_PA, 222.0, 0.002));
    assert!(close(film.numbers.sommerfeld, 0.135, 0.005));
    assert!(close(film.minimum_film_m / INCH_M, 0.000_63, 0.02));
    assert!(close(film.numbers.film_ratio, 0.42, 0.02));
    assert!(close(film.numbers.friction_ring, 3.50, 0.02), "{}", film.numbers.friction_ring);
    assert!(close(film.friction_coefficient, 0.0070, 0.02));
    assert!(close(torque, 2.6, 0.02), "{torque}");
    assert!(close(film.side_flow_m3_s / inch3, 0.142, 0.02));
    assert!(close(film.inflow_m3_s / inch3, 0.22, 0.02));
    assert!(close(film.numbers.side_flow_share(), 0.655, 0.02));
    assert!(close(1.0 / film.numbers.peak_ratio, 0.42, 0.02));
    // Power is torque times speed.
    assert!(close(film.power_w, film.torque_n_m * duty.speed_rad_s, 1e-12));
    assert!(film.search.residual <= 1e-6);
}

/// JB-09: `So S = 1 / (2 pi)` from the definitions of ISO 7902-1 and Raimondi & Boyd; at L/D 1,
/// e 0.6 `So` is about 1.315 (from memory). JB-10: the standard's fit gives 1.297 there
/// (recomputed), within 3 per cent of the table.
#[test]
fn iso_7902_load_number_and_fit() {
    let numbers = solve(ring(1.0, 0.6), fine()).numbers;
    assert!(close(numbers.load_number() * numbers.sommerfeld, 1.0 / TAU, 1e-14));
    assert!(close(numbers.load_number(), 1.315, 0.005), "{}", numbers.load_number());
    let fit = iso_7902_2_load_number(0.6, 1.0).unwrap();
    assert!((fit - 1.297).abs() < 0.0005, "{fit}");
    // S 0.1227 and at e 0.8 S 0.0433 (recomputed in the reference collection).
    assert!((1.0 / (TAU * fit) - 0.1227).abs() < 0.000_05);
    assert!((1.0 / (TAU * iso_7902_2_load_number(0.8, 1.0).unwrap()) - 0.0433).abs() < 0.000_05);
    // As recalled, the fit lies up to 11 per cent low between 1/2 and 1: those are left out.
    for squat in [0.25, 0.4, 0.5, 1.0] {
        for e in [0.4, 0.6, 0.8, 0.9] {
            let solved = solve(ring(squat, e), fine()).numbers.load_number();
            let fit = iso_7902_2_load_number(e, squat).unwrap();
            // The fit drifts as the film thins: Raimondi & Boyd's S 0.0313 at L/D 1/2, e 0.9 (from
            // memory) is So 5.08, solved 5.09, fitted 5.38.
            let slack = if e > 0.85 { 0.06 } else { 0.035 };
            assert!(close(fit, solved, slack), "{squat} {e}: fit {fit}, solved {solved}");
        }
    }
}

// Limits in closed form

/// JB-11 and the limit of a very short bearing. Source: Dubois & Ocvirk, NACA TR 1157 (1953)
/// (from memory); Raimondi & Boyd give S 7.57 at L/D 1/4, e 0.2 where the short theory says 7.38.
#[test]
fn short_bearing_limit() {
    let short = dubois_ocvirk_1953(0.2, 0.25).unwrap();
    assert!((short.sommerfeld - 7.379).abs() < 0.001);
    assert!(close(solve(ring(0.25, 0.2), fine()).numbers.sommerfeld, 7.57, 0.02));
    for e in [0.2, 0.5, 0.8] {
        // Halving the length must bring the film nearer the closed form.
        let miss = |squat: f64| {
            let short = dubois_ocvirk_1953(e, squat).unwrap();
            // Gümbel's film is what Ocvirk assumed; grid fine enough that the limit shows.
            let options =
                FilmOptions { cavitation: Cavitation::HalfSommerfeld, around: 400, ..fine() };
            let got = solve(ring(squat, e), options).numbers;
            let attitude = (got.attitude_rad - short.attitude_rad).abs();
            let flow = (got.side_flow_number / short.side_flow_number - 1.0).abs();
            let friction = (got.friction_ring / short.friction - 1.0).abs();
            ((got.sommerfeld / short.sommerfeld - 1.0).abs(), attitude, flow, friction)
        };
        let (far, near) = (miss(0.2), miss(0.05));
        assert!(near.0 < 0.015 && near.0 < 0.15 * far.0, "{e}: {near:?} {far:?}");
        assert!(near.1 < 0.003, "{e}: attitude {}", near.1);
        assert!(near.2 < 0.003, "{e}: side flow {}", near.2);
        assert!(near.3 < 0.015, "{e}: friction {}", near.3);
    }
}

/// The limit of a very long bearing whose oil may pull. Source: Sommerfeld (1904), closed form
/// (from memory). End effects fall as D/L, so two lengths are run out to infinity.
#[test]
fn long_bearing_limit_of_sommerfeld() {
    for e in [0.2, 0.5, 0.8] {
        let long = sommerfeld_1904(e).unwrap();
        let at = |squat: f64| {
            let options = FilmOptions { cavitation: Cavitation::FullFilm, across: 240, ..fine() };
            solve(ring(squat, e), options).numbers
        };
        let (a, b) = (at(20.0), at(40.0));
        let load = 2.0 / b.sommerfeld - 1.0 / a.sommerfeld;
        assert!(close(1.0 / load, long.sommerfeld, 0.002), "{e}: {}", 1.0 / load);
        // An uncavitated film pushes square to the line of centres, at any length.
        assert!((b.attitude_rad - 0.5 * PI).abs() < 1e-9);
        let friction = 2.0 * b.friction_ring - a.friction_ring;
        assert!(close(friction, long.friction, 0.002), "{e}: {friction}");
    }
}

/// A very long bearing with Reynolds' rupture, beside a quadrature of the one-dimensional
/// equation that shares nothing with the solver: `dp/dt = (H - Hr) / H^3`, `Hr` such that the
/// pressure is zero at both ends of the film.
#[test]
fn long_bearing_with_rupture_agrees_with_quadrature() {
    // Raimondi & Boyd, L/D infinite (from memory): e, S, attitude.
    for (e, s_book, attitude_book) in
        [(0.2, 0.123, 67.26), (0.4, 0.0626, 61.94), (0.6, 0.0389, 54.31), (0.8, 0.0210, 42.22)]
    {
        let steps = 20_000;
        let film = |t: f64| 1.0 + e * t.cos();
        // Pressure at the film's end, if it is at `end`; the right end makes it zero.
        let sums = |end: f64| {
            let (mut p, mut x, mut y) = (0.0, 0.0, 0.0);
            let dt = end / steps as f64;
            for i in 0..steps {
                let t = (i as f64 + 0.5) * dt;
                let rise = (film(t) - film(end)) / film(t).powi(3) * dt;
                let here = p + 0.5 * rise;
                x += here * t.cos() * dt;
                y += here * t.sin() * dt;
                p += rise;
            }
            (p, x, y)
        };
        let (mut low, mut high) = (PI, 1.5 * PI);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if sums(middle).0 > 0.0 { low = middle } else { high = middle }
        }
        let (_, x, y) = sums(low);
        let s = 1.0 / (6.0 * PI * x.hypot(y));
        let attitude = (PI - y.atan2(x)).to_degrees();
        assert!(close(s, s_book, 0.02), "quadrature {e}: S {s}");
        assert!(close(attitude, attitude_book, 0.02), "quadrature {e}: attitude {attitude}");
        let at = |squat: f64| solve(ring(squat, e), FilmOptions { across: 240, ..fine() }).numbers;
        let (a, b) = (at(20.0), at(40.0));
        let load = 2.0 / b.sommerfeld - 1.0 / a.sommerfeld;
        assert!(close(1.0 / load, s, 0.003), "{e}: {} beside {s}", 1.0 / load);
        let got = (2.0 * b.attitude_rad - a.attitude_rad).to_degrees();
        assert!(close(got, attitude, 0.004), "{e}: {got} beside {attitude}");
    }
}

// Grid

/// The error falls as the square of the step: second order, on both spacings.
#[test]
fn grid_convergence_is_second_order() {
    // Equal steps of 48 cells do not resolve an eccentricity of 0.85; crowded ones do.
    for (spacing, eccentricities) in
        [(Spacing::Graded, &[0.3, 0.6, 0.85][..]), (Spacing::Uniform, &[0.3, 0.6])]
    {
        for &e in eccentricities {
            let load = |around: usize, across: usize| {
                let options = FilmOptions { around, across, spacing, ..FilmOptions::default() };
                let numbers = solve(ring(0.8, e), options).numbers;
                [1.0 / numbers.sommerfeld, numbers.attitude_rad, numbers.inflow_number]
            };
            let grids = [load(48, 16), load(96, 32), load(192, 64), load(384, 128)];
            for (i, name) in ["load", "attitude", "inflow"].iter().enumerate() {
                let gaps: Vec<f64> =
                    grids.windows(2).map(|pair| (pair[1][i] - pair[0][i]).abs()).collect();
                let order = (gaps[0] / gaps[2]).log2() / 2.0;
                println!("{spacing:?} e {e} {name}: gaps {gaps:?} order {order:.2}");
                if *name == "load" {
                    assert!((1.6..2.6).contains(&order), "{spacing:?} {e} {name}: {order}");
                }
                // The others settle too, and to within 0.1 per cent.
                assert!(gaps[2] < 1e-3 * grids[3][i].abs(), "{spacing:?} {e} {name}");
            }
        }
    }
}

/// The whole bearing solved with a vanishing tilt is the half solved about its mirror.
#[test]
fn half_and_whole_agree() {
    let half = solve(ring(0.7, 0.7), fine()).numbers;
    let whole = solve(FilmProblem { tilt_ratio: 1e-13, ..ring(0.7, 0.7) }, fine()).numbers;
    for (a, b) in [
        (half.sommerfeld, whole.sommerfeld),
        (half.attitude_rad, whole.attitude_rad),
        (half.friction_ring, whole.friction_ring),
        (half.friction_streamers, whole.friction_streamers),
        (half.inflow_number, whole.inflow_number),
        (half.side_flow_number, whole.side_flow_number),
        (half.peak_ratio, whole.peak_ratio),
    ] {
        assert!(close(a, b, 1e-9), "{a} {b}");
    }
    // Turned end for end, a tilted film is the same film.
    let one = solve(FilmProblem { tilt_ratio: 0.15, ..ring(0.7, 0.6) }, fine()).numbers;
    let other = solve(FilmProblem { tilt_ratio: -0.15, ..ring(0.7, 0.6) }, fine()).numbers;
    assert!(close(one.sommerfeld, other.sommerfeld, 1e-9));
    assert!(close(one.tipping_ratio, -other.tipping_ratio, 1e-7));
    // The load sits towards the end that lies nearer.
    assert!(one.tipping_ratio > 0.0);
}

// Balances

/// Force, energy and moment, added up here from the pressures alone.
#[test]
fn force_energy_and_moment_balance() {
    for (squat, e) in [(1.0, 0.4), (0.5, 0.7), (1.5, 0.85)] {
        let film = solve(ring(squat, e), FilmOptions { around: 400, across: 80, ..fine() });
        let (numbers, field) = (film.numbers, film.field);
        let places = field.across.len();
        let (mut x, mut y, mut lost, mut pushed) = (0.0, 0.0, 0.0, 0.0);
        for i in 0..field.angle_rad.len() - 1 {
            let dt = field.angle_rad[i + 1] - field.angle_rad[i];
            let t = field.angle_rad[i] + 0.5 * dt;
            for j in 0..places - 1 {
                let dz = field.across[j + 1] - field.across[j];
                let k = i * places + j;
                let corners = [k, k + 1, k + places, k + places + 1];
                let mean = |values: &[f64]| corners.map(|c| values[c]).iter().sum::<f64>() / 4.0;
                let (p, h) = (mean(&field.pressure), mean(&field.film_ratio));
                let [a, b, c, d] = corners.map(|c| field.pressure[c]);
                let around = (c + d - a - b) / (2.0 * dt);
                let across = (b + d - a - c) / (2.0 * dz);
                let area = dt * dz;
                x += p * t.cos() * area;
                y += p * t.sin() * area;
                lost +=
                    h.powi(3) * (around.powi(2) + across.powi(2) / (2.0 * squat).powi(2)) * area;
                pushed += h * around * area;
            }
        }
        let load = x.hypot(y);
        assert!(close(numbers.sommerfeld, 1.0 / (6.0 * PI * load), 1e-3));
        assert!((numbers.attitude_rad - (PI - y.atan2(x))).abs() < 1e-3);
        // Work done against the pressures is lost in the flow they drive.
        assert!(close(lost, pushed, 0.01), "{squat} {e}: lost {lost}, pushed {pushed}");
        // Moment: the journal's torque exceeds the bearing's by load times the offset of its
        // line, `W e sin(attitude)`; and `int 1/H` is Sommerfeld's integral.
        let couette = TAU / (1.0 - e * e).sqrt();
        let torque = couette + 3.0 * e * load * numbers.attitude_rad.sin();
        assert!(close(numbers.friction_ring * 6.0 * load, torque, 2e-3));
        assert!(close(pushed, e * load * numbers.attitude_rad.sin(), 5e-3));
    }
}

/// Oil in at the inlet is oil out at the ends and past the film's end.
#[test]
fn oil_is_neither_made_nor_lost() {
    for (squat, e) in [(1.0, 0.4), (0.5, 0.7), (0.25, 0.8)] {
        let film = solve(ring(squat, e), FilmOptions { around: 800, across: 160, ..fine() });
        let (numbers, field) = (film.numbers, film.field);
        let places = field.across.len();
        // Past the film's end oil moves with the mean speed through the gap it left by.
        let mut carried = 0.0;
        for j in 0..places {
            // The end of the bearing has no pressure: its film ends like its neighbour's.
            let beside = j.clamp(1, places - 2);
            let last = (0..field.angle_rad.len())
                .rev()
                .find(|i| field.pressure[i * places + beside] > 0.0)
                .unwrap();
            let weight = if j == 0 || j == places - 1 { 0.5 } else { 1.0 };
            let end = 0.5
                * (field.film_ratio[last * places + j] + field.film_ratio[(last + 1) * places + j]);
            carried += weight * end / (places - 1) as f64;
        }
        let carried = PI * carried;
        let balance = numbers.inflow_number - numbers.side_flow_number;
        assert!(close(balance, carried, 0.01), "{squat} {e}: {balance} beside {carried}");
    }
}

#[test]
fn load_and_film_move_the_right_way() {
    // Nearer to the brass, more load, at every proportion.
    for squat in [0.25, 1.0, 3.0] {
        let loads: Vec<f64> = (1..20)
            .map(|i| {
                let numbers =
                    solve(ring(squat, 0.05 * f64::from(i)), FilmOptions::default()).numbers;
                1.0 / numbers.sommerfeld
            })
            .collect();
        assert!(loads.windows(2).all(|pair| pair[0] < pair[1]), "{squat}: {loads:?}");
    }
    let bearing = axlebox(0.25e-3);
    let run = |bearing: &JournalBearing, load_n: f64, viscosity: f64| {
        let duty = SteadyDuty { load_n, speed_rad_s: 10.0 };
        film_for_load(bearing, &duty, viscosity, &JournalOptions::default()).unwrap()
    };
    let films: Vec<f64> =
        [20e3, 40e3, 80e3, 160e3].map(|load| run(&bearing, load, 0.1).minimum_film_m).to_vec();
    assert!(films.windows(2).all(|pair| pair[0] > pair[1]), "{films:?}");
    let films: Vec<f64> =
        [0.02, 0.05, 0.1, 0.3].map(|mu| run(&bearing, 80e3, mu).minimum_film_m).to_vec();
    assert!(films.windows(2).all(|pair| pair[0] < pair[1]), "{films:?}");
    // More clearance, more eccentric, and the peak pressure rises.
    let slack: Vec<_> =
        [0.15e-3, 0.3e-3, 0.6e-3].map(|clearance| run(&axlebox(clearance), 80e3, 0.1)).to_vec();
    assert!(slack.windows(2).all(|pair| {
        pair[0].numbers.eccentricity_ratio < pair[1].numbers.eccentricity_ratio
            && pair[0].peak_pressure_pa < pair[1].peak_pressure_pa
    }));
}

// A journal under load

fn axlebox(diametral_clearance_m: f64) -> JournalBearing {
    JournalBearing {
        journal_diameter_m: 0.2,
        length_m: 0.22,
        diametral_clearance_m,
        tilt_m: 0.0,
        arc: Arc::Brass {
            extent_rad: 120.0_f64.to_radians(),
            load_from_start_rad: 60.0_f64.to_radians(),
        },
    }
}

fn bearing_oil(law: ViscosityLaw) -> Oil {
    Oil::new(OilSheet {
        cooler: OilPoint { kinematic_m2_s: 220e-6, temperature_k: 313.15 },
        warmer: OilPoint { kinematic_m2_s: 19e-6, temperature_k: 373.15 },
        density_kg_m3: 900.0,
        heat_capacity_j_kg_k: 2000.0,
        law,
    })
    .unwrap()
}

#[test]
fn the_load_found_is_the_load_asked_for() {
    for arc in [Arc::FullRing, axlebox(0.25e-3).arc] {
        let bearing = JournalBearing { arc, ..axlebox(0.25e-3) };
        for load_n in [2e3, 50e3, 400e3] {
            let duty = SteadyDuty { load_n, speed_rad_s: 12.0 };
            let film = film_for_load(&bearing, &duty, 0.08, &JournalOptions::default()).unwrap();
            // Solve the film there from cold and see what it carries and which way it pushes.
            let problem = FilmProblem {
                length_over_diameter: 1.1,
                eccentricity_ratio: film.numbers.eccentricity_ratio,
                tilt_ratio: 0.0,
                arc,
                thinnest_from_start_rad: film.numbers.thinnest_from_start_rad,
            };
            let again = solve(problem, FilmOptions::default()).numbers;
            // P = mu N (R/c)^2 / S, W = P d L
            let slack = 0.2_f64 / 0.25e-3;
            let load = 0.08 * 12.0 / TAU * slack * slack / again.sommerfeld * 0.2 * 0.22;
            assert!(close(load, load_n, 1e-5), "{load} beside {load_n}");
            if let Arc::Brass { load_from_start_rad, .. } = arc {
                assert!((again.load_from_start_rad - load_from_start_rad).abs() < 1e-5);
            }
        }
    }
}

#[test]
fn a_load_no_film_can_carry_is_refused() {
    let bearing = axlebox(0.25e-3);
    let duty = SteadyDuty { load_n: 9e7, speed_rad_s: 0.001 };
    let outcome = film_for_load(&bearing, &duty, 0.01, &JournalOptions::default());
    assert!(matches!(outcome, Err(BearingError::LoadOutsideFilm { .. })), "{outcome:?}");
    // Thin film on a coarse grid is refused, not guessed.
    let coarse = FilmOptions { around: 16, across: 8, ..FilmOptions::default() };
    let outcome = solve_film(&ring(1.0, 0.999), &coarse);
    assert!(matches!(outcome, Err(BearingError::GridTooCoarse { .. })), "{outcome:?}");
    // A search cut short says so, with its residual.
    let hasty = FilmOptions { most_passes: 1, spacing: Spacing::Uniform, ..fine() };
    match solve_film(&ring(1.0, 0.6), &hasty) {
        Err(BearingError::NotConverged { convergence, .. }) => {
            assert_eq!(convergence.passes, 1);
            assert!(convergence.residual > 1e-9);
        }
        other => panic!("{other:?}"),
    }
}

// Oil and heat

/// Source: a published calculator sheet on ASTM D341 (read): 32 mm2/s at 40 degC, 5.4 at 100 degC
/// give A 9.5259, B 3.7449 and 8.5 mm2/s at 80 degC (it takes 0 degC as 273 K).
#[test]
fn walther_worked_example() {
    let oil = Oil::new(OilSheet {
        cooler: OilPoint { kinematic_m2_s: 32e-6, temperature_k: 313.0 },
        warmer: OilPoint { kinematic_m2_s: 5.4e-6, temperature_k: 373.0 },
        density_kg_m3: 870.0,
        heat_capacity_j_kg_k: 2000.0,
        law: ViscosityLaw::Walther,
    })
    .unwrap();
    let at_80 = oil.kinematic_m2_s(353.0).unwrap() * 1e6;
    assert!((at_80 - 8.5).abs() < 0.05, "{at_80}");
    let by_hand = 10.0_f64.powf(10.0_f64.powf(9.5259 - 3.7449 * 353.0_f64.log10())) - 0.7;
    assert!((at_80 - by_hand).abs() < 0.01, "{at_80} beside {by_hand}");
}

#[test]
fn both_viscosity_laws_go_through_their_points_and_come_back() {
    for law in [ViscosityLaw::Walther, ViscosityLaw::Vogel] {
        let oil = bearing_oil(law);
        assert!(close(oil.kinematic_m2_s(313.15).unwrap(), 220e-6, 1e-9));
        assert!(close(oil.kinematic_m2_s(373.15).unwrap(), 19e-6, 1e-9));
        for t in [260.0, 300.0, 345.6, 400.0, 500.0] {
            let back = oil.temperature_at(oil.viscosity_pa_s(t).unwrap()).unwrap();
            assert!((back - t).abs() < 1e-6, "{law:?}: {back} beside {t}");
        }
        assert_eq!(oil.temperature_at(1e6), None);
        assert_eq!(oil.temperature_at(f64::NAN), None);
    }
    // Between the points the two laws agree within a few per cent.
    let (a, b) = (bearing_oil(ViscosityLaw::Walther), bearing_oil(ViscosityLaw::Vogel));
    let (a, b) = (a.viscosity_pa_s(343.15).unwrap(), b.viscosity_pa_s(343.15).unwrap());
    assert!(close(a, b, 0.05), "{a} {b}");
    let backwards = OilSheet {
        cooler: OilPoint { kinematic_m2_s: 10e-6, temperature_k: 313.0 },
        warmer: OilPoint { kinematic_m2_s: 20e-6, temperature_k: 373.0 },
        density_kg_m3: 900.0,
        heat_capacity_j_kg_k: 2000.0,
        law: ViscosityLaw::Walther,
    };
    assert!(matches!(Oil::new(backwards), Err(BearingError::ViscosityNotFalling { .. })));
}

fn still_air(oil: OilCooling) -> HeatPath {
    HeatPath { oil, inlet_k: 293.15, surface_w_k: 12.0, air_k: 288.15 }
}

/// The running temperature beside a plain fixed-point iteration on the temperature, which
/// shares only the isothermal film with it.
#[test]
fn running_temperature_agrees_with_plain_iteration() {
    let (bearing, oil) = (axlebox(0.25e-3), bearing_oil(ViscosityLaw::Walther));
    let duty = SteadyDuty { load_n: 80e3, speed_rad_s: 20.0 };
    let options = JournalOptions::default();
    for cooling in [OilCooling::SideFlowReplaced, OilCooling::FreshInlet, OilCooling::None] {
        let heat = still_air(cooling);
        let warm = warm_film(&bearing, &duty, &oil, &heat, &options).unwrap();
        let made = warm.film.power_w;
        assert!(close(made, warm.oil_heat_w + warm.surface_heat_w, 1e-5), "{cooling:?}");
        assert!(close(warm.film.viscosity_pa_s, oil.viscosity_pa_s(warm.film_k).unwrap(), 1e-9));
        let mut t = 330.0;
        for _ in 0..60 {
            let film =
                film_for_load(&bearing, &duty, oil.viscosity_pa_s(t).unwrap(), &options).unwrap();
            let flow = match cooling {
                OilCooling::SideFlowReplaced => film.side_flow_m3_s,
                OilCooling::FreshInlet => film.inflow_m3_s - 0.5 * film.side_flow_m3_s,
                OilCooling::None => 0.0,
            };
            let carried = 2.0 * oil.density_kg_m3(t).unwrap() * 2000.0 * flow;
            let next = (film.power_w + carried * heat.inlet_k + heat.surface_w_k * heat.air_k)
                / (carried + heat.surface_w_k);
            t += 0.5 * (next - t);
        }
        assert!((warm.film_k - t).abs() < 0.02, "{cooling:?}: {} beside {t}", warm.film_k);
    }
}

#[test]
fn heat_that_cannot_leave_has_no_running_temperature() {
    let (bearing, oil) = (axlebox(0.25e-3), bearing_oil(ViscosityLaw::Walther));
    let duty = SteadyDuty { load_n: 80e3, speed_rad_s: 20.0 };
    let sealed =
        HeatPath { oil: OilCooling::None, inlet_k: 293.15, surface_w_k: 0.0, air_k: 293.15 };
    let outcome = warm_film(&bearing, &duty, &oil, &sealed, &JournalOptions::default());
    assert!(
        matches!(
            outcome,
            Err(BearingError::NoHeatBalance { .. } | BearingError::LoadOutsideFilm { .. })
        ),
        "{outcome:?}"
    );
    // Warmer oil in, warmer and thinner film.
    let at = |inlet_k: f64| {
        let heat = HeatPath { inlet_k, ..still_air(OilCooling::SideFlowReplaced) };
        warm_film(&bearing, &duty, &oil, &heat, &JournalOptions::default()).unwrap()
    };
    let (cool, hot) = (at(283.15), at(313.15));
    assert!(cool.film_k < hot.film_k && cool.film.minimum_film_m > hot.film.minimum_film_m);
}

// Map

#[test]
fn map_is_the_same_on_one_thread_and_two_and_can_be_stopped() {
    let clearances = [0.15e-3, 0.25e-3, 0.4e-3, 0.7e-3];
    let loads = [20e3, 60e3, 120e3, 240e3, 8e7];
    let input = MapInput {
        bearing: axlebox(1e-3),
        speed_rad_s: 12.0,
        oil: bearing_oil(ViscosityLaw::Walther),
        heat: still_air(OilCooling::SideFlowReplaced),
        diametral_clearances_m: &clearances,
        loads_n: &loads,
    };
    let options = JournalOptions {
        film: FilmOptions { around: 64, across: 16, ..FilmOptions::default() },
        ..JournalOptions::default()
    };
    let told = AtomicUsize::new(0);
    let count = |done: usize, of: usize| {
        assert!(done <= of && of == 20);
        told.fetch_add(1, Ordering::Relaxed);
    };
    let go = AtomicBool::new(false);
    let map = |threads: usize| {
        let control = MapControl {
            threads: NonZeroUsize::new(threads).unwrap(),
            progress: &count,
            stop: &go,
        };
        film_map(&input, &control, &options).unwrap()
    };
    let (one, two) = (map(1), map(2));
    assert_eq!(one, two);
    assert_eq!(one.end, MapEnd::Complete);
    assert_eq!(told.load(Ordering::Relaxed), 40);
    assert_eq!(one.tried(), 20);
    // What cannot be carried is said at its own point only.
    assert!(matches!(one.point(1, 4), Some(Err(_))));
    let single = warm_film(
        &axlebox(clearances[1]),
        &SteadyDuty { load_n: loads[2], speed_rad_s: 12.0 },
        &input.oil,
        &input.heat,
        &options,
    )
    .unwrap();
    let in_map = one.point(1, 2).unwrap().as_ref().unwrap();
    assert!((single.film_k - in_map.film_k).abs() < 1e-3);
    assert_eq!(one.point(0, 5), None);

    // Stopped after seven points: those are kept, the rest are not made up.
    let stop = AtomicBool::new(false);
    let halt = |done: usize, _: usize| {
        if done >= 7 {
            stop.store(true, Ordering::Relaxed);
        }
    };
    let control = MapControl { threads: NonZeroUsize::MIN, progress: &halt, stop: &stop };
    let part = film_map(&input, &control, &options).unwrap();
    assert_eq!((part.end, part.tried()), (MapEnd::Stopped, 7));
    for k in 0..7 {
        assert_eq!(part.points[k], one.points[k]);
    }
}

// Duty

/// WM-08: 18 000 lbf on a journal 8 in by 10 in is 225 psi (arithmetic). WM-06: Khurmi & Gupta
/// (2005), Table 26.3 (from memory).
#[test]
fn projected_pressure_and_handbook() {
    let duty = bearing_duty(&DutyInput {
        load_n: 18_000.0 * LBF_N,
        diameter_m: 8.0 * INCH_M,
        length_m: 10.0 * INCH_M,
        speed_rad_s: 20.0,
    })
    .unwrap();
    assert!(close(duty.pressure_pa / PSI_PA, 225.0, 1e-6));
    assert!(close(duty.speed_m_s, 20.0 * 4.0 * INCH_M, 1e-12));
    assert!(close(duty.pv_w_m2, duty.pressure_pa * duty.speed_m_s, 1e-12));

    let book = |place: Place| {
        HANDBOOK_PRESSURES
            .iter()
            .find(|row| row.place == place && row.source.contains("Khurmi"))
            .map(|row| row.high_pa)
    };
    assert_eq!(book(Place::DrivingAxle), Some(3.85e6));
    assert_eq!(book(Place::BigEnd), Some(14e6));
    assert_eq!(book(Place::CrossheadPin), Some(28e6));
    let shares: Vec<_> = HANDBOOK_PROPORTIONS
        .iter()
        .map(|row| (row.clearance_share, row.least_length_share, row.greatest_length_share))
        .collect();
    assert_eq!(shares, [(0.001, 1.6, 1.8), (0.001, 0.7, 1.1), (0.001, 0.8, 1.3)]);

    let metal = BearingMetal::TinWhiteMetal;
    let judged = judge_duty(&duty, Place::DrivingAxle, PressureBasis::DeadLoad, metal);
    // 225 psi is above the 220 psi of the dead-load row.
    assert_eq!(judged.verdict, DutyVerdict::Beyond);
    let judged = judge_duty(&duty, Place::DrivingAxle, PressureBasis::GreatestLoad, metal);
    assert_eq!(judged.verdict, DutyVerdict::Within);
    assert!(judged.reasons.iter().any(|reason| reason.contains("from memory")));
}

#[test]
fn film_verdicts_say_why() {
    let (bearing, oil) = (axlebox(0.25e-3), bearing_oil(ViscosityLaw::Walther));
    let duty = SteadyDuty { load_n: 60e3, speed_rad_s: 15.0 };
    let heat = still_air(OilCooling::SideFlowReplaced);
    let warm = warm_film(&bearing, &duty, &oil, &heat, &JournalOptions::default()).unwrap();
    let setting = FilmSetting {
        load: LoadCharacter::Steady,
        journal_rq_m: 0.8e-6,
        metal_rq_m: 1.6e-6,
        metal: BearingMetal::TinWhiteMetal,
        supply_m3_s: Some(1.0),
    };
    let judge = |setting: &FilmSetting| judge_film(&warm, 0.2, setting).unwrap();
    let good = judge(&setting);
    assert_eq!(good.verdict, FilmVerdict::FullFilm);
    // Trumpler: 0.0002 in + 0.00004 d (Shigley, from memory): 13.1 um at 200 mm.
    assert!((good.trumpler_m - 13.08e-6).abs() < 1e-8);
    let starved = judge(&FilmSetting { supply_m3_s: Some(1e-9), ..setting });
    assert_eq!(starved.verdict, FilmVerdict::CannotTell);
    assert!(starved.reasons.iter().any(|reason| reason.contains("starved")));
    let big_end = judge(&FilmSetting { load: LoadCharacter::Reversing, ..setting });
    assert_eq!(big_end.verdict, FilmVerdict::CannotTell);
    assert!(big_end.reasons.iter().any(|reason| reason.contains("reverses")));
    let rough = judge(&FilmSetting { metal_rq_m: 90e-6, ..setting });
    assert_eq!(rough.verdict, FilmVerdict::Boundary);
    assert!(judge_film(&warm, 0.2, &FilmSetting { metal_rq_m: f64::NAN, ..setting }).is_err());
}

// Felt

fn pad() -> (Felt, FeltOil, Keep) {
    (
        Felt {
            area_m2: 0.01,
            path_m: 0.1,
            permeability_m2: 2e-11,
            pore_radius_m: 25e-6,
            flow_share_left: 1.0,
        },
        FeltOil {
            viscosity_pa_s: 0.2,
            density_kg_m3: 890.0,
            surface_tension_n_m: 0.031,
            contact_angle_rad: 0.0,
        },
        Keep {
            surface_m2: 0.03,
            lift_full_m: 0.06,
            usable_depth_m: 0.03,
            return_share: 0.5,
            wanted_m3_s: 1e-9,
            halving_s: Some(40.0 * 3600.0),
            horizon_s: 1e8,
        },
    )
}

/// Jurin: 2 x 0.031 / (890 x 9.80665 x 25e-6) = 284 mm of lift. Darcy by hand below. Both are
/// physics (1718, 1856); the felt's own figures are invented.
#[test]
fn felt_flow_by_hand() {
    let (felt, oil, _) = pad();
    let flow = felt_flow(&felt, &oil, 0.06).unwrap();
    assert!((flow.lift_limit_m - 0.28415).abs() < 1e-4, "{}", flow.lift_limit_m);
    let by_hand = 2e-11 * 0.01 * (2480.0 - 890.0 * 9.80665 * 0.06) / (0.2 * 0.1);
    assert!(close(flow.flow_m3_s, by_hand, 1e-9));
    assert_eq!(felt_flow(&felt, &oil, 0.3).unwrap().flow_m3_s, 0.0);
    // Less with lift, with clogging and with cold oil.
    let more = felt_flow(&felt, &oil, 0.02).unwrap().flow_m3_s;
    let clogged = felt_flow(&Felt { flow_share_left: 0.4, ..felt }, &oil, 0.06).unwrap().flow_m3_s;
    let cold = felt_flow(&felt, &FeltOil { viscosity_pa_s: 0.8, ..oil }, 0.06).unwrap().flow_m3_s;
    assert!(more > flow.flow_m3_s);
    assert!(close(clogged, 0.4 * flow.flow_m3_s, 1e-12));
    assert!(close(cold, 0.25 * flow.flow_m3_s, 1e-12));
    // The two figures can be read back off the felt.
    let k = permeability_from_drip(&felt, &oil, flow.flow_m3_s, flow.driving_pa).unwrap();
    assert!(close(k, felt.permeability_m2, 1e-9));
    assert!(close(pore_from_lift(&oil, flow.lift_limit_m).unwrap(), 25e-6, 1e-9));
    let trimming = trimming_flow(&felt, &oil, 0.03, 0.05).unwrap();
    assert!(close(trimming.flow_m3_s, 2e-11 * 0.01 * 890.0 * 9.80665 * 0.05 / 0.02, 1e-9));
    assert_eq!(trimming_flow(&felt, &oil, 0.3, 0.05).unwrap().flow_m3_s, 0.0);
}

/// The closed form beside a step-by-step integration of level and clogging.
#[test]
fn filling_agrees_with_stepping() {
    let (felt, oil, keep) = pad();
    for (keep, end) in [
        (keep, FillingEnd::LevelTooLow),
        (Keep { wanted_m3_s: 1.2e-8, ..keep }, FillingEnd::FlowTooSmall),
        (Keep { halving_s: None, ..keep }, FillingEnd::LevelTooLow),
    ] {
        let filling = filling_lasts(&felt, &oil, &keep).unwrap();
        assert_eq!(filling.end, end);
        let steps = 20_000;
        let dt = filling.lasts_s / f64::from(steps);
        let (mut level, mut flow) = (0.0, 0.0);
        for i in 0..steps {
            let at = |t: f64, level: f64| {
                let share = keep.halving_s.map_or(1.0, |halving| 0.5_f64.powf(t / halving));
                let felt = Felt { flow_share_left: share, ..felt };
                felt_flow(&felt, &oil, keep.lift_full_m + level).unwrap().flow_m3_s
            };
            let t = f64::from(i) * dt;
            let half = level + 0.25 * dt * at(t, level) / keep.surface_m2;
            flow = at(t + 0.5 * dt, half);
            level += 0.5 * flow * dt / keep.surface_m2;
        }
        match end {
            FillingEnd::LevelTooLow => assert!(close(level, keep.usable_depth_m, 1e-4)),
            _ => assert!(close(flow, keep.wanted_m3_s, 1e-3)),
        }
        assert!(close(filling.used_m3, level * keep.surface_m2, 1e-4));
    }
    let never = filling_lasts(&felt, &oil, &Keep { wanted_m3_s: 1.0, ..keep }).unwrap();
    assert_eq!((never.end, never.lasts_s), (FillingEnd::NeverEnough, 0.0));
    let long = Keep { horizon_s: 60.0, ..keep };
    assert_eq!(filling_lasts(&felt, &oil, &long).unwrap().end, FillingEnd::OutlastsHorizon);
}

// Anything at all

fn anything() -> impl Strategy<Value = f64> {
    prop_oneof![
        Just(f64::NAN),
        Just(f64::INFINITY),
        Just(f64::NEG_INFINITY),
        Just(0.0),
        Just(-1.0),
        Just(1e300),
        1e-6..1e6_f64,
        0.0..1.0_f64,
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 100, failure_persistence: None, ..ProptestConfig::default() })]

    /// Films over the whole range that is accepted: settled, positive, and within what must hold
    /// of any film.
    #[test]
    fn films_over_the_whole_range_are_sound(
        squat in 0.05..4.0_f64, e in 0.01..0.97_f64, tilt in -0.3..0.3_f64,
        extent in 0.6..TAU, thinnest in 0.2..5.0_f64, whole in any::<bool>(),
    ) {
        let tilt_ratio = if whole { tilt * e.min(1.0 - e) } else { 0.0 };
        let options = FilmOptions { around: 72, across: 12, ..FilmOptions::default() };
        for arc in [Arc::FullRing, Arc::Brass { extent_rad: extent, load_from_start_rad: 0.5 }] {
            let problem = FilmProblem {
                length_over_diameter: squat,
                eccentricity_ratio: e,
                tilt_ratio,
                arc,
                thinnest_from_start_rad: thinnest.min(extent),
            };
            let numbers = solve_film(&problem, &options).unwrap().numbers;
            prop_assert!(numbers.sommerfeld > 0.0 && numbers.sommerfeld.is_finite());
            prop_assert!(numbers.convergence.residual <= options.tolerance);
            prop_assert!(numbers.peak_ratio > 1.0);
            prop_assert!(numbers.friction_streamers <= numbers.friction_ring * (1.0 + 1e-12));
            prop_assert!(numbers.friction_streamers > 0.0);
            prop_assert!(numbers.inflow_number > 0.0 && numbers.side_flow_number >= 0.0);
            if numbers.start == FilmStart::AtInlet {
                prop_assert!(numbers.side_flow_number < numbers.inflow_number * 1.02);
            }
            if arc == Arc::FullRing {
                prop_assert_eq!(numbers.start, FilmStart::AtInlet);
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    /// No input panics, and what comes back as an answer is finite.
    #[test]
    fn nothing_panics(a in anything(), b in anything(), c in anything(), d in anything(),
                      e in anything(), around in 0_usize..40, across in 0_usize..12) {
        let options = FilmOptions { around, across, ..FilmOptions::default() };
        let arc = Arc::Brass { extent_rad: d, load_from_start_rad: e };
        for arc in [Arc::FullRing, arc] {
            let problem = FilmProblem {
                length_over_diameter: a,
                eccentricity_ratio: b,
                tilt_ratio: c * 0.1,
                arc,
                thinnest_from_start_rad: e,
            };
            if let Ok(film) = solve_film(&problem, &options) {
                prop_assert!(film.numbers.sommerfeld.is_finite());
                prop_assert!(film.numbers.convergence.residual <= options.tolerance);
            }
            let bearing = JournalBearing {
                journal_diameter_m: a,
                length_m: b,
                diametral_clearance_m: c * 1e-3,
                tilt_m: 0.0,
                arc,
            };
            let journal = JournalOptions { film: options, most_films: 20, ..JournalOptions::default() };
            let duty = SteadyDuty { load_n: d, speed_rad_s: e };
            if let Ok(film) = film_for_load(&bearing, &duty, c, &journal) {
                prop_assert!(film.minimum_film_m > 0.0);
            }
        }
        let felt = Felt { area_m2: a, path_m: b, permeability_m2: c, pore_radius_m: d, flow_share_left: e };
        let oil = FeltOil { viscosity_pa_s: a, density_kg_m3: b, surface_tension_n_m: c, contact_angle_rad: d };
        let _ = felt_flow(&felt, &oil, e);
        let _ = bearing_duty(&DutyInput { load_n: a, diameter_m: b, length_m: c, speed_rad_s: d });
        let _ = sommerfeld_1904(a);
        let _ = dubois_ocvirk_1953(a, b);
        let _ = iso_7902_2_load_number(a, b);
        let point = |kinematic_m2_s, temperature_k| OilPoint { kinematic_m2_s, temperature_k };
        let sheet = OilSheet { cooler: point(a, b), warmer: point(c, d), density_kg_m3: e,
                               heat_capacity_j_kg_k: 2000.0, law: ViscosityLaw::Walther };
        let _ = Oil::new(sheet);
    }
}
