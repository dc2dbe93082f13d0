//! Asking.

use super::write::bearer;
use crate::pages::{paper, works};
use crate::state::{Bench, Reach, spawn};
use crate::trouble::Trouble;
use crate::visit::Visit;
use axum::extract::{FromRequestParts, Path};
use axum::http::header::CONTENT_TYPE;
use axum::http::request::Parts;
use axum::response::{IntoResponse, Response};
use book::Hash;
use engine::design::{DesignError, design as design_joint};
use engine::repair::{Scope, Trial, machine_to_within, parse_act};
use engine::view::{
    bring_view, chain_view, design_view, feature_view, machine_to_view, position_view, trial_view,
};
use serde::Serialize;
use serde_json::{Value, json};

/// Entries in one answer.
const MOST: usize = 200;

/// A visit by a program: with a device's token, or on this machine.
pub(super) struct Asks(pub(super) Visit);

impl FromRequestParts<Bench> for Asks {
    type Rejection = Trouble;

    async fn from_request_parts(parts: &mut Parts, bench: &Bench) -> Result<Asks, Trouble> {
        let visit = Visit::of(bench, parts).await?;
        // A token that is shown must be right even where none is needed.
        let shown = bearer(bench, &visit, &parts.headers).await?.is_some();
        if shown || visit.who.is_some() || bench.settings().reach == Reach::ThisMachine {
            Ok(Asks(visit))
        } else {
            Err(Trouble::SignIn)
        }
    }
}

/// JSON as an answer.
pub(super) fn answer(value: &impl Serialize) -> Result<Response, Trouble> {
    let text = serde_json::to_string(value).map_err(|e| Trouble::Inside(e.to_string()))?;
    Ok(([(CONTENT_TYPE, "application/json")], text).into_response())
}

pub(super) async fn engine(Asks(visit): Asks) -> Result<Response, Trouble> {
    let judged = visit.judged()?;
    let not_taken: Vec<Value> = judged
        .not_taken
        .iter()
        .map(|n| json!({ "place": n.place, "what": n.what, "mend": n.mend }))
        .collect();
    let head = visit.snap.head;
    answer(&json!({
        "summary": judged.summary(), "not_taken": not_taken,
        "head": { "entry": head.sequence, "sha256": head.hash.to_string() },
    }))
}

pub(super) async fn joint(Asks(visit): Asks, Path(id): Path<String>) -> Result<Response, Trouble> {
    let judged = visit.judged()?;
    let shown = judged.joint(crate::pages::find_joint(judged, &id)?);
    answer(&json!({ "joint": shown.view, "options": shown.options }))
}

pub(super) async fn design(Asks(visit): Asks, Path(id): Path<String>) -> Result<Response, Trouble> {
    let judged = visit.judged()?.clone();
    let ix = crate::pages::find_joint(&judged, &id)?;
    let with = visit
        .asked
        .all("with")
        .map(|text| {
            let (name, value) = text
                .split_once('=')
                .ok_or_else(|| Trouble::wrong(format!("\"{text}\" has no \"=\""), "load=9 tonf"))?;
            Ok((name.trim().to_owned(), value.trim().to_owned()))
        })
        .collect::<Result<Vec<_>, Trouble>>()?;
    if with.is_empty() {
        return answer(&crate::pages::design_as_it_stands(&visit, ix).await?.view);
    }
    let view = visit
        .bench
        .working_out(move || {
            design_joint(&judged.judgement, ix, &with).map(|d| design_view(&judged.judgement, &d))
        })
        .await?
        .map_err(|e| match e {
            DesignError::WhatIf { what, mend } => Trouble::wrong(what, mend),
            other => Trouble::wrong(other.to_string(), ""),
        })?;
    answer(&view)
}

pub(super) async fn try_acts(Asks(visit): Asks) -> Result<Response, Trouble> {
    let judgement = &visit.judged()?.judgement;
    let acts: Vec<String> = visit.asked.all("act").map(str::to_owned).collect();
    if acts.is_empty() {
        return Err(Trouble::wrong(
            "nothing is to be tried",
            "?act=close big-end.left.bore 8 thou",
        ));
    }
    let mut trial = Trial::default();
    for act in &acts {
        parse_act(judgement, act)
            .and_then(|a| a.lay_on(judgement, &mut trial))
            .map_err(|e| Trouble::wrong(e, ""))?;
    }
    answer(&trial_view(judgement, &acts, &trial.run(judgement)))
}

