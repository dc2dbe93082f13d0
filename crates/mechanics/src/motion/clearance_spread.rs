//! Spread of the sizes, and of the piston clearance by the root of the sum of squares.

use super::clearance::ClearancePartials;
use super::{Bound, ClearanceChain, Contributor, Float, MotionError};

/// How far one size may be from its value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Spread {
    /// Not at all.
    Exact,
    /// Bell-shaped: standard deviation, and the limit taken for the worst case (both m).
    Normal {
        /// Standard deviation, m.
        standard_m: f64,
        /// Limit for the worst case, m; the Monte Carlo run is not cut off there.
        limit_m: f64,
    },
    /// Anywhere within plus or minus the half width alike.
    Uniform {
        /// Half width, m.
        half_width_m: f64,
    },
    /// Within plus or minus the half width, the middle likelier.
    Triangular {
        /// Half width, m.
        half_width_m: f64,
    },
}

impl Spread {
    /// Standard deviation, m: half width/√3 when uniform, /√6 when triangular
    /// (JCGM 100:2008, 4.3.7 and 4.3.9).
    pub fn standard_m(self) -> f64 {
        match self {
            Self::Exact => 0.0,
            Self::Normal { standard_m, .. } => standard_m,
            Self::Uniform { half_width_m } => half_width_m / 3.0_f64.sqrt(),
            Self::Triangular { half_width_m } => half_width_m / 6.0_f64.sqrt(),
        }
    }

    /// Limit for the worst case, m.
    pub fn limit_m(self) -> f64 {
        match self {
            Self::Exact => 0.0,
            Self::Normal { limit_m, .. } => limit_m,
            Self::Uniform { half_width_m } | Self::Triangular { half_width_m } => half_width_m,
        }
    }

    pub(crate) fn check(self) -> Result<(), MotionError> {
        const WIDTH: Bound = Bound::new("spread of a size", "m", 0.0, 0.2);
        WIDTH.check(self.standard_m())?;
        WIDTH.check(self.limit_m())?;
        Ok(())
    }
}

/// One error that several sizes have in common: a gauge's own zero, a shared datum.
#[derive(Debug, Clone, PartialEq)]
pub struct SharedError {
    /// Spread of the error itself.
    pub spread: Spread,
    /// Each size it enters, and by how much for one metre of it (1, or -1 when it takes away).
    pub enters: Vec<(Contributor, f64)>,
}

impl SharedError {
    pub(crate) fn effect(&self, partials: &ClearancePartials) -> f64 {
        self.enters.iter().map(|(c, k)| partials[*c] * k).sum()
    }
}

/// Spread of every size of a chain, and the errors they share.
#[derive(Debug, Clone, PartialEq)]
pub struct Spreads {
    own: [Spread; Contributor::COUNT],
    /// Errors that enter several sizes at once.
    pub shared: Vec<SharedError>,
}

impl Spreads {
    /// No spread on anything.
    pub fn exact() -> Self {
        Self { own: [Spread::Exact; Contributor::COUNT], shared: Vec::new() }
    }

    /// Sets the spread of one size.
    pub fn set(&mut self, contributor: Contributor, spread: Spread) {
        self.own[contributor as usize] = spread;
    }

    /// Spread of one size.
    pub fn of(&self, contributor: Contributor) -> Spread {
        self.own[contributor as usize]
    }

    pub(crate) fn check(&self) -> Result<(), MotionError> {
        const SHARE: Bound = Bound::new("part of a shared error in a size", "m/m", -100.0, 100.0);
        for spread in self.own.iter().chain(self.shared.iter().map(|s| &s.spread)) {
            spread.check()?;
        }
        for (_, share) in self.shared.iter().flat_map(|s| &s.enters) {
            SHARE.check(*share)?;
        }
        Ok(())
    }
}

/// First-order spread of both clearances at the dead centres.
#[derive(Debug, Clone, PartialEq)]
pub struct ClearanceRss {
    /// Front clearance at the front dead centre, m.
    pub front_m: f64,
    /// Back clearance at the back dead centre, m.
    pub back_m: f64,
    /// Standard uncertainty of the front clearance, m.
    pub front_standard_m: f64,
    /// Standard uncertainty of the back clearance, m.
    pub back_standard_m: f64,
    /// Correlation of the two, -1 to 1; 0 when one of them has no spread.
    pub correlation: f64,
    /// Each size's own part of the standard uncertainty of front and back, m, largest first by
    /// the sum of squares. Shared errors are not in this list.
    pub parts: Vec<(Contributor, f64, f64)>,
}

impl ClearanceChain {
    /// First-order spread of both clearances at the dead centres.
    ///
    /// Equation: `u² = Σ (dc/dx)² u(x)²` over the sizes plus `(Σ dc/dx k)² u²` for each shared
    /// error (JCGM 100:2008, 5.1 and 5.2), with the exact derivatives of
    /// [`ClearanceChain::partials_at_dead_centres`].
    /// Units: m.
    ///
    /// # Errors
    /// A spread not finite, negative or above 0.2 m.
    pub fn root_sum_square(
        &self,
        spreads: &Spreads,
        float: Float,
    ) -> Result<ClearanceRss, MotionError> {
        spreads.check()?;
        let [front_at, back_at] = self.at_dead_centres(float)?;
        let [front, back] = self.partials_at_dead_centres(float)?;
        let mut parts: Vec<_> = Contributor::ALL
            .into_iter()
            .map(|c| {
                let u = spreads.of(c).standard_m();
                (c, front[c] * u, back[c] * u)
            })
            .collect();
        let mut sums = [0.0; 3];
        let mut add = |f: f64, b: f64| {
            sums[0] += f * f;
            sums[1] += b * b;
            sums[2] += f * b;
        };
        for (_, f, b) in &parts {
            add(*f, *b);
        }
        for shared in &spreads.shared {
            let u = shared.spread.standard_m();
            add(shared.effect(&front) * u, shared.effect(&back) * u);
        }
        let norm = (sums[0] * sums[1]).sqrt();
        for (_, f, b) in &mut parts {
            (*f, *b) = (f.abs(), b.abs());
        }
        parts.sort_by(|a, b| (b.1.hypot(b.2)).total_cmp(&a.1.hypot(a.2)));
        Ok(ClearanceRss {
            front_m: front_at.front_m,
            back_m: back_at.back_m,
            front_standard_m: sums[0].sqrt(),
            back_standard_m: sums[1].sqrt(),
            correlation: if norm == 0.0 { 0.0 } else { (sums[2] / norm).clamp(-1.0, 1.0) },
            parts,
        })
    }
}
