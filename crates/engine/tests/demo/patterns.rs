//! Patterns answered otherwise than by the demos, and patterns as they suggest themselves.

use crate::demo_readings::shed::{Shed, Slips, Taken};
use crate::demo_readings::sheet::Save;
use crate::demo_readings::truth::{Shape, Special, truth};
use crate::{engine_of, feature, joint, true_measure, written_and_judged};
use engine::judge::Judgement;
use engine::model::{Engine, FeatureIx, JointKind, Measure};
use engine::pattern::Pattern;
use engine::view;

/// Twenty-seven answers in millimetres, of an engine a fifth smaller.
const SMALLER: &str = r#"
[engine]
name = "smaller"
pattern = "inside-six-coupled"
[dimensions]
cylinder-bore = "380 mm"
stroke = "560 mm"
piston-width = "90 mm"
piston-clearance = "8 mm"
piston-rod = "60 mm"
slide-bars = "110 mm"
rod-centres = "1650 mm"
gudgeon-pin = "75 mm"
big-end-pin = "165 mm"
big-end-width = "95 mm"
strap-bolt = "30 mm"
driving-journal = "180 mm"
coupled-journal = "170 mm"
journal-length = "180 mm"
axlebox = "250 mm"
hubs = "1345 mm"
coupling-front = "1900 mm"
coupling-back = "2050 mm"
driving-pin = "100 mm"
end-pin = "85 mm"
wheel = "1300 mm"
eccentric = "340 mm"
motion-pin = "40 mm"
link-slot = "55 mm"
valve-spindle = "40 mm"
tender-journal = "125 mm"
tender-wheel = "1000 mm"
"#;

/// The narrow-gauge pattern answered in inches.
const LARGER: &str = r#"
[engine]
name = "larger"
pattern = "outside-four-coupled"
[dimensions]
cylinder-bore = "12 in"
stroke = "18 in"
piston-width = "4 in"
piston-rod = "2 1/4 in"
rod-centres = "5 ft 0 in"
big-end-pin = "4 in"
journal = "5 1/4 in"
wheelbase = "5 ft 3 in"
coupling-pin = "3 1/2 in"
wheel = "2 ft 9 in"
"#;

/// All readings of an engine, taken of a truth in one shed.
fn gauged(engine: &Engine, shapes: &[Shape], seed: u64) -> Vec<Taken> {
    let shed = Shed::new(engine, seed);
    (0..engine.features.len())
        .flat_map(|i| {
            let ix = feature(engine, &engine.features[i].id);
            shed.gauge(ix, &shapes[i], i % 20, &Slips::default())
        })
        .collect()
}

#[test]
fn another_engine_of_the_same_pattern_is_judged_as_it_is() {
    for (text, save) in [(SMALLER, Save::Plain), (LARGER, Save::Semicolons)] {
        let engine = engine_of(text);
        let shapes = truth(&engine, 5, &Special::default());
        let rows = gauged(&engine, &shapes, 6);
        let judgement = written_and_judged(&engine, &rows, 7, save);
        let (mut far, mut told, mut sum) = (0, 0, 0.0);
        for (i, state) in judgement.joints().iter().enumerate() {
            let ix = joint(&engine, &engine.joints[i].id);
            let kind = engine.joint(ix).kind;
            // No limit asks for readings that nobody takes.
            for l in &state.limits {
                assert!(
                    l.value_si.is_some(),
                    "{}: {} cannot be had",
                    engine.joint(ix).id,
                    l.measure
                );
            }
            let split = !engine.feature(engine.joint(ix).outer).halves.is_empty();
            if kind == JointKind::Wedged || split {
                continue;
            }
            let estimate = state.measure(kind.measure());
            let estimate = estimate.unwrap_or_else(|| panic!("{} is gauged", engine.joint(ix).id));
            let off = (estimate.si() - true_measure(&engine, &shapes, ix)) / estimate.u();
            told += 1;
            sum += off * off;
            far += usize::from(off.abs() > 3.0);
        }
        // Beyond three standard uncertainties lies 0.3 % of a normal; the joints share gauges, so
        // that a few may go together. The mean square would be 1 with uncertainties just right.
        assert!(told > 40 && far * 100 <= 2 * told, "{far} of {told} beyond 3 u");
        let mean_square = sum / told as f64;
        assert!((0.4..1.8).contains(&mean_square), "mean square {mean_square}");
        // The pattern's own chains close: sizes as made give what was asked for.
        for id in ["clearance.left.front", "clearance.right.back"] {
            let chain = judgement.chain(engine.chain_by_id(id).expect("a chain"));
            let asked = if text == SMALLER { 8e-3 } else { 7e-3 };
            let made = chain.as_made_si.expect("sizes as made");
            assert!((made - asked).abs() < 1e-6, "{id}: {made}");
        }
    }
}

