//! The engine: what is beyond first.

use crate::drawings;
use crate::layout::Page;
use crate::marks::{encoded, figure, verdict};
use crate::trouble::Trouble;
use crate::visit::Visit;
use axum::response::Response;
use maud::html;

/// The page.
pub(crate) async fn home(visit: Visit) -> Result<Response, Trouble> {
    let judged = visit.judged()?;
    let summary = judged.summary();
    let page = Page {
        title: summary.engine.clone(),
        holding: html! {
            h1 { (summary.engine) }
            p { (summary.railway) }
        },
        knowing: html! {
            (drawings::shown(judged.gear()))
            ol.lines {
                @for j in &summary.joints {
                    li {
                        a href={ "/joint/" (encoded(&j.id)) } {
                            (verdict(j.verdict)) " " b { (j.name) }
                            @if let Some(v) = &j.value { " " (j.measure) " " (figure(visit.units, v)) }
                            br; span.quiet { (j.because) }
                        }
                    }
                }
            }
        },
        doing: html! {},
    };
    Ok(page.answer(&visit))
}
