//! The words of an engine's tags.

use book::Fold;
use engine::model::Engine;
use paper::TagWords;

/// Tags of every part and of everything else that has one: the codes of the book where there is
/// one, else those of the description. Parts without a code are in the list, with an empty one.
pub fn tags(fold: Option<&Fold>, engine: Option<&Engine>) -> Vec<TagWords> {
    let mut all: Vec<TagWords> = engine
        .map(|engine| {
            let one = |p: &engine::model::Part| TagWords {
                code: p.tag.clone().unwrap_or_default(),
                part: p.id.clone(),
                name: p.name.clone(),
                side: p.side.clone(),
                engine: engine.name.clone(),
            };
            engine.parts.iter().map(one).collect()
        })
        .unwrap_or_default();
    let Some(fold) = fold else { return all };
    for (name, thing) in fold.things() {
        let Some(code) = &thing.tag else { continue };
        match all.iter_mut().find(|t| t.part == name) {
            Some(known) => known.code.clone_from(code),
            None => all.push(TagWords {
                code: code.clone(),
                part: name.to_owned(),
                engine: fold.name().to_owned(),
                ..TagWords::default()
            }),
        }
    }
    all
}
