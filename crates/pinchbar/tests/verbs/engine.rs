//! The command line as a person and a script use it: what it prints, what it writes, how it ends.

use crate::run::{BEYOND, DONE, PARTLY, WRONG, check, json, pinchbar, text};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

/// An engine of one's own: from a pattern, with own dimensions.
fn own_engine() -> TempDir {
    let dir = TempDir::new().expect("a temporary folder");
    check(
        dir.path(),
        &[
            "new",
            "mine",
            "--pattern",
            "inside-six-coupled",
            "--name",
            "Own \"engine\" = [1]",
            "--set",
            "big-end-pin=7 5/8 in",
        ],
        DONE,
    );
    dir
}

#[test]
fn an_engine_of_ones_own_is_made_judged_and_repaired() {
    let dir = own_engine();
    let d = dir.path();
    let written = fs::read_to_string(d.join("mine/engine.toml")).expect("written");
    assert!(written.contains("big-end-pin = \"7 5/8 in\""), "as written: {written}");
    // Without readings nothing can be told, and it says so.
    let summary = json(d, &["judge", "mine"]);
    assert_eq!(summary["summary"]["counts"]["features_gauged"], 0);
    assert_eq!(summary["summary"]["counts"]["beyond"], 0);

    let joint = summary["summary"]["joints"]
        .as_array()
        .expect("joints")
        .iter()
        .find(|j| j["kind"] == "running")
        .and_then(|j| j["id"].as_str())
        .expect("a running joint")
        .to_owned();
    let view = json(d, &["joint", "mine", &joint]);
    let features = view["joint"]["features"].as_array().expect("features");
    let (inner, outer) =
        (features[0]["id"].as_str().expect("id"), features[1]["id"].as_str().expect("id"));
    let made = features[0]["as_made"]["si"].as_f64().expect("as made") * 1e3;

    // A journal worn a millimetre and a bore worn two.
    let mut table = "feature;station;direction;reading;gauge;when;temperature\n".to_owned();
    let gauge = json(d, &["judge", "mine"])["summary"]["gauges"][0]["id"]
        .as_str()
        .expect("a gauge")
        .to_owned();
    for (feature, size) in [(inner, made - 1.0), (outer, made + 2.0)] {
        for direction in [0, 45, 90, 135] {
            let size = format!("{size:.2}").replace('.', ",");
            table.push_str(&format!("{feature};;{direction};{size} mm;{gauge};2026-11-01;20\n"));
        }
    }
    fs::write(d.join("sheet.csv"), &table).expect("written");
    let told = check(d, &["add", "mine", "sheet.csv"], DONE);
    assert!(told.contains("8 readings"), "{told}");
    assert!(check(d, &["judge", "mine"], BEYOND).contains(&joint));
    let list = json(d, &["machine-to", "mine"]);
    let lines = list["lines"].as_array().expect("lines");
    let open = list["open"].as_array().expect("open");
    assert!(
        lines.iter().any(|l| l["joint"] == joint.as_str())
            || open.iter().any(|o| o["joint"] == joint.as_str()),
        "the joint is on the list or said to be open: {list}"
    );

    // A decision takes the place of what is recommended.
    let size = format!("{outer}={:.2} mm", made + 0.3);
    check(
        d,
        &[
            "decide",
            "mine",
            &joint,
            "re-metal",
            "--make",
            &size,
            "--by",
            "responsible engineer",
            "--reason",
            "worn",
        ],
        DONE,
    );
    let list = json(d, &["machine-to", "mine"]);
    let line = list["lines"]
        .as_array()
        .expect("lines")
        .iter()
        .find(|l| l["feature"] == outer)
        .expect("the decided feature is on the list")
        .clone();
    assert_eq!(line["decided_by"], "responsible engineer");
    assert!((line["to"]["si"].as_f64().expect("size") * 1e3 - (made + 0.3)).abs() < 0.006);
}

#[test]
fn one_reading_by_hand_and_its_strike_out() {
    let dir = own_engine();
    let d = dir.path();
    let add = |value: &str, code| {
        check(
            d,
            &[
                "add",
                "mine",
                "--feature",
                "crank-pin.left",
                "--value",
                value,
                "--station",
                "A",
                "--direction",
                "90",
                "--by",
                "fitter, second",
            ],
            code,
        )
    };
    let refused = add("7 5/9 in", WRONG);
    assert!(refused.contains("5/9"), "{refused}");
    assert!(!d.join("mine/readings-by-hand.csv").exists(), "a refused reading leaves no trace");
    add("7 5/8 in", DONE);
    let before = fs::read_to_string(d.join("mine/readings-by-hand.csv")).expect("written");
    assert!(before.contains("\"fitter, second\""), "{before}");
    check(d, &["strike-out", "mine", "crank-pin.left", "7 9/16 in", "--reason", "x"], WRONG);
    check(
        d,
        &["strike-out", "mine", "crank-pin.left", "7 5/8 in", "--reason", "read on the wrong pin"],
        DONE,
    );
    assert_eq!(
        fs::read_to_string(d.join("mine/readings-by-hand.csv")).expect("there"),
        before,
        "the reading stays"
    );
    check(d, &["strike-out", "mine", "crank-pin.left", "7 5/8 in", "--reason", "again"], WRONG);
}