pub(super) async fn chain(Asks(visit): Asks, Path(id): Path<String>) -> Result<Response, Trouble> {
    let judgement = &visit.judged()?.judgement;
    let ix = judgement
        .engine()
        .chain_by_id(&id)
        .ok_or_else(|| Trouble::missing(format!("there is no chain \"{id}\""), ""))?;
    answer(&chain_view(judgement, ix))
}

fn thing(visit: &Visit, id: &str) -> (Option<String>, Vec<String>) {
    let fold = &visit.snap.fold;
    let tag = fold.thing(id).ok().and_then(|(_, t)| t.tag.clone());
    let way = fold.whereabouts(id).unwrap_or_default().iter().map(|s| s.place.clone()).collect();
    (tag, way)
}

pub(super) async fn parts(Asks(visit): Asks) -> Result<Response, Trouble> {
    let engine = visit.judged()?.judgement.engine();
    let all: Vec<Value> = engine
        .parts
        .iter()
        .map(|p| {
            let (tag, place) = thing(&visit, &p.id);
            json!({ "id": p.id, "name": p.name, "side": p.side, "tag": tag, "place": place })
        })
        .collect();
    answer(&json!({ "parts": all }))
}

pub(super) async fn part(Asks(visit): Asks, Path(id): Path<String>) -> Result<Response, Trouble> {
    let judgement = &visit.judged()?.judgement;
    let engine = judgement.engine();
    let inside: Vec<&str> = visit.snap.fold.inside(&id).map(|(n, _)| n).collect();
    let at = engine.parts.iter().position(|p| p.id == id);
    if at.is_none() && inside.is_empty() && visit.snap.fold.thing(&id).is_err() {
        return Err(Trouble::missing(format!("there is no part \"{id}\""), ""));
    }
    let features: Vec<_> = engine
        .features
        .iter()
        .filter(|f| at.is_some_and(|at| f.part.index() == at))
        .filter_map(|f| engine.feature_by_id(&f.id))
        .map(|ix| feature_view(judgement, ix))
        .collect();
    let (tag, place) = thing(&visit, &id);
    let name = at.map(|at| engine.parts[at].name.as_str());
    answer(&json!({
        "id": id, "name": name, "tag": tag, "place": place, "inside": inside, "features": features,
    }))
}

pub(super) async fn machine_to(Asks(visit): Asks) -> Result<Response, Trouble> {
    let judged = visit.judged()?.clone();
    if !visit.asked.ticked("refit") {
        return answer(judged.machine_to());
    }
    let view = spawn(move || {
        machine_to_view(&judged.judgement, &machine_to_within(&judged.judgement, Scope::Refit))
    })
    .await?;
    answer(&view)
}

pub(super) async fn place(Asks(visit): Asks) -> Result<Response, Trouble> {
    let judgement = &visit.judged()?.judgement;
    let said = crate::pages::position(judgement, visit.asked.get("at"))?;
    let mechanism = engine::motion::Mechanism::of(judgement).map_err(crate::pages::no_answer)?;
    let standing = engine::motion::standing(&mechanism, &said).map_err(crate::pages::no_answer)?;
    answer(&position_view(judgement, &mechanism, &standing))
}

pub(super) async fn bring(Asks(visit): Asks) -> Result<Response, Trouble> {
    let judgement = &visit.judged()?.judgement;
    let (mechanism, found) = crate::pages::brought(
        judgement,
        visit.asked.get("from"),
        visit.asked.get("to"),
        visit.asked.given("doubt"),
    )?;
    answer(&bring_view(judgement, &mechanism, &found))
}

pub(super) async fn clearances(Asks(visit): Asks) -> Result<Response, Trouble> {
    let judged = visit.judged()?.clone();
    let view = spawn(move || judged.clearances().clone()).await?;
    answer(&view)
}

pub(super) async fn gauges(Asks(visit): Asks) -> Result<Response, Trouble> {
    answer(&json!({ "gauges": visit.judged()?.summary().gauges }))
}

pub(super) async fn people(Asks(visit): Asks) -> Result<Response, Trouble> {
    let fold = &visit.snap.fold;
    let people: Vec<Value> = fold
        .people()
        .iter()
        .map(|p| {
            let roles: Vec<&str> = p.roles.iter().map(|r| r.word()).collect();
            json!({ "name": p.name, "roles": roles, "password": !p.password.is_empty() })
        })
        .collect();
    let devices: Vec<Value> = fold
        .devices()
        .iter()
        .map(|d| json!({ "name": d.name, "person": d.person, "until": d.until, "withdrawn": d.withdrawn }))
        .collect();
    answer(&json!({ "people": people, "devices": devices }))
}

