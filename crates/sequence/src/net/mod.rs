//! The scheme made ready for searching: whole ticks, flat tables, positions as bits.

mod stations;

use crate::faults::WayOut;
use crate::plan::{Progress, Refused};
use crate::scheme::{Before, Break, Scheme, SetUps, Targets, Wait, Wanted, Way, Where};

/// Demand of a move on the engine: everybody off it. Works on it take one each.
pub(crate) const WHOLE_ENGINE: u16 = 60_000;
/// The resources that every net has.
pub(crate) const PEOPLE: u16 = 0;
pub(crate) const ENGINE: u16 = 1;
/// Ticks in a block of which the most people free are kept.
pub(crate) const BLOCK: usize = 32;
/// All positions.
pub(crate) const ANYWHERE: u64 = u64::MAX;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum NetWait {
    Ticks(usize),
    Days(i64),
}

#[derive(Debug, Clone, Copy)]
pub(crate) struct Pred {
    pub(crate) work: usize,
    pub(crate) wait: NetWait,
}

#[derive(Debug, Clone, Default)]
pub(crate) struct NetWay {
    pub(crate) usable: bool,
    pub(crate) ticks: usize,
    pub(crate) demands: Vec<(u16, u16)>,
    /// Bit s: can be done at station s.
    pub(crate) mask: u64,
    pub(crate) on_engine: bool,
    pub(crate) same_day: bool,
    /// Kit with counted set-ups, and spot.
    pub(crate) set_up: Option<(usize, u32)>,
    pub(crate) preds: Vec<Pred>,
    pub(crate) hangs: Vec<Option<usize>>,
    /// Kit that stays: resource, how many, until which work.
    pub(crate) stays: Vec<Stay>,
    pub(crate) people_min: u64,
}

impl NetWay {
    pub(crate) fn windowed(&self) -> bool {
        self.mask != ANYWHERE
    }
}

/// Kit that stays after a work: resource, how many, until the end of which work.
pub(crate) type Stay = (u16, u16, Option<usize>);

/// What hangs at the start, and until which work.
pub(crate) type OpenHang = (usize, Option<usize>);

pub(crate) struct Net {
    /// Minutes in a tick.
    pub(crate) tick_min: u64,
    pub(crate) horizon: usize,
    pub(crate) day_at: Vec<u16>,
    pub(crate) day_opens: Vec<usize>,
    dates: Vec<i64>,
    pub(crate) ways: Vec<Vec<NetWay>>,
    /// Usable ways of each work.
    pub(crate) choices: Vec<Vec<u16>>,
    /// (work, way) that has this work before it.
    pub(crate) rev: Vec<Vec<(u32, u16)>>,
    /// Free capacity, resource by resource, tick by tick.
    pub(crate) base: Vec<u16>,
    pub(crate) resources: usize,
    pub(crate) angles_rad: Vec<f64>,
    pub(crate) bar_ticks: Vec<usize>,
    pub(crate) move_demands: [(u16, u16); 2],
    pub(crate) move_after: Vec<Pred>,
    pub(crate) wanted: Vec<usize>,
    /// End of a work that is done, running or dropped; it is not planned.
    pub(crate) past: Vec<Option<usize>>,
    pub(crate) now: usize,
    /// When the first stay begins, and until when running works hold the engine there.
    pub(crate) first_stay: (usize, usize),
    pub(crate) hanging: Vec<OpenHang>,
    /// Kit that stays from before, and since when.
    pub(crate) staying: Vec<(usize, Stay)>,
    /// Last spot of each kit with counted set-ups, by kit, and when it is free of it.
    pub(crate) spots: Vec<Option<(u32, usize)>>,
}

