//! Works of the demo engines and of small ones: derived ties, circles, plans audited by code that
//! shares nothing with the planner, mending, lifts.

use engine::description::SourceText;
use engine::judge::Judgement;
use engine::view;
use engine::works::{
    Ask, Happened, KeptPlans, Moment, NoPlan, OnTheDay, Planned, Stage, TieFrom, Watch, What,
    assemble, day_list, lift, plan, savings, soonest, ties, why,
};
use sequence::{Tie, audit};
use std::path::Path;
use std::sync::atomic::AtomicBool;

fn loaded(texts: Vec<SourceText>) -> (engine::model::Engine, Vec<String>) {
    let (engine, problems) = engine::load(texts, None).finish();
    (engine, problems.iter().map(ToString::to_string).collect())
}

fn goods_texts() -> Vec<SourceText> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/goods");
    let mut files: Vec<_> = std::fs::read_dir(&folder)
        .expect("the demo is there")
        .map(|e| e.expect("an entry").path())
        .filter(|p| p.extension().is_some_and(|e| e == "toml"))
        .collect();
    files.sort();
    let own = folder.join("engine.toml");
    files.retain(|f| *f != own);
    files.insert(0, own);
    let text = |f: &std::path::PathBuf| SourceText {
        file: f.display().to_string(),
        text: std::fs::read_to_string(f).expect("a text"),
    };
    files.iter().map(text).collect()
}

fn goods() -> engine::model::Engine {
    let (engine, problems) = loaded(goods_texts());
    assert!(problems.is_empty(), "{}", problems.join("\n"));
    engine
}

fn small(text: &str) -> (Judgement, Vec<String>) {
    let (engine, problems) = loaded(vec![SourceText { file: "e.toml".into(), text: text.into() }]);
    (Judgement::of(engine), problems)
}

fn planned(judgement: &Judgement, ask: &Ask, kept: &KeptPlans) -> Result<Planned, NoPlan> {
    let stop = AtomicBool::new(false);
    let watch = Watch { news: &|_| {}, stop: &stop };
    plan(judgement, ask, kept.of(ask.stage), &watch)
}

/// A short search: these tests are about what a plan may be, not about how good it is.
fn ask(stage: Stage) -> Ask {
    Ask { steps: 150, ..Ask::of(stage) }
}

fn holds(p: &Planned) {
    let found = audit(&p.assembled.scheme, &p.progress, &p.plan);
    assert!(found.is_empty(), "{found:?}");
}

fn start_of(p: &Planned, judgement: &Judgement, work: &str) -> u64 {
    let at = judgement.engine().works.work_by_id(work).expect("a work");
    let id = p.assembled.id_of(at).expect("of this stage");
    p.plan.step(id).unwrap_or_else(|| panic!("{work} is planned")).start_min
}

#[test]
fn the_demo_has_the_works_it_says() {
    let engine = goods();
    let works = &engine.works.works;
    let of = |s| works.iter().filter(|w| w.stage == s).count();
    assert!(of(Stage::Strip) >= 150 && of(Stage::Build) >= 90);
    let choices = works.iter().filter(|w| w.stage == Stage::Strip && w.ways.len() > 1).count();
    assert!(choices >= 60, "{choices}");
    for part in ["rod", "strap", "crosshead", "piston"] {
        for side in ["left", "right"] {
            assert!(engine.works.lift_by_id(&format!("{part}.{side}")).is_some());
        }
    }
}

