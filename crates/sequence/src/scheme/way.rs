//! One way to do a work: what it takes, where, at which crank positions, and what it leaves.

use super::{Before, KitId, PlaceId, Window, WorkId};

/// Whether the engine may be moved while it goes on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Where {
    /// On the engine: nobody is in the motion when it moves.
    OnEngine,
    /// At the bench: the engine may be moved meanwhile.
    AtBench,
}

/// Whether it may be broken off at the end of a day and taken up the next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Break {
    /// It may stand overnight half done.
    MayStand,
    /// It is begun and ended the same day (a lift).
    SameDay,
}

/// Something left hanging or half supported: the engine is not moved until it is put right.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hanging {
    /// What hangs.
    pub what: String,
    /// The work that puts it right; `None`, or a work outside the plan: it hangs to the end.
    pub until: Option<WorkId>,
}

/// Kit that stays in use after a work, under or about a part, until another work is done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Staying {
    /// Which kit.
    pub kit: KitId,
    /// How many stay.
    pub count: u32,
    /// The work that ends with the kit free again; `None`, or a work outside the plan: it stays.
    pub until: Option<WorkId>,
}

/// What can hurt.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Hazard {
    /// A load on a hook.
    Lift,
    /// A load on a jack.
    Jack,
    /// Oil under pressure.
    Hydraulic,
    /// Hot metal or flame.
    Hot,
    /// A part that drops or swings when freed.
    Drop,
    /// Work below the engine.
    Below,
    /// Another, told in words.
    Other(String),
}

impl Hazard {
    /// The caution to print with the step.
    #[must_use]
    pub fn caution(&self) -> String {
        match self {
            Self::Lift => {
                "lift: plan to be checked by a competent person, rated gear in date, nobody under the load"
            }
            Self::Jack => {
                "jacking: within the jack's rating, on firm packing, follow up with packing as it rises; a competent person decides"
            }
            Self::Hydraulic => {
                "oil under pressure: gear rated and in date, stand clear of the line of the pin"
            }
            Self::Hot => "hot work: permit by local rules, extinguisher to hand, fire watch after",
            Self::Drop => {
                "the part is free all at once: support it before the last fastening, hands clear"
            }
            Self::Below => "work below: engine scotched both ways, key and warning board placed",
            Self::Other(words) => words,
        }
        .into()
    }
}

/// One way to do a work.
#[derive(Debug, Clone, PartialEq)]
pub struct Way {
    /// How, in words.
    pub title: String,
    /// Minutes.
    pub minutes: u32,
    /// People.
    pub people: u32,
    /// Kit, and how many.
    pub kit: Vec<(KitId, u32)>,
    /// Crank positions at which it can be done.
    pub window: Window,
    /// On the engine or at the bench.
    pub whereabouts: Where,
    /// From which place.
    pub place: Option<PlaceId>,
    /// Places that are kept clear of everybody meanwhile (below a load).
    pub keeps_clear: Vec<PlaceId>,
    /// Whether it may stand overnight.
    pub stands: Break,
    /// What must be done first for this way, beside what the work needs anyway.
    pub after: Vec<Before>,
    /// What it leaves hanging.
    pub leaves: Vec<Hanging>,
    /// Kit that stays where it is.
    pub stays: Vec<Staying>,
    /// Spot of the kit whose set-ups are counted.
    pub spot: u32,
    /// What can hurt.
    pub hazards: Vec<Hazard>,
    /// Chance that it will not go, 0 to below 1.
    pub fails: f64,
}

impl Way {
    /// A way on the engine at any crank position, without kit.
    #[must_use]
    pub fn new(title: &str, minutes: u32, people: u32) -> Self {
        Self {
            title: title.into(),
            minutes,
            people,
            kit: Vec::new(),
            window: Window::Any,
            whereabouts: Where::OnEngine,
            place: None,
            keeps_clear: Vec::new(),
            stands: Break::MayStand,
            after: Vec::new(),
            leaves: Vec::new(),
            stays: Vec::new(),
            spot: 0,
            hazards: Vec::new(),
            fails: 0.0,
        }
    }

    /// The same with kit.
    #[must_use]
    pub fn kit(mut self, kit: KitId, count: u32) -> Self {
        self.kit.push((kit, count));
        self
    }

    /// The same at some crank positions only.
    #[must_use]
    pub fn window(mut self, window: Window) -> Self {
        self.window = window;
        self
    }

    /// The same at the bench.
    #[must_use]
    pub fn at_bench(mut self) -> Self {
        self.whereabouts = Where::AtBench;
        self
    }

    /// The same, begun and ended the same day.
    #[must_use]
    pub fn same_day(mut self) -> Self {
        self.stands = Break::SameDay;
        self
    }

    /// The same, leaving something hanging until another work is done.
    #[must_use]
    pub fn leaves(mut self, what: &str, until: Option<WorkId>) -> Self {
        self.leaves.push(Hanging { what: what.into(), until });
        self
    }

    /// The same, with kit that stays until another work is done.
    #[must_use]
    pub fn stays(mut self, kit: KitId, count: u32, until: Option<WorkId>) -> Self {
        self.stays.push(Staying { kit, count, until });
        self
    }

    /// The same, tied behind another work.
    #[must_use]
    pub fn tied(mut self, before: Before) -> Self {
        self.after.push(before);
        self
    }

    /// People-minutes.
    #[must_use]
    pub fn people_min(&self) -> u64 {
        u64::from(self.minutes) * u64::from(self.people)
    }
}
