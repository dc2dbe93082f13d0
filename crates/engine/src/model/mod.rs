//! The engine: parts, features, joints, limits, gauges, chains, readings and decisions, checked
//! against one another.
//!
//! Everything refers to everything else by index ([`FeatureIx`] and its like), so that judging
//! never looks a name up.

mod build;
mod kinds;
mod names;
mod readings;

pub use build::{Built, build_engine};
pub use kinds::{
    Condition, FeatureKind, JointKind, LimitSource, Measure, Metal, RepairKind, Surface, Way, When,
};
pub use names::{ChainIx, FeatureIx, GaugeIx, JointIx, MaterialIx, PartIx, PersonIx};
pub use readings::{DIRECTION_UNSAID, Date, Reading, ReadingKind, STATION_UNSAID};

use quantity::Quantity;
use std::collections::HashMap;

/// One locomotive.
#[derive(Clone, Debug, Default)]
pub struct Engine {
    /// Name or number.
    pub name: String,
    /// Whose.
    pub railway: String,
    /// A remark.
    pub note: String,
    /// Pattern it was laid out from, if any.
    pub pattern: Option<String>,
    /// First day of this overhaul.
    pub overhaul_began: Option<Date>,
    /// Day on which it is judged: calibrations that have run out by then do not serve.
    pub today: Option<Date>,
    /// The workshop.
    pub workshop: Workshop,
    /// Materials.
    pub materials: Vec<Material>,
    /// Gauges.
    pub gauges: Vec<Gauge>,
    /// Parts.
    pub parts: Vec<Part>,
    /// Features.
    pub features: Vec<Feature>,
    /// Joints.
    pub joints: Vec<Joint>,
    /// Chains.
    pub chains: Vec<Chain>,
    /// People named in readings.
    pub people: Vec<String>,
    /// Readings, in the order they were given.
    pub readings: Vec<Reading>,
    /// Conditions found.
    pub findings: Vec<Finding>,
    /// Decisions made, oldest first.
    pub decisions: Vec<Decision>,
    /// Cylinders, cranks, axles and what else belongs to the motion.
    pub motion: crate::motion::MotionModel,
    /// What joints have to do, by joint.
    pub duties: HashMap<JointIx, crate::design::Duty>,
    /// Works of strip and build, their lifts, crew and kit, and what has been done.
    pub works: crate::works::WorksModel,
    pub(crate) index: NameIndex,
}

/// Names to indices.
#[derive(Clone, Debug, Default)]
pub(crate) struct NameIndex {
    pub(crate) materials: HashMap<String, MaterialIx>,
    pub(crate) gauges: HashMap<String, GaugeIx>,
    pub(crate) parts: HashMap<String, PartIx>,
    pub(crate) features: HashMap<String, FeatureIx>,
    pub(crate) joints: HashMap<String, JointIx>,
    pub(crate) chains: HashMap<String, ChainIx>,
    pub(crate) people: HashMap<String, PersonIx>,
}

impl Engine {
    /// The feature of this id.
    pub fn feature_by_id(&self, id: &str) -> Option<FeatureIx> {
        self.index.features.get(id).copied()
    }

    /// The joint of this id.
    pub fn joint_by_id(&self, id: &str) -> Option<JointIx> {
        self.index.joints.get(id).copied()
    }

    /// The part of this id.
    pub fn part_by_id(&self, id: &str) -> Option<PartIx> {
        self.index.parts.get(id).copied()
    }

    /// A part.
    pub fn part(&self, ix: PartIx) -> &Part {
        &self.parts[ix.index()]
    }

    /// The chain of this id.
    pub fn chain_by_id(&self, id: &str) -> Option<ChainIx> {
        self.index.chains.get(id).copied()
    }

    /// The gauge of this id.
    pub fn gauge_by_id(&self, id: &str) -> Option<GaugeIx> {
        self.index.gauges.get(id).copied()
    }

    /// A feature.
    pub fn feature(&self, ix: FeatureIx) -> &Feature {
        &self.features[ix.index()]
    }

    /// A joint.
    pub fn joint(&self, ix: JointIx) -> &Joint {
        &self.joints[ix.index()]
    }

    /// A chain.
    pub fn chain(&self, ix: ChainIx) -> &Chain {
        &self.chains[ix.index()]
    }

    /// A gauge.
    pub fn gauge(&self, ix: GaugeIx) -> &Gauge {
        &self.gauges[ix.index()]
    }

    /// The known name nearest to one that is not known, among features, joints and chains.
    pub fn nearest_id(&self, wanted: &str) -> Option<&str> {
        crate::problem::nearest(
            wanted,
            self.features
                .iter()
                .map(|f| f.id.as_str())
                .chain(self.joints.iter().map(|j| j.id.as_str()))
                .chain(self.chains.iter().map(|c| c.id.as_str())),
        )
    }

