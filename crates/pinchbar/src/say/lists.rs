//! The lists: an engine at a glance, the machine-to list, what was refused.

use super::{figure, short, table, to_suit};
use crate::args::Units;
use crate::failure::put;
use crate::folder::Opened;
use engine::readings::Refused;
use engine::view::{MachineToView, Summary, SuspicionView, verdict_sign};
use std::path::Path;

/// Refused rows printed before the rest are only counted.
const MOST_REFUSED: usize = 20;
/// Lapsed-gauge readings are told per gauge, not one by one.
const BY_GAUGE: &str = "gauge lapsed";

/// An engine at a glance, what is beyond first.
pub(crate) fn summary(s: &Summary, units: Units, all: bool) {
    let c = &s.counts;
    put!(
        "{}{}",
        s.engine,
        if s.railway.is_empty() { String::new() } else { format!(", {}", s.railway) }
    );
    put!(
        "{} parts, {} features ({} gauged), {} joints, {} chains, {} readings{}",
        c.parts,
        c.features,
        c.features_gauged,
        c.joints,
        c.chains,
        c.readings,
        s.judged_on.as_ref().map_or(String::new(), |d| format!("; judged on {d}")),
    );
    put!(
        "joints: {} beyond, {} near, {} cannot tell, {} within{}",
        c.beyond,
        c.near,
        c.cannot_tell,
        c.within,
        if c.no_limit > 0 { format!(", {} without a limit", c.no_limit) } else { String::new() }
    );
    if !s.pistons.is_empty() {
        let p = &s.piston_counts;
        put!(
            "piston clearances: {} beyond, {} near, {} cannot tell, {} within{}",
            p.beyond,
            p.near,
            p.cannot_tell,
            p.within,
            if p.no_limit > 0 {
                format!(", {} without a limit", p.no_limit)
            } else {
                String::new()
            }
        );
    }
    let rows: Vec<Vec<String>> = s
        .joints
        .iter()
        .filter(|j| all || matches!(j.verdict, "beyond" | "near" | "cannot tell"))
        .map(|j| {
            vec![
                format!("{} {}", verdict_sign(j.verdict), j.verdict),
                j.id.clone(),
                j.kind.to_owned(),
                j.because.clone(),
            ]
        })
        .collect();
    if !rows.is_empty() {
        put!();
        table::print(&["verdict", "joint", "kind", "because"], &rows);
    }
    pistons(s, units, all);
    chains(s, units, all);
    if !s.loose_features.is_empty() {
        put!("\nfeatures outside joints:");
        for l in &s.loose_features {
            put!(
                "  {} {} {} {} {}",
                verdict_sign(l.verdict),
                l.verdict,
                l.feature.as_deref().unwrap_or(""),
                l.of,
                l.value.as_ref().map_or(String::new(), |v| figure(v, units))
            );
        }
    }
    suspicious(s, units);
    if !s.findings.is_empty() {
        put!("\nconditions found:");
        for f in &s.findings {
            put!(
                "  {}: {}{}",
                f.feature,
                f.condition,
                if f.note.is_empty() { String::new() } else { format!(" ({})", f.note) }
            );
        }
    }
}

fn pistons(s: &Summary, units: Units, all: bool) {
    let rows: Vec<Vec<String>> = s
        .pistons
        .iter()
        .filter(|p| all || matches!(p.verdict, "beyond" | "near" | "cannot tell"))
        .map(|p| {
            vec![
                format!("{} {}", verdict_sign(p.verdict), p.verdict),
                p.name.clone(),
                p.clearance.as_ref().map_or("not to be had".to_owned(), |c| figure(c, units)),
                p.because.clone(),
            ]
        })
        .collect();
    if !rows.is_empty() {
        put!();
        table::print(&["verdict", "piston", "clearance", "because"], &rows);
    }
}

fn chains(s: &Summary, units: Units, all: bool) {
    let rows: Vec<Vec<String>> = s
        .chains
        .iter()
        .filter(|c| all || matches!(c.verdict, "beyond" | "near" | "cannot tell"))
        .map(|c| {
            let length = c.length.as_ref().map_or_else(
                || format!("not to be had; not gauged: {}", c.missing.join(", ")),
                |l| figure(l, units),
            );
            let change = c
                .change
                .as_ref()
                .map_or(String::new(), |x| format!("{} against as made", short(x, units)));
            vec![format!("{} {}", verdict_sign(c.verdict), c.verdict), c.id.clone(), length, change]
        })
        .collect();
    if !rows.is_empty() {
        put!();
        table::print(&["verdict", "chain", "length", ""], &rows);
    }
}

