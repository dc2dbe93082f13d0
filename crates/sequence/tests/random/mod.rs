//! Invented schemes from a seed: layered strips with positions, hangs, kit, places and ways.

use sequence::*;
use std::f64::consts::TAU;

/// SplitMix64.
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    pub(crate) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    pub(crate) fn below(&mut self, n: u64) -> u64 {
        self.next() % n.max(1)
    }

    pub(crate) fn chance(&mut self, percent: u64) -> bool {
        self.below(100) < percent
    }
}

fn quarter(k: u64) -> Window {
    Window::about(k as f64 * TAU / 4.0, 0.35)
}

fn window(dice: &mut Dice) -> Window {
    let k = dice.below(4);
    match dice.below(3) {
        0 => quarter(k),
        1 => Window::Arcs(vec![
            Arc::about(k as f64 * TAU / 4.0, 0.35),
            Arc::about((k + 2) as f64 * TAU / 4.0, 0.35),
        ]),
        _ => Window::Arcs(vec![Arc {
            from_rad: k as f64 * TAU / 4.0 - 0.35,
            to_rad: (k + 1) as f64 * TAU / 4.0 + 0.35,
        }]),
    }
}

/// A small scheme with everything in it, times of 1 to 4 units, for comparing with enumeration.
#[allow(dead_code)]
pub(crate) fn small(seed: u64, works: usize) -> Scheme {
    let mut dice = Dice(seed);
    let days = if dice.chance(50) { 2 + dice.below(3) } else { 1 };
    let minutes = if days == 1 { 60 } else { 4 + dice.below(8) as u32 };
    let mut calendar = Calendar::even(days as usize, minutes, 2 + dice.below(2) as u32);
    if days > 1 {
        for extra in 0..10 {
            let date = calendar.days.last().map_or(0, |d| d.date) + 1 + i64::from(extra == 0);
            let people = calendar.days[0].people;
            calendar.days.push(Day { date, opens_min: 480, minutes, people });
        }
    }
    let mut s = Scheme::new(calendar);
    s.barring = Barring {
        people: 1 + dice.below(2) as u32,
        set_up_min: 1,
        turn_min: 2 * dice.below(2) as u32,
        round_min: 1,
        after: Vec::new(),
    };
    s.stands_rad = dice.below(4) as f64 * TAU / 4.0;
    let mut crane = Kit::new("crane", 1);
    crane.set_ups = SetUps::Counted;
    if days > 1 {
        crane.by_day = vec![(0, 0)];
    }
    let crane = s.add_kit(crane);
    let jack = s.add_kit(Kit::new("jack", 1));
    let pit = s.add_place(Place::new("pit", 1));
    for w in 0..works {
        let mut work = Work::new(&format!("w{w}"), "work");
        for _ in 0..dice.below(3) {
            if w > 0 {
                let p = WorkId(dice.below(w as u64) as usize);
                if work.after.iter().all(|b| b.work != p) {
                    let wait = match dice.below(8) {
                        0 => Wait::Minutes(1),
                        1 if days > 1 => Wait::Days(1),
                        _ => Wait::None,
                    };
                    work = work.tied(Before::new(p, Tie::HeldBy, "held").wait(wait));
                }
            }
        }
        if dice.chance(15) && w + 1 < works {
            work = work.when_needed();
        }
        for k in 0..(1 + u64::from(dice.chance(40))) {
            let mut way = Way::new(
                &format!("way {k}"),
                1 + dice.below(4) as u32,
                1 + u32::from(dice.chance(30)),
            );
            if dice.chance(45) {
                way = way.window(window(&mut dice));
            }
            if dice.chance(20) {
                way = way.kit(crane, 1);
                way.spot = dice.below(2) as u32;
            } else if dice.chance(20) {
                way = way.kit(jack, 1);
            }
            if dice.chance(15) {
                way = way.at_bench();
            }
            if dice.chance(15) {
                way = way.same_day();
            }
            match dice.below(8) {
                0 => way.place = Some(pit),
                1 => way.keeps_clear = vec![pit],
                _ => {}
            }
            if dice.chance(15) && w > 0 {
                let p = WorkId(dice.below(w as u64) as usize);
                way = way.tied(Before::new(p, Tie::SupportedBy, "rests on it"));
            }
            work = work.way(way);
        }
        // The earlier work leaves something hanging that this one puts right.
        if let Some(p) = work.after.first().map(|b| b.work.0).filter(|_| dice.chance(25)) {
            s.works[p].ways[0].leaves.push(Hanging { what: "it".into(), until: Some(WorkId(w)) });
        }
        // The jack stays after an earlier work until this one is done.
        if let Some(p) = work.after.last().map(|b| b.work.0).filter(|_| dice.chance(15)) {
            for way in &mut s.works[p].ways {
                way.stays.push(Staying { kit: jack, count: 1, until: Some(WorkId(w)) });
            }
        }
        s.add(work);
    }
    s
}

