//! The book from the command line: a small overhaul as a shop would write it down.

use crate::run::{BEYOND, DONE, PARTLY, WRONG, check, command, ended, json, pinchbar};
use serde_json::Value;
use std::fs;
use tempfile::TempDir;

/// An engine folder with readings, and a book begun from it.
fn begun() -> TempDir {
    let dir = TempDir::new().expect("a temporary folder");
    let at = dir.path();
    check(at, &["new", "mine", "--pattern", "inside-six-coupled", "--name", "No. 1"], DONE);
    fs::write(at.join("secret"), "a long password\n").expect("writes");
    fs::write(
        at.join("mine/gauges.toml"),
        "[[gauge]]\nid = \"mike\"\nkind = \"micrometer\"\nerror = \"0.0002 in\"\nrepeat = \"0.0001 in\"\ncalibrated = \"2026-01-05\"\ndue = \"2027-01-05\"\n",
    )
    .expect("writes");
    fs::write(
        at.join("mine/pins.csv"),
        "feature,station,direction,reading,gauge,by,when\ncrank-pin.left,,V,7.990 in,mike,R,2026-11-01\ncrank-pin.left,,H,7.988 in,mike,R,2026-11-01\n",
    )
    .expect("writes");
    let start = [
        "book",
        "start",
        "b.book",
        "--from",
        "mine",
        "--by",
        "R",
        "--when",
        "2026-11-02T08:00:00Z",
    ];
    check(at, &[&start[..], &["--password-file", "secret"]].concat(), DONE);
    dir
}

fn by_r<'a>(args: &[&'a str]) -> Vec<&'a str> {
    [args, &["--by", "R", "--password-file", "secret"]].concat()
}

#[test]
fn every_verb_of_an_engine_works_on_a_book() {
    let dir = begun();
    let at = dir.path();
    for (verb, rest) in [
        ("judge", &[][..]),
        ("joint", &["big-end.left"]),
        ("machine-to", &[]),
        ("try", &["close big-end.left.bore 8 thou"]),
    ] {
        let on = |engine| pinchbar(at, &[&[verb, engine], rest, &["--json"]].concat());
        let (folder, book) = (on("mine"), on("b.book"));
        assert_eq!(folder.status.code(), book.status.code(), "{verb:?}");
        assert!(
            folder.stdout == book.stdout,
            "{verb:?}: the book and the folder it came from are judged alike, to the last figure"
        );
    }
    let add = ["add", "b.book", "--feature", "crank-pin.left", "--value", "7.9 in"];
    check(at, &add, WRONG);
    let said = check(at, &[&add[..], &["--by", "R"]].concat(), WRONG);
    assert!(said.contains("has not shown the password"), "{said}");
    let with_password = |args: &[&str], code| {
        let out = command(at)
            .env("PINCHBAR_PASSWORD", "a long password")
            .args(args)
            .output()
            .expect("the program starts");
        ended(args, &out, code)
    };
    with_password(&[&add[..], &["--by", "R", "--gauge", "mike"]].concat(), DONE);
    with_password(
        &["strike-out", "b.book", "crank-pin.left", "7.9 in", "--reason", "slip", "--by", "R"],
        DONE,
    );
    let strike = ["strike-out", "b.book", "crank-pin.left", "7.9 in", "--reason", "x", "--by", "R"];
    with_password(&strike, WRONG);
    with_password(&["decide", "b.book", "big-end.left", "leave", "--by", "R"], DONE);
    with_password(&["decide", "b.book", "big-end.lft", "leave", "--by", "R"], WRONG);
    fs::write(at.join("more.csv"), "feature,reading\ncrank-pin.right,7.99 in\nnothing,7 in\n")
        .expect("writes");
    with_password(&["add", "b.book", "more.csv", "--by", "R"], PARTLY);
    let view = json(at, &["joint", "b.book", "big-end.left"]);
    assert!(view.to_string().contains("leave"), "the decision reaches the judgement: {view}");
    check(at, &["report", "b.book", "--to", "r.html"], PARTLY);
    assert!(fs::metadata(at.join("mine/decisions.toml")).is_err(), "the folder is left alone");
}

