//! Cautions that go with every move of an engine.

/// One caution of moving an engine by hand, bar or winch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Caution {
    /// Who is in charge.
    CompetentPersonInCharge,
    /// Nobody in the motion.
    NobodyInTheMotion,
    /// People clear of the wheels and under the engine.
    PeopleClear,
    /// Scotches.
    Scotches,
    /// Hand brake.
    Brake,
    /// Regulator and steam.
    NoSteam,
    /// Reverser in mid gear.
    Reverser,
    /// Drain cocks open.
    DrainCocks,
    /// What hangs loose in the motion.
    LooseParts,
    /// Rail in front and behind.
    RoadClear,
    /// How the bar is held.
    BarInHand,
    /// What the computed distance is worth.
    DistanceIsComputed,
}

impl Caution {
    /// All of them, in the order in which they are to be gone through.
    pub const ALL: [Self; 12] = [
        Self::CompetentPersonInCharge,
        Self::NobodyInTheMotion,
        Self::PeopleClear,
        Self::RoadClear,
        Self::NoSteam,
        Self::Reverser,
        Self::DrainCocks,
        Self::LooseParts,
        Self::Scotches,
        Self::Brake,
        Self::BarInHand,
        Self::DistanceIsComputed,
    ];

    /// The caution in full. Common practice; local rules and the person in charge decide.
    pub fn text(self) -> &'static str {
        match self {
            Self::CompetentPersonInCharge => {
                "One competent person is in charge of the move and alone gives the word to move \
                 and to stop. Local rules go before anything printed here."
            }
            Self::NobodyInTheMotion => {
                "Nobody is in the motion, in the pit under it or has a hand, tool or lamp in it \
                 while the wheels can turn. Call and get an answer from each person."
            }
            Self::PeopleClear => {
                "Everyone stands clear of wheels, rods, rail and buffers, on both sides and at \
                 both ends."
            }
            Self::Scotches => {
                "Scotches are taken out only on the word to move, kept in hand, and put back on \
                 both sides of a wheel before anyone goes under or into the motion."
            }
            Self::Brake => {
                "Hand brake off for the move, on again at once after it. The brake does not \
                 replace the scotches; with rods or brake gear down it may hold nothing."
            }
            Self::NoSteam => {
                "No steam in the boiler, or regulator shut and proved shut under the rules of the \
                 place. Steam left in a cylinder moves an engine."
            }
            Self::Reverser => {
                "Reverser in mid gear unless the job wants otherwise; note where it was. Valve \
                 gear that is partly down must be tied up before the wheels turn."
            }
            Self::DrainCocks => {
                "Cylinder drain cocks open: a piston pushed against trapped air or water pushes \
                 back when the bar is let go, and water breaks covers."
            }
            Self::LooseParts => {
                "Everything uncoupled is tied up or out: a rod, link or strap left hanging is \
                 struck by the crank in the first turn."
            }
            Self::RoadClear => {
                "Rail clear for the whole distance and more, nothing fouling, the gradient known: \
                 an engine that has started may not stop where it is wanted."
            }
            Self::BarInHand => {
                "Pinch bar held beside the body, never between the legs or under the chest, let \
                 go of when the wheel picks it up."
            }
            Self::DistanceIsComputed => {
                "The distance is computed from the tyre diameter and rolling without slip. Mark \
                 wheel and rail, look at the crank, and trust what is seen."
            }
        }
    }
}

/// Every caution for barring an engine, in the order in which they are to be gone through.
pub fn barring_cautions() -> &'static [Caution] {
    &Caution::ALL
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn none_is_missing_and_none_promises() {
        let mut seen = Caution::ALL.to_vec();
        seen.sort();
        seen.dedup();
        assert_eq!(seen.len(), Caution::ALL.len());
        for caution in Caution::ALL {
            assert!(!caution.text().to_lowercase().contains("safe"));
            assert!(40 < caution.text().len());
        }
    }
}
