//! Speed of motion, loads and clearance. Every benchmark first makes sure of its answer.
// A benchmark that cannot set itself up has nothing to measure.
#![allow(clippy::unwrap_used, missing_docs)]

use criterion::{Criterion, criterion_group, criterion_main};
use mechanics::loads::*;
use mechanics::motion::*;
use std::hint::black_box;

fn four_cylinders() -> (Motion, Vec<CylinderLoad>) {
    let leading = Leading::Right;
    let lines: Vec<_> = crank_lags(CrankSequence::FourPaired { leading })
        .unwrap()
        .into_iter()
        .map(|(place, crank_lag_rad)| CylinderLine {
            place,
            lateral_m: 0.0,
            crank_throw_m: 0.33,
            rod_centres_m: if place.is_inside() { 2.0 } else { 3.1 },
            incline_rad: if place.is_inside() { 0.08 } else { 0.0 },
            offset_m: 0.01,
            crank_lag_rad,
        })
        .collect();
    let diagram = || {
        theoretical_diagram(&TheoreticalDiagram {
            admission_pa: 13e5,
            exhaust_pa: 0.3e5,
            atmosphere_pa: 1.013e5,
            clearance_share: 0.09,
            cut_off_share: 0.3,
            release_share: 0.8,
            compression_share: 0.25,
            points_per_curve: 60,
        })
        .unwrap()
    };
    let load = CylinderLoad {
        steam: Steam::Diagrams(Box::new(EndDiagrams { front: diagram(), back: diagram() })),
        areas: PistonAreas::from_diameters(0.42, 0.08, 0.0).unwrap(),
        parts: MovingParts {
            piston_set_kg: 280.0,
            rod: RodMass {
                mass_kg: 210.0,
                centre_from_small_end_m: 1.2,
                inertia: RodInertia::AboutCentre(110.0),
            },
            slide_friction: 0.05,
            piston_friction_n: 0.0,
            gravity_m_s2: 0.0,
        },
    };
    let loads = vec![load; lines.len()];
    (Motion::new(&lines).unwrap(), loads)
}

fn chain() -> (ClearanceChain, Spreads) {
    let chain = ClearanceChain::new(ChainSizes {
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
    .unwrap();
    let mut spreads = Spreads::exact();
    for c in Contributor::ALL {
        spreads.set(c, Spread::Normal { standard_m: 0.0002, limit_m: 0.0006 });
    }
    (chain, spreads)
}

fn motion(c: &mut Criterion) {
    let (motion, loads) = four_cylinders();
    let running = Running::steady(25.0);
    let all = load_revolution(&motion, &loads, &running, 3600).unwrap();
    assert!(0.0 < tractive_trace(&all, 1.8).unwrap().mean_n);
    c.bench_function("motion/revolution/4x3600", |b| {
        b.iter(|| motion.revolution(black_box(3600), &running).unwrap());
    });
    c.bench_function("loads/revolution/4x3600", |b| {
        b.iter(|| load_revolution(&motion, &loads, &running, black_box(3600)).unwrap());
    });

    let (chain, spreads) = chain();
    let options = MonteCarloOptions {
        engines: 1_000_000,
        seed: 1,
        threads: 2,
        float: Float::Forward,
        least_front_m: 0.003,
        least_back_m: 0.003,
    };
    let rss = chain.root_sum_square(&spreads, Float::Forward).unwrap();
    let mc = chain.monte_carlo(&spreads, &options).unwrap();
    assert!((mc.front.standard_m / rss.front_standard_m - 1.0).abs() < 0.01);
    let mut slow = c.benchmark_group("clearance");
    slow.sample_size(10);
    slow.bench_function("monte_carlo/1e6", |b| {
        b.iter(|| chain.monte_carlo(&spreads, black_box(&options)).unwrap());
    });
    slow.finish();

    let readings = BumpReadings {
        bump_front_m: 0.009,
        travel_front_m: 0.0,
        travel_back_m: -0.641,
        bump_back_m: -0.650,
        mark_standard_m: 0.0003,
        float: Float::Middle,
    };
    let priors = FaultPrior::starting_point(&spreads);
    let report = bump_test(&chain, &spreads, &readings, &priors).unwrap();
    assert_eq!(report.findings.len(), priors.len() + 1);
    c.bench_function("bump_test/24_faults", |b| {
        b.iter(|| bump_test(&chain, &spreads, black_box(&readings), &priors).unwrap());
    });
}

criterion_group!(benches, motion);
criterion_main!(benches);