/// The verbs that only ask, on the demo's folder and on a book begun from it: the same bytes but for
/// the names of the files.
#[test]
fn every_verb_that_asks_answers_alike_from_a_book() {
    let dir = TempDir::new().expect("a temporary folder");
    let at = dir.path();
    json(at, &["demo", "--to", "."]);
    check(at, &["book", "start", "b.book", "--from", "goods", "--by", "R"], DONE);
    let left = "left front dead centre";
    for (verb, rest) in [
        ("judge", &["--all"][..]),
        ("joint", &["big-end.left"]),
        ("chain", &["rod-centres.left", "--draws", "500"]),
        ("machine-to", &["--refit"]),
        ("try", &["close big-end.left.bore 8 thou"]),
        ("where", &[left]),
        ("bring", &[left, "--from", "right back dead centre"]),
        ("reach", &["--from", left]),
        ("clearances", &["--all"]),
        ("centre", &["left"]),
        ("loads", &["--speed", "20 mph"]),
        ("balance", &["--speed", "20 mph"]),
        ("design", &["big-end.left"]),
    ] {
        let on = |engine| {
            let out = pinchbar(at, &[&[verb, engine], rest].concat());
            let code = out.status.code();
            assert!(matches!(code, Some(DONE | BEYOND | PARTLY)), "{verb}: {out:?}");
            (code, String::from_utf8_lossy(&out.stdout).replace("goods/", ""))
        };
        let (folder, book) = (on("goods"), on("b.book"));
        assert!(!book.1.is_empty() && folder == book, "{verb}:\n{}\n{}", folder.1, book.1);
    }
}

#[test]
fn works_concessions_and_devices_are_written_down() {
    let dir = begun();
    let at = dir.path();
    let people = ["book", "people", "b.book", "F", "--role", "fits"];
    check(at, &by_r(&people), DONE);
    let by_f = |args: &[&str], code| check(at, &[&["book"], args, &["--by", "F"]].concat(), code);
    by_f(&["work", "b.book", "rod-off.left", "--done", "--minutes", "45", "--way", "pit"], DONE);
    by_f(&["work", "b.book", "strap-off.left", "--stuck", "nut seized"], DONE);
    by_f(&["work", "b.book", "never", "--not-done", "slip"], WRONG);
    by_f(&["work", "b.book", "rod-off.left"], WRONG);
    by_f(&["work", "b.book", "rod-off.left", "--done", "--minutes", "an hour"], WRONG);
    let open = check(at, &["book", "open", "b.book"], DONE);
    assert!(open.contains("STUCK: strap-off.left: nut seized"), "{open}");
    let concede = ["book", "concede", "b.book", "big-end.left", "clearance"];
    let given = ["light engine only", "--until", "31.12.2026", "--reason", "brasses on order"];
    by_f(&[&concede[1..], &given[..]].concat(), WRONG);
    let when = ["--when", "2026-11-10T08:00:00Z"];
    check(at, &by_r(&[&concede[..], &given, &when].concat()), DONE);
    let open = json(at, &["book", "open", "b.book"]);
    assert_eq!(open["concessions"][0]["until"], "2026-12-31", "{open}");
    assert_eq!(open["concessions"][0]["holds"], true, "{open}");
    let history = check(at, &["book", "history", "b.book", "big-end.left"], DONE);
    assert!(history.contains("CONCESSION until 2026-12-31 on big-end.left"), "{history}");
    let close = [&concede[..], &["--close", "--reason", "renewed"]].concat();
    check(at, &by_r(&close), DONE);
    check(at, &by_r(&close), WRONG);

    let device = ["book", "device", "b.book", "phone", "--for", "F"];
    check(at, &by_r(&device), WRONG);
    let device = [&device[..], &["--until", "2099-12-31"]].concat();
    check(at, &[&device[..], &["--by", "F"]].concat(), WRONG);
    let given = json(at, &by_r(&device));
    let token = given["token"].as_str().expect("the token").replace('-', "");
    assert_eq!(token.len(), 32);
    let said = check(at, &["book", "device", "b.book"], DONE);
    assert!(said.contains("phone") && said.contains("stands"), "{said}");
    // The token is in nothing that the book keeps.
    check(at, &["book", "export", "b.book", "b.tar"], DONE);
    let kept = fs::read(at.join("b.tar")).expect("there");
    assert!(!kept.windows(32).any(|w| w == token.as_bytes()));
    check(at, &["book", "device", "b.book", "phone", "--withdraw", "lost", "--by", "F"], DONE);
    assert!(check(at, &["book", "device", "b.book"], DONE).contains("withdrawn"));
}

