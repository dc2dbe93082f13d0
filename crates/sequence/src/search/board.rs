//! A partial plan: what is taken of each resource, where the engine stands when, what hangs.

use crate::net::{self, BLOCK, ENGINE, Net, NetWay, PEOPLE};
use crate::plan::Cost;

pub(crate) const NOT_PLACED: u32 = u32::MAX;

/// A time at one station; the last has no end yet.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Stay {
    pub(crate) station: usize,
    pub(crate) from: usize,
    /// When the move away begins; the horizon while it is the last.
    pub(crate) to: usize,
    /// End of the last work in it that needs the position.
    pub(crate) held: usize,
}

/// Something that hangs: since when, until which work.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Hang {
    pub(crate) since: usize,
    pub(crate) until: Option<usize>,
}

#[derive(Clone)]
pub(crate) struct Board {
    pub(crate) free: Vec<u16>,
    /// Most people free in each block of ticks.
    most_people: Vec<u16>,
    pub(crate) start: Vec<u32>,
    pub(crate) end: Vec<u32>,
    pub(crate) order: Vec<u32>,
    pub(crate) stays: Vec<Stay>,
    pub(crate) hanging: Vec<Hang>,
    /// Kit that stays and is not free again yet, and since when.
    staying: Vec<(usize, net::Stay)>,
    pub(crate) spots: Vec<Option<(u32, usize)>>,
    pub(crate) last: usize,
    pub(crate) set_ups: u64,
    pub(crate) people_min: u64,
    pub(crate) moves: u64,
    /// Ticks beyond this are as free as at the start.
    touched: usize,
}

/// Why a work cannot be placed now.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Blocked {
    /// It needs another position, and something hangs or must be done before any move.
    Engine,
    /// What it leaves hanging could not be put right from here.
    WouldHang,
    /// Kit that it needs stays somewhere until another work is done.
    Kit,
    /// The calendar ends first.
    Calendar,
}

impl Board {
    pub(crate) fn new(net: &Net) -> Self {
        let n = net.ways.len();
        let mut board = Self {
            free: net.base.clone(),
            most_people: net.base[..net.horizon].chunks(BLOCK).map(most).collect(),
            start: vec![NOT_PLACED; n],
            end: vec![NOT_PLACED; n],
            order: Vec::with_capacity(n),
            stays: Vec::new(),
            hanging: Vec::new(),
            staying: Vec::new(),
            spots: Vec::new(),
            last: 0,
            set_ups: 0,
            people_min: 0,
            moves: 0,
            touched: 0,
        };
        board.clear(net);
        board
    }

    /// Back to the start, touching only what was used.
    pub(crate) fn clear(&mut self, net: &Net) {
        for r in 0..net.resources {
            let row = r * net.horizon;
            let used = row..row + self.touched.min(net.horizon);
            self.free[used.clone()].copy_from_slice(&net.base[used]);
        }
        let (all, blocks) = (self.touched.min(net.horizon), self.touched.div_ceil(BLOCK));
        let chunks = self.free[..net.horizon].chunks(BLOCK);
        if all > 0 {
            for (most_free, chunk) in self.most_people[..blocks].iter_mut().zip(chunks) {
                *most_free = most(chunk);
            }
        }
        self.touched = 0;
        for w in self.order.drain(..) {
            self.start[w as usize] = NOT_PLACED;
            self.end[w as usize] = NOT_PLACED;
        }
        self.stays.clear();
        let (from, held) = net.first_stay;
        self.stays.push(Stay { station: 0, from, to: net.horizon, held });
        self.hanging.clear();
        self.hanging
            .extend(net.hanging.iter().map(|(since, until)| Hang { since: *since, until: *until }));
        self.staying.clone_from(&net.staying);
        self.spots.clone_from(&net.spots);
        self.last = net.past.iter().flatten().copied().max().unwrap_or(0);
        (self.set_ups, self.people_min, self.moves) = (0, 0, 0);
    }

