//! A part: its tag and place, its photographs, its features, what the book says of it.

use super::sign_in::local;
use crate::layout::{Page, token};
use crate::marks::{encoded, figure_or_dash, verdict};
use crate::pieces::{ANY_ROLE, for_roles, history, line, photographs, remark, saying, table};
use crate::posted::Uploaded;
use crate::trouble::Trouble;
use crate::visit::Visit;
use axum::extract::Path;
use axum::response::Response;
use book::{AttachedWords, Attachment, Location, Role};
use engine::model::{Condition, Engine, FeatureIx};
use engine::view::feature_view;
use maud::{Markup, html};

/// The place of a part that is on the engine.
const ON_THE_ENGINE: &str = "engine";

/// All parts.
pub(crate) async fn parts(visit: Visit) -> Result<Response, Trouble> {
    let engine = visit.judged()?.clone();
    let engine = engine.judgement.engine();
    let fold = &visit.snap.fold;
    let off = visit.asked.ticked("off");
    let place = |id: &str| {
        fold.thing(id).ok().and_then(|(_, t)| t.standing.as_ref()).map(|s| s.place.as_str())
    };
    let page = Page {
        title: "Parts".to_owned(),
        holding: html! {
            h1 { "Parts" }
            p { (engine.parts.len()) " parts, " (fold.never_went_back().count()) " things off the engine" }
        },
        knowing: table(
            "Parts",
            &["part", "tag", "where"],
            &html! {
                @for p in engine.parts.iter().filter(|p| !off || place(&p.id).is_some_and(|x| x != ON_THE_ENGINE)) {
                    tr {
                        td { a href={ "/part/" (encoded(&p.id)) } { (if p.name.is_empty() { &p.id } else { &p.name }) } }
                        td { @if let Ok((_, t)) = fold.thing(&p.id) { @if let Some(tag) = &t.tag { code.tag { (tag) } } } }
                        td { (place(&p.id).unwrap_or("not told")) }
                    }
                }
            },
        ),
        doing: html! {
            (super::home::find())
            ul.ways {
                @if fold.things().any(|(_, t)| t.tag.is_some()) { li { a href="/paper" { "Tags, to print" } } }
                @if off { li { a href="/parts" { "All parts" } } } @else { li { a href="/parts?off=yes" { "Only what is off the engine" } } }
                @for place in places(&visit) { li { a href={ "/part/" (encoded(&place)) } { "In " (place) } } }
            }
        },
    };
    Ok(page.answer(&visit))
}

/// Everything that something lies in.
fn places(visit: &Visit) -> Vec<String> {
    let mut all: Vec<String> = visit
        .snap
        .fold
        .things()
        .filter_map(|(_, t)| t.standing.as_ref().map(|s| s.place.clone()))
        .filter(|p| p != ON_THE_ENGINE)
        .collect();
    all.sort();
    all.dedup();
    all
}

/// Where a thing is, outward.
pub(crate) fn whereabouts(visit: &Visit, name: &str) -> Markup {
    let fold = &visit.snap.fold;
    let tag = fold.thing(name).ok().and_then(|(_, t)| t.tag.as_deref());
    let way = fold.whereabouts(name).unwrap_or_default();
    html! {
        @if let Some(tag) = tag { br; "tag " code.tag { (tag) } }
        @if let Some(first) = way.first() {
            br; "in " @for (n, s) in way.iter().enumerate() { @if 0 < n { ", in " } (s.place) }
            span.quiet { " (" (first.by) ", " (crate::pieces::time(&first.when)) ")" }
        }
    }
}

/// A part, or a place or tin that something lies in.
pub(crate) async fn part(visit: Visit, Path(id): Path<String>) -> Result<Response, Trouble> {
    let judged = visit.judged()?.clone();
    let engine = judged.judgement.engine();
    let at = engine.parts.iter().position(|p| p.id == id);
    let inside: Vec<&str> = visit.snap.fold.inside(&id).map(|(n, _)| n).collect();
    if at.is_none() && inside.is_empty() && visit.snap.fold.thing(&id).is_err() {
        return Err(Trouble::missing(
            format!("there is no part \"{id}\", and nothing lies in a place of that name"),
            "look for it from the engine's page",
        ));
    }
    let features: Vec<FeatureIx> = engine
        .features
        .iter()
        .filter(|f| at.is_some_and(|at| f.part.index() == at))
        .filter_map(|f| engine.feature_by_id(&f.id))
        .collect();
    let name = at.map(|at| engine.parts[at].name.as_str()).filter(|n| !n.is_empty()).unwrap_or(&id);
    let page = Page {
        title: name.to_owned(),
        holding: html! {
            h1 { (name) }
            p { code { (id) } (whereabouts(&visit, &id)) }
            @if let Some(at) = at { (around(engine, at)) }
        },
        knowing: html! {
            (photographs(&visit, &id))
            @if !inside.is_empty() {
                h2 { "In it lie" }
                ul.ways { @for name in &inside { li { a href={ "/part/" (encoded(name)) } { (name) } } } }
            }
            @if !features.is_empty() {
                h2 { "Its surfaces" }
                (table("Surfaces", &["surface", "size, and as made", "joints"], &html! {
                    @for f in &features {
                        @let view = feature_view(&judged.judgement, *f);
                        tr {
                            td { (if view.name.is_empty() { &view.id } else { &view.name }) @if let Some(c) = view.condition { br; b { "found " (c) } } }
                            td { (figure_or_dash(visit.units, view.size.as_ref())) br; (figure_or_dash(visit.units, view.as_made.as_ref())) }
                            td { @for j in &engine.feature(*f).in_joints {
                                a href={ "/joint/" (encoded(&engine.joint(*j).id)) } { (verdict(judged.judgement.joint(*j).verdict.word())) " " (engine.joint(*j).id) } br;
                            } }
                        }
                    }
                }))
            }
            (history(&visit, &id))
        },
        doing: doing(&visit, engine, &id, &features, at.is_some()),
    };
    Ok(page.answer(&visit))
}

