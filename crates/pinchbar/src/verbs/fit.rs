//! Limits and fits: the figures of a symbol, and the fits for a wanted clearance.

use super::print_json;
use crate::args::Args;
use crate::failure::put;
use crate::failure::{DONE, Failure};
use mechanics::fits::{
    Band, FitKind, FitLimits, FitWanted, Grade, ImperialClass, Provenance, choose_fits,
    fundamental_deviation_m, parse_symbol, standard_tolerance_m,
};
use mechanics::press::{TyreRule, tyre_shrink_allowance_m};
use quantity::{Dimension, Quantity};
use serde_json::{Value, json};

/// The verb.
pub(super) fn fit(
    args: &Args,
    symbol: Option<&str>,
    size: Option<&str>,
    clearance: Option<&str>,
) -> Result<u8, Failure> {
    match (symbol, size, clearance) {
        (Some(text), _, _) => of_symbol(args, text),
        (None, Some(size), Some(clearance)) => for_clearance(args, size, clearance),
        _ => Err(Failure::wrong(
            "nothing was asked",
            "pinchbar fit \"60 H7/s6\", or pinchbar fit --size \"60 mm\" --clearance \"0.02 mm to 0.08 mm\"",
        )),
    }
}

fn length(text: &str) -> Result<f64, Failure> {
    Quantity::parse_as(text.trim(), Dimension::Length)
        .map(|q| q.si())
        .map_err(|e| Failure::wrong(format!("{}\n{}", e.reason(), e.caret()), e.hint()))
}

fn of_symbol(args: &Args, text: &str) -> Result<u8, Failure> {
    if let Some((size, class)) = imperial(text)? {
        let at = class.at(size).map_err(|e| Failure::wrong(e.to_string(), ""))?;
        let from = match at.provenance {
            Provenance::ReadInReprint => "ANSI B4.1, read in a reprint",
            Provenance::FromMemory => "ANSI B4.1, from memory",
        };
        show(args, text, &at.limits, from)?;
        return Ok(DONE);
    }
    let parsed = parse_symbol(text).map_err(|e| {
        let caret = " ".repeat(e.text.chars().take(e.at).count());
        Failure::wrong(
            format!("{}\n  {}\n  {caret}^", e.message, e.text),
            "write it as 60 H7/s6, 25 g6, or 2 in RC4",
        )
    })?;
    let size = parsed.size_m.ok_or_else(|| {
        Failure::wrong(format!("\"{text}\" has no size"), "write the size first: 60 H7/s6")
    })?;
    let source = "ISO 286-1, ISO 286-2 tables";
    if let Some(fit) = parsed.fit() {
        let limits = fit.at(size).map_err(|e| Failure::wrong(e.to_string(), ""))?;
        show(args, text, &limits, source)?;
        return Ok(DONE);
    }
    let zone = parsed.hole.or(parsed.shaft).ok_or_else(|| {
        Failure::wrong(format!("\"{text}\" names no tolerance"), "write it as 60 H7 or 25 g6")
    })?;
    let wrong = |e: mechanics::fits::FitsError| Failure::wrong(e.to_string(), "");
    let limits = zone.limits(size).map_err(wrong)?;
    let it = standard_tolerance_m(size, zone.grade).map_err(wrong)?;
    let fundamental = fundamental_deviation_m(size, zone).map_err(wrong)?;
    if args.json {
        print_json(&json!({
            "symbol": text, "size_m": size, "lower_m": limits.lower_m, "upper_m": limits.upper_m,
            "tolerance_m": it, "fundamental_deviation_m": fundamental, "source": source,
        }))?;
    } else {
        put!("{text}   ({source})");
        put!("  deviations   {}", both(limits.lower_m, limits.upper_m));
        put!("  size         {}", sizes(size + limits.lower_m, size + limits.upper_m));
        put!("  tolerance    {:.0} um, nearer deviation {:+.0} um", it * 1e6, fundamental * 1e6);
    }
    Ok(DONE)
}

/// `2 in RC4`, `1 1/2 in LN 2`.
fn imperial(text: &str) -> Result<Option<(f64, ImperialClass)>, Failure> {
    let Some((size, class)) = ImperialClass::parse_after_size(text) else { return Ok(None) };
    let class = class.map_err(|e| Failure::wrong(e.to_string(), ""))?;
    if size.is_empty() {
        return Err(Failure::wrong(
            format!("\"{text}\" has no size"),
            "write the size first: 2 in RC4",
        ));
    }
    Ok(Some((length(size)?, class)))
}

