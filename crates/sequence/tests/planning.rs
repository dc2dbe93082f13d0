//! Plans against enumeration, against the audit, and against rules that must hold.

mod enumerate;
mod random;

use proptest::prelude::*;
use sequence::*;

fn options(objective: Objective) -> SearchOptions {
    SearchOptions { objective, steps: 300, exact_steps: 3_000_000, ..SearchOptions::default() }
}

const WEIGHTED: Objective =
    Objective::Weighted(Weights { elapsed_min: 5, moves: 4, set_ups: 3, people_min: 1 });

/// The planner's proof against every plan, minute by minute.
#[test]
fn proven_plans_are_the_best_of_all() {
    let (mut compared, mut proven, mut impossible) = (0, 0, 0);
    for seed in 0..140 {
        let scheme = random::small(seed, 2 + (seed % 8) as usize);
        let objective = if seed % 3 == 0 { WEIGHTED } else { Objective::InOrder };
        let plan = solve(&scheme, &Progress::default(), &options(objective));
        let best = match enumerate::best(&scheme, objective, 20_000) {
            enumerate::Enumerated::Best(rank) => rank,
            enumerate::Enumerated::NoPlan => {
                assert!(plan.is_err(), "seed {seed}: a plan where there is none");
                impossible += 1;
                continue;
            }
            enumerate::Enumerated::TooMany => continue,
        };
        let plan = plan.unwrap_or_else(|e| panic!("seed {seed}: {e}, but a plan exists"));
        assert_eq!(audit(&scheme, &Progress::default(), &plan), vec![], "seed {seed}");
        let rank = objective.rank(&plan.cost);
        assert!(rank >= best, "seed {seed}: better than the best: {:?}", plan.cost);
        assert!(objective.rank(&plan.bound) <= best, "seed {seed}: bound {:?}", plan.bound);
        if plan.optimal {
            assert_eq!(rank, best, "seed {seed}: proven but not the best: {:?}", plan.cost);
            proven += 1;
        }
        compared += 1;
    }
    println!("{compared} compared, {proven} proven, {impossible} without a plan");
    assert!(
        compared >= 45 && proven * 100 >= compared * 95,
        "{compared} compared, {proven} proven"
    );
}

/// What is proven before any search, against every plan, minute by minute.
#[test]
fn no_plan_is_below_the_bound() {
    let (mut compared, mut met) = (0, 0);
    for seed in 1000..1240 {
        let scheme = random::small(seed, 2 + (seed % 5) as usize);
        let objective = if seed % 2 == 0 { WEIGHTED } else { Objective::InOrder };
        let search =
            SearchOptions { objective, steps: 1, exact_steps: 0, ..SearchOptions::default() };
        let Ok(plan) = solve(&scheme, &Progress::default(), &search) else { continue };
        let enumerate::Enumerated::Best(best) = enumerate::best(&scheme, objective, 4000) else {
            continue;
        };
        compared += 1;
        assert!(objective.rank(&plan.bound) <= best, "seed {seed}: bound {:?}", plan.bound);
        if objective == Objective::InOrder {
            let elapsed_min = (best >> 96) as u64;
            assert!(plan.bound.elapsed_min <= elapsed_min, "seed {seed}: {:?}", plan.bound);
            met += u32::from(plan.bound.elapsed_min == elapsed_min);
        }
    }
    println!("{compared} compared, {met} bounds of elapsed time met");
    assert!(compared >= 40 && met >= 10, "{compared} compared, {met} met");
}

