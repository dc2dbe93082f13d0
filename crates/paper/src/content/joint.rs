//! A joint set out in full.

use super::figures::{expanded_pair, limit_pair, pair, probability};
use super::options::option_rows;
use super::pictures::{bars, features_of, plots};
use super::readings::readings_table;
use super::shapes::*;
use super::surfaces::surfaces;
use crate::text::Words;
use engine::judge::{Judgement, LimitVerdict};
use engine::model::JointIx;
use engine::view::{JointView, LimitView, joint_view};

/// The page of a joint.
pub(super) fn joint_page(
    judgement: &Judgement,
    ix: JointIx,
    warnings: &mut Vec<String>,
) -> JointPage {
    let view = joint_view(judgement, ix);
    let mut limits: Vec<(u8, LimitRow)> =
        view.limits.iter().map(|l| (when_rank(l.when), limit_row(l))).collect();
    limits.sort_by_key(|(rank, _)| *rank);
    let (bars, plots) = (bars(judgement, ix, &view.limits), plots(judgement, ix));
    let faults: Vec<&String> = bars.faults.iter().chain(&plots.faults).collect();
    warnings.extend(faults.iter().map(|f| format!("{}: {f}", view.id)));
    let mut also = also(&view);
    let (options, impossible) = option_rows(judgement, ix);
    also.extend(faults.into_iter().map(|f| Words::from(format!("Not drawn: {f}."))));
    JointPage {
        verdict: view.verdict,
        refit: view.refit_verdict,
        id: Words::from(&view.id),
        name: Words::from(&view.name),
        kind: view.kind,
        measures: measures(judgement, ix, &view),
        surfaces: surfaces(judgement, ix),
        plots_note: if plots.shown.is_empty() {
            Words::default()
        } else {
            Words::new(
                "Sizes on the drawings are departures as read, set about the mean size at 20 °C.",
            )
        },
        bars: bars.shown,
        plots: plots.shown,
        limits: limits.into_iter().map(|(_, row)| row).collect(),
        budget_of: budget_of(judgement, ix, &view),
        budget_note: budget_note(&view),
        budget: view
            .budget
            .iter()
            .filter(|c| c.share_percent >= LEAST_SHARE_PERCENT)
            .map(|c| BudgetRow {
                source: Words::from(&c.source),
                u: pair(&c.u),
                share_percent: c.share_percent,
            })
            .collect(),
        readings: features_of(judgement, ix)
            .into_iter()
            .filter_map(|f| readings_table(judgement, f))
            .collect(),
        options,
        impossible,
        decisions: view
            .decisions
            .iter()
            .map(|d| {
                let make = if d.make.is_empty() {
                    String::new()
                } else {
                    format!(" ({})", d.make.join(", "))
                };
                Words::from(format!("{}{make}: {}, {}. {}", d.repair, d.by, d.when, d.reason))
            })
            .collect(),
        cautions: view.cautions.iter().map(Words::from).collect(),
        also,
    }
}

/// Contributors below this share of the variance are left out: they round to nothing.
const LEAST_SHARE_PERCENT: f64 = 0.5;

fn when_rank(when: &str) -> u8 {
    match when {
        "service" => 0,
        "refit" => 1,
        _ => 2,
    }
}

/// A limit as a row of a table.
pub(super) fn limit_row(l: &LimitView) -> LimitRow {
    let mut remarks = Vec::new();
    if l.gauge_lapsed {
        remarks.push("gauge out of calibration".to_owned());
    }
    if !l.could_tell.is_empty() {
        remarks.push(format!("could tell: {}", l.could_tell.join(", ")));
    }
    LimitRow {
        verdict: l.verdict,
        of: Words::from(l.feature.clone().unwrap_or_default()),
        measure: l.of,
        when: match l.when {
            "service" => "in service",
            "refit" => "to put back",
            other => other,
        },
        limit: limit_pair(l.min.as_ref(), l.max.as_ref()),
        source: l.source,
        note: Words::from(&l.note),
        value: l.value.as_ref().map(pair),
        guard: pair(&l.guard),
        margin: l.margin.as_ref().map(pair),
        probability: l.probability_inside.map_or_else(String::new, probability),
        left: l.allowance_left_percent.map_or_else(String::new, left_words),
        remark: Words::from(remarks.join("; ")),
    }
}

/// What is left of a wear allowance.
pub(super) fn left_words(percent: f64) -> String {
    match percent {
        p if p <= 0.0 => "nothing left".to_owned(),
        // Better than as made: a brass bored close, a bolt made tight.
        p if p >= 100.0 => "all left".to_owned(),
        p => format!("{p:.0} % left"),
    }
}

/// The limit that decides a joint's verdict in service: of those with that verdict the one with
/// the least margin.
pub(super) fn deciding<'a>(
    judgement: &Judgement,
    ix: JointIx,
    view: &'a JointView,
) -> Option<(&'a LimitView, LimitVerdict)> {
    if !judgement.joint(ix).condemned.is_empty() {
        return None;
    }
    view.limits
        .iter()
        .zip(&judgement.joint(ix).limits)
        .filter(|(l, _)| l.when == "service" && l.verdict == view.verdict)
        .min_by(|(_, a), (_, b)| a.margin_si.total_cmp(&b.margin_si))
        .map(|(l, v)| (l, v.clone()))
}

fn measures(judgement: &Judgement, ix: JointIx, view: &JointView) -> Vec<MeasureRow> {
    let engine = judgement.engine();
    let state = judgement.joint(ix);
    let main = engine.joint(ix).kind.measure();
    let mut rows: Vec<MeasureRow> = state
        .measures
        .iter()
        .map(|(m, e)| MeasureRow {
            measure: Words::new(m.word()),
            value: expanded_pair(*m, e, judgement.features()),
            strong: *m == main,
        })
        .collect();
    let mut plain = |what: &str, figure: &Option<engine::view::Figure>| {
        if let Some(f) = figure {
            rows.push(MeasureRow { measure: Words::new(what), value: pair(f), strong: false });
        }
    };
    plain(&format!("{main} as made"), &view.as_made);
    plain(&format!("{main} last time"), &view.last_time);
    plain("change since made", &view.change_since_made);
    plain("change since last time", &view.change_since_last);
    rows
}

fn budget_of(judgement: &Judgement, ix: JointIx, view: &JointView) -> Words {
    let main = judgement.engine().joint(ix).kind.measure();
    if view.budget.is_empty() { Words::default() } else { Words::new(main.word()) }
}

fn budget_note(view: &JointView) -> Words {
    let degrees = view.degrees_of_freedom.map_or_else(
        || "infinite".to_owned(),
        |d| if d < 1000.0 { format!("{d:.0}") } else { "more than 1,000".to_owned() },
    );
    let small = view.budget.iter().filter(|c| c.share_percent < LEAST_SHARE_PERCENT).count();
    let left_out = match small {
        0 => String::new(),
        n => format!(" {n} contributor(s) of less than half a per cent left out."),
    };
    Words::from(format!("Effective degrees of freedom: {degrees} (JCGM 100, G.4.1).{left_out}"))
}

/// What a reader must also know of this joint.
fn also(view: &JointView) -> Vec<Words> {
    let mut out = Vec::new();
    if !view.missing.is_empty() {
        out.push(Words::from(format!("Not gauged: {}.", view.missing.join(", "))));
    }
    if !view.chains.is_empty() {
        out.push(Words::from(format!("Stands in: {}.", view.chains.join(", "))));
    }
    for f in &view.features {
        if let Some(c) = f.condition {
            out.push(Words::from(format!("{} found {c}.", f.id)));
        }
    }
    out
}
