//! The rod as a strut: Euler, Johnson, Rankine, and the secant formula for eccentric thrust.

use super::LoadError;
use crate::motion::Bound;
use std::f64::consts::PI;

/// Material of a strut. Where the figures come from is the caller's to record.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StrutMaterial {
    /// Modulus of elasticity, Pa.
    pub elastic_pa: f64,
    /// Yield stress in compression, Pa.
    pub yield_pa: f64,
}

/// One way a strut can bend.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strut {
    /// Length between the pins, m.
    pub length_m: f64,
    /// Area, m².
    pub area_m2: f64,
    /// Radius of gyration of the bending looked at, m.
    pub gyration_m: f64,
    /// End condition `C` in `P = C π² E I/l²`: 1 for pins (in the plane of the motion), up to 4
    /// for ends held (sideways, by brasses and cheeks; common practice takes less than 4).
    pub end_condition: f64,
}

impl Strut {
    /// Slenderness `l/k`.
    pub fn slenderness(&self) -> f64 {
        self.length_m / self.gyration_m
    }

    fn check(&self, material: &StrutMaterial) -> Result<(), LoadError> {
        const LENGTH: Bound = Bound::new("length of the strut", "m", 0.005, 20.0);
        const AREA: Bound = Bound::new("area of the strut", "m²", 1e-7, 1.0);
        const GYRATION: Bound = Bound::new("radius of gyration", "m", 1e-4, 1.0);
        const ENDS: Bound = Bound::new("end condition", "", 0.25, 4.0);
        const ELASTIC: Bound = Bound::new("modulus of elasticity", "Pa", 1e9, 1e12);
        const YIELD: Bound = Bound::new("yield stress", "Pa", 1e6, 5e9);
        LENGTH.check(self.length_m)?;
        AREA.check(self.area_m2)?;
        GYRATION.check(self.gyration_m)?;
        ENDS.check(self.end_condition)?;
        ELASTIC.check(material.elastic_pa)?;
        YIELD.check(material.yield_pa)?;
        Ok(())
    }

    /// Slenderness above which Euler's load is below half the yield load:
    /// `(l/k)1 = sqrt(2 π² C E/Sy)` (Shigley, 9th ed., eq. 4-45).
    /// Worked value: C 1, E 207 GPa, Sy 500 MPa: 90.4 (Shigley, Example 4-17).
    ///
    /// # Errors
    /// A value not finite or out of range.
    pub fn slenderness_limit(&self, material: &StrutMaterial) -> Result<f64, LoadError> {
        self.check(material)?;
        Ok((2.0 * PI * PI * self.end_condition * material.elastic_pa / material.yield_pa).sqrt())
    }
}

/// Euler's buckling load, N.
///
/// Equation: `P = C π² E A/(l/k)²`. Valid range: slenderness above
/// [`Strut::slenderness_limit`]; below it the answer is an upper bound only.
/// Source: Shigley, *Mechanical Engineering Design*, 9th ed. (2011), eq. 4-44.
/// Worked value: round bar 37.5 mm, 1.5 m, E 207 GPa carries 88 kN (Example 4-17).
///
/// # Errors
/// A value not finite or out of range.
pub fn euler_load_n(strut: &Strut, material: &StrutMaterial) -> Result<f64, LoadError> {
    strut.check(material)?;
    let slenderness = strut.slenderness();
    Ok(strut.end_condition * PI * PI * material.elastic_pa * strut.area_m2
        / (slenderness * slenderness))
}

/// J. B. Johnson's parabolic buckling load, N.
///
/// Equation: `P/A = Sy - (Sy l/(2 π k))²/(C E)`. Valid range: slenderness up to
/// [`Strut::slenderness_limit`], where it meets Euler's.
/// Source: Shigley, 9th ed. (2011), eq. 4-48.
/// Worked value: a round bar of 19.02 mm and 0.375 m carries 88 kN with Sy 500 MPa, E 207 GPa
/// (from eq. 4-53).
///
/// # Errors
/// A value not finite or out of range; a slenderness above the limit.
pub fn johnson_load_n(strut: &Strut, material: &StrutMaterial) -> Result<f64, LoadError> {
    let limit = strut.slenderness_limit(material)?;
    let slenderness = strut.slenderness();
    if limit * (1.0 + 1e-12) < slenderness {
        return Err(LoadError::NotBelow {
            what: "slenderness",
            value: slenderness,
            other: "the limit of Johnson's formula",
            limit,
            unit: "",
        });
    }
    let bend = material.yield_pa * slenderness / (2.0 * PI);
    let stress = material.yield_pa - bend * bend / (strut.end_condition * material.elastic_pa);
    Ok(stress * strut.area_m2)
}

