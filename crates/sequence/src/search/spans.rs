//! Between when and when each work must be done, in any plan that ends by a given tick.
//!
//! Own derivation. *Early*: h(i, s) is the earliest start of work i with the engine at station s;
//! over each work p that certainly comes before i, h(i, s) >= the least over s' of
//! end(p, s') + bar(s', s). The shortest ways are taken; hours, crew and kit by day are seen; and no
//! work begins before all that certainly comes before it could have been done (`measure.rs`).
//! *Late* is the same from the end: l(i, s), the latest start. Work at the bench lets the engine
//! be anywhere after. *Both*: a work whose latest start is before its earliest end certainly goes
//! on between the two; what it takes there is not there for others (time-tabling; Le Pape 1988,
//! from memory), which narrows others in turn. A tick by which no plan can end shows as a work
//! without a start, or as more work between two ticks than can be done (destructive bounds; Klein
//! and Scholl 1999, from memory).

use super::measure::Measure;
use super::ties::Ties;
use crate::net::{ANYWHERE, ENGINE, Net, NetWait, NetWay};

const NEVER: usize = usize::MAX;
/// Rounds of narrowing.
const ROUNDS: usize = 6;

/// Earliest starts.
#[derive(Clone)]
pub(crate) struct Early {
    /// Earliest start, ticks.
    pub(crate) start: Vec<usize>,
    /// The same by station, row by row; [`NEVER`] where it cannot be done there.
    at: Vec<usize>,
    /// Fewest moves that a chain of works forces.
    pub(crate) moves: usize,
    /// A certain work does not fit into the calendar.
    pub(crate) overrun: bool,
}

/// Latest starts and ends.
pub(crate) struct Late {
    /// Latest start; for works that are not certain, the last tick asked for.
    pub(crate) start: Vec<usize>,
    /// Latest end.
    pub(crate) end: Vec<usize>,
    /// Latest start by station and one tick more; 0 where it cannot be done there.
    at: Vec<usize>,
}

pub(crate) struct Spans<'a> {
    pub(crate) net: &'a Net,
    pub(crate) ties: &'a Ties,
    pub(crate) measures: &'a [Measure],
}

