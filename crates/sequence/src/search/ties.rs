//! What comes before what in every plan, whatever the ways.

use crate::net::{Net, NetWait};

/// More works than this are left to the chain alone: the sets of works before and after grow with
/// the square.
const MOST: usize = 1500;

/// What is certain about the works.
pub(crate) struct Ties {
    /// Works in every plan.
    pub(crate) certain: Vec<bool>,
    /// What comes before a work in every usable way, with the least wait.
    pub(crate) before: Vec<Vec<(usize, NetWait)>>,
    /// Certain works that come after.
    pub(crate) after: Vec<Vec<(usize, NetWait)>>,
    /// Works to plan, in an order in which all that certainly comes before stands first.
    pub(crate) order: Vec<usize>,
    /// Least ticks of each work.
    pub(crate) shortest: Vec<usize>,
    /// Stations at which some way of it can be done.
    pub(crate) mask: Vec<u64>,
    /// Some way of it lets the engine be moved meanwhile.
    pub(crate) bench: Vec<bool>,
    /// Works before each, through others too, as a set of bits; empty for very many works.
    pub(crate) all_before: Vec<Vec<u64>>,
    /// Certain works after each, through others too.
    pub(crate) all_after: Vec<Vec<u64>>,
}

impl Ties {
    pub(crate) fn new(net: &Net) -> Self {
        let n = net.ways.len();
        let certain = certain(net);
        let before: Vec<Vec<(usize, NetWait)>> = (0..n).map(|w| common(net, w)).collect();
        let order = topological(&before, net);
        let mut after = vec![Vec::new(); n];
        let words = if n <= MOST { n.div_ceil(64) } else { 0 };
        let mut all_before = vec![vec![0_u64; words]; n];
        let mut all_after = all_before.clone();
        for &w in &order {
            for &(p, wait) in before[w].iter().filter(|p| net.past[p.0].is_none() && p.0 != w) {
                if certain[w] {
                    after[p].push((w, wait));
                }
                join(&mut all_before, w, p);
            }
        }
        for &w in order.iter().rev() {
            for &(s, _) in &after[w] {
                join(&mut all_after, w, s);
            }
        }
        let ways = |w: usize| net.choices[w].iter().map(move |k| &net.ways[w][*k as usize]);
        Self {
            shortest: (0..n).map(|w| ways(w).map(|y| y.ticks).min().unwrap_or(0)).collect(),
            mask: (0..n).map(|w| ways(w).fold(0, |m, y| m | y.mask)).collect(),
            bench: (0..n).map(|w| ways(w).any(|y| !y.on_engine && !y.windowed())).collect(),
            certain,
            before,
            after,
            order,
            all_before,
            all_after,
        }
    }

    /// Certain works to plan.
    pub(crate) fn works(&self) -> impl DoubleEndedIterator<Item = usize> + '_ {
        self.order.iter().copied().filter(|w| self.certain[*w])
    }
}

/// Works in a set of bits.
pub(crate) fn members(set: &[u64]) -> impl Iterator<Item = usize> + '_ {
    set.iter().enumerate().flat_map(|(i, word)| {
        let mut left = *word;
        std::iter::from_fn(move || {
            (left != 0).then(|| {
                let at = i * 64 + left.trailing_zeros() as usize;
                left &= left - 1;
                at
            })
        })
    })
}

/// Takes another work and all of its set into the set of a work.
fn join(sets: &mut [Vec<u64>], to: usize, from: usize) {
    let mut set = std::mem::take(&mut sets[to]);
    for (mine, theirs) in set.iter_mut().zip(&sets[from]) {
        *mine |= theirs;
    }
    if let Some(word) = set.get_mut(from / 64) {
        *word |= 1 << (from % 64);
    }
    sets[to] = set;
}

/// What comes before a work in every usable way, with the least wait.
fn common(net: &Net, w: usize) -> Vec<(usize, NetWait)> {
    let Some((first, rest)) = net.choices[w].split_first() else { return Vec::new() };
    let own = |k: u16| &net.ways[w][k as usize].preds;
    let mut found: Vec<(usize, NetWait)> = Vec::new();
    for p in own(*first) {
        let in_all = rest.iter().all(|k| own(*k).iter().any(|o| o.work == p.work));
        if in_all && !found.iter().any(|f| f.0 == p.work) {
            let waits: Vec<NetWait> = std::iter::once(first)
                .chain(rest)
                .flat_map(|k| own(*k).iter().filter(|o| o.work == p.work).map(|o| o.wait))
                .collect();
            // Alike in all ways: that wait. Otherwise none is certain.
            let same = waits.iter().all(|x| *x == waits[0]);
            found.push((p.work, if same { waits[0] } else { NetWait::Ticks(0) }));
        }
    }
    found
}

/// Works that are in the plan whatever the ways.
pub(crate) fn certain(net: &Net) -> Vec<bool> {
    let mut certain = vec![false; net.ways.len()];
    let mut stack = net.wanted.clone();
    while let Some(w) = stack.pop() {
        if !certain[w] && net.past[w].is_none() {
            certain[w] = true;
            stack.extend(common(net, w).iter().map(|p| p.0));
        }
    }
    certain
}

fn topological(before: &[Vec<(usize, NetWait)>], net: &Net) -> Vec<usize> {
    let n = before.len();
    let mut missing = vec![0; n];
    let mut after = vec![Vec::new(); n];
    for w in 0..n {
        for &(p, _) in &before[w] {
            if net.past[p].is_none() {
                missing[w] += 1;
                after[p].push(w);
            }
        }
    }
    let mut order: Vec<usize> = (0..n).filter(|w| missing[*w] == 0).collect();
    let mut at = 0;
    while at < order.len() {
        for &s in &after[order[at]] {
            missing[s] -= 1;
            if missing[s] == 0 {
                order.push(s);
            }
        }
        at += 1;
    }
    order.retain(|w| net.past[*w].is_none());
    order
}
