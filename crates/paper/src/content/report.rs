//! A judged engine as the content of a report.

use super::figures::{count, limit_pair, pair};
use super::joint::{deciding, joint_page, left_words, limit_row};
use super::machine_to;
use super::not_considered::not_considered;
use super::shapes::*;
use super::summary::found;
use crate::options::ReportOptions;
use crate::text::Words;
use drawing::{Verdict, sign_picture};
use engine::judge::Judgement;
use engine::model::JointIx;
use engine::view::{ChainView, PistonLine, Summary, SuspicionView, joint_view, summary};

/// Everything that stands in the report.
pub(crate) fn report_content(
    judgement: &Judgement,
    options: &ReportOptions,
    warnings: &mut Vec<String>,
) -> Report {
    let s = summary(judgement);
    page_words(judgement, warnings);
    let order = judgement.worst_first();
    let rows: Vec<JointRow> =
        order.iter().zip(&s.joints).map(|(ix, line)| joint_row(judgement, *ix, line)).collect();
    let bad = |verdict: &str| matches!(verdict, "beyond" | "near" | "cannot tell");
    let (worst, rest) = rows.into_iter().partition(|r: &JointRow| bad(r.verdict));
    let to_set_out: Vec<JointIx> = order
        .iter()
        .zip(&s.joints)
        .filter(|(_, line)| matches!(line.verdict, "beyond" | "near"))
        .map(|(ix, _)| *ix)
        .collect();
    let full: Vec<JointPage> = to_set_out
        .iter()
        .take(options.joints_in_full)
        .map(|ix| joint_page(judgement, *ix, warnings))
        .collect();
    Report {
        paper: options.paper.name(),
        head: head(judgement),
        signs: signs(),
        found: found(&s),
        tiles: tiles(&s),
        worst,
        rest,
        chains: s.pistons.iter().map(piston_row).chain(s.chains.iter().map(chain_row)).collect(),
        loose: s.loose_features.iter().map(limit_row).collect(),
        suspicious: suspicious(&s),
        swaps: s.swaps.iter().map(|w| Words::from(&w.words)).collect(),
        findings: s
            .findings
            .iter()
            .map(|f| FindingRow {
                feature: Words::from(&f.feature),
                condition: f.condition,
                by: Words::from(&f.by),
                when: Words::from(&f.when),
                note: Words::from(&f.note),
            })
            .collect(),
        full_note: full_note(to_set_out.len(), full.len()),
        full,
        machine_to: machine_to::list(judgement),
        repairs: super::repair::repairs(judgement),
        gauges: gauges(&s),
        cautions: s.cautions.iter().map(Words::from).collect(),
        not_considered: not_considered(judgement),
    }
}

/// Whose engine, and when.
pub(super) fn head(judgement: &Judgement) -> Head {
    let engine = judgement.engine();
    let day = |d: Option<engine::model::Date>| {
        Words::from(d.map_or_else(|| "not given".to_owned(), |d| d.to_string()))
    };
    Head {
        engine: Words::from(&engine.name),
        railway: Words::from(&engine.railway),
        pattern: Words::from(engine.pattern.clone().unwrap_or_default()),
        note: Words::from(&engine.note),
        overhaul_began: day(engine.overhaul_began),
        judged_on: day(engine.today),
    }
}

/// Tells which texts are cut on the page.
pub(super) fn page_words(judgement: &Judgement, warnings: &mut Vec<String>) {
    let engine = judgement.engine();
    let one = |what: &str, text: &str| {
        let start: String = text.chars().take(30).collect();
        Words::cuts(text).then(|| {
            format!(
                "{what} \"{start}…\" has {} characters; its beginning is printed",
                count(text.chars().count())
            )
        })
    };
    warnings.extend(one("the engine's name", &engine.name));
    warnings.extend(one("the railway", &engine.railway));
    warnings.extend(one("the engine's note", &engine.note));
    let texts = engine
        .parts
        .iter()
        .flat_map(|p| [("the part", &p.id), ("the part's name", &p.name)])
        .chain(
            engine
                .features
                .iter()
                .flat_map(|f| [("the feature", &f.id), ("the feature's name", &f.name)]),
        )
        .chain(
            engine
                .joints
                .iter()
                .flat_map(|j| [("the joint", &j.id), ("the joint's name", &j.name)]),
        )
        .chain(engine.findings.iter().map(|f| ("the note", &f.note)))
        .chain(engine.decisions.iter().map(|d| ("the reason", &d.reason)));
    warnings.extend(texts.filter_map(|(what, text)| one(what, text)));
}

fn signs() -> Vec<Sign> {
    // A sign of nine points can always be drawn; were it not, the word would stand alone.
    let drawn = |v: Verdict| sign_picture(v, 9.0).ok().map(|p| Sign { word: v.word(), svg: p.svg });
    Verdict::ALL.into_iter().filter_map(drawn).collect()
}

fn tiles(s: &Summary) -> Vec<Tile> {
    let c = &s.counts;
    [
        ("beyond", c.beyond),
        ("near", c.near),
        ("cannot tell", c.cannot_tell),
        ("within", c.within),
        ("no limit", c.no_limit),
    ]
    .into_iter()
    .map(|(verdict, count)| Tile { verdict, count })
    .collect()
}

