//! Bump test: marks on the bar against the chain, and the likeliest culprit where they disagree.

use super::{Bound, ClearanceChain, Contributor, Float, MotionError, Spread, Spreads};
use nalgebra::{Cholesky, Matrix3, Vector3};
use statrs::distribution::{ChiSquared, ContinuousCDF};

/// Four marks on the slide bar made from one point of the crosshead, m from any zero on the bar,
/// positive towards the front.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BumpReadings {
    /// Piston pushed against the front cover.
    pub bump_front_m: f64,
    /// Front end of the stroke, rod coupled up, wheels turned.
    pub travel_front_m: f64,
    /// Back end of the stroke, rod coupled up.
    pub travel_back_m: f64,
    /// Piston pushed against the back cover.
    pub bump_back_m: f64,
    /// Standard uncertainty of one mark, m.
    pub mark_standard_m: f64,
    /// How the slack lay when the ends of the stroke were marked.
    pub float: Float,
}

/// Something that can be wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Fault {
    /// Nothing beyond the usual spread.
    None,
    /// One size of the chain is not what was written down.
    Size(Contributor),
    /// The mark of the front bump.
    BumpFrontMark,
    /// The mark of the front end of the stroke.
    TravelFrontMark,
    /// The mark of the back end of the stroke.
    TravelBackMark,
    /// The mark of the back bump.
    BumpBackMark,
}

impl Fault {
    /// The words a fitter would use.
    pub fn words(self) -> &'static str {
        match self {
            Self::None => "nothing but the usual spread",
            Self::Size(contributor) => contributor.words(),
            Self::BumpFrontMark => "mark of the front bump",
            Self::TravelFrontMark => "mark of the front end of the stroke",
            Self::TravelBackMark => "mark of the back end of the stroke",
            Self::BumpBackMark => "mark of the back bump",
        }
    }
}

/// How likely a fault is before the readings are looked at, and how large it then is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FaultPrior {
    /// Which fault; not [`Fault::None`].
    pub fault: Fault,
    /// Probability of it, above 0.
    pub probability: f64,
    /// Standard deviation of its size around zero, m.
    pub standard_m: f64,
}

/// One explanation of the readings.
#[derive(Debug, Clone, PartialEq)]
pub struct BumpFinding {
    /// The explanation.
    pub fault: Fault,
    /// Probability after the readings, given that it is one of the explanations looked at.
    pub probability: f64,
    /// Odds against "nothing wrong": how many times likelier than [`Fault::None`].
    pub odds_to_none: f64,
    /// Likely size of the fault, m: of a size, the true one minus the one written down; of a
    /// mark, where it was made minus where it belongs.
    pub size_m: f64,
    /// Standard uncertainty of that size, m.
    pub size_standard_m: f64,
    /// Faults with the same effect on all readings: only the priors tell them apart, another
    /// measurement is needed.
    pub not_told_from: Vec<Fault>,
}

/// Readings against the chain.
#[derive(Debug, Clone, PartialEq)]
pub struct BumpReport {
    /// Front clearance read, m.
    pub front_m: f64,
    /// Back clearance read, m.
    pub back_m: f64,
    /// Stroke read, m.
    pub stroke_m: f64,
    /// Read minus chain: front clearance, stroke, back clearance, m.
    pub misfit_m: [f64; 3],
    /// Standard uncertainty of each misfit, spread of the chain and of the marks together, m.
    pub misfit_standard_m: [f64; 3],
    /// Probability of so large a misfit or larger with nothing wrong (chi-squared, 3 degrees).
    pub misfit_p_value: f64,
    /// The explanations, likeliest first.
    pub findings: Vec<BumpFinding>,
    /// Probability of what is left over, or more, if the likeliest explanation is true
    /// (chi-squared, 3 degrees). Very small: none of the explanations fits, look for two faults.
    pub left_over_p_value: f64,
}

