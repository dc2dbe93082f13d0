//! What is held by a cotter, a gib, its own taper or by shrinking, and sliding faces.

use super::*;
use engine::design::HeldBy;
use mechanics::press::{JudgeRules, PressVerdict};
use mechanics::wedge::{GibLimit, Holding};

fn cone(duty: &str) -> String {
    pair(
        "tapered",
        ("cone", "50.05 mm"),
        ("socket", "50 mm"),
        &format!("taper = \"1 in 48\"\n{duty}"),
    )
}

/// By hand: 1 in 48, 0.05 mm larger stands out 2.4 mm. Shear of a taper pin 4 T / (pi d^2 D)
/// (Shigley, textbook relation): 1 kN m on a 200 mm shaft, mean diameter 50.05 - 96/96 = 49.05 mm.
#[test]
fn a_taper_pin_stands_out_and_shears_by_hand() {
    let j = judged(&cone(
        "[[duty]]\nof = \"j\"\nheld-by = \"taper pin\"\ndraw = \"4 mm\"\nlength = \"96 mm\"\nshaft = \"200 mm\"\ntorque = \"1 kN m\"\nshear-allowed = \"60 MPa\"\n",
    ));
    let d = of(&j, "j", &[]);
    let c = d.detail.cone.as_ref().expect("designed");
    assert_eq!(c.held_by, HeldBy::TaperPin);
    assert!((0.5 * (c.stands_m.0 + c.stands_m.1) - 2.4e-3).abs() < 1e-6, "{:?}", c.stands_m);
    let mean = 50.05e-3 - 0.5 * 0.096 / 48.0;
    let by_hand = 4.0 * 1e3 / (PI * mean * mean * 0.2);
    assert!(close(c.pin_shear_pa.expect("sheared"), by_hand, 1e-6));
    // No cotter is asked of a pin.
    assert!(d.absent.iter().all(|a| !a.what.contains("cotter")), "{:?}", d.absent);
}

/// By hand: a cotter 1 in 24 with 60 mm to go draws 2.5 mm, the gap at the gib of 2 mm stops it
/// first; driven 48 mm. Shear P / (2 B t) (Khurmi & Gupta, ch. 12, from memory): 90 kN over gib and
/// cotter of 30 + 45 mm, 15 mm thick, is 40 MPa. Drive and start-out of 100 kN at friction 0.1:
/// 24.23 and 15.81 kN (textbook relation, computed).
#[test]
fn gib_and_cotter_by_hand() {
    let j = judged(&pair(
        "fitted",
        ("thickness", "20 mm"),
        ("gap", "20.02 mm"),
        "[[duty]]\nof = \"j\"\nheld-by = \"gib and cotter\"\ninterference = \"-0.05 mm to 0 mm\"\ncotter-taper = \"1 in 24\"\ndrive-left = \"60 mm\"\ngap-at-gib = \"2 mm\"\ngap-at-cotter = \"3 mm\"\ngib-width = \"30 mm\"\ncotter-width = \"45 mm\"\ncotter-thickness = \"15 mm\"\nload = \"90 kN\"\nshear-allowed = \"60 MPa\"\npreload = \"100 kN\"\nfriction = \"0.1\"\n",
    ));
    let d = of(&j, "j", &[]);
    let Says::One(draw, _) = line(&d, "can still draw") else { panic!("a figure") };
    assert!((draw - 2e-3).abs() < 1e-12);
    let Says::One(drive, _) = line(&d, "drive that takes") else { panic!("a figure") };
    assert!((drive - 48e-3).abs() < 1e-9);
    let Says::One(shear, _) = line(&d, "shear in both together") else { panic!("a figure") };
    assert!(close(*shear, 40e6, 1e-9), "{shear}");
    let Says::Spread(_, force, _, _) = line(&d, "to drive it, low to high friction") else {
        panic!("a spread")
    };
    assert!(close(*force, 24.23e3, 5e-4), "{force}");
    let Says::Spread(_, force, _, _) = line(&d, "to start it out") else { panic!("a spread") };
    assert!(close(*force, 15.81e3, 5e-4), "{force}");
}

