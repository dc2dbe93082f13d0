//! Checks of circles against closed forms, published examples and each other.

use std::f64::consts::{PI, TAU};

use super::*;

fn points(list: &[(f64, f64)]) -> Vec<Point> {
    list.iter().map(|&(x_m, y_m)| Point { x_m, y_m }).collect()
}

fn lobed(count: usize, shape: impl Fn(f64) -> f64) -> Vec<Point> {
    (0..count)
        .map(|i| {
            let angle = TAU * i as f64 / count as f64;
            let r = shape(angle);
            Point { x_m: r * angle.cos(), y_m: r * angle.sin() }
        })
        .collect()
}

#[test]
fn a_square_of_points() {
    let square = points(&[(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)]);
    let fit = fit_circle(&square).unwrap();
    assert!((fit.circle.radius_m - 2.0_f64.sqrt()).abs() < 1e-14);
    assert!(fit.roundness_m < 1e-14);
    let around = smallest_circumscribed_circle(&square).unwrap();
    assert!((around.radius_m - 2.0_f64.sqrt()).abs() < 1e-14);
    let zone = minimum_zone_circle(&square).unwrap();
    assert!(zone.zone_m < 1e-13);
}

#[test]
fn minimum_zone_of_a_known_pattern() {
    // Inner points at radius 1 east and west, outer at radius 1.1 north and south, and points in
    // between on both: the alternation in, out, in, out makes the origin the minimum-zone centre
    // (closed form: any shift brings one of the four out further).
    let shape = points(&[
        (1.0, 0.0),
        (-1.0, 0.0),
        (0.0, 1.1),
        (0.0, -1.1),
        (0.75, 0.72),
        (-0.75, 0.72),
        (0.75, -0.72),
        (-0.75, -0.72),
    ]);
    let zone = minimum_zone_circle(&shape).unwrap();
    assert!((zone.zone_m - 0.1).abs() < 1e-12, "{zone:?}");
    assert!(zone.circle.x_m.abs() < 1e-12 && zone.circle.y_m.abs() < 1e-12);
    assert!(zone.touching.iter().all(|i| *i < 4));
    let proof =
        prove_minimum_zone(&shape, &zone, &ZoneSearch { gap_m: 1e-6, most_squares: 200_000 })
            .unwrap();
    assert!(proof.no_narrower_than_m > 0.1 - 1.1e-6, "{proof:?}");
}

#[test]
fn three_lobes() {
    let (r, a) = (0.1, 20e-6);
    let profile = lobed(90, |t| r + a * (3.0 * t).cos());
    let zone = minimum_zone_circle(&profile).unwrap();
    assert!((zone.zone_m - 2.0 * a).abs() < 1e-9);
    let inside = largest_inscribed_circle(&profile).unwrap();
    assert!((inside.circle.radius_m - (r - a)).abs() < 1e-9);
    let outside = smallest_circumscribed_circle(&profile).unwrap();
    assert!((outside.radius_m - (r + a)).abs() < 1e-9);
}

#[test]
fn largest_inscribed_is_left_of_where_three_points_hold_it() {
    // An equilateral triangle of points at distance 1 with others outside.
    let shape = points(&[
        (1.0, 0.0),
        (-0.5, 0.75_f64.sqrt()),
        (-0.5, -(0.75_f64.sqrt())),
        (1.2, 1.2),
        (-1.3, 0.0),
        (0.6, -1.3),
    ]);
    let inside = largest_inscribed_circle(&shape).unwrap();
    assert!((inside.circle.radius_m - 1.0).abs() < 1e-12);
    assert_eq!(inside.touching, [0, 1, 2]);
}

#[test]
fn traverse_finds_eccentricity_and_lobes() {
    let readings: Vec<DialReading> = (0..72)
        .map(|i| {
            let t = TAU * f64::from(i) / 72.0;
            let radial_m = 3e-6 + 50e-6 * (t - 0.7).cos() + 8e-6 * (5.0 * (t - 0.2)).cos();
            DialReading { angle_rad: t, radial_m }
        })
        .collect();
    let seen = roundness(&readings).unwrap();
    let circle = seen.least_squares.unwrap();
    assert!((circle.eccentricity_m() - 50e-6).abs() < 1e-15);
    assert!((circle.radial_m - 3e-6).abs() < 1e-15);
    let zone = seen.minimum_zone.unwrap();
    assert!(zone.roundness_m <= circle.roundness_m + 1e-15);
    assert!((zone.roundness_m - 16e-6).abs() < 0.2e-6);
    let lobes = seen.harmonics.unwrap();
    let dominant = lobes.dominant().unwrap();
    assert_eq!(dominant.lobes, 5);
    assert!((dominant.amplitude_m - 8e-6).abs() < 1e-15);
    assert!((dominant.peak_rad - 0.2).abs() < 1e-9);
    assert_eq!(lobes.list.len(), 35);
}

