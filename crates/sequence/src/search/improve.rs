//! First plans by rules, then better ones by changing the list a little at a time.

use super::board::Blocked;
use super::bound::Heads;
use super::decode::{Decoder, Genes, Rule};
use super::random::Random;
use super::{Found, News, Old, SearchOptions, Watch};
use crate::net::Net;
use crate::plan::{Cost, Objective, Refused};
use crate::scheme::Scheme;
use std::collections::HashMap;

/// Plans tried in the first cooling; each is twice as long as the one before, up to the longest.
const FIRST_COOLING: u64 = 1500;
const LONGEST_COOLING: u64 = 200_000;
/// From so many works on the first cooling is a mild one.
const MANY: usize = 400;
/// Weight of the mean end of the works.
const MEAN_END: f64 = 0.02;
/// Weight of the mean time by which works are behind what a plan that ends at the bound allows.
const BEHIND: f64 = 0.4;

struct Best {
    genes: Genes,
    patience: u64,
    rank: u128,
    tried: u64,
}

pub(super) fn search(
    scheme: &Scheme,
    net: &Net,
    heads: &Heads,
    bound: &Cost,
    options: &SearchOptions,
    watch: &Watch<'_>,
    old: Option<&Old<'_>>,
) -> Result<Found, Refused> {
    let one = |thread: u64| Climb::new(net, heads, bound, options, watch, old, thread).run();
    let results: Vec<Result<Best, (usize, Blocked)>> = if options.threads <= 1 {
        vec![one(0)]
    } else {
        std::thread::scope(|scope| {
            let all: Vec<_> =
                (0..options.threads.min(16) as u64).map(|t| scope.spawn(move || one(t))).collect();
            // A thread of ours that panicked is a fault of ours: hand the panic on.
            all.into_iter()
                .map(|h| h.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)))
                .collect()
        })
    };
    let tried = results.iter().flatten().map(|b| b.tried).sum();
    let mut failed = (0, Blocked::Calendar);
    let mut best: Option<Best> = None;
    for result in results {
        match result {
            Ok(b) if best.as_ref().is_none_or(|x| b.rank < x.rank) => best = Some(b),
            Ok(_) => {}
            Err(f) => failed = f,
        }
    }
    let Some(best) = best else {
        if watch.stopped() {
            return Err(Refused::Stopped);
        }
        return Err(match failed.1 {
            Blocked::Calendar => Refused::NotInCalendar {
                calendar_min: scheme.calendar.minutes(),
                needed_min: bound.elapsed_min,
            },
            why => Refused::DeadEnd {
                work: scheme.works[failed.0].tag.clone(),
                why: match why {
                    Blocked::WouldHang => "what it leaves hanging could not be put right",
                    Blocked::Kit => "kit that it needs stays elsewhere",
                    _ => "the engine cannot be moved to where it can be done",
                }
                .into(),
            },
        });
    };
    let mut decoder = Decoder::new(net);
    let rule = Rule { patience: best.patience, latest: None };
    // The same genes gave a plan before.
    let _ = decoder.run(&best.genes, rule);
    let board = decoder.board;
    Ok(Found { board, ways: best.genes.way, tick_min: net.tick_min, tried })
}

/// The best of the first plans, and the last reason why one failed.
struct Firsts {
    best: Option<Best>,
    failed: (usize, Blocked),
}

impl Firsts {
    fn offer(&mut self, climb: &mut Climb<'_>, genes: Genes, patience: u64) {
        match climb.decode(&genes, patience, usize::MAX) {
            Ok(rank) if self.best.as_ref().is_none_or(|b| rank < b.rank) => {
                self.best = Some(Best { genes, patience, rank, tried: 0 });
            }
            Ok(_) => {}
            Err(failed) => self.failed = failed,
        }
    }
}

pub(super) struct Climb<'a> {
    pub(super) net: &'a Net,
    pub(super) heads: &'a Heads,
    pub(super) bound: &'a Cost,
    pub(super) options: &'a SearchOptions,
    pub(super) watch: &'a Watch<'a>,
    pub(super) old: Option<&'a Old<'a>>,
    /// Place of each work in the old plan.
    pub(super) old_place: Vec<Option<(usize, u16)>>,
    pub(super) thread: u64,
    pub(super) random: Random,
    pub(super) decoder: Decoder<'a>,
    pub(super) many_ways: Vec<usize>,
    /// Places in the list at which people begin to stand idle, in the plan gone on from.
    pub(super) idle: Vec<usize>,
    pub(super) tried: u64,
    /// Latest starts for plans that end by a tick.
    latest: HashMap<usize, Vec<u32>>,
}

