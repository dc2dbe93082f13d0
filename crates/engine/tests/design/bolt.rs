//! Fitted bolts.

use super::*;

/// A bolt in three members, one reading in each.
fn bolt(hole: &str, more: &str) -> String {
    format!(
        r#"
[[feature]]
id = "bolt"
part = "inside"
kind = "pin"
stations = ["A", "B", "C"]
station-at = ["10 mm", "60 mm", "110 mm"]
[[feature]]
id = "hole"
part = "inside"
kind = "hole"
stations = ["A", "B", "C"]
station-at = ["10 mm", "60 mm", "110 mm"]
[[limit]]
on = "hole"
of = "barrel"
when = "refit"
max = "0.02 mm"
source = "engineer"
note = "for this check"
[[joint]]
id = "b"
kind = "fitted"
inner = "bolt"
outer = "hole"
[[duty]]
of = "b"
interference = "0 mm to 0.02 mm"
members = ["20 mm", "65 mm", "35 mm"]
reamers = ["52 mm", "52.5 mm", "53 mm"]
ream-cut = "0.05 mm"
land-tolerance = "0.01 mm"
slide = "0.02 mm"
lead = "2 mm"
head = "hexagon"
head-across = "80 mm"
head-height = "30 mm"
thread-major = "48 mm"
thread-pitch = "5 mm"
thread-length = "60 mm"
thread-run-out = "5 mm"
security = "split pin"
security-size = "8 mm"
{more}
{hole}
"#
    )
}

fn readings(feature: &str, sizes: [&str; 3]) -> String {
    ["A", "B", "C"]
        .iter()
        .zip(sizes)
        .flat_map(|(s, v)| {
            let v = fine(v);
            ["0", "90"].map(move |d| {
                format!("[[reading]]\nfeature = \"{feature}\"\nstation = \"{s}\"\ndirection = \"{d}\"\nvalue = \"{v}\"\ngauge = \"g\"\n")
            })
        })
        .collect()
}

const LOADS: &str = "load = \"150 kN\"\nbolts = \"1\"\nworst-factor = \"1\"\nmember-share = [\"-0.5\", \"1\", \"-0.5\"]\nmember-edge = [\"100 mm\", \"100 mm\", \"100 mm\"]\nshear-allowed = \"60 MPa\"\nbearing-allowed = \"60 MPa\"\nedge-ratio = \"1.5\"";

/// Khurmi & Gupta, Machine Design, knuckle joint (from memory): 150 kN on a 52 mm pin in double
/// shear is 35.3 MPa, on an eye 65 mm thick 44.4 MPa.
#[test]
fn bolt_stresses_of_khurmi() {
    let holes = readings("hole", ["52 mm", "52 mm", "52 mm"]) + &readings("bolt", ["51.9 mm"; 3]);
    let j = judged(&bolt(&holes, LOADS));
    let d = of(&j, "b", &[]).detail.bolt.expect("designed");
    let s = d.stress.expect("stressed");
    assert!(close(s.planes[0].shear_pa, 35.3e6, 2e-3), "{}", s.planes[0].shear_pa);
    assert!(close(s.members[1].bearing_pa, 44.4e6, 2e-3), "{}", s.members[1].bearing_pa);
    assert!(d.reamed_m.is_none(), "a true hole is left");
}

/// Lands by hand: a hole stepped 52.004, 52.000, 51.996 mm with 0 to 20 um wanted; the guard of 1.645
/// standard uncertainties comes off both ends, and each land goes with its own member.
#[test]
fn lands_go_with_their_own_hole() {
    let holes =
        readings("hole", ["52.004 mm", "52 mm", "51.996 mm"]) + &readings("bolt", ["52 mm"; 3]);
    let j = judged(&bolt(&holes, ""));
    let d = of(&j, "b", &[]);
    let b = d.detail.bolt.clone().expect("designed");
    for (land, hole) in b.bolt.lands.iter().zip([52.004e-3, 52e-3, 51.996e-3]) {
        let (low, high) = (land.diameter_min_m - hole, land.diameter_max_m - hole);
        assert!(low > 0.0 && low < 0.5e-6, "{low}");
        assert!(high < 20e-6 && high > 19.5e-6, "{high}");
    }
    // Largest under the head: it slides home to its own land, 20 + 65 + 35 mm less what is before.
    assert!(b.bolt.lands[0].middle_m() > b.bolt.lands[2].middle_m());
    assert!(
        !d.sections.iter().any(|s| s.title.starts_with("sizes to make")),
        "one figure a surface"
    );
    // No load was given: the stresses are named as missing, not worked out from nothing.
    assert!(b.stress.is_none());
    let missing: Vec<&Absent> = d.absent.iter().filter(|a| a.what.contains("shear")).collect();
    assert!(missing[0].wants.iter().any(|w| w.starts_with("load = ")), "{missing:?}");
}

/// A bell-mouthed hole is reamed to the next reamer that cleans it up by the cut: 52.3 + 0.05 by hand.
#[test]
fn a_bell_mouthed_hole_is_reamed() {
    let holes = readings("hole", ["52.3 mm", "52 mm", "52.3 mm"]) + &readings("bolt", ["52 mm"; 3]);
    let j = judged(&bolt(&holes, ""));
    let b = of(&j, "b", &[]).detail.bolt.expect("designed");
    assert_eq!(b.reamed_m, Some(52.5e-3));
    let d = of(&j, "b", &[("reamers", "52 mm; 52.3 mm")]);
    assert!(d.detail.bolt.is_none(), "no reamer, no bolt");
    assert!(d.absent.iter().any(|a| a.why.contains("no reamer")), "{:?}", d.absent);
}
