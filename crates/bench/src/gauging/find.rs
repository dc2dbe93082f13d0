//! From what was typed or scanned to features: a tag, a part, a joint, a feature, or words.

use crate::snapshot::Snapshot;
use engine::model::{Engine, FeatureIx, Joint};

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
        return Some(Meant { tag: String::new(), name, features: of_joint(engine, joint) });
    }
    let (part, tag) = match snap.fold.thing(what) {
        Ok((name, thing)) => (name.to_owned(), thing.tag.clone().unwrap_or_default()),
        Err(_) => (what.to_owned(), String::new()),
    };
    let at = engine.parts.iter().position(|p| p.id == part)?;
    let name = if engine.parts[at].name.is_empty() { &part } else { &engine.parts[at].name };
    Some(Meant { tag, name: name.clone(), features: of_part(engine, at) })
}

fn of_part(engine: &Engine, part: usize) -> Vec<FeatureIx> {
    let on_it = engine.features.iter().filter(|f| f.part.index() == part);
    on_it.filter_map(|f| engine.feature_by_id(&f.id)).collect()
}

/// Each part's together: a person stays at a part until it is done.
fn of_joint(engine: &Engine, joint: &Joint) -> Vec<FeatureIx> {
    let mut found = vec![joint.inner, joint.outer];
    for ix in [joint.inner, joint.outer] {
        found.extend(engine.feature(ix).halves.iter().copied());
    }
    found.extend(joint.fills.iter().copied());
    found.extend(joint.stand.map(|s| s.feature));
    let mut parts = Vec::new();
    let mut once: Vec<FeatureIx> = Vec::new();
    for ix in found {
        let part = engine.feature(ix).part;
        if !parts.contains(&part) {
            parts.push(part);
        }
        if !once.contains(&ix) {
            once.push(ix);
        }
    }
    once.sort_by_key(|ix| parts.iter().position(|p| *p == engine.feature(*ix).part));
    once
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
