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

use super::before::Before;
use crate::net::{ANYWHERE, ENGINE, Net, NetWait, PEOPLE};
use crate::plan::Cost;

pub(crate) struct Heads {
    /// Earliest start, ticks.
    pub(crate) head: Vec<usize>,
    /// Ticks from the start of a work to the end of all, at least.
    pub(crate) tail: Vec<usize>,
    /// Works in every plan.
    pub(crate) certain: Vec<bool>,
    /// Certain works in an order in which all before comes first.
    order: Vec<usize>,
    moves: usize,
    /// Head of a work when the calendar cannot hold it.
    overrun: bool,
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

impl Heads {
    pub(crate) fn new(net: &Net) -> Self {
        let n = net.ways.len();
        let certain = certain(net);
        let before: Vec<Vec<(usize, NetWait)>> = (0..n).map(|w| common(net, w)).collect();
        let order = topological(&before, net);
        let stations = net.angles_rad.len();
        let far = net.horizon;
        let mut head = vec![net.now; n];
        let mut tail = vec![0; n];
        let mut end_at = vec![usize::MAX; n * stations];
        let mut moves_at = vec![0_usize; n * stations];
        let mut moves = 0;
        let mut overrun = false;
        let shortest: Vec<usize> = (0..n)
            .map(|w| {
                net.choices[w].iter().map(|k| net.ways[w][*k as usize].ticks).min().unwrap_or(0)
            })
            .collect();
        let mut people = Before::new(net);
        for &w in &order {
            people.join(net, w, before[w].iter().map(|p| p.0));
            let by_people = people.soonest(net, w, &head);
            let own = || net.choices[w].iter().map(|k| &net.ways[w][*k as usize]);
            let mask = own().fold(0, |m, y| m | y.mask);
            let bench = own().any(|y| !y.on_engine && !y.windowed());
            let mut start_at = vec![usize::MAX; stations];
            for (s, start) in start_at.iter_mut().enumerate() {
                if mask >> s & 1 == 0 && mask != ANYWHERE {
                    continue;
                }
                let mut t = net.now.max(by_people);
                if s != 0 {
                    t = t.max(net.first_stay.0 + net.bar(0, s));
                }
                let mut m = usize::from(s != 0);
                for &(p, wait) in &before[w] {
                    if let Some(end) = net.past[p] {
                        t = t.max(net.ready(end, wait));
                        continue;
                    }
                    let from = |q: usize| {
                        let end = end_at[p * stations + q];
                        if end == usize::MAX {
                            end
                        } else {
                            net.ready(end, wait).max(end + net.bar(q, s))
                        }
                    };
                    t = t.max((0..stations).map(from).min().unwrap_or(0));
                    let row = &moves_at[p * stations..(p + 1) * stations];
                    let least = row.iter().copied().min().unwrap_or(0);
                    m = m.max(row[s].min(least.saturating_add(1)));
                }
                moves_at[w * stations + s] = m;
                // The day's hours, crew and kit, as if nothing else went on.
                let fit = own()
                    .filter(|y| y.mask >> s & 1 == 1)
                    .filter_map(|y| {
                        (t < far).then(|| net.fit(&net.base, t, y.ticks, y.same_day, &y.demands))?
                    })
                    .min();
                *start = fit.unwrap_or(far);
            }
            for s in 0..stations {
                if start_at[s] == usize::MAX {
                    moves_at[w * stations + s] = usize::MAX / 2;
                }
            }
            let least = start_at.iter().copied().min().unwrap_or(far);
            head[w] = least.min(far);
            overrun |= certain[w] && least >= far;
            let least_moves = moves_at[w * stations..(w + 1) * stations].iter().copied().min();
            if certain[w] {
                moves = moves.max(least_moves.unwrap_or(0));
            }
            for s in 0..stations {
                let over = |q: usize| {
                    if start_at[q] == usize::MAX { usize::MAX } else { start_at[q] + shortest[w] }
                };
                // During work at the bench the engine may be moving: it can be anywhere after.
                end_at[w * stations + s] = if bench {
                    (0..stations).map(over).min().unwrap_or(usize::MAX)
                } else {
                    over(s)
                };
            }
        }
        for &w in order.iter().rev() {
            tail[w] = tail[w].max(shortest[w]);
            if !certain[w] {
                continue;
            }
            for &(p, wait) in &before[w] {
                let wait = if let NetWait::Ticks(t) = wait { t } else { 0 };
                tail[p] = tail[p].max(shortest[p] + wait + tail[w]);
            }
        }
        Self { head, tail, certain, order, moves, overrun }
    }
}

/// Works in an order in which all that certainly comes before stands first.
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

/// No plan costs less in any part.
pub(crate) fn bound(net: &Net, heads: &Heads) -> Cost {
    let works: Vec<usize> = heads.order.iter().copied().filter(|w| heads.certain[*w]).collect();
    let past = net.past.iter().flatten().copied().max().unwrap_or(0);
    let mut last = past;
    for &w in &works {
        last = last.max((heads.head[w] + heads.tail[w]).min(net.horizon));
    }
    if heads.overrun {
        last = net.horizon;
    }
    let moves = heads.moves.max(fewest_stations(net, &works));
    for r in 0..net.resources as u16 {
        if r != ENGINE {
            last = last.max(energy(net, heads, &works, r, if r == PEOPLE { moves } else { 0 }));
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
        set_ups: fewest_set_ups(net, &works),
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
fn energy(net: &Net, heads: &Heads, works: &[usize], r: u16, moves: usize) -> usize {
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
            items.push((heads.head[w], heads.tail[w] - shortest, ways));
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
        // Knapsack: the most weight that goes on together.
        let mut can = vec![0_u64; usize::from(most) + 1];
        for c in 1..can.len() {
            let with = |(d, v): (&u16, &u64)| {
                if *d > 0 && usize::from(*d) <= c { can[c - usize::from(*d)] + v } else { 0 }
            };
            can[c] = sizes.iter().zip(&v).map(with).max().unwrap_or(0).max(can[c - 1]);
        }
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
