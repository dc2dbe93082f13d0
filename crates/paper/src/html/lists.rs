//! The tables of the report.

use super::write::Html;
use crate::content::{JointRow, LimitRow, MachineToList, Pair, Report};

fn maybe(pair: &Option<Pair>) -> impl Fn(&mut Html) + '_ {
    move |h| {
        if let Some(p) = pair {
            h.pair(p);
        }
    }
}

fn name(row: &JointRow) -> impl Fn(&mut Html) + '_ {
    move |h| {
        h.code(&row.id);
        let kind = if row.name.is_empty() {
            row.kind.to_owned()
        } else {
            format!("{}; {}", row.name.text(), row.kind)
        };
        h.under(&kind);
    }
}

fn measure(row: &JointRow) -> impl Fn(&mut Html) + '_ {
    move |h| {
        if row.limit.is_none() && !row.because.is_empty() {
            h.text(row.because.text());
            return;
        }
        h.text(row.measure.text());
        if !row.of.is_empty() {
            h.raw("<br>").code(&row.of);
        }
        h.under(row.because.text());
    }
}

/// Joints, worst first.
pub(super) fn joints(html: &mut Html, report: &Report) {
    if !report.worst.is_empty() {
        html.heading(2, "Joints, worst first");
        html.table(&[
            "in service",
            "joint",
            "what decides",
            "figure",
            "limit in service",
            "to put back",
        ]);
        for r in &report.worst {
            html.row(&[
                &|h| {
                    h.verdict(r.verdict);
                },
                &name(r),
                &measure(r),
                &maybe(&r.value),
                &maybe(&r.limit),
                &|h| {
                    h.verdict(r.refit);
                },
            ]);
        }
        html.end_table();
    }
    if !report.rest.is_empty() {
        html.heading(2, "The other joints");
        html.table(&[
            "in service",
            "joint",
            "closest to its limit",
            "figure",
            "of the allowance",
            "to put back",
        ]);
        for r in &report.rest {
            html.row(&[
                &|h| {
                    h.verdict(r.verdict);
                },
                &name(r),
                &measure(r),
                &maybe(&r.value),
                &|h| {
                    h.text(r.left.text());
                },
                &|h| {
                    h.verdict(r.refit);
                },
            ]);
        }
        html.end_table();
    }
}

/// Chains.
pub(super) fn chains(html: &mut Html, report: &Report) {
    if report.chains.is_empty() {
        return;
    }
    html.heading(2, "Piston clearances and chains");
    html.table(&["in service", "chain", "length", "as made", "change", "limits"]);
    for c in &report.chains {
        html.row(&[
            &|h| {
                h.verdict(c.verdict);
            },
            &|h| {
                h.code(&c.id).under(c.name.text());
                let terms: Vec<&str> = c.terms.iter().map(|t| t.text()).collect();
                h.under(&terms.join(" ")).under(c.remark.text());
            },
            &maybe(&c.length),
            &maybe(&c.as_made),
            &maybe(&c.change),
            &|h| {
                for (i, l) in c.limits.iter().enumerate() {
                    h.raw(if i > 0 { "<br>" } else { "" });
                    h.raw("<span class=\"figure\">").text(l.when).text(": ");
                    h.text(&l.limit.metric).text(" ").verdict(l.verdict).raw("<br>");
                    h.element("small", &l.limit.imperial).raw("</span>");
                }
            },
        ]);
    }
    html.end_table();
}

/// Figures against limits.
pub(super) fn limits(html: &mut Html, rows: &[LimitRow]) {
    html.table(&[
        "verdict",
        "of",
        "limit",
        "figure",
        "guard band",
        "margin",
        "inside with",
        "says who",
    ]);
    for l in rows {
        html.row(&[
            &|h| {
                h.verdict(l.verdict);
            },
            &|h| {
                h.text(&format!("{}, {}", l.measure, l.when));
                if !l.of.is_empty() {
                    h.raw("<br>").code(&l.of);
                }
            },
            &|h| {
                h.pair(&l.limit);
            },
            &|h| match &l.value {
                Some(v) => {
                    h.pair(v);
                }
                None => {
                    h.element("small", "not to be had");
                }
            },
            &|h| {
                h.pair(&l.guard);
            },
            &|h| {
                maybe(&l.margin)(h);
                h.under(&l.left);
            },
            &|h| {
                h.text(&l.probability);
            },
            &|h| {
                h.text(l.source).under(l.note.text()).under(l.remark.text());
            },
        ]);
    }
    html.end_table();
}

/// Features in no joint.
pub(super) fn loose(html: &mut Html, report: &Report) {
    if !report.loose.is_empty() {
        html.heading(2, "Features in no joint, beyond or near a limit of their own");
        limits(html, &report.loose);
    }
}

