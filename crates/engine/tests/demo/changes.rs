//! A judgement is the same for the same readings, and a change reaches what depends on it.

use crate::demo_readings::chance::Chance;
use crate::demo_readings::{GOODS, NARROW};
use crate::judged;
use engine::judge::{Change, Judgement};
use engine::repair::machine_to;
use engine::view;

#[test]
fn the_same_readings_give_the_same_judgement() {
    for demo in [GOODS, NARROW] {
        let (a, b) = (judged(&demo), judged(&demo));
        assert!(states(&a) == states(&b), "{}", demo.folder);
        let list = |j: &Judgement| format!("{:?}", machine_to(j));
        assert!(list(&a) == list(&b), "{}", demo.folder);
        let shown = |j: &Judgement| serde_json::to_string(&view::summary(j)).expect("JSON");
        assert!(shown(&a) == shown(&b), "{}", demo.folder);
    }
}

/// Everything judged, state by state, to the last bit of every figure.
#[derive(PartialEq)]
struct States {
    features: Vec<String>,
    joints: Vec<String>,
    chains: Vec<String>,
    swaps: String,
}

fn states(judgement: &Judgement) -> States {
    fn all<T: std::fmt::Debug>(list: &[T]) -> Vec<String> {
        list.iter().map(|x| format!("{x:?}")).collect()
    }
    States {
        features: all(judgement.features()),
        joints: all(judgement.joints()),
        chains: all(judgement.chains()),
        swaps: format!("{:?}", judgement.swaps()),
    }
}

#[test]
fn a_change_reaches_what_depends_on_it_and_nothing_else() {
    let mut judgement = judged(&GOODS);
    let mut chance = Chance::of(11, "changes");
    let mut reached_by_repeats = 0;
    for round in 0..120 {
        let before = states(&judgement);
        let kind = chance.below(4);
        // Repeats go to a few readings of one gauge, so that they come to be enough to tell.
        let among = if kind == 1 { 30 } else { judgement.engine().readings.len() };
        let at = chance.below(among);
        let mut reading = judgement.engine().readings[at].clone();
        let changed = reading.feature;
        let change = match kind {
            0 => Change::StrikeOut(at as u32),
            // The same place again: a repeat, which changes what is known of its gauge.
            1 => {
                reading.si += chance.normal(3e-6);
                Change::Add(reading)
            }
            2 => {
                reading.si += chance.normal(2e-4);
                Change::Correct(at as u32, reading)
            }
            _ => {
                reading.si *= 25.4;
                Change::Correct(at as u32, reading)
            }
        };
        let rejudged = judgement.change(change).expect("the reading is there");
        let after = states(&judgement);
        let afresh = states(&Judgement::of(judgement.engine().clone()));
        assert!(after == afresh, "round {round}: not the same as judged afresh");

        assert!(rejudged.features.contains(&changed));
        reached_by_repeats += usize::from(rejudged.features.len() > 1);
        let moved = |a: &[String], b: &[String]| -> Vec<usize> {
            (0..a.len()).filter(|i| a[*i] != b[*i]).collect()
        };
        for i in moved(&before.features, &after.features) {
            let listed = rejudged.features.iter().any(|f| f.index() == i);
            assert!(listed, "round {round}: feature {i} changed and is not listed");
            // Another feature changes only because it was read with the same gauge.
            let gauges = |f: usize| {
                let readings = judgement.engine().readings.iter();
                let of_it = readings.filter(move |r| r.feature.index() == f);
                of_it.filter_map(|r| r.gauge).collect::<Vec<_>>()
            };
            let own = gauges(changed.index());
            let shares_a_gauge = i == changed.index() || gauges(i).iter().any(|g| own.contains(g));
            assert!(shares_a_gauge, "round {round}: feature {i}");
        }
        for i in moved(&before.joints, &after.joints) {
            assert!(rejudged.joints.iter().any(|j| j.index() == i), "round {round}: joint {i}");
        }
        for i in moved(&before.chains, &after.chains) {
            assert!(rejudged.chains.iter().any(|c| c.index() == i), "round {round}: chain {i}");
        }
        for j in &rejudged.joints {
            let touches = rejudged
                .features
                .iter()
                .any(|f| judgement.engine().feature(*f).in_joints.contains(j));
            assert!(touches, "round {round}: a joint judged again for nothing");
        }
        if rejudged.features.len() == 1 {
            assert!(rejudged.joints.len() < 10, "one journal is not the whole engine");
        }
    }
    assert!(reached_by_repeats > 0, "some repeat must have moved a gauge's repeatability");
}
