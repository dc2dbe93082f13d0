//! The whole engine judged, and judged again where a reading changed.
//!
//! What depends on what: readings -> feature -> its joints and chains; and the repeats taken with
//! a gauge -> every feature read with that gauge. [`Judgement::change`] follows these and touches
//! nothing else; the result is the same to the bit as judging afresh.

mod chain;
mod estimate;
mod feature;
mod joint;
mod limit;
mod prepare;
mod simulate;
mod source;
mod suspect;

pub use chain::ChainState;
pub use estimate::Estimate;
pub use feature::{Caution, FeatureState, Repeatability};
pub use joint::JointState;
pub use limit::{LimitVerdict, Verdict};
pub use simulate::Simulated;
pub use source::Source;
pub use suspect::{Suspicion, Why};

pub(crate) use chain::length_of;
pub(crate) use joint::{Sizes, measures_of, members};
pub(crate) use limit::{judge_limit, stated};

use crate::model::{ChainIx, Condition, Engine, FeatureIx, GaugeIx, JointIx, Reading};
use crate::side_by_side::each;

/// From here on the features are judged side by side, each by itself: what comes of it is the same.
const MANY_READINGS: usize = 20_000;

/// An engine with everything judged.
#[derive(Clone, Debug)]
pub struct Judgement {
    engine: Engine,
    rows: Vec<Vec<u32>>,
    conditions: Vec<Vec<Condition>>,
    pooled: Vec<Repeatability>,
    features: Vec<FeatureState>,
    joints: Vec<JointState>,
    chains: Vec<ChainState>,
    swaps: Vec<Swap>,
}

/// Parts of one group that seem to have been made to, or put with, each other's places.
#[derive(Clone, Debug, PartialEq)]
pub struct Swap {
    /// The joint whose inner part does not suit its place.
    pub joint: JointIx,
    /// The joint whose place that part would suit.
    pub suits: JointIx,
    /// Interference or clearance it has now, metres (interference positive).
    pub now_m: f64,
    /// And would have there.
    pub there_m: f64,
}

/// What was judged again after a change.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Rejudged {
    /// Features.
    pub features: Vec<FeatureIx>,
    /// Joints.
    pub joints: Vec<JointIx>,
    /// Chains.
    pub chains: Vec<ChainIx>,
}

/// A change to the readings.
#[derive(Clone, Debug)]
pub enum Change {
    /// One more reading.
    Add(Reading),
    /// The figure of the reading at this position becomes another.
    Correct(u32, Reading),
    /// The reading at this position no longer counts.
    StrikeOut(u32),
}

impl Judgement {
    /// Judges a whole engine.
    pub fn of(engine: Engine) -> Judgement {
        let mut rows = vec![Vec::new(); engine.features.len()];
        for (i, r) in engine.readings.iter().enumerate() {
            rows[r.feature.index()].push(i as u32);
        }
        let mut conditions = vec![Vec::new(); engine.features.len()];
        for f in &engine.findings {
            conditions[f.feature.index()].push(f.condition);
        }
        let mut pooled = vec![Repeatability::default(); engine.gauges.len()];
        let apart = engine.readings.len() >= MANY_READINGS;
        let repeats = each(rows.len(), apart, &|i| feature::repeats_of(&engine, &rows[i]));
        for (gauge, repeats) in repeats.iter().flatten() {
            pool(&mut pooled[gauge.index()], *repeats);
        }
        let mut judgement = Judgement {
            features: Vec::new(),
            joints: Vec::with_capacity(engine.joints.len()),
            chains: Vec::with_capacity(engine.chains.len()),
            swaps: Vec::new(),
            rows,
            conditions,
            pooled,
            engine,
        };
        judgement.features = each(repeats.len(), apart, &|i| {
            judgement.judge_feature_with(FeatureIx::new(i), repeats[i].clone())
        });
        for i in 0..judgement.engine.joints.len() {
            let state = joint::judge_joint(&judgement.engine, JointIx::new(i), &judgement.features);
            judgement.joints.push(state);
        }
        for i in 0..judgement.engine.chains.len() {
            let state = chain::judge_chain(&judgement.engine, ChainIx::new(i), &judgement.features);
            judgement.chains.push(state);
        }
        judgement.swaps = suspect::swaps(&judgement.engine, &judgement.features, &judgement.joints);
        judgement
    }

    fn judge_feature(&self, ix: FeatureIx) -> FeatureState {
        let repeats = feature::repeats_of(&self.engine, &self.rows[ix.index()]);
        self.judge_feature_with(ix, repeats)
    }