/// Readings that look wrong, parts that look exchanged.
pub(super) fn suspicious(html: &mut Html, report: &Report) {
    if !report.suspicious.is_empty() {
        html.heading(2, "Suspicious readings");
        html.table(&[
            "feature",
            "place",
            "as written",
            "gauge, row",
            "what looks wrong",
            "likely meant",
            "counts",
        ]);
        for s in &report.suspicious {
            html.row(&[
                &|h| {
                    h.code(&s.feature);
                },
                &|h| {
                    h.text(s.places.text());
                },
                &|h| {
                    h.code(&s.texts);
                },
                &|h| {
                    h.code(&s.gauge).under(&format!("row {}", s.rows.text()));
                },
                &|h| {
                    h.element("b", s.slip).text(": ").text(s.why.text());
                },
                &maybe(&s.meant),
                &|h| {
                    h.text(if s.set_aside { "set aside" } else { "yes" });
                },
            ]);
        }
        html.end_table();
        html.raw("<p class=\"soft\">Look at the gauge sheet, gauge again where that is still possible, and correct or strike out by a new entry; nothing is corrected here.</p>\n");
    }
    if !report.swaps.is_empty() {
        html.heading(2, "Parts that look exchanged").list(&report.swaps);
    }
}

/// Conditions found.
pub(super) fn findings(html: &mut Html, report: &Report) {
    if report.findings.is_empty() {
        return;
    }
    html.heading(2, "Conditions found");
    html.table(&["feature", "condition", "in their words", "by, when"]);
    for f in &report.findings {
        html.row(&[
            &|h| {
                h.code(&f.feature);
            },
            &|h| {
                h.element("b", f.condition);
            },
            &|h| {
                h.text(f.note.text());
            },
            &|h| {
                h.text(f.by.text()).under(f.when.text());
            },
        ]);
    }
    html.end_table();
}

/// The machine-to list.
pub(super) fn machine_to(html: &mut Html, list: &MachineToList) {
    html.heading(2, "Machine-to list");
    html.raw("<p>Finished sizes at 20 °C. A size made to suit its mate waits until the mate is finished and gauged. Gauge again after every operation.</p>\n");
    if list.lines.is_empty() {
        html.raw("<p>There is nothing to machine: no joint that is beyond or near its limit has an option that serves, and nothing was decided.</p>\n");
    } else {
        html.table(&[
            "surface, part",
            "now",
            "make to",
            "±",
            "how",
            "for joint",
            "size made, signed",
        ]);
        for l in &list.lines {
            html.row(&[
                &|h| {
                    h.code(&l.feature).under(l.part.text());
                    if l.conflict {
                        h.raw("<br>").element("b", "another line wants another size: ask");
                    }
                },
                &maybe(&l.now),
                &|h| {
                    h.raw("<b>").pair(&l.to).raw("</b>");
                },
                &|h| {
                    h.pair(&l.tolerance);
                },
                &|h| {
                    h.text(l.way).under(l.suit.text());
                },
                &|h| {
                    h.code(&l.joint).under(&format!("{}, {}", l.repair, l.decided.text()));
                },
                &|_| {},
            ]);
        }
        html.end_table();
    }
    if !list.liners.is_empty() {
        html.heading(4, "Liners").table(&["joint", "thickness", "thickness made, signed"]);
        for l in &list.liners {
            html.row(&[
                &|h| {
                    h.code(&l.joint);
                },
                &|h| {
                    h.pair(&l.thickness);
                },
                &|_| {},
            ]);
        }
        html.end_table();
    }
    if !list.families.is_empty() {
        html.heading(4, "Families: one size would serve all");
        html.table(&["family", "size for all", "members on the list"]);
        for f in &list.families {
            html.row(&[
                &|h| {
                    h.text(f.family.text());
                },
                &|h| {
                    h.pair(&f.common);
                },
                &|h| {
                    for (i, m) in f.members.iter().enumerate() {
                        h.raw(if i > 0 { ", " } else { "" }).code(m);
                    }
                },
            ]);
        }
        html.end_table();
    }
    if !list.open.is_empty() {
        html.heading(4, "Joints still open").table(&["joint", "why"]);
        for o in &list.open {
            html.row(&[
                &|h| {
                    h.code(&o.joint);
                },
                &|h| {
                    h.text(o.why.text());
                },
            ]);
        }
        html.end_table();
    }
}

/// Gauges.
pub(super) fn gauges(html: &mut Html, report: &Report) {
    if report.gauges.is_empty() {
        return;
    }
    html.heading(2, "Gauges");
    html.table(&[
        "gauge",
        "kind",
        "limits of error ±",
        "repeatability",
        "calibrated until",
        "readings",
    ]);
    for g in &report.gauges {
        html.row(&[
            &|h| {
                h.code(&g.id);
            },
            &|h| {
                h.text(g.kind.text());
            },
            &|h| {
                h.pair(&g.error);
            },
            &|h| {
                h.pair(&g.repeatability).under(g.repeats.text());
            },
            &|h| {
                h.text(g.due.text());
            },
            &|h| {
                h.text(&g.readings.to_string());
                if g.lapsed > 0 {
                    h.raw("<br>").element("b", &format!("{} after it ran out", g.lapsed));
                }
            },
        ]);
    }
    html.end_table();
}