impl Net {
    pub(crate) fn new(
        scheme: &Scheme,
        progress: &Progress,
        out: &[WayOut],
    ) -> Result<Self, Refused> {
        let n = scheme.works.len();
        let mut past_min: Vec<Option<u64>> = vec![None; n];
        for s in progress.done.iter().chain(&progress.running) {
            if scheme.way(s.work, s.way).is_none() {
                return Err(Refused::NotThere(s.work.0));
            }
            past_min[s.work.0] = Some(s.end_min);
        }
        for d in &progress.dropped {
            let slot = past_min.get_mut(d.0).ok_or(Refused::NotThere(d.0))?;
            *slot = slot.or(Some(0));
        }
        let usable = |w: usize, k: usize| {
            past_min[w].is_none()
                && !out.iter().any(|o| o.work.0 == w && o.way == k)
                && !progress.stuck.iter().any(|s| s.0.0 == w && s.1 == k)
        };
        let stands_rad = progress.stands_rad.unwrap_or(scheme.stands_rad);
        let windows: Vec<_> = scheme
            .works
            .iter()
            .enumerate()
            .flat_map(|(w, work)| {
                let each = work.ways.iter().enumerate();
                each.filter(move |(k, _)| usable(w, *k)).map(|(_, way)| &way.window)
            })
            .collect();
        let angles_rad = stations::stations(&windows, stands_rad);
        let count = angles_rad.len();
        let bar_min: Vec<u64> = (0..count * count)
            .map(|i| {
                u64::from(scheme.barring.minutes(angles_rad[i / count], angles_rad[i % count]))
            })
            .collect();

        let mut tick_min = 0;
        let mut all = |v: u64| tick_min = gcd(tick_min, v);
        for way in scheme.works.iter().flat_map(|w| &w.ways) {
            all(u64::from(way.minutes));
            way.after.iter().for_each(|b| all(wait_min(b)));
        }
        scheme.works.iter().flat_map(|w| &w.after).for_each(|b| all(wait_min(b)));
        scheme.barring.after.iter().for_each(|b| all(wait_min(b)));
        scheme.calendar.days.iter().for_each(|d| all(u64::from(d.minutes)));
        bar_min.iter().for_each(|m| all(*m));
        all(progress.now_min);
        progress.running.iter().for_each(|s| all(s.end_min));
        progress.moving_until_min.iter().for_each(|m| all(*m));
        let tick_min = tick_min.max(1);
        let ticks = |minutes: u64| minutes.div_ceil(tick_min) as usize;

        let mut day_at = Vec::new();
        let mut day_opens = Vec::new();
        for (d, day) in scheme.calendar.days.iter().enumerate() {
            day_opens.push(day_at.len());
            day_at.resize(day_at.len() + ticks(u64::from(day.minutes)), d.min(65_535) as u16);
        }
        day_opens.push(day_at.len());
        let horizon = day_at.len();
        let (base, kit_at, room_at, open_at) = capacities(scheme, &day_opens);
        let resources = base.len().checked_div(horizon).unwrap_or(0);

        let pred = |b: &Before| Pred {
            work: b.work.0,
            wait: match b.wait {
                Wait::None => NetWait::Ticks(0),
                Wait::Minutes(m) => NetWait::Ticks(ticks(u64::from(m))),
                Wait::Days(d) => NetWait::Days(i64::from(d)),
            },
        };
        let net_way = |w: usize, k: usize, way: &Way| {
            let mut demands = vec![(PEOPLE, small(way.people))];
            let on_engine = way.whereabouts == Where::OnEngine;
            if on_engine {
                demands.push((ENGINE, 1));
            }
            let mut set_up = None;
            // A way that names kit or places that are not there is struck out already.
            let there = |k: &&(crate::scheme::KitId, u32)| k.0.0 < scheme.kits.len();
            for (kit, count) in way.kit.iter().filter(there) {
                demands.push((kit_at + kit.0 as u16, small(*count)));
                if scheme.kits[kit.0].set_ups == SetUps::Counted {
                    set_up = Some((kit.0, way.spot));
                }
            }
            let known = |p: &&crate::scheme::PlaceId| p.0 < scheme.places.len();
            for place in way.keeps_clear.iter().filter(known) {
                demands.push((room_at + place.0 as u16, small(scheme.places[place.0].room.max(1))));
            }
            if let Some(place) = way.place.filter(|p| known(&p)) {
                if !way.keeps_clear.contains(&place) {
                    demands.push((room_at + place.0 as u16, 1));
                }
                demands.push((open_at + place.0 as u16, 1));
            }
            demands.retain(|(_, amount)| *amount > 0);
            let mask = match &way.window {
                crate::scheme::Window::Any => ANYWHERE,
                window => angles_rad
                    .iter()
                    .enumerate()
                    .filter(|(_, a)| window.holds(**a))
                    .fold(0, |m, (s, _)| m | 1 << s),
            };
            NetWay {
                usable: usable(w, k) && mask != 0,
                ticks: ticks(u64::from(way.minutes)).max(1),
                demands,
                mask,
                on_engine,
                same_day: way.stands == Break::SameDay,
                set_up,
                preds: scheme.works[w].after.iter().chain(&way.after).map(pred).collect(),
                hangs: way.leaves.iter().map(|h| h.until.map(|u| u.0)).collect(),
                stays: way
                    .stays
                    .iter()
                    .map(|x| (kit_at + x.kit.0 as u16, small(x.count), x.until.map(|u| u.0)))
                    .filter(|x| x.1 > 0)
                    .collect(),
                people_min: way.people_min(),
            }
        };
        let ways: Vec<Vec<NetWay>> = scheme
            .works
            .iter()
            .enumerate()
            .map(|(w, work)| {
                work.ways.iter().enumerate().map(|(k, way)| net_way(w, k, way)).collect()
            })
            .collect();
        let mut rev = vec![Vec::new(); n];
        for (w, own) in ways.iter().enumerate() {
            for (k, way) in own.iter().enumerate() {
                for p in &way.preds {
                    rev[p.work].push((w as u32, k as u16));
                }
            }
        }
        let wanted = match &scheme.targets {
            Targets::All => (0..n).filter(|w| scheme.works[*w].wanted == Wanted::Always).collect(),
            Targets::Only(ids) => ids.iter().map(|i| i.0).collect(),
        };
        let mut net = Self {
            tick_min,
            horizon,
            day_at,
            day_opens,
            dates: scheme.calendar.days.iter().map(|d| d.date).collect(),
            choices: ways
                .iter()
                .map(|own| (0..own.len() as u16).filter(|k| own[*k as usize].usable).collect())
                .collect(),
            ways,
            rev,
            base,
            resources,
            angles_rad,
            bar_ticks: bar_min.iter().map(|m| ticks(*m)).collect(),
            move_demands: [(PEOPLE, small(scheme.barring.people)), (ENGINE, WHOLE_ENGINE)],
            move_after: scheme.barring.after.iter().map(pred).collect(),
            wanted,
            past: past_min.iter().map(|m| m.map(ticks)).collect(),
            now: ticks(progress.now_min),
            first_stay: (0, 0),
            hanging: Vec::new(),
            staying: Vec::new(),
            spots: vec![None; scheme.kits.len()],
        };
        net.take_in(progress, ticks);
        Ok(net)
    }

