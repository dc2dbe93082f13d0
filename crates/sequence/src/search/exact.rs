//! Few works: every order and every choice of ways, as far as it could still be better.
//!
//! Own derivation. A plan whose works and moves, taken by start, cannot each begin earlier
//! without changing the order of crane uses and moves, is built by placing them by start, each at
//! its earliest (active schedules; Sprecher, Kolisch and Drexl 1995, from memory). Beginning
//! earlier never costs more in any part. So it is enough to try orders in which no start is before
//! the last one, with the moves among them, and the best is found when all are tried.

use super::board::Board;
use super::bound::Heads;
use super::{Found, News, SearchOptions, Watch};
use crate::net::Net;
use crate::plan::{Cost, Objective};

/// Most works, and most choices of ways, that are tried.
const MOST_WORKS: usize = 16;
const MOST_CHOICES: u64 = 20_000;

pub(crate) struct Proof {
    /// All was tried: the best is proven.
    pub(crate) done: bool,
    /// A better plan than the one given, if met.
    pub(crate) better: Option<Found>,
}

struct Search<'a> {
    net: &'a Net,
    heads: &'a Heads,
    objective: Objective,
    watch: &'a Watch<'a>,
    bound: Cost,
    tried: u64,
    limit: u64,
    best_rank: u128,
    best: Option<(Board, Vec<u16>)>,
    boards: Vec<Board>,
    ways: Vec<u16>,
    active: Vec<usize>,
}

pub(crate) fn prove(
    net: &Net,
    heads: &Heads,
    bound: &Cost,
    options: &SearchOptions,
    watch: &Watch<'_>,
    start: &Found,
) -> Proof {
    let none = Proof { done: false, better: None };
    let possible = possible(net);
    let choices = possible.iter().try_fold(1_u64, |product, w| {
        product.checked_mul(net.choices[*w].len().max(1) as u64).filter(|p| *p <= MOST_CHOICES)
    });
    if possible.len() > MOST_WORKS || choices.is_none() {
        return none;
    }
    let mut search = Search {
        net,
        heads,
        objective: options.objective,
        watch,
        bound: *bound,
        tried: 0,
        limit: options.exact_steps,
        best_rank: options.objective.rank(&start.cost()),
        best: None,
        // Two items a work at most: itself and a move before it.
        boards: vec![Board::new(net); 2 * possible.len() + 2],
        ways: net.choices.iter().map(|c| c.first().copied().unwrap_or(0)).collect(),
        active: Vec::new(),
    };
    let done = search.choose(&possible);
    let tried = start.tried + search.tried;
    let better =
        search.best.map(|(board, ways)| Found { board, ways, tick_min: net.tick_min, tried });
    Proof { done, better }
}

/// Works that some choice of ways brings in.
fn possible(net: &Net) -> Vec<usize> {
    let mut seen = vec![false; net.ways.len()];
    let mut stack: Vec<usize> = net.wanted.clone();
    stack.extend(net.move_after.iter().map(|p| p.work));
    let mut found = Vec::new();
    while let Some(w) = stack.pop() {
        if !seen[w] && net.past[w].is_none() {
            seen[w] = true;
            found.push(w);
            let ways = net.choices[w].iter().map(|k| &net.ways[w][*k as usize]);
            stack.extend(ways.flat_map(|y| y.preds.iter().map(|p| p.work)));
        }
    }
    found.sort_unstable();
    found
}