/// Shrinkage of a tyre by the old rules, and what it takes to put it on.
///
/// Heating: `(allowance + gap) / (d a)` with steel at 11.5e-6 per K (handbook); the tyre lets go of its
/// centre when it is `allowance / (d a)` hotter.
pub(super) fn tyre(args: &Args, size: &str, gap: &str) -> Result<u8, Failure> {
    const STEEL_PER_K: f64 = 11.5e-6;
    let (inside_m, gap_m) = (length(size)?, length(gap)?);
    if !(0.0..=0.05).contains(&gap_m) {
        return Err(Failure::wrong(format!("a gap of {gap} cannot be"), "--gap \"0.5 mm\""));
    }
    let rules = [
        (
            TyreRule::MasterMechanics,
            "American Railway Master Mechanics, in Machinery's Handbook (from memory; 38 to 66 in)",
        ),
        (TyreRule::EightiethInchPerFoot, "an eightieth of an inch for each foot (common practice)"),
        (TyreRule::ThousandthPerInch, "a thousandth of the diameter (Dooley)"),
    ];
    let mut found = Vec::new();
    let mut why = String::new();
    for (rule, source) in rules {
        match tyre_shrink_allowance_m(inside_m, rule) {
            Ok(m) => found.push((m, source)),
            Err(e) => why = e.to_string(),
        }
    }
    if found.is_empty() {
        return Err(Failure::wrong(why, "give the inside of the tyre: --tyre \"4 ft 8 in\""));
    }
    let heat = |m: f64| (m + gap_m) / (inside_m * STEEL_PER_K);
    let lets_go = |m: f64| m / (inside_m * STEEL_PER_K);
    let cautions = [
        "Heat it evenly all round and never to a colour; a competent person judges the heat, local rules the fire and the lift.",
        "Brake blocks warm a tyre above its centre: the figure is where all grip is gone, and half of it leaves half.",
        "The rules do not know the tyre's section, its wear or a split centre: `pinchbar design` on the joint does the section.",
    ];
    if args.json {
        let rows: Vec<Value> = found
            .iter()
            .map(|(m, source)| {
                json!({ "allowance_m": m, "source": source, "heat_k": heat(*m), "lets_go_k": lets_go(*m) })
            })
            .collect();
        print_json(
            &json!({ "inside_m": inside_m, "gap_m": gap_m, "rules": rows, "cautions": cautions }),
        )?;
        return Ok(DONE);
    }
    put!("tyre, inside {} when bored: bore it smaller than its centre by", size.trim());
    for (m, source) in &found {
        put!("  {:.3} mm ({:.1} thou)   {source}", 1e3 * m, m / 25.4e-6);
        put!(
            "      {:.0} K hotter than its centre for a gap of {}; loose when {:.0} K hotter",
            heat(*m),
            gap.trim(),
            lets_go(*m)
        );
    }
    for c in cautions {
        put!("! {c}");
    }
    Ok(DONE)
}

fn kind(k: FitKind) -> &'static str {
    match k {
        FitKind::Clearance => "clearance",
        FitKind::Transition => "transition",
        FitKind::Interference => "interference",
    }
}

fn both(low: f64, high: f64) -> String {
    format!(
        "{:+.1} to {:+.1} um   ({:+.2} to {:+.2} thou)",
        low * 1e6,
        high * 1e6,
        low / 25.4e-6,
        high / 25.4e-6
    )
}

fn sizes(low: f64, high: f64) -> String {
    format!(
        "{:.4} to {:.4} mm   ({:.5} to {:.5} in)",
        low * 1e3,
        high * 1e3,
        low / 25.4e-3,
        high / 25.4e-3
    )
}

fn limits_json(l: &FitLimits) -> Value {
    json!({
        "size_m": l.size_m,
        "hole_m": [l.hole_size().min_m, l.hole_size().max_m],
        "shaft_m": [l.shaft_size().min_m, l.shaft_size().max_m],
        "clearance_m": [l.clearance.min_m, l.clearance.max_m],
        "kind": kind(l.kind()),
    })
}

fn show(args: &Args, text: &str, l: &FitLimits, source: &str) -> Result<(), Failure> {
    if args.json {
        let mut value = limits_json(l);
        value["symbol"] = json!(text);
        value["source"] = json!(source);
        return print_json(&value);
    }
    put!("{text}: {} fit   ({source})", kind(l.kind()));
    put!("  hole         {}", both(l.hole.lower_m, l.hole.upper_m));
    put!("               {}", sizes(l.hole_size().min_m, l.hole_size().max_m));
    put!("  shaft        {}", both(l.shaft.lower_m, l.shaft.upper_m));
    put!("               {}", sizes(l.shaft_size().min_m, l.shaft_size().max_m));
    let (word, low, high) = match l.kind() {
        FitKind::Interference => ("interference", l.interference().min_m, l.interference().max_m),
        _ => ("clearance", l.clearance.min_m, l.clearance.max_m),
    };
    put!("  {word:<12} {}", both(low, high));
    Ok(())
}

fn for_clearance(args: &Args, size: &str, clearance: &str) -> Result<u8, Failure> {
    let size_m = length(size)?;
    let (low, high) = clearance.split_once(" to ").ok_or_else(|| {
        Failure::wrong(
            format!("\"{clearance}\" is not LEAST to MOST"),
            "write it as 0.02 mm to 0.08 mm",
        )
    })?;
    let wanted = Band { min_m: length(low)?, max_m: length(high)? };
    let mut ask = FitWanted::new(size_m, wanted);
    ask.at_most = 12;
    if let Some(grade) = Grade::it(5) {
        ask.finest = ask.finest.max(grade);
    }
    let choice = choose_fits(&ask).map_err(|e| Failure::wrong(e.to_string(), ""))?;
    let name = |c: &mechanics::fits::FitCandidate| c.fit.to_string();
    if args.json {
        let list: Vec<Value> = choice
            .candidates
            .iter()
            .map(|c| {
                let mut v = limits_json(&c.limits);
                v["fit"] = json!(name(c));
                v["preferred"] = json!(c.preferred);
                v
            })
            .collect();
        print_json(&json!({ "found": choice.found, "examined": choice.examined, "fits": list }))?;
        return Ok(DONE);
    }
    put!(
        "{} of {} fits of {} lie within {}; hole basis first, the widest tolerances first:",
        choice.found,
        choice.examined,
        size.trim(),
        clearance.trim()
    );
    for c in &choice.candidates {
        put!(
            "  {:<10} {:<9} clearance {}",
            name(c),
            if c.preferred { "preferred" } else { "" },
            both(c.limits.clearance.min_m, c.limits.clearance.max_m)
        );
    }
    if choice.candidates.is_empty() {
        put!("  none: widen what is wanted, or make the pair to suit one another");
    }
    Ok(DONE)
}
