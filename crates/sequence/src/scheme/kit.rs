//! Kit that is shared between works, and places where people stand.

/// Which kit, by its place in [`Scheme::kits`](crate::Scheme::kits).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct KitId(pub usize);

/// Which place, by its place in [`Scheme::places`](crate::Scheme::places).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct PlaceId(pub usize);

/// Weather in which some kit or place cannot be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Weather {
    /// Rain: an open pit floods, a slope is slippery.
    Rain,
    /// Wind above what the crane's plate allows.
    Wind,
    /// Frost.
    Frost,
}

/// Whether setting kit up at a new spot is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SetUps {
    /// Each time it is used at another spot than the last counts as one set-up (crane).
    Counted,
    /// Not counted (spanner, blocks).
    Free,
}

/// Something there are only so many of: crane, jack, set of slings; also a person with a ticket
/// (slinger, inspector), who is then counted among the people *and* here.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Kit {
    /// Name.
    pub name: String,
    /// How many there are.
    pub count: u32,
    /// Days on which there is another number, by place in the calendar.
    pub by_day: Vec<(usize, u32)>,
    /// Whether set-ups are counted; then there can be only one of it.
    pub set_ups: SetUps,
    /// Weather that rules it out.
    pub not_in: Vec<Weather>,
}

impl Kit {
    /// So many of a name, always there, set-ups free.
    #[must_use]
    pub fn new(name: &str, count: u32) -> Self {
        let (by_day, not_in) = (Vec::new(), Vec::new());
        Self { name: name.into(), count, by_day, set_ups: SetUps::Free, not_in }
    }

    /// How many there are on a day.
    #[must_use]
    pub fn on(&self, day: usize) -> u32 {
        self.by_day.iter().rev().find(|(d, _)| *d == day).map_or(self.count, |(_, n)| *n)
    }
}

/// A place with room for so many works at once: pit, left side, right side, footplate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// Name.
    pub name: String,
    /// How many works can go on there at once.
    pub room: u32,
    /// Weather that rules it out.
    pub not_in: Vec<Weather>,
    /// Days on which it cannot be used, by place in the calendar.
    pub shut: Vec<usize>,
}

impl Place {
    /// A place with room for so many works at once.
    #[must_use]
    pub fn new(name: &str, room: u32) -> Self {
        Self { name: name.into(), room, not_in: Vec::new(), shut: Vec::new() }
    }

    /// Room on a day.
    #[must_use]
    pub fn on(&self, day: usize) -> u32 {
        if self.shut.contains(&day) { 0 } else { self.room }
    }
}
