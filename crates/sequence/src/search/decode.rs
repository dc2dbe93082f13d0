//! A priority list becomes a plan: serial schedule generation with the engine's position.
//!
//! Works are taken by priority as soon as all before them are placed, each at its earliest time
//! among those already placed. A work that needs another position than any stay gives appends a
//! move. A work is put back while something hangs that forbids the move it needs; one that would
//! leave something hanging is placed only at a position at which all that is still needed to put
//! it right can be done.

use super::board::{Blocked, Board};
use crate::net::{ANYWHERE, Net};
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// What is decoded: priorities (small first), ways, and at which station to look first.
#[derive(Clone, Default)]
pub(super) struct Genes {
    pub(super) key: Vec<u64>,
    pub(super) way: Vec<u16>,
    pub(super) hint: Vec<u8>,
    /// A station and one to bar to, as soon as can be, before this work is placed; 0 for none.
    /// Without it a move comes just in time, and works that could follow it might bar its way.
    pub(super) early: Vec<u8>,
}

/// How to decode.
#[derive(Clone, Copy)]
pub(super) struct Rule<'a> {
    /// A work that needs a move waits for others with keys up to this much larger.
    pub(super) patience: u64,
    /// Give up when a work begins after this: the plan could no longer end as soon as asked.
    pub(super) latest: Option<&'a [u32]>,
}

/// Why no plan came out: the work that could not be placed, and what stopped it.
pub(super) type Stuck = (usize, Blocked);

pub(super) struct Decoder<'n> {
    net: &'n Net,
    pub(super) board: Board,
    pub(super) active: Vec<bool>,
    missing: Vec<u32>,
    ready: BinaryHeap<Reverse<(u64, u32)>>,
    held: Vec<(u64, u32)>,
    blocked: Vec<(u64, u32)>,
    seen: Vec<u32>,
    mark: u32,
    stack: Vec<usize>,
}

impl<'n> Decoder<'n> {
    pub(super) fn new(net: &'n Net) -> Self {
        let n = net.ways.len();
        Self {
            net,
            board: Board::new(net),
            active: Vec::new(),
            missing: vec![0; n],
            ready: BinaryHeap::new(),
            held: Vec::new(),
            blocked: Vec::new(),
            seen: vec![0; n],
            mark: 0,
            stack: Vec::new(),
        }
    }

    /// Decodes onto the board.
    pub(super) fn run(&mut self, genes: &Genes, rule: Rule<'_>) -> Result<(), Stuck> {
        let net = self.net;
        self.board.clear(net);
        net.active(&genes.way, &mut self.active);
        self.ready.clear();
        self.held.clear();
        self.blocked.clear();
        let mut left = 0;
        for w in 0..self.active.len() {
            if !self.active[w] {
                continue;
            }
            left += 1;
            let Some(way) = net.ways[w].get(genes.way[w] as usize).filter(|y| y.usable) else {
                return Err((w, Blocked::Calendar));
            };
            let missing = way.preds.iter().filter(|p| net.past[p.work].is_none()).count();
            self.missing[w] = missing as u32;
            if missing == 0 {
                self.ready.push(Reverse((genes.key[w], w as u32)));
            }
        }
        let mut why = Blocked::Calendar;
        while left > 0 {
            let Some(w) = self.pick(genes, rule.patience) else {
                let stuck = self.blocked.first().map_or(0, |b| b.1 as usize);
                return Err((stuck, why));
            };
            match self.place(genes, w) {
                Ok(()) => {}
                Err(Blocked::Calendar) => return Err((w, Blocked::Calendar)),
                Err(other) => {
                    why = other;
                    self.blocked.push((genes.key[w], w as u32));
                    continue;
                }
            }
            left -= 1;
            if rule.latest.is_some_and(|l| self.board.start[w] > l[w]) {
                return Err((w, Blocked::Calendar));
            }
            for &(s, k) in &net.rev[w] {
                let s = s as usize;
                if self.active[s] && genes.way[s] == k {
                    self.missing[s] -= 1;
                    if self.missing[s] == 0 {
                        self.ready.push(Reverse((genes.key[s], s as u32)));
                    }
                }
            }
            for back in self.blocked.drain(..) {
                self.ready.push(Reverse(back));
            }
        }
        Ok(())
    }