// Own derivation (linear Gaussian model). The adjacent differences of the four marks are
//   y = (front clearance, stroke, back clearance),   y = y0 + J d + K m + v a
// with d the deviations of the sizes, N(0, D), m those of the marks, N(0, s²), and, if fault k is
// there, a its size, N(0, t²), v its effect on y. Then
//   y - y0 ~ N(0, S),  S0 = J D J' + K K' s²,   Sk = S0 + t² v v'
// The posterior of hypothesis k is prior times density; the posterior of a is
//   a = t² v' Sk^-1 (y - y0),  var a = t² - t^4 v' Sk^-1 v.
// The stroke is what the whole play between the covers leaves beside both clearances, so its row
// of J is (play) - (front) - (back).
/// Checks bump-test readings against the chain and weighs what could be wrong.
///
/// One fault at a time is looked at, beside none at all. Front clearance = front bump - front end
/// of stroke; back clearance = back end of stroke - back bump; stroke = the ends apart.
///
/// Equation: posterior odds of linear Gaussian hypotheses, own derivation shown in the source
/// (Bayes' rule; e.g. A. Gelman et al., *Bayesian Data Analysis*, ch. 7, for the Bayes factor).
/// Units: m. Valid range: misfits small against the rod (the chain is taken at first order about
/// its sizes).
///
/// # Errors
/// A reading or prior not finite or out of range; a fault given twice; priors adding up to 1 or
/// more; no spread at all.
pub fn bump_test(
    chain: &ClearanceChain,
    spreads: &Spreads,
    readings: &BumpReadings,
    priors: &[FaultPrior],
) -> Result<BumpReport, MotionError> {
    spreads.check()?;
    let mark_standard_m = check_readings(readings)?;
    let none_probability = check_priors(priors)?;

    let front_m = readings.bump_front_m - readings.travel_front_m;
    let stroke_m = readings.travel_front_m - readings.travel_back_m;
    let back_m = readings.travel_back_m - readings.bump_back_m;
    let [at_front, at_back] = chain.at_dead_centres(readings.float)?;
    let chain_stroke_m = chain.dead_centres(readings.float)?.stroke_m();
    let misfit = Vector3::new(
        front_m - at_front.front_m,
        stroke_m - chain_stroke_m,
        back_m - at_back.back_m,
    );

    let effects = Effects::new(chain, readings.float)?;
    let mut usual = Matrix3::zeros();
    for c in Contributor::ALL {
        let v = effects.size(c) * spreads.of(c).standard_m();
        usual += v * v.transpose();
    }
    for shared in &spreads.shared {
        let v: Vector3<f64> = shared.enters.iter().map(|(c, k)| effects.size(*c) * *k).sum();
        let v = v * shared.spread.standard_m();
        usual += v * v.transpose();
    }
    for mark in MARKS {
        let v = Effects::mark(mark) * mark_standard_m;
        usual += v * v.transpose();
    }

    let three = ChiSquared::new(3.0).map_err(|_| NO_SPREAD)?;
    let none = weigh(&usual, &misfit)?;
    let mut raw =
        vec![(Fault::None, none_probability.ln() + none.log_density, 0.0, 0.0, none.square)];
    for prior in priors {
        let v = effects.of(prior.fault);
        let t2 = prior.standard_m * prior.standard_m;
        let with = usual + v * v.transpose() * t2;
        let w = weigh(&with, &misfit)?;
        let size = t2 * v.dot(&w.solved);
        let variance = t2 - t2 * t2 * v.dot(&w.inverse_times(&v));
        // What is left once the likely fault has been taken out, against the usual spread.
        let left = weigh(&usual, &(misfit - v * size))?.square;
        raw.push((
            prior.fault,
            prior.probability.ln() + w.log_density,
            size,
            variance.max(0.0).sqrt(),
            left,
        ));
    }
    let top = raw.iter().map(|r| r.1).fold(f64::NEG_INFINITY, f64::max);
    let total: f64 = raw.iter().map(|r| (r.1 - top).exp()).sum();
    let none_weight = raw[0].1;
    let mut findings: Vec<(BumpFinding, f64)> = raw
        .iter()
        .map(|&(fault, weight, size_m, size_standard_m, left)| {
            let finding = BumpFinding {
                fault,
                probability: (weight - top).exp() / total,
                odds_to_none: (weight - none_weight).exp(),
                size_m,
                size_standard_m,
                not_told_from: effects.alike(fault, priors),
            };
            (finding, left)
        })
        .collect();
    findings.sort_by(|a, b| b.0.probability.total_cmp(&a.0.probability));
    let left_over_p_value = three.sf(findings.first().map_or(0.0, |f| f.1));
    Ok(BumpReport {
        front_m,
        back_m,
        stroke_m,
        misfit_m: misfit.into(),
        misfit_standard_m: [usual[(0, 0)], usual[(1, 1)], usual[(2, 2)]].map(f64::sqrt),
        misfit_p_value: three.sf(none.square),
        findings: findings.into_iter().map(|f| f.0).collect(),
        left_over_p_value,
    })
}