#[test]
fn an_overhaul_is_written_down_and_found_again() {
    let dir = begun();
    let at = dir.path();
    fs::write(at.join("fits"), "fitter's password").expect("writes");
    let people = ["book", "people", "b.book", "F", "--role", "fits", "--new-password-file", "fits"];
    check(at, &by_r(&people), DONE);
    let people =
        ["book", "people", "b.book", "I", "--role", "releases", "--new-password-file", "fits"];
    check(at, &by_r(&people), DONE);
    let by_f = |args: &[&str], code| {
        check(at, &[args, &["--by", "F", "--password-file", "fits"]].concat(), code)
    };
    let tagged = by_f(&["book", "tag", "b.book", "rod.left"], DONE);
    let tag =
        tagged.split_whitespace().skip_while(|w| *w != "tag").nth(1).expect("a code").to_owned();
    by_f(&["book", "move", "b.book", "tin 4", "bay 2"], DONE);
    by_f(&["book", "move", "b.book", &tag, "tin 4"], DONE);
    let said = check(at, &["book", "where", "b.book", &tag.to_lowercase()], DONE);
    assert!(said.contains("rod.left") && said.contains("tin 4, in bay 2"), "{said}");
    assert!(check(at, &["book", "where", "b.book", "--off"], DONE).contains("rod.left"));
    assert!(check(at, &["book", "where", "b.book", "--inside", "tin 4"], DONE).contains(&tag));
    check(at, &["book", "where", "b.book", "never heard of"], WRONG);

    let hold = ["book", "hold", "b.book", "bedding", "big-end.left", "look at it", "--not-by-doer"];
    by_f(&hold, WRONG);
    check(at, &by_r(&hold), DONE);
    by_f(&["book", "done", "b.book", "big-end.left", "scraped", "--reaches", "bedding"], DONE);
    by_f(&["book", "done", "b.book", "big-end.left", "bolted up"], WRONG);
    assert!(check(at, &["book", "open", "b.book"], DONE).contains("WORK WAITS"));
    check(at, &by_r(&["book", "sign", "b.book", "engine", "fit to run in"]), WRONG);
    let release = ["book", "release", "b.book", "bedding", "--by", "I"];
    check(at, &release, WRONG);
    check(at, &[&release[..], &["--password-file", "fits"]].concat(), DONE);
    by_f(&["book", "done", "b.book", "big-end.left", "bolted up"], DONE);
    let signed = json(at, &by_r(&["book", "sign", "b.book", "engine", "fit to run in"]));
    assert_eq!(signed["kind"], "signed-off");

    check(at, &by_r(&["book", "found", "b.book", "rod.left", "bent", "--note", "by 1/8 in"]), DONE);
    check(
        at,
        &by_r(&["book", "calibrated", "b.book", "mike", "2026-11-03", "--due", "2027-11-03"]),
        DONE,
    );
    check(at, &by_r(&["book", "calibrated", "b.book", "mike", "yesterday"]), WRONG);
    let note = json(at, &by_r(&["book", "note", "b.book", "rod.left", "sent to be straightened"]));
    let number = note["sequence"].to_string();
    check(at, &by_r(&["book", "strike", "b.book", &number, "--reason", "wrong rod"]), DONE);

    let history = check(at, &["book", "history", "b.book", "rod.left"], DONE);
    for words in ["has tag", "put in tin 4", "found bent (by 1/8 in)", "STRUCK OUT: wrong rod"] {
        assert!(history.contains(words), "{words}:\n{history}");
    }
    let history = check(at, &["book", "history", "b.book", "big-end.left"], DONE);
    for words in ["7.990 in", "scraped (reaches hold point bedding)", "released hold point bedding"]
    {
        assert!(history.contains(words), "{words}:\n{history}");
    }
    check(at, &["book", "history", "b.book", "never heard of"], WRONG);
    assert!(check(at, &["book", "find", "b.book", "straightened"], DONE).contains("rod.left"));
    let found = json(at, &["book", "find", "b.book", "straight", "ROD"]);
    assert_eq!(found.as_array().map(Vec::len), Some(1), "{found}");
    let people = json(at, &["book", "people", "b.book"]);
    assert_eq!(people.as_array().map(Vec::len), Some(3), "{people}");
}

