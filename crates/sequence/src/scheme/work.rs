//! A work, and what must come before it.

use super::Way;

/// Which work, by its place in [`Scheme::works`](crate::Scheme::works).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct WorkId(pub usize);

/// What sort of thing a work does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Kind {
    /// A part comes off.
    TakeOff,
    /// A part goes on.
    PutOn,
    /// A state changes: drained, scotched, slacked.
    Change,
    /// Something is supported.
    Support,
    /// Something is gauged.
    Gauge,
    /// A part goes away or comes back.
    SendAway,
    /// A hold point: nothing behind it goes on until it is passed.
    Hold,
}

/// Whether a work belongs to every plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wanted {
    /// Always, when the target is everything.
    Always,
    /// Only when a chosen way needs it first (blocks under the rod, for the way that needs them).
    WhenNeeded,
}

/// What ties one work behind another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Tie {
    /// The part is held by the other.
    HeldBy,
    /// The part is covered by the other.
    CoveredBy,
    /// The other supports it and must be in place.
    SupportedBy,
    /// Any other reason, told in words.
    Other,
}

/// How long after the end of the earlier work the later may begin.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wait {
    /// At once.
    None,
    /// Working minutes (metal to cool; a night between is not credited).
    Minutes(u32),
    /// Days of the calendar's dates: ended on date d, begins on date d + n at the soonest.
    Days(u32),
}

/// What must be done first, and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Before {
    /// The earlier work.
    pub work: WorkId,
    /// The sort of tie.
    pub tie: Tie,
    /// The reason in words.
    pub reason: String,
    /// How long to wait after it.
    pub wait: Wait,
}

impl Before {
    /// A tie with a reason and no wait.
    #[must_use]
    pub fn new(work: WorkId, tie: Tie, reason: &str) -> Self {
        Self { work, tie, reason: reason.into(), wait: Wait::None }
    }

    /// The same with a wait.
    #[must_use]
    pub fn wait(mut self, wait: Wait) -> Self {
        self.wait = wait;
        self
    }
}

/// One step of strip or build.
#[derive(Debug, Clone, PartialEq)]
pub struct Work {
    /// Short name, one of its kind in the scheme.
    pub tag: String,
    /// What is done, in words.
    pub title: String,
    /// Sort of work.
    pub kind: Kind,
    /// Whether every plan has it.
    pub wanted: Wanted,
    /// What must be done first, whatever the way.
    pub after: Vec<Before>,
    /// The ways to do it, best known first.
    pub ways: Vec<Way>,
}

impl Work {
    /// A wanted work that takes a part off, without ways yet.
    #[must_use]
    pub fn new(tag: &str, title: &str) -> Self {
        Self {
            tag: tag.into(),
            title: title.into(),
            kind: Kind::TakeOff,
            wanted: Wanted::Always,
            after: Vec::new(),
            ways: Vec::new(),
        }
    }

    /// The same, of another sort.
    #[must_use]
    pub fn kind(mut self, kind: Kind) -> Self {
        self.kind = kind;
        self
    }

    /// The same, only when a chosen way needs it.
    #[must_use]
    pub fn when_needed(mut self) -> Self {
        self.wanted = Wanted::WhenNeeded;
        self
    }

    /// The same, held by an earlier work.
    #[must_use]
    pub fn after(self, work: WorkId, reason: &str) -> Self {
        self.tied(Before::new(work, Tie::HeldBy, reason))
    }

    /// The same, tied behind an earlier work.
    #[must_use]
    pub fn tied(mut self, before: Before) -> Self {
        self.after.push(before);
        self
    }

    /// The same with one more way.
    #[must_use]
    pub fn way(mut self, way: Way) -> Self {
        self.ways.push(way);
        self
    }
}
