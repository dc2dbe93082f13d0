//! From what was typed or scanned to features: a tag, a part, a joint, a feature, or words.

use crate::snapshot::Snapshot;
use engine::model::{Engine, FeatureIx};
use engine::view::{features_of_joint, features_of_part};

/// What was meant.
#[derive(Debug)]
pub(crate) struct Meant {
    /// Tag code, when a tag was given.
    pub(crate) tag: String,
    /// Name of the part, joint or feature.
    pub(crate) name: String,
    /// Its features, in the order to gauge them.
    pub(crate) features: Vec<FeatureIx>,
}

/// From a tag's code, or the id of a part, joint or feature.
pub(crate) fn meant(snap: &Snapshot, engine: &Engine, what: &str) -> Option<Meant> {
    let what = what.trim();
    if let Some(ix) = engine.feature_by_id(what) {
        let name = engine.feature(ix).id.clone();
        return Some(Meant { tag: String::new(), name, features: vec![ix] });
    }
    if let Some(ix) = engine.joint_by_id(what) {
        let joint = engine.joint(ix);
        let name = joint.name.clone();
        return Some(Meant {
            tag: String::new(),
            name,
            features: features_of_joint(engine, joint),
        });
    }
    let (part, tag) = match snap.fold.thing(what) {
        Ok((name, thing)) => (name.to_owned(), thing.tag.clone().unwrap_or_default()),
        Err(_) => (what.to_owned(), String::new()),
    };
    let ix = engine.part_by_id(&part)?;
    let described = &engine.parts[ix.index()].name;
    let name = if described.is_empty() { &part } else { described };
    Some(Meant { tag, name: name.clone(), features: features_of_part(engine, ix) })
}

/// Features in whose names every word stands.
pub(crate) fn search(engine: &Engine, words: &str) -> Vec<FeatureIx> {
    let words: Vec<String> = words.split_whitespace().map(str::to_lowercase).collect();
    let found = engine.features.iter().filter(|f| {
        let part = engine.parts.get(f.part.index()).map_or("", |p| p.name.as_str());
        let text = format!("{} {} {part} {}", f.id, f.name, f.kind.word()).to_lowercase();
        words.iter().all(|w| text.contains(w))
    });
    found.filter_map(|f| engine.feature_by_id(&f.id)).collect()
}
