//! A fitted bolt made to its own measured holes.

mod drive;
mod given;
mod hole;
mod lands;
mod matching;
mod stress;

use crate::design::ask::{Ask, because};
use crate::design::plan::Plan;
use crate::design::shapes::Design;
use crate::design::wanted::{form_limit, interference};
use crate::model::Measure;
use mechanics::bolt::{
    self as mb, BoltDesign, BoltStress, BoltWanted, DesignMember, DriveResult, FormLimits,
    HoleForm, Matching, ReamAdvice, ReamDecision, ReamWanted,
};

use mechanics::press::{PressJudgement, PressReading};

use drive::drive;
use given::{head, names, security, thread};
use hole::{centres, hole_lines, holes};
use lands::bolt_lines;
use matching::{matching, number_in_group};
use stress::stress;

/// One-sided 95 per cent of a normal distribution: the guard is this many standard uncertainties.
const GUARD: f64 = 1.645;

/// The calculation behind a fitted bolt.
#[derive(Clone, Debug, PartialEq)]
pub struct BoltDetail {
    /// Number of the hole in its group, and of the bolt made for it.
    pub number: u32,
    /// Joint the bolt is for.
    pub joint: String,
    /// Names of the members, head side first.
    pub names: Vec<String>,
    /// Material of the bolt.
    pub material: String,
    /// The hole as found, in each member.
    pub found: Vec<HoleForm>,
    /// The hole as found over its whole depth.
    pub whole: HoleForm,
    /// Whether to ream.
    pub advice: ReamAdvice,
    /// The size the holes are reamed to; `None` when they stay.
    pub reamed_m: Option<f64>,
    /// The bolt.
    pub bolt: BoltDesign,
    /// Drive and draw.
    pub drive: Option<DriveResult>,
    /// What was read in driving it.
    pub readings: Vec<PressReading>,
    /// What that says.
    pub judged: Option<PressJudgement>,
    /// Stresses.
    pub stress: Option<BoltStress>,
    /// Which bolt of the group fits which hole, as they are.
    pub matching: Option<Matching>,
    /// Joints of the group, in the order of the hole numbers.
    pub group: Vec<String>,
}