impl<'a> Climb<'a> {
    fn new(
        net: &'a Net,
        heads: &'a Heads,
        bound: &'a Cost,
        options: &'a SearchOptions,
        watch: &'a Watch<'a>,
        old: Option<&'a Old<'a>>,
        thread: u64,
    ) -> Self {
        let mut old_place = vec![None; net.ways.len()];
        for (place, step) in old.iter().flat_map(|o| o.steps.iter()).enumerate() {
            if let Some(slot) = old_place.get_mut(step.work.0) {
                *slot = Some((place, step.way.min(65_535) as u16));
            }
        }
        Self {
            net,
            heads,
            bound,
            options,
            watch,
            old,
            old_place,
            thread,
            random: Random::new(
                options.seed.wrapping_add(thread.wrapping_mul(0x5851_F42D_4C95_7F2D)),
            ),
            decoder: Decoder::new(net),
            many_ways: (0..net.ways.len()).filter(|w| net.choices[*w].len() > 1).collect(),
            idle: Vec::new(),
            tried: 0,
            latest: HashMap::new(),
        }
    }

    fn run(mut self) -> Result<Best, (usize, Blocked)> {
        let mut best = self.first()?;
        if !self.old.is_some_and(|o| o.keep) {
            self.climb(&mut best);
        }
        best.tried = self.tried;
        Ok(best)
    }

    /// Rank of what is on the board, with what changes to an old plan cost.
    fn rank(&self, ways: &[u16]) -> u128 {
        let mut cost = self.decoder.board.cost(self.net.tick_min);
        if let Some(old) = self.old.filter(|o| o.minutes_a_change > 0) {
            cost.elapsed_min += old.minutes_a_change * self.changes(ways);
        }
        self.options.objective.rank(&cost)
    }

    /// Works with another way than before, and works out of the old order: those outside the
    /// longest run that keeps it.
    fn changes(&self, ways: &[u16]) -> u64 {
        let board = &self.decoder.board;
        let mut order: Vec<(u32, usize)> = board
            .placed()
            .filter_map(|w| self.old_place[w].map(|p| (board.start[w], p.0)))
            .collect();
        order.sort_unstable();
        let turned =
            board.placed().filter(|w| self.old_place[*w].is_some_and(|p| p.1 != ways[*w])).count();
        // Longest increasing run of old places, by patience sorting.
        let mut tops: Vec<usize> = Vec::new();
        for (_, place) in &order {
            let at = tops.partition_point(|t| t < place);
            if at == tops.len() { tops.push(*place) } else { tops[at] = *place }
        }
        (turned + order.len() - tops.len()) as u64
    }

    fn decode(
        &mut self,
        genes: &Genes,
        patience: u64,
        limit: usize,
    ) -> Result<u128, (usize, Blocked)> {
        self.tried += 1;
        let latest = if limit < self.net.horizon {
            let net = self.net;
            Some(&**self.latest.entry(limit).or_insert_with(|| self.heads.latest(net, limit)))
        } else {
            None
        };
        self.decoder.run(genes, Rule { patience, latest })?;
        Ok(self.rank(&genes.way))
    }

    fn first(&mut self) -> Result<Best, (usize, Blocked)> {
        let n = self.net.ways.len();
        let mut firsts = Firsts { best: None, failed: (0, Blocked::Calendar) };
        if let Some(old) = self.old {
            let ways = self.first_ways(0);
            let mut genes =
                Genes { key: self.by_tail(1), way: ways, hint: vec![0; n], early: vec![0; n] };
            self.old_keys(&mut genes);
            firsts.offer(self, genes, 0);
            if firsts.best.is_some() && (old.keep || old.minutes_a_change > 0) {
                return firsts.best.ok_or(firsts.failed);
            }
        }
        let spread = self.heads.tail.iter().copied().max().unwrap_or(1) as u64;
        for rule in 0..4 {
            for way_rule in 0..2 {
                let way = self.first_ways(way_rule);
                for part in [0, 8, 3, 1] {
                    if self.watch.stopped() {
                        break;
                    }
                    let key = self.by_tail(rule);
                    let genes =
                        Genes { key, way: way.clone(), hint: vec![0; n], early: vec![0; n] };
                    let patience = spread.checked_div(part).map_or(0, |p| p + 1);
                    firsts.offer(self, genes, patience);
                }
            }
        }
        // Dead ends: other ways and other orders, at random.
        for _ in 0..300 {
            if firsts.best.is_some() || self.watch.stopped() {
                break;
            }
            let mut way = self.first_ways(0);
            for i in 0..self.many_ways.len() {
                if self.random.below(2) == 0 {
                    let w = self.many_ways[i];
                    way[w] = self.any_way(w);
                }
            }
            let mut key = self.by_tail(0);
            let noise = spread as usize + 1;
            key.iter_mut().for_each(|k| *k += self.random.below(noise) as u64);
            firsts.offer(
                self,
                Genes { key, way, hint: vec![0; n], early: vec![0; n] },
                spread / 4 + 1,
            );
        }
        firsts.best.ok_or(firsts.failed)
    }

