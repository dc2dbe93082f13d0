//! The formulas behind the ISO 286 tables, as a cross-check on them.
//!
//! The table rules: the standard rounded, smoothed and sometimes kept older values, so these
//! functions are for checking a table and for understanding it, not for making parts.
//! `D` is the geometric mean of the step's two ends in mm (`sqrt(1*3)` for the first step), the
//! main step for cd, d, e, ef, f, fg, g, k, m, n, p and the grades, the intermediate step for
//! the rest.

use super::step::{MAIN_TO_MM, SUB_TO_MM, StepIndex};
use super::{FitsError, Grade, Letter, standard_tolerance_m};

/// A standard tolerance (µm) from the formula, before rounding.
///
/// To 500 mm: `i = 0.45 D^(1/3) + 0.001 D`; IT5 = 7i, IT6 = 10i, 16, 25, 40, 64, 100, 160, 250,
/// 400, 640, 1000, 1600, IT18 = 2500i; IT01 = 0.3 + 0.008 D, IT0 = 0.5 + 0.012 D,
/// IT1 = 0.8 + 0.020 D; IT2 to IT4 in geometric progression between IT1 and IT5.
/// Above 500 mm: `I = 0.004 D + 2.1`; IT1 = 2I, 2.7, 3.7, 5, IT5 = 7I and on as above.
///
/// Source: ISO 286-1:1988, Annex A, clauses A.3.2 and A.3.3, Tables 7 and 8 (from memory).
/// Worked value: 80 to 120 mm -> IT6 21.7, IT7 34.8, IT8 54.3, IT9 86.9 (LF-05).
///
/// # Errors
/// As [`super::standard_tolerance_m`].
pub fn tolerance_um(size_m: f64, grade: Grade) -> Result<f64, FitsError> {
    // The table's own refusals (size, IT01 and IT0 above 500 mm) hold for the formula too.
    standard_tolerance_m(size_m, grade)?;
    let at = StepIndex::of(size_m)?;
    let d = mean_mm(&MAIN_TO_MM, at.main);
    let n = grade.number();
    if at.above_500() {
        let unit = 0.004 * d + 2.1;
        return Ok(unit
            * match n {
                1 => 2.0,
                2 => 2.7,
                3 => 3.7,
                4 => 5.0,
                _ => multiple(n),
            });
    }
    let unit = 0.45 * d.cbrt() + 0.001 * d;
    let it1 = 0.8 + 0.020 * d;
    Ok(match n {
        -1 => 0.3 + 0.008 * d,
        0 => 0.5 + 0.012 * d,
        1 => it1,
        2..=4 => it1 * (7.0 * unit / it1).powf(f64::from(n - 1) / 4.0),
        _ => unit * multiple(n),
    })
}

/// Multiples of the tolerance unit for IT5 and coarser.
fn multiple(number: i32) -> f64 {
    const TIMES: [f64; 14] = [
        7.0, 10.0, 16.0, 25.0, 40.0, 64.0, 100.0, 160.0, 250.0, 400.0, 640.0, 1000.0, 1600.0,
        2500.0,
    ];
    usize::try_from(number - 5).ok().and_then(|i| TIMES.get(i)).copied().unwrap_or(f64::NAN)
}

/// What the formula allows a deviation's magnitude to be (µm), before rounding.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FormulaDeviation {
    /// One value.
    Value(f64),
    /// A range, for p (IT7 plus 0 to 5) and s to 50 mm (IT8 plus 1 to 4).
    Between(f64, f64),
}

