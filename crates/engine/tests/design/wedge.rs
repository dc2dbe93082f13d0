//! Wedges, cotters and fits.

use super::*;

/// A wedge by hand: slot 300, brasses 250, liner 3, wedge 40 at no stand, 1 in 10, standing 20 mm:
/// 38 thick, so 9 mm are hidden; at mid stand (30) it is 37 and the liner 13.
fn wedge(more: &str) -> String {
    let f = |id: &str, kind: &str, v: &str, made: &str| {
        let v = fine(v);
        format!(
            "[[feature]]\nid = \"{id}\"\npart = \"inside\"\nkind = \"{kind}\"\nas-made = \"{made}\"\n[[reading]]\nfeature = \"{id}\"\nvalue = \"{v}\"\ngauge = \"g\"\n"
        )
    };
    f("slot", "gap", "300 mm", "300 mm")
        + &f("h1", "thickness", "125 mm", "128 mm")
        + &f("h2", "thickness", "125 mm", "128 mm")
        + &f("liner", "thickness", "3 mm", "3 mm")
        + &f("w", "thickness", "40 mm", "40 mm")
        + &f("stand", "stand", "20 mm", "30 mm")
        + &f("bore", "bore", "200 mm", "200 mm")
            .replace("kind = \"bore\"\n", "kind = \"bore\"\nhalves = [\"h1\", \"h2\"]\n")
        + &format!(
            "[[joint]]\nid = \"w\"\nkind = \"wedged\"\ninner = \"w\"\nouter = \"slot\"\nfills = [\"h1\", \"h2\", \"liner\"]\ntaper = \"1 in 10\"\nstand = \"stand\"\nstand-least = \"10 mm\"\nstand-most = \"50 mm\"\n[[duty]]\nof = \"w\"\n{more}"
        )
}

#[test]
fn the_hidden_packing_is_found_and_the_liner_put_in() {
    let j = judged(&wedge("preload = \"100 kN\"\n"));
    let d = of(&j, "w", &[]);
    let w = d.detail.wedge.clone().expect("designed");
    assert!((w.account.unaccounted_m - 9e-3).abs() < 1e-7, "{:?}", w.account);
    let (liner, low, high) = w.liner.expect("a liner");
    assert!((liner.liner_m - 13e-3).abs() < 1e-7, "{liner:?}");
    assert!(low < liner.liner_m && high > liner.liner_m);
    // Brasses as made 256: 6 mm gone in all, 1 shown by the wedge and what is hidden besides.
    let gone = w.gone.expect("as made is known");
    assert!((gone.shown_by_wedge_m - 1e-3).abs() < 1e-7);
    assert!((gone.hidden_by_packing_m - 9e-3).abs() < 1e-7);
    // The fixed brass has lost 3 mm: its old liner and those 3 bring the centre back.
    match line(&d, "of it behind the fixed brass") {
        Says::One(m, Of::Size) => assert!((m - 6e-3).abs() < 1e-7, "{m}"),
        other => panic!("{other:?}"),
    }
}

/// WS-05 (textbook relation, computed): 1 in 24, friction 0.1, 100 kN: 24.23 kN to drive, 15.81 out.
#[test]
fn wedge_forces() {
    let text = wedge("preload = \"100 kN\"\nfriction = \"0.1\"\n").replace("1 in 10", "1 in 24");
    let d = of(&judged(&text), "w", &[]);
    let (drive, out) = d.detail.wedge.expect("designed").forces.expect("forces");
    assert!(close(drive.at_likely, 24.23e3, 5e-4), "{}", drive.at_likely);
    assert!(close(out.at_likely, 15.81e3, 5e-4), "{}", out.at_likely);
    // Friction that nobody gave is printed as common practice.
    let d = of(&judged(&wedge("preload = \"100 kN\"\n")), "w", &[]);
    let given = d.given.iter().find(|g| g.name == "friction").expect("told");
    assert!(given.from.contains("common practice"), "{given:?}");
}

/// Khurmi & Gupta (2005), cotter joint of example 12.1 as drawn (30 kN; inputs read in a public worked
/// file): rod 28 mm in tension is 48.7 MPa, rod end 40 by cotter 10 in crushing 75 MPa, by hand.
#[test]
fn cotter_of_khurmi() {
    let duty = "taper = \"1 in 16\"\n[[duty]]\nof = \"j\"\nload = \"30 kN\"\ndraw = \"5 mm\"\nrod = \"28 mm\"\nrod-end = \"40 mm\"\nsocket-outer = \"65 mm\"\nsocket-collar = \"85 mm\"\ncotter-thickness = \"10 mm\"\ncotter-width = \"43 mm\"\nrod-beyond = \"20 mm\"\nsocket-beyond = \"20 mm\"\ntension-allowed = \"50 MPa\"\nshear-allowed = \"35 MPa\"\nbearing-allowed = \"90 MPa\"\nlength = \"60 mm\"\n";
    let j = judged(&pair("tapered", ("cone", "40.1 mm"), ("socket", "40 mm"), duty));
    let d = of(&j, "j", &[]);
    let cone = d.detail.cone.expect("designed");
    let checks = cone.cotter.expect("checked");
    let stress = |i: usize| checks[i].stress_pa * 1e-6;
    assert!((stress(0) - 48.72).abs() < 0.01 && (stress(2) - 75.0).abs() < 0.01, "{checks:?}");
    // 0.1 mm on the diameter at 1 in 16 stands 1.6 mm from home.
    assert!((0.5 * (cone.stands_m.0 + cone.stands_m.1) - 1.6e-3).abs() < 1e-7);
}

/// ISO 286-2: 60 H7/s6 is 23 to 72 um of interference (read in a public transcription).
#[test]
fn a_fit_symbol_gives_its_table() {
    let duty = "[[duty]]\nof = \"j\"\nfit = \"60 H7/s6\"\nlength = \"50 mm\"\nhub-outer = \"200 mm\"\npin-bore = \"0 mm\"\nload = \"1 kN\"\nslip-safety = \"1\"\nyield-safety = \"1\"\nroughness-outer = \"0 um\"\nroughness-inner = \"0 um\"\nhub-rise = \"0 K\"\npin-rise = \"0 K\"\nturning = \"0 rpm\"\n";
    let j = judged(&pair("pressed", ("pin", "60.05 mm"), ("hole", "60 mm"), duty));
    match line(&of(&j, "j", &[]), "interference by limit or fit") {
        Says::Band(a, b, _) => {
            assert!((a - 23e-6).abs() < 1e-9 && (b - 72e-6).abs() < 1e-9, "{a} {b}")
        }
        other => panic!("{other:?}"),
    }
    let d = of(&j, "j", &[("fit", "60 H7/q6")]);
    assert!(d.detail.press.is_some(), "the rest stands without it");
}