pub(super) fn design_bolt(ask: &mut Ask<'_>, plan: &Plan, out: &mut Design) {
    let what = "the bolt";
    let members = ask.many("members");
    let reamers = ask.many("reamers");
    let cut = ask.one("ream-cut");
    let land_tolerance = ask.one("land-tolerance");
    let slide = ask.one("slide");
    let lead = ask.one("lead");
    let head = head(ask);
    let thread = thread(ask);
    let security = security(ask);
    let wanted = interference(ask);
    if let Err(why) = &wanted {
        out.absent.push(because(what, why));
    }
    let (
        Some(members),
        Some(reamers),
        Some(cut_m),
        Some(land_tolerance_m),
        Some(slide_m),
        Some(lead_m),
        Some(head),
        Some(thread),
        Some(security),
        Ok(wanted),
    ) = (members, reamers, cut, land_tolerance, slide, lead, head, thread, security, wanted)
    else {
        out.absent.push(ask.absent(what));
        return;
    };
    let joint = ask.judgement.engine().joint(ask.joint);
    let names = names(ask, members.len());
    let (found, whole) = match holes(ask, members, &names) {
        Ok(forms) => forms,
        Err(why) => {
            out.absent.push(because(what, why));
            return;
        }
    };
    let centres = match centres(ask, &found, out) {
        Ok(c) => c,
        Err(why) => {
            out.absent.push(because(what, why));
            return;
        }
    };
    let hole = joint.outer;
    let spare = wanted.max_m - wanted.min_m;
    let mut allowed = |measure: Measure, name: &str| {
        form_limit(ask.judgement, hole, measure).unwrap_or_else(|| {
            ask.note(
                name,
                format!("{:.3} mm", 1e3 * spare),
                "the width of the interference wanted: a hole that strays by more cannot hold it",
            );
            spare
        })
    };
    let limits = FormLimits {
        out_of_round_m: allowed(Measure::Ovality, "out-of-round allowed"),
        taper_m: allowed(Measure::Taper, "taper allowed"),
        bell_m: allowed(Measure::Barrel, "bell-mouth allowed"),
        offset_m: 0.5 * spare,
    };
    let most = ask.judgement.engine().feature(hole).most.as_ref().map(|q| q.si());
    let largest_m = most.unwrap_or_else(|| {
        let largest = reamers.iter().copied().fold(0.0, f64::max);
        ask.note(
            "largest hole",
            format!("{:.3} mm", 1e3 * largest),
            "the largest reamer: the hole has no `most`",
        );
        largest
    });
    let ream = ReamWanted { limits, reamers_m: reamers.to_vec(), cut_m, largest_m };
    // The whole depth is one hole to a reamer, and each member is one to the bolt: both are asked.
    let mut forms = vec![whole.clone()];
    forms.extend(found.iter().cloned());
    let mut places = vec![(0.0, 0.0)];
    places.extend(centres.iter().copied());
    let advice = match mb::ream_advice(&forms, &places, &ream) {
        Ok(a) => a,
        Err(e) => {
            out.absent.push(because(what, e));
            return;
        }
    };
    let decided = plan.decided_by.as_ref().and_then(|_| plan.target(hole)).map(|t| t.to_m);
    let reamed_m = decided.or(match advice.decision {
        ReamDecision::Ream { reamer_m, .. } => Some(reamer_m),
        _ => None,
    });
    hole_lines(&found, &whole, &names, &advice, reamed_m, decided.is_some(), out);
    if let (ReamDecision::NoReamer { .. } | ReamDecision::TooLarge { .. }, None) =
        (advice.decision, decided)
    {
        out.absent.push(because(what, "the holes want reaming and no reamer serves: see above"));
        return;
    }
    let reaming_m = ask.judgement.engine().workshop.holds(crate::model::Way::Reaming);
    let after: Result<Vec<HoleForm>, _> = match reamed_m {
        Some(size) => {
            members.iter().map(|l| HoleForm::expected_true(size, *l, reaming_m)).collect()
        }
        None => Ok(found.clone()),
    };
    let u_m = ask
        .judgement
        .joint(ask.joint)
        .measure(Measure::Interference)
        .map_or(whole.size_u_m, |e| e.u());
    let (number, group) = number_in_group(ask);
    let result = after.and_then(|after| {
        let bolt = mb::design_bolt(&BoltWanted {
            hole_number: number,
            members: after
                .iter()
                .zip(&centres)
                .map(|(hole, centre)| DesignMember {
                    hole: hole.clone(),
                    // A reamed line is one line.
                    centre_m: if reamed_m.is_some() { (0.0, 0.0) } else { *centre },
                    interference: wanted,
                    tight_length_m: None,
                    gap_after_m: 0.0,
                })
                .collect(),
            guard_m: GUARD * u_m,
            land_tolerance_m,
            slide_m,
            lead_m,
            reamers_m: reamers.to_vec(),
            head,
            thread,
            security,
        })?;
        Ok((after, bolt))
    });
    let (after, bolt) = match result {
        Ok(pair) => pair,
        Err(e) => {
            out.absent.push(because(what, e));
            return;
        }
    };
    ask.note(
        "guard",
        format!("{:.1} um at each end of a land's band", 1e6 * GUARD * u_m),
        "1.645 standard uncertainties of hole and bolt gauges",
    );
    // The bolt's own lands are finer than one size for all of it: two figures for one surface on
    // one sheet would be made to the wrong one some day.
    out.sections.retain(|s| s.title != crate::design::plan::SIZES);
    bolt_lines(&bolt, &names, reamed_m, out);
    let drive = drive(ask, &bolt, &after, u_m, out);
    let (readings, judged) =
        crate::design::press::record(ask, drive.as_ref().map(|d| &d.curve), out);
    let stress = stress(ask, &bolt, members, &names, out);
    let matching = matching(ask, members, wanted, u_m, out);
    for text in bolt.cautions.iter() {
        out.caution(*text);
    }
    let material = ask.material_of(joint.inner).map(|m| m.id.clone()).unwrap_or_default();
    out.detail.bolt = Some(Box::new(BoltDetail {
        number,
        joint: joint.id.clone(),
        names,
        material,
        found,
        whole,
        advice,
        reamed_m,
        bolt,
        drive,
        readings,
        judged,
        stress,
        matching,
        group,
    }));
}
