//! What is said of a surface in every drawing of it.

/// On which side of the surface the metal is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Surface {
    /// An outside: journal, pin, thickness. Wear makes it smaller.
    Outside,
    /// An inside: bore, hole, gap. Wear makes it larger.
    Inside,
}

/// A place on a scale with what is printed at it.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// Where, metres.
    pub at_m: f64,
    /// What is printed.
    pub text: String,
}

/// Which side of a limit is allowed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bound {
    /// The size may not be less.
    Least,
    /// The size may not be more.
    Most,
}

/// A size that a surface may not pass.
#[derive(Clone, Debug, PartialEq)]
pub struct LimitSize {
    /// Which side is allowed.
    pub bound: Bound,
    /// The size, metres (diameter of a round surface).
    pub size_m: f64,
    /// What is printed beside it: `least in service`.
    pub text: String,
}

impl LimitSize {
    /// Whether a size is on the wrong side of it, without regard to uncertainty.
    pub(crate) fn passed_by(&self, size_m: f64) -> bool {
        match self.bound {
            Bound::Least => size_m < self.size_m,
            Bound::Most => size_m > self.size_m,
        }
    }
}
