//! Properties that must hold whatever the figures.

use std::f64::consts::TAU;

use mechanics::metrology::budget::{Dof, repeat_sd};
use mechanics::metrology::circle::{
    Circle, DialReading, Point, ZoneSearch, fit_circle, gander_golub_strebel_1994, kasa_1976,
    largest_inscribed_circle, minimum_zone_circle, prove_minimum_zone, roundness,
    smallest_circumscribed_circle,
};
use mechanics::metrology::form::{
    DiameterReading, RadialReading, SurfaceKind, TraversedStations, cylinder_form,
    traversed_cylinder,
};
use mechanics::metrology::line::{fit_line, fit_line_orthogonal};
use mechanics::metrology::verdict::{Limits, Rule, Stated, Verdict, judge, probability_inside};
use mechanics::stack::{Chain, Simulation, Spread, Term, simulate_chain};
use proptest::prelude::*;

use super::points;

fn ring() -> impl Strategy<Value = Vec<Point>> {
    // A radius, a centre, and departures up to a twentieth of the radius at even angles.
    (0.01..1.0_f64, -1.0..1.0_f64, -1.0..1.0_f64, prop::collection::vec(-0.05..0.05_f64, 5..60))
        .prop_map(|(r, cx, cy, departures)| {
            let n = departures.len() as f64;
            departures
                .iter()
                .enumerate()
                .map(|(i, d)| {
                    let angle = TAU * i as f64 / n;
                    let r = r * (1.0 + d);
                    Point { x_m: cx + r * angle.cos(), y_m: cy + r * angle.sin() }
                })
                .collect()
        })
}

fn moved(list: &[Point], angle: f64, dx: f64, dy: f64) -> Vec<Point> {
    let (s, c) = angle.sin_cos();
    list.iter()
        .map(|p| Point { x_m: c * p.x_m - s * p.y_m + dx, y_m: s * p.x_m + c * p.y_m + dy })
        .collect()
}

