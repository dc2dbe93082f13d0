//! A mass with its balance point and how well both are known.

use super::super::error::{LiftingError, MASS, Range, check_place};
use super::Placement;
use nalgebra::{Matrix3x4, Matrix4, Vector3, Vector4};

const U_MASS: Range = Range::new("standard uncertainty of the mass", "kg", 0.0, 1e6);
const U_PLACE: Range = Range::new("standard uncertainty of a place", "m", 0.0, 1000.0);

/// Whether a body is part of an assembly or taken off it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PartSign {
    /// It is on.
    On,
    /// It is taken off a body that was weighed or composed with it on.
    TakenOff,
}

/// A mass with its balance point and the uncertainty of both, correlated as they come.
///
/// Kept inside as mass and first moments `q = (m, m x, m y, m z)`, because these add.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Body {
    q: Vector4<f64>,
    covariance: Matrix4<f64>,
}

impl Body {
    /// A body whose mass and balance point were found separately (weighed, hung, from a drawing).
    ///
    /// Masses in kg, places in m from the part's datum, standard uncertainties beside them.
    ///
    /// # Errors
    /// Mass outside 1e-6 to 1e6 kg, places outside ±1000 m, uncertainties negative, not a number.
    pub fn weighed(
        (mass_kg, u_mass_kg): (f64, f64),
        centre_m: [f64; 3],
        u_centre_m: [f64; 3],
    ) -> Result<Self, LiftingError> {
        let m = MASS.check(mass_kg)?;
        let u = U_MASS.check(u_mass_kg)?;
        let c = check_place(&centre_m)?;
        for &u in &u_centre_m {
            U_PLACE.check(u)?;
        }
        // d(m c) = c dm + m dc, so with mass and place independent:
        let by_mass = Vector4::new(1.0, c.x, c.y, c.z);
        let mut covariance = by_mass * by_mass.transpose() * (u * u);
        for (axis, u) in u_centre_m.iter().enumerate() {
            covariance[(axis + 1, axis + 1)] += (m * u).powi(2);
        }
        Ok(Self { q: by_mass * m, covariance })
    }

    /// A body from mass and moments with their covariance.
    pub(super) fn from_moments(
        q: Vector4<f64>,
        covariance: Matrix4<f64>,
    ) -> Result<Self, LiftingError> {
        if q[0].is_nan() || q[0] <= 0.0 {
            return Err(LiftingError::NothingLeft { mass_kg: q[0] });
        }
        let body = Self { q, covariance };
        MASS.check(body.mass_kg())?;
        check_place(&body.centre_m())?;
        Ok(body)
    }

    /// Several bodies as one. Their errors are taken as independent: pieces that share a density
    /// belong into one [`super::compose`].
    ///
    /// Equation: `q = Σ ± q_i`, covariances add (JCGM 100:2008, 5.1.2, for a sum).
    ///
    /// # Errors
    /// No body; more taken off than there is.
    pub fn assembled(parts: &[(Self, PartSign)]) -> Result<Self, LiftingError> {
        super::super::error::check_count("bodies", parts.len(), (1, 100_000))?;
        let mut q = Vector4::zeros();
        let mut covariance = Matrix4::zeros();
        for (body, sign) in parts {
            match sign {
                PartSign::On => q += body.q,
                PartSign::TakenOff => q -= body.q,
            }
            covariance += body.covariance;
        }
        Self::from_moments(q, covariance)
    }

    /// The same body turned and moved.
    ///
    /// # Errors
    /// A placement that is no number or out of range.
    pub fn placed(&self, placement: &Placement) -> Result<Self, LiftingError> {
        let (turn, origin) = placement.check()?;
        let mut map = Matrix4::identity();
        map.fixed_view_mut::<3, 3>(1, 1).copy_from(turn.matrix());
        map.fixed_view_mut::<3, 1>(1, 0).copy_from(&origin);
        Self::from_moments(map * self.q, map * self.covariance * map.transpose())
    }

    /// Mass, kg.
    #[must_use]
    pub fn mass_kg(&self) -> f64 {
        self.q[0]
    }

    /// Standard uncertainty of the mass, kg.
    #[must_use]
    pub fn u_mass_kg(&self) -> f64 {
        self.covariance[(0, 0)].max(0.0).sqrt()
    }

    /// The balance point (centre of gravity), m from the part's datum.
    #[must_use]
    pub fn centre_m(&self) -> [f64; 3] {
        let m = self.q[0];
        [self.q[1] / m, self.q[2] / m, self.q[3] / m]
    }

    /// Standard uncertainty of each coordinate of the balance point, m.
    #[must_use]
    pub fn u_centre_m(&self) -> [f64; 3] {
        // c = M / m, so dc = (dM - c dm) / m.
        let m = self.q[0];
        let c = Vector3::from(self.centre_m());
        let mut map = Matrix3x4::zeros();
        for axis in 0..3 {
            map[(axis, 0)] = -c[axis] / m;
            map[(axis, axis + 1)] = 1.0 / m;
        }
        let covariance = map * self.covariance * map.transpose();
        [0, 1, 2].map(|i| covariance[(i, i)].max(0.0).sqrt())
    }
}
