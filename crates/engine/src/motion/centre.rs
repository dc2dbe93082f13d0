//! What to change so that a piston stands where it is wanted, and what each change moves.

use super::bump_check::bump_check;
use super::clearances::at_ends;
use super::error::NoAnswer;
use super::mechanism::chain_inputs;
use super::model::{Cylinder, Size};
use super::resolve::Notes;
use crate::judge::Judgement;
use crate::model::{ChainIx, JointIx};
use mechanics::motion::{CentringChange, CentringTarget, Contributor, centring_changes};

/// Where the clearances are taken from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum From {
    /// Worked out from the sizes.
    Chain,
    /// Read at the bump test.
    BumpTest,
}

/// One way to centre a piston.
#[derive(Clone, Debug)]
pub struct Way {
    /// The change.
    pub change: CentringChange,
    /// Joints whose features make up the size that changes.
    pub joints: Vec<JointIx>,
    /// Chains that share a feature with it.
    pub chains: Vec<ChainIx>,
}

/// Ways to centre a piston.
#[derive(Clone, Debug)]
pub struct Centring {
    /// Cylinder.
    pub cylinder: usize,
    /// Where the clearances come from.
    pub from: From,
    /// Front clearance now, metres.
    pub front_m: f64,
    /// Back clearance now, metres.
    pub back_m: f64,
    /// Front less back that is wanted, metres.
    pub wanted_m: f64,
    /// Ways, each by one size.
    pub ways: Vec<Way>,
    /// What it rests on.
    pub notes: Notes,
}

/// Ways to bring front less back clearance to what is wanted.
///
/// # Errors
/// The clearances cannot be had: no bump test where that is asked for, sizes missing.
pub fn centring(
    judgement: &Judgement,
    cylinder: usize,
    from: From,
    wanted_m: f64,
) -> Result<Centring, NoAnswer> {
    let engine = judgement.engine();
    let c = &engine.motion.cylinders[cylinder];
    let inputs = chain_inputs(engine, judgement.features(), cylinder)?;
    let mut notes = inputs.notes.clone();
    let (front_m, back_m) = match from {
        From::Chain => {
            let [front, back] = at_ends(&inputs)?;
            (front.value(), back.value())
        }
        From::BumpTest => {
            let check = bump_check(judgement, cylinder)?.ok_or_else(|| {
                NoAnswer::one_missing(
                    format!("cylinder {} has no bump test", c.id),
                    "write its marks as [[bump]] records",
                )
            })?;
            notes.take(&check.notes);
            (check.report.front_m, check.report.back_m)
        }
    };
    let target = CentringTarget { front_m, back_m, wanted_front_minus_back_m: wanted_m };
    let ways = centring_changes(&inputs.chain, &target)?
        .into_iter()
        .map(|change| {
            let (joints, chains) = moved(judgement, c, change.contributor);
            Way { change, joints, chains }
        })
        .collect();
    Ok(Centring { cylinder, from, front_m, back_m, wanted_m, ways, notes })
}

/// Joints and chains that the features behind a size stand in.
fn moved(
    judgement: &Judgement,
    c: &Cylinder,
    contributor: Contributor,
) -> (Vec<JointIx>, Vec<ChainIx>) {
    use Contributor as C;
    let engine = judgement.engine();
    let boxes = ["left-box-fore", "right-box-fore"];
    let sizes: Vec<&Size> = match contributor {
        // A liner behind a brass or a taken-up brass is a change of the rod's own sizes.
        C::BigEndTakeUp | C::SmallEndTakeUp | C::RodCentres => {
            c.chain.get(&C::RodCentres).into_iter().collect()
        }
        C::AxleFore => boxes.iter().filter_map(|n| engine.motion.sizes.get(n)).collect(),
        other => c.chain.get(&other).into_iter().collect(),
    };
    let features = || sizes.iter().flat_map(|s| s.features.iter().map(|(_, f)| *f));
    let mut joints: Vec<JointIx> =
        features().flat_map(|f| engine.feature(f).in_joints.clone()).collect();
    let mut chains: Vec<ChainIx> =
        features().flat_map(|f| engine.feature(f).in_chains.clone()).collect();
    joints.sort_unstable();
    joints.dedup();
    chains.sort_unstable();
    chains.dedup();
    (joints, chains)
}
