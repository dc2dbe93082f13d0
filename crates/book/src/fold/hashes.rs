//! Numbers of entries by their hashes, small: a book may have a million.

use crate::Hash;
use std::collections::HashMap;

/// Hashes in the order they came, found by their first eight bytes. These are as good as random, so
/// two that begin alike are made on purpose if at all; then the list is gone through.
#[derive(Clone, Debug, Default)]
pub(super) struct Hashes {
    list: Vec<(Hash, u64)>,
    /// Places in the list, of the last hash that begins so.
    places: HashMap<u64, u32, ByItself>,
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
        self.places.reserve(more);
    }

    pub(super) fn put(&mut self, hash: Hash, number: u64) {
        // 2^32 hashes would fill the memory long before.
        self.places.insert(begins(&hash), self.list.len() as u32);
        self.list.push((hash, number));
    }

    /// The number last put under this hash.
    pub(super) fn number(&self, hash: &Hash) -> Option<u64> {
        let at = *self.places.get(&begins(hash))?;
        match self.list.get(at as usize) {
            Some((known, number)) if known == hash => Some(*number),
            _ => self.list.iter().rev().find(|(known, _)| known == hash).map(|(_, n)| *n),
        }
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
        hashes.put(alike(2), 9);
        for (n, wanted) in [(0, 1), (1, 2), (2, 9), (3, 4)] {
            assert_eq!(hashes.number(&alike(n)), Some(wanted));
        }
        assert_eq!(hashes.number(&alike(7)), None);
        assert_eq!(hashes.number(&Hash::of(b"y")), None);
    }
}
