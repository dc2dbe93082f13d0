//! The motion as described: checked against the engine, sizes still by name.

use crate::model::{ChainIx, Date, FeatureIx, GaugeIx, JointIx, Limit, MaterialIx, PartIx};
use mechanics::loads::FatigueCriterion;
use mechanics::motion::{Contributor, Float, Place};
use std::collections::BTreeMap;

/// A size said in words: written sizes, features, chains and joints added up.
///
/// A chain stands here as its terms. A joint stands for its clearance.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Size {
    /// As written.
    pub text: String,
    /// Sum of the written sizes, metres.
    pub written_m: f64,
    /// Half width of a plus and minus, metres, and its place in [`MotionModel::written`].
    pub doubt: Option<(f64, u32)>,
    /// Factor and feature.
    pub features: Vec<(f64, FeatureIx)>,
    /// Factor and joint.
    pub joints: Vec<(f64, JointIx)>,
}

/// A mass said in words: written masses and parts added up.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct MassSum {
    /// As written.
    pub text: String,
    /// Sum of the written masses, kg.
    pub written_kg: f64,
    /// Factor and part.
    pub parts: Vec<(f64, PartIx)>,
}

/// Numbers of [`MotionModel`] and [`Cylinder`] that are taken as they stand, by the name they have
/// in the file, in SI.
pub type Figures = BTreeMap<&'static str, f64>;
/// Sizes by the name they have in the file.
pub type Sizes = BTreeMap<&'static str, Size>;

/// Everything described about the motion.
#[derive(Clone, Debug, Default)]
pub struct MotionModel {
    /// tyre, box-centres, left-box-fore and so on.
    pub sizes: Sizes,
    /// pressure, mean-share, back-pressure and so on.
    pub figures: Figures,
    /// Material of the rods.
    pub rod_material: Option<MaterialIx>,
    /// Where the strength of the rods comes from.
    pub rod_source: String,
    /// Cylinders.
    pub cylinders: Vec<Cylinder>,
    /// Coupled axles.
    pub axles: Vec<Axle>,
    /// Turning masses.
    pub turning_masses: Vec<TurningMass>,
    /// Strength of parts under stress that comes and goes.
    pub fatigue: Vec<Fatigue>,
    /// Windows.
    pub reaches: Vec<Reach>,
    /// Bump marks.
    pub bumps: Vec<Bump>,
    /// Names of the sizes with a plus and minus.
    pub written: Vec<String>,
}

/// One cylinder.
#[derive(Clone, Debug)]
pub struct Cylinder {
    /// Id.
    pub id: String,
    /// Name.
    pub name: String,
    /// Where it sits.
    pub place: Place,
    /// Lag of its crank, radians.
    pub lag_rad: Option<f64>,
    /// Incline, radians.
    pub incline_rad: Option<f64>,
    /// Sizes of the clearance chain.
    pub chain: BTreeMap<Contributor, Size>,
    /// Other sizes by name: from-middle, bore, crank-pin and so on.
    pub sizes: Sizes,
    /// Other numbers by name: slide-friction and so on.
    pub figures: Figures,
    /// piston-mass, rod-mass, crank-mass.
    pub masses: BTreeMap<&'static str, MassSum>,
    /// slide-bars.
    pub joints: BTreeMap<&'static str, JointIx>,
    /// Chains that say the same as the front and the back clearance, told by the cylinder instead.
    pub told_chains: [Option<ChainIx>; 2],
    /// Limits of the front clearance.
    pub front_limits: Vec<Limit>,
    /// Limits of the back clearance.
    pub back_limits: Vec<Limit>,
}

/// A coupled axle.
#[derive(Clone, Debug)]
pub struct Axle {
    /// Id.
    pub id: String,
    /// The cylinders drive it.
    pub driven: bool,
    /// weight-plane, radii, coupling-rod and so on.
    pub sizes: Sizes,
    /// left-weight, right-weight, wheelset-mass, coupling-rod-mass.
    pub masses: BTreeMap<&'static str, MassSum>,
    /// left-box, right-box, left-coupling-bush, right-coupling-bush.
    pub joints: BTreeMap<&'static str, JointIx>,
    /// reciprocating-share, lags, wheel-load.
    pub figures: Figures,
}

/// A mass that turns with an axle.
#[derive(Clone, Debug)]
pub struct TurningMass {
    /// Id.
    pub id: String,
    /// Position of its axle in the list.
    pub axle: usize,
    /// Mass.
    pub mass: MassSum,
    /// Radius.
    pub radius: Size,
    /// Lag, radians.
    pub lag_rad: f64,
    /// From the engine's middle.
    pub from_middle: Size,
    /// Left of the middle.
    pub left: bool,
}

/// A part whose fatigue is judged.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FatiguePart {
    /// Shank of the connecting rod.
    ConnectingRod,
    /// Piston rod at its least section.
    PistonRod,
    /// Crank pin at its root.
    CrankPin,
    /// Shank of the coupling rods.
    CouplingRod,
}

impl FatiguePart {
    /// All of them.
    pub const ALL: [FatiguePart; 4] = [
        FatiguePart::ConnectingRod,
        FatiguePart::PistonRod,
        FatiguePart::CrankPin,
        FatiguePart::CouplingRod,
    ];