    pub(crate) fn person(&mut self, name: &str) -> PersonIx {
        if let Some(ix) = self.index.people.get(name) {
            return *ix;
        }
        let ix = PersonIx::new(self.people.len());
        self.people.push(name.to_owned());
        self.index.people.insert(name.to_owned(), ix);
        ix
    }
}

/// How well the workshop holds size, and what it takes for granted.
#[derive(Clone, Debug)]
pub struct Workshop {
    /// Standard deviation of a finished size by each way of working, metres.
    pub holds_m: [f64; Way::COUNT],
    /// Step between repair sizes, metres on diameter.
    pub repair_step_m: f64,
    /// Repair step as written, so that targets are printed in the workshop's own system.
    pub repair_step_text: String,
    /// Least cut that still cleans a surface, metres on diameter.
    pub least_cut_m: f64,
    /// Temperature when a reading gives none, degrees Celsius.
    pub temperature_c: f64,
    /// Standard uncertainty of that.
    pub temperature_doubt_k: f64,
    /// Standard uncertainty of a temperature that was read.
    pub thermometer_k: f64,
    /// Standard uncertainty of part minus gauge temperature.
    pub soak_doubt_k: f64,
    /// Confidence of verdicts, 0..1.
    pub confidence: f64,
    /// Share of the allowance left at which a thing is near its limit, 0..1.
    pub near: f64,
}

impl Workshop {
    /// Standard deviation of a finished size, metres.
    pub fn holds(&self, way: Way) -> f64 {
        self.holds_m[way as usize]
    }
}

impl Default for Workshop {
    /// Common practice, to be replaced by the workshop's own figures.
    fn default() -> Self {
        let mut holds_m = [0.0; Way::COUNT];
        for (way, m) in [
            (Way::Turning, 10e-6),
            (Way::Grinding, 5e-6),
            (Way::Boring, 12e-6),
            (Way::MetalBoring, 12e-6),
            (Way::Reaming, 6e-6),
            (Way::Planing, 20e-6),
            (Way::Filing, 25e-6),
        ] {
            holds_m[way as usize] = m;
        }
        Workshop {
            holds_m,
            repair_step_m: 0.25e-3,
            repair_step_text: "0.25 mm".to_owned(),
            least_cut_m: 0.10e-3,
            temperature_c: 15.0,
            temperature_doubt_k: 4.0,
            thermometer_k: 1.0,
            soak_doubt_k: 0.5,
            confidence: 0.95,
            near: 0.2,
        }
    }
}

/// A material.
#[derive(Clone, Debug)]
pub struct Material {
    /// Name.
    pub id: String,
    /// Linear expansion per kelvin.
    pub expansion_per_k: f64,
    /// Its standard uncertainty.
    pub expansion_doubt_per_k: f64,
    /// Density, if given.
    pub density_kg_m3: Option<f64>,
    /// Modulus of elasticity, if given.
    pub modulus_pa: Option<f64>,
    /// Poisson's ratio, if given.
    pub poisson: Option<f64>,
    /// Yield strength, or the stress a competent person allows, if given.
    pub yield_pa: Option<f64>,
    /// Where those three come from.
    pub strength_source: String,
    /// Where the figures come from.
    pub source: String,
}

/// An instrument.
#[derive(Clone, Debug)]
pub struct Gauge {
    /// Name or number on it.
    pub id: String,
    /// What it is.
    pub kind: String,
    /// Smallest reading, metres.
    pub from_m: Option<f64>,
    /// Largest reading, metres.
    pub to_m: Option<f64>,
    /// Its error lies within plus or minus this, metres.
    pub error_m: f64,
    /// Standard deviation of repeats when too few were taken to tell, metres.
    pub repeat_m: f64,
    /// Correction to add to what it shows, metres.
    pub correction_m: f64,
    /// Its own material.
    pub material: Option<MaterialIx>,
    /// Last calibration.
    pub calibrated: Option<Date>,
    /// When that runs out.
    pub due: Option<Date>,
}

/// A thing that can be lifted off and tagged.
#[derive(Clone, Debug)]
pub struct Part {
    /// Id.
    pub id: String,
    /// Name.
    pub name: String,
    /// Part it belongs to.
    pub inside: Option<PartIx>,
    /// left, right, or empty.
    pub side: String,
    /// Material.
    pub material: Option<MaterialIx>,
    /// Mass.
    pub mass: Option<Quantity>,
    /// Tag.
    pub tag: Option<String>,
    /// Where it lies.
    pub place: Option<String>,
}

