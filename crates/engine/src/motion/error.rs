//! Why a question about the motion has no answer yet.

use super::error_words::{balance_words, load_words, motion_words};
use mechanics::balance::BalanceError;
use mechanics::loads::LoadError;
use mechanics::motion::BoundError;
use mechanics::motion::MotionError;
use std::fmt;

/// Something that is not described, and where to write it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Missing {
    /// What is missing.
    pub what: String,
    /// Where to write it.
    pub write: String,
}

impl fmt::Display for Missing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.what, self.write)
    }
}

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum NoAnswer {
    /// Things that are not described, all of them.
    #[error("this is not described yet:{}", list(.0))]
    Missing(Vec<Missing>),
    /// The words of the question.
    #[error("{what}; {mend}")]
    Words {
        /// What is wrong.
        what: String,
        /// What may stand there.
        mend: String,
    },
    /// The motion has no answer.
    #[error("{}", motion_words(.0))]
    Motion(#[from] MotionError),
    /// The loads have none.
    #[error("{}", load_words(.0))]
    Load(#[from] LoadError),
    /// The balance has none.
    #[error("{}", balance_words(.0))]
    Balance(#[from] BalanceError),
}

impl From<BoundError> for NoAnswer {
    fn from(e: BoundError) -> Self {
        NoAnswer::Motion(e.into())
    }
}

impl NoAnswer {
    pub(super) fn words(what: impl Into<String>, mend: impl Into<String>) -> Self {
        NoAnswer::Words { what: what.into(), mend: mend.into() }
    }

    pub(super) fn one_missing(what: impl Into<String>, write: impl Into<String>) -> Self {
        NoAnswer::Missing(vec![Missing { what: what.into(), write: write.into() }])
    }

    /// What is missing, when that is why.
    pub fn missing(&self) -> &[Missing] {
        match self {
            NoAnswer::Missing(list) => list,
            _ => &[],
        }
    }
}

fn list(missing: &[Missing]) -> String {
    missing.iter().map(|m| format!("\n  {m}")).collect()
}