pub(super) fn joint_row(
    judgement: &Judgement,
    ix: JointIx,
    line: &engine::view::JointLine,
) -> JointRow {
    let view = joint_view(judgement, ix);
    let decides = deciding(judgement, ix, &view);
    let mut row = JointRow {
        verdict: line.verdict,
        refit: line.refit_verdict,
        id: Words::from(&line.id),
        name: Words::from(&line.name),
        kind: line.kind,
        measure: Words::new(line.measure),
        of: Words::default(),
        value: line.value.as_ref().map(pair),
        limit: None,
        because: Words::from(&line.because),
        left: Words::default(),
    };
    if let Some((limit, verdict)) = decides {
        row.measure = Words::new(limit.of);
        row.of = Words::from(limit.feature.clone().unwrap_or_default());
        row.value = limit.value.as_ref().map(pair);
        row.limit = Some(limit_pair(limit.min.as_ref(), limit.max.as_ref()));
        if limit.value.is_some() {
            row.because = Words::new(if verdict.lapsed { "gauge out of calibration" } else { "" });
        }
        row.left = Words::from(match (limit.allowance_left_percent, &limit.margin) {
            (Some(p), _) => left_words(p),
            (None, Some(m)) => format!("{} from it", m.metric),
            _ => String::new(),
        });
    }
    row
}

/// A piston clearance, set as a chain: it is one, through the mechanism.
fn piston_row(p: &PistonLine) -> ChainRow {
    let taken_up = p.slack_taken_up.as_ref();
    let mut words = vec![taken_up.map_or_else(
        || p.because.clone(),
        |f| format!("with all slack taken up towards this cover {}", f.both()),
    )];
    if !p.doubt_from.is_empty() {
        words.push(format!("doubt mostly from {}", p.doubt_from.join(", ")));
    }
    ChainRow {
        verdict: p.verdict,
        id: Words::from(&p.id),
        name: Words::from(&p.name),
        length: p.clearance.as_ref().map(pair),
        as_made: p.as_made.as_ref().map(pair),
        change: p.change.as_ref().map(pair),
        limits: p.limits.iter().map(limit_row).collect(),
        terms: vec![Words::from(words.join("; "))],
        remark: Words::default(),
    }
}

fn chain_row(c: &ChainView) -> ChainRow {
    let mut remarks = Vec::new();
    if !c.missing.is_empty() {
        remarks.push(format!("not gauged: {}", c.missing.join(", ")));
    }
    if !c.assumed.is_empty() {
        remarks.push(format!("taken as made: {}", c.assumed.join(", ")));
    }
    ChainRow {
        verdict: c.verdict,
        id: Words::from(&c.id),
        name: Words::from(&c.name),
        length: c.length.as_ref().map(pair),
        as_made: c.as_made.as_ref().map(pair),
        change: c.change.as_ref().map(pair),
        limits: c.limits.iter().map(limit_row).collect(),
        terms: c
            .terms
            .iter()
            .map(|t| {
                let sign = if t.factor < 0.0 { "−" } else { "+" };
                let factor = t.factor.abs();
                if (factor - 1.0).abs() < 1e-12 {
                    Words::from(format!("{sign} {}", t.feature))
                } else {
                    Words::from(format!("{sign} {factor} × {}", t.feature))
                }
            })
            .collect(),
        remark: Words::from(remarks.join("; ")),
    }
}

/// One row for readings of one surface that look wrong alike: a gauge out of calibration would
/// fill a page otherwise.
pub(super) fn suspicious(s: &Summary) -> Vec<SuspicionRow> {
    let mut groups: Vec<Vec<&SuspicionView>> = Vec::new();
    for x in &s.suspicious {
        let alike = |g: &&mut Vec<&SuspicionView>| {
            let y = g[0];
            x.meant.is_none()
                && y.meant.is_none()
                && (&y.feature, &y.gauge, y.slip, &y.why, y.set_aside)
                    == (&x.feature, &x.gauge, x.slip, &x.why, x.set_aside)
        };
        match groups.iter_mut().find(alike) {
            Some(group) => group.push(x),
            None => groups.push(vec![x]),
        }
    }
    groups.iter().map(|g| suspicion_row(g)).collect()
}

fn suspicion_row(group: &[&SuspicionView]) -> SuspicionRow {
    let first = group[0];
    let joined = |each: &dyn Fn(&SuspicionView) -> String| {
        let all: Vec<String> = group.iter().map(|x| each(x)).collect();
        Words::from(all.join(", "))
    };
    let place = |x: &SuspicionView| {
        let at = x.direction_deg.map_or_else(String::new, |d| format!(" {d:.0}°"));
        format!("{}{at}", x.station)
    };
    SuspicionRow {
        feature: Words::from(&first.feature),
        places: joined(&place),
        texts: joined(&|x| x.text.clone()),
        rows: joined(&|x| x.row.to_string()),
        gauge: Words::from(&first.gauge),
        slip: first.slip,
        why: Words::from(&first.why),
        meant: first.meant.as_ref().map(pair),
        set_aside: first.set_aside,
    }
}

pub(super) fn gauges(s: &Summary) -> Vec<GaugeRow> {
    s.gauges
        .iter()
        .map(|g| GaugeRow {
            id: Words::from(&g.id),
            kind: Words::from(&g.kind),
            error: pair(&g.error),
            repeatability: pair(&g.repeatability),
            repeats: Words::from(if g.repeats > 0.0 {
                format!("from {:.0} repeats", g.repeats)
            } else {
                "as described".to_owned()
            }),
            due: Words::from(g.due.clone().unwrap_or_else(|| "not given".to_owned())),
            readings: g.readings,
            lapsed: g.lapsed_readings,
        })
        .collect()
}

fn full_note(there_are: usize, set_out: usize) -> Words {
    if there_are == 0 {
        Words::new("No joint is beyond or near a limit in service.")
    } else if set_out < there_are {
        Words::from(format!(
            "The {} worst of {} joints beyond or near a limit are set out in full; the others stand in the table of joints.",
            count(set_out),
            count(there_are)
        ))
    } else {
        Words::from(format!(
            "All {} joints beyond or near a limit are set out in full.",
            count(set_out)
        ))
    }
}