#[test]
fn unanswered_questions_take_what_is_suggested() {
    for id in Pattern::built_in() {
        let engine = engine_of(&format!("[engine]\nname = \"x\"\npattern = \"{id}\"\n"));
        for chain in &engine.chains {
            let made: f64 = chain
                .terms
                .iter()
                .map(|(factor, f)| {
                    factor * engine.feature(*f).as_made.as_ref().map_or(f64::NAN, |q| q.si())
                })
                .sum();
            if let Some(wanted) = &chain.as_made {
                assert!((made - wanted.si()).abs() < 1e-6, "{id} {}: {made}", chain.id);
            }
            let inside = chain.limits.iter().all(|l| {
                l.min_si().is_none_or(|m| made >= m) && l.max_si().is_none_or(|m| made <= m)
            });
            assert!(inside, "{id}: chain {} as made is outside its own limits: {made}", chain.id);
        }
        for joint in &engine.joints {
            // Sizes as made must suit the limits for putting back, or the pattern is at odds
            // with itself.
            let made = |f: FeatureIx| engine.feature(f).as_made.as_ref().map_or(0.0, |q| q.si());
            let fills: f64 = joint.fills.iter().map(|f| made(*f)).sum();
            let clearance = made(joint.outer) - made(joint.inner) - fills;
            let value = match joint.kind.measure() {
                Measure::Clearance => clearance,
                Measure::Interference => -clearance,
                Measure::Draw => -clearance / joint.taper.unwrap_or(1.0),
                _ => continue,
            };
            for l in joint.limits.iter().filter(|l| l.measure == joint.kind.measure()) {
                let inside = l.min_si().is_none_or(|m| value >= m - 1e-9)
                    && l.max_si().is_none_or(|m| value <= m + 1e-9);
                assert!(inside, "{id}: {} {} as made is {value}", joint.id, l.when);
            }
        }
    }
}

#[test]
fn every_limit_of_a_pattern_says_where_it_comes_from() {
    for id in Pattern::built_in() {
        let engine = engine_of(&format!("[engine]\nname = \"x\"\npattern = \"{id}\"\n"));
        let limits = engine
            .features
            .iter()
            .flat_map(|f| &f.limits)
            .chain(engine.joints.iter().flat_map(|j| &j.limits))
            .chain(engine.chains.iter().flat_map(|c| &c.limits));
        let mut count = 0;
        for limit in limits {
            count += 1;
            assert_eq!(limit.source.word(), "common practice");
            let note = limit.note.strip_prefix("to be confirmed by the responsible engineer: ");
            assert!(note.is_some_and(|n| !n.is_empty()), "{:?}", limit.note);
        }
        assert!(count > 100, "{id}: {count}");
    }
}

#[test]
fn worn_parts_and_wedges_are_no_slips() {
    // A tyre worn to half its thickness, a brake block likewise, and a wedge that stands at half
    // of what the drawing shows are honest readings: only round things have a radius.
    let text = format!(
        "{SMALLER}\n{}{}{}",
        "[[reading]]\nfeature = \"wheel.leading.left.tyre\"\nvalue = \"1 1/2 in\"\ngauge = \"om-2\"\n",
        "[[reading]]\nfeature = \"brake.leading.left.block\"\nvalue = \"1.125 in\"\ngauge = \"om-2\"\n",
        "[[reading]]\nfeature = \"wedge.left.stand\"\nvalue = \"3/4 in\"\ngauge = \"rule\"\n",
    );
    let judgement = Judgement::of(engine_of(&text));
    let suspicious = view::summary(&judgement).suspicious;
    assert!(suspicious.is_empty(), "{suspicious:?}");
    // A journal read as its radius still is one.
    let text = format!(
        "{SMALLER}\n[[reading]]\nfeature = \"journal.driving.left\"\nvalue = \"90 mm\"\ngauge = \"om-4\"\n"
    );
    let suspicious = view::summary(&Judgement::of(engine_of(&text))).suspicious;
    assert!(suspicious.iter().any(|s| s.why.contains("radius")), "{suspicious:?}");
}

/// The blocks of a document that are marked as one language.
fn blocks(document: &str, language: &str) -> String {
    let path = crate::demo_folder().join("../docs").join(document);
    let text = std::fs::read_to_string(path).expect("readable");
    let mut out = String::new();
    let mut inside = false;
    for line in text.lines() {
        match line.strip_prefix("```") {
            Some(word) => inside = !inside && word == language,
            None if inside => {
                out.push_str(line);
                out.push('\n');
            }
            None => {}
        }
    }
    out
}

#[test]
fn the_examples_in_the_documents_hold() {
    let engine = engine_of(&blocks("engine-file.md", "toml"));
    assert_eq!((engine.joints.len(), engine.chains.len(), engine.decisions.len()), (2, 1, 1));
    let struck = engine.readings.iter().filter(|r| r.struck).count();
    assert_eq!((engine.readings.len(), struck), (3, 1));
    // Slot 11.6 in, brasses twice 5 1/8 in, wedge 1 1/2 in less a tenth of 1 1/2 in: full.
    let sizes: f64 = ["slot", "fixed", "moving", "wedge"]
        .map(|id| engine.feature(feature(&engine, id)).as_made.as_ref().map_or(0.0, |q| q.si()))
        .iter()
        .zip([1.0, -1.0, -1.0, -1.0])
        .map(|(size, sign)| size * sign)
        .sum();
    assert!((sizes + 0.15 * 25.4e-3).abs() < 1e-9, "{sizes}");

    let text = blocks("patterns.md", "toml") + &blocks("patterns.md", "text");
    let pattern = Pattern::parse("two-pins", &text).unwrap_or_else(|p| panic!("{p}"));
    let filled = pattern.expand(&Default::default()).unwrap_or_else(|p| panic!("{}", p[0]));
    let engine = engine_of(&filled.replace("[engine]", "[engine]\nname = \"x\""));
    assert_eq!((engine.parts.len(), engine.joints.len()), (2, 2));
    assert_eq!(engine.parts[1].name, "right lever, starboard");
}
