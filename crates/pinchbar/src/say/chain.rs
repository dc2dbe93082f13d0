//! One chain.

use super::{figure, probability, short, table};
use crate::args::Units;
use crate::failure::put;
use engine::view::{ChainView, SimulationView, verdict_sign};

/// A chain in full, with its simulation or why there is none.
pub(crate) fn chain(c: &ChainView, simulation: Result<&SimulationView, &str>, units: Units) {
    put!("{} ({})", c.name, c.id);
    put!("in service: {} {}", verdict_sign(c.verdict), c.verdict);
    if let Some(told_by) = &c.told_by {
        put!(
            "  the clearance of the {told_by} cover counts instead, with the box where it stands in its horns: see `pinchbar clearances`"
        );
    }
    for (what, value) in [("length", &c.length), ("as made", &c.as_made), ("change", &c.change)] {
        if let Some(f) = value {
            put!("  {what}: {}", figure(f, units));
        }
    }
    for l in &c.limits {
        let limit = [("least", &l.min), ("most", &l.max)]
            .iter()
            .filter_map(|(word, f)| f.as_ref().map(|f| format!("{word} {}", short(f, units))))
            .collect::<Vec<_>>()
            .join(", ");
        put!(
            "  {} {} in {}: {limit} ({}{}{})",
            verdict_sign(l.verdict),
            l.verdict,
            l.when,
            l.source,
            if l.note.is_empty() { "" } else { ", " },
            l.note
        );
    }
    put!();
    let rows: Vec<Vec<String>> = c
        .terms
        .iter()
        .map(|t| {
            let size = match &t.size {
                Some(size) => figure(size, units),
                None if c.assumed.contains(&t.feature) => {
                    "as made, for want of a reading".to_owned()
                }
                None => "not gauged".to_owned(),
            };
            vec![format!("{:+}", t.factor), t.feature.clone(), size]
        })
        .collect();
    table::print(&["", "term", "size"], &rows);
    if !c.budget.is_empty() {
        put!("\nwhere the uncertainty comes from:");
        for b in &c.budget {
            put!("  {:5.1} %  {:>12}  {}", b.share_percent, short(&b.u, units), b.source);
        }
    }
    match simulation {
        Ok(s) => {
            put!("\n{} draws (seed {}):", s.draws, s.seed);
            put!(
                "  mean {}, standard deviation {} (first order {})",
                figure(&s.mean, units),
                short(&s.standard_deviation, units),
                short(&s.first_order, units)
            );
            put!("  95 % of them from {} to {}", short(&s.low, units), short(&s.high, units));
            put!(
                "  everything at its worst: {} to {}",
                short(&s.worst_low, units),
                short(&s.worst_high, units)
            );
            if let Some(p) = s.inside {
                put!("  inside the limits in service: {}", probability(p));
            }
        }
        Err(why) => put!("\nnot simulated: {why}"),
    }
}