/// A shaft's fundamental deviation as a magnitude (µm) from the formula, before rounding; `None`
/// for j, which has no formula, and for letters and sizes the tables do not have.
///
/// a: 265 + 1.3 D to 120 mm, then 3.5 D; b: 140 + 0.85 D to 160 mm, then 1.8 D;
/// c: 52 D^0.2 to 40 mm, then 95 + 0.8 D; d: 16 D^0.44; e: 11 D^0.41; f: 5.5 D^0.41;
/// g: 2.5 D^0.34; cd, ef, fg: geometric means of their neighbours; h, js: 0 and IT/2 (not here);
/// k: 0.6 D^(1/3) to 500 mm; m: IT7 - IT6, above 500 mm 0.024 D + 12.6; n: 5 D^0.34, above
/// 500 mm 0.04 D + 21; p: IT7 plus 0 to 5, above 500 mm 0.072 D + 37.8; r: geometric mean of p
/// and s; s: IT8 plus 1 to 4 to 50 mm, then IT7 + 0.4 D; t, u, v, x, y, z: IT7 + 0.63, 1, 1.25,
/// 1.6, 2, 2.5 D; za: IT8 + 3.15 D; zb: IT9 + 4 D; zc: IT10 + 5 D.
///
/// Source: ISO 286-1:1988, Annex A, Table 9 (from memory). The standard's own table values of
/// IT6 to IT10, p and s enter where the formula names them.
///
/// # Errors
/// [`FitsError::SizeOutOfRange`].
pub fn shaft_deviation_um(
    size_m: f64,
    letter: Letter,
) -> Result<Option<FormulaDeviation>, FitsError> {
    use super::deviation_table::magnitude_um;
    let at = StepIndex::of(size_m)?;
    let table = |l: Letter| magnitude_um(l, at).map(f64::from);
    if table(letter).is_none() {
        return Ok(None);
    }
    let large = at.above_500();
    let d = mean_mm(&MAIN_TO_MM, at.main);
    let ds = mean_mm(&SUB_TO_MM, at.sub);
    let to_mm = f64::from(SUB_TO_MM[at.sub]);
    let it = |number: u8| -> Result<f64, FitsError> {
        // Grades 6 to 10 exist at every size; a size in range has a value.
        let grade = Grade::it(number).unwrap_or(Grade::IT0);
        Ok(standard_tolerance_m(size_m, grade)? * 1e6)
    };
    let geometric = |a: Letter, b: Letter| Some((table(a)? * table(b)?).sqrt());
    let value = match letter {
        Letter::A => Some(if to_mm <= 120.0 { 265.0 + 1.3 * ds } else { 3.5 * ds }),
        Letter::B => Some(if to_mm <= 160.0 { 140.0 + 0.85 * ds } else { 1.8 * ds }),
        Letter::C => Some(if to_mm <= 40.0 { 52.0 * ds.powf(0.2) } else { 95.0 + 0.8 * ds }),
        Letter::Cd => geometric(Letter::C, Letter::D),
        Letter::D => Some(16.0 * d.powf(0.44)),
        Letter::E => Some(11.0 * d.powf(0.41)),
        Letter::Ef => geometric(Letter::E, Letter::F),
        Letter::F => Some(5.5 * d.powf(0.41)),
        Letter::Fg => geometric(Letter::F, Letter::G),
        Letter::G => Some(2.5 * d.powf(0.34)),
        Letter::K => Some(if large { 0.0 } else { 0.6 * d.cbrt() }),
        Letter::M => Some(if large { 0.024 * d + 12.6 } else { it(7)? - it(6)? }),
        Letter::N => Some(if large { 0.04 * d + 21.0 } else { 5.0 * d.powf(0.34) }),
        Letter::P if large => Some(0.072 * d + 37.8),
        Letter::P => return Ok(Some(FormulaDeviation::Between(it(7)?, it(7)? + 5.0))),
        Letter::R => geometric(Letter::P, Letter::S),
        Letter::S if to_mm <= 50.0 => {
            return Ok(Some(FormulaDeviation::Between(it(8)? + 1.0, it(8)? + 4.0)));
        }
        Letter::S => Some(it(7)? + 0.4 * ds),
        Letter::T => Some(it(7)? + 0.63 * ds),
        Letter::U => Some(it(7)? + ds),
        Letter::V => Some(it(7)? + 1.25 * ds),
        Letter::X => Some(it(7)? + 1.6 * ds),
        Letter::Y => Some(it(7)? + 2.0 * ds),
        Letter::Z => Some(it(7)? + 2.5 * ds),
        Letter::Za => Some(it(8)? + 3.15 * ds),
        Letter::Zb => Some(it(9)? + 4.0 * ds),
        Letter::Zc => Some(it(10)? + 5.0 * ds),
        Letter::H | Letter::Js | Letter::J => None,
    };
    Ok(value.map(FormulaDeviation::Value))
}

/// Which column of the standard's rounding rule applies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Rounding {
    /// Grades IT5 to IT11.
    Tolerance,
    /// Deviations a to g to 500 mm.
    ClearanceSide,
    /// Deviations k to zc to 500 mm.
    InterferenceSide,
    /// Any deviation above 500 mm.
    Above500,
}

/// Round a formula value (µm) as the standard rounds.
///
/// Steps of the rounding (up to value: step): tolerances 100:1, 200:5, 500:10, 1000:20, 2000:50,
/// 5000:100; a to g 45:1, 60:1, 200:5, 560:10, 1000:20, 2000:50; k to zc 100:1, 300:2, 600:5,
/// 800:10, 1000:20, 2000:50, 5000:100; above 500 mm 60:1, 100:2, 200:5, 500:10, 1000:20,
/// 2000:50, 5000:100. Halves round up.
///
/// Source: ISO 286-1:1988, Annex A, Tables 8 and 10 (from memory).
pub fn rounded_um(value_um: f64, rule: Rounding) -> f64 {
    let steps: &[(f64, f64)] = match rule {
        Rounding::Tolerance => {
            &[(100.0, 1.0), (200.0, 5.0), (500.0, 10.0), (1e3, 20.0), (2e3, 50.0), (5e3, 100.0)]
        }
        Rounding::ClearanceSide => {
            &[(60.0, 1.0), (200.0, 5.0), (560.0, 10.0), (1e3, 20.0), (2e3, 50.0)]
        }
        Rounding::InterferenceSide => &[
            (100.0, 1.0),
            (300.0, 2.0),
            (600.0, 5.0),
            (800.0, 10.0),
            (1e3, 20.0),
            (2e3, 50.0),
            (5e3, 100.0),
        ],
        Rounding::Above500 => &[
            (60.0, 1.0),
            (100.0, 2.0),
            (200.0, 5.0),
            (500.0, 10.0),
            (1e3, 20.0),
            (2e3, 50.0),
            (5e3, 100.0),
        ],
    };
    let step = steps.iter().find(|(to, _)| value_um <= *to).map_or(100.0, |(_, step)| *step);
    (value_um / step + 0.5).floor() * step
}

fn mean_mm(ends: &[i32], i: usize) -> f64 {
    let over = if i == 0 { 1 } else { ends[i - 1] };
    (f64::from(over) * f64::from(ends[i])).sqrt()
}
