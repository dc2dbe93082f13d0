//! One joint, its options, and trials.

use super::{figure, probability, short, table, to_suit};
use crate::args::Units;
use crate::failure::put;
use engine::view::{
    EffectView, FeatureView, JointView, LimitView, OptionView, TrialView, verdict_sign,
};

/// A joint in full.
pub(crate) fn joint(j: &JointView, units: Units) {
    put!("{} ({}, {})", j.name, j.id, j.kind);
    put!(
        "in service: {} {}; to put back: {} {}",
        verdict_sign(j.verdict),
        j.verdict,
        verdict_sign(j.refit_verdict),
        j.refit_verdict
    );
    for m in &j.measures {
        put!("  {}: {}{}", m.measure, figure(&m.figure, units), doubt(m.figure.u_si, units));
    }
    if let Some(f) = &j.fit {
        match (&f.achieved, &f.least, &f.most) {
            (Some(a), Some(least), Some(most)) => put!(
                "  fit {} ({}): {} {}{}, {} to {} by the fit: {}; {}",
                f.symbol,
                f.from,
                f.of,
                figure(a, units),
                doubt(a.u_si, units),
                figure(least, units),
                figure(most, units),
                f.verdict,
                f.words
            ),
            _ => put!("  fit {} ({}): {}", f.symbol, f.from, f.words),
        }
    }
    for (what, value) in [
        ("as made", &j.as_made),
        ("change since made", &j.change_since_made),
        ("last time", &j.last_time),
        ("change since last time", &j.change_since_last),
    ] {
        if let Some(f) = value {
            put!("  {what}: {}", figure(f, units));
        }
    }
    if !j.missing.is_empty() {
        put!("  not gauged: {}", j.missing.join(", "));
    }
    if !j.limits.is_empty() {
        put!("\nlimits:");
        let rows: Vec<Vec<String>> = j.limits.iter().map(|l| limit_row(l, units)).collect();
        table::print(&["verdict", "of", "when", "limit", "is", "guard", "from"], &rows);
        for l in j.limits.iter().filter(|l| l.verdict == "cannot tell") {
            let on = l.feature.as_deref().unwrap_or(&j.id);
            if l.gauge_lapsed {
                put!("  {on} {}: would be within, but a gauge was out of calibration", l.of);
            } else if let Some(gauge) = l.could_tell.first() {
                put!("  {on} {}: cannot be told with what was read; {gauge} could tell", l.of);
            } else if l.value.is_some() {
                put!(
                    "  {on} {}: cannot be told: take more readings; no other gauge listed could tell",
                    l.of
                );
            }
        }
    }
    if !j.budget.is_empty() {
        let degrees = j
            .degrees_of_freedom
            .map_or(String::new(), |d| format!(", {d:.0} effective degrees of freedom"));
        put!("\nwhere the uncertainty comes from (standard uncertainties{degrees}):");
        for c in &j.budget {
            put!("  {:5.1} %  {:>12}  {}", c.share_percent, short(&c.u, units), c.source);
        }
    }
    for f in &j.features {
        feature(f, units);
    }
    for d in &j.decisions {
        put!("\ndecided: {} {} by {} {} {}", d.repair, d.make.join(", "), d.by, d.when, d.reason);
    }
    if !j.chains.is_empty() {
        put!("\nin chains: {}", j.chains.join(", "));
    }
    for c in &j.cautions {
        put!("! {c}");
    }
}

fn doubt(u_si: Option<f64>, units: Units) -> String {
    let Some(u) = u_si else { return String::new() };
    match units {
        Units::Metric => format!(", ± {:.3} mm (k = 2)", 2e3 * u),
        Units::Imperial => format!(", ± {:.2} thou (k = 2)", 2.0 * u / 25.4e-6),
    }
}

fn limit_row(l: &LimitView, units: Units) -> Vec<String> {
    let limit = match (&l.min, &l.max) {
        (Some(a), Some(b)) => format!("{} to {}", short(a, units), short(b, units)),
        (Some(a), None) => format!("least {}", short(a, units)),
        (None, Some(b)) => format!("most {}", short(b, units)),
        (None, None) => String::new(),
    };
    vec![
        format!("{} {}", verdict_sign(l.verdict), l.verdict),
        match &l.feature {
            Some(f) => format!("{f} {}", l.of),
            None => l.of.to_owned(),
        },
        l.when.to_owned(),
        limit,
        l.value.as_ref().map_or("not to be had".to_owned(), |v| short(v, units).to_owned()),
        short(&l.guard, units).to_owned(),
        format!(
            "{}{}",
            l.source,
            if l.note.is_empty() { String::new() } else { format!(", {}", l.note) }
        ),
    ]
}

