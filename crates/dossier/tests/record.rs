//! A small book told whole: what each entry says stands in the record under its own number and
//! hash, and the hash is that of the stored line, as anyone can work out.

use book::{Book, Hash, Pen, Role, Said, Start};
use engine::judge::Judgement;
use engine::model::Date;
use paper::{Dossier, SheetOptions};

const DESCRIPTION: &str = r#"
[engine]
name = "one joint"
[[gauge]]
id = "mike"
kind = "micrometer"
error = "0.005 mm"
repeat = "0.003 mm"
[[part]]
id = "crank"
[[part]]
id = "brass"
[[feature]]
id = "pin"
part = "crank"
kind = "journal"
as-made = "200 mm"
stations = ["A", "B"]
[[feature]]
id = "bore"
part = "brass"
kind = "bore"
as-made = "200.2 mm"
[[joint]]
id = "big-end"
kind = "running"
inner = "pin"
outer = "bore"
[[limit]]
on = "big-end"
of = "clearance"
when = "service"
max = "0.3 mm"
source = "engineer"
[[finding]]
on = "pin"
condition = "scored"
by = "A"
note = "by the oil hole"
"#;

/// Writes the book, and gives the number of each entry by a short name.
fn told(book: &mut Book, pen: &Pen) -> Vec<(&'static str, u64)> {
    let table = |rows: &str| Said::Readings {
        file: "by hand".into(),
        table: format!("feature,station,direction,reading,unit,gauge,by,when,temperature\n{rows}"),
    };
    let mut at = Vec::new();
    let mut say = |book: &mut Book, name: &'static str, said: Said| {
        at.push((name, book.append(pen, said).expect(name).sequence));
    };
    let roles = vec![Role::Responsible, Role::Fits, Role::Records];
    say(book, "roles", Said::Person { name: "E".into(), roles, password: String::new() });
    say(
        book,
        "described",
        Said::Described { file: "engine.toml".into(), text: DESCRIPTION.into() },
    );
    say(
        book,
        "pin",
        table("pin,A,0,199.50,mm,mike,A,2026-11-02,12\npin,A,90,199.48,mm,mike,A,2026-11-02,12\n"),
    );
    say(book, "wrong", table("pin,B,0,1995.0,mm,mike,A,2026-11-02,12\n"));
    say(book, "bore", table("bore,,,200.60 mm,,mike,A,2026-11-02,12\n"));
    let hash = book.head().hash;
    assert_eq!(book.fold().by_hash(&hash), Some(book.head().sequence));
    let (_, wrong) = book.entry(at_of(&at, "wrong")).expect("there");
    let mut say = |book: &mut Book, name: &'static str, said: Said| {
        at.push((name, book.append(pen, said).expect(name).sequence));
    };
    say(
        book,
        "strike",
        Said::StruckOut { entry: wrong.to_string(), reason: "a nought too many".into() },
    );
    say(
        book,
        "figure",
        Said::FigureStruckOut {
            feature: "pin".into(),
            value: "199.48 mm".into(),
            station: "A".into(),
            direction: "90".into(),
            reason: "burr".into(),
        },
    );
    let decided = |repair: &str| Said::Decided {
        joint: "big-end".into(),
        repair: repair.into(),
        make: Vec::new(),
        reason: "by the log".into(),
    };
    say(book, "leave", decided("leave"));
    say(book, "renew", decided("renew"));
    say(book, "moved", Said::Moved { thing: "brass".into(), to: "tin 4".into() });
    say(
        book,
        "hold",
        Said::HoldPoint {
            id: "bedding".into(),
            about: "big-end".into(),
            what: "look at the blue".into(),
            not_by_doer: false,
        },
    );
    say(
        book,
        "worked",
        Said::Worked { about: "big-end".into(), what: "bedded".into(), reaches: "bedding".into() },
    );
    say(
        book,
        "stuck",
        Said::WorkStuck { work: "strap-off".into(), way: String::new(), why: "rust".into() },
    );
    say(book, "note", Said::Note { about: "brass".into(), text: "the old number is 14".into() });
    at
}

