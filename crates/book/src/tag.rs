//! Tag codes: short, said over the phone without a slip, with a check character.
//!
//! Thirty-two characters (digits and capitals without I, L, O and U, which are misread for 1, 1, 0
//! and V). The check character is the Luhn mod N sum over that alphabet as in ISO/IEC 7812-1
//! annex B for N = 10, generalised to N = 32: it catches every single wrong character and every
//! swap of two neighbours except the pair of the first and the last of the alphabet (0 and Z).

use crate::Error;
use std::fmt;

pub(crate) const ALPHABET: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";
/// Characters before the check character.
const SHORTEST: usize = 3;
const LONGEST: usize = 11;

/// A tag code, checked.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Tag(String);

impl Tag {
    /// The code for a running number: `0` gives `000` and its check character.
    pub fn numbered(number: u64) -> Self {
        let mut left = number;
        let mut digits = Vec::new();
        while left > 0 || digits.len() < SHORTEST {
            digits.push((left % 32) as u8);
            left /= 32;
        }
        digits.reverse();
        digits.push(check_of(&digits));
        Tag(digits.iter().map(|d| char::from(ALPHABET[usize::from(*d)])).collect())
    }

    /// Reads a code as a person writes it: small letters, spaces and hyphens are taken, and I, L
    /// and O are read as 1, 1 and 0.
    ///
    /// # Errors
    /// A character that no code has, too short or too long, or a check character that does not
    /// agree.
    pub fn parse(text: &str) -> Result<Self, Error> {
        let mut digits = Vec::new();
        for c in text.chars().filter(|c| !matches!(c, ' ' | '-')) {
            let Some(digit) = digit_of(c) else {
                return Err(Error::wrong(
                    format!("\"{text}\" is not a tag: no tag has \"{}\"", c.to_ascii_uppercase()),
                    "tags have digits and capitals without I, L, O and U",
                ));
            };
            digits.push(digit as u8);
        }
        if !(SHORTEST + 1..=LONGEST + 1).contains(&digits.len()) {
            return Err(Error::wrong(
                format!("\"{text}\" is not a tag: it has {} characters", digits.len()),
                format!("tags have {} to {}", SHORTEST + 1, LONGEST + 1),
            ));
        }
        let Some((check, body)) = digits.split_last() else { return Self::parse("") };
        if check_of(body) != *check {
            return Err(Error::wrong(
                format!("\"{text}\" is not a tag: its check character does not agree"),
                "read it again from the tag; one character is wrong or two are swapped",
            ));
        }
        Ok(Tag(digits.iter().map(|d| char::from(ALPHABET[usize::from(*d)])).collect()))
    }

    /// The code.
    pub fn code(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Tag {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// The place of a character in the alphabet, as people write it: small letters too, and I, L and O
/// for 1, 1 and 0.
pub(crate) fn digit_of(c: char) -> Option<usize> {
    let c = match c.to_ascii_uppercase() {
        'I' | 'L' => '1',
        'O' => '0',
        c => c,
    };
    ALPHABET.iter().position(|a| char::from(*a) == c)
}

/// Luhn mod 32: every second character from the right is doubled, and a sum above 31 is folded
/// (quotient plus remainder), so that swapping neighbours changes the sum.
fn check_of(digits: &[u8]) -> u8 {
    let mut sum = 0u32;
    for (place, digit) in digits.iter().rev().enumerate() {
        let weighted = u32::from(*digit) * if place % 2 == 0 { 2 } else { 1 };
        sum += weighted / 32 + weighted % 32;
    }
    ((32 - sum % 32) % 32) as u8
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_single_slip_is_caught() {
        for number in (0..40_000).step_by(97) {
            let tag = Tag::numbered(number);
            assert_eq!(Tag::parse(tag.code()).as_ref(), Ok(&tag));
            for place in 0..tag.code().len() {
                for other in ALPHABET {
                    let mut text = tag.code().as_bytes().to_vec();
                    if text[place] == *other {
                        continue;
                    }
                    text[place] = *other;
                    let text = String::from_utf8(text).expect("ASCII");
                    assert!(Tag::parse(&text).is_err(), "{tag} read as {text}");
                }
            }
        }
    }

    #[test]
    fn every_swap_but_first_with_last_is_caught() {
        for number in 0..40_000 {
            let tag = Tag::numbered(number);
            for place in 1..tag.code().len() {
                let mut text = tag.code().as_bytes().to_vec();
                let pair = [text[place - 1], text[place]];
                if pair[0] == pair[1] || pair == *b"0Z" || pair == *b"Z0" {
                    continue;
                }
                text.swap(place - 1, place);
                let text = String::from_utf8(text).expect("ASCII");
                assert!(Tag::parse(&text).is_err(), "{tag} read as {text}");
            }
        }
    }

    #[test]
    fn codes_are_read_as_people_write_them() {
        let tag = Tag::numbered(33);
        assert_eq!(tag.code().len(), 4);
        let spoken = tag.code().to_lowercase().replace('1', "l").replace('0', "o");
        assert_eq!(Tag::parse(&format!(" {}-{} ", &spoken[..2], &spoken[2..])), Ok(tag));
        for bad in ["", "0", "UUUU", "0000000000000000", "+++"] {
            assert!(Tag::parse(bad).is_err(), "{bad}");
        }
    }
}
