//! Spread of the piston clearance by drawing engines.

use super::ziggurat::{Normal, open_unit};
use super::{Bound, ChainSizes, ClearanceChain, Contributor, Float, MotionError, Spread, Spreads};
use rand::SeedableRng;
use rand_xoshiro::Xoshiro256PlusPlus;

/// What a Monte Carlo run is to do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MonteCarloOptions {
    /// Engines to draw, 100 to 20 000 000.
    pub engines: usize,
    /// Seed: the same seed gives the same engines, whatever the number of threads.
    pub seed: u64,
    /// Threads, 1 to 64.
    pub threads: usize,
    /// Where the slack lies.
    pub float: Float,
    /// Least front clearance that is wanted, m.
    pub least_front_m: f64,
    /// Least back clearance that is wanted, m.
    pub least_back_m: f64,
}

/// One clearance over all the engines drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MonteCarloSide {
    /// Mean, m.
    pub mean_m: f64,
    /// Standard deviation, m.
    pub standard_m: f64,
    /// 2.5 % of the engines have less, m.
    pub low_m: f64,
    /// Half of the engines have less, m.
    pub median_m: f64,
    /// 2.5 % of the engines have more, m.
    pub high_m: f64,
    /// Share of the engines with less than the wanted least clearance.
    pub below_least: f64,
    /// Standard uncertainty of that share from the number of engines alone, by the rule of
    /// Agresti and Coull so that a count of none does not claim certainty.
    pub below_least_standard: f64,
}

/// Both clearances at the dead centres over all the engines drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MonteCarlo {
    /// Engines drawn.
    pub engines: usize,
    /// Front clearance at the front dead centre.
    pub front: MonteCarloSide,
    /// Back clearance at the back dead centre.
    pub back: MonteCarloSide,
}

impl ClearanceChain {
    /// Draws engines from the spreads and looks at both clearances at their dead centres.
    ///
    /// Equation: exact clearances of [`ClearanceChain::at_dead_centres`] on sizes drawn from the
    /// spreads (JCGM 101:2008, clause 7), ziggurat normal deviates on xoshiro256++.
    /// Units: m. A size drawn past its limit by a normal spread is kept.
    ///
    /// # Errors
    /// Options out of range; a spread not finite or negative; [`MotionError::SpreadTooWide`] when
    /// an engine drawn cannot turn.
    pub fn monte_carlo(
        &self,
        spreads: &Spreads,
        options: &MonteCarloOptions,
    ) -> Result<MonteCarlo, MotionError> {
        const LEAST: Bound = Bound::new("least clearance wanted", "m", -0.1, 0.5);
        spreads.check()?;
        let count = |what, count, low, high| {
            if count < low || high < count {
                Err(MotionError::Count { what, count, low, high })
            } else {
                Ok(count)
            }
        };
        let engines = count("engines to draw", options.engines, 100, 20_000_000)?;
        let threads = count("threads", options.threads, 1, 64)?;
        let least = [LEAST.check(options.least_front_m)?, LEAST.check(options.least_back_m)?];

        let draw = Draw::new(&self.sizes, spreads, options.float);
        let mut front = vec![0.0; engines];
        let mut back = vec![0.0; engines];
        let mut stream = Xoshiro256PlusPlus::seed_from_u64(options.seed);
        let mut batches = Vec::with_capacity(engines.div_ceil(BATCH));
        for (f, b) in front.chunks_mut(BATCH).zip(back.chunks_mut(BATCH)) {
            batches.push((stream.clone(), f, b));
            stream.jump();
        }
        let share = batches.len().div_ceil(threads);
        std::thread::scope(|scope| {
            for part in batches.chunks_mut(share) {
                let draw = &draw;
                scope.spawn(move || {
                    for (rng, f, b) in part {
                        draw.fill(rng, f, b);
                    }
                });
            }
        });
        Ok(MonteCarlo {
            engines,
            front: side(&mut front, least[0])?,
            back: side(&mut back, least[1])?,
        })
    }
}

impl Spread {
    #[inline]
    fn sample(self, normal: &Normal, rng: &mut Xoshiro256PlusPlus) -> f64 {
        match self {
            Self::Exact => 0.0,
            Self::Normal { standard_m, .. } => standard_m * normal.sample(rng),
            Self::Uniform { half_width_m } => half_width_m * (2.0 * open_unit(rng) - 1.0),
            Self::Triangular { half_width_m } => half_width_m * (open_unit(rng) - open_unit(rng)),
        }
    }
}

/// The few sums through which all sizes reach the clearances at the dead centres.
const SUMS: usize = 7;
const ROD: usize = 0;
const THROW: usize = 1;
const OFFSET: usize = 2;
const FORE: usize = 3;
const RISE: usize = 4;
const FRONT_COVER: usize = 5;
const BACK_COVER: usize = 6;

