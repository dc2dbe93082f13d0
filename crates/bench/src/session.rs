//! Who is signed in.
//!
//! The browser holds 32 random bytes in a cookie; here stands only their SHA-256, so that whoever
//! sees this table cannot use it. The token that forms carry against forged requests is made of
//! the same cookie and a secret of this run, so that a visitor who has not signed in has one too
//! without taking any room here.

use crate::state::held;
use book::Pen;
use sha2::{Digest, Sha256};
use std::collections::HashMap;
use std::sync::Mutex;
use subtle::ConstantTimeEq;

/// Signed out after so long without a request: a shift and its dinner.
const IDLE_S: i64 = 12 * 3600;
/// Signed out in any case after so long.
const LONGEST_S: i64 = 14 * 24 * 3600;
/// Sessions kept; the one longest unused gives way.
const MOST: usize = 2000;

/// A signed-in person.
#[derive(Clone, Debug)]
pub(crate) struct Session {
    /// The pen, with the password shown if there is one.
    pub(crate) pen: Pen,
    /// The password's hash at signing in: when it changes, the session ends.
    pub(crate) hashed: String,
    began_s: i64,
    used_s: i64,
}

impl Session {
    /// Name.
    pub(crate) fn name(&self) -> &str {
        self.pen.author()
    }
}

type Key = [u8; 32];

/// All of them.
#[derive(Debug)]
pub(crate) struct Sessions {
    secret: Key,
    table: Mutex<HashMap<Key, Session>>,
}

fn random() -> Result<Key, String> {
    let mut bytes = Key::default();
    getrandom::fill(&mut bytes).map_err(|e| format!("no random bytes: {e}"))?;
    Ok(bytes)
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|b| format!("{b:02x}")).collect()
}

/// Whether a cookie has the form of ours; what has not is as none.
fn well_formed(cookie: &str) -> bool {
    cookie.len() == 64 && cookie.bytes().all(|b| b.is_ascii_digit() || (b'a'..=b'f').contains(&b))
}

impl Sessions {
    pub(crate) fn new() -> Result<Sessions, String> {
        Ok(Sessions { secret: random()?, table: Mutex::default() })
    }

    /// A cookie for a visitor.
    pub(crate) fn cookie(&self) -> Result<String, String> {
        random().map(|bytes| hex(&bytes))
    }

    /// The token that goes with a cookie. Both inputs have one length, so that the hash of the one
    /// laid after the other cannot be had without the secret.
    pub(crate) fn token(&self, cookie: &str) -> String {
        if !well_formed(cookie) {
            return String::new();
        }
        let mut hash = Sha256::new();
        hash.update(self.secret);
        hash.update(cookie.as_bytes());
        hex(&hash.finalize())
    }

    /// Whether a form's token belongs to the cookie; takes the same time whatever is wrong.
    pub(crate) fn belongs(&self, cookie: &str, token: &str) -> bool {
        let wanted = self.token(cookie);
        !wanted.is_empty() && bool::from(wanted.as_bytes().ct_eq(token.as_bytes()))
    }

    /// Signs in; gives the new cookie.
    pub(crate) fn begin(&self, pen: Pen, hashed: String, now_s: i64) -> Result<String, String> {
        let cookie = self.cookie()?;
        let mut table = held(&self.table);
        table.retain(|_, s| live(s, now_s));
        if MOST <= table.len()
            && let Some(oldest) = table.iter().min_by_key(|(_, s)| s.used_s).map(|(k, _)| *k)
        {
            table.remove(&oldest);
        }
        let session = Session { pen, hashed, began_s: now_s, used_s: now_s };
        table.insert(key(&cookie), session);
        Ok(cookie)
    }

    /// Who this is.
    pub(crate) fn find(&self, cookie: &str, now_s: i64) -> Option<Session> {
        if !well_formed(cookie) {
            return None;
        }
        let mut table = held(&self.table);
        let session = table.get_mut(&key(cookie))?;
        if !live(session, now_s) {
            table.remove(&key(cookie));
            return None;
        }
        session.used_s = now_s;
        Some(session.clone())
    }

    /// Signs out.
    pub(crate) fn end(&self, cookie: &str) {
        held(&self.table).remove(&key(cookie));
    }
}

fn key(cookie: &str) -> Key {
    Sha256::digest(cookie.as_bytes()).into()
}

fn live(session: &Session, now_s: i64) -> bool {
    now_s - session.used_s < IDLE_S && now_s - session.began_s < LONGEST_S
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_session_ends_and_a_token_belongs_to_its_cookie_alone() {
        let sessions = Sessions::new().expect("random bytes");
        let pen = Pen::new("A", "vice", "2026-11-20T08:00:00Z").expect("a pen");
        let cookie = sessions.begin(pen.clone(), String::new(), 0).expect("random bytes");
        assert_eq!(sessions.find(&cookie, 10).expect("signed in").name(), "A");
        assert!(sessions.find("", 10).is_none() && sessions.find(&"0".repeat(64), 10).is_none());
        let token = sessions.token(&cookie);
        assert!(sessions.belongs(&cookie, &token));
        let other = sessions.cookie().expect("random bytes");
        assert!(!sessions.belongs(&other, &token) && !sessions.belongs(&cookie, ""));
        assert!(!sessions.belongs("", "") && !sessions.belongs("x", &sessions.token("x")));
        assert!(sessions.find(&cookie, 10 + IDLE_S).is_none(), "unused for too long");
        let cookie = sessions.begin(pen, String::new(), 0).expect("random bytes");
        sessions.end(&cookie);
        assert!(sessions.find(&cookie, 1).is_none());
    }
}