/// How a large scheme is made.
#[allow(dead_code)]
#[derive(Clone, Copy)]
pub(crate) struct Large {
    pub(crate) works: usize,
    pub(crate) people: u32,
    /// Works in one assembly; each assembly comes apart from outside in.
    pub(crate) assembly: usize,
}

/// A strip of many assemblies: each is a small tree of works from outside in, tied to others here
/// and there; four in ten works have two ways or more, three in ten need a crank position.
#[allow(dead_code)]
pub(crate) fn large(seed: u64, size: Large) -> Scheme {
    let mut dice = Dice(seed);
    let days = 2 + size.works * 40 * 2 / (400 * size.people as usize) * 2;
    let mut calendar = Calendar::even(days, 420, size.people);
    for (d, day) in calendar.days.iter_mut().enumerate() {
        day.date = (d / 5 * 7 + d % 5) as i64;
        // One hand is away now and then.
        if size.people > 2 && dice.chance(15) {
            day.people -= 1;
        }
    }
    let mut s = Scheme::new(calendar);
    s.barring =
        Barring { people: 2, set_up_min: 10, turn_min: 10, round_min: 5, after: Vec::new() };
    let mut crane = Kit::new("crane", 1);
    crane.set_ups = SetUps::Counted;
    crane.by_day = (0..days).filter(|d| d % 5 == 2).map(|d| (d, 0)).collect();
    let crane = s.add_kit(crane);
    let jack = s.add_kit(Kit::new("jack", 2));
    let slings = s.add_kit(Kit::new("slings", 2));
    let pit = s.add_place(Place::new("pit", 2));
    let left = s.add_place(Place::new("left", 3));
    let right = s.add_place(Place::new("right", 3));
    let mut first = 0;
    while first < size.works {
        let count = size.assembly.min(size.works - first);
        let home = dice.below(4);
        let side = [pit, left, right][dice.below(3) as usize];
        let mut hang_from: Option<usize> = None;
        for i in 0..count {
            let w = first + i;
            let mut work = Work::new(&format!("w{w}"), "work");
            if i > 0 {
                for _ in 0..(1 + dice.below(2)) {
                    let back = 1 + dice.below(3.min(i as u64)) as usize;
                    let p = WorkId(w - back);
                    if work.after.iter().all(|b| b.work != p) {
                        work = work.tied(Before::new(p, Tie::HeldBy, "held by it"));
                    }
                }
            } else if first > 0 && dice.chance(50) {
                let reach = (first as u64).min(60);
                let p = WorkId(w - 1 - dice.below(reach) as usize);
                work = work.tied(Before::new(p, Tie::CoveredBy, "covered by it"));
            }
            if let Some(p) = hang_from.take() {
                if work.after.iter().all(|b| b.work.0 != p) {
                    work = work.tied(Before::new(WorkId(p), Tie::SupportedBy, "lowers it"));
                }
                s.works[p].ways.iter_mut().for_each(|y| {
                    y.leaves.push(Hanging { what: "the rod".into(), until: Some(WorkId(w)) });
                });
            }
            let windowed = dice.chance(30);
            let ways = if dice.chance(40) { 2 + dice.below(2) } else { 1 };
            let minutes = 5 * (1 + dice.below(12)) as u32;
            let lifts = dice.chance(12);
            for k in 0..ways {
                let people = if lifts { 2 } else { 1 + u32::from(dice.chance(25)) };
                let longer = 5 * dice.below(5) as u32 * u32::from(k > 0);
                let mut way = Way::new(&format!("way {k}"), minutes + longer, people);
                way.place = Some(side);
                if windowed && (k == 0 || dice.chance(50)) {
                    way = way.window(quarter(if dice.chance(70) { home } else { dice.below(4) }));
                }
                if lifts && k == 0 {
                    way = way.kit(crane, 1).kit(slings, 1).same_day();
                    way.spot = (first / size.assembly) as u32;
                    if side != pit {
                        way.keeps_clear = vec![pit];
                    }
                } else if lifts || dice.chance(15) {
                    way = way.kit(jack, 1);
                }
                if dice.chance(10) && !windowed {
                    way = way.at_bench();
                    way.place = None;
                }
                work = work.way(way);
            }
            // It hangs until the next work, which stands at the same position or any.
            let alone = work.ways.iter().all(|y| y.window == Window::Any);
            if i + 1 < count && alone && dice.chance(15) {
                hang_from = Some(w);
            }
            s.add(work);
        }
        first += count;
    }
    s
}
