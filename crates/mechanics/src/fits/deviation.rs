//! From letter, grade and size to the fundamental deviation, with the delta rule.

use super::deviation_table::{hole_j_um, magnitude_um, shaft_j_um};
use super::grade::tolerance_nm;
use super::step::StepIndex;
use super::{FitsError, Grade, Letter, Member, Zone};

/// The fundamental deviation (m): the limit nearer the nominal size, signed.
///
/// For a shaft a to g it is the upper deviation es (negative), for h it is 0, for j to zc the
/// lower deviation ei. For a hole A to G it is EI (positive), for H it is 0, for J to ZC the
/// upper deviation ES. For js and JS it is the lower deviation -IT/2, exact (the 1988 edition
/// allowed js7 to js11 to be rounded; the 2010 tables do not round).
///
/// The delta rule: up to 500 mm and above 3 mm, a hole K, M or N to IT8, or P to ZC to IT7, has
/// `ES = -ei(shaft) + delta` with `delta = ITn - IT(n-1)`; beyond those grades delta is 0. M6
/// over 250 to 315 mm is -9 µm, not -11. N above IT8 is 0 (but -4 µm to 3 mm). Above 500 mm
/// there is no delta.
///
/// Not defined, hence errors: a, b and A, B to 1 mm; cd, ef, fg above 50 mm; a to c, v to zc and
/// j above 500 mm; t to 24 mm; v to 14 mm; y to 18 mm; j but for grades 5 to 7 (and 8 to 3 mm),
/// J but for 6 to 8; K above IT8 between 3 and 500 mm; holes K to ZC finer than IT3 where delta
/// is needed; N above IT8 to 1 mm.
///
/// Source: ISO 286-1:2010, Tables 2 to 5 and their notes; ISO 286-1:1988, Tables 2 and 3.
/// Worked value: 40 P7 -> ES = -26 + (25 - 16) = -17 µm.
///
/// # Errors
/// [`FitsError::SizeOutOfRange`], [`FitsError::GradeNotDefined`], [`FitsError::LetterNotDefined`].
pub fn fundamental_deviation_m(size_m: f64, zone: Zone) -> Result<f64, FitsError> {
    let at = StepIndex::of(size_m)?;
    let Zone { member, letter, grade } = zone;
    let (lower_nm, upper_nm) = limits_nm(at, member, letter, grade)?;
    let nearer = match (member, letter) {
        (_, Letter::Js) => lower_nm,
        (Member::Shaft, l) if l <= Letter::H => upper_nm,
        (Member::Shaft, _) => lower_nm,
        (Member::Hole, l) if l <= Letter::H => lower_nm,
        (Member::Hole, _) => upper_nm,
    };
    Ok(f64::from(nearer) * 1e-9)
}

/// Lower and upper deviation in nanometres.
pub(super) fn limits_nm(
    at: StepIndex,
    member: Member,
    letter: Letter,
    grade: Grade,
) -> Result<(i32, i32), FitsError> {
    let it = tolerance_nm(at, grade)?;
    let refuse =
        |reason| FitsError::LetterNotDefined { member, letter, grade, size_m: at.size_m, reason };
    if letter == Letter::Js {
        return Ok((-it / 2, it / 2));
    }
    if letter == Letter::H {
        return Ok(match member {
            Member::Hole => (0, it),
            Member::Shaft => (-it, 0),
        });
    }
    if letter <= Letter::B && at.to_1_mm() {
        return Err(refuse("A, B, a and b are not used for sizes up to and including 1 mm"));
    }
    if letter == Letter::J {
        return j_limits_nm(at, member, grade, it)
            .ok_or(refuse("j is given for grades 5 to 7 (8 to 3 mm), J for 6 to 8, to 500 mm"));
    }
    let magnitude = magnitude_um(letter, at).ok_or(refuse(missing(letter)))? * 1000;
    if letter < Letter::H {
        return Ok(match member {
            Member::Hole => (magnitude, magnitude + it),
            Member::Shaft => (-magnitude - it, -magnitude),
        });
    }
    match member {
        Member::Shaft => {
            // k has its table value in grades 4 to 7 only.
            let ei = if letter == Letter::K && !(4..=7).contains(&grade.number()) {
                0
            } else {
                magnitude
            };
            Ok((ei, ei + it))
        }
        Member::Hole => {
            let es = hole_es_nm(at, letter, grade, magnitude).map_err(refuse)?;
            Ok((es - it, es))
        }
    }
}

fn j_limits_nm(at: StepIndex, member: Member, grade: Grade, it: i32) -> Option<(i32, i32)> {
    match member {
        Member::Shaft => {
            let ei = -shaft_j_um(grade.number(), at)? * 1000;
            Some((ei, ei + it))
        }
        Member::Hole => {
            let es = hole_j_um(grade.number(), at)? * 1000;
            Some((es - it, es))
        }
    }
}

fn hole_es_nm(
    at: StepIndex,
    letter: Letter,
    grade: Grade,
    magnitude_nm: i32,
) -> Result<i32, &'static str> {
    let n = grade.number();
    if at.above_500() {
        return Ok(-magnitude_nm);
    }
    if letter == Letter::K && n > 8 && !at.to_3_mm() {
        return Err("K is not given above IT8 over 3 to 500 mm");
    }
    if letter == Letter::N && n > 8 {
        if at.to_1_mm() {
            return Err("N above IT8 is not used for sizes up to and including 1 mm");
        }
        return Ok(if at.to_3_mm() { -magnitude_nm } else { 0 });
    }
    // K, M and N take delta to IT8, P to ZC to IT7.
    let last = if letter <= Letter::N { 8 } else { 7 };
    if at.to_3_mm() || n > last {
        return Ok(-magnitude_nm);
    }
    if n < 3 {
        return Err("delta is given for IT3 to IT8 only");
    }
    if letter == Letter::M && n == 6 && at.main == 10 {
        return Ok(-9_000);
    }
    // Both grades exist here: 3 <= n <= 8 and the size is at most 500 mm.
    let value = |number: i32| {
        let grade = u8::try_from(number).ok().and_then(Grade::it);
        grade.and_then(|g| tolerance_nm(at, g).ok()).ok_or("delta is given for IT3 to IT8 only")
    };
    Ok(-magnitude_nm + value(n)? - value(n - 1)?)
}

fn missing(letter: Letter) -> &'static str {
    match letter {
        Letter::Cd | Letter::Ef | Letter::Fg => "given to 50 mm only",
        Letter::T => "t begins above 24 mm; to 24 mm use u",
        Letter::V => "v is given over 14 to 500 mm",
        Letter::Y => "y is given over 18 to 500 mm",
        _ => "given to 500 mm only",
    }
}