/// What the joints and parts of the engine model say, each read off the model by hand.
#[test]
fn ties_come_from_joints_and_parts() {
    let engine = goods();
    let found = ties(&engine, Stage::Strip);
    let tie = |a: &str, b: &str| {
        let at = |w| engine.works.work_by_id(w).unwrap_or_else(|| panic!("{w}"));
        let (a, b) = (at(a), at(b));
        found.iter().find(|t| t.earlier == a && t.later == b)
    };
    // The wedge mates with the strap's slot and with the brasses: out before both.
    for later in ["strap-off.left", "brasses-off.left"] {
        let t = tie("wedge-out.left", later).expect(later);
        assert_eq!(t.tie, Tie::HeldBy);
        assert!(matches!(t.from, TieFrom::Joint(_)), "{t:?}");
    }
    assert_eq!(
        tie("bolts-out.left", "strap-off.left").expect("bolts").reason,
        "left strap bolt 1 holds left big-end strap"
    );
    // The gudgeon pin goes through small end and crosshead.
    let pin = tie("rod-out.left", "crosshead-out.left").expect("the pin is drawn first");
    assert!(pin.reason.contains("left gudgeon pin") || pin.reason.contains("covers"), "{pin:?}");
    // The cotter holds a joint, which holds the rod.
    assert!(tie("cotter-out.left", "taper-broken.left").is_some());
    assert!(tie("taper-broken.left", "piston-out.left").is_some());
    // The crank pin is bare when the brasses are off, not when the axle is out.
    assert!(tie("brasses-off.left", "gauge-crank-pin.left").is_some());
    assert!(tie("wheels-out.driving", "gauge-crank-pin.left").is_none());
    // A brass is gauged when it is off, whatever its mate does.
    assert!(tie("brasses-off.left", "gauge-big-end.left").is_some());
    // Knock and marks are read while the big end is together.
    assert!(tie("knock.left", "brasses-off.left").is_some());
    // Nothing crosses sides.
    assert!(tie("wedge-out.left", "strap-off.right").is_none());
    // In the build they turn round.
    let found = ties(&engine, Stage::Build);
    let tie = |a: &str, b: &str| {
        let at = |w| engine.works.work_by_id(w).unwrap_or_else(|| panic!("{w}"));
        found.iter().any(|t| t.earlier == at(a) && t.later == at(b))
    };
    assert!(tie("strap-on.left", "bolts-in.left") && tie("strap-on.left", "wedge-in.left"));
    assert!(tie("taper-home.left", "cotter-in.left"));
    assert!(!tie("bolts-in.left", "strap-on.left"));
}

#[test]
fn every_plan_of_the_demo_holds() {
    let judgement = Judgement::of(goods());
    let kept = KeptPlans::default();
    for stage in [Stage::Strip, Stage::Build] {
        let p = planned(&judgement, &ask(stage), &kept).expect("a plan");
        holds(&p);
        assert!(p.plan.bound.elapsed_min <= p.plan.cost.elapsed_min);
        assert!(p.ways_out.is_empty(), "{:?}", p.ways_out);
        let view = view::plan_view(&judgement, &p);
        let lines: usize = view.days.iter().map(|d| d.lines.len()).sum();
        assert_eq!(lines, p.plan.steps.len() + p.plan.moves.len());
        // Everybody named is there that day, and nobody twice at a time.
        for (d, day) in view.days.iter().enumerate() {
            for l in day.lines.iter().filter(|l| !l.until.contains(' ')) {
                assert!(l.who.iter().all(|w| day.people.contains(w)), "{d} {l:?}");
            }
        }
        let bars = engine::works::people_bars(judgement.engine(), &p);
        for a in &bars {
            let twice = bars.iter().filter(|b| {
                b.person == a.person && b.start_min < a.end_min && a.start_min < b.end_min
            });
            assert_eq!(twice.count(), 1, "{a:?}");
        }
        let chart = view::chart_view(&judgement, &p);
        assert!(!chart.panels.is_empty() && !chart.engine.is_empty());
        if stage == Stage::Build {
            assert!(
                chart.waits.iter().any(|w| w.label.contains("fortnight")),
                "the foundry's wait"
            );
        }
    }
    let far = Ask { only_to: Some("big-end.right".into()), ..ask(Stage::Strip) };
    let p = planned(&judgement, &far, &kept).expect("a plan");
    holds(&p);
    assert!(p.plan.steps.len() < 40);
    let part = Ask { only_to: Some("brass.right.fixed".into()), ..ask(Stage::Strip) };
    let by_part = planned(&judgement, &part, &kept).expect("a plan");
    assert_eq!(by_part.plan.steps.len(), p.plan.steps.len(), "the brasses open the joint");
}