fn feature(f: &FeatureView, units: Units) {
    put!("\n{} ({}, on {})", f.name, f.id, f.part);
    if let Some(missing) = &f.missing {
        put!("  {missing}");
    }
    for (what, value) in [
        ("as made", &f.as_made),
        ("mean", &f.size),
        ("largest", &f.largest),
        ("smallest", &f.smallest),
        ("cleans up at", &f.clean_up),
        ("worn since made", &f.worn_since_made),
        ("worn since last time", &f.worn_since_last),
    ] {
        if let Some(v) = value {
            // A bearing that was re-metalled to a turned-down pin is smaller than it was made.
            let built_up = what.starts_with("worn") && v.si < -2.0 * v.u_si.unwrap_or(0.0);
            let note = if built_up { " (built up since)" } else { "" };
            put!("  {what}: {}{note}", figure(v, units));
        }
    }
    for m in &f.form {
        if m.measure != "wear" {
            put!("  {}: {}", m.measure, figure(&m.figure, units));
        }
    }
    if let Some(c) = f.condition {
        put!("  found {c}");
    }
    if !f.readings.is_empty() {
        let rows: Vec<Vec<String>> = f
            .readings
            .iter()
            .map(|r| {
                vec![
                    r.station.clone(),
                    r.direction_deg.map_or(String::new(), |d| format!("{d:.0}°")),
                    r.text.clone(),
                    r.gauge.clone(),
                    r.when.clone(),
                    r.by.clone(),
                    r.temperature_c.map_or(String::new(), |t| format!("{t:.0} degC")),
                    match r.status {
                        "counts" => String::new(),
                        other => other.to_owned(),
                    },
                ]
            })
            .collect();
        table::print(&["station", "at", "reading", "gauge", "day", "by", "temp", ""], &rows);
    }
}

/// The options of a joint.
pub(crate) fn options(options: &[OptionView], units: Units) {
    put!("\noptions:");
    for o in options {
        let mark = if o.recommended { "->" } else { "  " };
        put!("{mark} {}: {}", o.repair, o.words);
        for t in &o.targets {
            let suit = match (&t.to_suit, &t.more) {
                (Some(mate), Some(more)) => format!(": {}", to_suit(mate, more, units)),
                _ => String::new(),
            };
            put!(
                "       {} {} to {} ± {}{suit}",
                t.way,
                t.feature,
                figure(&t.to, units),
                short(&t.tolerance, units)
            );
        }
        if let Some(after) = &o.after {
            let chance = o
                .probability
                .map_or(String::new(), |p| format!("; inside its limits with {}", probability(p)));
            put!("       joint then {}{chance}", figure(after, units));
        }
        for e in o.joints.iter().chain(&o.chains) {
            put!("       moves {}", effect(e, units));
        }
        for e in &o.pistons {
            put!("       moves {}", effect(e, units));
        }
        for why in &o.against {
            put!("       not: {why}");
        }
    }
}

fn effect(e: &EffectView, units: Units) -> String {
    let show = |f: &Option<engine::view::Figure>| {
        f.as_ref().map_or("?".to_owned(), |f| short(f, units).to_owned())
    };
    let by = e.moves.as_ref().map_or(String::new(), |m| format!(" (by {})", figure(m, units)));
    let verdict = if e.verdict_before == e.verdict_after {
        e.verdict_after.to_owned()
    } else {
        format!("{} -> {}", e.verdict_before, e.verdict_after)
    };
    format!("{} {}: {} -> {}{by}, {verdict}", e.id, e.measure, show(&e.before), show(&e.after))
}

/// A trial.
pub(crate) fn trial(t: &TrialView, units: Units) {
    for act in &t.acts {
        put!("if you {act}:");
    }
    for s in &t.sizes {
        put!(
            "  {}: {} -> {}",
            s.feature,
            s.before.as_ref().map_or("not gauged".to_owned(), |b| short(b, units).to_owned()),
            figure(&s.after, units)
        );
    }
    if !t.joints.is_empty() {
        put!("joints that move:");
        for e in &t.joints {
            let chance = e
                .probability
                .map_or(String::new(), |p| format!("; inside its limits with {}", probability(p)));
            put!("  {}{chance}", effect(e, units));
        }
    }
    if !t.chains.is_empty() {
        put!("chains that move:");
        for e in &t.chains {
            put!("  {}", effect(e, units));
        }
    }
    if !t.pistons.is_empty() {
        put!("piston clearances that move:");
        for e in &t.pistons {
            put!("  {}", effect(e, units));
        }
    }
    if t.joints.is_empty() && t.chains.is_empty() && t.pistons.is_empty() {
        put!("nothing else moves");
    }
}
