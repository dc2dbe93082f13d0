//! Worst case of the piston clearance: exact over the whole box of sizes, not only its corners.

use super::clearance_spread::Spreads;
use super::{ClearanceChain, Contributor, Float, MotionError, SliderCrank};

/// Least and greatest of each clearance when every size may be anywhere inside its limits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClearanceRange {
    /// Least front clearance at the front dead centre, m.
    pub front_least_m: f64,
    /// Greatest front clearance at the front dead centre, m.
    pub front_greatest_m: f64,
    /// Least back clearance at the back dead centre, m.
    pub back_least_m: f64,
    /// Greatest back clearance at the back dead centre, m.
    pub back_greatest_m: f64,
}

// Own derivation. Both clearances are sums of single sizes and of the dead-centre position
//
//   S = dx cos b + dz sin b ± ... = along + sqrt(R² - e²),  R = l' + r (front) or l' - r (back),
//   e = h - (dz cos b - dx sin b)
//
// which grows with R alone and is concave in (h, dx, dz): a linear term plus a concave function of
// a linear one. A concave function over a box has its least value at a corner (8 are tried); its
// greatest is found by going to the best point along h, dx, dz in turn, which settles because the
// function is smooth and the box has axis-parallel sides. Best point along a coordinate where e
// changes at rate k and the linear term at rate m:  m = k e/sqrt(R² - e²), so
// e = R m/sqrt(m² + k²) times the sign of k.
struct Ends {
    reach: [f64; 2],
    low: [f64; 3],
    high: [f64; 3],
    /// Rate of the linear term by h, dx, dz.
    along: [f64; 3],
    /// Rate of `e` by h, dx, dz.
    offset: [f64; 3],
}

impl Ends {
    fn value(&self, reach: f64, p: [f64; 3]) -> f64 {
        let dot = |k: &[f64; 3]| k[0] * p[0] + k[1] * p[1] + k[2] * p[2];
        let e = dot(&self.offset);
        dot(&self.along) + ((reach - e) * (reach + e)).sqrt()
    }

    fn least(&self) -> f64 {
        (0..8)
            .map(|corner| {
                let pick = |i: usize| if corner >> i & 1 == 0 { self.low[i] } else { self.high[i] };
                self.value(self.reach[0], [pick(0), pick(1), pick(2)])
            })
            .fold(f64::INFINITY, f64::min)
    }

    fn greatest(&self) -> Result<f64, MotionError> {
        const ROUNDS: usize = 200;
        let reach = self.reach[1];
        let mut p: [f64; 3] = std::array::from_fn(|i| 0.5 * (self.low[i] + self.high[i]));
        let mut best = self.value(reach, p);
        for _ in 0..ROUNDS {
            for i in 0..3 {
                let (m, k) = (self.along[i], self.offset[i]);
                let wanted = if k == 0.0 {
                    if m < 0.0 { self.low[i] } else { self.high[i] }
                } else {
                    let rest: f64 = (0..3).filter(|j| *j != i).map(|j| self.offset[j] * p[j]).sum();
                    let e = k.signum() * reach * m / m.hypot(k);
                    (e - rest) / k
                };
                p[i] = wanted.clamp(self.low[i], self.high[i]);
            }
            let now = self.value(reach, p);
            if now - best <= 1e-15 * reach {
                return Ok(now.max(best));
            }
            best = now;
        }
        Err(MotionError::NotSettled {
            what: "the worst case of the piston clearance",
            iterations: ROUNDS,
            residual_m: self.value(reach, p) - best,
        })
    }
}