/// The order a fitter looks for.
#[test]
fn the_strip_makes_sense() {
    let judgement = Judgement::of(goods());
    let p = planned(&judgement, &ask(Stage::Strip), &KeptPlans::default()).expect("a plan");
    let at = |w: &str| start_of(&p, &judgement, w);
    for side in ["left", "right"] {
        let w = |name: &str| at(&format!("{name}.{side}"));
        let carried = w("rod-blocked");
        assert!(carried < w("bolts-slack") && carried < w("set-bolt-out"));
        assert!(w("set-bolt-out") < w("wedge-out") && w("wedge-out") < w("strap-off"));
        assert!(w("bolts-slack") < w("bolts-out") && w("bolts-out") < w("strap-off"));
        assert!(carried < w("strap-off") && w("strap-off") < w("brasses-off"));
        // From the blocks to the rod hung clear of the webs the engine is not moved.
        let still = |m: &&sequence::Move| m.end_min > carried && m.start_min < w("rod-hung");
        assert_eq!(p.plan.moves.iter().filter(still).count(), 0, "{side}");
        assert!(w("crosshead-hung") < w("bars-off") && w("bars-off") < w("crosshead-out"));
        assert!(w("cover-off") < w("piston-out") && w("gland-out") < w("piston-out"));
    }
    // Nothing is moved before the board is signed, nor once the engine is off its springs.
    let first = p.plan.moves.iter().map(|m| m.start_min).min().expect("moves");
    assert!(first >= at("ready"));
    assert!(p.plan.moves.iter().all(|m| m.end_min <= at("engine-eased")));
}

/// The rod is on its blocks, bolts and wedge are out, and the strap will not come: a strut, a move, and
/// the crank draws it.
#[test]
fn a_strap_that_will_not_come_with_the_rod_on_its_blocks_is_freed_the_other_way() {
    let judgement = Judgement::of(goods());
    let mut kept = KeptPlans::default();
    let to = Ask { only_to: Some("rod-hung.left".into()), ..ask(Stage::Strip) };
    let first = planned(&judgement, &to, &kept).expect("a plan");
    holds(&first);
    kept.put(Stage::Strip, first.kept.clone());
    let strap = judgement.engine().works.work_by_id("strap-off.left").expect("a work");
    let strap = *first.plan.step(first.assembled.id_of(strap).expect("planned")).expect("a step");
    let over = first.plan.steps.iter().filter(|s| s.end_min <= strap.start_min);
    let mut records: Vec<Happened> = over
        .map(|s| Happened {
            work: first.assembled.works[s.work.0],
            what: What::Done(None),
            when: first.assembled.moment_of_end(s.end_min).expect("in the calendar"),
            way: Some(s.way),
            why: String::new(),
            by: String::new(),
            stands: None,
        })
        .collect();
    records.sort_by_key(|h| h.when);
    let when = first.assembled.moment_of_end(strap.end_min).expect("in the calendar").to_string();
    records.push(record(&judgement, "strap-off.left", What::Stuck, &when, Some("jack")));
    let stuck = with(records);
    let second = planned(&stuck, &to, &kept).expect("a plan");
    holds(&second);
    let at = |w: &str| start_of(&second, &stuck, w);
    assert!(at("rod-strutted.left") < at("strap-off.left"));
    let between = second
        .plan
        .moves
        .iter()
        .filter(|m| m.start_min > at("rod-strutted.left") && m.end_min <= at("strap-off.left"));
    assert_eq!(between.count(), 1, "the engine is barred away from the rod");
}

fn record(
    judgement: &Judgement,
    work: &str,
    what: What,
    when: &str,
    way: Option<&str>,
) -> Happened {
    let model = &judgement.engine().works;
    let at = model.work_by_id(work).expect("a work");
    let way = way.map(|w| model.works[at].ways.iter().position(|x| x.id == w).expect("a way"));
    let when = Moment::parse(when).expect("a time");
    Happened { work: at, what, when, way, why: String::new(), by: String::new(), stands: None }
}

fn with(records: Vec<Happened>) -> Judgement {
    let mut engine = goods();
    engine.works.progress = records;
    Judgement::of(engine)
}

