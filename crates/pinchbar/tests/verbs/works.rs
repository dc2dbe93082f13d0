//! The verbs of strip, lift and build as a person and a script use them.

use crate::run::{DONE, WRONG, check, json};
use serde_json::Value;
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

fn lines(plan: &Value) -> Vec<&Value> {
    let days = plan["days"].as_array().expect("days");
    days.iter().flat_map(|d| d["lines"].as_array().expect("lines")).collect()
}

fn line<'a>(plan: &'a Value, work: &str) -> &'a Value {
    lines(plan).into_iter().find(|l| l["work"] == work).unwrap_or_else(|| panic!("{work}"))
}

/// A strip as it goes: works out of their order, a way that will not go, the other way and back, a
/// part found broken, a helper gone home, the crane not to be used. Every mended plan still holds
/// every work once, and says what is otherwise.
#[test]
fn a_strip_goes_otherwise_and_the_plan_follows() {
    let dir = TempDir::new().expect("a temporary folder");
    let d = dir.path();
    copy(&d.join("e"));
    check(d, &["plan", "e", "--seconds", "1"], DONE);
    let plan = json(d, &["plan", "e"]);
    assert_eq!(plan["works"], 155);

    // Both ways of freeing the strap are there before anything has gone wrong, with their cost.
    let strap = line(&plan, "strap-off.left");
    let (way, other) = (strap["way"].as_str().expect("a way"), &strap["others"][0]);
    assert_eq!((way, other["way"].as_str()), ("jack", Some("bar-away")));
    assert_eq!((&other["people"], &other["minutes"]), (&Value::from(4), &Value::from(75)));
    assert!(other["besides"][0].as_str().is_some_and(|b| b.contains("strutted")), "{other}");
    // 4 x 75 and 2 x 30 for the strut, less 2 x 50 of the jack.
    assert_eq!(other["more_people_min"], 260);
    let told = check(d, &["plan", "e"], DONE);
    assert!(told.contains("may not go (25 %); then: rod strutted on its blocks"), "{told}");
    let why = check(d, &["why", "e", "strap-off.left"], DONE);
    assert!(why.contains("other way: rod strutted") && why.contains("what would help"), "{why}");
    assert!(why.contains("one more person on every day"), "{why}");
    // Blocks stay under the rod until its big end hangs.
    let blocked = line(&plan, "rod-blocked.left");
    assert!(blocked["stays"][0].as_str().is_some_and(|s| s.contains("until")), "{blocked}");

    // The first evening, the last two works the other way round.
    let first: Vec<String> = lines(&plan)
        .iter()
        .take(6)
        .map(|l| l["work"].as_str().expect("a work").to_owned())
        .collect();
    for work in &first[..4] {
        check(d, &["done", "e", work, "--by", "J.K."], DONE);
    }
    let done = check(d, &["done", "e", &first[5], "--by", "J.K."], DONE);
    assert!(done.contains("recorded in") && done.contains("next:"), "{done}");
    check(d, &["done", "e", &first[4], "--by", "J.K."], DONE);
    let plan = json(d, &["plan", "e"]);
    assert_eq!(plan["works"], 149);
    assert_eq!(plan["done"].as_array().map(Vec::len), Some(6));

    // The jack will not draw the strap: the ways swap; when it goes after all it may be planned again.
    let stuck = ["stuck", "e", "strap-off.left", "--way", "jack", "--why", "will not move"];
    check(d, &[&stuck[..], &["--when", "2026-10-06 19:45"]].concat(), DONE);
    let plan = json(d, &["plan", "e"]);
    let strap = line(&plan, "strap-off.left");
    assert_eq!(strap["way"], "bar-away");
    assert_eq!(
        (&strap["others"][0]["way"], &strap["others"][0]["stuck"]),
        (&"jack".into(), &true.into())
    );
    assert_eq!(line(&plan, "rod-strutted.left")["kind"], "support", "the strut has come to it");
    let undo = ["done", "e", "strap-off.left", "--way", "jack", "--undo", "--why", "it went"];
    check(d, &[&undo[..], &["--when", "2026-10-06 19:50"]].concat(), DONE);
    let plan = json(d, &["plan", "e"]);
    let strap = line(&plan, "strap-off.left");
    assert!(strap["way"] == "jack" || strap["others"][0]["stuck"] == false, "{strap}");

    // A cracked stud is found: one work more, and what waits for it.
    fs::write(
        d.join("e/found.toml"),
        "[[work]]\nid = \"stud-out\"\nname = \"cracked chest stud drilled out\"\n\
         needs = [\"chest-cover-off: the stud is under it\"]\n[[work.way]]\nhow = \"drilled and tapped\"\n\
         time = \"90 min\"\npeople = 1\nfrom = \"front\"\n\
         [[work]]\nid = \"gauge-bore.left\"\nneeds = [\"stud-out: chips would fall into the bore\"]\n",
    )
    .expect("written");
    let plan = json(d, &["plan", "e"]);
    let at = |work: &str| line(&plan, work)["number"].as_u64().expect("a number");
    assert!(at("chest-cover-off") < at("stud-out") && at("stud-out") < at("gauge-bore.left"));
    assert!(plan["changes"].as_array().expect("changes").iter().any(|c| c["work"] == "stud-out"));

    // A helper gone home, no crane, and rain: what is left, and what waits for whom.
    let day = ["today", "e", "--day", "2026-10-10"];
    let two = [&day[..], &["--people", "2", "--hours", "4", "--without", "crane"]].concat();
    let told = check(d, &two, DONE);
    assert!(told.contains("people: 2 from 09:00 to 12:30, 2 from 13:15 to 13:45"), "{told}");
    assert!(!told.contains("overhead crane") && told.contains("the rest then ends"), "{told}");
    let wet = check(d, &[&two[..], &["--weather", "rain"]].concat(), DONE);
    assert!(wet.contains("from the pit nobody can work"), "{wet}");
    let lone = check(d, &[&day[..], &["--people", "1"]].concat(), DONE);
    assert!(lone.contains("wants 2 people") || lone.contains("wants 3 people"), "{lone}");
    let json_day = json(d, &day);
    for l in json_day["lines"].as_array().expect("lines") {
        assert_ne!(l["work"], first[0], "done works do not come again");
    }
}