impl ClearanceChain {
    /// Least and greatest clearance at the dead centres when every size (and every shared error)
    /// may be anywhere inside its limits.
    ///
    /// Equation: exact extremes of [`ClearanceChain::at_dead_centres`] over the box of sizes;
    /// derivation in the source. Shared errors are added at first order to the result (they move
    /// several sizes at once).
    /// Units: m.
    ///
    /// # Errors
    /// A spread not finite or negative; sizes inside the limits with which the crank cannot turn.
    pub fn worst_case(
        &self,
        spreads: &Spreads,
        float: Float,
    ) -> Result<ClearanceRange, MotionError> {
        spreads.check()?;
        let limit = |c: Contributor| spreads.of(c).limit_m();
        let z = &self.sizes;
        let at = |c: Contributor| z.get(c);
        use Contributor as C;

        let pins = [C::BigEndSlack, C::SmallEndSlack, C::JournalSlack];
        let rod = [C::RodCentres, C::BigEndTakeUp, C::SmallEndTakeUp];
        let sum = |list: &[C], f: &dyn Fn(C) -> f64| list.iter().map(|c| f(*c)).sum::<f64>();
        let half = match float {
            Float::Middle => 0.0,
            Float::Forward => 0.5,
            Float::Back => -0.5,
        };
        let rod_m = sum(&rod, &at) + half * sum(&pins, &at);
        let rod_limit = sum(&rod, &limit) + half.abs() * sum(&pins, &limit);
        let (throw_m, throw_limit) = (z.crank_throw_m, limit(C::CrankThrow));

        let fore = z.axle_fore_m + half * z.horn_slack_m;
        let fore_limit = limit(C::AxleFore) + half.abs() * limit(C::HornSlack);
        let middle = [z.line_offset_m, fore, z.axle_rise_m];
        let spread = [limit(C::LineOffset), fore_limit, limit(C::AxleRise)];
        let (sin, cos) = z.incline_rad.sin_cos();
        let low: [f64; 3] = std::array::from_fn(|i| middle[i] - spread[i]);
        let high: [f64; 3] = std::array::from_fn(|i| middle[i] + spread[i]);
        // The tightest slider-crank of the box must still turn.
        let offset_most = middle[0].abs()
            + spread[0]
            + (middle[1].abs() + spread[1]) * sin.abs()
            + (middle[2].abs() + spread[2]) * cos;
        SliderCrank::new(throw_m + throw_limit, rod_m - rod_limit, offset_most)
            .map_err(|_| MotionError::SpreadTooWide)?;

        let ends = |reach_m: f64| Ends {
            reach: [reach_m - rod_limit - throw_limit, reach_m + rod_limit + throw_limit],
            low,
            high,
            along: [0.0, cos, sin],
            offset: [1.0, sin, -cos],
        };
        let (front_end, back_end) = (ends(rod_m + throw_m), ends(rod_m - throw_m));
        let (front_cover, back_cover) = self.covers();
        let shared = |c: C| matches!(c, C::AxleToCylinder | C::PinToCone | C::ConeToPiston);
        let cover_limit = |own: &[C]| -> f64 {
            C::ALL.into_iter().filter(|c| shared(*c) || own.contains(c)).map(limit).sum()
        };
        let front_limit = cover_limit(&[
            C::CylinderLength,
            C::FrontCoverSpigot,
            C::FrontJoint,
            C::PistonThickness,
        ]);
        let back_limit = cover_limit(&[C::BackCoverSpigot, C::BackJoint]);
        let [front_shared, back_shared] = self.shared_limits(spreads, float)?;
        let (front_limit, back_limit) = (front_limit + front_shared, back_limit + back_shared);
        Ok(ClearanceRange {
            front_least_m: front_cover - front_limit - front_end.greatest()?,
            front_greatest_m: front_cover + front_limit - front_end.least(),
            back_least_m: back_end.least() - back_cover - back_limit,
            back_greatest_m: back_end.greatest()? - back_cover + back_limit,
        })
    }

    fn shared_limits(&self, spreads: &Spreads, float: Float) -> Result<[f64; 2], MotionError> {
        let partials = self.partials_at_dead_centres(float)?;
        Ok(partials
            .map(|p| spreads.shared.iter().map(|s| s.effect(&p).abs() * s.spread.limit_m()).sum()))
    }
}

#[cfg(test)]
mod tests {
    use super::super::chain::tests::plain_sizes;
    use super::super::clearance_spread::{Spread, Spreads};
    use super::*;
    use crate::motion::ChainSizes;
    use rand::{RngExt, SeedableRng};

    /// Without range checks: the box of the test goes past some of them.
    fn clearances(sizes: ChainSizes, float: Float) -> Result<[f64; 2], MotionError> {
        let [front, back] = ClearanceChain { sizes }.at_dead_centres(float)?;
        Ok([front.front_m, back.back_m])
    }

    /// Random points of the box never pass the extremes, and a corner search with the offset
    /// passing through zero reaches them.
    #[test]
    fn nothing_in_the_box_passes_the_extremes() -> Result<(), MotionError> {
        let mut rng = rand_xoshiro::Xoshiro256PlusPlus::seed_from_u64(7);
        // The line's offset may be zero inside the box: the greatest reach is not at a corner.
        let sizes = ChainSizes { line_offset_m: 0.003, incline_rad: -0.2, ..plain_sizes() };
        let chain = ClearanceChain::new(sizes)?;
        let mut spreads = Spreads::exact();
        for c in Contributor::ALL {
            spreads.set(c, Spread::Uniform { half_width_m: 0.0001 });
        }
        spreads.set(Contributor::LineOffset, Spread::Uniform { half_width_m: 0.020 });
        spreads.set(Contributor::AxleRise, Spread::Uniform { half_width_m: 0.050 });
        for float in [Float::Middle, Float::Forward, Float::Back] {
            let range = chain.worst_case(&spreads, float)?;
            let (mut least, mut most) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
            for i in 0..20_000 {
                let mut z = sizes;
                for c in Contributor::ALL {
                    let h = spreads.of(c).limit_m();
                    // Mostly the ends of each range, where the extremes are.
                    let t: f64 = rng.random_range(-1.0..1.0);
                    let t = if i % 2 == 0
                        && !matches!(c, Contributor::LineOffset | Contributor::AxleRise)
                    {
                        t.signum()
                    } else {
                        t
                    };
                    z = z.with(c, z.get(c) + t * h);
                }
                let v = clearances(z, float)?;
                for k in 0..2 {
                    least[k] = least[k].min(v[k]);
                    most[k] = most[k].max(v[k]);
                }
            }
            assert!(range.front_least_m <= least[0] && most[0] <= range.front_greatest_m);
            assert!(range.back_least_m <= least[1] && most[1] <= range.back_greatest_m);
            // And they are not far off either.
            assert!(least[0] - range.front_least_m < 0.0015);
            assert!(range.back_greatest_m - most[1] < 0.0015);
        }
        Ok(())
    }
}
