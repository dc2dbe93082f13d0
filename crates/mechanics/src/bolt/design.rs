//! From the holes to the bolt: lands, steps, lengths.

use super::error::need;
use super::line::least_greatest;
use super::{
    BoltDesign, BoltError, Circle, DesignFinding, Head, HoleForm, Land, LandRole, Security,
    SlideStep, Thread, go_through,
};
use crate::fits::Band;

/// One member and the fit wanted in it.
#[derive(Debug, Clone, PartialEq)]
pub struct DesignMember {
    /// The hole as it is, or as it will be.
    pub hole: HoleForm,
    /// Its centre (m) in a frame common to all members; (0, 0) when the line is true.
    pub centre_m: (f64, f64),
    /// Interference wanted at the hole's mean size, least to most (m); negative is clearance.
    pub interference: Band,
    /// Length that is to fit, from the head side (m); the rest of the member is piloted. `None`
    /// for the whole length.
    pub tight_length_m: Option<f64>,
    /// Gap between this member and the next (m).
    pub gap_after_m: f64,
}

/// What is wanted of a bolt.
#[derive(Debug, Clone, PartialEq)]
pub struct BoltWanted {
    /// Number of its hole.
    pub hole_number: u32,
    /// Members in the order the bolt goes in, head side first.
    pub members: Vec<DesignMember>,
    /// Guard taken off each end of a land's band for the uncertainty of hole and land gauges (m).
    pub guard_m: f64,
    /// The tolerance a land needs to be made (m).
    pub land_tolerance_m: f64,
    /// Clearance at which a land is said to slide through a hole (m, on the diameter).
    pub slide_m: f64,
    /// Length of the lead on each fitted land (m).
    pub lead_m: f64,
    /// Reamers at hand (m), for opening a hole to make the step.
    pub reamers_m: Vec<f64>,
    /// Head.
    pub head: Head,
    /// Thread.
    pub thread: Thread,
    /// Security of the nut.
    pub security: Security,
}

