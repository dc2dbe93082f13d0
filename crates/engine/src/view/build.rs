//! From a judgement to what is shown of it.

use super::figure::Figure;
use super::motion::{piston_counts, piston_lines};
use super::shapes::*;
use super::words::{caution_texts, suspicion_words};
use crate::judge::{Estimate, FeatureState, Judgement, LimitVerdict, Verdict};
use crate::model::{
    ChainIx, Engine, FeatureIx, GaugeIx, JointIx, Measure, Metal, Reading, ReadingKind, When,
};

/// Contributors shown; the rest are too small to act on.
const MOST_CONTRIBUTORS: usize = 8;

/// An engine at a glance.
pub fn summary(judgement: &Judgement) -> Summary {
    let engine = judgement.engine();
    let count = |v: Verdict| judgement.joints().iter().filter(|j| j.verdict == v).count();
    // What a piston clearance tells is told once.
    let mut chains: Vec<ChainIx> = (0..engine.chains.len())
        .map(ChainIx::new)
        .filter(|c| engine.motion.teller_of(*c).is_none())
        .collect();
    chains.sort_by_key(|c| (judgement.chain(*c).verdict, *c));
    let pistons = piston_lines(judgement);
    Summary {
        engine: engine.name.clone(),
        railway: engine.railway.clone(),
        note: engine.note.clone(),
        pattern: engine.pattern.clone(),
        judged_on: engine.today.map(|d| d.to_string()),
        overhaul_began: engine.overhaul_began.map(|d| d.to_string()),
        counts: Counts {
            parts: engine.parts.len(),
            features: engine.features.len(),
            features_gauged: judgement.features().iter().filter(|f| f.size.is_some()).count(),
            joints: engine.joints.len(),
            chains: engine.chains.len(),
            readings: engine.readings.len(),
            beyond: count(Verdict::Beyond),
            near: count(Verdict::Near),
            cannot_tell: count(Verdict::CannotTell),
            within: count(Verdict::Within),
            no_limit: count(Verdict::NoLimit),
        },
        joints: judgement.worst_first().into_iter().map(|j| joint_line(judgement, j)).collect(),
        chains: chains.into_iter().map(|c| chain_view(judgement, c)).collect(),
        piston_counts: piston_counts(&pistons),
        pistons,
        loose_features: loose_features(judgement),
        suspicious: suspicious(judgement),
        swaps: swaps(judgement),
        findings: findings(engine),
        gauges: gauges(judgement),
        cautions: caution_texts(),
    }
}

fn joint_line(judgement: &Judgement, ix: JointIx) -> JointLine {
    let joint = judgement.engine().joint(ix);
    let state = judgement.joint(ix);
    let main = joint.kind.measure();
    JointLine {
        id: joint.id.clone(),
        name: joint.name.clone(),
        kind: joint.kind.word(),
        verdict: state.verdict.word(),
        refit_verdict: state.refit_verdict.word(),
        measure: main.word(),
        value: state.measure(main).map(|e| figure_of(main, e)),
        because: because(judgement, ix),
    }
}

/// What decides the verdict, in one line.
fn because(judgement: &Judgement, ix: JointIx) -> String {
    let engine = judgement.engine();
    let state = judgement.joint(ix);
    if let Some(f) = state.condemned.first() {
        let condition = judgement.feature(*f).condition.map_or("", |c| c.word());
        return format!("{} found {condition}", engine.feature(*f).id);
    }
    if state.measures.is_empty() && !state.missing.is_empty() {
        let names: Vec<&str> =
            state.missing.iter().map(|f| engine.feature(*f).id.as_str()).collect();
        return format!("not gauged: {}", names.join(", "));
    }
    let deciding = state
        .limits
        .iter()
        .filter(|l| l.when == When::Service && l.verdict == state.verdict)
        .min_by(|a, b| a.margin_si.total_cmp(&b.margin_si));
    match deciding {
        Some(l) => limit_words(engine, l),
        None => String::new(),
    }
}