const NO_SPREAD: MotionError = MotionError::NoSpread { what: "the marks of the bump test" };

const MARKS: [Fault; 4] =
    [Fault::BumpFrontMark, Fault::TravelFrontMark, Fault::TravelBackMark, Fault::BumpBackMark];

fn check_readings(r: &BumpReadings) -> Result<f64, MotionError> {
    const MARK: Bound = Bound::new("mark on the bar", "m", -10.0, 10.0);
    const UNSURE: Bound = Bound::new("uncertainty of a mark", "m", 1e-7, 0.05);
    for mark in [r.bump_front_m, r.travel_front_m, r.travel_back_m, r.bump_back_m] {
        MARK.check(mark)?;
    }
    Ok(UNSURE.check(r.mark_standard_m)?)
}

/// The probability left for "nothing wrong".
fn check_priors(priors: &[FaultPrior]) -> Result<f64, MotionError> {
    const PROBABILITY: Bound = Bound::new("probability of a fault", "", 1e-12, 1.0);
    const TOTAL: Bound = Bound::new("probability of all faults together", "", 0.0, 0.999_999);
    const SIZE: Bound = Bound::new("standard size of a fault", "m", 1e-7, 0.5);
    let mut sum = 0.0;
    for (i, prior) in priors.iter().enumerate() {
        if prior.fault == Fault::None || priors[..i].iter().any(|p| p.fault == prior.fault) {
            return Err(MotionError::Twice {
                what: format!("the fault prior \"{}\"", prior.fault.words()),
            });
        }
        sum += PROBABILITY.check(prior.probability)?;
        SIZE.check(prior.standard_m)?;
    }
    Ok(1.0 - TOTAL.check(sum)?)
}

struct Weighed {
    log_density: f64,
    square: f64,
    solved: Vector3<f64>,
    cholesky: Cholesky<f64, nalgebra::Const<3>>,
}

impl Weighed {
    fn inverse_times(&self, v: &Vector3<f64>) -> Vector3<f64> {
        self.cholesky.solve(v)
    }
}

fn weigh(covariance: &Matrix3<f64>, misfit: &Vector3<f64>) -> Result<Weighed, MotionError> {
    let cholesky = Cholesky::new(*covariance).ok_or(NO_SPREAD)?;
    let solved = cholesky.solve(misfit);
    let square = misfit.dot(&solved);
    let log_root: f64 = cholesky.l().diagonal().iter().map(|d| d.ln()).sum();
    Ok(Weighed {
        log_density: -0.5 * square - log_root - 1.5 * std::f64::consts::TAU.ln(),
        square,
        solved,
        cholesky,
    })
}

/// Effect of one metre of each size or mark on (front clearance, stroke, back clearance).
struct Effects {
    sizes: [Vector3<f64>; Contributor::COUNT],
}

impl Effects {
    fn new(chain: &ClearanceChain, float: Float) -> Result<Self, MotionError> {
        use Contributor as C;
        let [front, back] = chain.partials_at_dead_centres(float)?;
        let sizes = C::ALL.map(|c| {
            let play = match c {
                C::CylinderLength | C::FrontJoint | C::BackJoint => 1.0,
                C::FrontCoverSpigot | C::BackCoverSpigot | C::PistonThickness => -1.0,
                _ => 0.0,
            };
            Vector3::new(front[c], play - front[c] - back[c], back[c])
        });
        Ok(Self { sizes })
    }

