//! The earliest a work can begin by the people that everything before it takes.
//!
//! Own derivation. Let A be the works that certainly come before w, directly or through others, and
//! are not over. All of them end before w begins. Those of A that cannot begin before a (by a bound
//! known already) do all their work from a on, each with no fewer than its least people-ticks e. So w
//! begins no sooner than the first T with sum of c(t) over a..T >= sum of e, c(t) the people there
//! are. The greatest T over all a is taken.

use crate::net::{Net, PEOPLE};

/// More works than this are left to the chain alone: the sets of works before grow with the square.
const MOST: usize = 1500;

/// People-ticks of works and of the calendar.
pub(crate) struct Before {
    /// People-ticks there are before each tick.
    there: Vec<u64>,
    /// The least each work takes.
    takes: Vec<u64>,
    /// Works before each, as a set of bits.
    before: Vec<Vec<u64>>,
}

impl Before {
    pub(crate) fn new(net: &Net) -> Self {
        let n = net.ways.len();
        let row = PEOPLE as usize * net.horizon;
        let mut there = vec![0u64];
        let mut sum = 0;
        for free in &net.base[row..row + net.horizon] {
            sum += u64::from(*free);
            there.push(sum);
        }
        let people = |d: &[(u16, u16)]| {
            d.iter().filter(|x| x.0 == PEOPLE).map(|x| u64::from(x.1)).sum::<u64>()
        };
        let takes = (0..n).map(|w| {
            let ways = net.choices[w].iter().map(|k| &net.ways[w][*k as usize]);
            ways.map(|y| y.ticks as u64 * people(&y.demands)).min().unwrap_or(0)
        });
        let takes = takes.collect();
        let words = if n <= MOST { n.div_ceil(64) } else { 0 };
        Self { there, takes, before: vec![vec![0; words]; n] }
    }

    /// Takes in what comes directly before a work; those works were taken in before it.
    pub(crate) fn join(&mut self, net: &Net, w: usize, direct: impl Iterator<Item = usize>) {
        let mut set = std::mem::take(&mut self.before[w]);
        for p in direct.filter(|p| net.past[*p].is_none() && *p != w) {
            for (mine, theirs) in set.iter_mut().zip(&self.before[p]) {
                *mine |= theirs;
            }
            if let Some(word) = set.get_mut(p / 64) {
                *word |= 1 << (p % 64);
            }
        }
        self.before[w] = set;
    }

    /// No plan begins a work sooner than this tick; the horizon where it does not fit before it.
    pub(crate) fn soonest(&self, net: &Net, w: usize, head: &[usize]) -> usize {
        let mut all: Vec<(usize, u64)> = Vec::new();
        for (i, word) in self.before[w].iter().enumerate() {
            let mut left = *word;
            while left != 0 {
                let p = i * 64 + left.trailing_zeros() as usize;
                all.push((head[p], self.takes[p]));
                left &= left - 1;
            }
        }
        all.sort_unstable_by_key(|x| std::cmp::Reverse(x.0));
        let (mut sum, mut best) = (0, net.now);
        for (a, takes) in all {
            sum += takes;
            let a = a.min(net.horizon);
            let wanted = self.there[a] + sum;
            best = best.max(self.there.partition_point(|x| *x < wanted).min(net.horizon));
        }
        best
    }
}
