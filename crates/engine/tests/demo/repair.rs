//! Options, the machine-to list, and what an act moves.

use crate::demo_readings::truth::THOU;
use crate::demo_readings::{GOODS, NARROW};
use crate::{feature, joint, judged};
use engine::judge::{Judgement, Verdict};
use engine::repair::{Trial, machine_to, parse_act};
use engine::view;

#[test]
fn options_are_in_order() {
    for demo in [GOODS, NARROW] {
        let judgement = judged(&demo);
        for i in 0..judgement.engine().joints.len() {
            let id = judgement.engine().joints[i].id.clone();
            let ix = joint(judgement.engine(), &id);
            let options = view::option_views(&judgement, ix);
            assert!(!options.is_empty(), "{id}");
            let recommended = options.iter().filter(|o| o.recommended).count();
            assert!(recommended <= 1, "{id}");
            // What runs on but is not fit to be put back is not left without a word.
            let leave = options.iter().find(|o| o.repair == "leave").expect("always one");
            let told = leave.words.contains("beyond one for putting back");
            let refit_beyond = judgement.joint(ix).refit_verdict == Verdict::Beyond;
            assert_eq!(told, leave.can_be_done && refit_beyond, "{id}: {}", leave.words);
            for o in &options {
                assert!(o.probability.is_none_or(|p| (0.0..=1.0).contains(&p)), "{id}: {o:?}");
                assert!(!o.recommended || (o.can_be_done && o.against.is_empty()), "{id}: {o:?}");
                assert!(o.can_be_done || !o.against.is_empty(), "{id}: says no reason: {o:?}");
                for t in &o.targets {
                    assert!(t.to.si > 0.0 && t.tolerance.si > 0.0, "{id}: {t:?}");
                }
                // What is recommended brings the joint inside its limits more likely than not.
                if o.recommended {
                    assert!(o.probability.is_none_or(|p| p >= 0.9), "{id}: {o:?}");
                }
            }
        }
        // Whatever is beyond has a way out, or the list says why not.
        let list = view::machine_to_view(&judgement, &machine_to(&judgement));
        for line in view::summary(&judgement).joints.iter().filter(|l| l.verdict == "beyond") {
            let listed = list.lines.iter().any(|l| l.joint == line.id)
                || list.liners.iter().any(|l| l.joint == line.id)
                || list.open.iter().any(|o| o.joint == line.id && !o.why.is_empty());
            assert!(listed, "{} is beyond and on no list", line.id);
        }
    }
}

/// How far the measure of a joint, a chain or a piston moves in a trial, thou.
fn moves_thou(judgement: &Judgement, act: &str) -> impl Fn(&str) -> f64 {
    let mut trial = Trial::default();
    let act = parse_act(judgement, act).unwrap_or_else(|e| panic!("{e}"));
    act.lay_on(judgement, &mut trial).unwrap_or_else(|e| panic!("{e}"));
    let view = view::trial_view(judgement, &[], &trial.run(judgement));
    move |id: &str| {
        let all = view.joints.iter().chain(&view.chains).chain(&view.pistons);
        let effect = all.into_iter().find(|e| e.id == id).unwrap_or_else(|| panic!("{id} stays"));
        effect.moves.as_ref().unwrap_or_else(|| panic!("{id}: no figure")).si / THOU
    }
}

#[test]
fn closing_the_brasses_moves_what_it_must() {
    // By hand. Eight thou off the joint faces together is four off each brass. The bore is eight
    // smaller along the rod, so the clearance is eight less. The brasses fill eight thou less of
    // the slot: the wedge, 1 in 10, comes in 80 thou and gives up eight of its take-up.
    //
    // Goods: the fixed brass lies against the crown of the strap, R = X - l - h1. h1 loses four, the
    // rod is four longer, the piston four nearer the front cover and four farther from the back.
    let goods = judged(&GOODS);
    let moved = moves_thou(&goods, "close big-end.left.bore 8 thou");
    for (id, by) in [
        ("big-end.left", -8.0),
        ("wedge.left", -8.0),
        ("rod-centres.left", 4.0),
        ("left front", -4.0),
        ("left back", 4.0),
    ] {
        assert!((moved(id) - by).abs() < 1e-6, "{id}: {} thou, by hand {by}", moved(id));
    }
    // Narrow: the fixed brass lies against the butt, R = X + l + h1: everything but the clearance and
    // the wedge goes the other way.
    let narrow = judged(&NARROW);
    let moved = moves_thou(&narrow, "close big-end.right 8 thou");
    for (id, by) in [
        ("big-end.right", -8.0),
        ("wedge.right", -8.0),
        ("rod-centres.right", -4.0),
        ("right front", 4.0),
        ("right back", -4.0),
    ] {
        assert!((moved(id) - by).abs() < 1e-6, "{id}: {} thou, by hand {by}", moved(id));
    }
    // A liner of 1/16 in behind the wedge: it goes out and has 62.5 thou more to take up.
    let moved = moves_thou(&goods, "line wedge.left 1/16 in");
    assert!((moved("wedge.left") - 62.5).abs() < 1e-6, "{}", moved("wedge.left"));
    // A liner 20 thou thicker behind the fixed brass of the goods engine: the brass stands 20 thou
    // nearer the gudgeon, and the wedge goes out.
    let thickness = goods.feature(feature(goods.engine(), "liner.left.thickness"));
    let now_m = thickness.size.as_ref().expect("gauged").si();
    let act = format!("make liner.left.thickness {:.9} mm", (now_m + 20.0 * THOU) * 1e3);
    let moved = moves_thou(&goods, &act);
    for (id, by) in [("rod-centres.left", -20.0), ("left front", 20.0), ("wedge.left", 20.0)] {
        assert!((moved(id) - by).abs() < 1e-3, "{id}: {} thou, by hand {by}", moved(id));
    }
}

/// An amount written for a size, and inches for millimetres, are no sizes that somebody can want.
#[test]
fn slips_of_a_wanted_size_are_told() {
    let judgement = judged(&GOODS);
    for slip in ["8 thou", "35.2 in", "1.386 mm"] {
        let act = format!("make strap.right.bolt-1 {slip}");
        let why = parse_act(&judgement, &act).expect_err("nobody wants it");
        assert!(why.contains("was made") && why.contains("unit"), "{why}");
    }
    assert!(parse_act(&judgement, "make strap.right.bolt-1 1 13/32 in").is_ok());
}