    /// The next work.
    fn pick(&mut self, genes: &Genes, patience: u64) -> Option<usize> {
        if patience == 0 {
            return self.ready.pop().map(|Reverse((_, w))| w as usize);
        }
        loop {
            let Some(Reverse((key, w))) = self.ready.pop() else {
                // The one held longest goes first.
                let first = (0..self.held.len()).min_by_key(|i| self.held[*i])?;
                return Some(self.held.swap_remove(first).1 as usize);
            };
            let first = self.held.iter().copied().min();
            if let Some((held_key, _)) = first.filter(|h| key > h.0.saturating_add(patience)) {
                self.ready.push(Reverse((key, w)));
                let at = self.held.iter().position(|h| h.0 == held_key)?;
                return Some(self.held.swap_remove(at).1 as usize);
            }
            let mask = self.net.ways[w as usize][genes.way[w as usize] as usize].mask;
            if mask >> self.board.current().station & 1 == 1 {
                return Some(w as usize);
            }
            self.held.push((key, w));
        }
    }

    fn place(&mut self, genes: &Genes, w: usize) -> Result<(), Blocked> {
        let net = self.net;
        let way = &net.ways[w][genes.way[w] as usize];
        // All before it is placed, or it would not have been picked.
        let ready = self.board.ready(net, way).ok_or(Blocked::Engine)?;
        if let Some(s) = usize::from(genes.early[w]).checked_sub(1)
            && s < net.angles_rad.len()
            && s != self.board.current().station
            && way.mask >> s & 1 == 1
        {
            // Where it cannot be moved now, the work is placed without.
            let _ = self.board.bar(net, s, 0);
        }
        let hangs = way.hangs.iter().any(|u| u.is_none_or(|u| self.board.ended(net, u).is_none()));
        let mut mask = way.mask;
        if hangs {
            mask &= self.putting_right(genes, w);
            if mask == 0 {
                return Err(Blocked::WouldHang);
            }
        }
        if let Some((t, stay)) = self.board.fit_here(net, way, mask, ready, hangs) {
            self.board.put(net, w, way, t, stay);
            return Ok(());
        }
        if self.board.waits_for_kit(way) {
            return Err(Blocked::Kit);
        }
        if mask == ANYWHERE || mask >> self.board.current().station & 1 == 1 {
            return Err(Blocked::Calendar);
        }
        self.board.may_move(net).ok_or(Blocked::Engine)?;
        let to = self.where_to(genes, w, mask);
        let ticks = net.bar(self.board.current().station, to);
        self.board.bar(net, to, ready.saturating_sub(ticks))?;
        let (t, stay) =
            self.board.fit_here(net, way, mask, ready, true).ok_or(Blocked::Calendar)?;
        self.board.put(net, w, way, t, stay);
        Ok(())
    }

    /// Stations at which all that is still to be done to put right what `w` would leave hanging
    /// can be done.
    fn putting_right(&mut self, genes: &Genes, w: usize) -> u64 {
        let net = self.net;
        self.mark += 1;
        self.seen[w] = self.mark;
        self.stack.clear();
        let until = &net.ways[w][genes.way[w] as usize].hangs;
        self.stack.extend(until.iter().flatten().filter(|u| self.active[**u]));
        let mut mask = ANYWHERE;
        while let Some(u) = self.stack.pop() {
            if self.seen[u] == self.mark || self.board.ended(net, u).is_some() {
                continue;
            }
            self.seen[u] = self.mark;
            let way = &net.ways[u][genes.way[u] as usize];
            mask &= way.mask;
            self.stack.extend(way.preds.iter().map(|p| p.work));
            // It may itself leave something hanging; the engine then stays for that too.
            self.stack.extend(way.hangs.iter().flatten().filter(|v| self.active[**v]));
        }
        mask
    }

    /// Where to bar the engine: as hinted, or where most works now open can be done, then nearest.
    fn where_to(&self, genes: &Genes, w: usize, mask: u64) -> usize {
        let stations = (0..self.net.angles_rad.len()).filter(|s| mask >> s & 1 == 1);
        let here = self.board.current().station;
        // A hint is a station and one; 0 is none.
        if let Some(s) = usize::from(genes.hint[w]).checked_sub(1)
            && mask >> s & 1 == 1
        {
            return s;
        }
        let mut serves = [0_u32; 64];
        let open = self.ready.iter().map(|r| r.0.1).chain(self.held.iter().map(|h| h.1));
        for other in open.take(200) {
            let mask = self.net.ways[other as usize][genes.way[other as usize] as usize].mask;
            if mask != ANYWHERE {
                (0..64).filter(|s| mask >> s & 1 == 1).for_each(|s| serves[s] += 1);
            }
        }
        let score = |s: &usize| (Reverse(serves[*s]), self.net.bar(here, *s), *s);
        stations.min_by_key(score).unwrap_or(here)
    }
}