pub(super) async fn book(Asks(visit): Asks) -> Result<Response, Trouble> {
    let wanted = crate::pages::Wanted::of(&visit, MOST).await?;
    let entries: Vec<Value> = wanted
        .newest_first(&visit.snap)
        .take(MOST)
        .map(|t| {
            json!({
                "entry": t.sequence, "sha256": t.hash, "time": t.time, "author": t.author,
                "device": t.device, "kind": t.said.kind(), "says": t.said.sentence(),
                "struck_out": visit.snap.fold.struck(t.sequence),
            })
        })
        .collect();
    answer(&json!({ "entries": entries }))
}

pub(super) async fn entry(
    Asks(visit): Asks,
    Path(number): Path<String>,
) -> Result<Response, Trouble> {
    let number: u64 =
        number.parse().map_err(|_| Trouble::missing(format!("there is no entry {number}"), ""))?;
    let (entry, hash) = visit.bench.write(move |book| book.entry(number)).await?;
    let line = entry.line()?;
    let mut value: Value =
        serde_json::from_str(&line).map_err(|e| Trouble::Inside(e.to_string()))?;
    value["sha256"] = json!(hash.to_string());
    value["struck_out"] = json!(visit.snap.fold.struck(number));
    answer(&value)
}

pub(super) async fn verify(Asks(visit): Asks) -> Result<Response, Trouble> {
    let head = visit.asked.given("head").map(Hash::parse).transpose()?;
    let (v, time) = match head {
        Some(head) => {
            let bench = visit.bench.clone();
            let v = visit.bench.write(move |book| book.verify(Some(&head))).await?;
            (v, bench.time())
        }
        None => {
            let known = visit.bench.looked_through(visit.asked.ticked("again")).await?;
            (known.verified.clone(), known.time.clone())
        }
    };
    let faults: Vec<Value> =
        v.faults.iter().map(|f| json!({ "entry": f.sequence, "what": f.what })).collect();
    answer(&json!({
        "whole": v.whole(), "entries": v.entries, "attachments": v.attachments, "head": v.head,
        "time": time, "faults": faults, "not_looked_at": v.not_looked_at,
    }))
}

pub(super) async fn concessions(Asks(visit): Asks) -> Result<Response, Trouble> {
    let today = visit.snap.today;
    let all: Vec<Value> = visit
        .snap
        .fold
        .concessions()
        .iter()
        .map(|c| {
            let holds = today.map_or(c.closed.is_none(), |day| c.holds_on(day));
            json!({
                "about": c.about, "limit": c.limit, "what": c.what, "until": c.until,
                "reason": c.reason, "by": c.by, "when": c.when, "entry": c.sequence,
                "closed": c.closed, "holds": holds,
            })
        })
        .collect();
    answer(&json!({ "concessions": all }))
}

pub(super) async fn plan(Asks(visit): Asks) -> Result<Response, Trouble> {
    answer(&works::plan_of(&visit, works::stage(&visit)).await?.view)
}

pub(super) async fn today(Asks(visit): Asks) -> Result<Response, Trouble> {
    answer(&*works::day_of(&visit).await?)
}

pub(super) async fn work(Asks(visit): Asks, Path(id): Path<String>) -> Result<Response, Trouble> {
    let judged = visit.judged()?;
    let stage = works::stage_of(judged, &id)?;
    match judged.works(stage).iter().find(|w| w.work == id.trim()) {
        Some(work) => answer(work),
        None => Err(Trouble::missing(format!("there is no work \"{id}\""), "")),
    }
}

pub(super) async fn lift(Asks(visit): Asks, Path(id): Path<String>) -> Result<Response, Trouble> {
    let judged = visit.judged()?;
    let engine = judged.judgement.engine();
    let lift = engine::works::lift(engine, works::lift_by_id(judged, &id)?)
        .map_err(|e| Trouble::wrong(e.to_string(), ""))?;
    answer(&engine::view::lift_view(engine, &lift))
}

/// Sheets are those of the pages, for whoever comes with a token.
macro_rules! sheets {
    ($($name:ident: $page:ident),+; $($of:ident: $page_of:ident),+) => {
        $(pub(super) async fn $name(Asks(visit): Asks) -> Result<Response, Trouble> {
            paper::$page(visit).await
        })+
        $(pub(super) async fn $of(Asks(visit): Asks, id: Path<String>) -> Result<Response, Trouble> {
            paper::$page_of(visit, id).await
        })+
    };
}

sheets! {
    dossier: dossier, condition: condition_report, machine_to_sheets: machine_to, day_sheet: day, tags: tags;
    gauge_sheet: gauge, repair_sheet: repair, card: card, lift_sheet: lift
}
