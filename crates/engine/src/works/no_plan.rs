//! Why there is no plan.

use sequence::Refused;

/// Why a question about the works has no answer.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum NoPlan {
    /// No works are described.
    #[error("no works of the {stage} are described; write [[work]] records, see docs/works.md")]
    NoWorks {
        /// Strip or build.
        stage: &'static str,
    },
    /// No calendar.
    #[error("there is no day to work on; write {field} in [shed] and [[shift]] records")]
    NoDays {
        /// What is missing.
        field: &'static str,
    },
    /// A position of the wheels cannot be had.
    #[error("{what}: no position of the wheels, {why}")]
    Position {
        /// Which.
        what: String,
        /// Why not.
        why: String,
    },
    /// There is nothing of that name.
    #[error("nothing is called \"{name}\" here; {mend}")]
    NoTarget {
        /// The name.
        name: String,
        /// The mend.
        mend: String,
    },
    /// The works contradict themselves or cannot be done; each in words of the trade.
    #[error("{}", .0.join("\n"))]
    Contradiction(Vec<String>),
    /// The planner found none.
    #[error("{0}")]
    Planner(String),
    /// A lift cannot be computed.
    #[error("{lift}: {why}")]
    Lift {
        /// Which lift.
        lift: String,
        /// Why not.
        why: String,
    },
}

impl NoPlan {
    /// What the planner refused, with works called by what they do.
    pub(crate) fn of(refused: Refused, scheme: &sequence::Scheme) -> NoPlan {
        match refused {
            Refused::Faults(faults) => NoPlan::Contradiction(
                faults.iter().map(|f| super::words::fault(scheme, f)).collect(),
            ),
            other => NoPlan::Planner(other.to_string()),
        }
    }
}