#[test]
fn the_other_way_comes_when_the_first_is_stuck_and_goes_when_it_is_taken_back() {
    let judgement = Judgement::of(goods());
    let mut kept = KeptPlans::default();
    let to = Ask { only_to: Some("strap-off.left".into()), ..ask(Stage::Strip) };
    let first = planned(&judgement, &to, &kept).expect("a plan");
    let way_of = |p: &Planned, j: &Judgement| {
        let at = j.engine().works.work_by_id("strap-off.left").expect("a work");
        let step = p.plan.step(p.assembled.id_of(at).expect("planned")).expect("a step");
        j.engine().works.works[at].ways[step.way].id.clone()
    };
    assert_eq!(way_of(&first, &judgement), "jack");
    kept.put(Stage::Strip, first.kept.clone());
    let stuck = with(vec![record(
        &judgement,
        "strap-off.left",
        What::Stuck,
        "2026-10-06 18:05",
        Some("jack"),
    )]);
    let second = planned(&stuck, &to, &kept).expect("a plan");
    holds(&second);
    assert_eq!(way_of(&second, &stuck), "bar-away");
    let changes = view::changes_view(&second);
    let said = |w: &str| changes.iter().find(|c| c.work == w).unwrap_or_else(|| panic!("{w}"));
    assert!(said("strap-off.left").why.contains("will not go"), "{:?}", said("strap-off.left"));
    assert!(said("rod-strutted.left").what.contains("new"));
    // It goes after all.
    kept.put(Stage::Strip, second.kept.clone());
    let mut records = stuck.engine().works.progress.clone();
    records.push(record(&judgement, "strap-off.left", What::Undone, "2026-10-06 18:10", None));
    let third = planned(&with(records), &to, &kept).expect("a plan");
    holds(&third);
    assert!(third.progress.stuck.is_empty());
    // Both stuck: said, not planned round.
    let both = with(vec![
        record(&judgement, "strap-off.left", What::Stuck, "2026-10-06 18:05", Some("jack")),
        record(&judgement, "strap-off.left", What::Stuck, "2026-10-06 18:06", Some("bar-away")),
    ]);
    let refused = planned(&both, &to, &kept).expect_err("no way left").to_string();
    assert!(refused.contains("strap"), "{refused}");
}

#[test]
fn a_plan_stays_to_the_minute_while_all_goes_as_planned() {
    let judgement = Judgement::of(goods());
    let mut kept = KeptPlans::default();
    let first = planned(&judgement, &ask(Stage::Strip), &kept).expect("a plan");
    kept.put(Stage::Strip, first.kept.clone());
    let again = planned(&judgement, &ask(Stage::Strip), &kept).expect("a plan");
    assert_eq!(again.plan.steps, first.plan.steps);
    // Through JSON and back it is the same.
    let text = serde_json::to_string(&kept).expect("written");
    assert_eq!(serde_json::from_str::<KeptPlans>(&text).expect("read"), kept);
    // The first steps are recorded as they were planned.
    let mut records = Vec::new();
    for s in first.plan.steps.iter().take(8) {
        let work = first.assembled.works[s.work.0];
        let when = first.assembled.moment_of_end(s.end_min).expect("in the calendar");
        let what = What::Done(None);
        let (why, by) = (String::new(), String::new());
        records.push(Happened { work, what, when, way: Some(s.way), why, by, stands: None });
    }
    records.sort_by_key(|h| h.when);
    let later = with(records);
    let third = planned(&later, &ask(Stage::Strip), &kept).expect("a plan");
    holds(&third);
    assert!(third.changes.is_empty(), "{:?}", third.changes);
    for s in &third.plan.steps {
        assert_eq!(first.plan.step(s.work), Some(s));
    }
    // Without a kept plan it comes to the same: made from nothing by the same seed and steps.
    let bare = planned(&later, &ask(Stage::Strip), &KeptPlans::default()).expect("a plan");
    assert_eq!(bare.plan.steps, third.plan.steps);
}

#[test]
fn today_keeps_to_who_and_what_is_there() {
    let judgement = Judgement::of(goods());
    let kept = KeptPlans::default();
    let p = planned(&judgement, &ask(Stage::Strip), &kept).expect("a plan");
    let here = OnTheDay {
        day: Some(engine::model::Date::parse("2026-10-10").expect("a day")),
        people: Some(2),
        minutes: Some(180),
        without: vec!["crane".into(), "pit".into()],
        steps: 60,
        seed: 1,
        ..OnTheDay::default()
    };
    let answer = day_list(&judgement, p.clone(), &here).expect("a list");
    let view = view::day_view(&judgement, &answer);
    assert!(!view.lines.is_empty());
    for l in &view.lines {
        assert!(l.people <= 2 && l.place != "from the pit", "{l:?}");
        assert!(!l.kit.iter().any(|k| k.contains("crane")), "{l:?}");
        assert!(l.from.as_str() < "12:00", "{l:?}");
    }
    // A day that no shift knows wants people and hours.
    let sunday = Some(engine::model::Date::parse("2026-10-11").expect("a day"));
    let refused = day_list(&judgement, p.clone(), &OnTheDay { day: sunday, ..here.clone() });
    assert!(refused.is_ok(), "people and hours are said");
    let bare = OnTheDay { day: sunday, steps: 10, ..OnTheDay::default() };
    let refused = day_list(&judgement, p.clone(), &bare).expect_err("nobody is down");
    assert!(refused.to_string().contains("2026-10-13"), "the next day is named: {refused}");
    let unknown = OnTheDay { without: vec!["crain".into()], ..here };
    assert!(day_list(&judgement, p, &unknown).is_err());
}

