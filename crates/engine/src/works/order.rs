//! Works that somebody wants before others: the plan, mended around that.

use super::no_plan::NoPlan;
use super::plan::Planned;
use crate::judge::Judgement;
use sequence::{Before, Explainer, RepairOptions, Tie, Why, WorkId, inspect, repair};

/// One work wanted before another, by their ids.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wanted {
    /// The earlier.
    pub first: String,
    /// The later.
    pub then: String,
    /// Who wants it and when, in words; stands as the reason in the plan.
    pub why: String,
}

/// The plan with works in the order that somebody wants, changed as little as it can be; and what of
/// that cannot be, with the reason. What is done already, and what the stage does not have, asks for
/// nothing.
///
/// # Errors
/// The planner finds no plan with it.
pub fn in_order(
    judgement: &Judgement,
    planned: Planned,
    wanted: &[Wanted],
) -> Result<(Planned, Vec<String>), NoPlan> {
    let mut refused = Vec::new();
    let mut after = planned.clone();
    let mut any = false;
    for w in wanted {
        let (Some(first), Some(then)) =
            (id(judgement, &after, &w.first), id(judgement, &after, &w.then))
        else {
            continue;
        };
        if first == then || !(to_do(&after, first) && to_do(&after, then)) {
            continue;
        }
        let scheme = &after.assembled.scheme;
        let (progress, plan) = (&after.progress, &after.plan);
        let must = Explainer { scheme, progress, plan }.why_before(then, first);
        if let Why::Must(links) = must {
            let reasons = super::words::chain(scheme, &links).join("; ");
            refused.push(format!(
                "\"{}\" cannot come before \"{}\": {reasons}",
                super::words::name(scheme, first),
                super::words::name(scheme, then)
            ));
            continue;
        }
        let mut tied = scheme.clone();
        let Some(work) = tied.works.get_mut(then.0) else { continue };
        if work.after.iter().any(|b| b.work == first) {
            continue;
        }
        work.after.push(Before::new(first, Tie::Other, &w.why));
        let faults = inspect(&tied).faults;
        if !faults.is_empty() {
            let NoPlan::Contradiction(all) = NoPlan::of(sequence::Refused::Faults(faults), &tied)
            else {
                continue;
            };
            refused.extend(all);
            continue;
        }
        after.assembled.scheme = tied;
        any = true;
    }
    if !any {
        return Ok((planned, refused));
    }
    let scheme = &after.assembled.scheme;
    let mended = repair(scheme, &after.progress, &planned.plan, &RepairOptions::default())
        .map_err(|e| NoPlan::of(e, scheme))?;
    after.plan = mended.plan;
    after.changes.extend(mended.changes);
    Ok((after, refused))
}

fn id(judgement: &Judgement, planned: &Planned, work: &str) -> Option<WorkId> {
    planned.assembled.id_of(judgement.engine().works.work_by_id(work)?)
}

/// Neither done nor under way, and in the plan.
fn to_do(planned: &Planned, work: WorkId) -> bool {
    planned.plan.step(work).is_some() && !planned.progress.running.iter().any(|s| s.work == work)
}
