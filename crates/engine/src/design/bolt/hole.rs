//! The holes as found: form, line, and whether to ream.

use crate::design::ask::Ask;
use crate::design::shapes::{Absent, Design, Line, Of, Section, Standing};
use crate::design::wanted::gauged;
use mechanics::bolt::{
    self as mb, GaugeUncertainty, HoleForm, HoleReading, Mismatch, ReamAdvice, ReamDecision,
    ReamReason,
};

/// The hole in each member, and over its whole depth.
pub(super) fn holes(
    ask: &mut Ask<'_>,
    members: &[f64],
    names: &[String],
) -> Result<(Vec<HoleForm>, HoleForm), String> {
    let joint = ask.judgement.engine().joint(ask.joint);
    let (readings, own_u_m) = gauged(ask.judgement, joint.outer);
    let shared_u_m = ask.judgement.feature(joint.outer).size.as_ref().map_or(0.0, |e| e.u());
    let gauge = GaugeUncertainty { own_u_m, shared_u_m };
    let depth: f64 = members.iter().sum();
    let id = &ask.judgement.engine().feature(joint.outer).id;
    if readings.is_empty() {
        return Err(format!(
            "{id} has no reading at a named station: gauge the hole, depth by depth"
        ));
    }
    if let Some(r) = readings.iter().find(|r| r.depth_m > depth * (1.0 + 1e-9)) {
        return Err(format!(
            "{id} was read {:.1} mm deep, the members are {:.1} mm together: correct `members` or the stations",
            1e3 * r.depth_m,
            1e3 * depth
        ));
    }
    let reading = |r: &crate::design::wanted::Gauged, start: f64| HoleReading {
        depth_m: r.depth_m - start,
        direction_rad: r.direction_rad.unwrap_or(0.0),
        diameter_m: r.size_m,
    };
    let mut forms = Vec::with_capacity(members.len());
    let mut start = 0.0;
    for (i, length) in members.iter().enumerate() {
        let last = i + 1 == members.len();
        let inside: Vec<HoleReading> = readings
            .iter()
            .filter(|r| r.depth_m >= start && (last || r.depth_m < start + length))
            .map(|r| reading(r, start))
            .collect();
        if inside.is_empty() {
            return Err(format!(
                "{id} has no reading in {} ({:.1} to {:.1} mm deep): gauge it there",
                names[i],
                1e3 * start,
                1e3 * (start + length)
            ));
        }
        forms.push(mb::hole_form(&inside, *length, gauge).map_err(|e| e.to_string())?);
        start += length;
    }
    let all: Vec<HoleReading> = readings.iter().map(|r| reading(r, 0.0)).collect();
    let whole = mb::hole_form(&all, depth, gauge).map_err(|e| e.to_string())?;
    Ok((forms, whole))
}

/// Where the members' holes lie beside one another, from the largest plug that passes.
pub(super) fn centres(
    ask: &mut Ask<'_>,
    found: &[HoleForm],
    out: &mut Design,
) -> Result<Vec<(f64, f64)>, String> {
    let none = vec![(0.0, 0.0); found.len()];
    let Some(pin) = ask.maybe("largest-pin-through") else {
        out.absent.push(Absent {
            what: "whether the members' holes are in one line".to_owned(),
            why: String::new(),
            wants: vec![
                "largest-pin-through = \"35.00 mm\" (largest plug that passes the holes as they are)"
                    .to_owned(),
            ],
        });
        return Ok(none);
    };
    let mut sizes: Vec<f64> = found.iter().map(|f| f.min_m).collect();
    sizes.sort_by(f64::total_cmp);
    let [first, second, ..] = sizes.as_slice() else { return Ok(none) };
    let offset = match mb::mismatch_from_pin(*first, *second, pin).map_err(|e| e.to_string())? {
        Mismatch::Exactly(m) | Mismatch::AtMost(m) => m.max(0.0),
    };
    out.sections.push(Section::new(
        "line",
        vec![Line::one("holes out of line by at most", offset, Of::Difference)],
    ));
    Ok(found
        .iter()
        .enumerate()
        .map(|(i, _)| if i == 0 { (0.0, 0.0) } else { (offset, 0.0) })
        .collect())
}

