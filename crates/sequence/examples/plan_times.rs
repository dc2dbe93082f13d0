//! Plans invented schemes and tells cost, bound, gap and time. Arguments: works, people, seed,
//! seconds, threads.

#[path = "../tests/random/mod.rs"]
mod random;

use sequence::{Objective, Progress, SearchOptions, Watch, audit, solve_watched};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Instant;

fn main() {
    let number: Vec<f64> = std::env::args().skip(1).filter_map(|a| a.parse().ok()).collect();
    let get = |i: usize, other: f64| number.get(i).copied().unwrap_or(other);
    let size =
        random::Large { works: get(0, 150.0) as usize, people: get(1, 3.0) as u32, assembly: 12 };
    let scheme = random::large(get(2, 1.0) as u64, size);
    let seconds = get(3, 2.0);
    let (begun, stop) = (Instant::now(), AtomicBool::new(false));
    let news = |n: &sequence::News| {
        if begun.elapsed().as_secs_f64() > seconds * 0.95 {
            stop.store(true, Ordering::Relaxed);
        }
        let _ = n;
    };
    let options = SearchOptions {
        steps: u64::MAX,
        threads: get(4, 1.0) as usize,
        objective: Objective::InOrder,
        ..SearchOptions::default()
    };
    match solve_watched(
        &scheme,
        &Progress::default(),
        &options,
        &Watch { news: &news, stop: &stop },
    ) {
        Ok(plan) => println!(
            "{} works: elapsed {} (bound {}), moves {} ({}), set-ups {} ({}), people-min {} ({}); gap {:.2} % {} after {} plans in {:.2} s; {} breaches {:?}",
            scheme.works.len(),
            plan.cost.elapsed_min,
            plan.bound.elapsed_min,
            plan.cost.moves,
            plan.bound.moves,
            plan.cost.set_ups,
            plan.bound.set_ups,
            plan.cost.people_min,
            plan.bound.people_min,
            100.0 * plan.gap(),
            if plan.optimal { "proven" } else { "" },
            plan.steps_searched,
            begun.elapsed().as_secs_f64(),
            audit(&scheme, &Progress::default(), &plan).len(),
            audit(&scheme, &Progress::default(), &plan).first(),
        ),
        Err(refused) => println!("{refused}"),
    }
}