#[test]
fn what_is_wrong_is_told_with_the_mend_and_changes_nothing() {
    let dir = own_engine();
    let d = dir.path();
    let before = fs::read(d.join("mine/engine.toml")).expect("there");
    for (args, word) in [
        (vec!["judge", "nowhere"], "pinchbar new"),
        (
            vec!["new", "mine", "--pattern", "inside-six-coupled", "--name", "x"],
            "not an empty folder",
        ),
        (vec!["new", "other", "--pattern", "inside-six-copuled", "--name", "x"], "did you mean"),
        (
            vec![
                "new",
                "other",
                "--pattern",
                "inside-six-coupled",
                "--name",
                "x",
                "--set",
                "big-end-pni=8 in",
            ],
            "did you mean",
        ),
        (
            vec![
                "new",
                "other",
                "--pattern",
                "inside-six-coupled",
                "--name",
                "x",
                "--set",
                "crank-pin=8",
            ],
            "unit",
        ),
        (vec!["joint", "mine", "big-end.lfet"], "did you mean"),
        (vec!["try", "mine", "close everything 8 thou"], "everything"),
        (vec!["decide", "mine", "nothing", "leave", "--by", "x"], "nothing"),
        (vec!["report", "mine", "--to", "report.doc"], ".pdf"),
        (vec!["--today", "2026-02-30", "judge", "mine"], "2026-02-30"),
    ] {
        // The day is given already; a second one is clap's to refuse.
        let told = check(d, &args, WRONG);
        assert!(told.contains(word) || args[0] == "--today", "{args:?}: {told}");
    }
    assert!(!d.join("other").exists());
    assert_eq!(fs::read(d.join("mine/engine.toml")).expect("there"), before);
}

#[test]
fn refused_rows_are_told_and_the_rest_judged() {
    let dir = own_engine();
    let d = dir.path();
    fs::write(
        d.join("bad.csv"),
        "feature,reading\ncrank-pin.left,7.6 in\ncrank-pin.middle,7.6 in\nrod-pin,7.6 in\n",
    )
    .expect("written");
    let told = check(d, &["add", "mine", "bad.csv"], PARTLY);
    assert!(told.contains("1 readings") && told.contains("crank-pin.middle"), "{told}");
    let all = json(d, &["judge", "mine"]);
    assert_eq!(all["refused"].as_array().expect("list").len(), 2);
    // Only `judge` tells every row; a verb that was asked something else tells the first.
    let of = |words: &[&str]| String::from_utf8(pinchbar(d, words).stderr).expect("UTF-8");
    assert!(of(&["judge", "mine"]).contains("rod-pin"));
    let brief = of(&["joint", "mine", "big-end.left"]);
    assert!(brief.contains("crank-pin.middle") && !brief.contains("rod-pin"), "{brief}");
    assert!(of(&["joint", "mine", "big-end"]).contains("big-end.left and big-end.right"));
    assert_eq!(pinchbar(d, &["judge", "mine"]).status.code(), Some(PARTLY));
}

#[test]
fn a_trial_changes_nothing_on_disk() {
    let dir = TempDir::new().expect("a temporary folder");
    let d = dir.path();
    check(d, &["demo", "--to", "demo"], DONE);
    let list = |d: &Path| {
        let mut names: Vec<String> = fs::read_dir(d.join("demo/goods"))
            .expect("there")
            .map(|e| e.expect("entry").file_name().into_string().expect("UTF-8"))
            .collect();
        names.sort();
        names
    };
    let before = list(d);
    assert!(before.iter().any(|n| n == "condition-report.pdf"), "{before:?}");
    let moved = json(d, &["try", "demo/goods", "close big-end.left 8 thou"]);
    let joints = moved["joints"].as_array().expect("joints");
    assert!(
        !joints.is_empty() && !moved["chains"].as_array().expect("chains").is_empty(),
        "{moved}"
    );
    // 8 thou is 0.2032 mm.
    let own = joints.iter().find(|j| j["id"] == "big-end.left").expect("the bearing itself");
    assert!((own["moves"]["si"].as_f64().expect("moves") + 0.2032e-3).abs() < 1e-9, "{own}");
    assert_eq!(list(d), before);
}

#[test]
fn reports_are_written_in_every_form() {
    let dir = TempDir::new().expect("a temporary folder");
    let d = dir.path();
    check(d, &["demo", "--to", "demo", "--engine", "narrow"], DONE);
    for (name, starts) in [("r.pdf", "%PDF"), ("r.html", "<!")] {
        let out = pinchbar(d, &["report", "demo/narrow", "--to", name, "--paper", "letter"]);
        assert!(matches!(out.status.code(), Some(DONE | BEYOND)), "{}", text(&out.stderr));
        assert!(fs::read(d.join(name)).expect("written").starts_with(starts.as_bytes()));
    }
}
