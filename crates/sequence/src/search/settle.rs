//! What a plan says about the list that gives it: keys, stations, and where people stand idle.

use super::decode::Genes;
use super::improve::Climb;

impl Climb<'_> {
    /// Keys from the starts on the board, stations as hints; the works by start.
    pub(super) fn settle(&mut self, genes: &mut Genes) -> Vec<u32> {
        let board = &self.decoder.board;
        let mut order: Vec<u32> = board.order.clone();
        order.sort_by_key(|w| board.start[*w as usize]);
        for (i, w) in order.iter().enumerate() {
            genes.key[*w as usize] = (i as u64 + 1) << 20;
        }
        for stay in &board.stays {
            let inside = |w: &u32| {
                let (s, e) = (board.start[*w as usize] as usize, board.end[*w as usize] as usize);
                s >= stay.from && e <= stay.to
            };
            let first = order.partition_point(|w| (board.start[*w as usize] as usize) < stay.from);
            for w in
                order[first..].iter().take_while(|w| (board.start[**w as usize] as usize) < stay.to)
            {
                let mask = self.net.ways[*w as usize][genes.way[*w as usize] as usize].mask;
                if inside(w) && mask != u64::MAX {
                    genes.hint[*w as usize] = stay.station as u8 + 1;
                }
            }
        }
        genes.early.fill(0);
        for pair in board.stays.windows(2) {
            let stay = pair[1];
            let place =
                |t: usize| order.partition_point(|w| (board.start[*w as usize] as usize) < t);
            let needs =
                |w: &&u32| self.net.ways[**w as usize][genes.way[**w as usize] as usize].windowed();
            let first = order[place(stay.from)..].iter().find(needs);
            let slack = first.is_some_and(|w| board.start[*w as usize] as usize > stay.from);
            if let Some(holder) = order.get(place(pair[0].to)).filter(|_| slack) {
                genes.early[*holder as usize] = stay.station as u8 + 1;
            }
        }
        self.idle.clear();
        let mut free = 0;
        for (t, now) in board.free[..board.last.min(self.net.horizon)].iter().enumerate() {
            if *now > free {
                self.idle.push(order.partition_point(|w| (board.start[*w as usize] as usize) < t));
            }
            free = *now;
        }
        order
    }
}
