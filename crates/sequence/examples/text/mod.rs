//! A scheme and a plan as plain text, for scripts under `checks/`.

use sequence::{
    Arc, Barring, Before, Break, Calendar, Cost, Day, Hanging, Kit, KitId, Place, PlaceId, Plan,
    Scheme, SetUps, Staying, Tie, Wait, Wanted, Way, Where, Window, Work, WorkId,
};

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

/// Processor time of this program so far, milliseconds, as the kernel of Linux tells it in hundredths
/// of a second; what a machine that does other work too cannot spoil. 0 elsewhere.
#[allow(dead_code)]
pub(crate) fn worked_ms() -> u64 {
    let stat = std::fs::read_to_string("/proc/self/stat").unwrap_or_default();
    let rest = stat.rsplit(')').next().unwrap_or_default();
    // User and system time are the 14th and 15th field; two stand before the bracket.
    let fields = rest.split_whitespace().skip(11).take(2);
    10 * fields.filter_map(|f| f.parse::<u64>().ok()).sum::<u64>()
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
    let b = &s.barring;
    let bar = format!("{} {} {} {}", b.people, b.set_up_min, b.turn_min, b.round_min);
    println!("meta {} {bar} {}", s.works.len(), stands.len());
    for b in &b.after {
        println!("barafter {} {}", b.work.0, wait(b));
    }
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
        println!("angle {a}");
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
                println!("pred {w} {k} {} {}", b.work.0, wait(b));
            }
            for x in &y.stays {
                let until = x.until.map_or(-1, |u| u.0 as i64);
                println!("stay {w} {k} {} {} {until}", x.kit.0, x.count);
            }
            for h in &y.leaves {
                println!("hang {w} {k} {}", h.until.map_or(-1, |u| u.0 as i64));
            }
        }
    }
}

/// Minutes and days of a wait.
fn wait(b: &Before) -> String {
    match b.wait {
        Wait::None => "0 0".into(),
        Wait::Minutes(m) => format!("{m} 0"),
        Wait::Days(d) => format!("0 {d}"),
    }
}

/// The scheme of a text that [`write`] wrote: the same works, each position a narrow arc about the
/// angles that were written. Wrong text panics: it is a tool for trying things out.
#[allow(dead_code)]
pub(crate) fn read(text: &str) -> Scheme {
    let mut s = Scheme::new(Calendar { days: Vec::new() });
    let mut angles: Vec<f64> = Vec::new();
    for line in text.lines() {
        let words: Vec<&str> = line.split(' ').collect();
        let n = |i: usize| words[i].parse::<i64>().expect("a number");
        let u = |i: usize| n(i) as u32;
        let before = |i: usize| {
            let wait = match (u(i + 1), u(i + 2)) {
                (0, 0) => Wait::None,
                (0, days) => Wait::Days(days),
                (minutes, _) => Wait::Minutes(minutes),
            };
            Before::new(WorkId(n(i) as usize), Tie::Other, "said so").wait(wait)
        };
        match words[0] {
            "meta" => {
                s.barring = Barring {
                    people: u(2),
                    set_up_min: u(3),
                    turn_min: u(4),
                    round_min: u(5),
                    after: Vec::new(),
                };
            }
            "barafter" => s.barring.after.push(before(1)),
            "day" => {
                let day = Day { date: n(1), opens_min: 480, minutes: u(2), people: u(3) };
                s.calendar.days.push(day);
            }
            "kit" => {
                let counts: Vec<u32> = (2..words.len()).map(u).collect();
                let most = counts.iter().copied().max().unwrap_or(0);
                let mut kit = Kit::new("kit", most);
                kit.set_ups = if u(1) == 1 { SetUps::Counted } else { SetUps::Free };
                kit.by_day = counts.into_iter().enumerate().filter(|c| c.1 != most).collect();
                s.add_kit(kit);
            }
            "place" => {
                s.add_place(Place::new("place", u(1)));
            }
            "angle" => angles.push(words[1].parse().expect("an angle")),
            "work" => {
                let mut work = Work::new(&format!("w{}", words[1]), "work");
                work.wanted = if u(2) == 1 { Wanted::Always } else { Wanted::WhenNeeded };
                s.add(work);
            }
            "way" => {
                let mut way = Way::new(&format!("way {}", words[2]), u(3), u(4));
                way.whereabouts = if u(5) == 1 { Where::OnEngine } else { Where::AtBench };
                way.stands = if u(6) == 1 { Break::SameDay } else { Break::MayStand };
                way.spot = u(7);
                way.place = usize::try_from(n(8)).ok().map(PlaceId);
                let rest = |i: usize| words[i].split_once('=').map_or("", |x| x.1);
                let split = |i: usize| rest(i).split(',').filter(|t| !t.is_empty());
                for kit in split(10) {
                    let (k, c) = kit.split_once(':').expect("kit and count");
                    way.kit.push((KitId(k.parse().expect("kit")), c.parse().expect("count")));
                }
                way.keeps_clear = split(11).map(|p| PlaceId(p.parse().expect("place"))).collect();
                if rest(12) == "0" {
                    let held = words[9].bytes().zip(&angles).filter(|(b, _)| *b == b'1');
                    way.window = Window::Arcs(held.map(|(_, a)| Arc::about(*a, 1e-4)).collect());
                }
                s.works.last_mut().expect("a work").ways.push(way);
            }
            "pred" => {
                let to = &mut s.works[n(1) as usize].ways[n(2) as usize].after;
                to.push(before(3));
            }
            "stay" => {
                let until = usize::try_from(n(5)).ok().map(WorkId);
                let kept = Staying { kit: KitId(n(3) as usize), count: u(4), until };
                s.works[n(1) as usize].ways[n(2) as usize].stays.push(kept);
            }
            "hang" => {
                let until = usize::try_from(n(3)).ok().map(WorkId);
                s.works[n(1) as usize].ways[n(2) as usize]
                    .leaves
                    .push(Hanging { what: "it".into(), until });
            }
            _ => {}
        }
    }
    s.stands_rad = angles.first().copied().unwrap_or(0.0);
    s
}
