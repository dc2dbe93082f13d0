use super::*;
use crate::check::{check, count, places};
use crate::svg::OUT;
use proptest::prelude::*;

fn bar(least: Option<f64>, most: Option<f64>, value: f64, verdict: Verdict) -> LimitBar {
    let mark = |mm: f64| Mark { at_m: mm * 1e-3, text: format!("{mm:.3} mm") };
    LimitBar {
        name: "clearance in service".into(),
        least: least.map(mark),
        most: most.map(mark),
        as_made: None,
        guard_m: 0.02e-3,
        value: Some(mark(value)),
        expanded_m: 0.024e-3,
        verdict,
    }
}

/// Middle of the diamond and the heavy lines of the limits.
fn diamond_and_limits(p: &Picture) -> (f64, Vec<f64>) {
    let doc = roxmltree::Document::parse(&p.svg).expect("well formed");
    let diamond = doc
        .descendants()
        .filter(|n| n.has_tag_name("polygon"))
        .map(|n| places(&n))
        .find(|p| p.len() == 4)
        .expect("a diamond");
    let limits = doc
        .descendants()
        .filter(|n| n.has_tag_name("line") && n.attribute("stroke-width") == Some("1.6"))
        .map(|n| places(&n)[0].0)
        .collect();
    (diamond[0].0, limits)
}

#[test]
fn the_figure_stands_on_its_side_of_the_limit() {
    for (value, verdict, beyond) in [
        (0.22, Verdict::Within, false),
        (0.47, Verdict::Near, false),
        (0.49, Verdict::CannotTell, false),
        (0.61, Verdict::Beyond, true),
    ] {
        let p = limit_bar(&bar(None, Some(0.5), value, verdict)).expect("drawn");
        let texts = check(&p);
        assert!(texts.iter().any(|t| t == verdict.word()), "{texts:?}");
        assert_eq!(p.svg.contains(OUT), beyond, "the one colour for beyond only");
        let (at, limits) = diamond_and_limits(&p);
        assert_eq!(limits.len(), 1);
        assert_eq!(at > limits[0], value > 0.5, "{value}");
    }
}

#[test]
fn guard_bands_are_hatched_on_both_sides_of_each_limit() {
    let p = limit_bar(&bar(Some(0.1), Some(0.5), 0.3, Verdict::Within)).expect("drawn");
    let doc = roxmltree::Document::parse(&p.svg).expect("well formed");
    let (_, limits) = diamond_and_limits(&p);
    assert_eq!(limits.len(), 2);
    let hatches: Vec<f64> = doc
        .descendants()
        .filter(|n| n.has_tag_name("line") && n.attribute("stroke-width") == Some("0.45"))
        .flat_map(|n| places(&n))
        .map(|p| p.0)
        .collect();
    // Scale from the two limits: 0.4 mm apart; the guard band is 0.02 mm either side.
    let guard = 0.02 / 0.4 * (limits[1] - limits[0]);
    for x in &hatches {
        assert!(limits.iter().any(|l| (x - l).abs() <= guard + 0.05), "{x} {limits:?} {guard}");
    }
    for l in &limits {
        assert!(hatches.iter().any(|x| x < l) && hatches.iter().any(|x| x > l));
    }
    assert_eq!(count(&p, "rect"), 3, "paper and two grey ends");
}

#[test]
fn labels_of_close_limits_do_not_run_together() {
    let mut b = bar(Some(0.299), Some(0.301), 0.6, Verdict::Beyond);
    b.as_made = Some(Mark { at_m: 0.3e-3, text: "0.300 mm".into() });
    let p = limit_bar(&b).expect("drawn");
    let doc = roxmltree::Document::parse(&p.svg).expect("well formed");
    let mut spans: Vec<(f64, f64)> = doc
        .descendants()
        .filter(|n| n.has_tag_name("text") && n.attribute("font-size") == Some("6.8"))
        .map(|n| {
            let x: f64 = n.attribute("x").and_then(|v| v.parse().ok()).expect("x");
            (x, x + Lettering::new(6.8).width(n.text().unwrap_or("")))
        })
        .collect();
    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
    assert!(spans.len() >= 2);
    assert!(spans.windows(2).all(|w| w[0].1 < w[1].0), "{spans:?}");
}

#[test]
fn nonsense_is_refused() {
    let good = bar(Some(0.1), Some(0.5), 0.3, Verdict::Within);
    let none = LimitBar { least: None, most: None, ..good.clone() };
    assert!(matches!(limit_bar(&none), Err(DrawingError::Nothing { .. })));
    assert!(limit_bar(&bar(Some(0.5), Some(0.1), 0.3, Verdict::Within)).is_err(), "crossed");
    assert!(limit_bar(&LimitBar { guard_m: -1.0, ..good.clone() }).is_err());
    assert!(limit_bar(&LimitBar { expanded_m: f64::NAN, ..good.clone() }).is_err());
    assert!(limit_bar(&bar(None, Some(f64::INFINITY), 0.3, Verdict::Within)).is_err());
    let no_value = LimitBar { value: None, ..good };
    check(&limit_bar(&no_value).expect("drawn without a figure"));
}

proptest! {
    #[test]
    fn whatever_is_judged_stays_on_the_sheet(
        least in prop::option::of(-1000.0f64..1000.0),
        width in 0.0f64..1000.0,
        value in -3000.0f64..3000.0,
        guard in 0.0f64..100.0,
        text in "\\PC{0,90}",
    ) {
        let most = least.map_or(width, |l| l + width);
        let mut b = bar(least, Some(most), value, Verdict::CannotTell);
        b.guard_m = guard * 1e-3;
        b.expanded_m = guard * 2e-3;
        b.name = text.clone();
        b.as_made = Some(Mark { at_m: 0.0, text: text.clone() });
        if let Some(m) = &mut b.most { m.text = text; }
        check(&limit_bar(&b).expect("drawn"));
    }
}