/// A cone drawn by a cotter has its drive beside its strength; one with a nut is not asked for either.
#[test]
fn what_holds_a_cone_decides_what_is_asked() {
    let d = of(demo(), "piston-rod.left.crosshead", &[]);
    let c = d.detail.cone.expect("designed");
    assert_eq!(c.held_by, HeldBy::Cotter);
    let drive = c.drive.expect("the demo's duty says enough");
    // 1 in 24 is far below twice the friction angle.
    assert_eq!(drive.holding, Holding::Holds);
    // 2 1/2 in of drive at 1 in 24 is 0.104 in, less than either gap.
    let draw = drive.draw.expect("gaps given");
    assert_eq!(draw.limit, GibLimit::CotterHome);
    assert!(close(draw.draw_left_m, 2.5 / 24.0 * INCH, 1e-9));
    assert!(c.cotter.is_some());
    let d = of(demo(), "piston-rod.left.piston", &[]);
    assert!(d.absent.iter().all(|a| !a.what.contains("cotter")), "{:?}", d.absent);
}

/// 56 in centre: 0.060 in by the Master Mechanics' table (from memory). Warmed 50 K above its centre a
/// steel tyre grows by d a dT: 11.5e-6 x 50 of it, by hand; the check's outer material is iron at 10.5e-6.
#[test]
fn a_tyre_stands_beside_the_old_rules() {
    let duty = "[[duty]]\nof = \"j\"\nlength = \"5 in\"\nhub-outer = \"61 in\"\npin-bore = \"40 in\"\nload = \"100 kN\"\nslip-safety = \"1.5\"\nyield-safety = \"1.05\"\nroughness-outer = \"6 um\"\nroughness-inner = \"6 um\"\nhub-rise = \"20 K\"\npin-rise = \"20 K\"\nturning = \"0 rpm\"\ntyre-rise = \"50 K\"\n";
    let j = judged(&pair("shrunk", ("pin", "56.06 in"), ("hole", "56 in"), duty));
    let d = of(&j, "j", &[]);
    let Says::One(rule, _) = line(&d, "by rule") else { panic!("a figure") };
    assert!(close(*rule, 0.060 * INCH, 1e-3), "{rule}");
    let Says::One(left, _) = line(&d, "left of the least, warm and turning") else { panic!("one") };
    let i = d.detail.press.as_ref().expect("designed").interference_m.expect("gauged");
    let by_hand = i.0 - 2.0 * i.1 - 56.0 * INCH * 10.5e-6 * 50.0;
    assert!((left - by_hand).abs() < 1e-6, "{left} {by_hand}");
}

/// By hand: two faces have 1 mm to give together and the part stands 0.2 mm low, so the upper gives
/// 0.3 and the lower 0.7; with liners of 4 mm, 3.7 and 3.3 mm come off first.
#[test]
fn the_thicker_liner_goes_where_the_part_stands_low() {
    let d = of(demo(), "valve.left", &[("faces", "upper; lower"), ("stands-off", "0.1 mm")]);
    let s = d.detail.slide.expect("designed");
    let layers = s.outer.layers.or(s.inner.layers).expect("lined");
    let liner = 0.25 * INCH;
    let (upper, lower) = (layers[0], layers[1]);
    assert!(close(upper.thick_m, liner, 1e-12) && close(lower.thick_m, liner, 1e-12));
    let (a, b) = (upper.before_m.expect("machined"), lower.before_m.expect("machined"));
    // What comes off differs by twice the stand-off, the lower less; together what both give.
    assert!((a - b - 0.2e-3).abs() < 1e-9, "{a} {b}");
    let side = if s.outer.layers.is_some() { &s.outer } else { &s.inner };
    let needs = (0.5 * (side.done_m.0 + side.done_m.1) - side.now_m.expect("gauged")).abs();
    assert!((2.0 * liner - a - b - needs).abs() < 1e-9);
}

/// A bush pressed into its eye has a curve of its own, and what was read is judged by it.
#[test]
fn a_bush_s_press_record_is_judged() {
    let d = of(demo(), "link.left.back", &[]);
    let p = d.detail.press.expect("a bush");
    let curve = p.curve.expect("a curve");
    let read: Vec<String> = [0.25, 0.5, 0.75, 1.0]
        .iter()
        .map(|share| {
            let at = curve.at(share * curve.home.stroke_m).expect("on the curve");
            format!("{:.3} mm: {:.4} kN", 1e3 * at.stroke_m, 1e-3 * at.likely_n)
        })
        .collect();
    let with = read.join("; ");
    let d = of(demo(), "link.left.back", &[("press-record", &with), ("press-gauge", "2 %")]);
    let judged = d.detail.press.expect("a bush").judged.expect("judged");
    assert_eq!(judged.verdict, PressVerdict::WithinBand);
    assert!(JudgeRules::default().gauge_share > 0.02);
}