#[test]
fn a_book_is_carried_out_and_in_and_checked() {
    let dir = begun();
    let at = dir.path();
    let png: &[u8] = &[
        0x89, b'P', b'N', b'G', 0x0D, 0x0A, 0x1A, 0x0A, 0, 0, 0, 13, b'I', b'H', b'D', b'R', 0, 0,
        0, 1, 0, 0, 0, 1, 8, 2, 0, 0, 0, 0x90, 0x77, 0x53, 0xDE, 0, 0, 0, 12, b'I', b'D', b'A',
        b'T', 0x08, 0xD7, 0x63, 0xF8, 0xCF, 0xC0, 0, 0, 3, 1, 1, 0, 0x18, 0xDD, 0x8D, 0xB0, 0, 0,
        0, 0, b'I', b'E', b'N', b'D', 0xAE, 0x42, 0x60, 0x82,
    ];
    fs::write(at.join("photo.jpg"), png).expect("writes");
    fs::write(at.join("virus.png"), "MZ").expect("writes");
    let attached = json(at, &by_r(&["book", "attach", "b.book", "photo.jpg", "rod.left"]));
    assert_eq!(attached["body"]["media"], "image/png", "by content, not by name");
    check(at, &by_r(&["book", "attach", "b.book", "virus.png", "rod.left"]), WRONG);
    let sum = attached["body"]["sha256"].as_str().expect("a sum").to_owned();
    check(at, &["book", "picture", "b.book", &sum, "out.png"], DONE);
    check(at, &["book", "picture", "b.book", &attached["sequence"].to_string(), "same.png"], DONE);
    assert_eq!(fs::read(at.join("same.png")).expect("there"), png);
    check(at, &["book", "picture", "b.book", "1", "no.png"], WRONG);
    assert_eq!(fs::read(at.join("out.png")).expect("there"), png);

    let verified = json(at, &["book", "verify", "b.book"]);
    assert_eq!(verified["whole"], true, "{verified}");
    let head = verified["head"].as_str().expect("a head").to_owned();
    check(at, &["book", "backup", "b.book", "copy.book"], DONE);
    check(at, &["book", "backup", "b.book", "copy.book"], WRONG);
    check(at, &["book", "restore", "copy.book", "back.book"], DONE);
    check(at, &["book", "export", "b.book", "b.tar"], DONE);
    check(at, &["book", "export", "b.book", "b.csv"], DONE);
    check(at, &["book", "export", "b.book", "b.xlsx"], DONE);
    check(at, &["book", "export", "b.book", "b.odt"], WRONG);
    assert!(fs::read_to_string(at.join("b.csv")).expect("there").contains("7.990 in"));
    check(at, &["book", "import", "b.tar", "in.book"], DONE);
    check(at, &["book", "import", "b.csv", "no.book"], WRONG);
    assert!(!at.join("no.book").exists() && !at.join("no.book.part").exists());
    for book in ["back.book", "in.book"] {
        check(at, &["book", "verify", book, "--head", &head], DONE);
        let (one, other) = (json(at, &["judge", "b.book"]), json(at, &["judge", book]));
        assert_eq!(one, other);
    }
    check(at, &["book", "verify", "b.book", "--head", &"0".repeat(64)], BEYOND);

    // A changed byte in the middle of an entry.
    let mut bytes = fs::read(at.join("in.book")).expect("there");
    let place = bytes.windows(8).position(|w| w == b"7.990 in").expect("stored as written");
    bytes[place] = b'1';
    fs::write(at.join("bad.book"), bytes).expect("writes");
    let said = check(at, &["book", "verify", "bad.book"], BEYOND);
    assert!(said.contains("the first bad entry is"), "{said}");
    check(at, &["judge", "bad.book"], 4);
    check(at, &["book", "restore", "bad.book", "worse.book"], WRONG);
    assert!(!at.join("worse.book").exists());
}

