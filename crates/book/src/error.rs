//! What can go wrong with a book.

use thiserror::Error;

/// Why something was not done.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[non_exhaustive]
pub enum Error {
    /// What was asked for is not there.
    #[error("{0}")]
    Missing(String),
    /// What was said cannot be, as it was said: what, and the mend.
    #[error("{what}")]
    Wrong {
        /// What is wrong, with the value.
        what: String,
        /// What to do about it.
        mend: String,
    },
    /// The rules of the book do not let this person say this.
    #[error("{what}")]
    NotAllowed {
        /// What is not allowed.
        what: String,
        /// Who could, or what must come first.
        mend: String,
    },
    /// The stored bytes are not what was written.
    #[error("{0}")]
    Damaged(String),
    /// Written by a newer version of the program.
    #[error(
        "this book is of form {found}, and this program reads forms up to {known}; open it with a newer program, nothing was changed"
    )]
    Newer {
        /// Form of the book.
        found: u32,
        /// Newest form known here.
        known: u32,
    },
    /// No room left to write. Nothing of the entry was kept.
    #[error("there is no room left to write the entry: {0}; nothing of it was kept")]
    Full(String),
    /// The book can be read only.
    #[error("the book can be read but not written: {0}")]
    ReadOnly(String),
    /// The database or the disk does not answer.
    #[error("the book cannot be reached: {0}")]
    Unavailable(String),
}

/// Coarse kind, for branching.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// The person or the command is at fault.
    Asked,
    /// The stored bytes are at fault.
    Damaged,
    /// The surroundings are at fault; trying again later may help.
    Surroundings,
}

impl Error {
    /// Coarse kind.
    pub fn kind(&self) -> Kind {
        match self {
            Error::Missing(_)
            | Error::Wrong { .. }
            | Error::NotAllowed { .. }
            | Error::Newer { .. } => Kind::Asked,
            Error::Damaged(_) => Kind::Damaged,
            Error::Full(_) | Error::ReadOnly(_) | Error::Unavailable(_) => Kind::Surroundings,
        }
    }

    /// The mend, empty when there is none better than the statement.
    pub fn mend(&self) -> &str {
        match self {
            Error::Wrong { mend, .. } | Error::NotAllowed { mend, .. } => mend,
            Error::Full(_) => "make room on the disk and say it again",
            Error::ReadOnly(_) => "check the rights to the file and its folder",
            Error::Damaged(_) => {
                "take the last backup; `pinchbar book verify` says where it is damaged, `pinchbar book salvage` gets out what is whole"
            }
            _ => "",
        }
    }

    pub(crate) fn wrong(what: impl Into<String>, mend: impl Into<String>) -> Self {
        Error::Wrong { what: what.into(), mend: mend.into() }
    }

    pub(crate) fn not_allowed(what: impl Into<String>, mend: impl Into<String>) -> Self {
        Error::NotAllowed { what: what.into(), mend: mend.into() }
    }
}
