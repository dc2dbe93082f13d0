//! What was planted in the demo engines is found, named, and little else beside it.

use crate::demo_readings::{GOODS, NARROW};
use crate::{demo_folder, judged};
use engine::view;
use serde::Deserialize;

#[derive(Deserialize)]
struct PlantedFile {
    planted: Vec<Planted>,
}

#[derive(Deserialize)]
struct Planted {
    engine: String,
    id: String,
    list: String,
    at: String,
    says: Vec<String>,
}

fn planted() -> Vec<Planted> {
    let text = std::fs::read_to_string(demo_folder().join("planted.toml")).expect("readable");
    toml::from_str::<PlantedFile>(&text).expect("TOML").planted
}

#[test]
fn everything_planted_is_found_and_named() {
    let planted = planted();
    assert!(planted.len() >= 12);
    for demo in [GOODS, NARROW] {
        let summary = serde_json::to_value(view::summary(&judged(&demo))).expect("JSON");
        for p in planted.iter().filter(|p| p.engine == demo.folder) {
            let list = summary[&p.list].as_array().unwrap_or_else(|| panic!("no {}", p.list));
            let says = |entry: &serde_json::Value| {
                let text = entry.to_string();
                let named = entry
                    .as_object()
                    .is_some_and(|o| o.values().any(|v| v.as_str() == Some(p.at.as_str())));
                // Quotation marks in `says` are JSON's own: a field and its value.
                named && p.says.iter().all(|s| text.contains(s))
            };
            let found = list.iter().filter(|e| says(e)).count();
            assert!(found >= 1, "{}: {} of {} says not {:?}", p.id, p.at, p.list, p.says);
        }
    }
}

#[test]
fn little_else_looks_suspicious() {
    let planted = planted();
    for demo in [GOODS, NARROW] {
        let summary = view::summary(&judged(&demo));
        let of_readings: Vec<&str> = planted
            .iter()
            .filter(|p| p.engine == demo.folder && p.list == "suspicious")
            .map(|p| p.at.as_str())
            .chain(["coupling-pin.left.driving"])
            .collect();
        let others: Vec<_> = summary
            .suspicious
            .iter()
            .filter(|s| !of_readings.contains(&s.feature.as_str()))
            .map(|s| (&s.feature, &s.text, &s.why))
            .collect();
        // One in some thousand readings may look odd by chance.
        assert!(others.len() <= 2, "{others:?}");
        let swaps = summary.swaps.len();
        assert_eq!(swaps, usize::from(demo.folder == "goods"), "{:?}", summary.swaps);
    }
}
