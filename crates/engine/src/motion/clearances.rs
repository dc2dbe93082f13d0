//! Piston clearances from the sizes as read: values, contributors, worst case, Monte Carlo,
//! verdicts.

use super::error::NoAnswer;
use super::mechanism::{ChainInputs, chain_features, chain_inputs};
use super::model::End;
use super::resolve::{AsMade, Notes};
use crate::judge::{Estimate, Judgement, LimitVerdict, Sizes, Source, Verdict, judge_limit};
use crate::model::{Engine, FeatureIx, When};
use mechanics::motion::{
    ClearanceRange, Contributor, Float, MonteCarlo, MonteCarloOptions, SharedError, Spread, Spreads,
};
use quantity::{SourceId, Uncertain};

/// Engines drawn, and from which seed: the same answer every time.
const ENGINES: usize = 200_000;
const SEED: u64 = 1;

/// One size's part in one clearance.
#[derive(Clone, Debug)]
pub struct Part {
    /// Which size.
    pub contributor: Contributor,
    /// Its value, metres.
    pub value_m: f64,
    /// Change of the clearance for a change of the size, m/m.
    pub partial: f64,
    /// Its standard uncertainty in the clearance, metres.
    pub u_m: f64,
    /// Its own standard uncertainty, metres.
    pub size_u_m: f64,
}

/// The clearance at one end.
#[derive(Clone, Debug)]
pub struct EndClearance {
    /// Which end.
    pub end: End,
    /// With every pin in the middle of its brasses.
    pub middle: Estimate,
    /// With all slack taken up towards this cover, metres.
    pub slack_up_m: f64,
    /// From the sizes on the drawing, metres, where there are all.
    pub as_made_m: Option<f64>,
    /// Sizes that contribute, the largest uncertainty first.
    pub parts: Vec<Part>,
    /// Sizes it rests on that nobody has gauged and that may not be taken as made. While there is
    /// one, no limit is judged: the clearance is that of the drawing, worn parts or not.
    pub ungauged: Vec<FeatureIx>,
    /// Verdict against every limit.
    pub limits: Vec<LimitVerdict>,
    /// Worst in service.
    pub verdict: Verdict,
    /// Worst when put back.
    pub refit_verdict: Verdict,
}

/// Both clearances of one cylinder.
#[derive(Clone, Debug)]
pub struct Clearances {
    /// Position of the cylinder in the engine's list.
    pub cylinder: usize,
    /// Front and back.
    pub ends: [EndClearance; 2],
    /// Correlation of the two.
    pub correlation: f64,
    /// Stroke, metres.
    pub stroke_m: f64,
    /// Least and greatest with every source at its limit.
    pub worst: ClearanceRange,
    /// By drawing engines.
    pub monte_carlo: MonteCarlo,
    /// The chain and its sizes.
    pub inputs: ChainInputs,
}

/// Both clearances of one cylinder against their limits, without drawing engines.
#[derive(Clone, Debug)]
pub struct PistonEnds {
    /// Position of the cylinder in the engine's list.
    pub cylinder: usize,
    /// Front and back.
    pub ends: [EndClearance; 2],
    /// Correlation of the two.
    pub correlation: f64,
    /// The chain and its sizes.
    pub inputs: ChainInputs,
}

/// Both clearances of one cylinder against their limits: what judging the engine needs.
///
/// # Errors
/// Everything that is not described; sizes with which the crank cannot turn.
pub fn piston_ends(judgement: &Judgement, cylinder: usize) -> Result<PistonEnds, NoAnswer> {
    let engine = judgement.engine();
    let inputs = chain_inputs(engine, judgement.features(), cylinder)?;
    let chain = inputs.chain;
    let values = at_ends(&inputs)?;
    let partials = chain.partials_at_dead_centres(Float::Middle)?;
    let forward = chain.at_dead_centres(Float::Forward)?;
    let back = chain.at_dead_centres(Float::Back)?;
    let as_made = chain_inputs(engine, &AsMade, cylinder).ok().and_then(|i| at_ends(&i).ok());
    let members = chain_features(engine, cylinder);
    let ungauged = inputs.notes.ungauged(engine);
    let lapsed = members.iter().any(|f| judgement.feature(*f).lapsed());
    let make = |at: usize| {
        let end = [End::Front, End::Back][at];
        let middle = Estimate::new(values[at].clone());
        let as_made_m = as_made.as_ref().map(|v| v[at].value());
        let limits: Vec<LimitVerdict> = engine.motion.cylinders[cylinder]
            .limits(end)
            .iter()
            .map(|l| {
                judge_limit(
                    engine,
                    l,
                    None,
                    Some(&middle).filter(|_| ungauged.is_empty()),
                    judgement.features(),
                    as_made_m,
                    &members,
                    lapsed,
                )
            })
            .collect();
        let worst_of = |when: &[When]| {
            limits
                .iter()
                .filter(|l| when.contains(&l.when))
                .map(|l| l.verdict)
                .min()
                .unwrap_or_default()
        };
        let mut parts: Vec<Part> = inputs
            .values
            .iter()
            .map(|(contributor, v)| {
                let partial = partials[at][*contributor];
                let u_m = (partial * v.standard_uncertainty()).abs();
                let size_u_m = v.standard_uncertainty();
                Part { contributor: *contributor, value_m: v.value(), partial, u_m, size_u_m }
            })
            // Spring travel is told even where it moves the clearance at second order alone, as on
            // a level line.
            .filter(|p| {
                let travel = p.contributor == Contributor::AxleRise && 0.0 < p.size_u_m;
                p.partial != 0.0 || travel
            })
            .collect();
        parts.sort_by(|a, b| b.u_m.total_cmp(&a.u_m).then(a.contributor.cmp(&b.contributor)));
        EndClearance {
            end,
            slack_up_m: if at == 0 { forward[0].front_m } else { back[1].back_m },
            as_made_m,
            parts,
            ungauged: ungauged.clone(),
            verdict: worst_of(&[When::Service]),
            refit_verdict: worst_of(&[When::Refit, When::Made]),
            limits,
            middle,
        }
    };
    Ok(PistonEnds {
        cylinder,
        ends: [make(0), make(1)],
        correlation: values[0].correlation(&values[1]),
        inputs,
    })
}