pub(super) fn limit_words(engine: &Engine, l: &LimitVerdict) -> String {
    let show = |si: f64| limit_figure(l.measure, si);
    let on = l.feature.map_or_else(String::new, |f| format!("{} ", engine.feature(f).id));
    let Some(value) = l.value_si else {
        return format!("{on}{}: not to be had from the readings", l.measure);
    };
    let value = value_figure(l.measure, value, l.u_si).metric;
    let limit = match (l.min_si, l.max_si) {
        (Some(a), Some(b)) => format!("{} to {}", show(a).metric, show(b).metric),
        (Some(a), None) => format!("least {}", show(a).metric),
        (None, Some(b)) => format!("most {}", show(b).metric),
        (None, None) => String::new(),
    };
    let lapsed = if l.lapsed { "; gauge out of calibration" } else { "" };
    format!("{on}{} {value}, {limit} in {}{lapsed}", l.measure, l.when)
}

/// Sizes and lengths are shown whole; everything else is a small difference.
pub(super) fn figure_of(measure: Measure, estimate: &Estimate) -> Figure {
    value_figure(measure, estimate.si(), estimate.u())
}

fn value_figure(measure: Measure, si: f64, u: f64) -> Figure {
    match measure {
        Measure::Size | Measure::Length => Figure::of_size(si, Some(u)),
        _ => Figure::of_difference(si, Some(u)),
    }
}

fn limit_figure(measure: Measure, si: f64) -> Figure {
    match measure {
        Measure::Size | Measure::Length => Figure::of_size(si, None),
        _ => Figure::of_difference(si, Some(1e-6)),
    }
}

pub(super) fn limit_view(engine: &Engine, l: &LimitVerdict) -> LimitView {
    LimitView {
        feature: l.feature.map(|f| engine.feature(f).id.clone()),
        of: l.measure.word(),
        when: l.when.word(),
        min: l.min_si.map(|s| limit_figure(l.measure, s)),
        max: l.max_si.map(|s| limit_figure(l.measure, s)),
        source: l.source.word(),
        note: l.note.clone(),
        value: l.value_si.map(|s| value_figure(l.measure, s, l.u_si)),
        guard: Figure::of_difference(l.guard_si, None),
        margin: l.margin_si.is_finite().then(|| Figure::of_difference(l.margin_si, Some(l.u_si))),
        allowance_left_percent: l.left_of_allowance.map(|x| 100.0 * x),
        probability_inside: l.probability_inside,
        verdict: l.verdict.word(),
        gauge_lapsed: l.lapsed,
        could_tell: l.could_tell.iter().map(|g| engine.gauge(*g).id.clone()).collect(),
    }
}

pub(super) fn budget(judgement: &Judgement, estimate: Option<&Estimate>) -> Vec<ContributorView> {
    let Some(estimate) = estimate else { return Vec::new() };
    estimate
        .contributors()
        .into_iter()
        .take(MOST_CONTRIBUTORS)
        .map(|(source, u, share)| ContributorView {
            source: source.words(judgement.engine()),
            u: Figure::of_difference(u.abs(), Some(u.abs() / 20.0)),
            share_percent: 100.0 * share,
        })
        .collect()
}

