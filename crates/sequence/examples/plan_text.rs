//! Plans a scheme and writes scheme, plan and audit as plain text, for scripts under `checks/`.
//!
//! Arguments: `large|small`, works, people, seed, seconds (0: a step budget), `order|weights`,
//! threads, steps.
//! Lines: `meta`, `day`, `kit`, `place`, `bar`, `stations`, `barmin`, `work`, `way`, `pred`, `hang`;
//! then `cost`, `bound`, `optimal`, `seconds`, `memory`, `breaches`.

#[path = "../tests/random/mod.rs"]
mod random;

use sequence::{
    Break, Cost, Event, Objective, Progress, RepairOptions, Scheme, SearchOptions, SetUps, Wait,
    Wanted, Watch, Weights, Where, Window, apply, audit, repair, solve_watched,
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
    write(&scheme);
    let (begun, stop) = (Instant::now(), AtomicBool::new(false));
    let options = SearchOptions {
        objective,
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
            let line = |name: &str, c: &Cost| {
                println!("{name} {} {} {} {}", c.elapsed_min, c.moves, c.set_ups, c.people_min);
            };
            line("cost", &plan.cost);
            line("bound", &plan.bound);
            println!("optimal {}", u8::from(plan.optimal));
            println!("gap {}", plan.gap());
            println!("seconds {taken}");
            println!("tried {}", plan.steps_searched);
            println!("breaches {}", audit(&scheme, &progress, &plan).len());
            for s in &plan.steps {
                println!("step {} {} {} {}", s.work.0, s.way, s.start_min, s.end_min);
            }
            for m in &plan.moves {
                println!("move {} {}", m.start_min, m.end_min);
            }
            let middle = plan.steps[plan.steps.len() / 2];
            let now_min = middle.start_min;
            let next = plan
                .steps
                .iter()
                .find(|s| s.start_min >= now_min && scheme.works[s.work.0].ways.len() > 1);
            if let Some(next) = next {
                let begun = Instant::now();
                let event = Event::Stuck(next.work, next.way);
                let (truth, now) =
                    apply(&scheme, &progress, &plan, now_min, &event).expect("applies");
                let mended = repair(&truth, &now, &plan, &RepairOptions::default());
                let taken = begun.elapsed().as_secs_f64();
                if let Ok(mended) = mended {
                    let breaches = audit(&truth, &now, &mended.plan).len();
                    let changes = mended.changes.len();
                    println!("replan {taken} {breaches} {changes}");
                }
            }
        }
    }
    // Most memory used, as the kernel of Linux tells it, in kB.
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let peak = status.lines().find_map(|l| l.strip_prefix("VmHWM:"));
    println!("memory {}", peak.map_or("?", |p| p.trim().trim_end_matches(" kB").trim()));
}

/// Angles worth standing at for these windows: ends and middles of all arcs.
fn angles(scheme: &Scheme) -> Vec<f64> {
    let mut ends: Vec<f64> = scheme
        .works
        .iter()
        .flat_map(|w| &w.ways)
        .filter_map(|y| if let Window::Arcs(arcs) = &y.window { Some(arcs) } else { None })
        .flatten()
        .flat_map(|a| [a.from_rad, a.to_rad])
        .map(|a| a.rem_euclid(std::f64::consts::TAU))
        .collect();
    ends.sort_by(f64::total_cmp);
    ends.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    let mut all = vec![scheme.stands_rad];
    for (i, end) in ends.iter().enumerate() {
        let next = ends.get(i + 1).copied().unwrap_or(ends[0] + std::f64::consts::TAU);
        all.push((end + next) / 2.0);
    }
    all
}

fn write(s: &Scheme) {
    let stands = angles(s);
    println!("meta {} {} {}", s.works.len(), s.barring.people, stands.len());
    for d in &s.calendar.days {
        println!("day {} {} {}", d.date, d.minutes, d.people);
    }
    let days = s.calendar.days.len();
    for k in &s.kits {
        let counts: Vec<String> = (0..days).map(|d| k.on(d).to_string()).collect();
        println!("kit {} {}", u8::from(k.set_ups == SetUps::Counted), counts.join(" "));
    }
    for p in &s.places {
        println!("place {}", p.room);
    }
    for a in &stands {
        let row: Vec<String> =
            stands.iter().map(|b| s.barring.minutes(*a, *b).to_string()).collect();
        println!("barmin {}", row.join(" "));
    }
    for (w, work) in s.works.iter().enumerate() {
        println!("work {w} {}", u8::from(work.wanted == Wanted::Always));
        for (k, y) in work.ways.iter().enumerate() {
            let bits: String =
                stands.iter().map(|a| if y.window.holds(*a) { '1' } else { '0' }).collect();
            let kit: Vec<String> = y.kit.iter().map(|(k, c)| format!("{}:{c}", k.0)).collect();
            let clear: Vec<String> = y.keeps_clear.iter().map(|p| p.0.to_string()).collect();
            println!(
                "way {w} {k} {} {} {} {} {} {} {} kit={} clear={} any={}",
                y.minutes,
                y.people,
                u8::from(y.whereabouts == Where::OnEngine),
                u8::from(y.stands == Break::SameDay),
                y.spot,
                y.place.map_or(-1, |p| p.0 as i64),
                bits,
                kit.join(","),
                clear.join(","),
                u8::from(y.window == Window::Any),
            );
            for b in work.after.iter().chain(&y.after) {
                let (minutes, days) = match b.wait {
                    Wait::None => (0, 0),
                    Wait::Minutes(m) => (m, 0),
                    Wait::Days(d) => (0, d),
                };
                println!("pred {w} {k} {} {minutes} {days}", b.work.0);
            }
            for h in &y.leaves {
                println!("hang {w} {k} {}", h.until.map_or(-1, |u| u.0 as i64));
            }
        }
    }
}
