//! The report as one plain HTML page.

use engine::judge::Judgement;

/// The condition report as HTML.
pub fn condition_report_html(_judgement: &Judgement) -> String {
    String::new()
}