impl Spans<'_> {
    /// Earliest starts with what is free; with `late`, only where a work can still begin in time.
    pub(crate) fn early(&self, free: &mut Free, late: Option<&Late>) -> Early {
        let (net, ties) = (self.net, self.ties);
        let n = net.ways.len();
        let stations = net.angles_rad.len();
        let far = net.horizon;
        let mut head = vec![net.now; n];
        let mut at = vec![NEVER; n * stations];
        let mut end_at = vec![NEVER; n * stations];
        let mut moves_at = vec![0_usize; n * stations];
        let (mut moves, mut overrun) = (0, false);
        let mut room = Vec::new();
        for &w in &ties.order {
            let by_work =
                self.measures.iter().map(|m| m.soonest(&ties.all_before[w], &head, &mut room));
            let by_work = by_work.max().unwrap_or(0);
            let row = w * stations..(w + 1) * stations;
            free.lend(net, w, true);
            for s in 0..stations {
                if ties.mask[w] >> s & 1 == 0 && ties.mask[w] != ANYWHERE {
                    continue;
                }
                let mut t = net.now.max(by_work);
                if s != 0 {
                    t = t.max(net.first_stay.0 + net.bar(0, s));
                }
                let mut m = usize::from(s != 0);
                for &(p, wait) in &ties.before[w] {
                    if let Some(end) = net.past[p] {
                        t = t.max(net.ready(end, wait));
                        continue;
                    }
                    let from = |q: usize| match end_at[p * stations + q] {
                        NEVER => NEVER,
                        end => net.ready(end, wait).max(end + net.bar(q, s)),
                    };
                    t = t.max((0..stations).map(from).min().unwrap_or(0));
                    let row = &moves_at[p * stations..(p + 1) * stations];
                    let least = row.iter().copied().min().unwrap_or(0);
                    m = m.max(row[s].min(least.saturating_add(1)));
                }
                moves_at[w * stations + s] = m;
                let fit = self.fit(&free.free, w, s, t).unwrap_or(far);
                let in_time = late.is_none_or(|l| !ties.certain[w] || fit < l.at[w * stations + s]);
                at[w * stations + s] = if in_time { fit } else { NEVER };
            }
            free.lend(net, w, false);
            for s in row.clone() {
                if at[s] == NEVER {
                    moves_at[s] = usize::MAX / 2;
                }
            }
            let least = at[row.clone()].iter().copied().min().unwrap_or(far);
            head[w] = least.min(far);
            overrun |= ties.certain[w] && least >= far;
            if ties.certain[w] {
                moves = moves.max(moves_at[row.clone()].iter().copied().min().unwrap_or(0));
            }
            for s in row {
                let over = |q: usize| if at[q] == NEVER { NEVER } else { at[q] + ties.shortest[w] };
                // During work at the bench the engine may be moving: it can be anywhere after.
                end_at[s] =
                    if ties.bench[w] { least.saturating_add(ties.shortest[w]) } else { over(s) };
            }
        }
        Early { start: head, at, moves, overrun }
    }

    /// Latest starts and ends in a plan that ends by a tick; `None` where a work has none.
    pub(crate) fn late(&self, free: &mut Free, early: &Early, by: usize) -> Option<Late> {
        let (net, ties) = (self.net, self.ties);
        let n = net.ways.len();
        let stations = net.angles_rad.len();
        let mut late = Late { start: vec![by; n], end: vec![by; n], at: vec![0; n * stations] };
        let mut room = Vec::new();
        let mut ends = vec![0; stations];
        for w in ties.works().rev() {
            let mut by_work = by;
            for m in self.measures {
                by_work = by_work.min(m.latest(&ties.all_after[w], &late.end, &mut room)?);
            }
            for (q, end) in ends.iter_mut().enumerate() {
                *end = by_work;
                for &(s, wait) in &ties.after[w] {
                    let row = &late.at[s * stations..(s + 1) * stations];
                    let from = |(to, start): (usize, &usize)| {
                        let start = start.checked_sub(1)?;
                        Some(self.ended(start, wait)?.min(start.checked_sub(net.bar(q, to))?))
                    };
                    *end = (*end).min(row.iter().enumerate().filter_map(from).max().unwrap_or(0));
                }
            }
            if ties.bench[w] {
                let best = ends.iter().copied().max().unwrap_or(0);
                ends.fill(best);
            }
            late.start[w] = 0;
            let mut any = false;
            free.lend(net, w, true);
            for (s, end) in ends.iter().enumerate() {
                let first = early.at[w * stations + s];
                let start =
                    if first == NEVER { None } else { self.fit_late(&free.free, w, s, *end) };
                let Some(start) = start.filter(|t| *t >= first) else { continue };
                late.at[w * stations + s] = start + 1;
                late.start[w] = late.start[w].max(start);
                any = true;
            }
            free.lend(net, w, false);
            if !any {
                return None;
            }
            late.end[w] = ends.iter().copied().max().unwrap_or(0);
        }
        Some(late)
    }

    /// Whether no plan ends by a tick (an error); where one may, the latest starts for it.
    pub(crate) fn narrowed(&self, early: &Early, by: usize) -> Result<(Early, Late), NoPlanBy> {
        let (net, ties) = (self.net, self.ties);
        let mut early = early.clone();
        let mut free = Free::new(net);
        let works: Vec<usize> = ties.works().collect();
        let mut late = self.late(&mut free, &early, by).ok_or(NoPlanBy)?;
        for _ in 0..ROUNDS {
            let mut changed = false;
            for &w in &works {
                let part = (late.start[w], early.start[w] + ties.shortest[w]);
                let part = (part.0 < part.1).then_some(part);
                changed |= part != free.parts[w];
                free.parts[w] = part;
            }
            if changed && !free.settle(net, ties) {
                return Err(NoPlanBy);
            }
            let narrower = self.early(&mut free, Some(&late));
            if narrower.overrun {
                return Err(NoPlanBy);
            }
            changed |= narrower.start != early.start;
            early = narrower;
            if !changed {
                break;
            }
            late = self.late(&mut free, &early, by).ok_or(NoPlanBy)?;
        }
        if self.measures.iter().any(|m| m.overloaded(&works, &early.start, &late.end)) {
            return Err(NoPlanBy);
        }
        Ok((early, late))
    }

    /// First start of a work at a station, not before a tick.
    fn fit(&self, free: &[u16], w: usize, s: usize, from: usize) -> Option<usize> {
        let net = self.net;
        let ways = net.choices[w].iter().map(|k| &net.ways[w][*k as usize]);
        let fit = |y: &NetWay| {
            (from < net.horizon).then(|| net.fit(free, from, y.ticks, y.same_day, &y.demands))?
        };
        ways.filter(|y| y.mask >> s & 1 == 1).filter_map(fit).min()
    }

    /// Last start of a work at a station, ending by a tick.
    fn fit_late(&self, free: &[u16], w: usize, s: usize, by: usize) -> Option<usize> {
        let net = self.net;
        let ways = net.choices[w].iter().map(|k| &net.ways[w][*k as usize]);
        ways.filter(|y| y.mask >> s & 1 == 1).filter_map(|y| last_fit(net, free, y, by)).max()
    }

    /// Latest end of something after which another may begin at a tick.
    fn ended(&self, start: usize, wait: NetWait) -> Option<usize> {
        match wait {
            NetWait::Ticks(t) => start.checked_sub(t),
            NetWait::Days(d) => Some(self.net.ended_days_before(start, d).min(start)),
        }
    }
}

