//! One big end with two ways to free its strap: the questions of a day's work on it.

use sequence::*;
use std::f64::consts::{FRAC_PI_2, PI};

struct Shop {
    scheme: Scheme,
    nuts: WorkId,
    cotter: WorkId,
    blocks: WorkId,
    strap: WorkId,
    rod: WorkId,
    crane: KitId,
}

/// The strap is drawn by jack at front dead centre, or with the rod blocked at back dead centre
/// and the engine barred away from it. Times are invented.
fn shop() -> Shop {
    let mut s = Scheme::new(Calendar::even(3, 420, 2));
    s.barring = Barring { people: 2, set_up_min: 10, turn_min: 0, round_min: 5, after: Vec::new() };
    let mut crane = Kit::new("crane", 1);
    crane.set_ups = SetUps::Counted;
    crane.not_in = vec![Weather::Wind];
    let crane = s.add_kit(crane);
    let jack = s.add_kit(Kit::new("jack", 1));
    let nuts = s.add(Work::new("nuts", "slack the strap nuts").way(Way::new("spanner", 30, 1)));
    let cotter = s.add(
        Work::new("cotter", "drive out the cotter")
            .after(nuts, "the nuts hold the cotter")
            .way(Way::new("drift", 20, 1)),
    );
    let blocks = s.add(
        Work::new("blocks", "block the rod")
            .kind(Kind::Support)
            .when_needed()
            .way(Way::new("timber", 15, 2).window(Window::about(PI, 0.2))),
    );
    let mut by_jack = Way::new("draw by jack", 40, 2).kit(jack, 1).window(Window::about(0.0, 0.3));
    by_jack.hazards = vec![Hazard::Jack, Hazard::Drop];
    by_jack.fails = 0.3;
    let barred = Way::new("bar away from the blocked rod", 60, 2)
        .window(Window::about(FRAC_PI_2, 0.3))
        .tied(Before::new(blocks, Tie::SupportedBy, "the rod must rest on blocks"));
    let strap = s.add(
        Work::new("strap", "strap off")
            .after(cotter, "the cotter holds the strap")
            .way(by_jack)
            .way(barred),
    );
    let mut lift = Way::new("by crane", 45, 2).kit(crane, 1).same_day();
    lift.hazards = vec![Hazard::Lift];
    let rod = s.add(
        Work::new("rod", "lift the rod away").after(strap, "the strap holds the rod").way(lift),
    );
    Shop { scheme: s, nuts, cotter, blocks, strap, rod, crane }
}

fn plan(shop: &Shop) -> Plan {
    solve(&shop.scheme, &Progress::default(), &SearchOptions::default()).expect("a plan")
}

#[test]
fn the_quick_way_is_taken_and_proven() {
    let shop = shop();
    let plan = plan(&shop);
    // 30 + 20 + 40 + 45 in a chain, the engine standing right already.
    assert_eq!(plan.cost, Cost { elapsed_min: 135, moves: 0, set_ups: 1, people_min: 220 });
    assert!(plan.optimal && plan.gap() == 0.0);
    assert!(plan.step(shop.blocks).is_none(), "blocks are for the other way only");
}

#[test]
fn when_the_jack_will_not_draw_it_the_other_way_comes_with_its_blocks() {
    let shop = shop();
    let old = plan(&shop);
    let event = Event::Stuck(shop.strap, 0);
    let (scheme, progress) = apply(&shop.scheme, &Progress::default(), &old, 90, &event).unwrap();
    let mended = repair(&scheme, &progress, &old, &RepairOptions::default()).unwrap();
    assert_eq!(audit(&scheme, &progress, &mended.plan), vec![]);
    // From 90: bar 10, block 15, bar 10, strap 60, rod 45.
    assert_eq!(mended.plan.cost.elapsed_min, 90 + 10 + 15 + 10 + 60 + 45);
    assert_eq!(mended.plan.moves.len(), 2);
    let change = |w| mended.changes.iter().find(|c| c.work == w).unwrap();
    assert_eq!(change(shop.strap).turned, Turned::Way { from: 0, to: 1 });
    assert_eq!(change(shop.strap).why, "draw by jack will not go");
    assert_eq!(change(shop.blocks).turned, Turned::New);
    assert_eq!(change(shop.blocks).why, "needed before strap");
    assert!(matches!(change(shop.rod).turned, Turned::Later(95)));
    // Both ways stuck: said, not planned round.
    let (scheme, progress) =
        apply(&scheme, &progress, &mended.plan, 90, &Event::Stuck(shop.strap, 1)).unwrap();
    let refused = repair(&scheme, &progress, &mended.plan, &RepairOptions::default()).unwrap_err();
    assert!(refused.to_string().contains("strap"), "{refused}");
}

