use super::*;
use crate::check::{check, count};
use proptest::prelude::*;

fn plot(stations: &[(f64, f64, f64, f64)]) -> ProfilePlot {
    ProfilePlot {
        title: "crank-pin.left, along the axis".to_owned(),
        surface: Surface::Outside,
        stations: stations
            .iter()
            .enumerate()
            .map(|(i, (at, least, mean, most))| ProfileStation {
                name: format!("s{i}"),
                at_m: at * 1e-3,
                mean_m: mean * 1e-3,
                least_m: least * 1e-3,
                most_m: most * 1e-3,
            })
            .collect(),
        as_made: None,
        limits: Vec::new(),
        verdict: Verdict::Within,
        notes: Vec::new(),
    }
}

#[test]
fn a_taper_falls_and_both_scales_agree() {
    let p = profile_plot(&plot(&[
        (0.0, 202.58, 202.60, 202.62),
        (60.0, 202.53, 202.55, 202.57),
        (120.0, 202.48, 202.50, 202.52),
    ]))
    .expect("drawn");
    let texts = check(&p);
    assert_eq!(count(&p, "polyline"), 1);
    assert!(p.description.contains("1 division = 0.05 mm (2.0 thou)"), "{}", p.description);
    assert!(p.description.contains("120 mm between"), "{}", p.description);
    // 202.50 mm is 7.9724 in (25.4 mm to the inch exactly, 1959).
    assert!(
        texts.iter().any(|t| t == "202.50") && texts.iter().any(|t| t == "7.9724"),
        "{texts:?}"
    );
    // Larger is up: y falls with size, and the line runs downhill to the right.
    let doc = roxmltree::Document::parse(&p.svg).expect("well formed");
    let line = doc.descendants().find(|n| n.has_tag_name("polyline")).expect("line");
    let points = crate::check::places(&line);
    assert!(points.windows(2).all(|w| w[0].0 < w[1].0 && w[0].1 < w[1].1), "{points:?}");
    // Equal steps in size are equal steps on the sheet.
    let (a, b) = (points[1].1 - points[0].1, points[2].1 - points[1].1);
    assert!((a - b).abs() < 0.02, "{a} {b}");
}

#[test]
fn stations_in_any_order_are_drawn_along_the_axis() {
    let forth =
        [(0.0, 100.0, 100.1, 100.2), (50.0, 100.0, 100.0, 100.1), (80.0, 99.9, 100.0, 100.0)];
    let mut back = forth;
    back.reverse();
    let line = |s: &[(f64, f64, f64, f64)]| {
        let p = profile_plot(&plot(s)).expect("drawn");
        let doc = roxmltree::Document::parse(&p.svg).expect("well formed");
        let node = doc.descendants().find(|n| n.has_tag_name("polyline")).expect("line");
        crate::check::places(&node)
    };
    assert_eq!(line(&forth), line(&back));
}

#[test]
fn limits_and_as_made_are_named_on_or_off_the_plot() {
    let mut p = plot(&[(0.0, 202.38, 202.40, 202.42), (60.0, 202.43, 202.45, 202.47)]);
    p.as_made = Some(Mark { at_m: 203.2e-3, text: "8 in".into() });
    p.limits =
        vec![LimitSize { bound: Bound::Least, size_m: 202.4e-3, text: "least in service".into() }];
    let picture = profile_plot(&p).expect("drawn");
    let texts = check(&picture);
    assert!(texts.iter().any(|t| t == "least in service"), "{texts:?}");
    assert!(picture.description.contains("As made 8 in: 0.7"), "{}", picture.description);
    assert!(picture.svg.contains(OUT), "a reading below the limit is in the one colour");
}

#[test]
fn one_place_says_so_and_nonsense_is_refused() {
    let p = profile_plot(&plot(&[(10.0, 100.0, 100.1, 100.2)])).expect("drawn");
    assert!(p.description.contains("taper cannot be seen"));
    assert!(matches!(profile_plot(&plot(&[])), Err(DrawingError::Nothing { .. })));
    assert!(profile_plot(&plot(&[(f64::NAN, 1.0, 1.0, 1.0)])).is_err());
    assert!(profile_plot(&plot(&[(0.0, 1.0, f64::INFINITY, 1.0)])).is_err());
}

proptest! {
    #[test]
    fn whatever_is_read_stays_on_the_sheet(
        stations in prop::collection::vec((-5000.0f64..5000.0, 0.01f64..3000.0, 0.0f64..5.0), 1..20),
        limit in 0.01f64..3000.0,
        name in "\\PC{0,60}",
    ) {
        let all: Vec<_> = stations.iter().map(|(at, mm, w)| (*at, mm - w, *mm, mm + w)).collect();
        let mut p = plot(&all);
        p.title = name.clone();
        p.stations[0].name = name;
        for bound in [Bound::Least, Bound::Most] {
            p.limits.push(LimitSize { bound, size_m: limit * 1e-3, text: "limit".into() });
        }
        check(&profile_plot(&p).expect("drawn"));
    }
}