fn enters(contributor: Contributor, float: Float) -> [f64; SUMS] {
    use Contributor as C;
    let half = match float {
        Float::Middle => 0.0,
        Float::Forward => 0.5,
        Float::Back => -0.5,
    };
    let mut k = [0.0; SUMS];
    match contributor {
        C::RodCentres | C::BigEndTakeUp | C::SmallEndTakeUp => k[ROD] = 1.0,
        C::BigEndSlack | C::SmallEndSlack | C::JournalSlack => k[ROD] = half,
        C::CrankThrow => k[THROW] = 1.0,
        C::LineOffset => k[OFFSET] = 1.0,
        C::AxleFore => k[FORE] = 1.0,
        C::HornSlack => k[FORE] = half,
        C::AxleRise => k[RISE] = 1.0,
        C::CylinderLength | C::FrontJoint => k[FRONT_COVER] = 1.0,
        C::FrontCoverSpigot | C::PistonThickness => k[FRONT_COVER] = -1.0,
        C::BackCoverSpigot => k[BACK_COVER] = 1.0,
        C::BackJoint => k[BACK_COVER] = -1.0,
        C::ConeToPiston | C::PinToCone => {
            k[FRONT_COVER] = -1.0;
            k[BACK_COVER] = -1.0;
        }
        C::AxleToCylinder => {
            k[FRONT_COVER] = 1.0;
            k[BACK_COVER] = 1.0;
        }
    }
    k
}

fn nominal_sums(sizes: &ChainSizes, float: Float) -> [f64; SUMS] {
    let values = sizes.to_array();
    let mut sums = [0.0; SUMS];
    for (c, value) in Contributor::ALL.into_iter().zip(values) {
        for (sum, k) in sums.iter_mut().zip(enters(c, float)) {
            *sum += k * value;
        }
    }
    sums
}

/// Engines drawn together; every batch has its own stretch of the random sequence.
const BATCH: usize = 4096;

/// One source of spread: how it is drawn, and the sums it enters.
struct Source {
    spread: Spread,
    sums: Vec<(usize, f64)>,
}

struct Draw {
    sources: Vec<Source>,
    nominal: [f64; SUMS],
    sin: f64,
    cos: f64,
    normal: Normal,
}

impl Draw {
    fn new(sizes: &ChainSizes, spreads: &Spreads, float: Float) -> Self {
        let source = |spread: Spread, k: [f64; SUMS]| Source {
            spread,
            sums: k.into_iter().enumerate().filter(|(_, k)| *k != 0.0).collect(),
        };
        let own = Contributor::ALL.into_iter().map(|c| source(spreads.of(c), enters(c, float)));
        let shared = spreads.shared.iter().map(|s| {
            let mut total = [0.0; SUMS];
            for (c, share) in &s.enters {
                for (t, k) in total.iter_mut().zip(enters(*c, float)) {
                    *t += share * k;
                }
            }
            source(s.spread, total)
        });
        let (sin, cos) = sizes.incline_rad.sin_cos();
        Self {
            sources: own
                .chain(shared)
                .filter(|s| s.spread.standard_m() != 0.0 && !s.sums.is_empty())
                .collect(),
            nominal: nominal_sums(sizes, float),
            sin,
            cos,
            normal: Normal::new(),
        }
    }

    fn fill(&self, rng: &mut Xoshiro256PlusPlus, front: &mut [f64], back: &mut [f64]) {
        let n = front.len();
        let mut sums = self.nominal.map(|v| vec![v; n]);
        let mut drawn = vec![0.0; n];
        for source in &self.sources {
            for v in &mut drawn {
                *v = source.spread.sample(&self.normal, rng);
            }
            for (k, share) in &source.sums {
                for (sum, v) in sums[*k].iter_mut().zip(&drawn) {
                    *sum += share * v;
                }
            }
        }
        let [rod, throw, offset, fore, rise, front_cover, back_cover] = &sums;
        for i in 0..n {
            let along = fore[i] * self.cos + rise[i] * self.sin;
            let e = offset[i] - (rise[i] * self.cos - fore[i] * self.sin);
            let (out, folded) = (rod[i] + throw[i], rod[i] - throw[i]);
            front[i] = front_cover[i] - (along + ((out - e) * (out + e)).sqrt());
            back[i] = along + ((folded - e) * (folded + e)).sqrt() - back_cover[i];
        }
    }
}

fn side(values: &mut [f64], least_m: f64) -> Result<MonteCarloSide, MotionError> {
    let n = values.len() as f64;
    let mean_m = values.iter().sum::<f64>() / n;
    // A size with which the crank cannot turn makes the root of a negative number, a NaN, and so
    // a mean that is none.
    if !mean_m.is_finite() {
        return Err(MotionError::SpreadTooWide);
    }
    let squares = values.iter().map(|v| (v - mean_m) * (v - mean_m)).sum::<f64>();
    let below = values.iter().filter(|v| **v < least_m).count() as f64;
    // Two successes and two failures added (Agresti & Coull 1998).
    let share = (below + 2.0) / (n + 4.0);
    let mut quantile = |p: f64| {
        let at = ((p * n) as usize).min(values.len() - 1);
        *values.select_nth_unstable_by(at, f64::total_cmp).1
    };
    Ok(MonteCarloSide {
        mean_m,
        standard_m: (squares / (n - 1.0)).sqrt(),
        low_m: quantile(0.025),
        median_m: quantile(0.5),
        high_m: quantile(0.975),
        below_least: below / n,
        below_least_standard: (share * (1.0 - share) / (n + 4.0)).sqrt(),
    })
}
