//! Sheets to print.

use crate::state::spawn;
use crate::trouble::Trouble;
use crate::visit::Visit;
use axum::http::HeaderValue;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use ::paper::{PaperError, PaperSize, Rendered, ReportOptions};
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

async fn set(visit: &Visit, name: &'static str, set: Set) -> Result<Response, Trouble> {
    let judged = visit.judged()?.clone();
    let paper = match visit.asked.get("paper") {
        "letter" => PaperSize::UsLetter,
        _ => PaperSize::A4,
    };
    let options = ReportOptions { paper, ..ReportOptions::default() };
    let _turn = visit.bench.setting().await?;
    let rendered = spawn(move || set(&judged.judgement, &options))
        .await?
        .map_err(|e| Trouble::Inside(e.to_string()))?;
    Ok(pdf(name, rendered.pdf))
}

/// A PDF as an answer.
pub(crate) fn pdf(name: &str, bytes: Vec<u8>) -> Response {
    let mut response =
        ([(CONTENT_TYPE, "application/pdf")], bytes).into_response();
    if let Ok(value) = HeaderValue::from_str(&format!("inline; filename=\"{name}\"")) {
        response.headers_mut().insert(CONTENT_DISPOSITION, value);
    }
    response
}