/// Design a bolt for its holes.
///
/// Land of a member: `[size + least + guard, size + most - guard]`, size the hole's mean over
/// its length; the interference at the hole's largest and smallest reading is given beside it.
/// Pilot: `smallest reading - slide`, less the tolerance.
///
/// The step: a land slides home through the members before its own only when their smallest
/// readings exceed its largest diameter by the sliding clearance. Then it first grips when its
/// leading edge enters its own member, its fitted length before home; otherwise when it enters
/// the first member that it drags through. To make the step, holes are opened from the far
/// member to the head, each to the largest land beyond it plus the sliding clearance; the land of
/// an opened hole grows with it, and the cascade counts that. This is the old practice of a bolt
/// stepped a few thou from leg to leg so that it goes in by hand most of the way.
///
/// Source: common practice; the sums are own.
///
/// # Errors
/// [`BoltError::TooFew`], [`BoltError::BadNumber`], [`BoltError::BandTooNarrow`],
/// [`BoltError::NothingPasses`].
pub fn design_bolt(wanted: &BoltWanted) -> Result<BoltDesign, BoltError> {
    check(wanted)?;
    let members = &wanted.members;
    let mut starts = Vec::with_capacity(members.len());
    let mut grip_m = 0.0;
    for member in members {
        starts.push(grip_m);
        grip_m += member.hole.length_m + member.gap_after_m;
    }
    // A gap behind the last member is not gripped.
    grip_m -= members[members.len() - 1].gap_after_m;

    let mut findings = Vec::new();
    let mut lands = Vec::new();
    let mut fitted = Vec::with_capacity(members.len());
    for (index, (member, &start)) in members.iter().zip(&starts).enumerate() {
        let (min_m, max_m) = band(index, member, wanted)?;
        let tight = tight_length(member);
        let land = land(index, member, LandRole::Fitted, (start, start + tight), (min_m, max_m));
        note_form(&land, member, &mut findings);
        lands.push(land);
        fitted.push(land);
        let end = start + member.hole.length_m;
        let mut behind = (min_m, max_m);
        if end - (start + tight) > 1e-9 {
            let top = (member.hole.min_m - wanted.slide_m).min(min_m);
            behind = (top - wanted.land_tolerance_m, top);
            lands.push(self::land(index, member, LandRole::Pilot, (start + tight, end), behind));
        }
        if member.gap_after_m > 0.0 && index + 1 < members.len() {
            let span = (end, end + member.gap_after_m);
            lands.push(self::land(index, member, LandRole::Bridge, span, behind));
        }
    }

    let slide = slide_steps(wanted, &starts, &fitted);
    for step in &slide {
        for &through in &step.drags_through {
            findings.push(DesignFinding::DragsThrough { land: step.member, through });
        }
    }
    let circles: Vec<Circle> = members
        .iter()
        .map(|m| Circle { x_m: m.centre_m.0, y_m: m.centre_m.1, diameter_m: m.hole.min_m })
        .collect();
    let passes_m = go_through(&circles)?.diameter_m - wanted.slide_m;
    if wanted.thread.major_m > passes_m {
        findings.push(DesignFinding::ThreadTooLarge { major_m: wanted.thread.major_m, passes_m });
    }
    // Each centre as a circle without size: the least circle round them.
    let offset_m = 0.5 * least_greatest(&circles, 0.0).diameter_m;
    let clearance_m = fitted.iter().map(|l| -l.interference_m.1).fold(f64::INFINITY, f64::min);
    let clearance_m = clearance_m.max(0.0);
    if 2.0 * offset_m > clearance_m + wanted.guard_m + 1e-9 {
        findings.push(DesignFinding::OutOfLine { offset_m, clearance_m });
    }
    let tightens_before_home_m = slide.iter().map(|s| s.tightens_before_home_m).fold(0.0, f64::max);
    let thread = wanted.thread;
    Ok(BoltDesign {
        hole_number: wanted.hole_number,
        head: wanted.head,
        lands,
        thread,
        security: wanted.security,
        grip_m,
        length_under_head_m: grip_m + thread.run_out_m + thread.length_m,
        lead_m: wanted.lead_m,
        slide,
        tightens_before_home_m,
        findings,
        notes: vec![
            "stamp the hole number on head and member; made to its own holes, not interchangeable",
            "measure lands and holes at one temperature; radius every step, no sharp corner at a shear plane",
            "the head's underside must bear square when the bolt is home",
            wanted.security.note(),
        ],
        cautions: vec![
            "a bolt that is driven can fly or splinter: soft-faced tools, eye protection, no one in line with it",
            "a jack that draws a bolt stores energy and the bolt may let go at once: restrain it, stand clear; a competent person works the jack",
            "never use a finger to find whether holes line up",
        ],
    })
}

fn tight_length(member: &DesignMember) -> f64 {
    member.tight_length_m.unwrap_or(member.hole.length_m).min(member.hole.length_m)
}

/// The finished band of the land of a member, on its hole as it is.
fn band(index: usize, member: &DesignMember, wanted: &BoltWanted) -> Result<(f64, f64), BoltError> {
    let min_m = member.hole.size_m + member.interference.min_m + wanted.guard_m;
    let max_m = member.hole.size_m + member.interference.max_m - wanted.guard_m;
    let left_m = max_m - min_m;
    // A hundredth of a micrometre of play for the sums.
    if left_m < wanted.land_tolerance_m - 1e-8 {
        let tolerance_m = wanted.land_tolerance_m;
        return Err(BoltError::BandTooNarrow { member: index, left_m, tolerance_m });
    }
    Ok((min_m, max_m))
}

fn land(
    index: usize,
    member: &DesignMember,
    role: LandRole,
    (from_m, to_m): (f64, f64),
    (min_m, max_m): (f64, f64),
) -> Land {
    let hole = &member.hole;
    Land {
        member: index,
        role,
        from_m,
        to_m,
        diameter_min_m: min_m,
        diameter_max_m: max_m,
        interference_m: (min_m - hole.size_m, max_m - hole.size_m),
        local_interference_m: (min_m - hole.max_m, max_m - hole.min_m),
    }
}

fn note_form(land: &Land, member: &DesignMember, findings: &mut Vec<DesignFinding>) {
    let (least_m, most_m) = land.local_interference_m;
    let wanted = member.interference;
    if most_m > wanted.max_m + 1e-9 {
        let wanted_m = wanted.max_m;
        findings.push(DesignFinding::TighterInPlaces { member: land.member, most_m, wanted_m });
    }
    if least_m < wanted.min_m - 1e-9 {
        let wanted_m = wanted.min_m;
        findings.push(DesignFinding::LooserInPlaces { member: land.member, least_m, wanted_m });
    }
}

