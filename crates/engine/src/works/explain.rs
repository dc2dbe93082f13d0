//! Why this before that; how soon it can be off; what one more hand or crane day would save.

use super::no_plan::NoPlan;
use super::plan::Planned;
use super::scheme::target;
use super::words;
use crate::judge::Judgement;
use crate::model::Date;
use sequence::{Explainer, KitId, Plan, Saving, SearchOptions, Targets, Why, WorkId, solve};

/// Why one work is before another.
#[derive(Clone, Debug, PartialEq)]
pub struct WhyAnswer {
    /// The earlier.
    pub first: WorkId,
    /// The later.
    pub then: WorkId,
    /// It must be so, whatever the plan.
    pub must: bool,
    /// It is so.
    pub is: bool,
    /// The reasons, one a line.
    pub reasons: Vec<String>,
}

/// Why one work is before another in a plan.
///
/// # Errors
/// A name that is no work, part or joint of the stage.
pub fn why(
    judgement: &Judgement,
    planned: &Planned,
    a: &str,
    b: &str,
) -> Result<WhyAnswer, NoPlan> {
    let (first, then) = (one(judgement, planned, a)?, one(judgement, planned, b)?);
    let scheme = &planned.assembled.scheme;
    let (progress, plan) = (&planned.progress, &planned.plan);
    let explainer = Explainer { scheme, progress, plan };
    Ok(match explainer.why_before(first, then) {
        Why::Must(links) => {
            WhyAnswer { first, then, must: true, is: true, reasons: words::chain(scheme, &links) }
        }
        Why::InThisPlan(held) => {
            let reasons = held
                .iter()
                .map(|(w, c)| {
                    format!("\"{}\": {}", words::name(scheme, *w), words::cause(scheme, c))
                })
                .collect();
            WhyAnswer { first, then, must: false, is: true, reasons }
        }
        Why::Not => {
            let other = matches!(explainer.why_before(then, first), Why::Must(_));
            let reason = if other {
                "the other way round: it must come after"
            } else {
                "it is not before it in this plan, and need not be"
            };
            WhyAnswer { first, then, must: false, is: false, reasons: vec![reason.to_owned()] }
        }
    })
}

fn one(judgement: &Judgement, planned: &Planned, name: &str) -> Result<WorkId, NoPlan> {
    match target(judgement.engine(), &planned.assembled, name)? {
        Targets::Only(ids) => ids.first().copied().ok_or_else(|| NoPlan::NoTarget {
            name: name.to_owned(),
            mend: "name a work, a part or a joint".to_owned(),
        }),
        Targets::All => Err(NoPlan::NoTarget {
            name: name.to_owned(),
            mend: "name a work, a part or a joint".to_owned(),
        }),
    }
}

/// How soon something can be done.
#[derive(Clone, Debug)]
pub struct Soonest {
    /// The work asked for.
    pub work: WorkId,
    /// When the plan in force has it done, working minutes; `None` when it has not, or it is done.
    pub in_plan_min: Option<u64>,
    /// A plan for it alone.
    pub alone: Plan,
}

/// How soon a work can be done if everything else waits.
///
/// # Errors
/// As [`why`]; see [`NoPlan`].
pub fn soonest(
    judgement: &Judgement,
    planned: &Planned,
    name: &str,
    steps: u64,
) -> Result<Soonest, NoPlan> {
    let work = one(judgement, planned, name)?;
    let scheme = &planned.assembled.scheme;
    let alone = sequence::Scheme { targets: Targets::Only(vec![work]), ..scheme.clone() };
    let search = SearchOptions { steps, ..SearchOptions::default() };
    let plan = solve(&alone, &planned.progress, &search).map_err(|e| NoPlan::of(e, scheme))?;
    let in_plan_min = planned.plan.step(work).map(|s| s.end_min);
    Ok(Soonest { work, in_plan_min, alone: plan })
}

/// What a change would save.
#[derive(Clone, Debug)]
pub struct SavingAnswer {
    /// The change in words.
    pub what: String,
    /// What it saves.
    pub saving: Saving,
}

/// What one more person on every day, and each counted kit on one more day, would save for what is
/// planned. Of the days on which a kit is not there, the first three after now are tried.
///
/// # Errors
/// See [`NoPlan`].
pub fn savings(
    judgement: &Judgement,
    planned: &Planned,
    plan: &Plan,
    only: Option<WorkId>,
    steps: u64,
) -> Result<Vec<SavingAnswer>, NoPlan> {
    let mut scheme = planned.assembled.scheme.clone();
    if let Some(work) = only {
        scheme.targets = Targets::Only(vec![work]);
    }
    let explainer = Explainer { scheme: &scheme, progress: &planned.progress, plan };
    let search = SearchOptions { steps, exact_steps: 0, ..SearchOptions::default() };
    let no = |e| NoPlan::of(e, &scheme);
    let mut all = Vec::new();
    let saving = explainer.one_more_person(&search).map_err(no)?;
    all.push(SavingAnswer { what: "one more person on every day".to_owned(), saving });
    for (k, kit) in judgement.engine().works.kit.iter().enumerate().filter(|k| k.1.set_ups) {
        let now = planned.progress.now_min;
        let mut tried: Vec<Date> = Vec::new();
        let mut best: Option<SavingAnswer> = None;
        for (d, spell) in planned.assembled.spells.iter().enumerate() {
            let over = scheme.calendar.opens(d) + u64::from(spell.minutes) <= now;
            if over || scheme.kits[k].on(d) > 0 || scheme.calendar.opens(d) >= plan.cost.elapsed_min
            {
                continue;
            }
            if !tried.contains(&spell.date) {
                if tried.len() == 3 {
                    break;
                }
                tried.push(spell.date);
            }
            let saving =
                explainer.kit_on_day(KitId(k), d, kit.count.max(1), &search).map_err(no)?;
            if best.as_ref().is_none_or(|b| saving.found_min > b.saving.found_min) {
                let what = format!(
                    "{} on {} from {:02}:{:02} as well",
                    kit.name,
                    spell.date,
                    spell.opens_min / 60,
                    spell.opens_min % 60
                );
                best = Some(SavingAnswer { what, saving });
            }
        }
        all.extend(best);
    }
    Ok(all)
}
