//! The verbs of strip, lift and build as a person and a script use them.

use crate::run::{DONE, WRONG, check, json};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

/// A copy of the demo engine's texts: planning writes beside them.
fn copy(to: &Path) {
    fs::create_dir(to).expect("a folder");
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/goods");
    for entry in fs::read_dir(demo).expect("the demo is there") {
        let file = entry.expect("an entry").path();
        if file.extension().is_some_and(|e| e == "toml") {
            fs::copy(&file, to.join(file.file_name().expect("a name"))).expect("copied");
        }
    }
}

#[test]
fn a_plan_is_made_kept_recorded_against_and_mended() {
    let dir = TempDir::new().expect("a temporary folder");
    let d = dir.path();
    copy(&d.join("e"));
    let drawn = ["plan", "e", "--seconds", "1", "--svg", "plan.svg", "--csv", "plan.csv"];
    let told = check(d, &drawn, DONE);
    assert!(told.contains("strip: 155 works") && told.contains("bar the engine round"), "{told}");
    assert!(fs::read_to_string(d.join("plan.svg")).expect("drawn").starts_with("<svg"));
    let csv = fs::read_to_string(d.join("plan.csv")).expect("written");
    assert!(csv.starts_with("number,date,from,until") && csv.lines().count() > 155);
    assert!(d.join("e/plan.json").is_file());
    // The plan in force is shown, not a new one.
    let plan = json(d, &["plan", "e"]);
    let first = &plan["days"][0]["lines"][0];
    assert_eq!(first["work"], "cold");
    let done = check(d, &["done", "e", "cold", "--by", "E.H."], DONE);
    assert!(done.contains("recorded in") && done.contains("still ends"), "{done}");
    let stuck = json(
        d,
        &[
            "stuck",
            "e",
            "strap-off.left",
            "--way",
            "jack",
            "--why",
            "will not move",
            "--when",
            "2026-10-06 18:20",
        ],
    );
    let changes = stuck["changes"].as_array().expect("changes");
    let strap = changes.iter().find(|c| c["work"] == "strap-off.left").expect("the strap's way");
    assert!(strap["what"].as_str().expect("words").contains("barred"), "{strap}");
    assert!(changes.iter().any(|c| c["work"] == "rod-strutted.left"));
    let record = fs::read_to_string(d.join("e/progress.toml")).expect("kept");
    assert!(record.contains("stuck = \"2026-10-06 18:20\"") && record.contains("will not move"));
    let wrong = check(d, &["done", "e", "strapp-off.left"], WRONG);
    assert!(wrong.contains("did you mean \"strap-off.left\""), "{wrong}");
}

#[test]
fn days_reasons_and_lifts_are_told() {
    let dir = TempDir::new().expect("a temporary folder");
    let d = dir.path();
    copy(&d.join("e"));
    check(d, &["plan", "e", "--seconds", "0.5"], DONE);
    let day = check(d, &["today", "e", "--day", "2026-10-10", "--without", "crane"], DONE);
    assert!(day.contains("fetch:") && day.contains("! "), "{day}");
    let why = check(d, &["why", "e", "wedge.left", "connecting-rod.left"], DONE);
    assert!(why.contains("must come before"), "{why}");
    let lift = check(d, &["lift", "e", "strap.left", "--svg", "strap.svg"], DONE);
    assert!(lift.contains("off its seat") && lift.contains("competent person"), "{lift}");
    assert!(fs::read_to_string(d.join("strap.svg")).expect("drawn").starts_with("<svg"));
    assert!(json(d, &["lift", "e"]).as_array().expect("lifts").len() >= 20);
    check(d, &["plan", "e", "--only-to", "nothing"], WRONG);
}
