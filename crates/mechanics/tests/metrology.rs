//! Published values for metrology and stacks, and properties that must hold whatever the figures.
//!
//! Each check names its source. "Verified": the published number was read in a public text when
//! the table of reference values was put together. "From memory": recalled, and confirmed only by
//! an independent computation.

#[path = "metrology/properties.rs"]
mod properties;

use std::f64::consts::{PI, TAU};

use mechanics::metrology::budget::{
    Component, Dof, LimitShape, combine, coverage_factor, mean_uncertainty, repeat_sd,
    uncertainty_of_limits,
};
use mechanics::metrology::circle::{
    Circle, DialPlace, DialReading, Point, VBlock, ZoneSearch, fit_circle,
    gander_golub_strebel_1994, kasa_1976, minimum_zone_circle, prove_minimum_zone, roundness,
    taubin_1991,
};
use mechanics::metrology::form::{Caution, DiameterReading, SurfaceKind, cylinder_form};
use mechanics::metrology::line::{fit_line, fit_line_orthogonal, fit_line_through_origin};
use mechanics::metrology::temperature::{WarmReading, length_at_reference};
use mechanics::metrology::verdict::{LimitSide, Limits, Rule, Stated, Verdict, judge};
use mechanics::stack::{Chain, Input, Simulation, Spread, Term, simulate_chain, simulate_function};

#[track_caller]
fn close(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "got {got}, expected {expected} ± {tolerance}");
}

/// Components of the end-gauge example, nm: standard, difference (three parts), expansion
/// coefficient, temperature, difference of coefficients, difference of temperatures.
fn end_gauge() -> Vec<Component> {
    let component = |source, contribution, dof| Component { source, contribution, dof };
    let length_nm = 50.000623e6;
    vec![
        component(0, 25.0, Dof::Finite(18.0)),
        component(1, 9.7, Dof::Finite(25.6)),
        // u(δθ) = 0.029, αs = 11.5e-6; u(δα) = 0.58e-6, θ = −0.1.
        component(2, length_nm * 11.5e-6 * 0.029, Dof::Finite(2.0)),
        component(3, length_nm * -0.1 * 0.58e-6, Dof::Finite(50.0)),
        // δα and δθ are estimated as zero, so αs and θ do not count to first order.
        component(4, 0.0, Dof::Infinite),
        component(5, 0.0, Dof::Infinite),
    ]
}

/// JCGM 100:2008 H.1 and Table H.1 (UN-01, UN-02; verified in two public test suites).
#[test]
fn end_gauge_budget() {
    let budget = combine(&end_gauge()).unwrap();
    close(budget.standard_uncertainty, 32.0, 0.5);
    let Dof::Finite(dof) = budget.effective_dof else { panic!("finite") };
    // H.1.6: 16, after rounding down.
    assert_eq!(dof.floor(), 16.0);
    let expanded = budget.expanded(0.99).unwrap();
    close(expanded.coverage_factor, 2.92, 0.005);
    // 93 nm is 2.92 × 32 with 32 rounded up; unrounded 92.4. The range allows either.
    assert!((92.4..=93.5).contains(&expanded.uncertainty), "{}", expanded.uncertainty);
    // Table H.1: 25, 9.7, 2.9, 16.6.
    assert_eq!(budget.ranked[0].source, 0);
    close(budget.ranked[1].contribution, 16.6, 0.1);
    close(budget.ranked[3].contribution.abs(), 2.9, 0.01);
    close(budget.ranked.iter().map(|r| r.share).sum(), 1.0, 1e-12);
    // The difference itself: √(5.8² + 3.9² + 6.7²) = 9.7.
    let parts = [5.8, 3.9, 6.7].map(|contribution| Component {
        source: 0,
        contribution,
        dof: Dof::Infinite,
    });
    close(combine(&parts).unwrap().standard_uncertainty, 9.7, 0.05);
}

