//! The mechanism of an engine as it stands: lines, cranks, tyre, and the clearance chain of each
//! cylinder, from the sizes as read.

use super::error::NoAnswer;
use super::model::{Cylinder, MotionModel};
use super::resolve::{Notes, Resolver, linear};
use crate::judge::{Judgement, Sizes};
use crate::model::{Engine, FeatureIx};
use mechanics::motion::{
    AxleBoxes, AxlePosition, ChainSizes, ClearanceChain, Contributor, CylinderLine, Motion, Place,
    Running, Tyre,
};
use quantity::Uncertain;

/// The mechanism, with what it rests on.
#[derive(Clone, Debug)]
pub struct Mechanism {
    /// Every cylinder line, in the order of the engine's cylinders.
    pub motion: Motion,
    /// Where the driving axle stands.
    pub axle: AxleBoxes,
    /// Tyre diameter on tread, if described.
    pub tyre: Option<Uncertain>,
    /// What it rests on besides readings.
    pub notes: Notes,
}

impl Mechanism {
    /// From the sizes as judged.
    ///
    /// # Errors
    /// Everything that is not described; sizes with which the crank cannot turn.
    pub fn of(judgement: &Judgement) -> Result<Mechanism, NoAnswer> {
        mechanism(judgement.engine(), judgement.features())
    }

    /// The tyre, which every distance along the rail needs.
    ///
    /// # Errors
    /// It is not described.
    pub fn tyre(&self) -> Result<Tyre, NoAnswer> {
        match &self.tyre {
            Some(d) => {
                Ok(Tyre { diameter_m: d.value(), diameter_standard_m: d.standard_uncertainty() })
            }
            None => Err(NoAnswer::one_missing(
                "the tyre diameter",
                "write tyre = \"...\" in [motion]: the feature of a driven wheel's tread, or a size",
            )),
        }
    }

    /// Standing still, or running, with the axle where it is.
    pub fn running(&self, speed_rad_s: f64) -> Running {
        Running { axle: self.axle, ..Running::steady(speed_rad_s) }
    }
}

pub(super) fn record(cylinder: &Cylinder) -> String {
    format!("[[cylinder]] id = \"{}\"", cylinder.id)
}

/// Words of the chain's own fields.
pub(crate) fn field_of(contributor: Contributor) -> &'static str {
    use Contributor as C;
    match contributor {
        C::CylinderLength => "cylinder-length",
        C::FrontCoverSpigot => "front-spigot",
        C::BackCoverSpigot => "back-spigot",
        C::FrontJoint => "front-joint",
        C::BackJoint => "back-joint",
        C::PistonThickness => "piston-thickness",
        C::ConeToPiston => "cone-to-piston",
        C::PinToCone => "pin-to-cone",
        C::RodCentres => "rod-centres",
        C::BigEndTakeUp => "big-end-take-up",
        C::SmallEndTakeUp => "small-end-take-up",
        C::CrankThrow => "throw",
        C::LineOffset => "offset",
        C::AxleToCylinder => "axle-to-cylinder",
        C::AxleFore => "left-box-fore and right-box-fore",
        C::AxleRise => "left-box-rise and right-box-rise",
        C::BigEndSlack => "big-end-slack",
        C::SmallEndSlack => "small-end-slack",
        C::JournalSlack => "journal-slack",
        C::HornSlack => "horn-slack",
    }
}

/// Sizes without which there is no clearance; the others may be nothing, which is then said.
fn must_be(contributor: Contributor) -> bool {
    use Contributor as C;
    matches!(
        contributor,
        C::CylinderLength
            | C::FrontCoverSpigot
            | C::BackCoverSpigot
            | C::PistonThickness
            | C::ConeToPiston
            | C::PinToCone
            | C::RodCentres
            | C::CrankThrow
            | C::AxleToCylinder
    )
}