#[test]
fn why_tells_the_chain_of_reasons() {
    let shop = shop();
    let plan = plan(&shop);
    let progress = Progress::default();
    let explainer = Explainer { scheme: &shop.scheme, progress: &progress, plan: &plan };
    let Why::Must(chain) = explainer.why_before(shop.nuts, shop.rod) else { panic!("a chain") };
    let reasons: Vec<&str> = chain.iter().map(|l| l.reason.as_str()).collect();
    assert_eq!(
        reasons,
        ["the nuts hold the cotter", "the cotter holds the strap", "the strap holds the rod"]
    );
    assert_eq!(explainer.why_before(shop.rod, shop.nuts), Why::Not);
    let earliest = explainer.earliest(shop.strap, &SearchOptions::default()).unwrap();
    assert_eq!((earliest.cost.elapsed_min, earliest.bound.elapsed_min), (90, 90));
    // A chain of works gains nothing from a third hand, and that is certain.
    let saving = explainer.one_more_person(&SearchOptions::default()).unwrap();
    assert_eq!((saving.found_min, saving.at_most_min), (0, 0));
}

#[test]
fn the_crane_for_one_more_day_saves_the_wait_for_it() {
    let mut shop = shop();
    shop.scheme.kits[shop.crane.0].by_day = vec![(0, 0)];
    let plan = plan(&shop);
    assert_eq!(plan.cost.elapsed_min, 420 + 45);
    let progress = Progress::default();
    let explainer = Explainer { scheme: &shop.scheme, progress: &progress, plan: &plan };
    assert_eq!(explainer.cause(shop.rod), Cause::Kit(shop.crane, vec![]));
    let saving = explainer.kit_on_day(shop.crane, 0, 1, &SearchOptions::default()).unwrap();
    assert_eq!((saving.found_min, saving.at_least_min, saving.at_most_min), (330, 330, 330));
}

#[test]
fn a_windy_short_day_leaves_the_lift_for_the_next() {
    let shop = shop();
    let here = Here { minutes: Some(150), weather: vec![Weather::Wind], ..Here::default() };
    let progress = Progress::default();
    let list = today(&shop.scheme, &progress, &here, None, &SearchOptions::default()).unwrap();
    assert_eq!(audit(&list.scheme, &progress, &list.plan), vec![]);
    let done: Vec<WorkId> = list
        .lines
        .iter()
        .filter_map(|l| if let Line::Do { work, .. } = l { Some(*work) } else { None })
        .collect();
    assert_eq!(done, [shop.nuts, shop.cotter, shop.strap]);
    assert!(matches!(list.lines[2], Line::Do { clock_min: 530, if_stuck: Some(1), .. }));
    assert_eq!(list.fetch, [(KitId(1), 1)]);
    assert_eq!(list.cautions.len(), 2);
    assert!((list.all_go - 0.7).abs() < 1e-12);
    // Nobody here: nothing today.
    let here = Here { people: Some(0), ..Here::default() };
    let list = today(&shop.scheme, &progress, &here, None, &SearchOptions::default()).unwrap();
    assert!(list.lines.is_empty());
}

#[test]
fn rows_do_not_overlap_and_the_engine_is_along_the_bottom() {
    let shop = shop();
    let progress = Progress { stuck: vec![(shop.strap, 0)], ..Progress::default() };
    let plan = solve(&shop.scheme, &progress, &SearchOptions::default()).unwrap();
    let rows = gantt(&shop.scheme, &progress, &plan);
    for row in &rows {
        assert!(row.bars.windows(2).all(|b| b[0].end_min <= b[1].start_min), "{:?}", row.lane);
    }
    assert_eq!(rows.last().unwrap().lane, Lane::Engine);
    assert_eq!(rows.iter().filter(|r| matches!(r.lane, Lane::Person(_))).count(), 2);
    let moves = rows.last().unwrap().bars.iter().filter(|b| b.moves).count() as u64;
    assert_eq!(moves, plan.cost.moves);
    let lines = listing(&shop.scheme, &progress, &plan);
    assert_eq!(lines.len(), plan.steps.len() + plan.moves.len());
    assert!(lines.iter().any(|l| l.contains("strap off (strap): bar away")));
}

