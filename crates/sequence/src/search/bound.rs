//! What no plan can do better than: longest chain with the engine's position, and the work there
//! is for people, kit and places.
//!
//! Own derivation. *Chain*: h(i, s) is the earliest start of work i with the engine at station s;
//! over each work p that certainly comes before i, h(i, s) >= the least over s' of
//! end(p, s') + bar(s', s). The shortest ways are taken, hours and kit by day are seen, other works
//! are not; and no work begins before the people there are could have done all that certainly comes
//! before it (`before.rs`). *Moves*: the same with moves for minutes; and no fewer than the least number of
//! stations that meet every window, less the first. *Energy*: give any weight v(d) >= 0 to a demand
//! of d. In a tick with capacity c the weights of what goes on together sum to at most
//! K(c) = max of sum v over demands with sum <= c (a knapsack). So the works whose head is at
//! least a and whose tail is at least b need, from a on, a time T with
//! sum of K(c(t)) over a..T >= sum of v(d) times ticks, and b more after T. The best over
//! several v, a and b is taken. While the engine is moved nobody works on it: a move tick counts
//! as K(c) less what work at the bench can use of it (v as in dual feasible functions, Fekete and Schepers 2001, from
//! memory).

use super::measure::{Measure, knapsack};
use super::spans::{Early, Free, Late, NoPlanBy, Spans};
use super::ties::Ties;
use crate::net::{ENGINE, Net, NetWait, PEOPLE};
use crate::plan::Cost;

pub(crate) struct Heads {
    /// Earliest start, ticks.
    pub(crate) head: Vec<usize>,
    /// Ticks from the start of a work to the end of all, at least.
    pub(crate) tail: Vec<usize>,
    /// Works in every plan.
    pub(crate) certain: Vec<bool>,
    /// Latest start of each work in a plan that ends at the bound.
    pub(crate) late: Vec<usize>,
    /// No plan costs less in any part.
    pub(crate) bound: Cost,
    early: Early,
    ties: Ties,
    measures: Vec<Measure>,
}

impl Heads {
    pub(crate) fn new(net: &Net) -> Self {
        let ties = Ties::new(net);
        let measures = Measure::all(net, &ties);
        let spans = Spans { net, ties: &ties, measures: &measures };
        let early = spans.early(&mut Free::new(net), None);
        let tail = tails(&ties);
        let works: Vec<usize> = ties.works().collect();
        let first = bound(net, &works, &early, &tail);
        let (last, late) = ends(&spans, &early, first.elapsed_min as usize / net.tick_min as usize);
        let late = guide(net, &ties, late, last);
        let bound = Cost { elapsed_min: last as u64 * net.tick_min, ..first };
        let (head, certain) = (early.start.clone(), ties.certain.clone());
        Self { head, tail, certain, late, bound, early, ties, measures }
    }

    /// Latest starts in a plan that ends by a tick; none can where it is 0 everywhere.
    pub(crate) fn latest(&self, net: &Net, by: usize) -> Vec<u32> {
        let spans = Spans { net, ties: &self.ties, measures: &self.measures };
        let late = spans.late(&mut Free::new(net), &self.early, by.min(net.horizon));
        let Some(late) = late else { return vec![0; self.tail.len()] };
        let start = |w: usize| if self.certain[w] { late.start[w] } else { by };
        (0..self.tail.len()).map(|w| start(w).min(u32::MAX as usize) as u32).collect()
    }
}

fn tails(ties: &Ties) -> Vec<usize> {
    let mut tail = vec![0; ties.certain.len()];
    for &w in ties.order.iter().rev() {
        let after = ties.after[w]
            .iter()
            .map(|(s, wait)| tail[*s] + if let NetWait::Ticks(t) = wait { *t } else { 0 });
        tail[w] = ties.shortest[w] + after.max().unwrap_or(0);
    }
    tail
}

/// First tick by which a plan may end, not before `from`, and the latest starts for it.
fn ends(spans: &Spans<'_>, early: &Early, from: usize) -> (usize, Option<Late>) {
    let net = spans.net;
    if early.overrun || from >= net.horizon {
        return (from.min(net.horizon), None);
    }
    let (mut no, mut step) = (from, 1);
    let mut yes = match spans.narrowed(early, from) {
        Ok((_, late)) => return (from, Some(late)),
        Err(NoPlanBy) => loop {
            let by = (no + step).min(net.horizon);
            match spans.narrowed(early, by) {
                Ok((_, late)) => break (by, Some(late)),
                Err(NoPlanBy) if by == net.horizon => return (by, None),
                Err(NoPlanBy) => (no, step) = (by, 2 * step),
            }
        },
    };
    while yes.0 - no > 1 {
        let by = no + (yes.0 - no) / 2;
        match spans.narrowed(early, by) {
            Ok((_, late)) => yes = (by, Some(late)),
            Err(NoPlanBy) => no = by,
        }
    }
    yes
}

