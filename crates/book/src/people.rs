//! People of a book: who may say what, and how a signer shows who they are.

use crate::Error;
use argon2::password_hash::phc::PasswordHash;
use argon2::{Argon2, PasswordHasher, PasswordVerifier};
use serde::{Deserialize, Serialize};
use std::fmt;

/// What a person does in the overhaul.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Role {
    /// Records readings.
    Records,
    /// Fits: does the work.
    Fits,
    /// Releases hold points.
    Releases,
    /// The responsible engineer.
    Responsible,
}

impl Role {
    /// All of them.
    pub const ALL: [Role; 4] = [Role::Records, Role::Fits, Role::Releases, Role::Responsible];

    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Role::Records => "records",
            Role::Fits => "fits",
            Role::Releases => "releases",
            Role::Responsible => "responsible",
        }
    }

    /// From its word.
    ///
    /// # Errors
    /// No such role.
    pub fn parse(text: &str) -> Result<Role, Error> {
        Role::ALL.into_iter().find(|r| r.word() == text.trim()).ok_or_else(|| {
            Error::wrong(
                format!("\"{text}\" is not a role"),
                "records, fits, releases or responsible",
            )
        })
    }
}

impl fmt::Display for Role {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Role::Records => "records readings",
            Role::Fits => "fits",
            Role::Releases => "releases hold points",
            Role::Responsible => "responsible engineer",
        })
    }
}

/// A person as the book knows them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Person {
    /// Name.
    pub name: String,
    /// Roles.
    pub roles: Vec<Role>,
    /// Argon2id hash of the password, in PHC form; empty when none was set.
    pub password: String,
}

/// A password on its way in: never printed.
#[derive(Clone)]
pub struct Password(String);

impl Password {
    /// Shortest that is taken, characters (NIST SP 800-63B-4 asks at least 8 where it is not the
    /// only factor, from memory).
    pub const SHORTEST: usize = 8;

    /// A new password.
    ///
    /// # Errors
    /// Shorter than [`Password::SHORTEST`] characters or longer than 1024 bytes.
    pub fn new(text: &str) -> Result<Self, Error> {
        let length = text.chars().count();
        if length < Password::SHORTEST || text.len() > 1024 {
            return Err(Error::wrong(
                format!("a password of {length} characters is not taken"),
                format!("at least {} characters, at most 1024 bytes", Password::SHORTEST),
            ));
        }
        Ok(Password(text.to_owned()))
    }

    /// Its Argon2id hash (RFC 9106) in PHC form, salted afresh.
    ///
    /// # Errors
    /// The system gives no random bytes.
    pub fn hashed(&self) -> Result<String, Error> {
        let mut salt = [0u8; 16];
        getrandom::fill(&mut salt)
            .map_err(|e| Error::Unavailable(format!("no random bytes: {e}")))?;
        Argon2::default()
            .hash_password_with_salt(self.0.as_bytes(), &salt)
            .map(|h| h.to_string())
            .map_err(|e| Error::Unavailable(format!("the password could not be hashed: {e}")))
    }

    /// Whether it is the one that was hashed.
    pub fn matches(&self, hashed: &str) -> bool {
        PasswordHash::new(hashed)
            .is_ok_and(|hash| Argon2::default().verify_password(self.0.as_bytes(), &hash).is_ok())
    }
}

impl fmt::Debug for Password {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Password")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_password_is_argon2id_and_opens_only_with_itself() {
        let password = Password::new("correct horse").expect("long enough");
        let hashed = password.hashed().expect("random bytes");
        assert!(hashed.starts_with("$argon2id$"), "{hashed}");
        assert!(password.matches(&hashed));
        assert!(!Password::new("incorrect horse").expect("long enough").matches(&hashed));
        assert_ne!(password.hashed().expect("random bytes"), hashed, "salted afresh");
        assert!(!password.matches("") && !password.matches("$argon2id$nonsense"));
        assert!(Password::new("short").is_err());
        assert!(!format!("{password:?}").contains("horse"));
    }
}