/// A joint in full.
pub fn joint_view(judgement: &Judgement, ix: JointIx) -> JointView {
    let engine = judgement.engine();
    let joint = engine.joint(ix);
    let state = judgement.joint(ix);
    let main = joint.kind.measure();
    let now = state.measure(main);
    let features: Vec<FeatureIx> = crate::judge::members(joint).collect();
    let mut cautions: Vec<String> = Vec::new();
    for f in &features {
        for c in &judgement.feature(*f).cautions {
            let words = c.words(engine);
            if !cautions.iter().any(|seen| seen.ends_with(&words)) {
                cautions.push(format!("{}: {words}", engine.feature(*f).id));
            }
        }
    }
    let mut chains: Vec<String> = features
        .iter()
        .flat_map(|f| engine.feature(*f).in_chains.iter().map(|c| engine.chain(*c).id.clone()))
        .collect();
    chains.sort();
    chains.dedup();
    let degrees = now.map(|e| e.degrees_of_freedom(judgement.features()));
    JointView {
        id: joint.id.clone(),
        name: joint.name.clone(),
        kind: joint.kind.word(),
        verdict: state.verdict.word(),
        refit_verdict: state.refit_verdict.word(),
        measures: state
            .measures
            .iter()
            .map(|(m, e)| MeasureView { measure: m.word(), figure: figure_of(*m, e) })
            .collect(),
        fit: super::design::fit_view(judgement, ix),
        as_made: state.as_made_si.map(|s| Figure::of_difference(s, Some(1e-6))),
        last_time: state.last_time.as_ref().map(Figure::difference),
        change_since_made: now
            .zip(state.as_made_si)
            .map(|(e, m)| Figure::of_difference(e.si() - m, Some(e.u()))),
        change_since_last: now
            .zip(state.last_time.as_ref())
            .map(|(e, l)| Figure::difference(&Estimate::new(&e.value - &l.value))),
        limits: state.limits.iter().map(|l| limit_view(engine, l)).collect(),
        budget: budget(judgement, now),
        degrees_of_freedom: degrees.filter(|d| d.is_finite()),
        features: features.iter().map(|f| feature_view(judgement, *f)).collect(),
        missing: state.missing.iter().map(|f| engine.feature(*f).id.clone()).collect(),
        chains,
        cautions,
        decisions: engine
            .decisions
            .iter()
            .filter(|d| d.joint == ix)
            .map(|d| DecisionView {
                repair: d.repair.word(),
                make: d
                    .make
                    .iter()
                    .map(|m| format!("{} to {}", engine.feature(m.feature).id, m.to.text()))
                    .collect(),
                by: d.by.clone(),
                when: d.when.map(|w| w.to_string()).unwrap_or_default(),
                reason: d.reason.clone(),
            })
            .collect(),
    }
}

/// A feature in full.
pub fn feature_view(judgement: &Judgement, ix: FeatureIx) -> FeatureView {
    let engine = judgement.engine();
    let feature = engine.feature(ix);
    let state = judgement.feature(ix);
    let size = |e: &Option<Estimate>| e.as_ref().map(Figure::size);
    FeatureView {
        id: feature.id.clone(),
        name: feature.name.clone(),
        part: engine.parts[feature.part.index()].name.clone(),
        kind: feature.kind.word(),
        round: feature.kind.is_round(),
        metal_inside: feature.kind.metal() == Metal::Inside,
        as_made: feature.as_made.as_ref().map(Figure::limit),
        size: size(&state.size),
        largest: size(&state.largest),
        smallest: size(&state.smallest),
        clean_up: size(&state.clean_up),
        form: state
            .form
            .iter()
            .map(|(m, e)| MeasureView { measure: m.word(), figure: figure_of(*m, e) })
            .collect(),
        worn_since_made: state.worn_since_made.as_ref().map(Figure::difference),
        worn_since_last: state.worn_since_last.as_ref().map(Figure::difference),
        condition: state.condition.map(|c| c.word()),
        stations: feature
            .stations
            .iter()
            .zip(&feature.station_at_m)
            .map(|(name, at)| StationView { name: name.clone(), at_m: *at })
            .collect(),
        readings: judgement.rows(ix).iter().map(|row| reading_view(engine, *row, state)).collect(),
        missing: state.missing.map(str::to_owned),
        cautions: state.cautions.iter().map(|c| c.words(engine)).collect(),
    }
}