/// A surface or distance that can be gauged.
#[derive(Clone, Debug)]
pub struct Feature {
    /// Id.
    pub id: String,
    /// Part it is on.
    pub part: PartIx,
    /// Kind.
    pub kind: FeatureKind,
    /// Name.
    pub name: String,
    /// Size when new.
    pub as_made: Option<Quantity>,
    /// Plus or minus, metres; zero when none was given.
    pub tolerance_m: f64,
    /// Size last time, as written.
    pub last: Option<Quantity>,
    /// Station names along the axis.
    pub stations: Vec<String>,
    /// Their places along the axis, metres.
    pub station_at_m: Vec<f64>,
    /// Never smaller than this.
    pub least: Option<Quantity>,
    /// Never larger than this.
    pub most: Option<Quantity>,
    /// Wears or not.
    pub surface: Surface,
    /// Ways it can be worked.
    pub can: Vec<Way>,
    /// Halves of a split bearing, the fixed one first.
    pub halves: Vec<FeatureIx>,
    /// Direction that closes when the joint faces are filed, radians.
    pub closes_at_rad: f64,
    /// Family of features best made to one size.
    pub family: Option<String>,
    /// Chains may take the size as made when there is no reading.
    pub assume_as_made: bool,
    /// Limits on the feature itself.
    pub limits: Vec<Limit>,
    /// Joints it is in.
    pub in_joints: Vec<JointIx>,
    /// Chains it is in.
    pub in_chains: Vec<ChainIx>,
}

/// Features that mate.
#[derive(Clone, Debug)]
pub struct Joint {
    /// Id.
    pub id: String,
    /// Kind.
    pub kind: JointKind,
    /// Name.
    pub name: String,
    /// Feature inside.
    pub inner: FeatureIx,
    /// Feature outside.
    pub outer: FeatureIx,
    /// Features that fill the space between.
    pub fills: Vec<FeatureIx>,
    /// Taper, diameter (or thickness) per length.
    pub taper: Option<f64>,
    /// Wedge: feature that says how far it stands, and its least and most, metres.
    pub stand: Option<WedgeStand>,
    /// Group of joints whose parts could be exchanged by mistake.
    pub group: Option<String>,
    /// Limits.
    pub limits: Vec<Limit>,
}

/// How far a wedge stands, and may stand.
#[derive(Clone, Copy, Debug)]
pub struct WedgeStand {
    /// Feature whose size is the stand.
    pub feature: FeatureIx,
    /// Least, metres: driven no further.
    pub least_m: f64,
    /// Most, metres.
    pub most_m: f64,
}

/// A functional distance through many features.
#[derive(Clone, Debug)]
pub struct Chain {
    /// Id.
    pub id: String,
    /// Name.
    pub name: String,
    /// Factor and feature.
    pub terms: Vec<(f64, FeatureIx)>,
    /// Wanted.
    pub as_made: Option<Quantity>,
    /// Limits.
    pub limits: Vec<Limit>,
}

/// What something may be, and who says so.
#[derive(Clone, Debug)]
pub struct Limit {
    /// Of what.
    pub measure: Measure,
    /// As made, when refitted, in service.
    pub when: When,
    /// Not less than.
    pub min: Option<Quantity>,
    /// Not more than.
    pub max: Option<Quantity>,
    /// Where it comes from.
    pub source: LimitSource,
    /// Reference.
    pub note: String,
}

impl Limit {
    /// Lower limit in SI.
    pub fn min_si(&self) -> Option<f64> {
        self.min.as_ref().map(Quantity::si)
    }

    /// Upper limit in SI.
    pub fn max_si(&self) -> Option<f64> {
        self.max.as_ref().map(Quantity::si)
    }
}

/// A condition found by eye, ear or dye.
#[derive(Clone, Debug)]
pub struct Finding {
    /// On this feature.
    pub feature: FeatureIx,
    /// What was found.
    pub condition: Condition,
    /// By whom.
    pub by: String,
    /// When.
    pub when: Option<Date>,
    /// In their words.
    pub note: String,
}

/// What will be done.
#[derive(Clone, Debug)]
pub struct Decision {
    /// To this joint.
    pub joint: JointIx,
    /// How.
    pub repair: RepairKind,
    /// Target sizes.
    pub make: Vec<Make>,
    /// Who decided.
    pub by: String,
    /// When.
    pub when: Option<Date>,
    /// Why.
    pub reason: String,
}

/// A size decided on.
#[derive(Clone, Debug)]
pub struct Make {
    /// Feature.
    pub feature: FeatureIx,
    /// Size.
    pub to: Quantity,
    /// Plus or minus.
    pub tolerance: Option<Quantity>,
}