#[test]
fn two_copies_are_joined_and_damage_is_salvaged() {
    let dir = begun();
    let at = dir.path();
    check(at, &["book", "backup", "b.book", "copy.book"], DONE);
    check(at, &by_r(&["book", "move", "b.book", "rod.left", "bay 1"]), DONE);
    check(at, &by_r(&["book", "move", "copy.book", "rod.left", "bay 2"]), DONE);
    let joined = json(at, &by_r(&["book", "join", "b.book", "copy.book", "j.book"]));
    assert_eq!(joined["only_first"], 1, "{joined}");
    assert_eq!(joined["contradictions"][0]["about"], "rod.left", "{joined}");
    assert!(
        check(at, &["book", "open", "j.book"], DONE).contains("CONTRADICTION: place of rod.left")
    );
    check(at, &by_r(&["book", "move", "j.book", "rod.left", "bay 2"]), DONE);
    assert!(check(at, &["book", "open", "j.book"], DONE).contains("nothing waits"));
    check(at, &by_r(&["book", "join", "b.book", "b.book", "no.book"]), WRONG);
    assert!(!at.join("no.book").exists() && !at.join("no.book.part").exists());
    check(at, &["book", "verify", "j.book"], DONE);

    let mut bytes = fs::read(at.join("j.book")).expect("there");
    bytes[..100].fill(0);
    fs::write(at.join("torn.book"), bytes).expect("writes");
    assert!(check(at, &["judge", "torn.book"], 4).contains("cannot be opened"));
    let said = check(at, &["book", "verify", "torn.book"], BEYOND);
    assert!(said.contains("whole entries up to") && said.contains("book salvage"), "{said}");
    let saved = json(at, &["book", "salvage", "torn.book", "saved"]);
    assert_eq!(saved["missing"].as_array().map(Vec::len), Some(0), "{saved}");
    let lines = fs::read_to_string(at.join("saved/entries.jsonl")).expect("there");
    assert_eq!(lines.lines().count() as u64, saved["last"].as_u64().expect("a number"));
    // With PostgreSQL not built in, the address is understood and said to need it.
    #[cfg(not(feature = "postgres"))]
    assert!(check(at, &["judge", "postgres://host/db#x"], WRONG).contains("without PostgreSQL"));
}

