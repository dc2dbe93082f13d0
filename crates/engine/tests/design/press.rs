//! Pressed and shrunk joints.

use super::*;

/// Norton, Machine Design, 4th ed., example 10-5 (read in a worked file): a solid steel pin of 0.781
/// in in iron of 3.00 in, 0.0015 in of interference: 15 265 psi.
#[test]
fn press_of_norton() {
    let j = judged(&pair(
        "pressed",
        ("pin", "0.7825 in"),
        ("hole", "0.781 in"),
        "[[duty]]\nof = \"j\"\nlength = \"1.5 in\"\nhub-outer = \"3 in\"\npin-bore = \"0 in\"\n",
    ));
    let d = of(&j, "j", &[]);
    let p = d.detail.press.expect("designed").pressure_pa.expect("gauged");
    let middle = 0.5 * (p.0 + p.1);
    // The gauge's tenth of a micrometre is the only doubt: 0.5 per cent of 1.5 thou.
    assert!(close(middle, 15_265.0 * PSI, 1e-3), "{} psi", middle / PSI);
    assert!(p.0 < middle && (p.1 - p.0) / middle < 0.03);
    assert!(d.absent.iter().any(|a| a.wants.iter().any(|w| w.starts_with("slip-safety"))));
}

/// Bands by hand: least holds the duty with the factor asked at low friction, most reaches yield
/// over the factor asked; both through Lamé with the smoothing loss 0.8 (Rz + Rz) (DIN 7190-1, from
/// memory).
#[test]
fn press_bands_hold_and_do_not_yield() {
    let duty = r#"
[[duty]]
of = "j"
length = "100 mm"
hub-outer = "200 mm"
pin-bore = "0 mm"
load = "100 kN"
slip-safety = "2"
yield-safety = "1.5"
friction = ["0.1", "0.12", "0.15"]
roughness-outer = "5 um"
roughness-inner = "5 um"
hub-rise = "0 K"
pin-rise = "0 K"
turning = "0 rpm"
"#;
    let j = judged(&pair("pressed", ("pin", "100.1 mm"), ("hole", "100 mm"), duty));
    let d = of(&j, "j", &[]);
    let s = d.detail.press.expect("designed").sizing.expect("a band");
    // d/D = 1/2: ring (1 + Q2)/(1 - Q2) = 5/3.
    let (steel, iron) = (30e6 * PSI, 14e6 * PSI);
    let give = 0.1 * ((5.0 / 3.0 + 0.28) / iron + (1.0 - 0.28) / steel);
    let least = 2.0 * 100e3 / (0.1 * PI * 0.1 * 0.1) * give + 8e-6;
    assert!(close(s.interference_min_m, least, 1e-4), "{} {least}", s.interference_min_m);
    // Modified Tresca at the bore of the boss: p = R (1 - Q2) / sqrt 3.
    let most = 350e6 * 0.75 / 3f64.sqrt() / 1.5 * give + 8e-6;
    assert!(close(s.interference_max_m, most, 1e-4), "{} {most}", s.interference_max_m);
    // What-if: half as much load again wants half as much interference again.
    let d = of(&j, "j", &[("load", "150 kN")]);
    let more = d
        .detail
        .press
        .as_ref()
        .and_then(|p| p.sizing.clone())
        .unwrap_or_else(|| panic!("{:?}", d.absent))
        .interference_min_m;
    assert!(close(more - 8e-6, 1.5 * (least - 8e-6), 1e-3));
    // More than the material bears is said, not given.
    let d = of(&j, "j", &[("load", "5 MN")]);
    assert!(d.detail.press.expect("designed").sizing.is_none());
    assert!(
        d.absent.iter().any(|a| a.what.contains("band") && !a.why.is_empty()),
        "{:?}",
        d.absent
    );
}

/// A recorded pressing is judged against the curve: on it is within, half of it is doubtful.
#[test]
fn press_record_is_judged() {
    let duty = r#"
[[duty]]
of = "j"
length = "100 mm"
hub-outer = "200 mm"
pin-bore = "0 mm"
roughness-outer = "0 um"
roughness-inner = "0 um"
friction = ["0.1", "0.12", "0.15"]
"#;
    let j = judged(&pair("pressed", ("pin", "100.1 mm"), ("hole", "100 mm"), duty));
    let curve = of(&j, "j", &[]).detail.press.expect("designed").curve.expect("a curve");
    let record = |share: f64| -> String {
        let at = |s: f64| {
            let p = curve.at(s * 0.1).expect("on the curve");
            format!("{:.1} mm: {:.3} kN", s * 100.0, share * p.likely_n * 1e-3)
        };
        [0.25, 0.5, 0.75, 1.0].map(at).join("; ")
    };
    let verdict = |share: f64| {
        let d = of(&j, "j", &[("press-record", &record(share))]);
        format!("{:?}", d.detail.press.expect("designed").judged.expect("judged").verdict)
    };
    assert_eq!(verdict(1.0), "WithinBand");
    assert_eq!(verdict(0.4), "HoldingDoubtful");
}

/// Heat for a gap: PF-06, 100 mm, 0.146 mm interference, 0.050 mm gap, 11e-6 per K: 178 K (worked
/// value of the reference collection, computed).
#[test]
fn shrink_heat() {
    let duty = "[[duty]]\nof = \"j\"\nlength = \"50 mm\"\nhub-outer = \"200 mm\"\npin-bore = \"0 mm\"\ngap = \"0.05 mm\"\nshop = \"20 degC\"\npin-at = \"20 degC\"\ncooling-lost = \"0 K\"\nheat-limit = \"250 degC\"\n";
    let text = pair("shrunk", ("pin", "100.146 mm"), ("hole", "100 mm"), duty)
        + "[[part]]\nid = \"unused\"\nmaterial = \"steel\"\n";
    let text = format!("{HEAD}{text}").replace("10.5e-6 /K", "11e-6 /K");
    let source = SourceText { file: "e.toml".into(), text };
    let (engine, problems) =
        engine::load(vec![source], Some(Date::new(2026, 11, 20).expect("a day"))).finish();
    assert!(problems.is_empty(), "{}", problems[0]);
    let d = of(&Judgement::of(engine), "j", &[]);
    let heat = d.detail.press.expect("designed").heat.expect("heat");
    assert!((heat.hub_rise_k - 178.2).abs() < 0.5, "{}", heat.hub_rise_k);
    assert!(d.cautions.iter().any(|c| c.contains("competent person")));
}