    fn judge_feature_with(
        &self,
        ix: FeatureIx,
        repeats: Vec<(GaugeIx, Repeatability)>,
    ) -> FeatureState {
        feature::judge_feature(
            &self.engine,
            ix,
            &self.rows[ix.index()],
            &self.pooled,
            repeats,
            &self.conditions[ix.index()],
        )
    }

    /// Changes one reading and judges again what depends on it, and nothing else.
    ///
    /// # Errors
    /// The reading does not exist, or belongs to another feature than the one it corrects.
    pub fn change(&mut self, change: Change) -> Result<Rejudged, String> {
        let feature = match change {
            Change::Add(reading) => {
                let feature = reading.feature;
                if feature.index() >= self.engine.features.len() {
                    return Err("this reading is of a feature the engine does not have".to_owned());
                }
                self.rows[feature.index()].push(self.engine.readings.len() as u32);
                self.engine.readings.push(reading);
                feature
            }
            Change::Correct(at, reading) => {
                let slot = self
                    .engine
                    .readings
                    .get_mut(at as usize)
                    .ok_or_else(|| format!("there is no reading number {at}"))?;
                if slot.feature != reading.feature {
                    return Err("a correction may not move a reading to another feature; strike it out and add it there".to_owned());
                }
                *slot = reading;
                slot.feature
            }
            Change::StrikeOut(at) => {
                let slot = self
                    .engine
                    .readings
                    .get_mut(at as usize)
                    .ok_or_else(|| format!("there is no reading number {at}"))?;
                slot.struck = true;
                slot.feature
            }
        };
        Ok(self.rejudge(feature))
    }

    fn rejudge(&mut self, changed: FeatureIx) -> Rejudged {
        let before = std::mem::take(&mut self.features[changed.index()].repeats);
        let now = feature::repeats_of(&self.engine, &self.rows[changed.index()]);
        let mut touched: Vec<GaugeIx> = Vec::new();
        if before != now {
            let mut gauges: Vec<GaugeIx> = before.iter().chain(&now).map(|(g, _)| *g).collect();
            gauges.sort_unstable();
            gauges.dedup();
            for gauge in gauges {
                let fresh = self.pool_again(gauge, changed, &now);
                if fresh.of_one(0.0) != self.pooled[gauge.index()].of_one(0.0) {
                    touched.push(gauge);
                }
                self.pooled[gauge.index()] = fresh;
            }
        }
        let features: Vec<FeatureIx> = (0..self.engine.features.len())
            .map(FeatureIx::new)
            .filter(|ix| *ix == changed || self.read_with(*ix, &touched))
            .collect();
        let mut joints = Vec::<JointIx>::new();
        let mut chains = Vec::<ChainIx>::new();
        for ix in &features {
            self.features[ix.index()] = self.judge_feature(*ix);
            joints.extend(&self.engine.feature(*ix).in_joints);
            chains.extend(&self.engine.feature(*ix).in_chains);
        }
        joints.sort_unstable();
        joints.dedup();
        chains.sort_unstable();
        chains.dedup();
        for ix in &joints {
            self.joints[ix.index()] = joint::judge_joint(&self.engine, *ix, &self.features);
        }
        for ix in &chains {
            self.chains[ix.index()] = chain::judge_chain(&self.engine, *ix, &self.features);
        }
        if joints.iter().any(|j| self.engine.joint(*j).group.is_some()) {
            self.swaps = suspect::swaps(&self.engine, &self.features, &self.joints);
        }
        Rejudged { features, joints, chains }
    }

    /// The pool of one gauge summed afresh in the order of the features, so that the sum is the
    /// same to the bit as in a first judging.
    fn pool_again(
        &self,
        gauge: GaugeIx,
        changed: FeatureIx,
        now: &[(GaugeIx, Repeatability)],
    ) -> Repeatability {
        let mut fresh = Repeatability::default();
        for (i, state) in self.features.iter().enumerate() {
            let repeats = if i == changed.index() { now } else { state.repeats.as_slice() };
            for (g, r) in repeats {
                if *g == gauge {
                    pool(&mut fresh, *r);
                }
            }
        }
        fresh
    }

    fn read_with(&self, ix: FeatureIx, gauges: &[GaugeIx]) -> bool {
        !gauges.is_empty()
            && self.rows[ix.index()].iter().any(|r| {
                self.engine.readings[*r as usize].gauge.is_some_and(|g| gauges.contains(&g))
            })
    }