/// JCGM 100:2008 H.1.7 (UN-03; from memory): second-order terms 11.7 and 1.7 nm make it 34 nm.
#[test]
fn end_gauge_second_order() {
    let length_nm = 50.000623e6;
    let mut components = end_gauge();
    // Standard uncertainties of H.1 before rounding: ±1e-6 and ±2e-6 rectangular, ±0.05 rectangular,
    // 0.2 with ±0.5 U-shaped (0.58e-6, 1.2e-6, 0.029, 0.41 as printed).
    let of = |half, shape| uncertainty_of_limits(half, shape).unwrap();
    let temperature = 0.2_f64.hypot(of(0.5, LimitShape::UShaped));
    for (u, v, expected) in [
        (of(1e-6, LimitShape::Rectangular), temperature, 11.7),
        (of(2e-6, LimitShape::Rectangular), of(0.05, LimitShape::Rectangular), 1.7),
    ] {
        let contribution = length_nm * u * v;
        close(contribution, expected, 0.05);
        components.push(Component { source: 9, contribution, dof: Dof::Infinite });
    }
    close(combine(&components).unwrap().standard_uncertainty, 34.0, 0.5);
    // The same by drawing normals with those standard uncertainties: products of independent
    // normals are what the second-order terms stand for.
    let normal = |centre, sd| Input { centre, spread: Spread::Normal { sd } };
    let inputs = [
        normal(50.000623e6, 25.0),
        normal(215.0, 9.7),
        normal(0.0, 0.58e-6),
        normal(-0.1, 0.41),
        normal(11.5e-6, 1.2e-6),
        normal(0.0, 0.029),
    ];
    let found = simulate_function(&inputs, &Simulation::new(1_000_000, 1), |x| {
        x[0] + x[1] - x[0] * (x[2] * x[3] + x[4] * x[5])
    })
    .unwrap();
    // Here with the printed, rounded ones: √(31.66² + 11.89² + 1.74²) = 33.87.
    close(found.outcome.standard_deviation, 33.87, 0.12);
    close(found.outcome.mean, 50.000838e6, 0.2);
}

/// JCGM 100:2008 Table G.2 (UN-04 verified in a public test suite; UN-05 from memory).
#[test]
fn student_factors() {
    for (dof, probability, expected) in [
        (Dof::Finite(16.0), 0.95, 2.12),
        (Dof::Finite(16.0), 0.9545, 2.17),
        (Dof::Finite(16.0), 0.99, 2.92),
        (Dof::Infinite, 0.9545, 2.00),
        (Dof::Finite(1.0), 0.95, 12.71),
        (Dof::Finite(5.0), 0.95, 2.57),
        (Dof::Finite(10.0), 0.95, 2.23),
        (Dof::Finite(50.0), 0.95, 2.01),
    ] {
        close(coverage_factor(probability, dof).unwrap(), expected, 0.005);
    }
    assert!(coverage_factor(1.0, Dof::Infinite).is_err());
    assert!(coverage_factor(0.95, Dof::Finite(0.5)).is_err());
    assert!(coverage_factor(f64::NAN, Dof::Infinite).is_err());
}

/// JCGM 100:2008 H.2, Tables H.2 to H.4 (UN-06; from memory, recomputed independently):
/// resistance, reactance and impedance from five sets of simultaneous readings.
#[test]
fn simultaneous_resistance_and_reactance() {
    let volts = [5.007, 4.994, 5.005, 4.990, 4.999];
    let amperes = [19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3];
    let phase = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433_f64];
    let mean = |v: &[f64; 5]| v.iter().sum::<f64>() / 5.0;
    let (v, i, p) = (mean(&volts), mean(&amperes), mean(&phase));
    // Results at the means; a set's linearised departure carries the correlations of the inputs.
    let (r, x, z) = (v / i * p.cos(), v / i * p.sin(), v / i);
    let sets = |dv: f64, di: f64, dp: f64| -> [f64; 5] {
        std::array::from_fn(|k| dv * (volts[k] - v) + di * (amperes[k] - i) + dp * (phase[k] - p))
    };
    let of = [
        (r, sets(p.cos() / i, -r / i, -x), 127.732, 0.071),
        (x, sets(p.sin() / i, -x / i, r), 219.847, 0.295),
        (z, sets(1.0 / i, -z / i, 0.0), 254.260, 0.236),
    ];
    for (value, departures, expected, u) in &of {
        close(*value, *expected, 0.0005);
        let s = repeat_sd(departures).unwrap();
        assert_eq!(s.degrees_of_freedom, 4);
        // The GUM prints 0.295 where 0.2956 comes out.
        close(mean_uncertainty(s.sd, 5).unwrap(), *u, 0.0007);
    }
    for (a, b, expected) in [(0, 1, -0.588), (0, 2, -0.485), (1, 2, 0.993)] {
        let fit = fit_line(&of[a].1, &of[b].1).unwrap();
        close(fit.slope.signum() * fit.r_squared.unwrap().sqrt(), expected, 0.0006);
    }
}