fn slide_steps(wanted: &BoltWanted, starts: &[f64], fitted: &[Land]) -> Vec<SlideStep> {
    let members = &wanted.members;
    let mut steps: Vec<SlideStep> = fitted
        .iter()
        .enumerate()
        .map(|(k, land)| {
            let drags_through: Vec<usize> = (0..k)
                .filter(|&j| members[j].hole.min_m < land.diameter_max_m + wanted.slide_m - 1e-9)
                .collect();
            // A land that merely touches grips nowhere; one that drags grips from the first
            // member it drags through, but only where it is larger than the hole.
            let first = drags_through
                .iter()
                .copied()
                .find(|&j| land.diameter_max_m > members[j].hole.min_m);
            let tightens_before_home_m = match first {
                Some(j) => land.to_m - starts[j],
                None if land.local_interference_m.1 > 0.0 => land.length_m(),
                None => 0.0,
            };
            SlideStep {
                member: k,
                tightens_before_home_m,
                drags_through,
                open_to_m: None,
                open_with_m: None,
            }
        })
        .collect();
    // The cascade: from the far member to the head.
    let mut largest_beyond = f64::NEG_INFINITY;
    for k in (0..members.len()).rev() {
        let land_top = fitted[k].diameter_max_m;
        let needed = largest_beyond + wanted.slide_m;
        let mut top = land_top;
        if members[k].hole.min_m < needed - 1e-9 {
            let reamer =
                wanted.reamers_m.iter().copied().filter(|r| *r >= needed - 1e-12).reduce(f64::min);
            steps[k].open_to_m = Some(needed);
            steps[k].open_with_m = reamer;
            let opened = reamer.unwrap_or(needed);
            top = opened + members[k].interference.max_m - wanted.guard_m;
        }
        largest_beyond = largest_beyond.max(top);
    }
    steps
}

fn check(wanted: &BoltWanted) -> Result<(), BoltError> {
    if wanted.members.is_empty() {
        return Err(BoltError::TooFew { what: "members", given: 0, least: 1 });
    }
    for (what, value) in [
        ("guard", wanted.guard_m),
        ("land tolerance", wanted.land_tolerance_m),
        ("sliding clearance", wanted.slide_m),
        ("lead", wanted.lead_m),
        ("run-out", wanted.thread.run_out_m),
    ] {
        need(what, value, "m", value >= 0.0, "not negative")?;
    }
    for (what, value) in [
        ("thread's major diameter", wanted.thread.major_m),
        ("thread's pitch", wanted.thread.pitch_m),
        ("thread's length", wanted.thread.length_m),
    ] {
        need(what, value, "m", value > 0.0, "above 0")?;
    }
    for &reamer in &wanted.reamers_m {
        need("reamer size", reamer, "m", reamer > 0.0, "above 0")?;
    }
    let head = match wanted.head {
        Head::Hexagon { across_m, height_m } | Head::Square { across_m, height_m } => {
            [across_m, height_m]
        }
        Head::Round { diameter_m, height_m } => [diameter_m, height_m],
        Head::Countersunk { diameter_m, angle_rad } => [diameter_m, angle_rad],
    };
    for value in head {
        need("head's dimension", value, "m or rad", value > 0.0, "above 0")?;
    }
    for member in &wanted.members {
        let Band { min_m, max_m } = member.interference;
        need("least interference", min_m, "m", true, "a number")?;
        need("most interference", max_m, "m", max_m >= min_m, "not below the least")?;
        need("gap", member.gap_after_m, "m", member.gap_after_m >= 0.0, "not negative")?;
        if let Some(tight) = member.tight_length_m {
            let within = tight > 0.0 && tight <= member.hole.length_m * (1.0 + 1e-9);
            need("tight length", tight, "m", within, "above 0 and within the member")?;
        }
        let hole = &member.hole;
        need("hole", hole.size_m, "m", hole.size_m > 0.0, "above 0")?;
        need("smallest reading", hole.min_m, "m", hole.min_m > 0.0, "above 0")?;
        need(
            "largest reading",
            hole.max_m,
            "m",
            hole.max_m >= hole.min_m,
            "not below the smallest",
        )?;
        need("length of the hole", hole.length_m, "m", hole.length_m > 0.0, "above 0")?;
    }
    Ok(())
}
