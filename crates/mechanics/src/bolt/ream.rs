//! Whether to ream the holes to the next size, and why.

use super::error::need;
use super::{BoltError, Circle, HoleForm, LineCircle, clean_up, go_through};

/// The form that is still fit for a fitted bolt, as the responsible engineer sets it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FormLimits {
    /// Out-of-round (m).
    pub out_of_round_m: f64,
    /// Taper over the length, either way (m).
    pub taper_m: f64,
    /// Bell-mouth at either end (m).
    pub bell_m: f64,
    /// Offset of any member's centre from the best line (m).
    pub offset_m: f64,
}

/// What is at hand.
#[derive(Debug, Clone, PartialEq)]
pub struct ReamWanted {
    /// What form is fit.
    pub limits: FormLimits,
    /// Reamer sizes at hand (m), any order.
    pub reamers_m: Vec<f64>,
    /// Metal the reamer should take off on the diameter beyond the bare clean-up (m).
    pub cut_m: f64,
    /// The largest hole the members bear (m): from edges, or the responsible engineer.
    pub largest_m: f64,
}

/// One reason for reaming.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ReamReason {
    /// A hole is out of round.
    OutOfRound {
        /// Index of the member, head side first.
        member: usize,
        /// How much (m).
        found_m: f64,
        /// The limit (m).
        limit_m: f64,
    },
    /// A hole is tapered.
    Tapered {
        /// Index of the member.
        member: usize,
        /// How much over its length (m).
        found_m: f64,
        /// The limit (m).
        limit_m: f64,
    },
    /// A hole is bell-mouthed.
    BellMouthed {
        /// Index of the member.
        member: usize,
        /// How much, the worse end (m).
        found_m: f64,
        /// The limit (m).
        limit_m: f64,
    },
    /// A hole is off the line of the others.
    OffLine {
        /// Index of the member.
        member: usize,
        /// Distance of its centre from the best line (m).
        found_m: f64,
        /// The limit (m).
        limit_m: f64,
    },
}

/// What to do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ReamDecision {
    /// Leave the holes: their form is within the limits; make the bolt to them as they are.
    LeaveAsFound,
    /// Ream all members together, in line, with this reamer.
    Ream {
        /// The reamer (m).
        reamer_m: f64,
        /// Metal it takes off the largest reading (m on the diameter).
        takes_off_m: f64,
    },
    /// No reamer at hand is large enough.
    NoReamer {
        /// What would clean the holes up (m).
        needed_m: f64,
    },
    /// The reamer that cleans up is larger than the members bear: bush, weld and re-bore, or
    /// renew, as a competent person decides.
    TooLarge {
        /// The reamer (m).
        reamer_m: f64,
        /// The largest allowed (m).
        largest_m: f64,
    },
}

