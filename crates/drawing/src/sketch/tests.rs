use super::*;
use crate::check::{check, count, places};

const SHAPES: [SketchShape; 10] = [
    SketchShape::Journal,
    SketchShape::Pin,
    SketchShape::Bore,
    SketchShape::Hole,
    SketchShape::Cone,
    SketchShape::Socket,
    SketchShape::Thickness,
    SketchShape::Gap,
    SketchShape::Centres,
    SketchShape::Length,
];

fn sketch(shape: SketchShape) -> MachineSketch {
    MachineSketch {
        title: "crank-pin.left".to_owned(),
        shape,
        metric: "202.70 ± 0.020 mm".to_owned(),
        imperial: "7.9803 ± 0.0008 in".to_owned(),
        length: Some("gauged over 120 mm".to_owned()),
        notes: vec!["By grinding.".to_owned()],
    }
}

#[test]
fn every_shape_carries_its_size_in_both_systems() {
    for shape in SHAPES {
        let p = machine_sketch(&sketch(shape)).expect("drawn");
        let texts = check(&p);
        let has = |t: &str| texts.iter().any(|x| x == t);
        assert!(has("202.70 ± 0.020 mm") && has("(7.9803 ± 0.0008 in)"), "{shape:?}: {texts:?}");
        assert!(has("not to scale") && has("By grinding."), "{shape:?}");
        assert_eq!(has("\u{2300}"), shape.is_round(), "{shape:?}");
    }
}

#[test]
fn extension_lines_stand_off_the_outline_and_pass_the_dimension_line() {
    // ISO 129-1 (from memory): a small gap at the feature, and the extension line runs some
    // eight line widths past its dimension line.
    let p = machine_sketch(&sketch(SketchShape::Pin)).expect("drawn");
    let doc = roxmltree::Document::parse(&p.svg).expect("well formed");
    let ends: Vec<(f64, f64)> = doc
        .descendants()
        .filter(|n| n.has_tag_name("line"))
        .map(|n| places(&n))
        .filter(|l| l[0].1 == l[1].1 && (l[1].0 - (DIMENSION_X + PAST)).abs() < 0.01)
        .map(|l| (l[0].0, l[1].0))
        .collect();
    assert_eq!(ends.len(), 2, "one at each end of the diameter");
    assert!(ends.iter().all(|(from, _)| *from > RIGHT - 3.0), "{ends:?}");
    let line_widths = ends.iter().map(|(_, to)| (to - DIMENSION_X) / THIN.width);
    assert!(line_widths.into_iter().all(|n| (4.0..=10.0).contains(&n)), "{ends:?}");
    // Two filled arrow heads of three corners on the diameter, two on the length.
    let heads = doc
        .descendants()
        .filter(|n| n.has_tag_name("polygon") && n.attribute("fill") == Some(INK))
        .filter(|n| places(n).len() == 3)
        .count();
    assert_eq!(heads, 4);
}

#[test]
fn insides_are_hatched_and_outsides_are_not() {
    let hatched = |shape| {
        let p = machine_sketch(&sketch(shape)).expect("drawn");
        count(&p, "line")
    };
    assert!(hatched(SketchShape::Bore) > hatched(SketchShape::Pin) + 10);
    assert!(hatched(SketchShape::Gap) > hatched(SketchShape::Thickness) + 10);
}

#[test]
fn endless_words_are_cut_and_no_size_is_refused() {
    let long = "m".repeat(4000);
    for shape in SHAPES {
        let s = MachineSketch {
            title: long.clone(),
            metric: long.clone(),
            imperial: long.clone(),
            length: Some(long.clone()),
            notes: vec![long.clone()],
            shape,
        };
        check(&machine_sketch(&s).expect("drawn"));
    }
    let none =
        MachineSketch { metric: String::new(), imperial: String::new(), ..sketch(SHAPES[0]) };
    assert!(matches!(machine_sketch(&none), Err(DrawingError::Nothing { .. })));
}
