//! One chain.

use super::{figure, probability, short, table};
use crate::args::Units;
use engine::view::{ChainView, SimulationView, verdict_sign};

/// A chain in full, with its simulation or why there is none.
pub(crate) fn chain(c: &ChainView, simulation: Result<&SimulationView, &str>, units: Units) {
    println!("{} ({})", c.name, c.id);
    println!("in service: {} {}", verdict_sign(c.verdict), c.verdict);
    for (what, value) in [("length", &c.length), ("as made", &c.as_made), ("change", &c.change)] {
        if let Some(f) = value {
            println!("  {what}: {}", figure(f, units));
        }
    }
    for l in &c.limits {
        let limit = [("least", &l.min), ("most", &l.max)]
            .iter()
            .filter_map(|(word, f)| f.as_ref().map(|f| format!("{word} {}", short(f, units))))
            .collect::<Vec<_>>()
            .join(", ");
        println!(
            "  {} {} in {}: {limit} ({}{}{})",
            verdict_sign(l.verdict),
            l.verdict,
            l.when,
            l.source,
            if l.note.is_empty() { "" } else { ", " },
            l.note
        );
    }
    println!();
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
        println!("\nwhere the uncertainty comes from:");
        for b in &c.budget {
            println!("  {:5.1} %  {:>12}  {}", b.share_percent, short(&b.u, units), b.source);
        }
    }
    match simulation {
        Ok(s) => {
            println!("\n{} draws (seed {}):", s.draws, s.seed);
            println!(
                "  mean {}, standard deviation {} (first order {})",
                figure(&s.mean, units),
                short(&s.standard_deviation, units),
                short(&s.first_order, units)
            );
            println!("  95 % of them from {} to {}", short(&s.low, units), short(&s.high, units));
            println!(
                "  everything at its worst: {} to {}",
                short(&s.worst_low, units),
                short(&s.worst_high, units)
            );
            if let Some(p) = s.inside {
                println!("  inside the limits in service: {}", probability(p));
            }
        }
        Err(why) => println!("\nnot simulated: {why}"),
    }
}