impl<S: Sizes + ?Sized> Resolver<'_, S> {
    fn model(&self) -> &MotionModel {
        &self.engine.motion
    }

    /// One size of a cylinder's chain that is on the cylinder's own record.
    fn contributor(&mut self, c: &Cylinder, contributor: Contributor) -> Option<Uncertain> {
        match c.chain.get(&contributor) {
            Some(size) => self.size(size),
            None if must_be(contributor) => {
                let field = field_of(contributor);
                self.lack(
                    format!("{} of cylinder {}", contributor.words(), c.id),
                    format!("write {field} = \"...\" in {}", record(c)),
                );
                None
            }
            None => {
                self.notes.nothing.insert(format!("{} of {}", field_of(contributor), c.id));
                Some(Uncertain::exact(0.0))
            }
        }
    }

    /// To the left of the middle, metres.
    pub(super) fn lateral(&mut self, c: &Cylinder) -> Option<f64> {
        let sign = match c.place {
            Place::Middle if !c.sizes.contains_key("from-middle") => return Some(0.0),
            Place::OutsideLeft | Place::InsideLeft | Place::Middle => 1.0,
            Place::InsideRight | Place::OutsideRight => -1.0,
        };
        let of = format!("cylinder {}", c.id);
        self.want(&c.sizes, "from-middle", &of, &record(c)).map(|v| sign * v.value())
    }

    fn incline(&mut self, c: &Cylinder) -> f64 {
        c.incline_rad.unwrap_or_else(|| {
            self.notes.nothing.insert(format!("incline of {}", c.id));
            0.0
        })
    }

    fn lag(&mut self, c: &Cylinder) -> Option<f64> {
        if c.lag_rad.is_none() {
            self.lack(
                format!("the crank angle of cylinder {}", c.id),
                format!(
                    "write sequence and leading (\"left\" or \"right\") in [motion], or lag = \"90 deg\" in {}",
                    record(c)
                ),
            );
        }
        c.lag_rad
    }

    /// A box's movement, nothing when not described.
    fn box_place(&mut self, name: &'static str) -> Option<Uncertain> {
        match self.model().sizes.get(name).cloned() {
            Some(size) => self.size(&size),
            None => {
                self.notes.nothing.insert(name.to_owned());
                Some(Uncertain::exact(0.0))
            }
        }
    }

    /// Movement of the axle in the plane of one cylinder: straight axle between its boxes.
    fn axle_at(&mut self, names: [&'static str; 2], lateral_m: f64) -> Option<Uncertain> {
        let (left, right) = (self.box_place(names[0])?, self.box_place(names[1])?);
        let still = left == Uncertain::exact(0.0) && right == left;
        if still || left == right {
            return Some(left);
        }
        let share = lateral_m / self.box_centres()?;
        Some(linear(0.0, &[(0.5 + share, left), (0.5 - share, right)]))
    }

    fn box_centres(&mut self) -> Option<f64> {
        let sizes = self.model().sizes.clone();
        self.want(&sizes, "box-centres", "the driving axle", "[motion]").map(|v| v.value())
    }
}

/// The mechanism from any sizes.
pub(crate) fn mechanism<S: Sizes + ?Sized>(
    engine: &Engine,
    sizes: &S,
) -> Result<Mechanism, NoAnswer> {
    let mut r = Resolver::new(engine, sizes);
    if engine.motion.cylinders.is_empty() {
        return Err(NoAnswer::one_missing(
            "no cylinder is described",
            "write [motion] and a [[cylinder]] for each cylinder; see docs/motion.md",
        ));
    }
    let mut lines = Vec::new();
    for c in &engine.motion.cylinders {
        use Contributor as C;
        let throw = r.contributor(c, C::CrankThrow);
        let rod = r.contributor(c, C::RodCentres);
        let take_up = [C::BigEndTakeUp, C::SmallEndTakeUp].map(|k| r.contributor(c, k));
        let offset = r.contributor(c, C::LineOffset);
        let (lateral, lag, incline) = (r.lateral(c), r.lag(c), r.incline(c));
        let (Some(throw), Some(rod), [Some(big), Some(small)], Some(offset)) =
            (throw, rod, take_up, offset)
        else {
            continue;
        };
        let (Some(lateral_m), Some(crank_lag_rad)) = (lateral, lag) else { continue };
        lines.push(CylinderLine {
            place: c.place,
            lateral_m,
            crank_throw_m: throw.value(),
            rod_centres_m: rod.value() + big.value() + small.value(),
            incline_rad: incline,
            offset_m: offset.value(),
            crank_lag_rad,
        });
    }
    let mut boxes = [0.0; 4];
    for (at, name) in
        ["left-box-fore", "right-box-fore", "left-box-rise", "right-box-rise"].iter().enumerate()
    {
        if let Some(v) = r.box_place(name) {
            boxes[at] = v.value();
        }
    }
    let left = AxlePosition { fore_m: boxes[0], rise_m: boxes[2] };
    let right = AxlePosition { fore_m: boxes[1], rise_m: boxes[3] };
    let axle = if left == right {
        AxleBoxes::alike(left)
    } else {
        AxleBoxes { left, right, box_centres_m: r.box_centres().unwrap_or(1.0) }
    };
    let tyre = engine.motion.sizes.get("tyre").and_then(|size| r.size(size));
    let lines = r.done(lines)?;
    let motion = Motion::new(&lines)?;
    Ok(Mechanism { motion, axle, tyre, notes: r.notes })
}

/// The clearance chain of one cylinder with the uncertainty of every size in it.
#[derive(Clone, Debug)]
pub struct ChainInputs {
    /// The chain at its values.
    pub chain: ClearanceChain,
    /// Every size with its uncertainty.
    pub values: Vec<(Contributor, Uncertain)>,
    /// What it rests on besides readings.
    pub notes: Notes,
}