    fn size(&self, contributor: Contributor) -> Vector3<f64> {
        self.sizes[contributor as usize]
    }

    fn mark(mark: Fault) -> Vector3<f64> {
        match mark {
            Fault::BumpFrontMark => Vector3::new(1.0, 0.0, 0.0),
            Fault::TravelFrontMark => Vector3::new(-1.0, 1.0, 0.0),
            Fault::TravelBackMark => Vector3::new(0.0, -1.0, 1.0),
            Fault::BumpBackMark => Vector3::new(0.0, 0.0, -1.0),
            Fault::None | Fault::Size(_) => Vector3::zeros(),
        }
    }

    fn of(&self, fault: Fault) -> Vector3<f64> {
        match fault {
            Fault::Size(contributor) => self.size(contributor),
            other => Self::mark(other),
        }
    }

    fn alike(&self, fault: Fault, priors: &[FaultPrior]) -> Vec<Fault> {
        let v = self.of(fault);
        if v.norm() == 0.0 {
            return Vec::new();
        }
        priors
            .iter()
            .map(|p| p.fault)
            .filter(|other| *other != fault)
            .filter(|other| {
                let w = self.of(*other);
                // Within half a degree of parallel no readings would tell them apart.
                w.norm() != 0.0 && 0.999_96 < (v.dot(&w) / (v.norm() * w.norm())).abs()
            })
            .collect()
    }
}

