//! What to change so that the piston stands in the middle, and what each change does elsewhere.

use super::{Bound, ClearanceChain, Contributor, Float, MotionError};

/// Clearances found and wanted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CentringTarget {
    /// Front clearance now (bump test, or the chain's own), m.
    pub front_m: f64,
    /// Back clearance now, m.
    pub back_m: f64,
    /// Front minus back clearance wanted, m: 0 for the middle; some give one end more for
    /// expansion or for wear of the rod brasses.
    pub wanted_front_minus_back_m: f64,
}

/// What a change does elsewhere. Each carries its amount in metres, positive forward or longer.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum SideEffect {
    /// Crosshead runs this much further forward on its bars, and that much less back.
    CrossheadTravel(f64),
    /// Piston rings run this much further forward in the bore, past the old wear ridge.
    RingTravel(f64),
    /// Motion taken from the crosshead (combination lever, pump, drop link) moves by this.
    DriveFromCrosshead(f64),
    /// Motion taken from the axle (eccentrics, return crank) moves by this.
    DriveFromAxle(f64),
    /// Rod centres change by this: the pair of rods is no longer alike, and the brass has so much
    /// less (or more) left to be taken up.
    RodCentres(f64),
    /// Coupling rod centres to the other axles change by this on both sides; both boxes must be
    /// moved alike or the axle is out of square.
    CouplingRodCentres(f64),
    /// The other cylinders on this axle have their pistons moved by about this.
    OtherPistons(f64),
    /// Piston thinner by this (negative): strength and mass, and with the mass the balance.
    PistonThickness(f64),
    /// Joint thicker by this; it must still be tight and the studs long enough.
    JointThickness(f64),
    /// Only one end's clearance and clearance volume changes, and the sum of both.
    OneEndOnly(f64),
    /// The bearing length of the rod in its cone, or the collar, must be looked at: the cone seat
    /// is where the rod breaks.
    ConeSeat(f64),
}

impl SideEffect {
    /// What to look at, in words (the amount is in the variant).
    pub fn words(self) -> &'static str {
        match self {
            Self::CrossheadTravel(_) => {
                "crosshead travel on the bars: look for wear ridges and for room at the bar ends"
            }
            Self::RingTravel(_) => "ring travel in the bore: look for the old wear ridge",
            Self::DriveFromCrosshead(_) => {
                "drive taken from the crosshead: valve events and pumps shift with it"
            }
            Self::DriveFromAxle(_) => {
                "drive taken from the axle: eccentric rods or return crank rods to be set again"
            }
            Self::RodCentres(_) => {
                "rod centres: compare with the other rod, note it on the rod, see what take-up is left"
            }
            Self::CouplingRodCentres(_) => {
                "coupling rod centres: move both boxes alike and tram the axles"
            }
            Self::OtherPistons(_) => "the other pistons on this axle move as well: check each",
            Self::PistonThickness(_) => "piston thickness: strength, mass and balance",
            Self::JointThickness(_) => "joint thickness: tightness and stud length",
            Self::OneEndOnly(_) => "only this end changes, and with it the clearance volume",
            Self::ConeSeat(_) => "rod cone: fit, draw and cotter or nut to be proved again",
        }
    }

    /// The amount, m.
    pub fn amount_m(self) -> f64 {
        match self {
            Self::CrossheadTravel(m)
            | Self::RingTravel(m)
            | Self::DriveFromCrosshead(m)
            | Self::DriveFromAxle(m)
            | Self::RodCentres(m)
            | Self::CouplingRodCentres(m)
            | Self::OtherPistons(m)
            | Self::PistonThickness(m)
            | Self::JointThickness(m)
            | Self::OneEndOnly(m)
            | Self::ConeSeat(m) => m,
        }
    }
}

/// One way to put the piston where it is wanted.
#[derive(Debug, Clone, PartialEq)]
pub struct CentringChange {
    /// Size that is changed.
    pub contributor: Contributor,
    /// By how much, m: added to the size. A liner behind a brass is this thick, and goes on the
    /// side that lengthens the rod when positive, on the other side when negative.
    pub change_m: f64,
    /// Front clearance afterwards, m.
    pub front_m: f64,
    /// Back clearance afterwards, m.
    pub back_m: f64,
    /// What it does elsewhere.
    pub side_effects: Vec<SideEffect>,
    /// Whether the changed size is inside the range the chain accepts (a joint cannot be thinner
    /// than nothing).
    pub possible: bool,
}