#[test]
fn uneven_angles_give_the_same_harmonics() {
    let angles = [0.0, 0.4, 0.9, 1.7, 2.2, 2.9, 3.3, 4.0, 4.4, 5.1, 5.7];
    let readings: Vec<DialReading> = angles
        .iter()
        .map(|&t| DialReading { angle_rad: t, radial_m: 4e-6 * (3.0 * (t - 0.3)).cos() })
        .collect();
    let found = harmonics(&readings, 4).unwrap();
    assert!((found.amplitude_m(3).unwrap() - 4e-6).abs() < 1e-14);
    assert!(found.amplitude_m(2).unwrap() < 1e-14);
}

#[test]
fn half_a_turn_leaves_extreme_circles_open() {
    let readings: Vec<DialReading> = (0..10)
        .map(|i| DialReading { angle_rad: 0.1 * f64::from(i), radial_m: 1e-6 * f64::from(i % 3) })
        .collect();
    let seen = roundness(&readings).unwrap();
    assert!(seen.largest_inscribed.is_err());
}

#[test]
fn v_block_undoes_what_the_v_does() {
    // Build dial readings from first principles: the V's two contacts and the dial, all to first
    // order, for a profile with 2, 3 and 5 lobes, and recover the profile.
    let lobes = [(2, 6e-6, 0.3), (3, 4e-6, 0.5), (5, 2e-6, 0.1)];
    let profile =
        |t: f64| lobes.iter().map(|&(n, a, p)| a * (n as f64 * (t - p)).cos()).sum::<f64>();
    for dial in [DialPlace::Summit, DialPlace::Rider, DialPlace::Turned { from_summit_rad: 0.6 }] {
        let block = VBlock { included_angle_rad: 108.0_f64.to_radians(), dial };
        let psi = PI / 2.0
            + match dial {
                DialPlace::Summit => 0.0,
                DialPlace::Rider => PI,
                DialPlace::Turned { from_summit_rad } => from_summit_rad,
            };
        let half = 54.0_f64.to_radians();
        let readings: Vec<DialReading> = (0..120)
            .map(|i| {
                let t = TAU * f64::from(i) / 120.0;
                // Part point t is under the dial, so part point t + (φ − ψ) is at direction φ.
                let d1 = profile(t + PI + half - psi);
                let d2 = profile(t + 2.0 * PI - half - psi);
                // Solve the two flank conditions for the centre by Cramer's rule.
                let (u1, u2) = ((PI + half).sin_cos(), (2.0 * PI - half).sin_cos());
                let det = u1.1 * u2.0 - u1.0 * u2.1;
                let cx = (-d1 * u2.0 + d2 * u1.0) / det;
                let cy = (-u1.1 * d2 + u2.1 * d1) / det;
                DialReading { angle_rad: t, radial_m: profile(t) + cx * psi.cos() + cy * psi.sin() }
            })
            .collect();
        let found = v_block_roundness(&block, &readings, 8).unwrap();
        for &(n, a, p) in &lobes {
            if found.unseen.contains(&n) {
                continue;
            }
            let harmonic = found.seen.iter().find(|h| h.lobes == n).unwrap();
            assert!((harmonic.amplitude_m - a).abs() < 1e-12, "{dial:?} {n} {harmonic:?}");
            assert!((harmonic.peak_rad - p).abs() < 1e-6, "{dial:?} {n} {harmonic:?}");
        }
    }
}

#[test]
fn odd_lobes_hide_in_a_right_angled_v() {
    // Reference value FT-08 (ISO 4292:1985, from memory): seven lobes read zero.
    let block = VBlock { included_angle_rad: PI / 2.0, dial: DialPlace::Summit };
    assert!(!block.sees(7).unwrap());
    assert!(block.sees(3).unwrap());
    let flat: Vec<DialReading> = (0..36)
        .map(|i| DialReading { angle_rad: TAU * f64::from(i) / 36.0, radial_m: 0.0 })
        .collect();
    let found = v_block_roundness(&block, &flat, 9).unwrap();
    assert_eq!(found.unseen, [7, 9]);
}

#[test]
fn points_on_a_line_or_one_point_have_no_circle() {
    let line = points(&[(0.0, 0.0), (1.0, 1.0), (2.0, 2.0), (3.0, 3.0)]);
    assert!(fit_circle(&line).is_err());
    assert!(minimum_zone_circle(&line).is_err());
    assert!(smallest_circumscribed_circle(&line).is_ok());
    let same = points(&[(1.0, 1.0); 5]);
    assert!(fit_circle(&same).is_err());
    assert!(fit_circle(&points(&[(f64::NAN, 0.0); 4])).is_err());
    assert!(fit_circle(&[]).is_err());
}
