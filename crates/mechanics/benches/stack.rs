//! Speed of stacks and of the fits that run at every reading.
//!
//! `cargo bench -p mechanics --bench stack`. The comparison with another library doing the same
//! work in the same run is `checks/bench_stack.py`.

use std::f64::consts::TAU;
use std::hint::black_box;
use std::num::NonZeroUsize;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use mechanics::metrology::circle::{Point, minimum_zone_circle};
use mechanics::metrology::form::{DiameterReading, SurfaceKind, cylinder_form};
use mechanics::stack::{Chain, Input, Simulation, Spread, Term, simulate_chain, simulate_function};

const DRAWS: u64 = 1 << 20;
const TERMS: usize = 20;

fn chain(spread: impl Fn(usize) -> Spread) -> Chain {
    let terms = (0..TERMS)
        .map(|i| Term {
            factor: 0.5 + 0.1 * i as f64,
            centre: 10.0,
            spread: spread(i),
            limits: None,
        })
        .collect();
    Chain { constant: 0.0, terms }
}

fn chains(c: &mut Criterion) {
    let normal = Spread::Normal { sd: 0.1 };
    let flat = Spread::Rectangular { half_width: 0.1 };
    let mut group = c.benchmark_group("stack/chain_of_20");
    group.sample_size(10).throughput(Throughput::Elements(DRAWS * TERMS as u64));
    for (name, chain) in [
        ("normal", chain(|_| normal)),
        ("mixed", chain(|i| if i % 2 == 0 { normal } else { flat })),
        ("rectangular", chain(|_| flat)),
    ] {
        let exact = chain.root_sum_square().expect("a sound chain");
        for threads in [1, 2] {
            let simulation = Simulation {
                threads: NonZeroUsize::new(threads).expect("not zero"),
                ..Simulation::new(DRAWS, 1)
            };
            group.bench_function(format!("{name}/{threads}_threads"), |b| {
                b.iter(|| {
                    let outcome = simulate_chain(black_box(&chain), &simulation).expect("runs");
                    let off = (outcome.mean - exact.mean).abs();
                    assert!(off < 6.0 * outcome.mean_standard_error());
                    outcome
                });
            });
        }
    }
    group.finish();
}

fn function(c: &mut Criterion) {
    let inputs = [Input { centre: 1.0, spread: Spread::Normal { sd: 0.1 } }; 5];
    let mut group = c.benchmark_group("stack/function_of_5");
    group.sample_size(10).throughput(Throughput::Elements(DRAWS));
    group.bench_function("square_root_of_squares", |b| {
        b.iter(|| {
            let found = simulate_function(black_box(&inputs), &Simulation::new(DRAWS, 1), |x| {
                x.iter().map(|v| v * v).sum::<f64>().sqrt()
            })
            .expect("runs");
            assert!((found.outcome.mean - 5.0_f64.sqrt()).abs() < 0.1);
            found
        });
    });
    group.finish();
}

fn fits(c: &mut Criterion) {
    let ring: Vec<Point> = (0..360)
        .map(|i| {
            let angle = TAU * f64::from(i) / 360.0;
            let r = 0.1 + 1e-5 * (f64::from(i) * 0.618_033_988_749_895).fract();
            Point { x_m: r * angle.cos(), y_m: r * angle.sin() }
        })
        .collect();
    c.bench_function("circle/minimum_zone/360_points", |b| {
        b.iter(|| {
            let zone = minimum_zone_circle(black_box(&ring)).expect("a ring");
            assert!(zone.zone_m < 1e-5);
            zone
        });
    });
    let stations = [0.0, 0.1, 0.2];
    let readings: Vec<DiameterReading> = (0..12)
        .map(|i| DiameterReading {
            station: i / 4,
            direction_rad: Some(TAU * (i % 4) as f64 / 8.0),
            diameter_m: 0.2 + 1e-5 * (i as f64 * 0.618_033_988_749_895).fract(),
        })
        .collect();
    c.bench_function("form/cylinder/12_readings", |b| {
        b.iter(|| {
            let form = cylinder_form(SurfaceKind::Journal, &stations, black_box(&readings))
                .expect("sound readings");
            assert!(form.crown.is_ok());
            form
        });
    });
}

criterion_group!(benches, chains, function, fits);
criterion_main!(benches);