/// The chain of one cylinder from the sizes as judged.
///
/// # Errors
/// Everything that is not described; sizes with which the crank cannot turn.
pub fn chain_of(judgement: &Judgement, cylinder: usize) -> Result<ChainInputs, NoAnswer> {
    chain_inputs(judgement.engine(), judgement.features(), cylinder)
}

/// One of a cylinder's other sizes (bore, crank-pin and so on), metres, from the sizes as judged.
///
/// # Errors
/// It is not described, or nobody knows a feature in it.
pub fn size_of(
    judgement: &Judgement,
    cylinder: usize,
    field: &'static str,
) -> Result<f64, NoAnswer> {
    let engine = judgement.engine();
    let c = &engine.motion.cylinders[cylinder];
    let mut r = Resolver::new(engine, judgement.features());
    let found = r.want(&c.sizes, field, &format!("cylinder {}", c.id), &record(c));
    r.done(found)?
        .map(|v| v.value())
        .ok_or_else(|| NoAnswer::one_missing(format!("{field} of {}", c.id), record(c)))
}

/// The chain of one cylinder from any sizes.
pub(crate) fn chain_inputs<S: Sizes + ?Sized>(
    engine: &Engine,
    sizes: &S,
    cylinder: usize,
) -> Result<ChainInputs, NoAnswer> {
    let c = &engine.motion.cylinders[cylinder];
    let mut r = Resolver::new(engine, sizes);
    let incline_rad = r.incline(c);
    let moved = ["left-box-fore", "right-box-fore", "left-box-rise", "right-box-rise"]
        .iter()
        .any(|n| engine.motion.sizes.contains_key(n));
    // The plane of the cylinder matters only where the boxes stand differently.
    let lateral = if moved { r.lateral(c) } else { Some(0.0) };
    let mut values = Vec::with_capacity(Contributor::COUNT);
    for contributor in Contributor::ALL {
        let value = match contributor {
            Contributor::AxleFore => {
                lateral.and_then(|y| r.axle_at(["left-box-fore", "right-box-fore"], y))
            }
            Contributor::AxleRise => {
                lateral.and_then(|y| r.axle_at(["left-box-rise", "right-box-rise"], y))
            }
            other => r.contributor(c, other),
        };
        if let Some(v) = value {
            values.push((contributor, v));
        }
    }
    let values = r.done(values)?;
    let mut chain = ChainSizes {
        incline_rad,
        cylinder_length_m: 0.0,
        front_cover_spigot_m: 0.0,
        back_cover_spigot_m: 0.0,
        front_joint_m: 0.0,
        back_joint_m: 0.0,
        piston_thickness_m: 0.0,
        cone_to_piston_m: 0.0,
        pin_to_cone_m: 0.0,
        rod_centres_m: 0.0,
        big_end_take_up_m: 0.0,
        small_end_take_up_m: 0.0,
        crank_throw_m: 0.0,
        line_offset_m: 0.0,
        axle_to_cylinder_m: 0.0,
        axle_fore_m: 0.0,
        axle_rise_m: 0.0,
        big_end_slack_m: 0.0,
        small_end_slack_m: 0.0,
        journal_slack_m: 0.0,
        horn_slack_m: 0.0,
    };
    for (contributor, v) in &values {
        // A clearance a hair below nothing is what two gauges make of none.
        let value = match contributor {
            Contributor::BigEndSlack
            | Contributor::SmallEndSlack
            | Contributor::JournalSlack
            | Contributor::HornSlack
                if v.value() < 0.0 && -v.value() <= 3.0 * v.standard_uncertainty() =>
            {
                r.notes.said.insert(format!(
                    "{} of {} reads below nothing, within its doubt: taken as nothing",
                    field_of(*contributor),
                    c.id
                ));
                0.0
            }
            _ => v.value(),
        };
        chain = chain.with(*contributor, value);
    }
    Ok(ChainInputs { chain: ClearanceChain::new(chain)?, values, notes: r.notes })
}

/// Features that have a say in the clearance of one cylinder.
pub(crate) fn chain_features(engine: &Engine, cylinder: usize) -> Vec<FeatureIx> {
    let model = &engine.motion;
    let own = model.cylinders[cylinder].chain.values();
    let boxes = ["left-box-fore", "right-box-fore", "left-box-rise", "right-box-rise"];
    let shared = boxes.iter().filter_map(|n| model.sizes.get(n));
    let mut out = Vec::new();
    for size in own.chain(shared) {
        out.extend(size.features.iter().map(|(_, f)| *f));
        for (_, j) in &size.joints {
            let joint = engine.joint(*j);
            out.extend([joint.inner, joint.outer]);
            out.extend(&joint.fills);
        }
    }
    out.sort_unstable();
    out.dedup();
    out
}
