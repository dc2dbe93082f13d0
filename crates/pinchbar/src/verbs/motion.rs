//! Verbs of the motion: where, bring, reach, clearances, centre, loads, balance.

use super::motion_what_if::WhatIf;
use super::{judged, motion_drawing as drawing, print_json};
use crate::args::{Args, Verb};
use crate::failure::put;
use crate::failure::{BEYOND, DONE, Failure, PARTLY};
use crate::say;
use engine::judge::Judgement;
use engine::model::Date;
use engine::motion::{self, Mechanism, NoAnswer, SteamSaid};
use engine::view;
use quantity::{Dimension, Quantity};
use serde::Serialize;
use std::path::Path;

/// Runs one of them.
pub(super) fn run(args: &Args, today: Date) -> Result<u8, Failure> {
    let (engine, changes) = match &args.verb {
        Verb::Where { engine, what_if, .. }
        | Verb::Bring { engine, what_if, .. }
        | Verb::Reach { engine, what_if, .. }
        | Verb::Clearances { engine, what_if, .. }
        | Verb::Centre { engine, what_if, .. }
        | Verb::Loads { engine, what_if, .. }
        | Verb::Balance { engine, what_if, .. } => (engine, what_if),
        _ => return Err(Failure::Fault("not a verb of the motion".to_owned())),
    };
    let what_if = WhatIf::read(changes)?;
    let (judgement, whole) = judged(args, what_if.open(engine, today)?)?;
    let judgement = what_if.lay_on(judgement)?;
    if !args.json {
        for change in changes {
            put!("as if {change}:");
        }
    }
    let beyond = answer(args, &judgement)?;
    Ok(if !whole {
        PARTLY
    } else if beyond {
        BEYOND
    } else {
        DONE
    })
}

fn answer(args: &Args, judgement: &Judgement) -> Result<bool, Failure> {
    let units = args.units;
    match &args.verb {
        Verb::Where { position, steps: Some(steps), svg, .. } => {
            let (mechanism, from) = place(judgement, position.as_deref().unwrap_or("wheel 0"))?;
            let shown =
                view::revolution_view(judgement, &mechanism, &from, *steps).map_err(wrong)?;
            show(args, &shown, || say::motion::revolution(&shown, units))?;
            if let Some(to) = svg {
                let angles = view::turn_from(&mechanism, &from, *steps).map_err(wrong)?;
                drawing::steps(args, judgement, &mechanism, &angles, to)?;
            }
        }
        Verb::Where { position, svg, .. } => {
            let (mechanism, said) = place(judgement, position.as_deref().unwrap_or_default())?;
            let standing = motion::standing(&mechanism, &said).map_err(wrong)?;
            let shown = view::position_view(judgement, &mechanism, &standing);
            show(args, &shown, || say::motion::position(&shown, units))?;
            if let Some(file) = svg {
                drawing::position(args, judgement, &mechanism, standing.wheel, file)?;
            }
        }
        Verb::Bring { position, from, doubt, svg, .. } => {
            let (mechanism, to) = place(judgement, position)?;
            let from = motion::parse_said(&judgement.engine().motion, from).map_err(wrong)?;
            let doubt_rad = angle(doubt.as_deref())?;
            let found = motion::bring(&mechanism, &from, doubt_rad, &to).map_err(wrong)?;
            let shown = view::bring_view(judgement, &mechanism, &found);
            show(args, &shown, || say::motion::bring(&shown, doubt.is_none(), units))?;
            if let Some(file) = svg {
                drawing::position(args, judgement, &mechanism, found.to.wheel, file)?;
            }
        }
        Verb::Reach { jobs, from, doubt, .. } => {
            let (mechanism, from) = place(judgement, from)?;
            let standing = motion::standing(&mechanism, &from).map_err(wrong)?;
            let model = &judgement.engine().motion;
            let doubt_rad = angle(doubt.as_deref())?;
            let found =
                motion::reaching(model, &mechanism, jobs, &from, doubt_rad).map_err(wrong)?;
            let shown = view::reach_view(judgement, &mechanism, &standing, &found);
            show(args, &shown, || say::motion::reach(&shown, doubt.is_none(), units))?;
        }
        Verb::Clearances { all, svg, .. } => {
            if judgement.engine().motion.cylinders.is_empty() {
                Mechanism::of(judgement).map_err(wrong)?;
            }
            let shown = view::clearances_view(judgement);
            if shown.cylinders.is_empty() {
                return Err(Failure::wrong(shown.missing.join("\n"), ""));
            }
            show(args, &shown, || say::motion::clearances(&shown, *all, units))?;
            if let Some(file) = svg {
                drawing::clearances(args, judgement, file)?;
            }
            return Ok(shown.cylinders.iter().flat_map(|c| &c.ends).any(|e| e.verdict == "beyond"));
        }
        Verb::Centre { cylinder, bump_test, wanted, .. } => {
            let model = &judgement.engine().motion;
            let at = model.cylinder_by_id(cylinder).ok_or_else(|| {
                let ids: Vec<&str> = model.cylinders.iter().map(|c| c.id.as_str()).collect();
                Failure::wrong(
                    format!("there is no cylinder \"{cylinder}\""),
                    format!("there are: {}", ids.join(", ")),
                )
            })?;
            let wanted_m = number(wanted, Dimension::Length)?;
            let from = if *bump_test { motion::From::BumpTest } else { motion::From::Chain };
            let found = motion::centring(judgement, at, from, wanted_m).map_err(wrong)?;
            let shown = view::centre_view(judgement, &found);
            show(args, &shown, || say::motion::centre(&shown, units))?;
        }
        Verb::Loads { speed, pressure, cut_off, diagram, svg, .. } => {
            let mechanism = Mechanism::of(judgement).map_err(wrong)?;
            let speed = number(speed, Dimension::Speed)?;
            let steam = steam(pressure.as_deref(), cut_off.as_deref(), diagram.as_deref())?;
            let found = motion::working(judgement, &mechanism, speed, &steam).map_err(wrong)?;
            let shown = view::loads_view(judgement, &mechanism, &found);
            show(args, &shown, || say::motion::loads(&shown, units))?;
            if let Some(file) = svg {
                drawing::loads(args, judgement, &mechanism, &found, file)?;
            }
        }
        Verb::Balance { speed, heavier, .. } => {
            let mechanism = Mechanism::of(judgement).map_err(wrong)?;
            let speed = number(speed, Dimension::Speed)?;
            let model = &judgement.engine().motion;
            let heavier = heavier
                .iter()
                .map(|text| motion::parse_heavier(model, text).map_err(wrong))
                .collect::<Result<Vec<_>, _>>()?;
            let found = motion::balancing(judgement, &mechanism, speed, &heavier).map_err(wrong)?;
            let shown = view::balance_view(judgement, &found);
            show(args, &shown, || say::motion::balance(&shown, &heavier, units))?;
        }
        _ => return Err(Failure::Fault("not a verb of the motion".to_owned())),
    }
    Ok(false)
}