/// Ways to bring front minus back clearance to the wanted figure, each by changing one size.
///
/// Equation: the change `x` of one size is found on the exact chain from
/// `(front - back)(x) - (front - back)(0) = wanted - found` by Newton steps with the exact
/// derivatives; own derivation. The found clearances may come from a bump test and need not
/// agree with the chain: only the chain's *changes* are used.
/// Units: m.
///
/// # Errors
/// Clearances not finite or beyond ±0.5 m; a change with which the crank cannot turn;
/// [`MotionError::NotSettled`].
pub fn centring_changes(
    chain: &ClearanceChain,
    target: &CentringTarget,
) -> Result<Vec<CentringChange>, MotionError> {
    const CLEARANCE: Bound = Bound::new("piston clearance", "m", -0.5, 0.5);
    let front_m = CLEARANCE.check(target.front_m)?;
    let back_m = CLEARANCE.check(target.back_m)?;
    let wanted = CLEARANCE.check(target.wanted_front_minus_back_m)?;
    let change_wanted_m = wanted - (front_m - back_m);

    use Contributor as C;
    let ways = [
        C::BigEndTakeUp,
        C::SmallEndTakeUp,
        C::RodCentres,
        C::ConeToPiston,
        C::AxleFore,
        C::FrontJoint,
        C::BackJoint,
        C::PistonThickness,
        C::FrontCoverSpigot,
        C::BackCoverSpigot,
    ];
    ways.into_iter()
        .map(|contributor| {
            let (change_m, after) = solve(chain, contributor, change_wanted_m)?;
            let size = chain.sizes().get(contributor) + change_m;
            Ok(CentringChange {
                contributor,
                change_m,
                front_m: front_m + after[0],
                back_m: back_m + after[1],
                side_effects: side_effects(contributor, change_m),
                possible: contributor.bound().check(size).is_ok(),
            })
        })
        .collect()
}

fn ends(chain: &ClearanceChain) -> Result<[f64; 2], MotionError> {
    let [front, back] = chain.at_dead_centres(Float::Middle)?;
    Ok([front.front_m, back.back_m])
}

/// Change of the size, and the change of front and back clearance it makes.
fn solve(
    chain: &ClearanceChain,
    contributor: Contributor,
    change_wanted_m: f64,
) -> Result<(f64, [f64; 2]), MotionError> {
    const STEPS: usize = 30;
    let before = ends(chain)?;
    let mut change_m = 0.0;
    let mut residual_m = f64::INFINITY;
    for _ in 0..STEPS {
        // Range checks are the caller's business here: a joint may come out negative, and the
        // answer then says it is not possible.
        let sizes = chain.sizes().with(contributor, chain.sizes().get(contributor) + change_m);
        let changed = ClearanceChain { sizes };
        let after = ends(&changed)?;
        let moved = [after[0] - before[0], after[1] - before[1]];
        residual_m = change_wanted_m - (moved[0] - moved[1]);
        if residual_m.abs() <= 1e-12 {
            return Ok((change_m, moved));
        }
        let [front, back] = changed.partials_at_dead_centres(Float::Middle)?;
        change_m += residual_m / (front[contributor] - back[contributor]);
    }
    Err(MotionError::NotSettled {
        what: "the change that centres the piston",
        iterations: STEPS,
        residual_m,
    })
}

fn side_effects(contributor: Contributor, m: f64) -> Vec<SideEffect> {
    use Contributor as C;
    use SideEffect as S;
    match contributor {
        C::BigEndTakeUp | C::SmallEndTakeUp | C::RodCentres => vec![
            S::RodCentres(m),
            S::CrossheadTravel(m),
            S::RingTravel(m),
            S::DriveFromCrosshead(m),
        ],
        C::ConeToPiston => vec![S::ConeSeat(m), S::RingTravel(m)],
        C::AxleFore => vec![
            S::CouplingRodCentres(m),
            S::OtherPistons(m),
            S::CrossheadTravel(m),
            S::RingTravel(m),
            S::DriveFromCrosshead(m),
            S::DriveFromAxle(m),
        ],
        C::FrontJoint | C::BackJoint => vec![S::JointThickness(m), S::OneEndOnly(m)],
        C::PistonThickness => vec![S::PistonThickness(m), S::OneEndOnly(-m)],
        C::FrontCoverSpigot | C::BackCoverSpigot => vec![S::OneEndOnly(-m)],
        _ => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::chain::tests::plain_sizes;
    use super::*;

    #[test]
    fn each_change_really_centres() -> Result<(), MotionError> {
        let sizes = plain_sizes();
        let chain = ClearanceChain::new(sizes)?;
        let [front_m, back_m] = ends(&chain)?;
        let target = CentringTarget { front_m, back_m, wanted_front_minus_back_m: 0.001 };
        let changes = centring_changes(&chain, &target)?;
        assert_eq!(changes.len(), 10);
        for change in &changes {
            let with =
                sizes.with(change.contributor, sizes.get(change.contributor) + change.change_m);
            let [front, back] = ends(&ClearanceChain { sizes: with })?;
            assert!((front - back - 0.001).abs() < 2e-12, "{change:?}");
            assert!((front - change.front_m).abs() < 2e-12);
            assert!((back - change.back_m).abs() < 2e-12);
            assert!(!change.side_effects.is_empty());
        }
        Ok(())
    }

    #[test]
    fn a_joint_thinner_than_nothing_is_not_possible() -> Result<(), MotionError> {
        let chain = ClearanceChain::new(plain_sizes())?;
        let target =
            CentringTarget { front_m: 0.012, back_m: 0.004, wanted_front_minus_back_m: 0.0 };
        let changes = centring_changes(&chain, &target)?;
        let by = |c| changes.iter().find(|x| x.contributor == c);
        // Front has 8 mm more: the rod must be 4 mm longer, or the front joint 8 mm thinner.
        let rod = by(Contributor::BigEndTakeUp).map(|c| c.change_m);
        assert!(rod.is_some_and(|m| (m - 0.004).abs() < 1e-5));
        assert!(by(Contributor::FrontJoint).is_some_and(|c| !c.possible && c.change_m < -0.0079));
        assert!(by(Contributor::BackJoint).is_some_and(|c| c.possible && 0.0079 < c.change_m));
        Ok(())
    }
}