/// Two jacks: one stays under the rod until it is out. A work that needs both waits for that.
#[test]
fn kit_that_stays_is_not_there_for_others() {
    let mut scheme = Scheme::new(Calendar::even(1, 400, 4));
    let jack = scheme.add_kit(Kit::new("jack", 2));
    let rod_out = WorkId(1);
    let propped = Way::new("jack under it", 10, 1).kit(jack, 1).stays(jack, 1, Some(rod_out));
    let prop = scheme.add(Work::new("prop", "prop the rod").way(propped));
    let slow = scheme
        .add(Work::new("rod", "rod out").after(prop, "it is propped").way(Way::new("out", 60, 1)));
    assert_eq!(slow, rod_out);
    let both = scheme.add(
        Work::new("both", "ease the axle")
            .after(prop, "one after the other")
            .way(Way::new("on two jacks", 20, 1).kit(jack, 2)),
    );
    let plan = solve(&scheme, &Progress::default(), &SearchOptions::default()).expect("a plan");
    assert_eq!(audit(&scheme, &Progress::default(), &plan), vec![]);
    assert_eq!(plan.step(both).map(|s| s.start_min), Some(70));
    assert_eq!(plan.cost.elapsed_min, 90);
    // The audit finds it out by itself.
    let mut wrong = plan.clone();
    for s in wrong.steps.iter_mut().filter(|s| s.work == both) {
        (s.start_min, s.end_min) = (30, 50);
    }
    let found = audit(&scheme, &Progress::default(), &wrong);
    assert!(
        found.iter().any(|b| matches!(b, Breach::Short { taken: 3, there: 2, .. })),
        "{found:?}"
    );
    // Once the prop is done and the rod not, the jack is still there.
    let done = Step { work: prop, way: 0, start_min: 0, end_min: 10 };
    let progress = Progress { now_min: 10, done: vec![done], ..Progress::default() };
    let plan = solve(&scheme, &progress, &SearchOptions::default()).expect("a plan");
    assert_eq!(audit(&scheme, &progress, &plan), vec![]);
    assert_eq!(plan.step(both).map(|s| s.start_min), Some(70));
    // Three jacks cannot stay where there are two.
    scheme.works[prop.0].ways[0].stays[0].count = 3;
    let refused = solve(&scheme, &Progress::default(), &SearchOptions::default());
    assert!(refused.expect_err("refused").to_string().contains("fault"));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    /// Plans of random engines hold up when checked by other code, and the bound is no lie.
    #[test]
    fn every_plan_holds(seed in any::<u64>(), works in 1_usize..60, people in 2_u32..5) {
        let scheme = random::large(seed, random::Large { works, people, assembly: 8 });
        let options = SearchOptions { steps: 60, exact_steps: 2000, ..SearchOptions::default() };
        let progress = Progress::default();
        let plan = solve(&scheme, &progress, &options).expect("a plan");
        prop_assert_eq!(audit(&scheme, &progress, &plan), vec![]);
        // The same again gives the same.
        prop_assert_eq!(&plan, &solve(&scheme, &progress, &options).expect("a plan"));
    }

    /// Small schemes with every oddity: a plan that holds, or a refusal; never a panic.
    #[test]
    fn small_plans_hold(seed in any::<u64>(), works in 1_usize..14) {
        let scheme = random::small(seed, works);
        let options = SearchOptions { steps: 40, exact_steps: 2000, ..SearchOptions::default() };
        let progress = Progress::default();
        if let Ok(plan) = solve(&scheme, &progress, &options) {
            prop_assert_eq!(audit(&scheme, &progress, &plan), vec![]);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    /// After any event the mended plan holds for what is true then.
    #[test]
    fn mended_plans_hold(seed in any::<u64>(), works in 4_usize..50, part in 1_u64..90) {
        let scheme = random::large(seed, random::Large { works, people: 3, assembly: 8 });
        let search = SearchOptions { steps: 60, exact_steps: 0, ..SearchOptions::default() };
        let progress = Progress::default();
        let plan = solve(&scheme, &progress, &search).expect("a plan");
        let now_min = plan.cost.elapsed_min * part / 100 / 5 * 5;
        let mut dice = random::Dice(seed);
        let one = plan.steps[dice.below(plan.steps.len() as u64) as usize];
        let event = match dice.below(7) {
            0 => Event::AsPlanned,
            1 => Event::Stuck(one.work, one.way),
            2 => Event::People(2),
            3 => Event::Kit(KitId(1), 1),
            4 => Event::NotBegun(one.work),
            5 => Event::Done(Step { start_min: now_min.saturating_sub(5), end_min: now_min, ..one }),
            _ => Event::Found {
                works: vec![Work::new("bush", "make a bush").way(Way::new("bore", 60, 1).at_bench())],
                ties: vec![(one.work, Before::new(WorkId(works), Tie::Other, "the bush is cracked"))],
            },
        };
        let (scheme, progress) = apply(&scheme, &progress, &plan, now_min, &event).expect("an event");
        let options = RepairOptions { search, ..RepairOptions::default() };
        match repair(&scheme, &progress, &plan, &options) {
            Ok(mended) => {
                prop_assert_eq!(audit(&scheme, &progress, &mended.plan), vec![]);
            }
            // The only way of a work may be the one that is stuck.
            Err(Refused::DeadEnd { .. } | Refused::NotInCalendar { .. } | Refused::Faults(_)) => {
                prop_assert!(matches!(event, Event::Stuck(..) | Event::NotBegun(..) | Event::Done(..)));
            }
            Err(other) => return Err(TestCaseError::fail(other.to_string())),
        }
    }
}

/// Six jobs on six machines, Fisher and Thompson 1963, optimum 55 (data and optimum from memory;
/// OR-Tools gives 55 for these data too). Machines are kit, jobs are chains.
#[test]
fn the_six_by_six_job_shop_ends_at_55() {
    const JOBS: [[(usize, u32); 6]; 6] = [
        [(2, 1), (0, 3), (1, 6), (3, 7), (5, 3), (4, 6)],
        [(1, 8), (2, 5), (4, 10), (5, 10), (0, 10), (3, 4)],
        [(2, 5), (3, 4), (5, 8), (0, 9), (1, 1), (4, 7)],
        [(1, 5), (0, 5), (2, 5), (3, 3), (4, 8), (5, 9)],
        [(2, 9), (1, 3), (4, 5), (5, 4), (0, 3), (3, 1)],
        [(1, 3), (3, 3), (5, 9), (0, 10), (4, 4), (2, 1)],
    ];
    let mut scheme = Scheme::new(Calendar::even(1, 400, 6));
    let machines: Vec<KitId> =
        (0..6).map(|m| scheme.add_kit(Kit::new(&format!("m{m}"), 1))).collect();
    for (j, job) in JOBS.iter().enumerate() {
        let mut last = None;
        for (i, (machine, minutes)) in job.iter().enumerate() {
            let mut work = Work::new(&format!("{j}.{i}"), "turn")
                .way(Way::new("on it", *minutes, 1).kit(machines[*machine], 1));
            if let Some(before) = last {
                work = work.after(before, "the operation before");
            }
            last = Some(scheme.add(work));
        }
    }
    let options = SearchOptions { steps: 20_000, ..SearchOptions::default() };
    let plan = solve(&scheme, &Progress::default(), &options).expect("a plan");
    assert_eq!(audit(&scheme, &Progress::default(), &plan), vec![]);
    assert_eq!(plan.cost.elapsed_min, 55);
    assert!(plan.bound.elapsed_min >= 47 && plan.bound.elapsed_min <= 55, "{:?}", plan.bound);
}