#[test]
fn why_gives_the_chain_and_what_would_help() {
    let judgement = Judgement::of(goods());
    let p = planned(&judgement, &ask(Stage::Strip), &KeptPlans::default()).expect("a plan");
    let answer = why(&judgement, &p, "wedge.left", "connecting-rod.left").expect("an answer");
    assert!(answer.must && answer.is);
    assert!(answer.reasons[0].contains("left big-end wedge"), "{:?}", answer.reasons);
    let not = why(&judgement, &p, "connecting-rod.left", "wedge.left").expect("an answer");
    assert!(!not.is);
    let s = soonest(&judgement, &p, "big-end.right", 60).expect("an answer");
    assert!(s.alone.cost.elapsed_min <= s.in_plan_min.expect("planned"));
    let saved = savings(&judgement, &p, &s.alone, Some(s.work), 40).expect("savings");
    assert!(saved.iter().all(|x| x.saving.at_least_min <= x.saving.at_most_min));
    assert!(saved[0].what.contains("person"));
}

/// Weights against the definitions: a pound is 0.453 592 37 kg exactly (International Yard and Pound
/// Agreement, 1959), g is 9.806 65 m/s² (3rd CGPM, 1901). Legs against statics: four even legs at
/// the angle β of eyes r from the middle on legs l, sin β = r / l, carry W / (4 cos β) each.
#[test]
fn every_lift_has_its_table() {
    let engine = goods();
    for (at, l) in engine.works.lifts.iter().enumerate() {
        let answer = lift(&engine, at).unwrap_or_else(|e| panic!("{}: {e}", l.id));
        let view = view::lift_view(&engine, &answer);
        assert_eq!(l.slide.is_some(), view.slide.is_some());
        assert_eq!(l.sling.is_some(), view.sling.is_some());
        if let Some(s) = &view.slide {
            assert!(s.stages.len() >= 5 && !s.stages.iter().any(|g| g.bad), "{}: {s:?}", l.id);
        }
        if let Some(s) = &view.sling {
            assert!(s.within_by_statics && s.within_by_mode, "{}: {s:?}", l.id);
        }
        assert!(view.cautions.iter().any(|c| c.contains("competent person")), "{}", l.id);
        assert!(!view.used_by.is_empty(), "{} is used by no work", l.id);
    }
    let of =
        |id: &str| lift(&engine, engine.works.lift_by_id(id).expect("a lift")).expect("computed");
    let strap = of("strap.left").sling.expect("slings");
    let weight = 96.0 * 0.453_592_37 * 9.806_65;
    assert!((strap.hang.legs[0].tension.even_n - weight).abs() < 1e-6 * weight);
    let cover = of("chest-cover").sling.expect("slings");
    let (weight, r, l) = (240.0 * 0.453_592_37 * 9.806_65, 11.0_f64.hypot(9.0), 30.0);
    let each = weight / 4.0 / (1.0 - (r / l) * (r / l)).sqrt();
    for leg in &cover.hang.legs {
        assert!((leg.tension.even_n - each).abs() < 1e-6 * each, "{leg:?}");
    }
    // A disc of cast iron with a ring under it: ρ π/4 (D² h + (d² − e²) s), by hand.
    let inch: f64 = 25.4e-3;
    let volume = std::f64::consts::FRAC_PI_4
        * inch.powi(3)
        * (23.0_f64.powi(2) * 1.75 + (17.4_f64.powi(2) - 14.0_f64.powi(2)) * 2.0);
    let mass = of("cover.left").load.body.mass_kg();
    assert!((mass - 7200.0 * volume).abs() < 1e-6 * mass, "{mass}");
}

const HEAD: &str = r#"
[engine]
name = "E"
[shed]
begins = "2026-10-05"
[[person]]
id = "A"
[[shift]]
id = "s"
on = ["Monday"]
hours = ["09:00-17:00"]
people = ["A"]
[[part]]
id = "a"
name = "cover"
[[part]]
id = "b"
name = "bolt"
[[part]]
id = "c"
name = "pipe"
"#;