/// Latest starts to go by in the search: those of works that only some ways need come from these.
fn guide(net: &Net, ties: &Ties, late: Option<Late>, last: usize) -> Vec<usize> {
    let mut start = match late {
        Some(late) => late.start,
        None => {
            let tail = tails(ties);
            tail.iter().map(|t| last.saturating_sub(*t)).collect()
        }
    };
    for _ in 0..4 {
        for w in (0..start.len()).filter(|w| !ties.certain[*w]) {
            let after = net.rev[w].iter().map(|(s, _)| start[*s as usize]).min();
            start[w] = after.unwrap_or(last).saturating_sub(ties.shortest[w]);
        }
    }
    start
}

/// No plan costs less in any part, by what is known at the start.
fn bound(net: &Net, works: &[usize], early: &Early, tail: &[usize]) -> Cost {
    let past = net.past.iter().flatten().copied().max().unwrap_or(0);
    let mut last = past;
    for &w in works {
        last = last.max((early.start[w] + tail[w]).min(net.horizon));
    }
    if early.overrun {
        last = net.horizon;
    }
    let moves = early.moves.max(fewest_stations(net, works));
    for r in 0..net.resources as u16 {
        if r != ENGINE {
            let moves = if r == PEOPLE { moves } else { 0 };
            last = last.max(energy(net, (&early.start, tail), works, r, moves));
        }
    }
    let least_bar = least_bar(net);
    let people_min: u64 = works
        .iter()
        .map(|w| {
            net.choices[*w].iter().map(|k| net.ways[*w][*k as usize].people_min).min().unwrap_or(0)
        })
        .sum();
    Cost {
        elapsed_min: last as u64 * net.tick_min,
        moves: moves as u64,
        set_ups: fewest_set_ups(net, works),
        people_min: people_min
            + moves as u64 * least_bar as u64 * net.tick_min * u64::from(net.move_demands[0].1),
    }
}

fn least_bar(net: &Net) -> usize {
    net.bar_ticks.iter().copied().filter(|t| *t > 0).min().unwrap_or(0)
}

/// Least number of moves so that every work that needs a position finds one: the least number of
/// stations meeting every mask, with the first for nothing, found by trying 0, 1, 2 ... (at most 8).
fn fewest_stations(net: &Net, works: &[usize]) -> usize {
    let mut masks: Vec<u64> = works
        .iter()
        .map(|w| net.choices[*w].iter().fold(0, |m, k| m | net.ways[*w][*k as usize].mask))
        .filter(|m| *m & 1 == 0 && *m != 0)
        .collect();
    masks.sort_unstable_by_key(|m| (m.count_ones(), *m));
    masks.dedup();
    // Out of tries counts as met, which only weakens the bound.
    fn met(masks: &[u64], taken: u64, left: usize, tries: &mut u32) -> bool {
        let Some(open) = masks.iter().find(|m| **m & taken == 0) else { return true };
        *tries = tries.saturating_sub(1);
        *tries == 0
            || left > 0
                && (0..64)
                    .any(|s| open >> s & 1 == 1 && met(masks, taken | 1 << s, left - 1, tries))
    }
    let mut tries = 100_000;
    (0..8).find(|k| met(&masks, 0, *k, &mut tries)).unwrap_or(8)
}

/// Every spot that certainly is used needs one set-up, unless the kit stands there already.
fn fewest_set_ups(net: &Net, works: &[usize]) -> u64 {
    let mut spots: Vec<(usize, u32)> = works
        .iter()
        .filter_map(|w| {
            let mut all = net.choices[*w].iter().map(|k| net.ways[*w][*k as usize].set_up);
            let first = all.next()??;
            all.all(|x| x == Some(first)).then_some(first)
        })
        .filter(|(kit, spot)| net.spots[*kit].is_none_or(|(s, _)| s != *spot))
        .collect();
    spots.sort_unstable();
    spots.dedup();
    spots.len() as u64
}

/// Head, tail after the work, and demand and ticks of each way.
type Item = (usize, usize, Vec<(u16, usize)>);

