//! Slows down whoever guesses passwords: by person and by address.

use crate::state::held;
use std::collections::HashMap;
use std::sync::Mutex;

/// Slips that cost nothing.
const FREE: u32 = 5;
/// A slip is forgotten after so long without another.
const FORGOTTEN_S: i64 = 3600;
/// Longest wait.
const LONGEST_S: i64 = 900;
/// Names and addresses kept in mind.
const MOST: usize = 10_000;

#[derive(Clone, Copy, Debug)]
struct Slips {
    count: u32,
    last_s: i64,
}

impl Slips {
    /// When the next try is taken.
    fn open_s(self) -> i64 {
        match self.count.checked_sub(FREE) {
            None | Some(0) => self.last_s,
            // 2, 4, 8 ... seconds.
            Some(over) => self.last_s + (1i64 << over.min(20)).min(LONGEST_S),
        }
    }
}

/// Slips by whoever made them.
#[derive(Debug, Default)]
pub(crate) struct Throttle(Mutex<HashMap<String, Slips>>);

impl Throttle {
    /// Seconds to wait before any of these may try again; nothing when they may now.
    pub(crate) fn wait(&self, who: &[String], now_s: i64) -> Option<u64> {
        let table = held(&self.0);
        let open = who.iter().filter_map(|w| table.get(w)).map(|s| s.open_s()).max()?;
        u64::try_from(open - now_s).ok().filter(|wait| 0 < *wait)
    }

    /// They slipped.
    pub(crate) fn slipped(&self, who: &[String], now_s: i64) {
        let mut table = held(&self.0);
        table.retain(|_, s| now_s - s.last_s < FORGOTTEN_S);
        for w in who {
            if MOST <= table.len()
                && let Some(oldest) =
                    table.iter().min_by_key(|(_, s)| s.last_s).map(|(k, _)| k.clone())
            {
                table.remove(&oldest);
            }
            let slips = table.entry(w.clone()).or_insert(Slips { count: 0, last_s: now_s });
            slips.count += 1;
            slips.last_s = now_s;
        }
    }

    /// They did not: forget.
    pub(crate) fn right(&self, who: &[String]) {
        let mut table = held(&self.0);
        who.iter().for_each(|w| {
            table.remove(w);
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn waits_grow_and_are_forgotten() {
        let (throttle, who) = (Throttle::default(), ["A".to_owned()]);
        for n in 0..FREE {
            assert_eq!(throttle.wait(&who, 0), None, "slip {n} is free");
            throttle.slipped(&who, 0);
        }
        throttle.slipped(&who, 0);
        assert_eq!(throttle.wait(&who, 0), Some(2));
        throttle.slipped(&who, 2);
        assert_eq!(throttle.wait(&who, 2), Some(4));
        assert_eq!(throttle.wait(&["B".to_owned()], 2), None, "others are not held up");
        for _ in 0..100 {
            throttle.slipped(&who, 10);
        }
        assert_eq!(throttle.wait(&who, 10), Some(LONGEST_S as u64));
        throttle.slipped(&["B".to_owned()], 10 + FORGOTTEN_S);
        assert_eq!(throttle.wait(&who, 10 + FORGOTTEN_S), None);
        throttle.right(&["B".to_owned()]);
    }
}
