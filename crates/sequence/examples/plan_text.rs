//! Plans a scheme and writes scheme, plan and audit as plain text, for scripts under `checks/`.
//!
//! Arguments: `large|small|FILE` (a text written before), works, people, seed, seconds (0: a step budget), `order|weights`,
//! threads, steps.
//! Lines: `meta`, `day`, `kit`, `place`, `bar`, `stations`, `barmin`, `work`, `way`, `pred`, `hang`;
//! then `cost`, `bound`, `optimal`, `seconds`, `memory`, `breaches`.

#[path = "../tests/random/mod.rs"]
mod random;
mod text;

use sequence::{
    Event, Objective, Progress, RepairOptions, SearchOptions, Watch, Weights, apply, audit, repair,
    solve_watched,
};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

fn main() {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let word = |i: usize| words.get(i).map_or("", String::as_str);
    let number = |i: usize, other: u64| word(i).parse().unwrap_or(other);
    let (works, people, seed) = (number(1, 30) as usize, number(2, 3) as u32, number(3, 1));
    let scheme = match word(0) {
        "small" => random::small(seed, works),
        file if std::path::Path::new(file).is_file() => {
            text::read(&std::fs::read_to_string(file).expect("a text"))
        }
        _ => random::large(seed, random::Large { works, people, assembly: 12 }),
    };
    let seconds: f64 = word(4).parse().unwrap_or(0.0);
    let objective = match word(5) {
        "weights" => Objective::Weighted(Weights {
            elapsed_min: 1000,
            moves: 500,
            set_ups: 100,
            people_min: 1,
        }),
        _ => Objective::InOrder,
    };
    text::write(&scheme);
    let (begun, stop) = (Instant::now(), AtomicBool::new(false));
    let options = SearchOptions {
        objective,
        seed,
        steps: if seconds > 0.0 { u64::MAX } else { number(7, 4000) },
        threads: number(6, 1) as usize,
        ..SearchOptions::default()
    };
    let progress = Progress::default();
    let solved = std::thread::scope(|scope| {
        if seconds > 0.0 {
            let stop = &stop;
            scope.spawn(move || {
                while begun.elapsed() < Duration::from_secs_f64(seconds * 0.97)
                    && !stop.load(Ordering::Relaxed)
                {
                    std::thread::sleep(Duration::from_millis(5));
                }
                stop.store(true, Ordering::Relaxed);
            });
        }
        let solved =
            solve_watched(&scheme, &progress, &options, &Watch { news: &|_| {}, stop: &stop });
        stop.store(true, Ordering::Relaxed);
        solved
    });
    let taken = begun.elapsed().as_secs_f64();
    match solved {
        Err(refused) => println!("refused {refused}"),
        Ok(plan) => {
            text::plan(&plan);
            println!("seconds {taken}");
            println!("breaches {}", audit(&scheme, &progress, &plan).len());
            let middle = plan.steps[plan.steps.len() / 2];
            let now_min = middle.start_min;
            let next = plan
                .steps
                .iter()
                .find(|s| s.start_min >= now_min && scheme.works[s.work.0].ways.len() > 1);
            if let Some(next) = next {
                let (begun, worked) = (Instant::now(), text::worked_ms());
                let event = Event::Stuck(next.work, next.way);
                let (truth, now) =
                    apply(&scheme, &progress, &plan, now_min, &event).expect("applies");
                let mended = repair(&truth, &now, &plan, &RepairOptions::default());
                let taken = begun.elapsed().as_secs_f64();
                if let Ok(mended) = mended {
                    let breaches = audit(&truth, &now, &mended.plan).len();
                    let changes = mended.changes.len();
                    let ends = mended.plan.cost.elapsed_min;
                    let worked = text::worked_ms() - worked;
                    println!("replan {taken} {breaches} {changes} {ends} {worked}");
                }
            }
        }
    }
    text::memory();
}
