//! Measures of work: how much of something there is tick by tick, and how much each work takes.
//!
//! Own derivation. Give any weight v(d) >= 0 to a demand of d for one resource. In a tick with
//! capacity c the weights of what goes on together sum to at most K(c) = max of sum v over demands
//! with sum <= c (a knapsack; v as in dual feasible functions, Fekete and Schepers 2001, from
//! memory). So works that are all done between a and b take no more than sum of K(c(t)) over a..b,
//! each at least its least v(d) times ticks. With v(d) = d this is people-minutes; with v = 1 for
//! demands of two and more it says that a crew of three does one two-person work at a time.

use super::ties::{Ties, members};
use crate::net::{ENGINE, Net, WHOLE_ENGINE};

/// One weighting of the demands for one resource.
pub(crate) struct Measure {
    /// What there is before each tick.
    pub(crate) there: Vec<u64>,
    /// The least that each certain work takes.
    pub(crate) takes: Vec<u64>,
}

impl Measure {
    /// Those by which works are held apart: for each resource that two works or more must have.
    pub(crate) fn all(net: &Net, ties: &Ties) -> Vec<Self> {
        let mut all: Vec<Self> = Vec::new();
        for r in (0..net.resources as u16).filter(|r| *r != ENGINE) {
            let row = &net.base[r as usize * net.horizon..(r as usize + 1) * net.horizon];
            let most = row.iter().copied().max().unwrap_or(0);
            let (sizes, takers) = sizes(net, ties, r);
            if most >= WHOLE_ENGINE || takers < 2 {
                continue;
            }
            let mut weightings: Vec<Vec<u64>> = Vec::new();
            let mut add = |v: &dyn Fn(u64) -> u64| {
                weightings.push(sizes.iter().map(|d| v(u64::from(*d))).collect());
            };
            add(&|d| d);
            for least in 2..=u64::from(sizes.last().copied().unwrap_or(0)).min(6) {
                add(&|d| u64::from(d >= least));
                add(&|d| d / least);
                add(&|d| d.saturating_sub(least - 1));
            }
            weightings.sort();
            weightings.dedup();
            let own = weightings.iter().map(|v| Self::new(net, ties, r, row, (&sizes, v)));
            all.extend(own.filter(|m| m.takes.iter().filter(|t| **t > 0).count() > 1));
        }
        all
    }

    fn new(net: &Net, ties: &Ties, r: u16, row: &[u16], (sizes, v): (&[u16], &[u64])) -> Self {
        let can = knapsack(row.iter().copied().max().unwrap_or(0), sizes, v);
        let mut there = Vec::with_capacity(row.len() + 1);
        let mut sum = 0;
        there.push(0);
        for c in row {
            sum += can[usize::from(*c)];
            there.push(sum);
        }
        let mut takes = vec![0; net.ways.len()];
        for w in ties.works() {
            let value = |k: &u16| {
                let own = &net.ways[w][*k as usize];
                let d = own.demands.iter().filter(|d| d.0 == r).map(|d| d.1).sum::<u16>();
                sizes.binary_search(&d).map_or(0, |i| v[i]) * own.ticks as u64
            };
            takes[w] = net.choices[w].iter().map(value).min().unwrap_or(0);
        }
        Self { there, takes }
    }

    /// First tick by which what there is from `from` on is enough; past the end: never.
    pub(crate) fn until(&self, from: usize, takes: u64) -> usize {
        let wanted = self.there[from.min(self.there.len() - 1)] + takes;
        self.there.partition_point(|x| *x < wanted)
    }

    /// Last tick from which what there is until `until` is enough; `None` where it never is.
    pub(crate) fn since(&self, until: usize, takes: u64) -> Option<usize> {
        let left = self.there[until.min(self.there.len() - 1)].checked_sub(takes)?;
        Some(self.there.partition_point(|x| *x <= left) - 1)
    }

    /// No plan begins a work sooner than this: all that certainly comes before it ends before, and
    /// those of it that cannot begin before `a` do all their work from `a` on.
    pub(crate) fn soonest(
        &self,
        before: &[u64],
        head: &[usize],
        room: &mut Vec<(usize, u64)>,
    ) -> usize {
        self.gather(before, head, room);
        room.sort_unstable_by_key(|x| std::cmp::Reverse(x.0));
        let (mut sum, mut best) = (0, 0);
        for (a, takes) in room.iter() {
            sum += takes;
            best = best.max(self.until(*a, sum));
        }
        best
    }

    /// No plan ends a work later than this when those after it end by `end`; `None`: not at all.
    pub(crate) fn latest(
        &self,
        after: &[u64],
        end: &[usize],
        room: &mut Vec<(usize, u64)>,
    ) -> Option<usize> {
        self.gather(after, end, room);
        room.sort_unstable();
        let (mut sum, mut best) = (0, usize::MAX);
        for (b, takes) in room.iter() {
            sum += takes;
            best = best.min(self.since(*b, sum)?);
        }
        Some(best)
    }

    fn gather(&self, set: &[u64], at: &[usize], room: &mut Vec<(usize, u64)>) {
        room.clear();
        room.extend(members(set).filter(|p| self.takes[*p] > 0).map(|p| (at[p], self.takes[p])));
    }

    /// Whether works that must all be done between two ticks take more than there is.
    pub(crate) fn overloaded(&self, works: &[usize], early: &[usize], late_end: &[usize]) -> bool {
        let mut items: Vec<(usize, usize, u64)> = works
            .iter()
            .filter(|w| self.takes[**w] > 0)
            .map(|w| (late_end[*w], early[*w], self.takes[*w]))
            .collect();
        items.sort_unstable();
        let mut froms: Vec<usize> = items.iter().map(|i| i.1).collect();
        froms.sort_unstable();
        froms.dedup();
        let step = froms.len().div_ceil(200).max(1);
        froms.iter().step_by(step).any(|a| {
            let mut sum = 0;
            let base = self.there[(*a).min(self.there.len() - 1)];
            items.iter().filter(|i| i.1 >= *a).any(|(b, _, takes)| {
                sum += takes;
                base + sum > self.there[(*b).min(self.there.len() - 1)]
            })
        })
    }
}

/// Demands of the certain works for a resource, each once, and how many works must have it.
fn sizes(net: &Net, ties: &Ties, r: u16) -> (Vec<u16>, usize) {
    let mut sizes = Vec::new();
    let mut takers = 0;
    for w in ties.works() {
        let ways = net.choices[w].iter().map(|k| &net.ways[w][*k as usize]);
        let all: Vec<u16> =
            ways.map(|y| y.demands.iter().filter(|d| d.0 == r).map(|d| d.1).sum::<u16>()).collect();
        takers += usize::from(all.iter().all(|d| *d > 0));
        sizes.extend(all.into_iter().filter(|d| *d > 0));
    }
    sizes.sort_unstable();
    sizes.dedup();
    (sizes, takers)
}

/// The most weight that goes on together, for each capacity.
pub(crate) fn knapsack(most: u16, sizes: &[u16], v: &[u64]) -> Vec<u64> {
    let mut can = vec![0_u64; usize::from(most) + 1];
    for c in 1..can.len() {
        let with = |(d, v): (&u16, &u64)| {
            if *d > 0 && usize::from(*d) <= c { can[c - usize::from(*d)] + v } else { 0 }
        };
        can[c] = sizes.iter().zip(v).map(with).max().unwrap_or(0).max(can[c - 1]);
    }
    can
}