    /// This judgement with features of other sizes, and what they are in judged again. Their form
    /// stays as read: for asking what would be, never for a verdict on a feature itself.
    pub(crate) fn with_sizes<'a>(
        &self,
        sizes: impl Iterator<Item = (FeatureIx, &'a quantity::Uncertain)>,
    ) -> Judgement {
        let mut other = self.clone();
        let (mut joints, mut chains) = (Vec::<JointIx>::new(), Vec::<ChainIx>::new());
        for (ix, value) in sizes {
            let to = Some(Estimate::new(value.clone()));
            let state = &mut other.features[ix.index()];
            (state.size, state.largest, state.smallest) = (to.clone(), to.clone(), to);
            (state.along_and_across, state.missing) = (None, None);
            joints.extend(&self.engine.feature(ix).in_joints);
            chains.extend(&self.engine.feature(ix).in_chains);
        }
        joints.sort_unstable();
        joints.dedup();
        chains.sort_unstable();
        chains.dedup();
        for ix in joints {
            other.joints[ix.index()] = joint::judge_joint(&other.engine, ix, &other.features);
        }
        for ix in chains {
            other.chains[ix.index()] = chain::judge_chain(&other.engine, ix, &other.features);
        }
        other
    }

    /// The engine judged.
    pub fn engine(&self) -> &Engine {
        &self.engine
    }

    /// Lets a person record a decision or finding without judging afresh what it cannot change.
    pub fn into_engine(self) -> Engine {
        self.engine
    }

    /// What the readings of a feature say.
    pub fn feature(&self, ix: FeatureIx) -> &FeatureState {
        &self.features[ix.index()]
    }

    /// All features, in the engine's order.
    pub fn features(&self) -> &[FeatureState] {
        &self.features
    }

    /// What a joint says.
    pub fn joint(&self, ix: JointIx) -> &JointState {
        &self.joints[ix.index()]
    }

    /// All joints, in the engine's order.
    pub fn joints(&self) -> &[JointState] {
        &self.joints
    }

    /// What a chain comes to.
    pub fn chain(&self, ix: ChainIx) -> &ChainState {
        &self.chains[ix.index()]
    }

    /// All chains, in the engine's order.
    pub fn chains(&self) -> &[ChainState] {
        &self.chains
    }

    /// Verdicts on a feature's own limits, for features that stand in no joint.
    pub(crate) fn loose_limits(&self, ix: FeatureIx) -> Vec<LimitVerdict> {
        let mut out = Vec::new();
        joint::feature_limits(&self.engine, ix, &self.features, &mut out);
        out
    }

    /// Readings of a feature, as positions in the engine's list.
    pub fn rows(&self, ix: FeatureIx) -> &[u32] {
        &self.rows[ix.index()]
    }

    /// The readings of a feature that counted, each at 20 degC: position in the engine's list,
    /// size in metres, and the standard deviation of one such reading.
    pub(crate) fn counted_sizes(&self, ix: FeatureIx) -> Vec<(u32, f64, f64)> {
        let feature = self.engine.feature(ix);
        self.feature(ix)
            .counted
            .iter()
            .filter_map(|row| prepare::prepare(&self.engine, feature, *row, &self.pooled))
            .map(|p| (p.reading, p.size_m, p.own_variance_m2.sqrt()))
            .collect()
    }

    /// Parts that seem to have changed places.
    pub fn swaps(&self) -> &[Swap] {
        &self.swaps
    }

    /// Pooled repeatability of a gauge.
    pub fn repeatability(&self, ix: GaugeIx) -> Repeatability {
        self.pooled[ix.index()]
    }

    /// Joints, worst first: beyond, near, cannot tell, within; in each the smallest share of the
    /// way to the limit left first.
    pub fn worst_first(&self) -> Vec<JointIx> {
        let mut order: Vec<JointIx> = (0..self.joints.len()).map(JointIx::new).collect();
        order.sort_by(|a, b| {
            let (ja, jb) = (self.joint(*a), self.joint(*b));
            ja.verdict.cmp(&jb.verdict).then(urgency(ja).total_cmp(&urgency(jb))).then(a.cmp(b))
        });
        order
    }
}

/// Smallest margin of a joint in units of its limit's own size; the smaller the more urgent.
fn urgency(joint: &JointState) -> f64 {
    joint
        .limits
        .iter()
        .filter(|l| l.when == crate::model::When::Service && l.margin_si.is_finite())
        .map(|l| {
            let scale = l.max_si.or(l.min_si).map_or(1.0, |s| s.abs().max(1e-6));
            l.margin_si / scale
        })
        .fold(f64::INFINITY, f64::min)
}

fn pool(into: &mut Repeatability, repeats: Repeatability) {
    into.sum_of_squares_m2 += repeats.sum_of_squares_m2;
    into.degrees_of_freedom += repeats.degrees_of_freedom;
}
