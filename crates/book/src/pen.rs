//! Who writes, on what, and when, and how they show that it is they.

use crate::{Book, Error, Hash, Password, Token};
use engine::model::Date;

/// Who writes, on what, and when.
#[derive(Clone, Debug)]
pub struct Pen {
    author: String,
    device: String,
    time: String,
    shown: Shown,
}

/// How a pen has shown whose it is.
#[derive(Clone, Debug)]
pub(crate) enum Shown {
    /// Not at all.
    Nothing,
    /// By a password: the hash that it matched.
    Password(String),
    /// By the token of a device: its hash, and the day on which it was shown.
    Token { hash: Hash, on: Date },
}

impl Pen {
    /// A pen.
    ///
    /// # Errors
    /// No author or device, or `time` is not an RFC 3339 instant.
    pub fn new(author: &str, device: &str, time: &str) -> Result<Self, Error> {
        for (what, text) in [("who writes", author), ("the device", device)] {
            if text.trim().is_empty() || 200 < text.len() || text.chars().any(char::is_control) {
                return Err(Error::wrong(
                    format!("{what} cannot be \"{}\"", text.chars().take(40).collect::<String>()),
                    "a name of one line, at most 200 bytes",
                ));
            }
        }
        time.parse::<jiff::Timestamp>().map_err(|_| {
            Error::wrong(
                format!("\"{time}\" is not a time"),
                "as in RFC 3339: 2026-11-20T08:30:00Z",
            )
        })?;
        Ok(Pen {
            author: author.trim().to_owned(),
            device: device.trim().to_owned(),
            time: time.to_owned(),
            shown: Shown::Nothing,
        })
    }

    /// Who writes.
    pub fn author(&self) -> &str {
        &self.author
    }

    /// On what.
    pub fn device(&self) -> &str {
        &self.device
    }

    /// When.
    pub fn time(&self) -> &str {
        &self.time
    }

    /// The same pen at another time.
    ///
    /// # Errors
    /// Not an RFC 3339 instant.
    pub fn at(&self, time: &str) -> Result<Self, Error> {
        let mut pen = Pen::new(&self.author, &self.device, time)?;
        pen.shown.clone_from(&self.shown);
        Ok(pen)
    }

    /// A pen of a device that the responsible engineer gave a token: it writes as the device's
    /// person. It counts as having shown the password for all but signatures and what changes who
    /// may write. `now` is the time here and now, by which the token is in date; for what was said
    /// at another time see [`Pen::at`].
    ///
    /// # Errors
    /// No device has this token, it was withdrawn or has run out; `now` is not an RFC 3339 instant.
    pub fn by_token(book: &Book, token: &Token, now: &str) -> Result<Self, Error> {
        let hash = token.hash();
        let device = book.fold().device_by_hash(&hash).ok_or_else(|| {
            Error::not_allowed(
                "no device of this book has this token",
                "the responsible engineer gives one",
            )
        })?;
        let mut pen = Pen::new(&device.person, &device.name, now)?;
        let on = utc_day(now)?;
        device.stands_on(on)?;
        pen.shown = Shown::Token { hash, on };
        Ok(pen)
    }

    /// Shows the password. Takes a tenth of a second or more, as it should.
    ///
    /// # Errors
    /// Not a person of the book, or another password.
    pub fn show(&mut self, book: &Book, password: &Password) -> Result<(), Error> {
        let person = book.fold().person(&self.author).ok_or_else(|| {
            Error::not_allowed(
                format!("\"{}\" is not one of the people of this book", self.author),
                "",
            )
        })?;
        if person.password.is_empty() {
            return Ok(());
        }
        if !password.matches(&person.password) {
            return Err(Error::not_allowed(
                format!("that is not the password of {}", self.author),
                "",
            ));
        }
        self.shown = Shown::Password(person.password.clone());
        Ok(())
    }

    pub(crate) fn shown(&self) -> &Shown {
        &self.shown
    }
}

/// The day of an instant, UTC.
fn utc_day(time: &str) -> Result<Date, Error> {
    let instant = time.parse::<jiff::Timestamp>().map_err(|e| Error::wrong(e.to_string(), ""))?;
    let utc = instant.to_string();
    Date::parse(utc.get(..10).unwrap_or("")).map_err(|e| Error::wrong(e, ""))
}