/// The advice and what it rests on.
#[derive(Debug, Clone, PartialEq)]
pub struct ReamAdvice {
    /// What to do.
    pub decision: ReamDecision,
    /// Why; empty when the holes are left.
    pub reasons: Vec<ReamReason>,
    /// Things that were not read and so not judged (out-of-round with one direction, taper with
    /// one depth, bell-mouth under three), by member.
    pub not_judged: Vec<(usize, &'static str)>,
    /// The largest pin that passes as they are, by the smallest readings; `None` when the holes
    /// do not meet.
    pub go_through: Option<LineCircle>,
    /// What cleans all of them up, by the largest readings.
    pub clean_up: LineCircle,
}

/// Whether to ream, to what, and why.
///
/// Each member's form is held against the limits; a member's offset is the distance of its
/// centre from the centre of the clean-up circle. With any reason, the smallest reamer at or
/// above `clean-up + cut` is chosen. The clean-up circle goes round the largest reading of each
/// hole on its own centre, so an oval hole is cleaned all round.
///
/// Source: common practice; the geometry is [`clean_up`].
///
/// # Errors
/// [`BoltError::TooFew`], [`BoltError::Unequal`], [`BoltError::BadNumber`].
pub fn ream_advice(
    forms: &[HoleForm],
    centres_m: &[(f64, f64)],
    wanted: &ReamWanted,
) -> Result<ReamAdvice, BoltError> {
    if forms.len() != centres_m.len() {
        let (given, expected) = (centres_m.len(), forms.len());
        return Err(BoltError::Unequal { what: "centres of holes", given, expected });
    }
    check(wanted)?;
    let circles = |size: fn(&HoleForm) -> f64| -> Vec<Circle> {
        let pairs = forms.iter().zip(centres_m);
        pairs.map(|(f, c)| Circle { x_m: c.0, y_m: c.1, diameter_m: size(f) }).collect()
    };
    let clean = clean_up(&circles(|f| f.max_m))?;
    let passes = match go_through(&circles(|f| f.min_m)) {
        Ok(circle) => Some(circle),
        Err(BoltError::NothingPasses { .. }) => None,
        Err(other) => return Err(other),
    };
    let limits = wanted.limits;
    let mut reasons = Vec::new();
    let mut not_judged = Vec::new();
    for (member, (form, centre)) in forms.iter().zip(centres_m).enumerate() {
        match form.out_of_round_m {
            Some(found_m) if found_m > limits.out_of_round_m => {
                let limit_m = limits.out_of_round_m;
                reasons.push(ReamReason::OutOfRound { member, found_m, limit_m });
            }
            Some(_) => {}
            None => not_judged.push((member, "roundness: read it in two directions at least")),
        }
        match form.taper_m {
            Some(found_m) if found_m.abs() > limits.taper_m => {
                reasons.push(ReamReason::Tapered { member, found_m, limit_m: limits.taper_m });
            }
            Some(_) => {}
            None => not_judged.push((member, "taper: read it at two depths at least")),
        }
        match (form.bell_head_m, form.bell_far_m) {
            (Some(head), Some(far)) => {
                let found_m = head.max(far);
                if found_m > limits.bell_m {
                    let limit_m = limits.bell_m;
                    reasons.push(ReamReason::BellMouthed { member, found_m, limit_m });
                }
            }
            _ => not_judged.push((member, "bell-mouth: read it at three depths at least")),
        }
        let found_m = (centre.0 - clean.x_m).hypot(centre.1 - clean.y_m);
        if found_m > limits.offset_m {
            reasons.push(ReamReason::OffLine { member, found_m, limit_m: limits.offset_m });
        }
    }
    let decision = if reasons.is_empty() {
        ReamDecision::LeaveAsFound
    } else {
        let needed_m = clean.diameter_m + wanted.cut_m;
        let fits = wanted.reamers_m.iter().copied().filter(|r| *r >= needed_m - 1e-12);
        let largest_reading = forms.iter().map(|f| f.max_m).fold(0.0, f64::max);
        match fits.reduce(f64::min) {
            None => ReamDecision::NoReamer { needed_m },
            Some(reamer_m) if reamer_m > wanted.largest_m => {
                ReamDecision::TooLarge { reamer_m, largest_m: wanted.largest_m }
            }
            Some(reamer_m) => {
                ReamDecision::Ream { reamer_m, takes_off_m: reamer_m - largest_reading }
            }
        }
    };
    Ok(ReamAdvice { decision, reasons, not_judged, go_through: passes, clean_up: clean })
}

fn check(wanted: &ReamWanted) -> Result<(), BoltError> {
    let l = wanted.limits;
    for (what, value) in [
        ("limit of out-of-round", l.out_of_round_m),
        ("limit of taper", l.taper_m),
        ("limit of bell-mouth", l.bell_m),
        ("limit of offset", l.offset_m),
        ("reamer's cut", wanted.cut_m),
    ] {
        need(what, value, "m", value >= 0.0, "not negative")?;
    }
    need("largest hole allowed", wanted.largest_m, "m", wanted.largest_m > 0.0, "above 0")?;
    for &reamer in &wanted.reamers_m {
        need("reamer size", reamer, "m", reamer > 0.0, "above 0")?;
    }
    Ok(())
}