fn reading_view(engine: &Engine, row: u32, state: &FeatureState) -> ReadingView {
    let r = &engine.readings[row as usize];
    ReadingView {
        number: row,
        station: station_name(engine, r),
        direction_deg: direction_deg(r),
        text: r.text.to_string(),
        si: r.si,
        kind: match r.kind {
            ReadingKind::Across => "across",
            ReadingKind::Dial => "dial",
        },
        gauge: r.gauge.map(|g| engine.gauge(g).id.clone()).unwrap_or_default(),
        by: r.by.and_then(|p| engine.people.get(p.index()).cloned()).unwrap_or_default(),
        when: r.when.map(|d| d.to_string()).unwrap_or_default(),
        temperature_c: r.temperature_c.map(f64::from),
        counted: state.counted.contains(&row) || (r.kind == ReadingKind::Dial && !r.struck),
        status: reading_status(engine, r, state.counted.contains(&row)),
        struck: r.struck,
    }
}

fn reading_status(engine: &Engine, r: &Reading, counted: bool) -> &'static str {
    let last_time = engine.overhaul_began.zip(r.when).is_some_and(|(began, day)| day < began);
    match r.kind {
        _ if r.struck => "struck out",
        _ if last_time => "last time",
        ReadingKind::Dial => "dial",
        ReadingKind::Across if counted => "counts",
        ReadingKind::Across if r.gauge.is_none() => "no gauge",
        ReadingKind::Across => "set aside",
    }
}

/// Without the last bits of the turn from degrees to radians and back.
fn direction_deg(r: &Reading) -> Option<f64> {
    r.direction_rad.is_finite().then(|| (r.direction_rad.to_degrees() * 1e9).round() / 1e9)
}

fn station_name(engine: &Engine, r: &Reading) -> String {
    engine.feature(r.feature).stations.get(usize::from(r.station)).cloned().unwrap_or_default()
}

/// A chain in full.
pub fn chain_view(judgement: &Judgement, ix: ChainIx) -> ChainView {
    let engine = judgement.engine();
    let chain = engine.chain(ix);
    let state = judgement.chain(ix);
    let names = |list: &[FeatureIx]| list.iter().map(|f| engine.feature(*f).id.clone()).collect();
    ChainView {
        id: chain.id.clone(),
        name: chain.name.clone(),
        verdict: state.verdict.word(),
        length: state.length.as_ref().map(Figure::size),
        as_made: state.as_made_si.map(|s| Figure::of_size(s, None)),
        change: state
            .length
            .as_ref()
            .zip(state.as_made_si)
            .map(|(e, m)| Figure::of_difference(e.si() - m, Some(e.u()))),
        limits: state.limits.iter().map(|l| limit_view(engine, l)).collect(),
        terms: chain
            .terms
            .iter()
            .map(|(factor, f)| TermView {
                factor: *factor,
                feature: engine.feature(*f).id.clone(),
                size: judgement.feature(*f).size.as_ref().map(Figure::size),
            })
            .collect(),
        budget: budget(judgement, state.length.as_ref()),
        missing: names(&state.missing),
        assumed: names(&state.assumed),
        told_by: engine
            .motion
            .teller_of(ix)
            .map(|(at, end)| format!("{} {}", engine.motion.cylinders[at].id, end.word())),
    }
}

/// A chain drawn many times, beside its first-order figures.
///
/// # Errors
/// The chain has no length, or the draws are too few; in words.
pub fn chain_simulation(
    judgement: &Judgement,
    ix: ChainIx,
    draws: u64,
    seed: u64,
) -> Result<SimulationView, String> {
    let chain = judgement.engine().chain(ix);
    let estimate = judgement
        .chain(ix)
        .length
        .as_ref()
        .ok_or_else(|| format!("{} has no length: a term is not gauged", chain.id))?;
    let limits = chain
        .limits
        .iter()
        .find(|l| l.when == When::Service)
        .map_or((None, None), |l| (l.min_si(), l.max_si()));
    let simulated =
        estimate.simulate(judgement.features(), limits, draws, seed).map_err(|e| e.to_string())?;
    let outcome = &simulated.outcome;
    let interval = outcome.symmetric_interval(0.95).map_err(|e| e.to_string())?;
    let u = outcome.standard_deviation;
    let size = |si: f64| Figure::of_size(si, Some(u / 10.0));
    Ok(SimulationView {
        draws,
        seed,
        mean: size(outcome.mean),
        standard_deviation: Figure::of_difference(u, Some(u / 20.0)),
        low: size(interval.low),
        high: size(interval.high),
        worst_low: size(simulated.worst_case.0),
        worst_high: size(simulated.worst_case.1),
        inside: outcome.inside.as_ref().map(|p| p.inside()),
        first_order: Figure::of_difference(estimate.u(), Some(estimate.u() / 20.0)),
    })
}

