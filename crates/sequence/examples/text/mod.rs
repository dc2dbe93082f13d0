//! A scheme and a plan as plain text, for scripts under `checks/`.

use sequence::{Break, Cost, Plan, Scheme, SetUps, Wait, Wanted, Where, Window};

/// Writes a plan.
pub(crate) fn plan(plan: &Plan) {
    let line = |name: &str, c: &Cost| {
        println!("{name} {} {} {} {}", c.elapsed_min, c.moves, c.set_ups, c.people_min);
    };
    line("cost", &plan.cost);
    line("bound", &plan.bound);
    println!("optimal {}", u8::from(plan.optimal));
    println!("gap {}", plan.gap());
    println!("tried {}", plan.steps_searched);
    for s in &plan.steps {
        println!("step {} {} {} {}", s.work.0, s.way, s.start_min, s.end_min);
    }
    for m in &plan.moves {
        println!("move {} {}", m.start_min, m.end_min);
    }
}

/// Most memory used, as the kernel of Linux tells it, in kB.
pub(crate) fn memory() {
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

/// Writes a scheme.
pub(crate) fn write(s: &Scheme) {
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
