//! From a name or a code to its page.

use super::sign_in::see;
use crate::layout::Page;
use crate::marks::encoded;
use crate::trouble::Trouble;
use crate::visit::Visit;
use axum::extract::Path;
use axum::response::Response;
use maud::html;

/// What may be found by its words, and shown before the rest are counted.
const MOST: usize = 40;

/// Finds a part, a tag or a joint: straight to it when there is one, else what comes near.
pub(crate) async fn find(visit: Visit) -> Result<Response, Trouble> {
    let what = visit.asked.get("what").to_owned();
    if let Some(address) = exactly(&visit, &what) {
        return Ok(see(&address));
    }
    let near = near(&visit, &what);
    if let [(address, _)] = near.as_slice() {
        return Ok(see(address));
    }
    let page = Page {
        title: "Find".to_owned(),
        holding: html! { h1 { "Find: " (what) } },
        knowing: html! {
            @if near.is_empty() { p.large { "Nothing has that in its name." } }
            ul.ways { @for (address, name) in near.iter().take(MOST) { li { a href=(address) { (name) } } } }
            @if MOST < near.len() { p.quiet { "And " (near.len() - MOST) " more; say more of the name." } }
        },
        doing: html! {
            (super::home::find())
            p { a href={ "/book?find=" (encoded(&what)) } { "Look for it in the book" } }
        },
    };
    Ok(page.answer(&visit))
}

fn exactly(visit: &Visit, what: &str) -> Option<String> {
    let engine = visit.snap.engine.as_ref().ok()?.judgement.engine();
    if engine.joint_by_id(what).is_some() {
        return Some(format!("/joint/{}", encoded(what)));
    }
    if engine.chain_by_id(what).is_some() {
        return Some(format!("/chain/{}", encoded(what)));
    }
    if let Some(feature) = engine.feature_by_id(what) {
        let feature = engine.feature(feature);
        return Some(match feature.in_joints.first() {
            Some(joint) => format!("/joint/{}", encoded(&engine.joint(*joint).id)),
            None => format!("/part/{}", encoded(&engine.parts[feature.part.index()].id)),
        });
    }
    if engine.parts.iter().any(|p| p.id == what) {
        return Some(format!("/part/{}", encoded(what)));
    }
    let (name, _) = visit.snap.fold.thing(what).ok()?;
    Some(format!("/part/{}", encoded(name)))
}

/// Everything whose id or name has all the words.
fn near(visit: &Visit, what: &str) -> Vec<(String, String)> {
    let words: Vec<String> = what.split_whitespace().map(str::to_lowercase).collect();
    let Ok(judged) = visit.snap.engine.as_ref() else { return Vec::new() };
    if words.is_empty() {
        return Vec::new();
    }
    let engine = judged.judgement.engine();
    let has = |id: &str, name: &str| {
        let text = format!("{id} {name}").to_lowercase();
        words.iter().all(|w| text.contains(w.as_str()))
    };
    let said = |id: &str, name: &str| if name.is_empty() { id.to_owned() } else { name.to_owned() };
    let joints = engine.joints.iter().filter(|j| has(&j.id, &j.name)).map(|j| {
        (format!("/joint/{}", encoded(&j.id)), format!("joint: {}", said(&j.id, &j.name)))
    });
    let parts =
        engine.parts.iter().filter(|p| has(&p.id, &p.name)).map(|p| {
            (format!("/part/{}", encoded(&p.id)), format!("part: {}", said(&p.id, &p.name)))
        });
    let chains = engine.chains.iter().filter(|c| has(&c.id, &c.name)).map(|c| {
        (format!("/chain/{}", encoded(&c.id)), format!("distance: {}", said(&c.id, &c.name)))
    });
    joints.chain(parts).chain(chains).collect()
}

/// What hangs on a tag.
pub(crate) async fn tag(visit: Visit, Path(code): Path<String>) -> Result<Response, Trouble> {
    let tag = book::Tag::parse(&code)?;
    match visit.snap.fold.thing(tag.code()) {
        Ok((part, _)) => Ok(see(&format!("/part/{}", encoded(part)))),
        Err(_) => Err(Trouble::missing(
            format!("tag {tag} hangs on nothing that the book knows of"),
            "tie it to a part on the part's page",
        )),
    }
}

/// What a code on a sheet names: a part, a joint or a feature.
pub(crate) async fn thing(visit: Visit, Path(what): Path<String>) -> Result<Response, Trouble> {
    match exactly(&visit, &what) {
        Some(address) => Ok(see(&address)),
        None => Err(Trouble::missing(
            format!("nothing of this engine is called \"{what}\""),
            "look for it from the engine's page",
        )),
    }
}