pub(super) fn hole_lines(
    found: &[HoleForm],
    whole: &HoleForm,
    names: &[String],
    advice: &ReamAdvice,
    reamed_m: Option<f64>,
    decided: bool,
    out: &mut Design,
) {
    let mut lines: Vec<Line> = found
        .iter()
        .zip(names)
        .map(|(f, name)| {
            let mut note = format!("{:.3} to {:.3} mm", 1e3 * f.min_m, 1e3 * f.max_m);
            if let Some(o) = f.out_of_round_m {
                note.push_str(&format!(", out of round {:.3}", 1e3 * o));
            }
            if let Some(t) = f.taper_m {
                note.push_str(&format!(", taper {:.3}", 1e3 * t));
            }
            Line::one(format!("hole in {name}"), f.size_m, Of::Size).note(note)
        })
        .collect();
    if let (Some(a), Some(b)) = (whole.bell_head_m, whole.bell_far_m) {
        lines.push(Line::one("bell-mouth at the head side", a, Of::Difference));
        lines.push(Line::one("bell-mouth at the far side", b, Of::Difference));
    }
    let member = |i: usize| match i.checked_sub(1) {
        None => "the whole depth".to_owned(),
        Some(i) => names.get(i).cloned().unwrap_or_default(),
    };
    for reason in &advice.reasons {
        let (what, i, found, limit) = match *reason {
            ReamReason::OutOfRound { member, found_m, limit_m } => {
                ("out of round", member, found_m, limit_m)
            }
            ReamReason::Tapered { member, found_m, limit_m } => {
                ("tapered", member, found_m, limit_m)
            }
            ReamReason::BellMouthed { member, found_m, limit_m } => {
                ("bell-mouthed", member, found_m, limit_m)
            }
            ReamReason::OffLine { member, found_m, limit_m } => {
                ("out of line", member, found_m, limit_m)
            }
        };
        lines.push(
            Line::one(format!("{}: {what} by", member(i)), found, Of::Difference)
                .note(format!("{:.3} mm is allowed", 1e3 * limit))
                .stands(Standing::Bad),
        );
    }
    for (i, why) in &advice.not_judged {
        if *i == 0 {
            lines.push(Line::words("not judged over the whole depth", *why).stands(Standing::Look));
        }
    }
    let alone = advice.not_judged.iter().filter(|(i, _)| *i > 0).count();
    if alone > 0 {
        lines.push(
            Line::words(
                "not judged member by member",
                "form within a member wants readings at three depths and two directions in it",
            )
            .stands(Standing::Look),
        );
    }
    let (words, standing) = match (advice.decision, decided) {
        (_, true) => ("ream to the size decided", Standing::Plain),
        (ReamDecision::LeaveAsFound, _) => ("leave the holes as found", Standing::Good),
        (ReamDecision::Ream { .. }, _) => ("ream the holes in line", Standing::Plain),
        (ReamDecision::NoReamer { .. }, _) => {
            ("no reamer in the shop is large enough", Standing::Bad)
        }
        (ReamDecision::TooLarge { .. }, _) => {
            ("the next reamer is above the largest hole allowed", Standing::Bad)
        }
    };
    let mut line = match (advice.decision, reamed_m) {
        (_, Some(size)) => Line::one(words, size, Of::Size),
        (ReamDecision::NoReamer { needed_m }, None) => {
            Line::one(words, needed_m, Of::Size).note("at least this is needed")
        }
        (ReamDecision::TooLarge { reamer_m, largest_m }, None) => {
            Line::one(words, reamer_m, Of::Size)
                .note(format!("{:.3} mm is the most", 1e3 * largest_m))
        }
        _ => Line::words("reaming", words),
    };
    line = line.stands(standing);
    if let ReamDecision::Ream { takes_off_m, .. } = advice.decision {
        line = line.note(format!("takes {:.3} mm off the largest reading", 1e3 * takes_off_m));
    }
    lines.push(line);
    out.sections.push(Section::new("the hole as found", lines));
}