fn sum_of_four(spreads: [Spread; 4]) -> Chain {
    let terms = spreads
        .into_iter()
        .map(|spread| Term { factor: 1.0, centre: 0.0, spread, limits: None })
        .collect();
    Chain { constant: 0.0, terms }
}

/// Distribution function of a sum of rectangular terms: `Σ over signs of (Π signs)
/// max(0, x + Σ sign·a)ⁿ / (n! 2ⁿ Π a)`. Closed form (Feller, Introduction to Probability Theory
/// 2 (1971) I.9, in signed form).
fn rectangular_sum_cdf(half_widths: &[f64; 4], x: f64) -> f64 {
    let mut sum = 0.0;
    for signs in 0..16_u32 {
        let (mut sign, mut place) = (1.0, x);
        for (k, a) in half_widths.iter().enumerate() {
            if signs >> k & 1 == 1 {
                sign = -sign;
                place -= a;
            } else {
                place += a;
            }
        }
        sum += sign * place.max(0.0).powi(4);
    }
    sum / (24.0 * 16.0 * half_widths.iter().product::<f64>())
}

/// JCGM 101:2008 9.2 (UN-07 and its neighbours; from memory): four normal terms, four rectangular
/// terms, and three with a fourth ten times as wide.
#[test]
fn sums_of_four() {
    let unit = 3.0_f64.sqrt();
    let simulation = Simulation::new(2_000_000, 101);
    // 9.2.2, Table 2: u = 2.0, ±3.92.
    let normal =
        simulate_chain(&sum_of_four([Spread::Normal { sd: 1.0 }; 4]), &simulation).unwrap();
    close(normal.standard_deviation, 2.0, 0.005);
    let interval = normal.symmetric_interval(0.95).unwrap();
    close(interval.low, -3.92, 0.02);
    close(interval.high, 3.92, 0.02);
    // 9.2.3, Table 3: u = 2.0, ±3.88.
    let flat = Spread::Rectangular { half_width: unit };
    let outcome = simulate_chain(&sum_of_four([flat; 4]), &simulation).unwrap();
    close(outcome.standard_deviation, 2.0, 0.005);
    let interval = outcome.symmetric_interval(0.95).unwrap();
    close(interval.low, -3.88, 0.015);
    close(interval.high, 3.88, 0.015);
    let shortest = outcome.shortest_interval(0.95).unwrap();
    assert!(shortest.high - shortest.low <= interval.high - interval.low);
    for p in [0.001, 0.025, 0.5, 0.975, 0.999] {
        let q = outcome.quantile(p).unwrap();
        let error = rectangular_sum_cdf(&[unit; 4], q.value) - p;
        close(error, 0.0, 5.0 * (p * (1.0 - p) / 2e6_f64).sqrt());
    }
    // 9.2.4, Table 4: the GUM's normal would give ±19.9, Monte Carlo ±17.0; u = 10.1.
    let wide = Spread::Rectangular { half_width: 10.0 * unit };
    let outcome = simulate_chain(&sum_of_four([flat, flat, flat, wide]), &simulation).unwrap();
    close(outcome.standard_deviation, 10.1, 0.06);
    let interval = outcome.symmetric_interval(0.95).unwrap();
    close(interval.low, -17.0, 0.06);
    close(interval.high, 17.0, 0.06);
    let exact = rectangular_sum_cdf(&[unit, unit, unit, 10.0 * unit], interval.high);
    close(exact, 0.975, 5.0 * (0.975 * 0.025 / 2e6_f64).sqrt());
    assert!(interval.high < 1.96 * outcome.standard_deviation - 2.0);
}

