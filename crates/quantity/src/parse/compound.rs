//! One size in several units: feet and inches, tons and hundredweights, degrees and minutes.

use super::Sum;
use super::fault::Fault;
use super::number::{Form, Number, vulgar};
use crate::Unit;
use crate::decimal::Decimal;
use crate::unit::skip_spaces;

/// Units that are written one after the other, largest first.
const CHAINS: [&[Unit]; 5] = [
    &[Unit::YARD, Unit::FOOT, Unit::INCH],
    &[Unit::TON, Unit::HUNDREDWEIGHT, Unit::QUARTER, Unit::POUND, Unit::OUNCE],
    &[Unit::TONNE, Unit::KILOGRAM],
    &[Unit::DEGREE, Unit::ARC_MINUTE, Unit::ARC_SECOND],
    &[Unit::HOUR, Unit::MINUTE, Unit::SECOND],
];

/// Index of the next number of a compound size, if one follows at `at`; a hyphen after a foot
/// mark is part of the way it is written (`4'-8 1/2"`).
pub(super) fn next_part(text: &[char], at: usize) -> Option<usize> {
    let mark_before = at > 0 && matches!(text[at - 1], '\'' | '′' | '’');
    let hyphen = mark_before && text.get(at).is_some_and(|c| matches!(c, '-' | '–'));
    let from = skip_spaces(text, if hyphen { at + 1 } else { at });
    text.get(from).is_some_and(|c| c.is_ascii_digit() || vulgar(*c).is_some()).then_some(from)
}

/// After degrees, a minute or a foot mark is a minute of arc.
pub(super) fn in_context(previous: Unit, unit: Unit) -> Unit {
    let arc = previous == Unit::DEGREE || previous == Unit::ARC_MINUTE;
    if arc && (unit == Unit::MINUTE || unit == Unit::FOOT) {
        Unit::ARC_MINUTE
    } else if arc && (unit == Unit::SECOND || unit == Unit::INCH) {
        Unit::ARC_SECOND
    } else {
        unit
    }
}

/// Adds `next` in `unit` to what was read before it.
pub(super) fn join(sum: &Sum, last: &Number, next: &Number, unit: Unit) -> Result<Sum, Fault> {
    let in_one_chain = CHAINS.iter().any(|chain| {
        let place = |u: Unit| chain.iter().position(|c| *c == u);
        matches!((place(sum.unit), place(unit)), (Some(a), Some(b)) if a < b)
    });
    if !in_one_chain {
        return Err(Fault::not_a_compound(next.start, sum.unit, unit));
    }
    if last.form != Form::Whole {
        return Err(Fault::broken_compound(last.start, sum.unit));
    }
    // every ratio inside a chain is a whole number
    let per = (sum.unit.factor() / unit.factor()).round();
    if next.value.to_f64() >= per {
        return Err(Fault::compound_overflow(next.start, sum.unit, unit, per));
    }
    let per = Decimal { digits: per as i128, exp10: 0 };
    let value = sum.value.times(per).and_then(|v| v.plus(next.value));
    let value = value.ok_or_else(|| Fault::out_of_range(last.start))?;
    Ok(Sum { value, unit, step: next.step, step_unit: unit })
}

/// Adds or takes off an allowance in the small unit of the same system.
pub(super) fn allow(
    sum: &Sum,
    negative: bool,
    allowance: &Number,
    unit: Unit,
    at: usize,
) -> Result<Sum, Fault> {
    let exp10 = match (sum.unit, unit) {
        (Unit::INCH, Unit::THOU) | (Unit::MILLIMETRE, Unit::MICROMETRE) => -3,
        (Unit::MILLIMETRE, Unit::HUNDREDTH) => -2,
        _ => return Err(Fault::not_an_allowance(at, sum.unit, unit)),
    };
    let sign = if negative { -1 } else { 1 };
    let change =
        Decimal { digits: sign * allowance.value.digits, exp10: exp10 + allowance.value.exp10 };
    let value = sum.value.plus(change).ok_or_else(|| Fault::out_of_range(at))?;
    Ok(Sum { value, unit: sum.unit, step: allowance.step, step_unit: unit })
}