    /// Keys that keep the old order; works new to the plan come just after what is before them.
    fn old_keys(&mut self, genes: &mut Genes) {
        for w in 0..genes.way.len() {
            if let Some((_, way)) = self.old_place[w]
                && self.net.choices[w].contains(&way)
            {
                genes.way[w] = way;
            }
        }
        let mut key: Vec<u64> =
            self.old_place.iter().map(|p| p.map_or(u64::MAX, |p| (p.0 as u64 + 1) << 20)).collect();
        // New works take the least key of what waits for them, less one, going back through chains.
        for _ in 0..8 {
            let mut changed = false;
            for w in 0..key.len() {
                if self.old_place[w].is_some() {
                    continue;
                }
                let after = self.net.rev[w].iter().filter(|(s, k)| genes.way[*s as usize] == *k);
                let least = after.map(|(s, _)| key[*s as usize]).min().unwrap_or(u64::MAX);
                if least != u64::MAX && key[w] != least - 1 {
                    key[w] = least - 1;
                    changed = true;
                }
            }
            if !changed {
                break;
            }
        }
        genes.key = key;
    }

    /// Ways with least people-minutes (rule 0) or least minutes, counting works only they need.
    fn first_ways(&self, rule: usize) -> Vec<u16> {
        let net = self.net;
        let price = |w: usize, k: u16| {
            let way = &net.ways[w][k as usize];
            let extra: u64 = way
                .preds
                .iter()
                .filter(|p| !self.heads.certain[p.work] && net.past[p.work].is_none())
                .flat_map(|p| net.ways[p.work].iter().map(|y| y.people_min).min())
                .sum();
            let people = way.people_min + extra;
            let ticks = way.ticks as u64;
            if rule == 0 { (people, ticks, k) } else { (ticks + extra, people, k) }
        };
        (0..net.ways.len())
            .map(|w| net.choices[w].iter().copied().min_by_key(|k| price(w, *k)).unwrap_or(0))
            .collect()
    }

    /// Keys: long tails first (rule 0), with earliest heads first (1), least slack first (2).
    fn by_tail(&self, rule: usize) -> Vec<u64> {
        let most = self.heads.tail.iter().copied().max().unwrap_or(0);
        (0..self.net.ways.len())
            .map(|w| {
                let late = (most - self.heads.tail[w]) as u64;
                match rule {
                    0 => 2 * late,
                    3 => 2 * self.heads.late[w] as u64,
                    1 => late + self.heads.head[w] as u64,
                    _ => {
                        2 * late + self.net.ways[w].first().map_or(0, |y| u64::from(!y.windowed()))
                    }
                }
            })
            .collect()
    }

    pub(super) fn any_way(&mut self, w: usize) -> u16 {
        let choices = &self.net.choices[w];
        choices.get(self.random.below(choices.len())).copied().unwrap_or(0)
    }

    fn enough(&self, rank: u128) -> bool {
        let least = self.options.objective.rank(self.bound);
        if rank <= least {
            return true;
        }
        let (rank, least) = match self.options.objective {
            Objective::InOrder => ((rank >> 96) as f64, (least >> 96) as f64),
            Objective::Weighted(_) => (rank as f64, least as f64),
        };
        self.options.enough_gap > 0.0 && rank - least <= self.options.enough_gap * rank
    }

    /// No plan that ends after this tick has a rank as good.
    fn limit(&self, rank: u128) -> usize {
        let minutes = match self.options.objective {
            Objective::InOrder => rank >> 96,
            Objective::Weighted(w) => match w.elapsed_min {
                0 => return usize::MAX,
                weight => rank / u128::from(weight),
            },
        };
        (minutes / u128::from(self.net.tick_min)) as usize
    }