/// JCGM 101:2008 clause 9.5 (UN-08; verified in paper text quoting it): the end gauge by Monte
/// Carlo with the distributions of that clause: mean 838 nm from 50 mm, standard uncertainty
/// 36 nm, shortest 99 % interval 745 to 932 nm.
#[test]
fn end_gauge_by_drawing() {
    let student = |centre, scale, degrees_of_freedom| Input {
        centre,
        spread: Spread::Student { scale, degrees_of_freedom },
    };
    let of = |centre, spread| Input { centre, spread };
    let inputs = [
        student(623.0, 25.0, 18.0),
        student(215.0, 6.0, 24.0),
        student(0.0, 4.0, 5.0),
        student(0.0, 7.0, 8.0),
        of(11.5e-6, Spread::Rectangular { half_width: 2e-6 }),
        of(-0.1, Spread::Normal { sd: 0.2 }),
        of(0.0, Spread::UShaped { half_width: 0.5 }),
        of(0.0, Spread::InexactRectangular { half_width: 1e-6, inexact_by: 0.1e-6 }),
        of(0.0, Spread::InexactRectangular { half_width: 0.050, inexact_by: 0.025 }),
    ];
    let found = simulate_function(&inputs, &Simulation::new(2_000_000, 95), |x| {
        let standard_nm = 50e6 + x[0];
        x[0] + x[1] + x[2] + x[3] - standard_nm * (x[7] * (x[5] + x[6]) + x[4] * x[8])
    })
    .unwrap();
    close(found.outcome.mean, 838.0, 0.5);
    close(found.outcome.standard_deviation, 36.0, 0.5);
    let interval = found.outcome.shortest_interval(0.99).unwrap();
    close(interval.low, 745.0, 2.0);
    close(interval.high, 932.0, 2.0);
    assert_eq!(found.drivers[0].input, 0);
}

/// ISO 14253-1:2017 default 95 %, JCGM 106:2012 8.3.2 (UN-09; from memory): bore 60 H7, u = 2 µm.
#[test]
fn guard_band_of_a_bore() {
    let limits = Limits { min: Some(0.060), max: Some(0.060030) };
    let at = |micrometres: f64| {
        let stated = Stated {
            value: 0.060 + micrometres * 1e-6,
            standard_uncertainty: 2e-6,
            dof: Dof::Infinite,
        };
        judge(&stated, &limits, &Rule::default()).unwrap()
    };
    close(at(15.0).guard_band, 3.3e-6, 0.02e-6);
    for (micrometres, verdict) in [
        (3.2, Verdict::CannotTell),
        (3.35, Verdict::Within),
        (26.65, Verdict::Within),
        (26.8, Verdict::CannotTell),
        (34.0, Verdict::Beyond(LimitSide::Max)),
    ] {
        assert_eq!(at(micrometres).verdict, verdict, "{micrometres}");
    }
}

/// EA-4/02 M:2022 Supplement S2 (UN-10; verified in a stored comment quoting it): a 10 kg weight.
#[test]
fn ten_kilogram_weight() {
    let rectangular = |half| uncertainty_of_limits(half, LimitShape::Rectangular).unwrap();
    let parts = [
        uncertainty_of_limits(45.0, LimitShape::Normal { coverage_factor: 2.0 }).unwrap(),
        rectangular(15.0),
        mean_uncertainty(25.0, 3).unwrap(),
        rectangular(10.0),
        rectangular(10.0),
    ];
    let components =
        parts.map(|contribution| Component { source: 0, contribution, dof: Dof::Infinite });
    let budget = combine(&components).unwrap();
    assert!(
        (29.2..=29.3).contains(&budget.standard_uncertainty),
        "{}",
        budget.standard_uncertainty
    );
    // The guide prints 58 mg, from entries already rounded.
    close(2.0 * budget.standard_uncertainty, 58.5, 0.1);
}