fn survey() -> impl Strategy<Value = (Vec<f64>, Vec<DiameterReading>)> {
    let cell = (0_usize..6, prop::option::weighted(0.9, 0.0..TAU), 0.19..0.21_f64);
    (prop::collection::vec(0.0..0.5_f64, 6), prop::collection::vec(cell, 1..40)).prop_map(
        |(stations, cells)| {
            let readings = cells
                .into_iter()
                .map(|(station, direction_rad, diameter_m)| DiameterReading {
                    station,
                    direction_rad,
                    diameter_m,
                })
                .collect();
            (stations, readings)
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn circles_do_not_depend_on_where_the_part_lies(
        ring in ring(), angle in 0.0..TAU, dx in -5.0..5.0_f64, dy in -5.0..5.0_f64,
    ) {
        let other = moved(&ring, angle, dx, dy);
        let (a, b) = (fit_circle(&ring).unwrap(), fit_circle(&other).unwrap());
        prop_assert!((a.circle.radius_m - b.circle.radius_m).abs() < 1e-11);
        prop_assert!((a.roundness_m - b.roundness_m).abs() < 1e-11);
        let centre = moved(&[Point { x_m: a.circle.x_m, y_m: a.circle.y_m }], angle, dx, dy)[0];
        prop_assert!((centre.x_m - b.circle.x_m).hypot(centre.y_m - b.circle.y_m) < 1e-10);
        let (a, b) = (minimum_zone_circle(&ring).unwrap(), minimum_zone_circle(&other).unwrap());
        prop_assert!((a.zone_m - b.zone_m).abs() < 1e-11, "{} {}", a.zone_m, b.zone_m);
        let (a, b) = (
            smallest_circumscribed_circle(&ring).unwrap(),
            smallest_circumscribed_circle(&other).unwrap(),
        );
        prop_assert!((a.radius_m - b.radius_m).abs() < 1e-11);
    }

    #[test]
    fn no_circle_has_a_narrower_zone(ring in ring(), shifts in prop::collection::vec((-0.2..0.2_f64, -0.2..0.2_f64), 40)) {
        let zone = minimum_zone_circle(&ring).unwrap();
        let inside = largest_inscribed_circle(&ring).unwrap();
        let around = smallest_circumscribed_circle(&ring).unwrap();
        let fitted = fit_circle(&ring).unwrap().circle;
        let slack = 1e-12;
        for other in [inside.circle, around, fitted, kasa_1976(&ring).unwrap()] {
            prop_assert!(zone.zone_m <= other.zone_m(&ring) + slack);
        }
        let r = zone.circle.radius_m;
        for (dx, dy) in shifts {
            let other = Circle { x_m: zone.circle.x_m + dx * r, y_m: zone.circle.y_m + dy * r, radius_m: r };
            prop_assert!(zone.zone_m <= other.zone_m(&ring) + slack);
        }
        prop_assert!(zone.touching.len() >= 3);
        for p in &ring {
            prop_assert!(inside.circle.departure_m(*p) >= -slack);
            prop_assert!(around.departure_m(*p) <= slack);
        }
        prop_assert!(inside.circle.radius_m <= around.radius_m + slack);
    }

    #[test]
    fn clean_up_never_exceeds_a_reading_and_weights_reproduce_results((stations, readings) in survey()) {
        for kind in [SurfaceKind::Journal, SurfaceKind::Bore] {
            let form = cylinder_form(kind, &stations, &readings).unwrap();
            let sizes: Vec<f64> = readings.iter().map(|r| r.diameter_m).collect();
            for size in &sizes {
                let (bound, between) = (form.clean_up.bound.value, form.clean_up.between_directions.as_ref());
                match kind {
                    SurfaceKind::Journal => {
                        prop_assert!(bound <= *size);
                        prop_assert!(between.is_none_or(|b| b.value <= bound));
                    }
                    SurfaceKind::Bore => {
                        prop_assert!(bound >= *size);
                        prop_assert!(between.is_none_or(|b| b.value >= bound));
                    }
                }
            }
            let mut sized = vec![&form.mean_size, &form.clean_up.bound];
            sized.extend(form.least_squares_size.as_ref().ok());
            sized.extend(form.clean_up.between_directions.as_ref());
            let mut differences = Vec::new();
            differences.extend(form.spread.as_ref().ok());
            differences.extend(form.taper.as_ref().ok());
            differences.extend(form.crown.as_ref().ok());
            differences.extend(form.end_to_end.as_ref().ok().map(|e| &e.difference));
            for station in &form.stations {
                sized.push(&station.mean);
                differences.extend(station.ovality.as_ref().ok());
                if let Ok(h) = &station.harmonic_ovality {
                    sized.extend([&h.mean, &h.smallest, &h.largest]);
                    differences.push(&h.ovality);
                }
            }
            for (list, sum) in [(sized, 1.0), (differences, 0.0)] {
                for result in list {
                    let again: f64 = result.weights.iter().zip(&sizes).map(|(w, s)| w * s).sum();
                    let scale: f64 = result.weights.iter().map(|w| w.abs()).sum::<f64>().max(1.0);
                    // Layouts that barely separate the effects lose four digits.
                    prop_assert!((again - result.value).abs() < 2e-11 * scale, "{again} {}", result.value);
                    prop_assert!((result.shared_sensitivity() - sum).abs() < 1e-10 * scale);
                }
            }
        }
    }

    #[test]
    fn cylinder_that_cleans_up_lies_inside_every_reading(
        radial in prop::collection::vec(-1e-4..1e-4_f64, 24..60), stations in 1_usize..4,
    ) {
        let places: Vec<f64> = (0..stations).map(|i| 0.1 * i as f64).collect();
        let readings: Vec<RadialReading> = radial
            .iter()
            .enumerate()
            .map(|(i, r)| RadialReading {
                station: i % stations,
                angle_rad: TAU * ((i / stations) as f64) / (radial.len() / stations) as f64,
                radial_m: *r,
            })
            .collect();
        let survey = |kind| TraversedStations { kind, base_radius_m: 0.1, stations_m: &places, readings: &readings };
        let journal = traversed_cylinder(&survey(SurfaceKind::Journal)).unwrap();
        let bore = traversed_cylinder(&survey(SurfaceKind::Bore)).unwrap();
        for (found, sign) in [(&journal, 1.0), (&bore, -1.0)] {
            let fit = found.clean_up.as_ref().unwrap();
            for reading in &readings {
                let z = places[reading.station];
                let (s, c) = reading.angle_rad.sin_cos();
                let there = 0.5 * fit.diameter_m - 0.1
                    + (fit.axis.x_m + fit.axis.slope_x * z) * c
                    + (fit.axis.y_m + fit.axis.slope_y * z) * s;
                prop_assert!(sign * (reading.radial_m - there) >= -1e-13);
            }
            // A free axis never does worse than the fixed one.
            prop_assert!(sign * (fit.diameter_m - found.clean_up_on_centres_m) >= -1e-13);
        }
        let zone = journal.minimum_zone.unwrap();
        prop_assert!(zone.cylindricity_m <= journal.least_squares.cylindricity_m + 1e-15);
        prop_assert!(zone.cylindricity_m <= journal.clean_up.unwrap().cylindricity_m + 1e-15);
    }

    #[test]
    fn verdicts_keep_their_promise(
        value in -20.0..20.0_f64, u in 0.0..5.0_f64, low in -10.0..0.0_f64, width in 0.0..15.0_f64,
        dof in prop::option::of(1.0..50.0_f64), confidence in 0.6..0.999_f64,
    ) {
        let stated = Stated { value, standard_uncertainty: u, dof: dof.map_or(Dof::Infinite, Dof::Finite) };
        let limits = Limits { min: Some(low), max: Some(low + width) };
        let judged = judge(&stated, &limits, &Rule { confidence, near: None }).unwrap();
        let p = probability_inside(&stated, &limits).unwrap();
        match judged.verdict {
            Verdict::Within | Verdict::Near(_) => prop_assert!(p >= confidence - 1e-9 || u == 0.0),
            Verdict::Beyond(_) => prop_assert!(p <= 1.0 - confidence + 1e-9),
            Verdict::CannotTell => {}
        }
        // Less uncertainty never takes a verdict away.
        let better = Stated { standard_uncertainty: 0.5 * u, ..stated };
        let again = judge(&better, &limits, &Rule { confidence, near: None }).unwrap();
        if judged.verdict != Verdict::CannotTell {
            prop_assert_eq!(judged.verdict, again.verdict);
        }
    }

    #[test]
    fn nothing_panics_on_any_figure(list in prop::collection::vec(prop::num::f64::ANY, 0..24)) {
        let pairs = points(&list.chunks_exact(2).map(|c| (c[0], c[1])).collect::<Vec<_>>());
        let _ = fit_circle(&pairs);
        let _ = gander_golub_strebel_1994(&pairs);
        let _ = smallest_circumscribed_circle(&pairs);
        if let Ok(zone) = minimum_zone_circle(&pairs) {
            let _ = prove_minimum_zone(&pairs, &zone, &ZoneSearch { gap_m: 1e-9, most_squares: 50 });
        }
        let _ = largest_inscribed_circle(&pairs);
        let dial: Vec<DialReading> =
            pairs.iter().map(|p| DialReading { angle_rad: p.x_m, radial_m: p.y_m }).collect();
        let _ = roundness(&dial);
        let half = list.len() / 2;
        let _ = fit_line(&list[..half], &list[half..half * 2]);
        let _ = fit_line_orthogonal(&list[..half], &list[half..half * 2]);
        let _ = repeat_sd(&list);
        let readings: Vec<DiameterReading> = pairs
            .iter()
            .map(|p| DiameterReading { station: 0, direction_rad: Some(p.x_m), diameter_m: p.y_m })
            .collect();
        let _ = cylinder_form(SurfaceKind::Bore, &list, &readings);
        if let [a, b, c, ..] = list[..] {
            let limits = Limits { min: Some(b), max: Some(c) };
            let stated = Stated { value: a, standard_uncertainty: b, dof: Dof::Finite(c) };
            let _ = judge(&stated, &limits, &Rule::default());
            let spread = Spread::TruncatedNormal { sd: a, low: b, high: c };
            let chain = Chain { constant: 0.0, terms: vec![Term { factor: 1.0, centre: a, spread, limits: None }] };
            let _ = simulate_chain(&chain, &Simulation::new(1000, 1));
        }
    }
}
