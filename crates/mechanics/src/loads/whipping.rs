//! Bending of rods by their own inertia (whipping), and the stress together with thrust.

use super::{LoadError, RodSection};
use crate::motion::Bound;
use std::f64::consts::PI;

/// A rod that is swung round.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Whipping {
    /// Mass of the rod's shank per metre, kg/m.
    pub mass_per_m_kg: f64,
    /// Distance between the pins, m.
    pub length_m: f64,
    /// Crank throw, m.
    pub throw_m: f64,
    /// Angular speed of the wheels, rad/s.
    pub speed_rad_s: f64,
}

impl Whipping {
    fn check(&self) -> Result<(), LoadError> {
        const MASS: Bound = Bound::new("mass of the rod per metre", "kg/m", 0.0, 1e4);
        const LENGTH: Bound = Bound::new("length of the rod", "m", 0.01, 20.0);
        const THROW: Bound = Bound::new("crank throw", "m", 1e-3, 5.0);
        const SPEED: Bound = Bound::new("angular speed", "rad/s", -1e3, 1e3);
        MASS.check(self.mass_per_m_kg)?;
        LENGTH.check(self.length_m)?;
        THROW.check(self.throw_m)?;
        SPEED.check(self.speed_rad_s)?;
        Ok(())
    }
}

/// Greatest bending moment of a whipping rod.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RodBending {
    /// Bending moment, N·m.
    pub moment_nm: f64,
    /// Where along the rod, m from the end that does not turn (connecting rod: small end; coupling
    /// rod: either).
    pub from_end_m: f64,
    /// Whole inertia load of the rod, N.
    pub load_n: f64,
}

/// Greatest bending moment of a connecting rod by whipping.
///
/// Equation: the load grows from nothing at the small end to `m ω² r` per metre at the big end
/// (crank square to the rod): `W = m ω² r l/2`, `M = W l · 2/(9 √3) = m ω² r l²/(9 √3)` at
/// `l/√3` from the small end.
/// Source: Khurmi & Gupta, *Theory of Machines* / *A Textbook of Machine Design*, inertia bending
/// of connecting rods (from memory; the coefficient 0.1283 W l recomputed).
/// Units: kg/m, m, rad/s, N·m. Valid range: shank of even mass per metre; steady speed.
///
/// # Errors
/// A value not finite or out of range.
pub fn connecting_rod_whipping(rod: &Whipping) -> Result<RodBending, LoadError> {
    rod.check()?;
    let root3 = 3.0_f64.sqrt();
    let end = rod.mass_per_m_kg * rod.speed_rad_s * rod.speed_rad_s * rod.throw_m;
    Ok(RodBending {
        moment_nm: end * rod.length_m * rod.length_m / (9.0 * root3),
        from_end_m: rod.length_m / root3,
        load_n: 0.5 * end * rod.length_m,
    })
}

/// Greatest bending moment of a coupling rod by whipping: every point goes round with the throw.
///
/// Equation: `w = m ω² r` per metre all along, `M = w l²/8` in the middle, cranks at top or bottom.
/// Source: statics of a beam evenly loaded on two pins (textbook).
/// Units: as [`connecting_rod_whipping`].
///
/// # Errors
/// A value not finite or out of range.
pub fn coupling_rod_whipping(rod: &Whipping) -> Result<RodBending, LoadError> {
    rod.check()?;
    let even = rod.mass_per_m_kg * rod.speed_rad_s * rod.speed_rad_s * rod.throw_m;
    Ok(RodBending {
        moment_nm: even * rod.length_m * rod.length_m / 8.0,
        from_end_m: 0.5 * rod.length_m,
        load_n: even * rod.length_m,
    })
}

/// Greatest fibre stress in the plane of the motion under thrust and bending together, Pa.
///
/// Equation: `σ = P/A + (M + |P| e) (d/2)/I · 1/(1 - P/Pe)` with `Pe = π² E I/l²` (pins); the last
/// factor is left out in tension (`P < 0`), where the pull straightens the rod, and the answer is
/// then the greatest *tensile* stress. Source: beam-column with the usual amplification
/// (Timoshenko & Gere, *Theory of Elastic Stability*, ch. 1; approximate to a few per cent).
/// Units: N, N·m, m, Pa; positive figures only come out.
///
/// # Errors
/// A value not finite or out of range; [`LoadError::Buckles`] when the thrust reaches `Pe`.
pub fn rod_stress(
    section: &RodSection,
    elastic_pa: f64,
    length_m: f64,
    load: &RodLoad,
) -> Result<f64, LoadError> {
    const ELASTIC: Bound = Bound::new("modulus of elasticity", "Pa", 1e9, 1e12);
    const LENGTH: Bound = Bound::new("length of the rod", "m", 0.01, 20.0);
    const THRUST: Bound = Bound::new("thrust of the rod", "N", -1e8, 1e8);
    const MOMENT: Bound = Bound::new("bending moment", "N·m", 0.0, 1e8);
    const ECCENTRICITY: Bound = Bound::new("eccentricity of the thrust", "m", 0.0, 0.5);
    section.check()?;
    let thrust_n = THRUST.check(load.thrust_n)?;
    let moment =
        MOMENT.check(load.moment_nm)? + thrust_n.abs() * ECCENTRICITY.check(load.eccentricity_m)?;
    let length = LENGTH.check(length_m)?;
    let buckling_n = PI * PI * ELASTIC.check(elastic_pa)? * section.in_plane_m4 / (length * length);
    if buckling_n <= thrust_n {
        return Err(LoadError::Buckles { thrust_n, buckling_n });
    }
    let more = if 0.0 < thrust_n { 1.0 / (1.0 - thrust_n / buckling_n) } else { 1.0 };
    let bending = moment * more * 0.5 * section.depth_m / section.in_plane_m4;
    Ok(thrust_n.abs() / section.area_m2 + bending)
}

/// Thrust and bending of a rod at one moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RodLoad {
    /// Thrust, N, compression positive.
    pub thrust_n: f64,
    /// Bending moment in the plane of the motion, N·m, taken in the worse direction.
    pub moment_nm: f64,
    /// Eccentricity of the thrust in the plane of the motion, m.
    pub eccentricity_m: f64,
}