/// NIST StRD, Norris (FT-01; certified values verified in several public test suites).
#[test]
fn nist_norris() {
    let (x, y): (Vec<f64>, Vec<f64>) = include_str!("reference/metrology/norris.txt")
        .lines()
        .map(|line| {
            let mut words = line.split_whitespace().map(|w| w.parse::<f64>().unwrap());
            (words.next().unwrap(), words.next().unwrap())
        })
        .unzip();
    assert_eq!(x.len(), 36);
    let fit = fit_line(&x, &y).unwrap();
    // Certified to 15 digits; 12 are asked for (the intercept is a small difference).
    close(fit.intercept, -0.262323073774029, 1e-12);
    close(fit.slope, 1.00211681802045, 1e-13);
    close(fit.intercept_se, 0.232818234301152, 1e-12);
    close(fit.slope_se, 0.429796848199937e-3, 1e-15);
    close(fit.residual_sd, 0.884796396144373, 1e-12);
    close(fit.r_squared.unwrap(), 0.999993745883712, 1e-14);
    assert_eq!(fit.degrees_of_freedom, 34);
}

/// NIST StRD, NoInt1 and NoInt2 (FT-02, FT-03; verified in a public test suite).
#[test]
fn nist_lines_through_the_origin() {
    let x: Vec<f64> = (60..=70).map(f64::from).collect();
    let y: Vec<f64> = (130..=140).map(f64::from).collect();
    let fit = fit_line_through_origin(&x, &y).unwrap();
    close(fit.slope, 2.07438016528926, 1e-13);
    close(fit.slope_se, 0.0165289256198347, 1e-14);
    close(fit.residual_sd, 3.56753034006338, 1e-12);
    let fit = fit_line_through_origin(&[4.0, 5.0, 6.0], &[3.0, 4.0, 4.0]).unwrap();
    close(fit.slope, 0.727272727272727, 1e-14);
    close(fit.slope_se, 0.0420827318078432, 1e-15);
    close(fit.residual_sd, 0.369274472937998, 1e-14);
}

fn points(list: &[(f64, f64)]) -> Vec<Point> {
    list.iter().map(|&(x_m, y_m)| Point { x_m, y_m }).collect()
}

/// Gander, Golub & Strebel, BIT 34 (1994) 558-578 (FT-04, FT-05; from memory, recomputed
/// independently), and the linear fit of the same points (FT-06; computed only).
#[test]
fn six_points_and_three_circles() {
    let six = points(&[(1.0, 7.0), (2.0, 6.0), (5.0, 8.0), (7.0, 7.0), (9.0, 5.0), (3.0, 7.0)]);
    let is = |circle: Circle, x, y, r| {
        close(circle.x_m, x, 1e-4);
        close(circle.y_m, y, 1e-4);
        close(circle.radius_m, r, 1e-4);
    };
    let fit = fit_circle(&six).unwrap();
    is(fit.circle, 4.7398, 2.9835, 4.7142);
    close(fit.sum_of_squares_m2, 1.22760, 1e-5);
    is(gander_golub_strebel_1994(&six).unwrap(), 5.3794, 7.2532, 3.0370);
    is(kasa_1976(&six).unwrap(), 4.7423, 3.8351, 4.1088);
    // Taubin's lies between; it is nearer to the geometric fit than Kåsa's is.
    let taubin = taubin_1991(&six).unwrap();
    let about = |c: Circle| six.iter().map(|p| c.departure_m(*p).powi(2)).sum::<f64>();
    assert!(about(taubin) < about(kasa_1976(&six).unwrap()));
    assert!(fit.sum_of_squares_m2 <= about(taubin));
}

/// Pearson, Philosophical Magazine 2 (1901) 559-572 (FT-07; the points verified in public package
/// documentation quoting them, the result from memory and recomputed).
#[test]
fn pearsons_line_of_closest_fit() {
    let x = [0.0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4];
    let y = [5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5];
    let line = fit_line_orthogonal(&x, &y).unwrap();
    close(line.slope(), -0.546, 0.0005);
    close(line.intercept(), 5.784, 0.0005);
    let ordinary = fit_line(&x, &y).unwrap();
    close(ordinary.slope, -0.53958, 1e-5);
    close(ordinary.intercept, 5.7612, 1e-4);
}