/// The part it belongs to, and the parts that belong to it.
fn around(engine: &Engine, at: usize) -> Markup {
    let part = &engine.parts[at];
    let name = |n: usize| {
        let p = &engine.parts[n];
        if p.name.is_empty() { &p.id } else { &p.name }
    };
    let within: Vec<usize> = (0..engine.parts.len())
        .filter(|n| engine.parts[*n].inside.is_some_and(|i| i.index() == at))
        .collect();
    html! {
        dl.facts {
            @if let Some(mass) = &part.mass { dt { "mass" } dd { (mass.text()) } }
            @if let Some(i) = part.inside { dt { "belongs to" } dd { a href={ "/part/" (encoded(&engine.parts[i.index()].id)) } { (name(i.index())) } } }
        }
        @if !within.is_empty() {
            details { summary { "Belonging to it: " (within.len()) }
                ul.ways { @for n in within { li { a href={ "/part/" (encoded(&engine.parts[n].id)) } { (name(n)) } } } }
            }
        }
    }
}

fn doing(
    visit: &Visit,
    engine: &Engine,
    id: &str,
    features: &[FeatureIx],
    is_part: bool,
) -> Markup {
    let here = visit.uri.path();
    let movers = &[Role::Fits, Role::Records, Role::Responsible];
    let tagged = visit.snap.fold.thing(id).is_ok_and(|(_, t)| t.tag.is_some());
    html! {
        h2 { "Put it somewhere" }
        (for_roles(visit, movers, || html! {
            (saying(visit, "moved", here, &html! {
                input type="hidden" name="thing" value=(id);
                label for="to" { "Where it goes" }
                input #to name="to" list="places" required autocomplete="off";
                datalist #places { option value=(ON_THE_ENGINE) {} @for p in places(visit) { option value=(p) {} } }
                button.main { "It is there" }
            }))
            (saying(visit, "moved", here, &html! {
                input type="hidden" name="thing" value=(id);
                input type="hidden" name="to" value=(ON_THE_ENGINE);
                button { "It is back on the engine" }
            }))
            @if is_part {
                details {
                    summary { @if tagged { "Another tag" } @else { "Tie a tag to it" } }
                    (saying(visit, "tagged", here, &html! {
                        input type="hidden" name="part" value=(id);
                        (line("tag", "tag", "Code on the tag", visit.snap.fold.free_tag().code(), true))
                        button { "It has this tag" }
                    }))
                }
            }
        }))
        @if crate::pieces::has(visit, ANY_ROLE) {
            details {
                summary { "Add a photograph or drawing" }
                form.stack method="post" action="/photograph" enctype="multipart/form-data" {
                    (token(visit))
                    input type="hidden" name="key" value=(crate::pieces::key());
                    input type="hidden" name="about" value=(id);
                    input type="hidden" name="then" value=(here);
                    label for="file" { "JPEG, PNG or PDF, at most 64 MiB" }
                    input #file name="file" type="file" accept="image/jpeg,image/png,application/pdf" required;
                    (line("photo-note", "note", "What it shows", "", false))
                    p.quiet { "Place, time and owner that the camera wrote into a photograph are taken out." }
                    button { "Add it" }
                }
            }
            @if is_part {
                details {
                    summary { "A condition found" }
                    (saying(visit, "found", here, &html! {
                        input type="hidden" name="part" value=(id);
                        label for="feature" { "Surface" }
                        select #feature name="feature" {
                            option value="" { "the part as a whole" }
                            @for f in features { option { (engine.feature(*f).id) } }
                        }
                        label for="condition" { "Condition" }
                        select #condition name="condition" { @for c in Condition::ALL { option { (c.word()) } } }
                        (line("found-note", "note", "In your words", "", false))
                        button { "Write it in the book" }
                    }))
                }
            }
        }
        @if is_part {
            ul.ways {
                @if !features.is_empty() { li { a href={ "/paper/gauge/" (encoded(id)) ".pdf" } { "Blank gauge sheet, to print" } } }
            }
            @if tagged || engine.parts.iter().any(|p| p.id == id && p.tag.is_some()) { (super::paper::tag_links(id)) }
        }
        (super::joint::work(visit, id))
        (remark(visit, id))
    }
}

/// Takes a photograph or drawing.
pub(crate) async fn attach(uploaded: Uploaded) -> Result<Response, Trouble> {
    let Uploaded { visit, fields, file } = uploaded;
    let session = visit.who.as_ref().ok_or(Trouble::SignIn)?;
    let pen = session.pen.at(&visit.bench.time())?;
    let (name, bytes) =
        file.ok_or_else(|| Trouble::wrong("no file was chosen", "choose one and send it again"))?;
    let attachment =
        crate::state::spawn(move || Attachment::of(&bytes, Location::TakenOut)).await??;
    let about = fields.wanted("about", "what it shows")?;
    // Only the last piece of a name, and only to be read: nothing is ever opened by it.
    let name = name.rsplit(['/', '\\']).next().unwrap_or("").chars().take(120).collect();
    let words = AttachedWords { about, name, note: fields.get("note").to_owned() };
    let key = fields.get("key").to_owned();
    let written = visit
        .bench
        .write(move |book| match key.as_str() {
            "" => book.attach(&pen, &attachment, words),
            key => book.attach_once(&pen, key, &attachment, words).map(|(written, _)| written),
        })
        .await?;
    let then = local(fields.get("then"));
    Ok(super::sign_in::see(&format!("{then}?written={}", written.sequence)))
}
