//! How long planning the demo goods engine takes, and how good the plan is: run in release.
//!
//!     cargo run --release -p engine --example plan_speed [seconds] [seed]
//!     ... plan_speed text strip|build [seconds] [seed]    scheme and plan as text, for `checks/`

#[path = "../../sequence/examples/text/mod.rs"]
mod text;

use engine::description::SourceText;
use engine::judge::Judgement;
use engine::works::{Ask, Stage, Watch, plan};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

fn main() {
    let mut args = std::env::args().skip(1).peekable();
    let as_text = args.next_if_eq("text").and_then(|_| args.next());
    let seconds: f64 = args.next().and_then(|s| s.parse().ok()).unwrap_or(2.0);
    let seed: u64 = args.next().and_then(|s| s.parse().ok()).unwrap_or(1);
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo/goods");
    let texts = ["engine", "build", "duty", "lifts", "motion", "one-side", "works"].map(|f| {
        let file = format!("{folder}/{f}.toml");
        let text = std::fs::read_to_string(&file).expect("the demo is there");
        SourceText { file, text }
    });
    let (engine, problems) = engine::load(texts.to_vec(), None).finish();
    problems.iter().for_each(|p| println!("{p}"));
    let judgement = Judgement::of(engine);
    for stage in [Stage::Strip, Stage::Build] {
        if as_text.as_ref().is_some_and(|t| t != stage.word()) {
            continue;
        }
        let stop = Arc::new(AtomicBool::new(false));
        let bell = Arc::clone(&stop);
        std::thread::spawn(move || {
            std::thread::sleep(Duration::from_secs_f64(seconds));
            bell.store(true, Ordering::Relaxed);
        });
        let ask = Ask {
            steps: u64::MAX / 4,
            seed,
            only_to: std::env::var("ONLY").ok(),
            ..Ask::of(stage)
        };
        let begun = Instant::now();
        let watch = Watch { news: &|_| {}, stop: &stop };
        let found = plan(&judgement, &ask, None, &watch).expect("a plan");
        if as_text.is_some() {
            text::write(&found.assembled.scheme);
            text::plan(&found.plan);
            println!("seconds {}", begun.elapsed().as_secs_f64());
            text::memory();
            return;
        }
        println!(
            "{}: {} works, {:.2} s, {} plans tried, {} min, bound {}, gap {:.1} %, {} moves, {} people-min",
            stage.word(),
            found.plan.steps.len(),
            begun.elapsed().as_secs_f64(),
            found.plan.steps_searched,
            found.plan.cost.elapsed_min,
            found.plan.bound.elapsed_min,
            100.0 * found.plan.gap(),
            found.plan.cost.moves,
            found.plan.cost.people_min,
        );
        // The usual budget of steps, and mending after a work would not go.
        let begun = Instant::now();
        let open = AtomicBool::new(false);
        let watch = Watch { news: &|_| {}, stop: &open };
        let usual = plan(&judgement, &Ask::of(stage), None, &watch).expect("a plan");
        let took = begun.elapsed().as_secs_f64();
        println!(
            "    usual steps: {took:.2} s, {} min, gap {:.1} %",
            usual.plan.cost.elapsed_min,
            100.0 * usual.plan.gap()
        );
        let stuck =
            usual.plan.steps.iter().find(|s| {
                usual.assembled.scheme.works[s.work.0].ways.len() > 1 && s.start_min > 600
            });
        if let Some(s) = stuck {
            let event = sequence::Event::Stuck(s.work, s.way);
            let begun = Instant::now();
            let (scheme, progress) = sequence::apply(
                &usual.assembled.scheme,
                &usual.progress,
                &usual.plan,
                s.end_min,
                &event,
            )
            .expect("applied");
            let options = sequence::RepairOptions::default();
            let mended =
                sequence::repair(&scheme, &progress, &usual.plan, &options).expect("mended");
            println!(
                "    mended in {:.0} ms: {} min, {} changes",
                1e3 * begun.elapsed().as_secs_f64(),
                mended.plan.cost.elapsed_min,
                mended.changes.len()
            );
        }
    }
}