/// Clearances of one cylinder.
///
/// # Errors
/// Everything that is not described; sizes with which the crank cannot turn.
pub fn clearances(judgement: &Judgement, cylinder: usize) -> Result<Clearances, NoAnswer> {
    let engine = judgement.engine();
    let PistonEnds { ends, correlation, inputs, .. } = piston_ends(judgement, cylinder)?;
    let chain = inputs.chain;
    let spreads = spreads_of(&inputs);
    let worst = chain.worst_case(&spreads, Float::Middle)?;
    let least = |end: End| {
        let limits = engine.motion.cylinders[cylinder].limits(end);
        limits
            .iter()
            .filter(|l| l.when == When::Service)
            .filter_map(crate::model::Limit::min_si)
            .fold(0.0, f64::max)
    };
    let monte_carlo = chain.monte_carlo(
        &spreads,
        &MonteCarloOptions {
            engines: ENGINES,
            seed: SEED,
            threads: 1,
            float: Float::Middle,
            least_front_m: least(End::Front),
            least_back_m: least(End::Back),
        },
    )?;
    Ok(Clearances {
        cylinder,
        ends,
        correlation,
        stroke_m: chain.dead_centres(Float::Middle)?.stroke_m(),
        worst,
        monte_carlo,
        inputs,
    })
}

/// Front and back clearance with everything they share, at first order through the exact
/// derivatives.
pub(crate) fn at_ends(inputs: &ChainInputs) -> Result<[Uncertain; 2], NoAnswer> {
    let at = inputs.chain.at_dead_centres(Float::Middle)?;
    let partials = inputs.chain.partials_at_dead_centres(Float::Middle)?;
    let values = [at[0].front_m, at[1].back_m];
    Ok([0, 1].map(|k| {
        let terms: Vec<(f64, &Uncertain)> =
            inputs.values.iter().map(|(c, v)| (partials[k][*c], v)).collect();
        Uncertain::combine(values[k], &terms)
    }))
}

/// Both clearances under sizes someone proposes.
pub(crate) fn ends_under<S: Sizes + ?Sized>(
    engine: &Engine,
    sizes: &S,
    cylinder: usize,
) -> Result<([Uncertain; 2], Notes), NoAnswer> {
    let inputs = chain_inputs(engine, sizes, cylinder)?;
    Ok((at_ends(&inputs)?, inputs.notes))
}

/// Every source as one error shared by the sizes it enters, so that what two sizes have in common
/// is drawn once.
pub(crate) fn spreads_of(inputs: &ChainInputs) -> Spreads {
    let mut sources: Vec<SourceId> =
        inputs.values.iter().flat_map(|(_, v)| v.parts().iter().map(|(s, _)| *s)).collect();
    sources.sort_unstable();
    sources.dedup();
    let mut spreads = Spreads::exact();
    for source in sources {
        let enters: Vec<(Contributor, f64)> = inputs
            .values
            .iter()
            .map(|(c, v)| (*c, v.contribution(source)))
            .filter(|(_, k)| *k != 0.0)
            .collect();
        let standard_m = enters.iter().map(|(_, k)| k.abs()).fold(0.0, f64::max);
        if standard_m <= 0.0 || !standard_m.is_finite() {
            continue;
        }
        let enters: Vec<_> = enters.into_iter().map(|(c, k)| (c, k / standard_m)).collect();
        let spread = match Source::of(source) {
            // Limits of error of a gauge, of a drawing or as written: alike within.
            Some(Source::Gauge(_) | Source::Drawing(_) | Source::Written(_)) => {
                Spread::Uniform { half_width_m: standard_m * 3f64.sqrt() }
            }
            _ => Spread::Normal { standard_m, limit_m: 3.0 * standard_m },
        };
        // An error that is all the doubt of one size goes with that size, through the mechanism as
        // it is; what enters several sizes goes with each at first order.
        match enters.as_slice() {
            [(only, _)] if alone(inputs, *only) => spreads.set(*only, spread),
            _ => spreads.shared.push(SharedError { spread, enters }),
        }
    }
    spreads
}

/// The doubt of this size has one source.
fn alone(inputs: &ChainInputs, contributor: Contributor) -> bool {
    inputs.values.iter().any(|(c, v)| *c == contributor && v.parts().len() == 1)
}