/// The bound from the work there is for one resource.
fn energy(
    net: &Net,
    (head, tail): (&[usize], &[usize]),
    works: &[usize],
    r: u16,
    moves: usize,
) -> usize {
    let amount = |w: usize, k: u16| {
        let own = &net.ways[w][k as usize];
        (own.demands.iter().filter(|d| d.0 == r).map(|d| d.1).sum::<u16>(), own.ticks)
    };
    let mut items: Vec<Item> = Vec::new();
    let mut bench: Vec<bool> = Vec::new();
    for &w in works {
        let ways: Vec<(u16, usize)> = net.choices[w].iter().map(|k| amount(w, *k)).collect();
        if ways.iter().all(|a| a.0 > 0) {
            let shortest = ways.iter().map(|a| a.1).min().unwrap_or(0);
            items.push((head[w], tail[w] - shortest, ways));
            bench.push(net.choices[w].iter().any(|k| !net.ways[w][*k as usize].on_engine));
        }
    }
    if items.is_empty() && moves == 0 {
        return 0;
    }
    let row = &net.base[r as usize * net.horizon..(r as usize + 1) * net.horizon];
    let most = row.iter().copied().max().unwrap_or(0);
    let mut sizes: Vec<u16> = items.iter().flat_map(|i| i.2.iter().map(|a| a.0)).collect();
    let bar = (net.move_demands[0].1, least_bar(net));
    if moves > 0 && bar.0 > 0 {
        sizes.push(bar.0);
    }
    sizes.sort_unstable();
    sizes.dedup();
    let mut best = 0;
    for v in weightings(most, &sizes) {
        let value = |d: u16| sizes.binary_search(&d).map_or(0, |i| v[i]);
        let can = knapsack(most, &sizes, &v);
        let mut sum = vec![0_u64; net.horizon + 1];
        for (t, c) in row.iter().enumerate() {
            sum[t + 1] = sum[t] + can[usize::from(*c)];
        }
        let costs: Vec<(usize, usize, u64)> = items
            .iter()
            .map(|(h, q, ways)| {
                (*h, *q, ways.iter().map(|a| value(a.0) * a.1 as u64).min().unwrap_or(0))
            })
            .collect();
        let bar_ticks = bar.1 as u64 * moves as u64;
        let mut extra = value(bar.0) * bar_ticks;
        // Only work at the bench goes on meanwhile: the rest of the crew is lost, as far as the
        // bench cannot use it. More moves than the least lose no less when `all >= rest`.
        let fewest = row.iter().copied().filter(|c| *c >= bar.0).min().unwrap_or(0);
        let (all, rest) = (can[usize::from(fewest)], can[usize::from(most - bar.0.min(most))]);
        if all >= rest && all > value(bar.0) {
            let at_bench: u64 = items
                .iter()
                .zip(&bench)
                .filter(|(_, bench)| **bench)
                .map(|((_, _, ways), _)| {
                    ways.iter().map(|a| value(a.0) * a.1 as u64).max().unwrap_or(0)
                })
                .sum();
            extra = extra.max((all * bar_ticks).saturating_sub(at_bench.min(rest * bar_ticks)));
        }
        best = best.max(windows(net, &sum, costs, extra));
    }
    best
}

/// The best of head and tail thresholds for one weighting.
fn windows(net: &Net, sum: &[u64], mut costs: Vec<(usize, usize, u64)>, extra: u64) -> usize {
    let quantiles = |mut all: Vec<usize>| {
        all.sort_unstable();
        all.dedup();
        let step = all.len().div_ceil(24).max(1);
        let mut some: Vec<usize> = all.iter().copied().step_by(step).collect();
        some.extend(all.last());
        some
    };
    let heads = quantiles(costs.iter().map(|c| c.0).collect());
    let tails = quantiles(costs.iter().map(|c| c.1).collect());
    costs.sort_unstable_by_key(|c| std::cmp::Reverse(c.1));
    let needed = |from: usize, need: u64, tail: usize| {
        if need == 0 {
            return 0;
        }
        let goal = sum[from.min(sum.len() - 1)] + need;
        (sum.partition_point(|s| *s < goal) + tail).min(net.horizon)
    };
    let total: u64 = costs.iter().map(|c| c.2).sum();
    // Moves may come at any time: they count only in the whole.
    let mut best = needed(net.now, total + extra, 0);
    for &a in &heads {
        let mut need = 0;
        let mut at = 0;
        for &b in tails.iter().rev() {
            while at < costs.len() && costs[at].1 >= b {
                need += if costs[at].0 >= a { costs[at].2 } else { 0 };
                at += 1;
            }
            best = best.max(needed(a, need, b));
        }
    }
    best
}

/// Weights for the demands: themselves; counting only the large (any two of which exclude each
/// other, halves counting half); and rounded down to parts of the capacity.
fn weightings(most: u16, sizes: &[u16]) -> Vec<Vec<u64>> {
    let c = u64::from(most);
    let each = |f: &dyn Fn(u64) -> u64| sizes.iter().map(|d| f(u64::from(*d))).collect::<Vec<_>>();
    let mut all = vec![each(&|d| d)];
    for least in 1..=c.min(12) / 2 + 1 {
        all.push(each(&|d| {
            if d > c - least.min(c) && 2 * d > c { 2 } else { u64::from(d >= least) }
        }));
        all.push(each(&|d| match (2 * d).cmp(&c) {
            std::cmp::Ordering::Greater => 2,
            std::cmp::Ordering::Equal => 1,
            std::cmp::Ordering::Less => 0,
        }));
    }
    for k in 1..=c.min(12) {
        all.push(each(&|d| d * (k + 1) / (c + 1)));
        all.push(each(&|d| (d * k).div_ceil(c.max(1))));
    }
    // Few sizes: every weighting in small whole numbers.
    if sizes.len() <= 4 && c <= 12 {
        let base = 5_u64;
        for code in 1..base.pow(sizes.len() as u32) {
            let mut rest = code;
            all.push(
                sizes
                    .iter()
                    .map(|_| {
                        let digit = rest % base;
                        rest /= base;
                        digit
                    })
                    .collect(),
            );
        }
    }
    all.sort();
    all.dedup();
    all
}