/// No plan ends by the tick asked for.
#[derive(Debug, Clone, Copy)]
pub(crate) struct NoPlanBy;

/// What is free beside what certainly goes on.
pub(crate) struct Free {
    free: Vec<u16>,
    /// From when to when each work certainly goes on.
    parts: Vec<Option<(usize, usize)>>,
    /// What every way of such a work takes.
    least: Vec<Vec<(u16, u16)>>,
}

impl Free {
    pub(crate) fn new(net: &Net) -> Self {
        let n = net.ways.len();
        Self { free: net.base.clone(), parts: vec![None; n], least: vec![Vec::new(); n] }
    }

    /// Takes what the parts take; false where there is not as much.
    fn settle(&mut self, net: &Net, ties: &Ties) -> bool {
        self.free.clone_from(&net.base);
        for w in ties.works() {
            let Some((from, to)) = self.parts[w] else { continue };
            if self.least[w].is_empty() {
                self.least[w] = least(net, w);
            }
            for &(r, amount) in &self.least[w] {
                let row = r as usize * net.horizon;
                for free in &mut self.free[row + from..row + to] {
                    let Some(left) = free.checked_sub(amount) else { return false };
                    *free = left;
                }
            }
        }
        true
    }

    /// Gives a work back what its own part takes, or takes it again.
    fn lend(&mut self, net: &Net, w: usize, out: bool) {
        let Some((from, to)) = self.parts[w] else { return };
        for &(r, amount) in &self.least[w] {
            let row = r as usize * net.horizon;
            for free in &mut self.free[row + from..row + to] {
                *free = if out { *free + amount } else { *free - amount };
            }
        }
    }
}

/// What every way of a work takes.
fn least(net: &Net, w: usize) -> Vec<(u16, u16)> {
    let mut ways = net.choices[w].iter().map(|k| &net.ways[w][*k as usize]);
    let Some(first) = ways.next() else { return Vec::new() };
    let mut least: Vec<(u16, u16)> =
        first.demands.iter().copied().filter(|d| d.0 != ENGINE).collect();
    for y in ways {
        for (r, amount) in &mut least {
            let own = y.demands.iter().find(|d| d.0 == *r).map_or(0, |d| d.1);
            *amount = own.min(*amount);
        }
    }
    least.retain(|d| d.1 > 0);
    least
}

/// Last start at which a way's demands are free and it ends by a tick.
fn last_fit(net: &Net, free: &[u16], way: &NetWay, by: usize) -> Option<usize> {
    let mut t = by.min(net.horizon).checked_sub(way.ticks)?;
    'earlier: loop {
        if way.same_day {
            let opens = net.day_opens[net.day_at[t + way.ticks - 1] as usize];
            if t < opens {
                t = opens.checked_sub(way.ticks)?;
                continue;
            }
        }
        for (r, amount) in &way.demands {
            let row = *r as usize * net.horizon;
            if let Some(first) = free[row + t..row + t + way.ticks].iter().position(|f| f < amount)
            {
                t = (t + first).checked_sub(way.ticks)?;
                continue 'earlier;
            }
        }
        return Some(t);
    }
}