/// ISO 4292:1985, three-point measurement in a symmetrical V, summit setting (FT-08, FT-09; from
/// memory): factors for 2, 3, 5 and 7 lobes.
#[test]
fn v_block_factors() {
    for (degrees, expected) in [(90.0_f64, [1.0, 2.0, 2.0, 0.0]), (60.0, [0.0, 3.0, 0.0, 0.0])] {
        let block = VBlock { included_angle_rad: degrees.to_radians(), dial: DialPlace::Summit };
        for (lobes, factor) in [2, 3, 5, 7].into_iter().zip(expected) {
            close(block.factor(lobes).unwrap().0, factor, 0.005);
            assert_eq!(block.sees(lobes).unwrap(), factor > 0.5);
        }
        // Eccentricity is never seen: the part rests on its own surface.
        close(block.factor(1).unwrap().0, 0.0, 1e-12);
    }
}

/// ISO 4292:1985 and identity (FT-10): a three-lobed profile has equal diameters and is out of
/// round by twice the amplitude.
#[test]
fn three_lobes_have_equal_diameters() {
    let (radius, a) = (0.1, 25e-6);
    let r = |angle: f64| radius + a * (3.0 * angle).cos();
    let readings: Vec<DiameterReading> = (0..8)
        .map(|i| {
            let angle = PI * f64::from(i) / 8.0;
            let diameter_m = r(angle) + r(angle + PI);
            DiameterReading { station: 0, direction_rad: Some(angle), diameter_m }
        })
        .collect();
    let form = cylinder_form(SurfaceKind::Journal, &[0.0], &readings).unwrap();
    close(form.spread.unwrap().value, 0.0, 1e-15);
    assert!(form.cautions.iter().any(|c| *c == Caution::OddLobesUnseen && !c.text().is_empty()));
    let traverse: Vec<DialReading> = (0..60)
        .map(|i| {
            let angle_rad = TAU * f64::from(i) / 60.0;
            DialReading { angle_rad, radial_m: r(angle_rad) - radius }
        })
        .collect();
    let seen = roundness(&traverse).unwrap();
    close(seen.least_squares.unwrap().roundness_m, 2.0 * a, 1e-15);
    close(seen.minimum_zone.unwrap().roundness_m, 2.0 * a, 1e-12);
    assert_eq!(seen.harmonics.unwrap().dominant().unwrap().lobes, 3);
}

/// Expansions of steel 11.5e-6 and tin bronze 18e-6 per kelvin (handbook, from memory): a 200 mm
/// bronze bore and a steel journal at 5 °C differ by 0.0195 mm from their 20 °C difference.
#[test]
fn cold_bore_and_cold_journal() {
    let at_reference = |part_expansion_per_k| {
        length_at_reference(&WarmReading {
            reading_m: 0.2,
            part_deg_c: 5.0,
            gauge_deg_c: 5.0,
            part_expansion_per_k,
            gauge_expansion_per_k: 11.5e-6,
        })
        .unwrap()
        .length_m
    };
    close(at_reference(18e-6) - at_reference(11.5e-6), 0.0195e-3, 1e-8);
}

/// Minimum zones that are proved least for all centres within half a radius, on rings where
/// points crowd both rims.
#[test]
fn minimum_zone_is_least_everywhere_near() {
    for seed in 0..5_u32 {
        let ring: Vec<Point> = (0..40)
            .map(|i| {
                let angle = TAU * f64::from(i) / 40.0;
                // Departures from a fixed quasi-random sequence, up to 2 % of the radius.
                let d = (f64::from(i + 7 * seed) * 0.618_033_988_749_895).fract() * 0.02;
                Point { x_m: (1.0 + d) * angle.cos(), y_m: (1.0 + d) * angle.sin() }
            })
            .collect();
        let zone = minimum_zone_circle(&ring).unwrap();
        let proof =
            prove_minimum_zone(&ring, &zone, &ZoneSearch { gap_m: 1e-6, most_squares: 400_000 })
                .unwrap();
        assert!(proof.no_narrower_than_m >= zone.zone_m - 1.1e-6, "{seed}: {zone:?} {proof:?}");
    }
}
