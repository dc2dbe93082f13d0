//! How long a film takes. Every round checks its answer.
//!
//! The peer run beside SciPy is `checks/bench_film.py`.

use std::num::NonZeroUsize;
use std::sync::atomic::AtomicBool;
use std::time::Duration;

use criterion::{Criterion, criterion_group, criterion_main};
use mechanics::bearing::film::{Arc, FilmOptions, FilmProblem, FilmSolver};
use mechanics::bearing::{
    HeatPath, JournalBearing, JournalOptions, MapControl, MapInput, Oil, OilCooling, OilPoint,
    OilSheet, SteadyDuty, ViscosityLaw, film_map, warm_film,
};

fn problem(tilt_ratio: f64) -> FilmProblem {
    FilmProblem {
        length_over_diameter: 1.0,
        eccentricity_ratio: 0.6,
        tilt_ratio,
        arc: Arc::FullRing,
        thinnest_from_start_rad: 0.0,
    }
}

fn films(c: &mut Criterion) {
    for (name, tilt, around, across) in [
        ("film/parallel/128x32", 0.0, 128, 32),
        ("film/parallel/200x60", 0.0, 200, 60),
        ("film/tilted/200x60", 0.1, 200, 60),
        ("film/parallel/400x120", 0.0, 400, 120),
    ] {
        let options = FilmOptions { around, across, ..FilmOptions::default() };
        c.bench_function(name, |bencher| {
            bencher.iter(|| {
                let mut solver = FilmSolver::new(options).expect("the options are sound");
                let numbers = solver.numbers(&problem(tilt)).expect("the film settles");
                // Raimondi & Boyd, L/D 1, e 0.6: S 0.121 (from memory); tilted carries more.
                assert!(numbers.convergence.residual < 1e-8);
                assert!((0.09..0.125).contains(&numbers.sommerfeld));
            });
        });
    }
    let options = FilmOptions { around: 200, across: 60, ..FilmOptions::default() };
    let mut solver = FilmSolver::new(options).expect("the options are sound");
    let mut nudge = 0.0;
    c.bench_function("film/parallel/200x60/next", |bencher| {
        bencher.iter(|| {
            // A neighbour of the last film, as a search or a map asks for.
            nudge = 0.01 - nudge;
            let next = FilmProblem { eccentricity_ratio: 0.6 + nudge, ..problem(0.0) };
            let numbers = solver.numbers(&next).expect("the film settles");
            assert!((0.11..0.125).contains(&numbers.sommerfeld));
        });
    });
}

fn axlebox() -> (JournalBearing, Oil, HeatPath) {
    let point = |kinematic_m2_s, temperature_k| OilPoint { kinematic_m2_s, temperature_k };
    let oil = Oil::new(OilSheet {
        cooler: point(220e-6, 313.15),
        warmer: point(19e-6, 373.15),
        density_kg_m3: 900.0,
        heat_capacity_j_kg_k: 2000.0,
        law: ViscosityLaw::Walther,
    })
    .expect("the oil is sound");
    let bearing = JournalBearing {
        journal_diameter_m: 0.2,
        length_m: 0.22,
        diametral_clearance_m: 0.25e-3,
        tilt_m: 0.0,
        arc: Arc::Brass { extent_rad: 2.1, load_from_start_rad: 1.05 },
    };
    let heat = HeatPath {
        oil: OilCooling::SideFlowReplaced,
        inlet_k: 293.15,
        surface_w_k: 12.0,
        air_k: 288.15,
    };
    (bearing, oil, heat)
}

fn searches(c: &mut Criterion) {
    let (bearing, oil, heat) = axlebox();
    let options = JournalOptions::default();
    let duty = SteadyDuty { load_n: 80e3, speed_rad_s: 15.0 };
    c.bench_function("warm/brass/128x32", |bencher| {
        bencher.iter(|| {
            let warm = warm_film(&bearing, &duty, &oil, &heat, &options).expect("it settles");
            let carried = warm.oil_heat_w + warm.surface_heat_w;
            assert!((warm.film.power_w / carried - 1.0).abs() < 1e-5);
        });
    });
    let clearances: Vec<f64> = (0..40).map(|i| (0.12 + 0.015 * f64::from(i)) * 1e-3).collect();
    let loads: Vec<f64> = (0..40).map(|i| (10.0 + 5.0 * f64::from(i)) * 1e3).collect();
    let input = MapInput {
        bearing,
        speed_rad_s: 15.0,
        oil,
        heat,
        diametral_clearances_m: &clearances,
        loads_n: &loads,
    };
    for threads in [1, 2] {
        c.bench_function(&format!("map/40x40/{threads}"), |bencher| {
            bencher.iter(|| {
                let control = MapControl {
                    threads: NonZeroUsize::new(threads).unwrap_or(NonZeroUsize::MIN),
                    progress: &|_, _| {},
                    stop: &AtomicBool::new(false),
                };
                let map = film_map(&input, &control, &options).expect("the map is drawn");
                assert!(map.points.iter().all(|point| matches!(point, Some(Ok(_)))));
            });
        });
    }
}

criterion_group! {
    name = benches;
    config = Criterion::default()
        .sample_size(10)
        .warm_up_time(Duration::from_millis(500))
        .measurement_time(Duration::from_secs(2));
    targets = films, searches
}
criterion_main!(benches);
