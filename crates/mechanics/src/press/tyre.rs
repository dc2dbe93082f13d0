//! Shrinkage of a tyre on its wheel centre: the old rules.

use super::PressError;

/// A rule for the shrinkage of a tyre.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum TyreRule {
    /// The table of the American Railway Master Mechanics' Association as reprinted in early
    /// editions of Machinery's Handbook (from memory), straight between its rows; 38 to 66 in.
    MasterMechanics,
    /// One eightieth of an inch in a foot of diameter (common practice): 1 in 960.
    EightiethInchPerFoot,
    /// One thousandth of the diameter: *Applied Science for Metal-Workers* (Dooley), "a
    /// locomotive tire 68 in. in diameter should be turned 68/1000 in. smaller".
    ThousandthPerInch,
}

const TABLE_IN: [(f64, f64); 6] =
    [(38.0, 0.040), (44.0, 0.047), (50.0, 0.053), (56.0, 0.060), (62.0, 0.066), (66.0, 0.070)];

/// Shrinkage allowance (m, on the diameter) for a tyre of an inner diameter (m).
///
/// The tyre is bored this much smaller than the wheel centre. Worked values: 38 in -> 0.040 in,
/// 62 in -> 0.066 in (PF-07). The rules do not know the tyre's section or the centre's
/// stiffness: [`super::Section`] does.
///
/// # Errors
/// [`PressError::TyreOutsideRule`] outside 38 to 66 in for the table, outside 0.3 to 3 m for the
/// others, and for anything not a number.
pub fn tyre_shrink_allowance_m(inner_diameter_m: f64, rule: TyreRule) -> Result<f64, PressError> {
    let (from_m, to_m) = match rule {
        TyreRule::MasterMechanics => (38.0 * 0.0254, 66.0 * 0.0254),
        TyreRule::EightiethInchPerFoot | TyreRule::ThousandthPerInch => (0.3, 3.0),
    };
    let slack = 1e-9;
    if !(from_m - slack..=to_m + slack).contains(&inner_diameter_m) {
        return Err(PressError::TyreOutsideRule { diameter_m: inner_diameter_m, from_m, to_m });
    }
    Ok(match rule {
        TyreRule::EightiethInchPerFoot => inner_diameter_m / 960.0,
        TyreRule::ThousandthPerInch => inner_diameter_m / 1000.0,
        TyreRule::MasterMechanics => {
            let size_in = (inner_diameter_m / 0.0254).clamp(38.0, 66.0);
            let mut value_in = TABLE_IN[0].1;
            for pair in TABLE_IN.windows(2) {
                let ((x0, y0), (x1, y1)) = (pair[0], pair[1]);
                if size_in >= x0 {
                    value_in = y0 + (y1 - y0) * ((size_in - x0) / (x1 - x0)).min(1.0);
                }
            }
            value_in * 0.0254
        }
    })
}
