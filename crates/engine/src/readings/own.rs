//! Readings that stand in the engine's own file.

use super::direction::parse_direction;
use crate::description::{Description, Sources, Text};
use crate::model::{DIRECTION_UNSAID, Date, Engine, Reading, ReadingKind, STATION_UNSAID};
use crate::problem::{Place, Problem, nearest};
use quantity::{Dimension, Quantity};

/// Adds the `[[reading]]` records of a description; every one not taken is a problem.
pub fn add_own_readings(
    engine: &mut Engine,
    description: &Description,
    sources: &Sources,
) -> Vec<Problem> {
    let mut problems = Vec::new();
    for (position, r) in description.readings.iter().enumerate() {
        let place = |t: &Text| sources.place(t.span().start);
        let Some(name) = &r.feature else {
            problems.push(Problem::new(
                Place::file(sources.own_file()),
                format!("[[reading]] number {} names no feature", position + 1),
                "write feature = \"...\"",
            ));
            continue;
        };
        let Some(feature) = engine.feature_by_id(name.get_ref().trim()) else {
            let near = nearest(name.get_ref(), engine.features.iter().map(|f| f.id.as_str()));
            let mend = near.map_or_else(String::new, |n| format!("did you mean \"{n}\"?"));
            problems.push(Problem::new(
                place(name),
                format!("there is no feature \"{}\"", name.get_ref()),
                mend,
            ));
            continue;
        };
        let Some(text) = &r.value else {
            problems.push(Problem::new(
                place(name),
                "this reading has no value",
                "write value = \"7.998 in\"",
            ));
            continue;
        };
        let value = match Quantity::parse_as(text.get_ref(), Dimension::Length) {
            Ok(v) => v,
            Err(e) => {
                problems.push(Problem::new(
                    place(text),
                    format!("\"{}\": {}", text.get_ref(), e.reason()),
                    e.hint(),
                ));
                continue;
            }
        };
        let mut faults = Vec::new();
        let mut fault = |t: &Text, mend: String| {
            faults.push(Problem::new(place(t), format!("\"{}\" cannot be", t.get_ref()), mend))
        };
        let mut station = STATION_UNSAID;
        if let Some(t) = &r.station {
            let stations = &engine.feature(feature).stations;
            match stations.iter().position(|s| s.eq_ignore_ascii_case(t.get_ref().trim())) {
                Some(at) => station = at as u16,
                None => fault(t, format!("its stations are {}", stations.join(", "))),
            }
        }
        let mut direction_rad = DIRECTION_UNSAID;
        if let Some(t) = &r.direction {
            match parse_direction(t.get_ref()) {
                Ok(rad) => direction_rad = rad,
                Err(mend) => fault(t, mend),
            }
        }
        let mut when = None;
        if let Some(t) = &r.when {
            match Date::parse(t.get_ref()) {
                Ok(d) => when = Some(d),
                Err(mend) => fault(t, mend),
            }
        }
        let mut gauge = None;
        if let Some(t) = &r.gauge {
            gauge = engine.gauge_by_id(t.get_ref().trim());
            if gauge.is_none() {
                fault(t, "describe the gauge in a [[gauge]]".to_owned());
            }
        }
        let mut temperature_c = None;
        if let Some(t) = &r.temperature {
            match Quantity::parse_as(t.get_ref(), Dimension::Temperature) {
                Ok(q) => temperature_c = Some((q.si() - 273.15) as f32),
                Err(e) => fault(t, format!("{}; write 12 degC or 54 degF", e.reason())),
            }
        }
        let mut kind = ReadingKind::Across;
        if let Some(t) = &r.kind {
            match t.get_ref().trim() {
                "across" => {}
                "dial" => kind = ReadingKind::Dial,
                _ => fault(t, "across or dial".to_owned()),
            }
        }
        let mut repeats = 1;
        if let Some(n) = &r.repeats {
            match u16::try_from(*n.get_ref()).ok().filter(|n| (1..=1000).contains(n)) {
                Some(n) => repeats = n,
                None => faults.push(Problem::new(
                    sources.place(n.span().start),
                    format!("{} repeats cannot be", n.get_ref()),
                    "1 to 1000",
                )),
            }
        }
        if !faults.is_empty() {
            problems.append(&mut faults);
            continue;
        }
        let by = r.by.as_ref().map(|t| engine.person(t.get_ref().trim()));
        engine.readings.push(Reading {
            text: value.text().into(),
            si: value.si(),
            resolution_si: value.resolution_si(),
            direction_rad,
            temperature_c,
            feature,
            gauge,
            by,
            when,
            station,
            repeats,
            kind,
            file: 0,
            row: u32::try_from(place(text).line).unwrap_or(u32::MAX),
            struck: false,
        });
    }
    problems
}