fn suspicious(s: &Summary, units: Units) {
    let (by_gauge, single): (Vec<&SuspicionView>, Vec<&SuspicionView>) =
        s.suspicious.iter().partition(|x| x.slip == BY_GAUGE);
    if !single.is_empty() || !by_gauge.is_empty() || !s.swaps.is_empty() {
        put!("\nlook at these readings again:");
    }
    for x in single {
        let place = match (x.station.is_empty(), x.direction_deg) {
            (false, Some(d)) => format!(" {} at {d:.0}°", x.station),
            (false, None) => format!(" {}", x.station),
            (true, Some(d)) => format!(" at {d:.0}°"),
            (true, None) => String::new(),
        };
        let meant =
            x.meant.as_ref().map_or(String::new(), |m| format!("; meant {}?", figure(m, units)));
        let aside = if x.set_aside { " [set aside]" } else { "" };
        put!(
            "  {}{place}: {} (row {}) {}: {}{meant}{aside}",
            x.feature,
            x.text,
            x.row,
            x.slip,
            x.why
        );
    }
    for g in s.gauges.iter().filter(|g| g.lapsed_readings > 0) {
        put!(
            "  {} readings were taken with {} after its calibration ran out on {}: gauge those features again",
            g.lapsed_readings,
            g.id,
            g.due.as_deref().unwrap_or("?")
        );
    }
    for swap in &s.swaps {
        put!("  {}", swap.words);
    }
}

/// The machine-to list.
pub(crate) fn machine_to(m: &MachineToView, units: Units) {
    if m.lines.is_empty() {
        put!("nothing is to be machined{}", if m.open.is_empty() { "" } else { " yet" });
    } else {
        put!("machine to (sizes at 20 degC):");
        let rows: Vec<Vec<String>> = m
            .lines
            .iter()
            .map(|l| {
                let suit = match (&l.to_suit, &l.more) {
                    (Some(mate), Some(more)) => to_suit(mate, more, units),
                    _ => String::new(),
                };
                let who = l
                    .decided_by
                    .as_ref()
                    .map_or("recommended".to_owned(), |b| format!("decided, {b}"));
                vec![
                    l.feature.clone(),
                    l.way.to_owned(),
                    l.now.as_ref().map_or("not gauged".to_owned(), |n| short(n, units).to_owned()),
                    figure(&l.to, units),
                    format!("± {}", short(&l.tolerance, units)),
                    suit,
                    format!("{}{who}", if l.conflict { "CONFLICT, " } else { "" }),
                ]
            })
            .collect();
        table::print(&["feature", "way", "now", "make to", "", "to suit", ""], &rows);
    }
    for t in &m.to_do {
        put!("  {}: {}", t.joint, t.why);
    }
    for l in &m.liners {
        put!("  liner for {}: {}", l.joint, figure(&l.thickness, units));
    }
    for f in &m.families {
        put!(
            "  {}: one size would serve {}: {}",
            f.family,
            f.members.join(", "),
            figure(&f.common, units)
        );
    }
    if !m.open.is_empty() {
        put!("\nstill open:");
        for o in &m.open {
            put!("  {}: {}", o.joint, o.why);
        }
    }
    put!();
    for c in &m.cautions {
        put!("! {c}");
    }
}

/// Everything that was refused, on the error stream.
pub(crate) fn refused(opened: &Opened) {
    faults_and_counts(opened);
    for (shown, (file, r)) in opened.refused().enumerate() {
        if shown == MOST_REFUSED {
            eprintln!("  ... and more; --json lists them all");
            break;
        }
        refused_row(file, r);
    }
}

/// What was refused in a few lines, the first row of each table whole: for verbs that were asked
/// something else, so that yesterday's slips do not bury today's answer.
pub(crate) fn refused_briefly(opened: &Opened) {
    faults_and_counts(opened);
    let mut told: Option<&Path> = None;
    for (file, r) in opened.refused() {
        if told != Some(file) {
            refused_row(file, r);
            told = Some(file);
        }
    }
    if 1 < opened.refused().count() {
        eprintln!("    `pinchbar judge` lists the rest");
    }
}

fn faults_and_counts(opened: &Opened) {
    for problem in &opened.problems {
        eprintln!("{problem}");
    }
    for (file, table) in &opened.tables {
        let n = table.refused_count();
        if n != 0 {
            eprintln!("{}: {n} of {} rows refused:", file.display(), table.rows);
        }
    }
}

fn refused_row(file: &Path, r: &Refused) {
    let column = if r.column.is_empty() { String::new() } else { format!(" {}", r.column) };
    eprintln!(
        "{}:{}:{column} {}\n    mend: {}\n    row:  {}",
        file.display(),
        r.line,
        r.what,
        r.mend,
        r.row
    );
}
