//! The verbs of the motion as a person and a script use them.

use crate::run::{BEYOND, DONE, WRONG, check, json};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

/// The demo engine as its folder stands in the project, without laying it out.
fn demo_folder() -> String {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/goods").display().to_string()
}

#[test]
fn the_motion_answers_in_words_and_in_json() {
    let dir = TempDir::new().expect("a temporary folder");
    let (d, engine) = (dir.path(), demo_folder());
    let now = ["--from", "left 40 past front"];
    let bring = ["bring", &engine, "right big end bottom", now[0], now[1]];
    let told = check(d, &bring, DONE);
    assert!(told.contains("backward 525 mm") && told.contains("Nobody is in the motion"), "{told}");
    let v = json(d, &bring);
    assert_eq!(v["shorter"]["way"], "backward");
    assert_eq!(v["cautions"].as_array().expect("cautions").len(), 12);

    let drawn = ["where", &engine, "left front", "--svg", "at.svg"];
    assert!(check(d, &drawn, DONE).contains("drawn in at.svg"));
    assert!(fs::read_to_string(d.join("at.svg")).expect("written").starts_with("<svg"));

    assert!(check(d, &["reach", &engine, now[0], now[1]], DONE).contains("stops, going forward"));
    let v = json(d, &["clearances", &engine]);
    assert_eq!(v["cylinders"][0]["ends"].as_array().expect("ends").len(), 2);
    let v = json(d, &["try", &engine, "close big-end.left.bore 8 thou"]);
    assert!((v["pistons"][0]["moves"]["si"].as_f64().expect("moves") + 0.1016e-3).abs() < 1e-9);
    check(d, &["centre", &engine, "left", "--bump-test"], DONE);
    let v = json(d, &["loads", &engine, "--speed", "30 mph", "--pressure", "160 psi"]);
    assert!(v["missing"].as_array().expect("list").is_empty(), "{v}");
    let v = json(d, &["balance", &engine, "--speed", "30 mph"]);
    assert_eq!(v["axles"].as_array().expect("axles").len(), 3);
}

#[test]
fn words_that_are_no_position_are_refused_with_a_mend() {
    let dir = TempDir::new().expect("a temporary folder");
    let (d, engine) = (dir.path(), demo_folder());
    let told = check(d, &["where", &engine, "middle 40 past front"], WRONG);
    assert!(told.contains("begin with one of: left, right"), "{told}");
    check(d, &["loads", &engine, "--speed", "30"], WRONG);
    check(d, &["balance", &engine, "--speed", "30 mph", "--heavier", "left 5 kg"], WRONG);
    check(d, &["loads", &engine, "--speed", "30 mph", "--diagram", "none.csv"], WRONG);
    // A pattern does not know which crank leads: the engine's own file says, or is asked to.
    let new = ["new", "mine", "--pattern", "inside-six-coupled", "--name", "Own"];
    check(d, &new, DONE);
    let told = check(d, &["where", "mine", "left front"], WRONG);
    assert!(told.contains("write sequence and leading"), "{told}");
}

#[test]
fn the_report_tells_the_piston_clearances_and_what_moves_them() {
    let dir = TempDir::new().expect("a temporary folder");
    let (d, engine) = (dir.path(), demo_folder());
    check(d, &["report", &engine, "--to", "report.html"], BEYOND);
    let html = fs::read_to_string(d.join("report.html")).expect("written");
    let judged = json(d, &["judge", &engine]);
    let pistons = judged["summary"]["pistons"].as_array().expect("pistons");
    assert_eq!(pistons.len(), 4, "two ends of two cylinders");
    for p in pistons {
        let id = p["id"].as_str().expect("an id");
        assert!(html.contains(id), "{id}");
    }
    assert!(html.contains("with all slack taken up towards this cover"));
    // Closing the right brasses by c moves the piston by half of it, one end to the other.
    let moved: Vec<f64> = html
        .split("piston clearance moves ")
        .skip(1)
        .filter_map(|rest| rest.split_once(" mm").and_then(|(n, _)| n.parse().ok()))
        .collect();
    assert_eq!(moved.len(), 2, "one option at both ends: {moved:?}");
    assert!((moved[0] + moved[1]).abs() < 1e-9 && moved[0] != 0.0, "{moved:?}");
}