    /// What is running, hanging and standing when planning begins.
    fn take_in(&mut self, progress: &Progress, ticks: impl Fn(u64) -> usize) {
        let from = self.now;
        self.first_stay = (from, from);
        if let Some(until_min) = progress.moving_until_min {
            let until = ticks(until_min).min(self.horizon);
            self.first_stay = (until.max(from), until.max(from));
            for (r, amount) in self.move_demands {
                self.take(r, amount, from, until);
            }
        }
        for s in &progress.running {
            let end = ticks(s.end_min).min(self.horizon);
            let way = self.ways[s.work.0][s.way].clone();
            for (r, amount) in &way.demands {
                self.take(*r, *amount, from, end);
            }
            if way.windowed() {
                self.first_stay.1 = self.first_stay.1.max(end);
            }
        }
        for s in progress.done.iter().chain(&progress.running) {
            let hangs = self.ways[s.work.0][s.way].hangs.clone();
            for until in &hangs {
                if until.is_none_or(|u| self.past[u].is_none()) {
                    // A move that is under way already cannot be undone.
                    self.hanging.push((self.first_stay.0, *until));
                } else if let Some(end) = until.and_then(|u| self.past[u]) {
                    // What frees it is still running: the engine stays until that ends.
                    let end = end.min(self.horizon);
                    if end > from {
                        self.base_hold(from, end);
                    }
                }
            }
            for stay in self.ways[s.work.0][s.way].stays.clone() {
                let since = ticks(s.end_min).clamp(from, self.horizon);
                match stay.2.map(|u| (u, self.past[u])) {
                    None | Some((_, None)) => self.staying.push((since, stay)),
                    // The work that frees it is still going on.
                    Some((_, Some(end))) => self.take(stay.0, stay.1, since, end.min(self.horizon)),
                }
            }
            if let Some((kit, spot)) = self.ways[s.work.0][s.way].set_up {
                let end = ticks(s.end_min);
                if self.spots[kit].is_none_or(|(_, e)| e <= end) {
                    self.spots[kit] = Some((spot, end));
                }
            }
        }
    }

    fn base_hold(&mut self, from: usize, to: usize) {
        self.take(ENGINE, 1, from, to);
    }

    fn take(&mut self, resource: u16, amount: u16, from: usize, to: usize) {
        let row = resource as usize * self.horizon;
        for free in &mut self.base[row + from.min(to)..row + to.max(from.min(to))] {
            *free = free.saturating_sub(amount);
        }
    }

    /// When something may begin that waits for the end of another; past the horizon: never.
    pub(crate) fn ready(&self, end: usize, wait: NetWait) -> usize {
        match wait {
            NetWait::Ticks(t) => end + t,
            NetWait::Days(d) => {
                let Some(&day) = self.day_at.get(end.saturating_sub(1)) else {
                    return self.horizon;
                };
                let date = self.dates[day as usize] + d;
                let next = self.dates.partition_point(|x| *x < date);
                self.day_opens.get(next).copied().unwrap_or(self.horizon).max(end)
            }
        }
    }