fn at_of(at: &[(&'static str, u64)], name: &str) -> u64 {
    at.iter().find(|(n, _)| *n == name).expect(name).1
}

#[test]
fn every_claim_has_its_entry() {
    let folder = tempfile::tempdir().expect("a folder");
    let pen = Pen::new("E", "vice", "2026-11-20T08:00:00Z").expect("a pen");
    let start = Start { name: "one joint".to_owned(), password: None };
    let mut book = Book::create_file(&folder.path().join("e.book"), &pen, &start).expect("begun");
    let at = told(&mut book, &pen);
    let n = |name: &str| at_of(&at, name);
    let day = Date::new(2026, 11, 21).ok();
    let read = book.fold().engine_sources().read(day).expect("an engine");
    let judgement = Judgement::of(read.engine);
    let d = dossier::record(&mut book, Some(&judgement), day).expect("gathered");

    // The hash printed is the SHA-256 of the stored line.
    assert_eq!(d.entries.len() as u64, book.head().sequence);
    let mut lines = Vec::new();
    book.each(&mut |_, _, line| {
        lines.push(line.to_owned());
        Ok(())
    })
    .expect("read");
    for (e, line) in d.entries.iter().zip(&lines) {
        assert_eq!(e.entry.hash, Hash::of(line.as_bytes()).to_string());
    }
    assert_eq!(d.head.sequence, book.head().sequence);

    // Decisions: readings of both surfaces before it, without the entry struck out.
    let rests = |i: usize| d.decisions[i].rests_on.iter().map(|e| e.sequence).collect::<Vec<_>>();
    assert_eq!(d.decisions.len(), 2);
    assert_eq!(rests(0), [n("pin"), n("bore")]);
    assert_eq!(d.decisions[0].replaced_by.as_ref().map(|e| e.sequence), Some(n("renew")));
    assert_eq!(d.decisions[1].replaced_by, None);

    // Readings: as written, struck where they or their entry are.
    assert_eq!(d.readings.iter().map(|r| r.feature.as_str()).collect::<Vec<_>>(), ["pin", "bore"]);
    let pin: Vec<(u64, &str, &str, bool)> = d.readings[0]
        .sittings
        .iter()
        .flat_map(|s| &s.readings)
        .map(|r| (r.sequence, r.place.as_str(), r.text.as_str(), r.struck))
        .collect();
    assert_eq!(
        pin,
        [
            (n("pin"), "A 0°", "199.50 mm", false),
            (n("pin"), "A 90°", "199.48 mm", true),
            (n("wrong"), "B 0°", "1995.0 mm", true),
        ]
    );

    // The finding of the description is said by the entry that brought it.
    assert_eq!((d.found.len(), d.found[0].entry.sequence), (1, n("described")));
    assert!(d.found[0].note.contains("by the oil hole"));

    assert_eq!(d.struck.len(), 2);
    assert_eq!(d.struck[0].about, format!("entry {}", n("wrong")));
    assert_eq!(d.hold_points[0].reached.as_ref().map(|r| r.entry.sequence), Some(n("worked")));
    assert_eq!(d.hold_points[0].released, None);
    let open: Vec<u64> = d.open.iter().map(|o| o.entry.sequence).collect();
    assert_eq!(open, [n("hold"), n("stuck"), n("moved")], "{:?}", d.open);
    assert_eq!(d.notes[0].entry.sequence, n("note"));
    assert_eq!(d.people[0].wrote, book.head().sequence);

    let again = dossier::record(&mut book, Some(&judgement), day).expect("gathered");
    assert_eq!(d, again, "the same book, another record");
    let set = |d: &Dossier| {
        paper::dossier(Some(&judgement), d, &SheetOptions::default()).expect("set").pdf
    };
    assert!(set(&d) == set(&again), "the same record, other bytes");
}

#[test]
fn a_book_without_an_engine_is_told_as_well() {
    let folder = tempfile::tempdir().expect("a folder");
    let pen = Pen::new("E", "vice", "2026-11-20T08:00:00Z").expect("a pen");
    let start = Start { name: "bare".to_owned(), password: None };
    let mut book = Book::create_file(&folder.path().join("e.book"), &pen, &start).expect("begun");
    book.append(&pen, Said::Tagged { part: "rod".into(), tag: book.fold().free_tag().to_string() })
        .expect("tagged");
    let d = dossier::record(&mut book, None, None).expect("gathered");
    assert_eq!((d.engine.as_str(), d.entries.len(), d.places.len()), ("bare", 3, 1));
    assert!(paper::dossier(None, &d, &SheetOptions::default()).expect("set").pages >= 3);
    let tags = dossier::tags(Some(book.fold()), None);
    assert_eq!((tags.len(), tags[0].part.as_str(), tags[0].engine.as_str()), (1, "rod", "bare"));
}
