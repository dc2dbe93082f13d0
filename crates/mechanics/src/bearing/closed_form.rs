//! Journal bearings that can be worked out in closed form: very long, very short, and the
//! standard's fitted curve. They check the film solver, start its searches, and answer on the
//! back of an envelope.

use std::f64::consts::PI;

use super::error::{BearingError, Range};

const ECCENTRICITY: Range = Range::new("eccentricity ratio", "(ratio)", 1e-6, 0.999_999);
const LENGTH_OVER_DIAMETER: Range = Range::new("length over diameter", "(ratio)", 1e-3, 1e3);
const FIT_ECCENTRICITY: Range = Range::new("eccentricity ratio", "(ratio)", 1e-6, 0.99);
const FIT_WIDTH: Range = Range::new("width over diameter", "(ratio)", 0.2, 1.0);

/// What a closed form says of a bearing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClosedForm {
    /// Sommerfeld number `S = (mu N / P) (R / c)^2`.
    pub sommerfeld: f64,
    /// From the load's direction to the thinnest film, rad, in the direction the journal turns.
    pub attitude_rad: f64,
    /// `(R / c) f`, shear over the whole ring.
    pub friction: f64,
    /// `Qs / (R c N L)`, oil leaving at both ends.
    pub side_flow_number: f64,
}

/// A very long bearing whose oil may pull.
///
/// **Equation.** `S = (2 + e^2) sqrt(1 - e^2) / (12 pi^2 e)`, attitude a right angle,
/// `(R/c) f = (1 + 2 e^2) / (3 e)`, no side flow. **Units.** Ratios. **Range.** `0 < e < 1`,
/// length many times the diameter. **Source.** Sommerfeld, Z. Math. Phys. 50 (1904) 97-155, as in
/// Pinkus & Sternlicht, Theory of Hydrodynamic Lubrication (1961) (from memory).
/// **Accuracy.** Exact for what it assumes; real oil does not pull.
///
/// # Errors
///
/// [`BearingError::OutOfRange`] unless `0.000001 <= e <= 0.999999`.
pub fn sommerfeld_1904(eccentricity_ratio: f64) -> Result<ClosedForm, BearingError> {
    let e = ECCENTRICITY.check(eccentricity_ratio)?;
    Ok(ClosedForm {
        sommerfeld: (2.0 + e * e) * (1.0 - e * e).sqrt() / (12.0 * PI * PI * e),
        attitude_rad: 0.5 * PI,
        friction: (1.0 + 2.0 * e * e) / (3.0 * e),
        side_flow_number: 0.0,
    })
}

/// A very short bearing, film over the narrowing half only.
///
/// **Equation.** `S = (D/L)^2 (1 - e^2)^2 / (pi e sqrt(pi^2 (1 - e^2) + 16 e^2))`,
/// `tan(attitude) = pi sqrt(1 - e^2) / (4 e)`, `(R/c) f = 2 pi^2 S / sqrt(1 - e^2)`,
/// `Qs / (R c N L) = 2 pi e`. **Units.** Ratios. **Range.** Good below `L/D` 1/4 and `e` 0.7;
/// above, it promises more load than there is. **Source.** Dubois & Ocvirk, NACA TR 1157 (1953)
/// (from memory). **Worked value.** `L/D` 1/4, `e` 0.2: `S` 7.38.
///
/// # Errors
///
/// [`BearingError::OutOfRange`] unless `0.000001 <= e <= 0.999999` and `0.001 <= L/D <= 1000`.
pub fn dubois_ocvirk_1953(
    eccentricity_ratio: f64,
    length_over_diameter: f64,
) -> Result<ClosedForm, BearingError> {
    let e = ECCENTRICITY.check(eccentricity_ratio)?;
    let squat = LENGTH_OVER_DIAMETER.check(length_over_diameter)?;
    let rest = 1.0 - e * e;
    let root = (PI * PI * rest + 16.0 * e * e).sqrt();
    let sommerfeld = rest * rest / (PI * e * root * squat * squat);
    Ok(ClosedForm {
        sommerfeld,
        attitude_rad: (PI * rest.sqrt()).atan2(4.0 * e),
        friction: 2.0 * PI * PI * sommerfeld / rest.sqrt(),
        side_flow_number: 2.0 * PI * e,
    })
}

/// The load number `So` of a full bearing from the standard's fitted curve.
///
/// **Equation.** `So = (B/D)^2 e / (2 (1-e^2)^2) sqrt(pi^2 (1-e^2) + 16 e^2) a1 (e-1) / (a2+e)`,
/// with
/// `a1 = 1.1642 - 1.9456 x + 7.1161 x^2 - 10.1073 x^3 + 5.0141 x^4` and
/// `a2 = -1.000026 - 0.023634 x - 0.4215 x^2 - 0.038817 x^3 - 0.090551 x^4`, `x = B/D`.
/// **Units.** Ratios; `So = p psi^2 / (eta omega)`, so `S = 1 / (2 pi So)`. **Range.**
/// `0 < e <= 0.99`, `0.2 <= B/D <= 1` (as recalled, it runs away above 1). **Source.** ISO 7902-2 / DIN 31652-2 (Butenschön's fit),
/// from memory. **Accuracy.** Beside the film solved here within 3.5 per cent up to `e` 0.8 and 6
/// per cent at 0.9, for `B/D` up to 1/2 and at 1; up to 11 per cent low in between.
/// **Worked value.** `B/D` 1, `e` 0.6: `So` 1.297.
///
/// # Errors
///
/// [`BearingError::OutOfRange`] outside the range.
pub fn iso_7902_2_load_number(
    eccentricity_ratio: f64,
    width_over_diameter: f64,
) -> Result<f64, BearingError> {
    let e = FIT_ECCENTRICITY.check(eccentricity_ratio)?;
    let x = FIT_WIDTH.check(width_over_diameter)?;
    let a1 = 1.1642 + x * (-1.9456 + x * (7.1161 + x * (-10.1073 + x * 5.0141)));
    let a2 = -1.000_026 + x * (-0.023_634 + x * (-0.4215 + x * (-0.038_817 - x * 0.090_551)));
    let rest = 1.0 - e * e;
    let root = (PI * PI * rest + 16.0 * e * e).sqrt();
    Ok(x * x * e / (2.0 * rest * rest) * root * a1 * (e - 1.0) / (a2 + e))
}