    /// Latest end after which something may begin at a tick that waits so many days for it.
    pub(crate) fn ended_days_before(&self, start: usize, days: i64) -> usize {
        let Some(&day) = self.day_at.get(start) else { return start };
        let date = self.dates[day as usize] - days;
        let next = self.dates.partition_point(|x| *x <= date);
        self.day_opens.get(next).copied().unwrap_or(self.horizon)
    }

    pub(crate) fn bar(&self, from: usize, to: usize) -> usize {
        self.bar_ticks[from * self.angles_rad.len() + to]
    }

    /// Works that a choice of ways brings into the plan.
    pub(crate) fn active(&self, ways: &[u16], active: &mut Vec<bool>) {
        active.clear();
        active.resize(self.ways.len(), false);
        let mut stack: Vec<usize> = self.wanted.clone();
        let mut moves = false;
        loop {
            while let Some(w) = stack.pop() {
                if active[w] || self.past[w].is_some() {
                    continue;
                }
                active[w] = true;
                let Some(way) = self.ways[w].get(ways[w] as usize) else { continue };
                moves |= way.mask & 1 == 0;
                stack.extend(way.preds.iter().map(|p| p.work));
            }
            if moves {
                stack.extend(self.move_after.iter().map(|p| p.work));
                moves = false;
                if stack.iter().any(|w| !active[*w] && self.past[*w].is_none()) {
                    continue;
                }
            }
            return;
        }
    }

    /// First start at or after `from` at which the demands are free for so many ticks.
    pub(crate) fn fit(
        &self,
        free: &[u16],
        from: usize,
        ticks: usize,
        same_day: bool,
        demands: &[(u16, u16)],
    ) -> Option<usize> {
        self.fit_past(free, &[], from, ticks, same_day, demands)
    }

    /// The same, told the most people free in each [`BLOCK`] of ticks, to pass over full ones.
    pub(crate) fn fit_past(
        &self,
        free: &[u16],
        most_people: &[u16],
        from: usize,
        ticks: usize,
        same_day: bool,
        demands: &[(u16, u16)],
    ) -> Option<usize> {
        // People come first in every way's demands.
        let people = demands.first().filter(|d| d.0 == PEOPLE).map_or(0, |d| d.1);
        let mut t = from;
        'next: loop {
            if t + ticks > self.horizon {
                return None;
            }
            if most_people.get(t / BLOCK).is_some_and(|most| *most < people) {
                t = (t / BLOCK + 1) * BLOCK;
                continue;
            }
            if same_day {
                let day = self.day_at[t] as usize;
                if t + ticks > self.day_opens[day + 1] {
                    t = self.day_opens[day + 1];
                    continue;
                }
            }
            for (r, amount) in demands {
                let row = *r as usize * self.horizon;
                let span = &free[row + t..row + t + ticks];
                // The last tick that is short lets the search jump furthest.
                if let Some(last) = span.iter().rposition(|f| f < amount) {
                    t += last + 1;
                    continue 'next;
                }
            }
            return Some(t);
        }
    }
}

/// Free capacity by resource and tick: people, engine, kits, room in places, places open.
/// With it, where kits, rooms and openings begin.
fn capacities(scheme: &Scheme, day_opens: &[usize]) -> (Vec<u16>, u16, u16, u16) {
    let kit_at = 2;
    let room_at = kit_at + scheme.kits.len() as u16;
    let open_at = room_at + scheme.places.len() as u16;
    let mut base = Vec::new();
    let mut row = |on: &dyn Fn(usize) -> u16| {
        for d in 0..scheme.calendar.days.len() {
            base.resize(base.len() + day_opens[d + 1] - day_opens[d], on(d));
        }
    };
    row(&|d| small(scheme.calendar.days[d].people));
    row(&|_| WHOLE_ENGINE);
    scheme.kits.iter().for_each(|k| row(&|d| small(k.on(d))));
    scheme.places.iter().for_each(|p| row(&|_| small(p.room)));
    scheme.places.iter().for_each(|p| row(&|d| if p.on(d) == 0 { 0 } else { WHOLE_ENGINE }));
    (base, kit_at, room_at, open_at)
}

fn small(v: u32) -> u16 {
    v.min(u32::from(WHOLE_ENGINE)) as u16
}

fn wait_min(before: &Before) -> u64 {
    if let Wait::Minutes(m) = before.wait { u64::from(m) } else { 0 }
}

fn gcd(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { gcd(b, a % b) }
}
