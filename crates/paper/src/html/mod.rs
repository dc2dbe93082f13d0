//! The report as one plain HTML page: no scripts, nothing fetched, light and dark, prints well.

mod joint;
mod lists;
mod write;

use crate::content::{Report, report_content};
use crate::options::ReportOptions;
use engine::judge::Judgement;
use write::Html;

/// The condition report as one self-contained HTML page, the same content as the PDF.
pub fn condition_report_html(judgement: &Judgement) -> String {
    let report = report_content(judgement, &ReportOptions::default(), &mut Vec::new());
    let mut html = Html::default();
    begin(&mut html, &report);
    lists::joints(&mut html, &report);
    lists::chains(&mut html, &report);
    lists::loose(&mut html, &report);
    lists::suspicious(&mut html, &report);
    lists::findings(&mut html, &report);
    html.heading(2, "Joints in full").element("p", report.full_note.text());
    for page in &report.full {
        joint::joint(&mut html, page);
    }
    lists::machine_to(&mut html, &report.machine_to);
    lists::gauges(&mut html, &report);
    html.heading(2, "Cautions").list(&report.cautions);
    html.heading(2, "What was not considered").list(&report.not_considered);
    html.raw("<p>The responsible engineer has read this report and decides; nothing in it releases the engine or any part of it for service.</p>\n<div class=\"sign\"><span>responsible engineer</span><span>signature</span><span>date</span></div>\n</main>\n</body>\n</html>\n");
    html.finish()
}

fn begin(html: &mut Html, report: &Report) {
    let head = &report.head;
    html.raw("<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>Condition report: ");
    html.text(head.engine.text()).raw("</title>\n<style>\n").raw(include_str!("style.css"));
    html.raw("</style>\n</head>\n<body>\n<main>\n<h1>Condition report: ");
    html.text(head.engine.text()).raw("</h1>\n<dl>");
    for (name, value) in [
        ("railway", &head.railway),
        ("laid out from", &head.pattern),
        ("overhaul began", &head.overhaul_began),
        ("judged on", &head.judged_on),
    ] {
        if !value.is_empty() {
            html.element("dt", name).element("dd", value.text());
        }
    }
    html.raw("</dl>\n");
    if !head.note.is_empty() {
        html.element("p", head.note.text());
    }
    html.heading(2, "What was found");
    for p in &report.found {
        html.element("p", p.text());
    }
    html.raw("<ul class=\"tiles\">");
    for tile in &report.tiles {
        html.raw("<li><b>").text(&tile.count.to_string()).raw("</b>");
        html.verdict(tile.verdict).raw("</li>");
    }
    html.raw("</ul>\n<p class=\"soft\">A figure is <i>beyond</i> or <i>within</i> a limit only where its uncertainty proves it (ISO 14253-1); between, it <i>cannot be told</i> with what was read. <i>Near</i>: proven within, with little of the wear allowance left. Figures after ± are expanded uncertainties at 95 %. Sizes are at 20 °C.</p>\n");
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_a_person_wrote_becomes_markup() {
        let mut html = Html::default();
        html.element("p", "<script>alert('x' & \"y\")</script>");
        assert_eq!(
            html.finish(),
            "<p>&lt;script&gt;alert(&#39;x&#39; &amp; &quot;y&quot;)&lt;/script&gt;</p>"
        );
    }
}