impl FaultPrior {
    /// A starting point where nobody has better figures: every size and mark 1 in 200, gross
    /// errors of 3 mm. Own decision, to be replaced by the shop's experience.
    pub fn starting_point(spreads: &Spreads) -> Vec<Self> {
        let known = |c: &Contributor| spreads.of(*c) != Spread::Exact;
        let sizes = Contributor::ALL.into_iter().filter(known).map(Fault::Size);
        sizes
            .chain(MARKS)
            .map(|fault| Self { fault, probability: 0.005, standard_m: 0.003 })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::super::chain::tests::plain_sizes;
    use super::*;

    /// Readings made from an engine with one size wrong; the chain has the size as written.
    fn readings_of(true_sizes: super::super::ChainSizes) -> Result<BumpReadings, MotionError> {
        let real = ClearanceChain::new(true_sizes)?;
        let [front, back] = real.at_dead_centres(Float::Middle)?;
        let stroke = real.dead_centres(Float::Middle)?.stroke_m();
        Ok(BumpReadings {
            bump_front_m: front.front_m,
            travel_front_m: 0.0,
            travel_back_m: -stroke,
            bump_back_m: -stroke - back.back_m,
            mark_standard_m: 0.0002,
            float: Float::Middle,
        })
    }

    fn spreads() -> Spreads {
        let mut s = Spreads::exact();
        for c in Contributor::ALL {
            s.set(c, Spread::Normal { standard_m: 0.0002, limit_m: 0.0006 });
        }
        s
    }

    #[test]
    fn a_sound_engine_is_called_sound() -> Result<(), MotionError> {
        let chain = ClearanceChain::new(plain_sizes())?;
        let priors = FaultPrior::starting_point(&spreads());
        let report = bump_test(&chain, &spreads(), &readings_of(plain_sizes())?, &priors)?;
        assert_eq!(report.findings[0].fault, Fault::None);
        assert!(0.9 < report.findings[0].probability);
        assert!(0.99 < report.misfit_p_value);
        let sum: f64 = report.findings.iter().map(|f| f.probability).sum();
        assert!((sum - 1.0).abs() < 1e-12);
        Ok(())
    }

    #[test]
    fn a_wrong_size_is_named_with_its_size() -> Result<(), MotionError> {
        let sizes = plain_sizes();
        let chain = ClearanceChain::new(sizes)?;
        let priors = FaultPrior::starting_point(&spreads());
        for (c, error) in [
            (Contributor::CrankThrow, 0.004),
            (Contributor::RodCentres, 0.005),
            (Contributor::PistonThickness, -0.006),
            (Contributor::BackCoverSpigot, 0.006),
        ] {
            let readings = readings_of(sizes.with(c, sizes.get(c) + error))?;
            let report = bump_test(&chain, &spreads(), &readings, &priors)?;
            let top = &report.findings[0];
            let named = top.fault == Fault::Size(c) || top.not_told_from.contains(&Fault::Size(c));
            assert!(named, "{c:?}: {top:?}");
            let own = report.findings.iter().find(|f| f.fault == Fault::Size(c));
            let own = own.ok_or(MotionError::NoSpread { what: "test" })?;
            assert!((own.size_m - error).abs() < 3.0 * own.size_standard_m, "{own:?}");
            assert!(report.misfit_p_value < 1e-6);
            assert!(0.05 < report.left_over_p_value);
        }
        Ok(())
    }

    /// Probabilities against a plain sum over a fine grid of the fault's size, one reading alone.
    #[test]
    fn odds_agree_with_integration() -> Result<(), MotionError> {
        let sizes = plain_sizes();
        let chain = ClearanceChain::new(sizes)?;
        let none = Spreads::exact();
        let readings = readings_of(sizes.with(Contributor::CrankThrow, 0.3212))?;
        let prior = FaultPrior {
            fault: Fault::Size(Contributor::CrankThrow),
            probability: 0.1,
            standard_m: 0.002,
        };
        let report = bump_test(&chain, &none, &readings, &[prior])?;
        // Likelihood of the marks themselves for one size of the fault: four independent normal
        // marks with an unknown common zero, written out through their mean.
        let s = readings.mark_standard_m;
        let likelihood = |a: f64| {
            // misfit minus effect of a: front -a, stroke +2a, back -a.
            let d = [report.misfit_m[0] + a, report.misfit_m[1] - 2.0 * a, report.misfit_m[2] + a];
            let marks = [0.0, -d[0], -d[0] - d[1], -d[0] - d[1] - d[2]];
            let mean = marks.iter().sum::<f64>() / 4.0;
            let square: f64 = marks.iter().map(|m| (m - mean) * (m - mean)).sum();
            (-0.5 * square / (s * s)).exp()
        };
        let step = 1e-6;
        let integral: f64 = (-20_000..20_000)
            .map(|i| {
                let a = f64::from(i) * step;
                let density =
                    (-0.5 * (a / 0.002).powi(2)).exp() / (0.002 * std::f64::consts::TAU.sqrt());
                likelihood(a) * density * step
            })
            .sum();
        let odds = 0.1 * integral / (0.9 * likelihood(0.0));
        let got = report.findings.iter().find(|f| f.fault == prior.fault);
        let got = got.map_or(f64::NAN, |f| f.odds_to_none);
        // The offset of the line makes the stroke's derivative 2.0003 instead of 2.
        assert!((got / odds - 1.0).abs() < 0.02, "{got} {odds}");
        Ok(())
    }

    #[test]
    fn refuses_nonsense() -> Result<(), MotionError> {
        let chain = ClearanceChain::new(plain_sizes())?;
        let good = readings_of(plain_sizes())?;
        let s = spreads();
        let run = |r: &BumpReadings, p: &[FaultPrior]| bump_test(&chain, &s, r, p).is_err();
        assert!(run(&BumpReadings { mark_standard_m: 0.0, ..good }, &[]));
        assert!(run(&BumpReadings { bump_back_m: f64::NAN, ..good }, &[]));
        let prior = FaultPrior { fault: Fault::BumpBackMark, probability: 0.6, standard_m: 0.01 };
        assert!(run(&good, &[prior, prior]));
        assert!(run(&good, &[FaultPrior { probability: 1.0, ..prior }]));
        assert!(run(&good, &[FaultPrior { fault: Fault::None, ..prior }]));
        Ok(())
    }
}