/// Buckling load by whichever of Johnson's and Euler's formulas holds, N.
///
/// # Errors
/// A value not finite or out of range.
pub fn strut_load_n(strut: &Strut, material: &StrutMaterial) -> Result<f64, LoadError> {
    if strut.slenderness() <= strut.slenderness_limit(material)? {
        johnson_load_n(strut, material)
    } else {
        euler_load_n(strut, material)
    }
}

/// Rankine's (Gordon's) crippling load, N.
///
/// Equation: `P = fc A/(1 + a (l/k)²/C)`, with `fc` the crushing stress and `a` the constant for
/// pinned ends, both passed in because handbooks differ (common textbook values: mild steel
/// 320 MPa, 1/7500; wrought iron 250 MPa, 1/9000; from memory). With `a = fc/(π² E)` it lies
/// between the crushing and Euler's load.
/// Source: W. J. M. Rankine; e.g. Khurmi & Gupta, *A Textbook of Machine Design*, ch. 16.
///
/// # Errors
/// A value not finite or out of range.
pub fn rankine_load_n(
    strut: &Strut,
    crushing_pa: f64,
    rankine_constant: f64,
) -> Result<f64, LoadError> {
    const CRUSHING: Bound = Bound::new("crushing stress", "Pa", 1e6, 5e9);
    const CONSTANT: Bound = Bound::new("constant of Rankine's formula", "", 1e-7, 1e-2);
    let crushing = CRUSHING.check(crushing_pa)?;
    let constant = CONSTANT.check(rankine_constant)?;
    strut.check(&StrutMaterial { elastic_pa: 2e11, yield_pa: crushing })?;
    let slenderness = strut.slenderness();
    let bend = constant * slenderness * slenderness / strut.end_condition;
    Ok(crushing * strut.area_m2 / (1.0 + bend))
}

/// Thrust that brings an eccentrically loaded strut to the yield stress, N.
///
/// Equation: secant formula `P/A = Sy/(1 + (e c/k²) sec((l/(2 k)) sqrt(P/(C A E))))`, solved for
/// `P` by halving between 0 and the smaller of crushing and Euler's load, where the left side less
/// the right rises steadily. `e` eccentricity of the thrust, `c` distance from the neutral axis to
/// the far fibre.
/// Source: Shigley, 9th ed. (2011), eq. 4-50 (there for pinned ends, C 1).
/// Units: m, N. Valid range: `e >= 0`.
///
/// # Errors
/// A value not finite or out of range; a search that does not settle.
pub fn secant_load_n(
    strut: &Strut,
    material: &StrutMaterial,
    eccentricity_m: f64,
    fibre_m: f64,
) -> Result<f64, LoadError> {
    const ECCENTRICITY: Bound = Bound::new("eccentricity of the thrust", "m", 0.0, 0.5);
    const FIBRE: Bound = Bound::new("distance to the far fibre", "m", 1e-4, 1.0);
    const ROUNDS: usize = 200;
    let e = ECCENTRICITY.check(eccentricity_m)?;
    let c = FIBRE.check(fibre_m)?;
    let euler = euler_load_n(strut, material)?;
    let crushing = material.yield_pa * strut.area_m2;
    if e == 0.0 {
        return Ok(euler.min(crushing));
    }
    let ratio = e * c / (strut.gyration_m * strut.gyration_m);
    // (l/2k) sqrt(P/(C A E)) is (π/2) sqrt(P/Euler).
    let over = |p: f64| {
        let secant = 1.0 / (0.5 * PI * (p / euler).sqrt()).cos();
        p * (1.0 + ratio * secant) - crushing
    };
    let (mut low, mut high) = (0.0, euler.min(crushing));
    for _ in 0..ROUNDS {
        let middle = 0.5 * (low + high);
        if over(middle) < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
        if high - low <= 1e-12 * high {
            return Ok(0.5 * (low + high));
        }
    }
    Err(LoadError::NotSettled {
        what: "the secant formula",
        iterations: ROUNDS,
        residual: high - low,
        unit: "N",
    })
}