    fn climb(&mut self, best: &mut Best) {
        let mut now = best.genes.clone();
        if self.decode(&now, best.patience, usize::MAX).is_err() {
            return;
        }
        let mut height = self.height(&now.way);
        let mut order = self.settle(&mut now);
        let mut trial = now.clone();
        // Warm enough to take a plan a tick or two longer now and then.
        let hot = (0.003 * self.decoder.board.last as f64).clamp(1.0, 2.0);
        let (mut cooling, mut begun, mut round) =
            (FIRST_COOLING, 0, u64::from(order.len() >= MANY));
        for step in 0..self.options.steps {
            if self.enough(best.rank) || order.len() < 2 || self.watch.stopped() {
                break;
            }
            if step % 64 == 0 {
                self.tell(best);
            }
            if step - begun >= cooling {
                cooling = if round % 2 == 1 { (2 * cooling).min(LONGEST_COOLING) } else { cooling };
                (begun, round) = (step, round + 1);
                // A mild cooling begins from the best; a hot one goes on from where that led.
                let patience = if round % 2 == 1 {
                    now.clone_from(&best.genes);
                    best.patience
                } else {
                    0
                };
                if self.decode(&now, patience, usize::MAX).is_err() {
                    now.clone_from(&best.genes);
                    if self.decode(&now, best.patience, usize::MAX).is_err() {
                        return;
                    }
                }
                height = self.height(&now.way);
                order = self.settle(&mut now);
            }
            let cold = (step - begun) as f64 / cooling as f64;
            // Hot and mild coolings by turns: one looks about, the next works out what was found.
            // Large schemes begin with a mild one; they may see no second.
            let heat = if round % 2 == 0 { hot } else { 0.15 * hot };
            let warmth = (heat * (1.0 - cold) * (1.0 - cold)).max(0.01);
            let allowed = height - warmth * self.random.unit().ln();
            trial.clone_from(&now);
            self.change(&mut trial, &order);
            let timed =
                !matches!(self.options.objective, Objective::Weighted(w) if w.elapsed_min == 0);
            let limit = if timed { allowed.min(1e15) as usize } else { usize::MAX };
            let Ok(rank) = self.decode(&trial, 0, limit) else { continue };
            let new = self.height(&trial.way);
            if rank < best.rank {
                best.genes.clone_from(&trial);
                (best.patience, best.rank) = (0, rank);
                self.tell(best);
            } else if new > allowed {
                continue;
            }
            height = new;
            std::mem::swap(&mut now, &mut trial);
            order = self.settle(&mut now);
        }
    }

    /// What is on the board as one number in ticks, for cooling: the cost, and a little of the mean
    /// end of the works, which tells plans of one length apart.
    fn height(&self, ways: &[u16]) -> f64 {
        let board = &self.decoder.board;
        let cost = board.cost(self.net.tick_min);
        let tick = self.net.tick_min as f64;
        let mut height = match self.options.objective {
            Objective::Weighted(w) if w.elapsed_min > 0 => {
                self.options.objective.rank(&cost) as f64 / f64::from(w.elapsed_min) / tick
            }
            Objective::Weighted(_) => self.options.objective.rank(&cost) as f64,
            Objective::InOrder => {
                board.last as f64
                    + 0.1 * cost.moves as f64
                    + 0.02 * cost.set_ups as f64
                    + 0.0003 * cost.people_min as f64 / tick
            }
        };
        if let Some(old) = self.old.filter(|o| o.minutes_a_change > 0) {
            height += (old.minutes_a_change * self.changes(ways)) as f64 / tick;
        }
        let works = board.order.len().max(1) as f64;
        let ends: f64 = board.placed().map(|w| f64::from(board.end[w])).sum();
        let behind = |w: usize| (board.start[w] as usize).saturating_sub(self.heads.late[w]);
        let behind: usize = board.placed().map(behind).sum();
        height + (MEAN_END * ends + BEHIND * behind as f64) / works
    }

    fn tell(&mut self, best: &Best) {
        if self.thread > 0 {
            return;
        }
        // Only the elapsed part is read back from the rank in order; decoding again would cost more.
        let cost = match self.options.objective {
            Objective::InOrder => Cost {
                elapsed_min: (best.rank >> 96) as u64,
                moves: (best.rank >> 64) as u64 & 0xFFFF_FFFF,
                set_ups: (best.rank >> 32) as u64 & 0xFFFF_FFFF,
                people_min: best.rank as u64 & 0xFFFF_FFFF,
            },
            Objective::Weighted(_) => Cost {
                elapsed_min: self.limit(best.rank) as u64 * self.net.tick_min,
                ..Cost::default()
            },
        };
        (self.watch.news)(&News { steps: self.tried, cost, bound: *self.bound });
    }
}
