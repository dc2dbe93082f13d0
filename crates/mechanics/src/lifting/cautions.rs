//! Cautions that go with every lift, jack and draw.

/// What is being done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Handling {
    /// A lift on one hook.
    Lift,
    /// A lift on two hooks or two cranes.
    TwoHookLift,
    /// A part slid off its seat on to the crane.
    Transfer,
    /// A load on jacks or packing.
    Jacking,
    /// A part rolled or slid on a slope.
    Slope,
    /// A part drawn by hydraulic jack or cords.
    Drawing,
}

/// One caution of handling.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Caution {
    /// Who checks the plan.
    PlanChecked,
    /// Gear rated and in date.
    GearInDate,
    /// Nobody under a load.
    NobodyUnder,
    /// Tag line.
    TagLine,
    /// Trial lift.
    TrialLift,
    /// Sharp edges.
    SharpEdges,
    /// One signaller.
    OneSignaller,
    /// What the figures are worth.
    FiguresAreComputed,
    /// Two cranes.
    TwoCranes,
    /// The part breaks free.
    BreaksFree,
    /// Hands in the gap.
    HandsClear,
    /// Pack as it rises.
    FollowWithPacking,
    /// Nobody under a jacked load.
    NotOnJacksAlone,
    /// Ground under jacks.
    FirmGround,
    /// Wheels scotched.
    Scotched,
    /// Below a slope.
    ClearBelow,
    /// A line that holds back.
    HoldBack,
    /// Oil under pressure.
    OilUnderPressure,
    /// In line with the pull.
    OutOfLine,
    /// No heat, no hammer on a loaded draw.
    NoBlows,
}

impl Caution {
    /// The caution in full. Common practice; local rules and the competent person decide.
    #[must_use]
    pub fn text(self) -> &'static str {
        match self {
            Self::PlanChecked => {
                "This plan is to be checked by a competent person before anything is lifted, \
                 jacked or drawn. Local rules and licensed practice go before anything printed here."
            }
            Self::GearInDate => {
                "Slings, shackles, eyes, hooks, jacks and cranes carry a rating and an examination \
                 that is in date. Gear without a tag, stretched, nicked, kinked or home-made stays \
                 on the floor. The tag goes before a computed rating."
            }
            Self::NobodyUnder => {
                "Nobody stands, reaches or passes under a load, nor where it can swing, slide or \
                 fall, not for a moment."
            }
            Self::TagLine => {
                "A tag line on the load, held from clear ground and never wound round hand or body."
            }
            Self::TrialLift => {
                "Trial lift: take the weight, raise a hand's breadth, stop. Look at balance, legs, \
                 eyes and crane; set down and sling again if anything is not as planned."
            }
            Self::SharpEdges => {
                "A sling over an edge is packed. An edge sharper than the sling is thick can cut it \
                 at a load far below its rating."
            }
            Self::OneSignaller => {
                "One person gives the signals and is known to all. Anyone may call stop, and stop is \
                 obeyed."
            }
            Self::FiguresAreComputed => {
                "Masses, balance points and tensions are computed from what was put in. A part may \
                 hold water, scale, a neighbour or rust: a load cell on the hook tells."
            }
            Self::TwoCranes => {
                "Two hooks: each must be able to carry more than its computed share, both move only \
                 on one signal and slowly, with falls kept plumb. A tilt gives one of them the other's \
                 load. Lifts with two cranes are planned by a competent person only."
            }
            Self::BreaksFree => {
                "A tight part lets go at once. The crane must neither lift hard (the part jumps) nor \
                 hang slack (the part drops): set the pull, watch it, and keep clear of both ends."
            }
            Self::HandsClear => {
                "No fingers in a bore, between faces, under a strap or in a bolt hole while the part \
                 can move: bars and drifts, not hands."
            }
            Self::FollowWithPacking => {
                "Packing follows the load at every stroke, so that it can drop no further than a \
                 packing piece. Crossed, square to the load, no loose or oily pieces."
            }
            Self::NotOnJacksAlone => {
                "Nobody works under or against a load on jacks alone: set it down on stands or packing \
                 that are rated, and check that it rests."
            }
            Self::FirmGround => {
                "Jacks stand upright on firm, spread and level bearing, head and foot packed against \
                 slipping. A jack that leans is let down and set again."
            }
            Self::Scotched => {
                "What is not to move is scotched on both sides before the jack takes weight; a raised \
                 end pulls the load along as it tilts."
            }
            Self::ClearBelow => {
                "Nobody below a part on a slope, nor between it and a wall, at any time. A stop at the \
                 foot that would hold it."
            }
            Self::HoldBack => {
                "A line that holds back before the part is on the slope, with a turn round something \
                 that stands, paid out by someone clear of it. Oil on a board halves the friction."
            }
            Self::OilUnderPressure => {
                "Hose, coupling and jack are rated for the pump's valve. Oil under pressure goes \
                 through skin: no hand near a leak; injury by oil is an emergency even if it looks \
                 small."
            }
            Self::OutOfLine => {
                "Nobody in line with jack, rod, chain or cord under pull, at either end: what breaks \
                 or lets go flies along that line. Tie or cover what can fly."
            }
            Self::NoBlows => {
                "A draw that sticks at the rating is let off and thought about. No more pump, no blow \
                 and no flame on loaded tackle unless a competent person has planned it."
            }
        }
    }
}