fn works(list: &[(&str, &str)]) -> String {
    let mut text = HEAD.to_owned();
    for (id, more) in list {
        text.push_str(&format!(
            "[[work]]\nid = \"{id}\"\nname = \"the {id}\"\n{more}\n[[work.way]]\nhow = \"by hand\"\ntime = \"10 min\"\n"
        ));
    }
    text
}

#[test]
fn a_circle_is_told_shortest_first_in_words_of_the_trade() {
    // A long circle and a short one: the short one is told.
    let (judgement, problems) = small(&works(&[
        ("pump", "after = [\"pipe: the pipe holds it\"]"),
        ("pipe", "after = [\"cover: it runs under the cover\"]"),
        ("cover", "after = [\"bolt: the bolt holds it\", \"pump: it is in the way\"]"),
        ("bolt", "after = [\"cover: the cover hides it\"]"),
    ]));
    assert!(problems.is_empty(), "{problems:?}");
    let Err(NoPlan::Contradiction(told)) =
        planned(&judgement, &ask(Stage::Strip), &KeptPlans::default())
    else {
        panic!("a contradiction")
    };
    assert!(
        told[0].contains("\"the bolt\" comes before \"the cover\": the bolt holds it"),
        "{told:?}"
    );
    assert!(told[0].contains("\"the cover\" comes before \"the bolt\": the cover hides it"));
    assert!(!told[0].contains("pump"), "{told:?}");
}

#[test]
fn faults_are_told_with_their_place_and_their_mend() {
    let text = works(&[
        ("one", "takes-off = [\"bb\"]"),
        ("two", "after = [\"won: no such\", \"one\", \"one, soon: when\"]"),
        ("two", ""),
        ("three", "kind = \"magic\""),
    ]);
    let (_, problems) = small(&text);
    let has = |words: &str| {
        let found = problems.iter().find(|p| p.contains(words));
        let found = found.unwrap_or_else(|| panic!("{words}: {problems:#?}"));
        assert!(found.starts_with("e.toml:") && found.contains("mend:"), "{found}");
    };
    has("no part \"bb\"");
    has("no work \"won\"");
    has("\"one\" gives no reason");
    has("\"soon\" is no wait");
    has("work \"two\" stands twice");
    has("\"magic\" is no kind of work");
    let (_, problems) = small(&format!(
        "{HEAD}[[work]]\nid = \"w\"\n[[work.way]]\ntime = \"40\"\n[[lift]]\nid = \"l\"\nparts = [\"a\"]\n[[progress]]\nwork = \"w\"\ndone = \"yesterday\"\n"
    ));
    let all = problems.join("\n");
    for words in ["\"40\"", "says not how", "yesterday"] {
        assert!(all.contains(words), "{words}: {all}");
    }
}

#[test]
fn what_is_missing_is_asked_for() {
    let (judgement, _) = small("[engine]\nname = \"E\"\n");
    let refused = planned(&judgement, &ask(Stage::Strip), &KeptPlans::default()).expect_err("none");
    assert!(refused.to_string().contains("[[work]]"), "{refused}");
    assert!(assemble(&judgement, Stage::Build).is_err());
    // A lift of a part that nobody has weighed.
    let (judgement, problems) = small(&format!(
        "{HEAD}[[lift]]\nid = \"l\"\nparts = [\"a\"]\nbalance = [\"0 m\", \"0 m\", \"0 m\"]\neyes = [[\"0 m\", \"0 m\", \"1 m\"]]\nlegs = [\"1 m\"]\nrated = \"1 t\"\n"
    ));
    assert!(problems.is_empty(), "{problems:?}");
    let refused = lift(judgement.engine(), 0).expect_err("no mass").to_string();
    assert!(refused.contains("mass = "), "{refused}");
}

/// The example of the page is a whole engine.
#[test]
fn the_page_about_works_is_read() {
    let page = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/works.md");
    let page = std::fs::read_to_string(page).expect("the page");
    let example = page.split("```toml\n").nth(1).and_then(|t| t.split("```").next()).expect("toml");
    let (judgement, problems) = small(example);
    assert!(problems.is_empty(), "{problems:?}");
    let p = planned(&judgement, &ask(Stage::Strip), &KeptPlans::default()).expect("a plan");
    holds(&p);
    assert!(start_of(&p, &judgement, "bolt-out") < start_of(&p, &judgement, "strap-off"));
    let p = planned(&judgement, &ask(Stage::Build), &KeptPlans::default()).expect("a plan");
    holds(&p);
    lift(judgement.engine(), 0).expect("a lift");
}
