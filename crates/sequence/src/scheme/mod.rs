//! What is to be planned: works, ways, kit, places, calendar and the engine's barring.

mod calendar;
mod kit;
mod way;
mod window;
mod work;

pub use calendar::{Calendar, Day};
pub use kit::{Kit, KitId, Place, PlaceId, SetUps, Weather};
pub use way::{Break, Hanging, Hazard, Staying, Way, Where};
pub use window::{Arc, Window};
pub use work::{Before, Kind, Tie, Wait, Wanted, Work, WorkId};

/// Which works the plan is for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Targets {
    /// Every work that is [`Wanted::Always`].
    All,
    /// Only these and what they need first ("only as far as the right big end off").
    Only(Vec<WorkId>),
}

/// What moving the engine costs and needs.
#[derive(Debug, Clone, PartialEq)]
pub struct Barring {
    /// People on the bar and at the scotches.
    pub people: u32,
    /// Minutes for any move: scotches out, everybody clear, scotches in.
    pub set_up_min: u32,
    /// Minutes for one whole turn of the wheel; a part of a turn takes its share.
    pub turn_min: u32,
    /// Moves are rounded up to a multiple of this many minutes (0 counts as 1).
    pub round_min: u32,
    /// What must be done before the engine is moved at all.
    pub after: Vec<Before>,
}

impl Default for Barring {
    /// Two people, ten minutes and ten more a turn, in steps of five: invented, to be set.
    fn default() -> Self {
        Self { people: 2, set_up_min: 10, turn_min: 10, round_min: 5, after: Vec::new() }
    }
}

impl Barring {
    /// Minutes to bar from one angle to another by the shorter way round; 0 when they are the
    /// same within a millionth of a radian.
    ///
    /// Equation: set_up + turn · d/2π, rounded up, d the shorter arc in radians. Own definition.
    #[must_use]
    pub fn minutes(&self, from_rad: f64, to_rad: f64) -> u32 {
        let d_rad = window::apart_rad(from_rad, to_rad);
        // NaN counts as "the same place"; angles are checked before planning.
        if d_rad.is_nan() || d_rad < 1e-6 {
            return 0;
        }
        let exact_min =
            f64::from(self.set_up_min) + f64::from(self.turn_min) * d_rad / std::f64::consts::TAU;
        let step = f64::from(self.round_min.max(1));
        // A hair is taken off so that a quarter turn of 8 min is 2 min and not 3.
        ((exact_min / step - 1e-6).ceil().max(0.0) * step) as u32
    }
}

/// Everything that is to be planned.
#[derive(Debug, Clone, PartialEq)]
pub struct Scheme {
    /// The works, addressed by [`WorkId`].
    pub works: Vec<Work>,
    /// The kit, addressed by [`KitId`].
    pub kits: Vec<Kit>,
    /// The places where people stand, addressed by [`PlaceId`].
    pub places: Vec<Place>,
    /// The days, their hours and their crew.
    pub calendar: Calendar,
    /// What moving the engine takes.
    pub barring: Barring,
    /// Crank angle at which the engine stands at the start, radians.
    pub stands_rad: f64,
    /// What the plan is for.
    pub targets: Targets,
}

impl Scheme {
    /// An empty scheme on a calendar.
    #[must_use]
    pub fn new(calendar: Calendar) -> Self {
        Self {
            works: Vec::new(),
            kits: Vec::new(),
            places: Vec::new(),
            calendar,
            barring: Barring::default(),
            stands_rad: 0.0,
            targets: Targets::All,
        }
    }

    /// Adds a work and returns how to refer to it.
    pub fn add(&mut self, work: Work) -> WorkId {
        self.works.push(work);
        WorkId(self.works.len() - 1)
    }

    /// Adds a kit and returns how to refer to it.
    pub fn add_kit(&mut self, kit: Kit) -> KitId {
        self.kits.push(kit);
        KitId(self.kits.len() - 1)
    }

    /// Adds a place and returns how to refer to it.
    pub fn add_place(&mut self, place: Place) -> PlaceId {
        self.places.push(place);
        PlaceId(self.places.len() - 1)
    }

    /// The work of an id, if there is one.
    #[must_use]
    pub fn work(&self, id: WorkId) -> Option<&Work> {
        self.works.get(id.0)
    }

    /// The tag of a work, or "?" for one that is not in the scheme.
    #[must_use]
    pub fn tag(&self, id: WorkId) -> &str {
        self.work(id).map_or("?", |w| w.tag.as_str())
    }

    /// The work with a tag.
    #[must_use]
    pub fn find(&self, tag: &str) -> Option<WorkId> {
        self.works.iter().position(|w| w.tag == tag).map(WorkId)
    }

    /// A way of a work, if there is one.
    #[must_use]
    pub fn way(&self, id: WorkId, way: usize) -> Option<&Way> {
        self.work(id)?.ways.get(way)
    }
}
