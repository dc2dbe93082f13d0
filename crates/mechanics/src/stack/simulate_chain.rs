//! Monte Carlo of a linear chain.

use fearless_simd::{Level, dispatch, prelude::*};

use super::StackError;
use super::block::BLOCK;
use super::chain::{Chain, named};
use super::outcome::Outcome;
use super::sampler::{Sampler, add_draws};
use super::source::Source;
use super::tally::{BINS, Departures, Histogram, Moments, UnitSums};
use super::workers::{Simulation, share_out};

/// Standard deviations from the mean to which the first histogram reaches.
pub(super) const REACH: f64 = 8.0;

/// Draws a chain from the distributions of its terms, taken as independent.
///
/// Equation: `value = constant + Σ factor · x`, every x drawn anew each time. Source: JCGM
/// 101:2008 clauses 6 and 7. The mean is computed about the chain's exact mean, so differences
/// between simulation and exact mean are those of the draws alone.
///
/// Accuracy: standard errors fall with the root of the number of draws and are given with each
/// result. Worked value: JCGM 101:2008 9.2.3, four rectangular terms of unit standard deviation:
/// standard deviation 2.00, 95 % within ±3.88.
///
/// # Errors
/// As [`Chain::root_sum_square`]; draws outside 1000 to 10¹²; limits crossed or not finite.
///
/// # Example
/// ```
/// use mechanics::stack::{Chain, Simulation, Spread, Term, simulate_chain};
/// let side = |factor, centre| Term {
///     factor,
///     centre,
///     spread: Spread::Rectangular { half_width: 0.1 },
///     limits: None,
/// };
/// let gap = Chain { constant: 0.0, terms: vec![side(1.0, 50.3), side(-1.0, 50.0)] };
/// let outcome = simulate_chain(&gap, &Simulation { min: Some(0.15), ..Simulation::new(100_000, 7) })?;
/// // The difference of two equal rectangles is triangular: a chance of 1/32 below 0.15.
/// let inside = outcome.inside.unwrap();
/// assert!((inside.inside() - 31.0 / 32.0).abs() < 4.0 * inside.standard_error());
/// # Ok::<(), mechanics::stack::StackError>(())
/// ```
pub fn simulate_chain(chain: &Chain, simulation: &Simulation) -> Result<Outcome, StackError> {
    simulate_at(chain, simulation, Level::new())
}

pub(super) fn simulate_at(
    chain: &Chain,
    simulation: &Simulation,
    level: Level,
) -> Result<Outcome, StackError> {
    simulation.check()?;
    let exact = chain.root_sum_square()?;
    let samplers = chain
        .terms
        .iter()
        .enumerate()
        .map(|(index, term)| {
            let offset = term.spread.mean_offset().map_err(|e| named(index, e))?;
            Ok(Sampler::new(&term.spread, term.factor, offset))
        })
        .collect::<Result<Vec<_>, StackError>>()?;
    let limits = simulation.departures(exact.mean);
    let gathered =
        share_out(simulation, bin_width(exact.standard_deviation), |number, draws, histogram| {
            let unit = Unit { samplers: &samplers, seed: simulation.seed, number, draws, limits };
            (dispatch!(level, simd => run_unit(simd, &unit, histogram)), ())
        })?;
    Ok(Outcome::new(exact.mean, &gathered.moments, gathered.histogram, simulation.limits()))
}

/// Width of the first bins for a spread; any width will do if nothing scatters.
pub(super) fn bin_width(sd: f64) -> f64 {
    let width = 2.0 * REACH * sd / BINS as f64;
    if width.is_normal() { width } else { 1.0 }
}

struct Unit<'a> {
    samplers: &'a [Sampler],
    seed: u64,
    number: u64,
    draws: u64,
    limits: Departures,
}

#[inline(always)]
fn run_unit<S: Simd>(simd: S, unit: &Unit<'_>, histogram: &mut Histogram) -> Moments {
    let mut source = Source::new(simd, unit.seed, unit.number);
    let mut sums = UnitSums::new(simd);
    let mut left = unit.draws;
    while left > 0 {
        let mut block = [0.0; BLOCK];
        for sampler in unit.samplers {
            add_draws(&mut source, sampler, &mut block);
        }
        let used = left.min(BLOCK as u64);
        sums.tally(simd, &block, used as usize, unit.limits, histogram);
        left -= used;
    }
    sums.finish()
}