    /// The words for it.
    pub fn word(self) -> &'static str {
        match self {
            FatiguePart::ConnectingRod => "connecting rod",
            FatiguePart::PistonRod => "piston rod",
            FatiguePart::CrankPin => "crank pin",
            FatiguePart::CouplingRod => "coupling rod",
        }
    }
}

/// Strength of a part under stress that comes and goes.
#[derive(Clone, Debug)]
pub struct Fatigue {
    /// Id.
    pub id: String,
    /// Which part, in every cylinder alike.
    pub part: FatiguePart,
    /// diameter and arm.
    pub sizes: Sizes,
    /// ultimate, yield, endurance, concentration.
    pub figures: Figures,
    /// Which line counts as used up.
    pub criterion: Option<FatigueCriterion>,
    /// Where the figures come from.
    pub source: String,
}

/// From where a person gets at something.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum By {
    /// From the pit.
    Pit,
    /// From above, between the frames.
    Above,
    /// From the side.
    Side,
}

impl By {
    /// The word.
    pub fn word(self) -> &'static str {
        match self {
            By::Pit => "pit",
            By::Above => "above",
            By::Side => "side",
        }
    }
}

/// A window in which something can be got at.
#[derive(Clone, Debug)]
pub struct Reach {
    /// Joint or feature.
    pub to: String,
    /// Cylinder of the crank.
    pub cylinder: usize,
    /// From, past front dead centre, radians.
    pub from_rad: f64,
    /// Until, radians.
    pub until_rad: f64,
    /// From where.
    pub by: By,
    /// Remark.
    pub note: String,
}

/// Which mark of a bump test.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mark {
    /// Piston against the front cover.
    BumpFront,
    /// Front end of the stroke.
    FrontEnd,
    /// Back end of the stroke.
    BackEnd,
    /// Piston against the back cover.
    BumpBack,
}

impl Mark {
    /// All four, front to back.
    pub const ALL: [Mark; 4] = [Mark::BumpFront, Mark::FrontEnd, Mark::BackEnd, Mark::BumpBack];

    /// The words for it.
    pub fn word(self) -> &'static str {
        match self {
            Mark::BumpFront => "bump front",
            Mark::FrontEnd => "front end",
            Mark::BackEnd => "back end",
            Mark::BumpBack => "bump back",
        }
    }
}

/// One mark.
#[derive(Clone, Debug)]
pub struct Bump {
    /// Cylinder.
    pub cylinder: usize,
    /// Which.
    pub mark: Mark,
    /// Position, as written.
    pub text: String,
    /// Position, metres.
    pub at_m: f64,
    /// Gauge.
    pub gauge: GaugeIx,
    /// How the slack lay; `None` when it was not said.
    pub slack: Option<Float>,
    /// Person.
    pub by: String,
    /// Day.
    pub when: Option<Date>,
}

/// One end of a cylinder, or both.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// Towards the front cover.
    Front,
    /// Towards the back cover.
    Back,
}

impl End {
    /// The word.
    pub fn word(self) -> &'static str {
        match self {
            End::Front => "front",
            End::Back => "back",
        }
    }
}

impl MotionModel {
    /// Nothing was described.
    pub fn is_empty(&self) -> bool {
        self.cylinders.is_empty() && self.axles.is_empty()
    }

    /// The cylinder of this id, case and spacing aside.
    pub fn cylinder_by_id(&self, id: &str) -> Option<usize> {
        let plain = |t: &str| t.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
        self.cylinders.iter().position(|c| plain(&c.id) == plain(id))
    }

    /// The cylinder and end that tells what this chain says, where one does.
    pub fn teller_of(&self, chain: ChainIx) -> Option<(usize, End)> {
        self.cylinders.iter().enumerate().find_map(|(at, c)| {
            let end = c.told_chains.iter().position(|told| *told == Some(chain))?;
            Some((at, if end == 0 { End::Front } else { End::Back }))
        })
    }

    /// The cylinder and end a limit is on: `left`, `left front`, `left back`.
    pub(crate) fn ends_named(&self, name: &str) -> Option<(usize, Option<End>)> {
        if let Some(at) = self.cylinder_by_id(name) {
            return Some((at, None));
        }
        let (head, end) = name.trim().rsplit_once(char::is_whitespace)?;
        let end = match end.to_lowercase().as_str() {
            "front" => End::Front,
            "back" => End::Back,
            _ => return None,
        };
        self.cylinder_by_id(head).map(|at| (at, Some(end)))
    }

    pub(crate) fn put_limit(&mut self, (at, end): (usize, Option<End>), limit: &Limit) {
        let Some(cylinder) = self.cylinders.get_mut(at) else { return };
        if end != Some(End::Back) {
            cylinder.front_limits.push(limit.clone());
        }
        if end != Some(End::Front) {
            cylinder.back_limits.push(limit.clone());
        }
    }
}

impl Cylinder {
    /// Limits of one end.
    pub fn limits(&self, end: End) -> &[Limit] {
        match end {
            End::Front => &self.front_limits,
            End::Back => &self.back_limits,
        }
    }
}
