//! The changes that the search tries: in the list, in the ways, in where the engine goes.

use super::decode::{Genes, Rule};
use super::improve::Climb;
use crate::net::{Net, NetWait};

impl Climb<'_> {
    /// One change.
    pub(super) fn change(&mut self, genes: &mut Genes, order: &[u32]) {
        let n = order.len();
        let kind = self.random.below(100);
        let ways = if self.many_ways.is_empty() { 0 } else { 20 };
        if kind < ways {
            let w = self.many_ways[self.random.below(self.many_ways.len())];
            genes.way[w] = self.any_way(w);
            if self.random.below(2) == 0 {
                self.shift(genes, order);
            }
        } else if kind < 30 && !self.idle.is_empty() {
            let hole = self.idle[self.random.below(self.idle.len())];
            let from = (hole + self.reach(n)).min(n - 1);
            self.pull(genes, order, from, hole.min(n - 1));
        } else if kind < 65 {
            self.shift(genes, order);
        } else if kind < 78 {
            self.shuffle(genes, order);
        } else if kind < 88 {
            self.shift_stay(genes, order);
        } else if kind < 93 {
            let w = order[self.random.below(n)] as usize;
            let station = self.random.below(self.net.angles_rad.len() + 1) as u8;
            if self.random.below(2) == 0 {
                genes.hint[w] = station;
            } else {
                genes.early[w] = station;
            }
            self.shift(genes, order);
        } else {
            self.justify(genes, order);
        }
    }

    /// A distance in the list: short ones often, long ones now and then.
    fn reach(&mut self, n: usize) -> usize {
        let bits = self.random.below(usize::BITS as usize - n.leading_zeros() as usize);
        1 + self.random.below(1 << (bits + 1)).min(n)
    }

    /// One work earlier, with what it waits for in between; or later.
    fn shift(&mut self, genes: &mut Genes, order: &[u32]) {
        let n = order.len();
        let from = self.random.below(n);
        let reach = self.reach(n);
        let w = order[from] as usize;
        if self.random.below(3) == 0 {
            let to = (from + reach).min(n - 1);
            genes.key[w] = genes.key[order[to] as usize] + 1;
            return;
        }
        self.pull(genes, order, from, from.saturating_sub(reach));
    }

    /// One work earlier in the list, with what it waits for in between.
    fn pull(&self, genes: &mut Genes, order: &[u32], from: usize, to: usize) {
        let w = order[from] as usize;
        let floor = genes.key[order[to] as usize];
        let mut group = vec![w];
        let mut at = 0;
        while at < group.len() && group.len() < 40 {
            let x = group[at];
            if let Some(way) = self.net.ways[x].get(genes.way[x] as usize) {
                for p in &way.preds {
                    if genes.key[p.work] >= floor
                        && self.net.past[p.work].is_none()
                        && !group.contains(&p.work)
                    {
                        group.push(p.work);
                    }
                }
            }
            at += 1;
        }
        group.sort_by_key(|x| genes.key[*x]);
        let first = floor - group.len() as u64 - 1;
        for (i, x) in group.iter().enumerate() {
            genes.key[*x] = first + i as u64;
        }
    }

    /// A stretch of the list in a new order.
    fn shuffle(&mut self, genes: &mut Genes, order: &[u32]) {
        let length = 2 + self.random.below(14);
        let from = self.random.below(order.len());
        let to = (from + length).min(order.len());
        for w in &order[from..to] {
            let other = order[from + self.random.below(to - from)] as usize;
            let noise = self.random.below(1 << 19) as u64;
            genes.key[*w as usize] = ((other_place(order, other, from) as u64 + 1) << 20) + noise;
        }
    }

    /// All works of one stay that need its position, to another place in the list.
    fn shift_stay(&mut self, genes: &mut Genes, order: &[u32]) {
        let at = self.random.below(order.len());
        let Some(first) = (at..order.len()).find(|i| {
            let w = order[*i] as usize;
            self.net.ways[w][genes.way[w] as usize].windowed()
        }) else {
            return;
        };
        let hint = genes.hint[order[first] as usize];
        let reach = self.reach(order.len());
        let to = if self.random.below(2) == 0 {
            first.saturating_sub(reach)
        } else {
            (first + reach).min(order.len() - 1)
        };
        let key = genes.key[order[to] as usize];
        let mut moved = 0;
        for w in &order[first..] {
            let w = *w as usize;
            let way = &self.net.ways[w][genes.way[w] as usize];
            if !way.windowed() {
                continue;
            }
            if genes.hint[w] != hint {
                break;
            }
            genes.key[w] = key + 1 + moved;
            moved += 1;
        }
    }

    /// Double justification, first half: every work as late as it can be within the plan's end,
    /// positions and hangs kept only roughly; the list by the new starts.
    fn justify(&mut self, genes: &mut Genes, order: &[u32]) {
        if self.decoder.run(genes, Rule { patience: 0, latest: None }).is_err() {
            return;
        }
        let net = self.net;
        let board = &self.decoder.board;
        let mut free = net.base.clone();
        let end_of_all = board.last;
        for pair in board.stays.windows(2) {
            for (r, amount) in net.move_demands {
                take(&mut free, net, r, amount, pair[0].to, pair[1].from);
            }
        }
        let mut late: Vec<usize> = vec![end_of_all; net.ways.len()];
        let mut works: Vec<usize> =
            order.iter().map(|w| *w as usize).filter(|w| board.is_placed(*w)).collect();
        works.sort_by_key(|w| std::cmp::Reverse((board.end[*w], board.start[*w])));
        for w in works {
            let way = &net.ways[w][genes.way[w] as usize];
            let (old_start, old_end) = (board.start[w] as usize, board.end[w] as usize);
            let mut limit = late[w];
            if way.windowed() {
                let stay = board.stays.iter().find(|s| old_start >= s.from && old_end <= s.to);
                limit = limit.min(stay.map_or(old_end, |s| s.to));
            }
            let start = latest(&free, net, way.ticks, &way.demands, limit, old_start);
            for (r, amount) in &way.demands {
                take(&mut free, net, *r, *amount, start, start + way.ticks);
            }
            genes.key[w] = (start as u64 + 1) << 20;
            for p in &way.preds {
                let before = match p.wait {
                    NetWait::Ticks(t) => start.saturating_sub(t),
                    NetWait::Days(_) => start.min(board.ended(net, p.work).unwrap_or(start)),
                };
                late[p.work] = late[p.work].min(before);
            }
        }
    }
}

fn other_place(order: &[u32], w: usize, from: usize) -> usize {
    order[from..].iter().position(|x| *x as usize == w).map_or(from, |i| from + i)
}

fn take(free: &mut [u16], net: &Net, r: u16, amount: u16, from: usize, to: usize) {
    let row = r as usize * net.horizon;
    for f in &mut free[row + from..row + to.min(net.horizon)] {
        *f = f.saturating_sub(amount);
    }
}

/// Latest start with the demands free and the end within the limit; not before the old start.
fn latest(
    free: &[u16],
    net: &Net,
    ticks: usize,
    demands: &[(u16, u16)],
    limit: usize,
    old_start: usize,
) -> usize {
    let mut t = limit.saturating_sub(ticks);
    'earlier: while t > old_start {
        for (r, amount) in demands {
            let row = *r as usize * net.horizon;
            if let Some(first) = free[row + t..row + t + ticks].iter().position(|f| f < amount) {
                if t + first < ticks {
                    return old_start;
                }
                t = t + first - ticks;
                continue 'earlier;
            }
        }
        return t;
    }
    old_start
}
