//! Sheets to print.

use crate::state::spawn;
use crate::trouble::Trouble;
use crate::visit::{Units, Visit};
use ::paper::{
    GaugeSheetOf, Links, PaperError, PaperSize, Rendered, ReportOptions, SheetOptions, TagSize,
    TagWords, UnitsFirst,
};
use axum::extract::Path;
use axum::http::HeaderValue;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use engine::judge::Judgement;

type Set = fn(&Judgement, &ReportOptions) -> Result<Rendered, PaperError>;

/// The condition report.
pub(crate) async fn condition_report(visit: Visit) -> Result<Response, Trouble> {
    set(&visit, "condition-report.pdf", ::paper::condition_report).await
}

/// The machine-to sheets.
pub(crate) async fn machine_to(visit: Visit) -> Result<Response, Trouble> {
    set(&visit, "machine-to.pdf", ::paper::machine_to_sheet).await
}

/// How sheets are wanted: on the paper asked for, with codes that open this bench where phones reach
/// it.
fn options(visit: &Visit) -> SheetOptions {
    let links = (visit.bench.settings().reach == crate::Reach::OtherMachines)
        .then(|| Links::under(&format!("https://{}", visit.host)));
    SheetOptions {
        paper: size(visit),
        units: match visit.units {
            Units::Metric => UnitsFirst::Metric,
            Units::Imperial => UnitsFirst::Imperial,
        },
        links,
    }
}

fn size(visit: &Visit) -> PaperSize {
    match visit.asked.get("paper") {
        "letter" => PaperSize::UsLetter,
        _ => PaperSize::A4,
    }
}

fn failed(error: PaperError) -> Trouble {
    match error {
        PaperError::Nothing(what) => Trouble::missing(what, ""),
        other => Trouble::Inside(other.to_string()),
    }
}

/// A blank gauge sheet of a part or joint.
pub(crate) async fn gauge(visit: Visit, Path(name): Path<String>) -> Result<Response, Trouble> {
    let judged = visit.judged()?.clone();
    let id = name.strip_suffix(".pdf").unwrap_or(&name).to_owned();
    let options = options(&visit);
    let _turn = visit.bench.setting().await?;
    let rendered = spawn(move || {
        let engine = judged.judgement.engine();
        let of = if engine.joint_by_id(&id).is_some() {
            GaugeSheetOf::Joint(&id)
        } else {
            GaugeSheetOf::Part(&id)
        };
        if engine.joint_by_id(&id).is_none() && engine.parts.iter().all(|p| p.id != id) {
            return Err(Trouble::missing(format!("there is neither part nor joint \"{id}\""), ""));
        }
        ::paper::gauge_sheet(&judged.judgement, of, &options).map_err(failed)
    })
    .await??;
    Ok(pdf("gauge-sheet.pdf", rendered.pdf))
}

/// Tags of everything that has a code, or of one part.
pub(crate) async fn tags(visit: Visit) -> Result<Response, Trouble> {
    let options = options(&visit);
    let wanted = visit.asked.get("part").to_owned();
    let size = match visit.asked.get("size") {
        "tie-on" => TagSize::TieOn,
        "tin" => TagSize::Tin,
        "large" => TagSize::Large,
        _ => TagSize::Small,
    };
    let snap = visit.snap.clone();
    let _turn = visit.bench.setting().await?;
    let rendered = spawn(move || {
        let engine = snap.engine.as_ref().ok().map(|j| j.judgement.engine());
        let all: Vec<TagWords> = snap
            .fold
            .things()
            .filter(|(name, _)| wanted.is_empty() || *name == wanted)
            .filter_map(|(name, thing)| {
                let part = engine.and_then(|e| e.parts.iter().find(|p| p.id == name));
                Some(TagWords {
                    code: thing.tag.clone()?,
                    part: name.to_owned(),
                    name: part.map_or_else(String::new, |p| p.name.clone()),
                    side: part.map_or_else(String::new, |p| p.side.clone()),
                    engine: engine.map_or_else(|| snap.fold.name().to_owned(), |e| e.name.clone()),
                })
            })
            .collect();
        ::paper::tag_sheets(&all, size, &options).map_err(failed)
    })
    .await??;
    Ok(pdf("tags.pdf", rendered.pdf))
}

async fn set(visit: &Visit, name: &'static str, set: Set) -> Result<Response, Trouble> {
    let judged = visit.judged()?.clone();
    let options = ReportOptions { paper: size(visit), ..ReportOptions::default() };
    let _turn = visit.bench.setting().await?;
    let rendered = spawn(move || set(&judged.judgement, &options))
        .await?
        .map_err(|e| Trouble::Inside(e.to_string()))?;
    Ok(pdf(name, rendered.pdf))
}

/// A PDF as an answer.
pub(crate) fn pdf(name: &str, bytes: Vec<u8>) -> Response {
    let mut response = ([(CONTENT_TYPE, "application/pdf")], bytes).into_response();
    if let Ok(value) = HeaderValue::from_str(&format!("inline; filename=\"{name}\"")) {
        response.headers_mut().insert(CONTENT_DISPOSITION, value);
    }
    response
}
