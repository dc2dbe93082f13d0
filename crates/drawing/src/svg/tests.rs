use super::*;
use proptest::prelude::*;

#[test]
fn writes_plain_attributes_with_short_numbers() {
    let mut svg = Svg::new(100.0, 50.0);
    svg.line((0.0, 1.0 / 3.0), (-0.001, 10.0), Pen::ink(0.5));
    let p = svg.finish("a line", "one line").expect("finite");
    assert!(p.svg.contains("y1=\"0.33\" x2=\"0\""), "{}", p.svg);
    assert!(p.svg.starts_with("<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\""));
    assert!(p.svg.contains("viewBox=\"0 0 100 50\""));
    assert_eq!(p.description, "one line");
}

#[test]
fn a_place_that_is_not_finite_is_no_picture() {
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e300] {
        let mut svg = Svg::new(100.0, 50.0);
        svg.circle((bad, 3.0), 2.0, Fill::None, Some(Pen::ink(1.0)));
        assert!(matches!(svg.finish("t", ""), Err(DrawingError::NotFinite { .. })), "{bad}");
    }
}

#[test]
fn arrow_heads_are_slender_and_point_where_told() {
    // ISO 129-1 (from memory): closed filled arrow heads have an included angle of about 15
    // degrees at least and 30 at most.
    let [tip, a, b] = arrow_head((10.0, 0.0), (2.0, 0.0), 6.0);
    assert_eq!(tip, (10.0, 0.0));
    assert!(a.0 < tip.0 && b.0 < tip.0, "the base lies behind the tip");
    let half = (a.1.abs() / (tip.0 - a.0)).atan().to_degrees();
    assert!((15.0..=30.0).contains(&(2.0 * half)), "{half}");
}

#[test]
fn hatching_stays_in_its_rectangle_and_joins_up() {
    let mut svg = Svg::new(100.0, 100.0);
    svg.hatch((20.0, 30.0), 40.0, 10.0, 3.0, Pen::ink(0.4));
    let p = svg.finish("t", "").expect("finite");
    let doc = roxmltree::Document::parse(&p.svg).expect("well formed");
    let mut lines = 0;
    for line in doc.descendants().filter(|n| n.has_tag_name("line")) {
        let get = |a: &str| -> f64 { line.attribute(a).and_then(|v| v.parse().ok()).expect(a) };
        for x in [get("x1"), get("x2")] {
            assert!((19.99..=60.01).contains(&x), "{x}");
        }
        for y in [get("y1"), get("y2")] {
            assert!((29.99..=40.01).contains(&y), "{y}");
        }
        if (get("x2") - get("x1")).abs() < 0.5 {
            continue; // a corner cut off: two decimals do not tell its slope
        }
        let slope = (get("y2") - get("y1")) / (get("x2") - get("x1"));
        assert!((slope + 1.0).abs() < 0.05, "rises to the right at 45 degrees: {slope}");
        // Where it would cross the left edge of the sheet is a multiple of the spacing.
        let crossing = (get("x1") + get("y1")) / (3.0 * std::f64::consts::SQRT_2);
        assert!((crossing - crossing.round()).abs() < 0.02, "{crossing}");
        lines += 1;
    }
    // Sides of 40 and 10 take some 50 / (3 sqrt 2) = 11.8 lines.
    assert!((10..=12).contains(&lines), "{lines}");
}

proptest! {
    // XML 1.0 (fifth edition), 2.2 and 2.4: what any reader must take, read back by a reader that
    // is not ours.
    #[test]
    fn any_text_comes_back_from_an_xml_reader(text in "\\PC{0,40}") {
        let mut svg = Svg::new(100.0, 50.0);
        svg.text((1.0, 1.0), &text, Lettering::new(7.0));
        let p = svg.finish(&text, &text).expect("finite");
        let doc = roxmltree::Document::parse(&p.svg).expect("well formed");
        let back = doc.descendants().find(|n| n.has_tag_name("text")).and_then(|n| n.text());
        prop_assert_eq!(back.unwrap_or(""), text);
    }

    #[test]
    fn control_characters_do_no_harm(text in any::<String>()) {
        let mut svg = Svg::new(100.0, 50.0);
        svg.text((1.0, 1.0), &text, Lettering::new(7.0));
        let p = svg.finish(&text, &text).expect("finite");
        prop_assert!(roxmltree::Document::parse(&p.svg).is_ok());
    }
}