/// The mechanism and a position of it.
fn place(judgement: &Judgement, text: &str) -> Result<(Mechanism, motion::Said), Failure> {
    // What is wrong with the words is told before what is missing in the engine.
    let said = motion::parse_said(&judgement.engine().motion, text);
    let mechanism = Mechanism::of(judgement).map_err(wrong)?;
    Ok((mechanism, said.map_err(wrong)?))
}

pub(super) fn wrong(e: NoAnswer) -> Failure {
    match e {
        NoAnswer::Words { what, mend } => Failure::wrong(what, mend),
        other => Failure::wrong(other.to_string(), ""),
    }
}

fn show(args: &Args, view: &impl Serialize, words: impl FnOnce()) -> Result<(), Failure> {
    if args.json {
        print_json(view)
    } else {
        words();
        Ok(())
    }
}

fn number(text: &str, dimension: Dimension) -> Result<f64, Failure> {
    Quantity::parse_as(text.trim(), dimension)
        .map(|q| q.si())
        .map_err(|e| Failure::wrong(format!("{}\n{}", e.reason(), e.caret()), e.hint()))
}

fn angle(text: Option<&str>) -> Result<f64, Failure> {
    text.map_or(Ok(0.0), |t| number(t, Dimension::Angle))
}

fn steam(
    pressure: Option<&str>,
    cut_off: Option<&str>,
    diagram: Option<&Path>,
) -> Result<SteamSaid, Failure> {
    if let Some(file) = diagram {
        let name = file.display().to_string();
        let text = std::fs::read_to_string(file).map_err(|e| {
            Failure::wrong(format!("{name} cannot be read: {e}"), "check the name and the rights")
        })?;
        return match motion::read_diagram(&name, &text) {
            Ok(ends) => Ok(SteamSaid::Diagrams(Box::new(ends))),
            Err(found) => {
                let all: Vec<String> = found.iter().take(20).map(ToString::to_string).collect();
                Err(Failure::wrong(all.join("\n"), ""))
            }
        };
    }
    let Some(pressure) = pressure else { return Ok(SteamSaid::Drifting) };
    let pressure = number(pressure, Dimension::Pressure)?;
    Ok(match cut_off {
        Some(share) => SteamSaid::CutOff(pressure, number(share, Dimension::Number)?),
        None => SteamSaid::WholeStroke(pressure),
    })
}
