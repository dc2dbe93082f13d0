//! The shortest circle of reasons, where works wait for each other.

use crate::scheme::{Before, Scheme, WorkId};
use std::collections::VecDeque;

/// One step of a chain: `earlier` comes before `later`, and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Link {
    /// The earlier work.
    pub earlier: WorkId,
    /// The later work.
    pub later: WorkId,
    /// Why.
    pub reason: String,
}

/// What comes before each work: in all its ways when `ways` says nothing of it.
pub(crate) fn befores<'a>(scheme: &'a Scheme, work: usize, way: Option<usize>) -> Vec<&'a Before> {
    let w = &scheme.works[work];
    let mut found: Vec<&'a Before> = w.after.iter().collect();
    match way.and_then(|k| w.ways.get(k)) {
        Some(way) => found.extend(&way.after),
        None => {
            if let Some((first, rest)) = w.ways.split_first() {
                let in_all =
                    |b: &&Before| rest.iter().all(|way| way.after.iter().any(|o| o.work == b.work));
                found.extend(first.after.iter().filter(in_all));
            }
        }
    }
    found
}

/// Shortest chain from `from` to `to` along what comes before what, by breadth-first search from
/// the later end; empty when there is none. `before` gives what comes before a work.
pub(crate) fn chain<'a>(
    count: usize,
    from: usize,
    to: usize,
    before: &dyn Fn(usize) -> Vec<&'a Before>,
) -> Vec<Link> {
    let mut next: Vec<Option<(usize, &'a Before)>> = vec![None; count];
    let mut queue = VecDeque::from([to]);
    while let Some(w) = queue.pop_front() {
        for b in before(w) {
            let p = b.work.0;
            if p >= count || next[p].is_some() || (p == to && from != to) {
                continue;
            }
            next[p] = Some((w, b));
            if p == from {
                let mut links = Vec::new();
                let mut at = from;
                while let Some((later, b)) = next[at] {
                    let (earlier, later_id) = (WorkId(at), WorkId(later));
                    links.push(Link { earlier, later: later_id, reason: b.reason.clone() });
                    at = later;
                    if at == to {
                        break;
                    }
                }
                return links;
            }
            queue.push_back(p);
        }
    }
    Vec::new()
}

/// The shortest circle among what comes before what in every way; empty when there is none.
pub(crate) fn shortest_circle(scheme: &Scheme) -> Vec<Link> {
    let n = scheme.works.len();
    let all: Vec<Vec<&Before>> = (0..n).map(|w| befores(scheme, w, None)).collect();
    // Only works on some circle matter: strip those that nothing waits for, or that wait for
    // nothing, until none is left to strip.
    let mut on = vec![true; n];
    loop {
        let mut waited_for = vec![false; n];
        for w in (0..n).filter(|w| on[*w]) {
            all[w].iter().filter(|b| b.work.0 < n).for_each(|b| waited_for[b.work.0] = true);
        }
        let keep = |w: usize, on: &[bool]| {
            waited_for[w] && all[w].iter().any(|b| b.work.0 < n && on[b.work.0])
        };
        let strip: Vec<usize> = (0..n).filter(|w| on[*w] && !keep(*w, &on)).collect();
        if strip.is_empty() {
            break;
        }
        strip.iter().for_each(|w| on[*w] = false);
    }
    let mut best: Vec<Link> = Vec::new();
    for w in (0..n).filter(|w| on[*w]) {
        let found = chain(n, w, w, &|x| all[x].clone());
        if !found.is_empty() && (best.is_empty() || found.len() < best.len()) {
            best = found;
        }
        if best.len() == 1 {
            break;
        }
    }
    best
}
