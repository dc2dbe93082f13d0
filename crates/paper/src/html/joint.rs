//! A joint in full on the HTML page.

use super::lists::limits;
use super::write::Html;
use crate::content::{JointPage, OptionRow, ReadingsTable, Shown, SurfacesTable};
use crate::text::Words;

/// One joint.
pub(super) fn joint(html: &mut Html, j: &JointPage) {
    html.raw("<section>\n<h3>").text(engine::view::verdict_sign(j.verdict)).text(" ");
    html.text(j.id.text()).raw("</h3>\n<p>");
    if !j.name.is_empty() {
        html.text(j.name.text()).text("; ");
    }
    html.text(j.kind).text(" joint. In service: ").verdict(j.verdict);
    html.text(". To put back: ").verdict(j.refit).raw(".</p>\n");
    html.table(&["measure", "mm", "in or thou"]);
    for m in &j.measures {
        let name = if m.strong { "b" } else { "span" };
        let cell = |text: String| {
            move |h: &mut Html| {
                h.element(name, &text);
            }
        };
        html.row(&[
            &cell(m.measure.text().to_owned()),
            &cell(m.value.metric.clone()),
            &cell(m.value.imperial.clone()),
        ]);
    }
    html.end_table().list(&j.also);
    drawings(html, &j.bars);
    drawings(html, &j.plots);
    html.raw("<p class=\"soft\">").text(j.plots_note.text()).raw("</p>\n");
    html.heading(4, "Surfaces");
    for s in &j.surfaces {
        surfaces(html, s);
    }
    html.heading(4, "Verdict by limit");
    limits(html, &j.limits);
    options(html, &j.options, &j.impossible);
    if !j.decisions.is_empty() {
        html.heading(4, "Decided").list(&j.decisions);
    }
    if !j.budget.is_empty() {
        html.raw("<h4>What the uncertainty of the ").text(j.budget_of.text());
        html.raw(" comes from</h4>\n").table(&[
            "source",
            "standard uncertainty",
            "share of the variance",
        ]);
        for b in &j.budget {
            html.row(&[
                &|h| {
                    h.text(b.source.text());
                },
                &|h| {
                    h.text(&b.u.metric).text(" (").text(&b.u.imperial).text(")");
                },
                &|h| {
                    h.text(&format!("{:.0} %", b.share_percent));
                },
            ]);
        }
        html.end_table().raw("<p class=\"soft\">").text(j.budget_note.text()).raw("</p>\n");
    }
    if !j.readings.is_empty() {
        html.heading(4, "Readings as written");
        for r in &j.readings {
            readings(html, r);
        }
        html.raw("<p class=\"soft\">In round brackets: does not count (last time, or no gauge named). In square brackets: set aside as a slip. Struck through: struck out.</p>\n");
    }
    if !j.cautions.is_empty() {
        html.heading(4, "To know").list(&j.cautions);
    }
    html.raw("</section>\n");
}

fn drawings(html: &mut Html, all: &[Shown]) {
    if all.is_empty() {
        return;
    }
    html.raw("<div class=\"figures\">");
    for s in all {
        // The drawing escapes its own words.
        html.raw("<figure>").raw(&s.svg).raw("</figure>\n");
    }
    html.raw("</div>\n");
}

fn surfaces(html: &mut Html, s: &SurfacesTable) {
    let columns: Vec<&str> =
        std::iter::once("").chain(s.features.iter().map(Words::text)).collect();
    html.table(&columns);
    for r in &s.rows {
        html.raw("<tr>").element("td", r.measure);
        for c in &r.cells {
            html.raw("<td>");
            match c {
                Some(p) => html.pair(p),
                None => html.text("–"),
            };
            html.raw("</td>");
        }
        html.raw("</tr>\n");
    }
    html.end_table();
}

fn options(html: &mut Html, rows: &[OptionRow], impossible: &[Words]) {
    if rows.is_empty() && impossible.is_empty() {
        return;
    }
    html.heading(4, "What can be done");
    if !rows.is_empty() {
        html.table(&["option", "makes", "afterwards", "inside with", "what else moves"]);
    }
    for o in rows {
        html.raw(if o.recommended { "<tr class=\"best\"><td>" } else { "<tr><td>" });
        if o.recommended {
            html.element("b", &format!("▸ {} (recommended)", o.repair));
        } else {
            html.text(o.repair);
        }
        html.raw("</td><td>").text(o.words.text());
        for x in &o.targets {
            html.raw("<br>").code(&x.feature).text(" to ").element("b", &x.to.metric);
            html.text(&format!(
                " ({}) ± {} ({}), {}",
                x.to.imperial, x.tolerance.metric, x.tolerance.imperial, x.way
            ));
            if !x.suit.is_empty() {
                html.text(", ").text(x.suit.text());
            }
        }
        html.raw("</td><td>");
        if let Some(p) = &o.after {
            html.pair(p);
        }
        html.raw("</td><td>").text(&o.probability).raw("</td><td>");
        for (i, m) in o.moves.iter().enumerate() {
            html.raw(if i > 0 { "<br>" } else { "" }).code(&m.id).text(": ").text(m.words.text());
            if m.before != m.after {
                html.text("; ").element("b", &format!("{} → {}", m.before, m.after));
            }
        }
        if o.moves_more > 0 {
            html.under(&format!("and {} more", o.moves_more));
        }
        if o.moves.is_empty() {
            html.element("small", "nothing else");
        }
        html.raw("</td></tr>\n");
    }
    if !rows.is_empty() {
        html.end_table();
    }
    if !impossible.is_empty() {
        let all: Vec<&str> = impossible.iter().map(Words::text).collect();
        html.raw("<p class=\"soft\">Cannot be done: ").text(&all.join("; ")).raw(".</p>\n");
    }
}

fn readings(html: &mut Html, r: &ReadingsTable) {
    html.raw("<p>").code(&r.feature).text(" ").element("small", r.about.text()).raw("</p>\n");
    if !r.rows.is_empty() {
        let columns: Vec<&str> =
            ["", "station"].into_iter().chain(r.directions.iter().map(String::as_str)).collect();
        html.table(&columns);
        for row in &r.rows {
            html.raw("<tr>").element("td", &row.session).element("td", row.station.text());
            for c in &row.cells {
                html.raw("<td>");
                for (i, reading) in c.iter().enumerate() {
                    html.raw(if i > 0 { ", " } else { "" });
                    cell(html, &reading.text, reading.state);
                }
                html.raw("</td>");
            }
            html.raw("</tr>\n");
        }
        html.end_table();
    }
    if !r.listed.is_empty() {
        html.raw("<p>");
        for (i, l) in r.listed.iter().enumerate() {
            html.raw(if i > 0 { "; " } else { "" });
            html.element("small", &format!("{} {}", l.session, l.place.text())).text(" ");
            cell(html, &l.text, l.state);
        }
        html.raw("</p>\n");
    }
    let sessions: Vec<&str> = r.sessions.iter().map(Words::text).collect();
    html.raw("<p class=\"soft\">").text(&sessions.join("; ")).raw("</p>\n");
}

/// A reading in the brackets of its state.
fn cell(html: &mut Html, text: &Words, state: &str) {
    let (before, after) = match state {
        "" => ("", ""),
        "struck" => ("<s>", "</s>"),
        "aside" => ("[", "]"),
        _ => ("(", ")"),
    };
    html.raw(before).code(text).raw(after);
}
