//! Numbers, hashes and texts one after another. Numbers are little-endian in groups of seven bits;
//! a text has its length before it; a name is written out once and by its number after that.

use crate::{Error, Hash};
use std::collections::HashMap;

#[derive(Default)]
pub(super) struct Writer {
    pub(super) bytes: Vec<u8>,
    names: HashMap<Box<str>, u64>,
}

impl Writer {
    pub(super) fn number(&mut self, mut number: u64) {
        while 0x7F < number {
            self.bytes.push(number as u8 | 0x80);
            number >>= 7;
        }
        self.bytes.push(number as u8);
    }

    pub(super) fn hash(&mut self, hash: Hash) {
        self.bytes.extend_from_slice(hash.bytes());
    }

    pub(super) fn text(&mut self, text: &str) {
        self.number(text.len() as u64);
        self.bytes.extend_from_slice(text.as_bytes());
    }

    pub(super) fn name(&mut self, name: &str) {
        if let Some(number) = self.names.get(name) {
            let number = *number;
            self.number(number);
            return;
        }
        self.names.insert(name.into(), self.names.len() as u64 + 1);
        self.number(0);
        self.text(name);
    }
}

pub(super) struct Reader<'a> {
    rest: &'a [u8],
    names: Vec<&'a str>,
}

pub(super) fn unreadable() -> Error {
    Error::Damaged("the checkpoint cannot be read".to_owned())
}

impl<'a> Reader<'a> {
    pub(super) fn new(bytes: &'a [u8]) -> Self {
        Reader { rest: bytes, names: Vec::new() }
    }

    pub(super) fn at_end(&self) -> bool {
        self.rest.is_empty()
    }

    pub(super) fn number(&mut self) -> Result<u64, Error> {
        let mut number = 0u64;
        for shift in (0..64).step_by(7) {
            let (byte, rest) = self.rest.split_first().ok_or_else(unreadable)?;
            self.rest = rest;
            number |= u64::from(byte & 0x7F) << shift;
            if byte & 0x80 == 0 {
                return Ok(number);
            }
        }
        Err(unreadable())
    }

    fn take(&mut self, count: usize) -> Result<&'a [u8], Error> {
        let (taken, rest) = self.rest.split_at_checked(count).ok_or_else(unreadable)?;
        self.rest = rest;
        Ok(taken)
    }

    pub(super) fn hash(&mut self) -> Result<Hash, Error> {
        Hash::from_bytes(self.take(32)?)
    }

    pub(super) fn text(&mut self) -> Result<&'a str, Error> {
        let count = usize::try_from(self.number()?).map_err(|_| unreadable())?;
        std::str::from_utf8(self.take(count)?).map_err(|_| unreadable())
    }

    pub(super) fn name(&mut self) -> Result<&'a str, Error> {
        self.name_and_place().map(|(name, _)| name)
    }

    /// A name, and its place among those of this reader.
    pub(super) fn name_and_place(&mut self) -> Result<(&'a str, usize), Error> {
        match self.number()? {
            0 => {
                let name = self.text()?;
                self.names.push(name);
                Ok((name, self.names.len() - 1))
            }
            number => usize::try_from(number - 1)
                .ok()
                .and_then(|at| self.names.get(at).map(|name| (*name, at)))
                .ok_or_else(unreadable),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_is_read() {
        let numbers = [0, 1, 127, 128, 16_383, 16_384, u64::from(u32::MAX), u64::MAX];
        let mut writer = Writer::default();
        for number in numbers {
            writer.number(number);
        }
        for name in ["a", "b", "a", "", "b", ""] {
            writer.name(name);
        }
        writer.text("½ in");
        writer.hash(Hash::of(b"x"));
        let mut reader = Reader::new(&writer.bytes);
        for number in numbers {
            assert_eq!(reader.number(), Ok(number));
        }
        for name in ["a", "b", "a", "", "b", ""] {
            assert_eq!(reader.name(), Ok(name));
        }
        assert_eq!(reader.text(), Ok("½ in"));
        assert_eq!(reader.hash(), Ok(Hash::of(b"x")));
        assert!(reader.at_end());
        assert!(reader.number().is_err() && reader.text().is_err() && reader.name().is_err());
        for bad in [&[0x80; 12][..], &[5, b'a'], &[1, 0xFF]] {
            let mut reader = Reader::new(bad);
            assert!(reader.text().is_err(), "{bad:?}");
        }
    }
}