/// What a slip, a hostile file or a strange name does.
#[test]
fn slips_and_strange_files_are_told() {
    let dir = begun();
    let at = dir.path();
    fs::write(at.join("bad.toml"), "[[part\n").expect("writes");
    let before = json(at, &["book", "verify", "b.book"])["entries"].clone();
    assert!(
        check(at, &by_r(&["book", "describe", "b.book", "bad.toml"]), WRONG).contains("nothing")
    );
    check(at, &by_r(&["book", "note", "b.book", "rod.left", ""]), WRONG);
    check(at, &by_r(&["book", "note", "b.book", "rod\u{1b}[31m", "x"]), WRONG);
    check(at, &by_r(&["book", "people", "b.book", "New"]), WRONG);
    check(at, &by_r(&["book", "backup", "b.book", "no/such/folder.book"]), WRONG);
    check(at, &by_r(&["book", "export", "b.book", "ending"]), WRONG);
    assert_eq!(json(at, &["book", "verify", "b.book"])["entries"], before, "nothing was written");
    // A slip in a name is written, for it may be none, and told.
    let said = check(at, &by_r(&["book", "found", "b.book", "crank-pin.lft", "scored"]), DONE);
    assert!(said.contains("did you mean \"crank-pin.left\"?"), "{said}");
    let said = check(at, &by_r(&["book", "move", "b.book", "connecting-rod.lft", "bay 2"]), DONE);
    assert!(said.contains("did you mean \"connecting-rod.left\"?"), "{said}");
    let said = check(at, &by_r(&["book", "found", "b.book", "crank-pin.left", "scored"]), DONE);
    assert!(!said.contains("did you mean"), "{said}");
    // Free text may hold anything; the terminal is not driven by it.
    check(at, &by_r(&["book", "note", "b.book", "rod", "a\u{1b}]0;x\u{7}\nb\u{202e}c"]), DONE);
    let said = check(at, &["book", "history", "b.book", "rod"], DONE);
    assert!(said.contains("a\\u{1b}]0;x\\u{7} / b\\u{202e}c"), "{said}");
    // Far too large, told without reading it all; no end to it, all the same.
    fs::File::create(at.join("huge.jpg")).and_then(|f| f.set_len(200 << 20)).expect("a file");
    check(at, &by_r(&["book", "attach", "b.book", "huge.jpg", "rod"]), WRONG);
    #[cfg(unix)]
    check(at, &by_r(&["book", "attach", "b.book", "/dev/zero", "rod"]), WRONG);
    // Cut short, empty, or noise: told as such by every verb, never a panic.
    let whole = fs::read(at.join("b.book")).expect("there");
    let noise: Vec<u8> =
        (0..40_960u32).map(|n| (n.wrapping_mul(2_654_435_761) >> 13) as u8).collect();
    let mixed = [&whole[..100], &noise].concat();
    for (name, bytes) in [
        ("empty", &[][..]),
        ("head", &whole[..60]),
        ("page", &whole[..4096]),
        ("cut", &whole[..whole.len() / 2]),
        ("noise", &noise),
        ("mixed", &mixed),
    ] {
        let file = format!("{name}.book");
        fs::write(at.join(&file), bytes).expect("writes");
        let said = check(at, &["book", "verify", &file], BEYOND);
        assert!(said.contains("DAMAGED"), "{name}: {said}");
        for verb in [&["judge", &file][..], &["book", "history", &file], &["book", "open", &file]] {
            check(at, verb, 4);
        }
        check(at, &["book", "restore", &file, "r.book"], 4);
        assert!(!at.join("r.book").exists());
    }
    check(at, &["book", "salvage", "noise.book", "nothing"], WRONG);
    assert!(!at.join("nothing").exists());
}

#[test]
fn the_demo_engine_lives_in_a_book() {
    let dir = TempDir::new().expect("a temporary folder");
    let at = dir.path();
    json(at, &["demo", "--to", "d"]);
    let book = "d/goods.book";
    let verified = json(at, &["book", "verify", book]);
    assert_eq!(verified["whole"], true, "{verified}");
    let entries = verified["entries"].as_u64().expect("a number");
    assert!((1_900..3_000).contains(&entries), "{entries} entries");
    let (folder, book_says) = (json(at, &["judge", "d/goods"]), json(at, &["judge", book]));
    for counts in ["beyond", "near", "cannot_tell", "within", "readings"] {
        let of = |v: &Value| v["summary"]["counts"][counts].clone();
        assert_eq!(of(&folder), of(&book_says), "{counts}");
    }
    let history = check(at, &["book", "history", book, "big-end.left"], DONE);
    assert!(history.contains("released hold point"), "{history}");
    assert_eq!(json(at, &["book", "people", book]).as_array().map(Vec::len), Some(5));
    let off = json(at, &["book", "where", book, "--off"]);
    assert!(off.to_string().contains("\"tag\""), "two parts never went back: {off}");
    assert!(check(at, &["book", "open", book], DONE).contains("nothing waits"));
}
