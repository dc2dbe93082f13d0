//! SHA-256 (FIPS 180-4), chosen because anyone has a tool for it.

use crate::Error;
use sha2::{Digest, Sha256};
use std::fmt;

/// A SHA-256.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Hash([u8; 32]);

impl std::hash::Hash for Hash {
    /// Its first eight bytes: they are as good as random, whoever chose what was hashed.
    fn hash<H: std::hash::Hasher>(&self, state: &mut H) {
        let [a, b, c, d, e, f, g, h, ..] = self.0;
        state.write_u64(u64::from_ne_bytes([a, b, c, d, e, f, g, h]));
    }
}

const NOT_A_DIGIT: u8 = 0x80;
/// The value of a hexadecimal digit.
const DIGIT: [u8; 256] = {
    let mut table = [NOT_A_DIGIT; 256];
    let mut n = 0;
    while n < 16 {
        let digit = b"0123456789abcdef"[n];
        table[digit as usize] = n as u8;
        table[digit.to_ascii_uppercase() as usize] = n as u8;
        n += 1;
    }
    table
};

impl Hash {
    /// The hash before the first entry: all zeros.
    pub const NONE: Hash = Hash([0; 32]);

    /// Of these bytes.
    pub fn of(bytes: &[u8]) -> Self {
        Hash(Sha256::digest(bytes).into())
    }

    /// From the 32 bytes themselves.
    ///
    /// # Errors
    /// Another number of bytes.
    pub fn from_bytes(bytes: &[u8]) -> Result<Self, Error> {
        bytes
            .try_into()
            .map(Hash)
            .map_err(|_| Error::Damaged(format!("a hash has 32 bytes, not {}", bytes.len())))
    }

    /// From 64 hexadecimal digits.
    ///
    /// # Errors
    /// Anything else.
    pub fn parse(text: &str) -> Result<Self, Error> {
        let wrong =
            || Error::wrong(format!("\"{text}\" is not a SHA-256"), "it has 64 digits 0-9 and a-f");
        let digits = text.as_bytes();
        if digits.len() != 64 {
            return Err(wrong());
        }
        let mut out = [0; 32];
        let mut not_digits = 0u8;
        for (byte, pair) in out.iter_mut().zip(digits.chunks_exact(2)) {
            let (high, low) = (DIGIT[usize::from(pair[0])], DIGIT[usize::from(pair[1])]);
            not_digits |= (high | low) & NOT_A_DIGIT;
            *byte = high << 4 | low & 15;
        }
        if not_digits == 0 { Ok(Hash(out)) } else { Err(wrong()) }
    }

    /// The 32 bytes.
    pub fn bytes(&self) -> &[u8; 32] {
        &self.0
    }
}

impl fmt::Display for Hash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        const DIGITS: &[u8; 16] = b"0123456789abcdef";
        let mut text = [0u8; 64];
        for (pair, byte) in text.chunks_exact_mut(2).zip(self.0) {
            pair[0] = DIGITS[usize::from(byte >> 4)];
            pair[1] = DIGITS[usize::from(byte & 15)];
        }
        f.write_str(std::str::from_utf8(&text).unwrap_or(""))
    }
}

impl fmt::Debug for Hash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST's example values for SHA-256 ("abc" and the empty message, FIPS 180-4 examples).
    #[test]
    fn published_examples() {
        assert_eq!(
            Hash::of(b"abc").to_string(),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
        assert_eq!(
            Hash::of(b"").to_string(),
            "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"
        );
    }

    #[test]
    fn text_and_back() {
        let hash = Hash::of(b"x");
        assert_eq!(Hash::parse(&hash.to_string()), Ok(hash));
        for bad in ["", "0", "zz", &"g".repeat(64), &"é".repeat(32)] {
            assert!(Hash::parse(bad).is_err(), "{bad}");
        }
        assert!(Hash::from_bytes(&[0; 31]).is_err());
    }
}