impl Search<'_> {
    /// Every choice of ways; works that a choice does not bring in keep their first.
    fn choose(&mut self, possible: &[usize]) -> bool {
        let mut active = Vec::new();
        let mut at = vec![0_usize; possible.len()];
        loop {
            for (i, w) in possible.iter().enumerate() {
                self.ways[*w] = self.net.choices[*w].get(at[i]).copied().unwrap_or(0);
            }
            self.net.active(&self.ways, &mut active);
            // Not in the plan and not its first way: the same plan was tried before.
            let again = possible.iter().zip(&at).any(|(w, k)| *k > 0 && !active[*w]);
            let can = possible.iter().all(|w| !active[*w] || !self.net.choices[*w].is_empty());
            if !again && can {
                self.active = possible.iter().copied().filter(|w| active[*w]).collect();
                self.boards[0].clear(self.net);
                if !self.dfs(0, 0, None) {
                    return false;
                }
            }
            let mut i = 0;
            while i < at.len() {
                at[i] += 1;
                if at[i] < self.net.choices[possible[i]].len() {
                    break;
                }
                at[i] = 0;
                i += 1;
            }
            if i == at.len() {
                return true;
            }
        }
    }

    /// Goes on from board `depth`; false when out of steps or stopped.
    fn dfs(&mut self, depth: usize, last_start: usize, last: Option<usize>) -> bool {
        self.tried += 1;
        if self.tried > self.limit || (self.tried.is_multiple_of(1024) && self.watch.stopped()) {
            return false;
        }
        if self.tried.is_multiple_of(65_536) {
            let cost = self.boards[depth].cost(self.net.tick_min);
            (self.watch.news)(&News { steps: self.tried, cost, bound: self.bound });
        }
        let least = self.least(depth, last_start);
        if self.objective.rank(&least) >= self.best_rank {
            return true;
        }
        let left: Vec<usize> =
            self.active.iter().copied().filter(|w| !self.boards[depth].is_placed(*w)).collect();
        if left.is_empty() {
            self.best_rank = self.objective.rank(&self.boards[depth].cost(self.net.tick_min));
            self.best = Some((self.boards[depth].clone(), self.ways.clone()));
            return true;
        }
        let net = self.net;
        let mut options: Vec<(usize, usize, usize)> = Vec::new();
        for &w in &left {
            let board = &self.boards[depth];
            let way = &net.ways[w][self.ways[w] as usize];
            let Some(ready) = board.ready(net, way) else { continue };
            let hangs = way.hangs.iter().any(|u| u.is_none_or(|u| board.ended(net, u).is_none()));
            let fit = board.fit_here(net, way, way.mask, ready, hangs);
            let Some((t, stay)) = fit.filter(|f| f.0 >= last_start) else { continue };
            if t == last_start && last.is_some_and(|l| w < l && self.swaps(l, w)) {
                continue;
            }
            options.push((t, w, stay));
        }
        options.sort_by_key(|o| (o.0, std::cmp::Reverse(self.heads.tail[o.1]), o.1));
        for (t, w, stay) in options {
            let (below, above) = self.boards.split_at_mut(depth + 1);
            copy(&below[depth], &mut above[0]);
            above[0].put(net, w, &net.ways[w][self.ways[w] as usize], t, stay);
            if !self.dfs(depth + 1, t, Some(w)) {
                return false;
            }
        }
        let here = self.boards[depth].current();
        // A stay in which nothing needed the position was for nothing.
        let used = self.boards[depth].stays.len() == 1 || here.held > here.from;
        if used && self.boards[depth].may_move(net).is_some() && depth + 1 < self.boards.len() {
            for to in 0..net.angles_rad.len() {
                let wants = |w: &usize| {
                    let mask = net.ways[*w][self.ways[*w] as usize].mask;
                    mask != u64::MAX && mask >> to & 1 == 1
                };
                if to == here.station || !left.iter().any(wants) {
                    continue;
                }
                let (below, above) = self.boards.split_at_mut(depth + 1);
                copy(&below[depth], &mut above[0]);
                let Ok(start) = above[0].bar(net, to, 0) else { continue };
                if start >= last_start && !self.dfs(depth + 1, start, None) {
                    return false;
                }
            }
        }
        true
    }

    /// Whether two works with one start could as well be placed the other way round.
    fn swaps(&self, a: usize, b: usize) -> bool {
        let way = |w: usize| &self.net.ways[w][self.ways[w] as usize];
        let plain = |w: usize| way(w).hangs.is_empty() && way(w).set_up.is_none();
        plain(a) && plain(b) && !way(b).preds.iter().any(|p| p.work == a)
    }

    /// No plan that goes on from here costs less.
    fn least(&self, depth: usize, last_start: usize) -> Cost {
        let board = &self.boards[depth];
        let mut cost = board.cost(self.net.tick_min);
        let mut last = board.last;
        let mut elsewhere = false;
        for &w in self.active.iter().filter(|w| !board.is_placed(**w)) {
            let way = &self.net.ways[w][self.ways[w] as usize];
            let mut from = last_start.max(self.heads.head[w]);
            for p in &way.preds {
                if let Some(end) = board.ended(self.net, p.work) {
                    from = from.max(self.net.ready(end, p.wait));
                }
            }
            let shortest =
                self.net.choices[w].iter().map(|k| self.net.ways[w][*k as usize].ticks).min();
            let longer = way.ticks - shortest.unwrap_or(way.ticks);
            last = last.max(from + self.heads.tail[w] + longer);
            cost.people_min += way.people_min;
            elsewhere |= board.stays.iter().all(|s| way.mask >> s.station & 1 == 0);
        }
        cost.moves += u64::from(elsewhere);
        cost.elapsed_min = last as u64 * self.net.tick_min;
        cost
    }
}

fn copy(from: &Board, to: &mut Board) {
    to.clone_from(from);
}