#[test]
fn what_hangs_forbids_the_bar() {
    let mut shop = shop();
    // Drawing the strap leaves the rod hanging until it is lifted, which needs another position.
    let rod = shop.rod;
    shop.scheme.works[shop.strap.0].ways[0].leaves =
        vec![Hanging { what: "the rod".into(), until: Some(rod) }];
    shop.scheme.works[rod.0].ways[0].window = Window::about(FRAC_PI_2, 0.3);
    let found = inspect(&shop.scheme);
    assert!(matches!(&found.ways_out[..], [w] if matches!(w.reason, Reason::Hangs { .. })));
    let plan = plan(&shop);
    assert_eq!(plan.step(shop.strap).unwrap().way, 1, "only the other way is left");
}

#[test]
fn faults_are_named() {
    let mut s = Scheme::new(Calendar::even(1, 420, 2));
    let work = |t: &str| Work::new(t, t).way(Way::new("by hand", 10, 1));
    let a = s.add(work("a"));
    let b = s.add(work("b").after(a, "a holds b"));
    let c = s.add(work("c").after(b, "b covers c"));
    let d = s.add(work("d").after(c, "c holds d"));
    s.works[a.0].after.push(Before::new(d, Tie::HeldBy, "d holds a"));
    s.works[a.0].after.push(Before::new(c, Tie::SupportedBy, "a rests on c"));
    // The circle a-b-c is shorter than a-b-c-d.
    let faults = inspect(&s).faults;
    let [Fault::Circle(links)] = &faults[..] else { panic!("{faults:?}") };
    assert_eq!(links.len(), 3);
    let mut reasons: Vec<&str> = links.iter().map(|l| l.reason.as_str()).collect();
    reasons.sort_unstable();
    assert_eq!(reasons, ["a holds b", "a rests on c", "b covers c"]);

    let reason = |change: &dyn Fn(&mut Scheme)| {
        let mut s = Scheme::new(Calendar::even(1, 420, 2));
        s.add_kit(Kit::new("jack", 1));
        s.add(Work::new("a", "a").way(Way::new("way", 10, 1)));
        change(&mut s);
        let out = inspect(&s).ways_out;
        out.first().map(|o| o.reason.clone())
    };
    let way = |s: &mut Scheme, f: &dyn Fn(&mut Way)| f(&mut s.works[0].ways[0]);
    assert_eq!(reason(&|_| {}), None);
    let crew = reason(&|s| way(s, &|w| w.people = 3));
    assert_eq!(crew, Some(Reason::Crew { needs: 3, most: 2 }));
    let kit = reason(&|s| way(s, &|w| w.kit = vec![(KitId(0), 2)]));
    assert!(matches!(kit, Some(Reason::Kit { needs: 2, most: 1, .. })));
    let none = reason(&|s| way(s, &|w| w.kit = vec![(KitId(7), 1)]));
    assert_eq!(none, Some(Reason::NotThere(7)));
    let empty = reason(&|s| way(s, &|w| w.window = Window::Arcs(vec![])));
    assert_eq!(empty, Some(Reason::Window));
    let nan = reason(&|s| way(s, &|w| w.window = Window::about(f64::NAN, 0.1)));
    assert_eq!(nan, Some(Reason::Window));
    let long = reason(&|s| way(s, &|w| w.minutes = 421));
    assert_eq!(long, Some(Reason::NeverTogether { minutes: 421 }));
    let never = reason(&|s| {
        s.kits[0].count = 0;
        way(s, &|w| w.kit = vec![(KitId(0), 1)]);
    });
    assert!(matches!(never, Some(Reason::Kit { most: 0, .. })));
    let chance = reason(&|s| way(s, &|w| w.fails = f64::NAN));
    assert!(matches!(chance, Some(Reason::Chance(_))));
}

/// Whoever waits for the foundry waits by the date, not by the working minute.
#[test]
fn the_foundry_is_waited_for_in_days() {
    let mut s = Scheme::new(Calendar::even(6, 420, 1));
    // Saturdays only: seven days between.
    s.calendar.days.iter_mut().enumerate().for_each(|(d, day)| day.date = 7 * d as i64);
    let away = s.add(
        Work::new("away", "send the brasses away")
            .kind(Kind::SendAway)
            .way(Way::new("by post", 30, 1).at_bench()),
    );
    let back = Before::new(away, Tie::Other, "cast at the foundry").wait(Wait::Days(10));
    s.add(Work::new("bore", "bore the brasses").tied(back).way(Way::new("lathe", 60, 1)));
    let plan = solve(&s, &Progress::default(), &SearchOptions::default()).unwrap();
    // Sent on day 0 (date 0); back by date 10; the next Saturday is date 14, day 2.
    assert_eq!(plan.steps[1].start_min, 2 * 420);
    assert!(plan.optimal);
}
