use super::*;
use crate::check::{check, count, places};
use proptest::prelude::*;

fn plot(diameters: &[&[(f64, f64)]]) -> PolarPlot {
    PolarPlot {
        title: "crank-pin.left".to_owned(),
        surface: Surface::Outside,
        stations: diameters
            .iter()
            .enumerate()
            .map(|(i, d)| StationDiameters {
                name: format!("station {i}"),
                diameters: d
                    .iter()
                    .map(|(deg, mm)| Diameter {
                        angle_rad: deg.to_radians(),
                        diameter_m: mm * 1e-3,
                    })
                    .collect(),
            })
            .collect(),
        as_made: None,
        limits: Vec::new(),
        verdict: Verdict::Within,
    }
}

/// Distances of the marks of a one-station plot from its centre.
fn marks(picture: &Picture) -> Vec<f64> {
    let doc = roxmltree::Document::parse(&picture.svg).expect("well formed");
    doc.descendants()
        .filter(|n| n.has_tag_name("circle") && n.attribute("r") == Some("1.9"))
        .map(|n| places(&n))
        .map(|p| ((p[0].0 + p[1].0) / 2.0, (p[0].1 + p[1].1) / 2.0))
        // The one in the legend apart.
        .filter(|(x, _)| *x < LEGEND_X)
        .map(|(x, y)| (x - CENTRE.0).hypot(y - CENTRE.1))
        .collect()
}

#[test]
fn both_ends_of_every_diameter_are_drawn() {
    let p = polar_plot(&plot(&[&[(0.0, 202.50), (45.0, 202.55), (90.0, 202.60), (135.0, 202.52)]]))
        .expect("drawn");
    let texts = check(&p);
    assert_eq!(marks(&p).len(), 8);
    assert!(texts.iter().any(|t| t == "station 0"), "{texts:?}");
    assert!(texts.iter().any(|t| t == "315°"), "directions of both ends: {texts:?}");
    assert!(p.description.contains("1 ring = 0.02 mm (0.8 thou)"), "{}", p.description);
    assert!(
        p.description.contains(
            "Ovality at most 0.1 mm (3.9 thou), at station 0: largest at 90°, smallest at 0°"
        ),
        "{}",
        p.description
    );
    assert!(p.description.contains("odd number of lobes"));
}

#[test]
fn a_ring_is_worth_what_is_said() {
    // 202.50 and 202.60 stand five rings of 0.02 mm apart; the distance between their marks must
    // be five times that between neighbouring rings.
    let p = polar_plot(&plot(&[&[(0.0, 202.50), (90.0, 202.60)]])).expect("drawn");
    let doc = roxmltree::Document::parse(&p.svg).expect("well formed");
    let mut rings: Vec<f64> = doc
        .descendants()
        .filter(|n| n.has_tag_name("circle") && n.attribute("stroke-width") == Some("0.35"))
        .filter_map(|n| n.attribute("r")?.parse().ok())
        .collect();
    rings.sort_by(f64::total_cmp);
    let ring = rings[1] - rings[0];
    let mut r = marks(&p);
    r.sort_by(f64::total_cmp);
    assert!((r[3] - r[0] - 5.0 * ring).abs() < 0.05, "{r:?} {ring}");
}

#[test]
fn a_shape_of_constant_width_looks_round() {
    // The support function p(t) = a + b cos 3t has the same width 2a in every direction (constant
    // width; Barbier 1860, Reuleaux 1875): two-point diameters cannot tell it from a circle, which
    // is what the caution says.
    let width = |t: f64| {
        let p = |t: f64| 100.0 + 0.05 * (3.0 * t).cos();
        p(t) + p(t + PI)
    };
    let all: Vec<(f64, f64)> =
        (0..6).map(|i| f64::from(i) * 30.0).map(|d| (d, width(d.to_radians()))).collect();
    let p = polar_plot(&plot(&[&all])).expect("drawn");
    let r = marks(&p);
    assert_eq!(r.len(), 12);
    assert!(r.iter().all(|x| (x - r[0]).abs() < 0.05), "{r:?}");
    assert!(!p.description.contains("Ovality at most 0.0"), "{}", p.description);
}

#[test]
fn readings_of_one_direction_become_their_mean_and_225_is_45() {
    let one = polar_plot(&plot(&[&[(45.0, 202.50), (0.0, 202.60)]])).expect("drawn");
    let two =
        polar_plot(&plot(&[&[(45.0, 202.49), (225.0, 202.51), (0.0, 202.60)]])).expect("drawn");
    assert_eq!(marks(&one), marks(&two));
}

#[test]
fn near_limits_are_circles_and_far_ones_are_told() {
    let mut p = plot(&[&[(0.0, 202.41), (90.0, 202.47)]]);
    p.limits =
        vec![LimitSize { bound: Bound::Least, size_m: 202.4e-3, text: "least in service".into() }];
    p.as_made = Some(Mark { at_m: 203.2e-3, text: "8 in".into() });
    let near = polar_plot(&p).expect("drawn");
    check(&near);
    assert_eq!(count(&near, "path"), 1, "what is below the limit is shaded");
    // 203.2 is 7 tenths and more outside what the rings hold.
    assert!(near.description.contains("As made: 0.7"), "{}", near.description);
    assert!(!near.svg.contains(OUT), "nothing is out");
    p.limits[0].size_m = 202.45e-3;
    let out = polar_plot(&p).expect("drawn");
    assert!(out.svg.contains(OUT), "the readings below the limit are");
}

#[test]
fn many_stations_are_counted_not_dropped_in_silence() {
    let d: &[(f64, f64)] = &[(0.0, 202.5), (90.0, 202.6)];
    let p = polar_plot(&plot(&[d; 11])).expect("drawn");
    check(&p);
    assert!(p.description.contains("3 more stations not drawn"), "{}", p.description);
}

#[test]
fn nothing_and_nonsense_are_refused() {
    assert!(matches!(polar_plot(&plot(&[])), Err(DrawingError::Nothing { .. })));
    assert!(matches!(polar_plot(&plot(&[&[]])), Err(DrawingError::Nothing { .. })));
    for bad in [f64::NAN, f64::INFINITY, 1e9] {
        assert!(polar_plot(&plot(&[&[(0.0, bad)]])).is_err(), "{bad}");
        assert!(polar_plot(&plot(&[&[(bad, 100.0)]])).is_err() || bad == 1e9, "{bad}");
    }
    let mut p = plot(&[&[(0.0, 1.0)]]);
    p.as_made = Some(Mark { at_m: f64::NAN, text: String::new() });
    assert!(polar_plot(&p).is_err());
}

proptest! {
    #[test]
    fn whatever_is_read_stays_on_the_sheet(
        readings in prop::collection::vec((-400.0f64..400.0, 0.001f64..3000.0), 1..12),
        made in prop::option::of(0.001f64..3000.0),
        name in "\\PC{0,60}",
    ) {
        let mut p = plot(&[&readings]);
        p.title = name.clone();
        p.stations[0].name = name;
        p.as_made = made.map(|mm| Mark { at_m: mm * 1e-3, text: "as made".into() });
        check(&polar_plot(&p).expect("drawn"));
    }
}