fn loose_features(judgement: &Judgement) -> Vec<LimitView> {
    let engine = judgement.engine();
    (0..engine.features.len())
        .map(FeatureIx::new)
        .filter(|f| engine.feature(*f).in_joints.is_empty())
        .flat_map(|f| judgement.loose_limits(f))
        .filter(|l| matches!(l.verdict, Verdict::Beyond | Verdict::Near))
        .map(|l| limit_view(engine, &l))
        .collect()
}

fn suspicious(judgement: &Judgement) -> Vec<SuspicionView> {
    let engine = judgement.engine();
    judgement
        .features()
        .iter()
        .flat_map(|state| &state.suspicions)
        .map(|s| {
            let r = &engine.readings[s.reading as usize];
            let (slip, why) = suspicion_words(&s.why);
            SuspicionView {
                feature: engine.feature(r.feature).id.clone(),
                station: station_name(engine, r),
                direction_deg: direction_deg(r),
                text: r.text.to_string(),
                row: r.row,
                gauge: r.gauge.map(|g| engine.gauge(g).id.clone()).unwrap_or_default(),
                why,
                slip,
                meant: s.meant_m.map(|m| Figure::of_size(m, Some(5e-6))),
                set_aside: s.set_aside,
            }
        })
        .collect()
}

fn swaps(judgement: &Judgement) -> Vec<SwapView> {
    let engine = judgement.engine();
    judgement
        .swaps()
        .iter()
        .map(|s| {
            let (own, other) = (engine.joint(s.joint), engine.joint(s.suits));
            let part = &engine.feature(own.inner).id;
            let show = |m: f64| Figure::of_difference(m, Some(1e-6)).both();
            let measure = own.kind.measure();
            SwapView {
                joint: own.id.clone(),
                part: part.clone(),
                suits: other.id.clone(),
                words: format!(
                    "{part} does not suit {} ({measure} {}) but would suit {} ({measure} {}): made to the wrong place, or exchanged?",
                    own.id,
                    show(s.now_m),
                    other.id,
                    show(s.there_m)
                ),
            }
        })
        .collect()
}

fn findings(engine: &Engine) -> Vec<FindingView> {
    engine
        .findings
        .iter()
        .map(|f| FindingView {
            feature: engine.feature(f.feature).id.clone(),
            condition: f.condition.word(),
            by: f.by.clone(),
            when: f.when.map(|w| w.to_string()).unwrap_or_default(),
            note: f.note.clone(),
        })
        .collect()
}

fn gauges(judgement: &Judgement) -> Vec<GaugeView> {
    let engine = judgement.engine();
    let mut taken = vec![(0, 0); engine.gauges.len()];
    for r in engine.readings.iter().filter(|r| !r.struck) {
        if let Some(g) = r.gauge {
            let lapsed = engine.gauge(g).due.zip(r.when).is_some_and(|(due, day)| day > due);
            taken[g.index()].0 += 1;
            taken[g.index()].1 += usize::from(lapsed);
        }
    }
    engine
        .gauges
        .iter()
        .enumerate()
        .map(|(i, g)| {
            let pooled = judgement.repeatability(GaugeIx::new(i));
            let (repeat, degrees) = pooled.of_one(g.repeat_m);
            GaugeView {
                id: g.id.clone(),
                kind: g.kind.clone(),
                error: Figure::tolerance(g.error_m),
                repeatability: Figure::tolerance(repeat),
                repeats: if degrees.is_finite() { degrees } else { 0.0 },
                due: g.due.map(|d| d.to_string()),
                readings: taken[i].0,
                lapsed_readings: taken[i].1,
            }
        })
        .collect()
}
