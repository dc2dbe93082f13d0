//! Tokens of devices: a phone shows one instead of a password. The book keeps the SHA-256 alone; a
//! token is random and long enough that no salt and no slow hash is needed.

use crate::tag::{ALPHABET, digit_of};
use crate::{Error, Hash};
use std::fmt;

/// Characters of a token: 32 of 5 bits each.
const LENGTH: usize = 32;

/// A token, 160 random bits. Printed by nothing but [`Token::text`].
#[derive(Clone, PartialEq, Eq)]
pub struct Token(String);

impl Token {
    /// A new one.
    ///
    /// # Errors
    /// The system gives no random bytes.
    pub fn new() -> Result<Token, Error> {
        let mut bytes = [0u8; LENGTH];
        getrandom::fill(&mut bytes)
            .map_err(|e| Error::Unavailable(format!("no random bytes: {e}")))?;
        Ok(Token(bytes.iter().map(|b| char::from(ALPHABET[usize::from(b % 32)])).collect()))
    }

    /// Reads a token as a person types it: small letters, spaces and hyphens are taken, and I, L
    /// and O are read as 1, 1 and 0.
    ///
    /// # Errors
    /// Not 32 characters, or one that no token has. The text does not repeat what was typed.
    pub fn parse(text: &str) -> Result<Token, Error> {
        let wrong = || {
            Error::wrong(
                "this is not the token of a device",
                "it has 32 digits and capitals, in groups of four",
            )
        };
        if 4 * LENGTH < text.len() {
            return Err(wrong());
        }
        let mut code = String::new();
        for c in text.trim().chars().filter(|c| !matches!(c, ' ' | '-')) {
            code.push(char::from(ALPHABET[digit_of(c).ok_or_else(wrong)?]));
        }
        if code.len() == LENGTH { Ok(Token(code)) } else { Err(wrong()) }
    }

    /// The token, in groups of four, to be given to the device and kept nowhere else.
    pub fn text(&self) -> String {
        let groups: Vec<&str> =
            (0..LENGTH / 4).filter_map(|n| self.0.get(4 * n..4 * n + 4)).collect();
        groups.join("-")
    }

    /// What the book keeps of it: SHA-256 of its 32 characters.
    pub fn hash(&self) -> Hash {
        Hash::of(self.0.as_bytes())
    }
}

impl fmt::Debug for Token {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Token")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_token_is_read_as_people_type_it() {
        let token = Token::new().expect("random bytes");
        assert_ne!(token, Token::new().expect("random bytes"));
        let text = token.text();
        assert_eq!(text.len(), 32 + 7);
        let typed = text.to_lowercase().replace('-', " ").replace('1', "l").replace('0', "o");
        let read = Token::parse(&format!(" {typed}\n")).expect("reads");
        assert_eq!((read.hash(), &read), (token.hash(), &token));
        assert!(!format!("{token:?}").contains(&text[..4]));
        for bad in
            ["", "x", &text[..38], &format!("{text}0"), &"U".repeat(32), &"\u{e9}".repeat(16)]
        {
            assert!(Token::parse(bad).is_err(), "{bad}");
        }
        assert!(Token::parse(&"0".repeat(10_000_000)).is_err());
    }
}