const LIFT: &[Caution] = &[
    Caution::PlanChecked,
    Caution::GearInDate,
    Caution::NobodyUnder,
    Caution::OneSignaller,
    Caution::SharpEdges,
    Caution::TagLine,
    Caution::TrialLift,
    Caution::FiguresAreComputed,
];
const TWO: &[Caution] = &[
    Caution::PlanChecked,
    Caution::TwoCranes,
    Caution::GearInDate,
    Caution::NobodyUnder,
    Caution::OneSignaller,
    Caution::SharpEdges,
    Caution::TagLine,
    Caution::TrialLift,
    Caution::FiguresAreComputed,
];
const TRANSFER: &[Caution] = &[
    Caution::PlanChecked,
    Caution::BreaksFree,
    Caution::HandsClear,
    Caution::GearInDate,
    Caution::NobodyUnder,
    Caution::OneSignaller,
    Caution::SharpEdges,
    Caution::TagLine,
    Caution::TrialLift,
    Caution::FiguresAreComputed,
];
const JACKING: &[Caution] = &[
    Caution::PlanChecked,
    Caution::NotOnJacksAlone,
    Caution::FollowWithPacking,
    Caution::FirmGround,
    Caution::Scotched,
    Caution::GearInDate,
    Caution::NobodyUnder,
    Caution::OneSignaller,
    Caution::TrialLift,
    Caution::FiguresAreComputed,
];
const SLOPE: &[Caution] = &[
    Caution::PlanChecked,
    Caution::ClearBelow,
    Caution::HoldBack,
    Caution::HandsClear,
    Caution::GearInDate,
    Caution::OneSignaller,
    Caution::FiguresAreComputed,
];
const DRAWING: &[Caution] = &[
    Caution::PlanChecked,
    Caution::OutOfLine,
    Caution::OilUnderPressure,
    Caution::NoBlows,
    Caution::BreaksFree,
    Caution::HandsClear,
    Caution::GearInDate,
    Caution::NobodyUnder,
    Caution::FiguresAreComputed,
];

/// The cautions for a piece of handling, in the order in which they are to be gone through.
#[must_use]
pub fn handling_cautions(handling: Handling) -> &'static [Caution] {
    match handling {
        Handling::Lift => LIFT,
        Handling::TwoHookLift => TWO,
        Handling::Transfer => TRANSFER,
        Handling::Jacking => JACKING,
        Handling::Slope => SLOPE,
        Handling::Drawing => DRAWING,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_task_has_the_cautions_that_always_hold_and_none_promises() {
        for handling in [
            Handling::Lift,
            Handling::TwoHookLift,
            Handling::Transfer,
            Handling::Jacking,
            Handling::Slope,
            Handling::Drawing,
        ] {
            let all = handling_cautions(handling);
            assert_eq!(all[0], Caution::PlanChecked);
            assert!(all.contains(&Caution::GearInDate));
            assert!(all.contains(&Caution::FiguresAreComputed));
            let mut once = all.to_vec();
            once.sort();
            once.dedup();
            assert_eq!(once.len(), all.len());
            for caution in all {
                assert!(!caution.text().to_lowercase().contains("safe"));
                assert!(40 < caution.text().len());
            }
        }
    }
}