    pub(crate) fn placed(&self) -> impl Iterator<Item = usize> + '_ {
        self.order.iter().map(|w| *w as usize)
    }

    pub(crate) fn is_placed(&self, w: usize) -> bool {
        self.end[w] != NOT_PLACED
    }

    pub(crate) fn cost(&self, tick_min: u64) -> Cost {
        Cost {
            elapsed_min: self.last as u64 * tick_min,
            moves: self.moves,
            set_ups: self.set_ups,
            people_min: self.people_min,
        }
    }

    /// End of an earlier work, placed here or past.
    pub(crate) fn ended(&self, net: &Net, w: usize) -> Option<usize> {
        if self.is_placed(w) { Some(self.end[w] as usize) } else { net.past[w] }
    }

    /// When what comes before allows a way to begin; `None` when something before is not placed.
    pub(crate) fn ready(&self, net: &Net, way: &NetWay) -> Option<usize> {
        let mut ready = net.now;
        for p in &way.preds {
            ready = ready.max(net.ready(self.ended(net, p.work)?, p.wait));
        }
        if let Some((_, free)) = way.set_up.and_then(|(kit, _)| self.spots[kit]) {
            ready = ready.max(free);
        }
        Some(ready)
    }

    pub(crate) fn take(&mut self, net: &Net, resource: u16, amount: u16, from: usize, to: usize) {
        let row = resource as usize * net.horizon;
        for free in &mut self.free[row + from..row + to] {
            *free = free.saturating_sub(amount);
        }
        self.touched = self.touched.max(to);
        if resource == PEOPLE && from < to {
            for b in from / BLOCK..=(to - 1) / BLOCK {
                let chunk = &self.free[b * BLOCK..((b + 1) * BLOCK).min(net.horizon)];
                self.most_people[b] = most(chunk);
            }
        }
    }

    fn fit(
        &self,
        net: &Net,
        from: usize,
        ticks: usize,
        same_day: bool,
        demands: &[(u16, u16)],
    ) -> Option<usize> {
        net.fit_past(&self.free, &self.most_people, from, ticks, same_day, demands)
    }

    pub(crate) fn current(&self) -> Stay {
        // There is always a first stay; an empty list cannot come about.
        self.stays.last().copied().unwrap_or(Stay { station: 0, from: 0, to: 0, held: 0 })
    }

    /// Where a way would begin without another move, at one of the stations of `mask`, in the
    /// last stay only if so asked.
    pub(crate) fn fit_here(
        &self,
        net: &Net,
        way: &NetWay,
        mask: u64,
        ready: usize,
        last_only: bool,
    ) -> Option<(usize, usize)> {
        let fit = |from| self.fit_beside(net, way, from);
        let last = self.stays.len() - 1;
        if mask == crate::net::ANYWHERE && !last_only {
            return fit(ready).map(|t| (t, last));
        }
        let first = if last_only {
            last
        } else {
            self.stays.partition_point(|s| s.to < ready + way.ticks).min(last)
        };
        for k in first..=last {
            let stay = self.stays[k];
            if mask >> stay.station & 1 == 0 || stay.to < ready + way.ticks {
                continue;
            }
            let Some(t) = fit(ready.max(stay.from)) else { continue };
            if t + way.ticks <= stay.to {
                return Some((t, k));
            }
        }
        None
    }

    /// Whether kit that stays somewhere is what a way needs: once it is free again it can be done.
    pub(crate) fn waits_for_kit(&self, way: &NetWay) -> bool {
        let open = |r: u16| self.staying.iter().any(|(_, stay)| stay.0 == r);
        way.demands.iter().any(|d| open(d.0)) || way.stays.iter().any(|x| open(x.0))
    }

    /// First start at which what a way takes is there beside the kit that stays elsewhere, and what
    /// stays after it is there from its end on.
    fn fit_beside(&self, net: &Net, way: &NetWay, from: usize) -> Option<usize> {
        let mut from = from;
        loop {
            let t = self.fit(net, from, way.ticks, way.same_day, &way.demands)?;
            if self.staying.is_empty() && way.stays.is_empty() {
                return Some(t);
            }
            match self.short_of_kit(net, way, t) {
                None => return Some(t),
                Some(last) => from = last.max(t) + 1,
            }
        }
    }

    /// A tick in which a way begun at `t` would want for kit that stays; starts up to the one
    /// handed back are no better.
    fn short_of_kit(&self, net: &Net, way: &NetWay, t: usize) -> Option<usize> {
        let end = t + way.ticks;
        let stays = |r: u16, at: usize| {
            let open = self.staying.iter().filter(|(since, x)| x.0 == r && *since <= at);
            open.map(|(_, x)| x.1).sum::<u16>()
        };
        for (r, amount) in &way.demands {
            if self.staying.iter().any(|(_, x)| x.0 == *r) {
                let row = *r as usize * net.horizon;
                let short = |at: &usize| self.free[row + at] < amount + stays(*r, *at);
                if let Some(at) = (t..end).rev().find(short) {
                    return Some(at);
                }
            }
        }
        for (r, amount, _) in &way.stays {
            let row = *r as usize * net.horizon;
            // Beyond what is touched, and where other kit begins to stay, nothing changes any more.
            let last = self.staying.iter().map(|x| x.0).max().unwrap_or(0).max(end);
            let until = self.touched.max(last + 1).min(net.horizon);
            // On a day on which the kit is away, what stays does so all the same.
            let short = |at: &usize| {
                let there = net.base[row + at] >= *amount;
                there && self.free[row + at] < amount + stays(*r, *at)
            };
            if let Some(at) = (end.min(until)..until).rev().find(short) {
                return Some((at + 1).saturating_sub(way.ticks + 1));
            }
        }
        None
    }

    /// Whether the engine may be moved, and when what must be done first is.
    pub(crate) fn may_move(&self, net: &Net) -> Option<usize> {
        if !self.hanging.is_empty() {
            return None;
        }
        let mut ready = net.now;
        for p in &net.move_after {
            ready = ready.max(net.ready(self.ended(net, p.work)?, p.wait));
        }
        Some(ready)
    }

    /// Moves the engine, not before `from`.
    pub(crate) fn bar(&mut self, net: &Net, to: usize, from: usize) -> Result<usize, Blocked> {
        let ready = self.may_move(net).ok_or(Blocked::Engine)?;
        let here = self.current();
        let ticks = net.bar(here.station, to);
        let from = from.max(ready).max(here.from).max(here.held);
        let demands = &net.move_demands;
        let start = self.fit(net, from, ticks, false, demands).ok_or(Blocked::Calendar)?;
        for (r, amount) in net.move_demands {
            self.take(net, r, amount, start, start + ticks);
        }
        if let Some(stay) = self.stays.last_mut() {
            stay.to = start;
        }
        let from = start + ticks;
        self.stays.push(Stay { station: to, from, to: net.horizon, held: from });
        self.moves += 1;
        self.people_min += ticks as u64 * net.tick_min * u64::from(net.move_demands[0].1);
        Ok(start)
    }

    /// Puts a work on the board at a time found by [`Self::fit_here`].
    pub(crate) fn put(&mut self, net: &Net, w: usize, way: &NetWay, t: usize, stay: usize) {
        let end = t + way.ticks;
        for (r, amount) in &way.demands {
            self.take(net, *r, *amount, t, end);
        }
        self.start[w] = t as u32;
        self.end[w] = end as u32;
        self.order.push(w as u32);
        self.last = self.last.max(end);
        self.people_min += way.people_min;
        if way.windowed() || !way.hangs.is_empty() {
            self.stays[stay].held = self.stays[stay].held.max(end);
        }
        if let Some((kit, spot)) = way.set_up {
            self.set_ups += u64::from(self.spots[kit].is_none_or(|(s, _)| s != spot));
            self.spots[kit] = Some((spot, end));
        }
        let mut i = 0;
        while i < self.hanging.len() {
            if self.hanging[i].until == Some(w) {
                let since = self.hanging.swap_remove(i).since.min(end);
                self.take(net, ENGINE, 1, since, end);
                let last = self.stays.len() - 1;
                self.stays[last].held = self.stays[last].held.max(end);
            } else {
                i += 1;
            }
        }
        let mut i = 0;
        while i < self.staying.len() {
            if self.staying[i].1.2 == Some(w) {
                let (since, (r, amount, _)) = self.staying.swap_remove(i);
                self.take(net, r, amount, since.min(end), end);
            } else {
                i += 1;
            }
        }
        for stay in &way.stays {
            if stay.2.is_none_or(|u| self.ended(net, u).is_none()) {
                self.staying.push((end, *stay));
            }
        }
        for until in &way.hangs {
            // Put right already: nothing hangs.
            if until.is_none_or(|u| self.ended(net, u).is_none()) {
                self.hanging.push(Hang { since: t, until: *until });
            }
        }
    }
}

fn most(free: &[u16]) -> u16 {
    free.iter().copied().max().unwrap_or(0)
}
