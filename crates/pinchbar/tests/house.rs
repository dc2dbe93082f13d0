//! The rules of the house: which crate may know which, and that the map names them all.

use serde_json::Value;
use std::path::Path;
use std::process::Command;

/// Crate, and those of ours it may depend on.
const EDGES: &[(&str, &[&str])] = &[
    ("quantity", &[]),
    ("mechanics", &["quantity"]),
    ("engine", &["mechanics", "quantity", "sequence"]),
    ("book", &["engine"]),
    ("drawing", &["mechanics"]),
    ("sequence", &[]),
    ("paper", &["drawing", "engine", "mechanics", "quantity"]),
    ("dossier", &["book", "engine", "paper"]),
    ("bench", &["book", "dossier", "drawing", "engine", "mechanics", "paper", "quantity"]),
    (
        "pinchbar",
        &["bench", "book", "dossier", "drawing", "engine", "mechanics", "paper", "quantity"],
    ),
];

#[test]
fn dependencies_point_down_only() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let out = Command::new(env!("CARGO"))
        .args(["metadata", "--no-deps", "--format-version", "1", "--offline"])
        .current_dir(&root)
        .output()
        .expect("cargo runs");
    let metadata: Value = serde_json::from_slice(&out.stdout).expect("metadata is JSON");
    let map = std::fs::read_to_string(root.join("ARCHITECTURE.md")).expect("the map is there");
    for package in metadata["packages"].as_array().expect("packages") {
        let name = package["name"].as_str().expect("a name");
        let (_, allowed) = EDGES.iter().find(|(n, _)| *n == name).unwrap_or_else(|| {
            panic!("crate {name} has no place in the house; add it to the map and here")
        });
        assert!(map.contains(&format!("| `{name}` |")), "ARCHITECTURE.md does not name {name}");
        for dependency in package["dependencies"].as_array().expect("dependencies") {
            let on = dependency["name"].as_str().expect("a name");
            if EDGES.iter().any(|(n, _)| *n == on) {
                assert!(allowed.contains(&on), "{name} must not depend on {on}");
            }
        }
    }
}
