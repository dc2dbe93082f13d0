use super::*;
use crate::check::{check, count, places};
use proptest::prelude::*;

fn station(points: &[(f64, f64)], offset: (f64, f64)) -> TraverseStation {
    let circle = OffsetCircle { x_m: offset.0 * 1e-3, y_m: offset.1 * 1e-3, radial_m: 0.0 };
    TraverseStation {
        name: "middle".to_owned(),
        points: points
            .iter()
            .map(|(deg, mm)| DialPoint { angle_rad: deg.to_radians(), radial_m: mm * 1e-3 })
            .collect(),
        least_squares: Some(circle),
        minimum_zone: Some(ZoneCircles { middle: circle, roundness_m: 0.02e-3 }),
    }
}

fn plot(stations: Vec<TraverseStation>) -> TraversePlot {
    TraversePlot { title: "axle journal, left, dial traverse".to_owned(), stations }
}

/// Distances of the marks from the centre.
fn marks(picture: &Picture) -> Vec<f64> {
    let doc = roxmltree::Document::parse(&picture.svg).expect("well formed");
    doc.descendants()
        .filter(|n| n.has_tag_name("circle") && n.attribute("r") == Some("1.9"))
        .map(|n| places(&n))
        .map(|p| ((p[0].0 + p[1].0) / 2.0, (p[0].1 + p[1].1) / 2.0))
        .filter(|(x, _)| *x < LEGEND_X)
        .map(|(x, y)| (x - CENTRE.0).hypot(y - CENTRE.1))
        .collect()
}

#[test]
fn a_round_part_off_the_axis_looks_round() {
    // A circle whose centre is off the axis of turning by e shows a dial e cos(t - t0), to first
    // order in e (ISO 4291, from memory): with the centre taken out nothing must be left.
    let (x, y) = (0.03, 0.04);
    let points: Vec<(f64, f64)> = (0..12)
        .map(|i| f64::from(i) * 30.0)
        .map(|d| (d, x * d.to_radians().cos() + y * d.to_radians().sin()))
        .collect();
    let p = traverse_plot(&plot(vec![station(&points, (x, y))])).expect("drawn");
    let texts = check(&p);
    let r = marks(&p);
    assert_eq!(r.len(), 12);
    assert!(r.iter().all(|v| (v - r[0]).abs() < 0.05), "{r:?}");
    // 3-4-5: 0.05 mm towards atan2(4, 3) = 53.13 degrees.
    assert!(
        p.description.contains("centre 0.05 mm (2.0 thou) off the axis of turning towards 53.1°"),
        "{}",
        p.description
    );
    assert!(
        texts.iter().any(|t| t == "least squares") && texts.iter().any(|t| t == "narrowest zone")
    );
    assert_eq!(count(&p, "polygon"), 2, "the two circles of the zone");
}

#[test]
fn the_zone_stands_half_inside_and_half_outside() {
    let points: Vec<(f64, f64)> =
        (0..8).map(|i| (f64::from(i) * 45.0, if i % 2 == 0 { 0.01 } else { -0.01 })).collect();
    let p = traverse_plot(&plot(vec![station(&points, (0.0, 0.0))])).expect("drawn");
    let doc = roxmltree::Document::parse(&p.svg).expect("well formed");
    let mut radii: Vec<f64> = doc
        .descendants()
        .filter(|n| n.has_tag_name("polygon"))
        .map(|n| places(&n))
        .map(|points| (points[0].0 - CENTRE.0).hypot(points[0].1 - CENTRE.1))
        .collect();
    radii.sort_by(f64::total_cmp);
    let r = marks(&p);
    let (least, most) = crate::scale::extent(r.into_iter()).expect("marks");
    // Readings of +-0.01 mm touch the circles of a zone of 0.02 mm.
    assert!((radii[0] - least).abs() < 0.05 && (radii[1] - most).abs() < 0.05, "{radii:?}");
}

#[test]
fn more_stations_than_are_drawn_are_counted() {
    let one = station(&[(0.0, 0.0), (120.0, 0.01), (240.0, -0.01)], (0.0, 0.0));
    let p = traverse_plot(&plot(vec![one; 6])).expect("drawn");
    check(&p);
    assert!(p.description.contains("2 station(s) not drawn"), "{}", p.description);
}

#[test]
fn nonsense_is_refused() {
    assert!(matches!(traverse_plot(&plot(vec![])), Err(DrawingError::Nothing { .. })));
    assert!(traverse_plot(&plot(vec![station(&[(f64::NAN, 0.0)], (0.0, 0.0))])).is_err());
    assert!(traverse_plot(&plot(vec![station(&[(0.0, f64::INFINITY)], (0.0, 0.0))])).is_err());
    assert!(traverse_plot(&plot(vec![station(&[(0.0, 0.0)], (f64::NAN, 0.0))])).is_err());
}

proptest! {
    #[test]
    fn whatever_the_dial_shows_stays_on_the_sheet(
        points in prop::collection::vec((-720.0f64..720.0, -5.0f64..5.0), 1..60),
        offset in (-1.0f64..1.0, -1.0f64..1.0),
        name in "\\PC{0,60}",
    ) {
        let mut s = station(&points, offset);
        s.name = name;
        check(&traverse_plot(&plot(vec![s])).expect("drawn"));
    }
}
