//! Numbers of entries by their hashes, small: a book may have a million.

use crate::Hash;
use std::collections::HashMap;

/// Hashes in the order they came, found by their first eight bytes. These are as good as random, so
/// two that begin alike are made on purpose if at all; then the list is gone through. So it is for
/// those that came since the list was last ordered: a book is seldom asked for a hash, except by its
/// strike-outs.
#[derive(Clone, Debug, Default)]
pub(super) struct Hashes {
    list: Vec<(Hash, u64)>,
    /// Places in the list, of the last hash that begins so.
    places: HashMap<u64, u32, ByItself>,
    /// So many of the list are in `places`.
    ordered: usize,
}

/// The same hashes with the same numbers.
impl PartialEq for Hashes {
    fn eq(&self, other: &Self) -> bool {
        self.list == other.list
    }
}

impl Hashes {
    pub(super) fn reserve(&mut self, more: usize) {
        self.list.reserve(more);
    }

    pub(super) fn put(&mut self, hash: Hash, number: u64) {
        self.list.push((hash, number));
    }

    /// Makes those that came since quick to find.
    pub(super) fn order(&mut self) {
        let news = &self.list[self.ordered..];
        self.places.reserve(news.len());
        // 2^32 hashes would fill the memory long before.
        let places = (self.ordered as u32..).zip(news);
        self.places.extend(places.map(|(at, (hash, _))| (begins(hash), at)));
        self.ordered = self.list.len();
    }

    /// The number last put under this hash.
    pub(super) fn number(&self, hash: &Hash) -> Option<u64> {
        let last_of = |list: &[(Hash, u64)]| {
            list.iter().rev().find(|(known, _)| known == hash).map(|(_, number)| *number)
        };
        let (ordered, news) = self.list.split_at(self.ordered);
        last_of(news).or_else(|| {
            let at = *self.places.get(&begins(hash))?;
            match ordered.get(at as usize) {
                Some((known, number)) if known == hash => Some(*number),
                _ => last_of(ordered),
            }
        })
    }
}

fn begins(hash: &Hash) -> u64 {
    let [a, b, c, d, e, f, g, h, ..] = *hash.bytes();
    u64::from_le_bytes([a, b, c, d, e, f, g, h])
}

/// Places numbers in a table by themselves.
#[derive(Clone, Copy, Debug, Default)]
struct ByItself(u64);

impl std::hash::BuildHasher for ByItself {
    type Hasher = ByItself;

    fn build_hasher(&self) -> ByItself {
        ByItself(0)
    }
}

impl std::hash::Hasher for ByItself {
    fn write_u64(&mut self, number: u64) {
        self.0 ^= number;
    }

    fn write(&mut self, bytes: &[u8]) {
        for byte in bytes {
            self.0 = self.0.rotate_left(8) ^ u64::from(*byte);
        }
    }

    fn finish(&self) -> u64 {
        self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hashes_that_begin_alike_are_told_apart() {
        let mut hashes = Hashes::default();
        let alike = |last: u8| {
            let mut bytes = *Hash::of(b"x").bytes();
            bytes[31] = last;
            Hash::from_bytes(&bytes).expect("32 bytes")
        };
        for n in 0..4 {
            hashes.put(alike(n), u64::from(n) + 1);
        }
        for ordered in [false, true] {
            if ordered {
                hashes.order();
            }
            hashes.put(alike(2), 9);
            for (n, wanted) in [(0, 1), (1, 2), (2, 9), (3, 4)] {
                assert_eq!(hashes.number(&alike(n)), Some(wanted));
            }
            assert_eq!(hashes.number(&alike(7)), None);
            assert_eq!(hashes.number(&Hash::of(b"y")), None);
        }
    }
}
