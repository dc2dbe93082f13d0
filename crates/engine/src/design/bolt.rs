//! A fitted bolt made to its own measured holes.

use super::ask::{Ask, because};
use super::plan::Plan;
use super::shapes::{Absent, Design, Line, Of, Section, Standing};
use super::wanted::{form_limit, gauged, interference};
use crate::model::{JointIx, Measure};
use mechanics::bolt::{
    self as mb, BoltDesign, BoltLoad, BoltStress, BoltWanted, DesignFinding, DesignMember,
    DriveInput, DriveMember, DriveResult, FormLimits, GaugeUncertainty, Head, HoleForm,
    HoleReading, Jack, LandRole, LoadMember, MatchInput, Matching, Mismatch, ReamAdvice,
    ReamDecision, ReamReason, ReamWanted, Security, Thread,
};
use mechanics::fits::Band;
use mechanics::press::{Behaviour, FrictionBand, smoothing_loss_m};

/// One-sided 95 per cent of a normal distribution: the guard is this many standard uncertainties.
const GUARD: f64 = 1.645;

/// The calculation behind a fitted bolt.
#[derive(Clone, Debug, PartialEq)]
pub struct BoltDetail {
    /// Number of the hole in its group, and of the bolt made for it.
    pub number: u32,
    /// Joint the bolt is for.
    pub joint: String,
    /// Names of the members, head side first.
    pub names: Vec<String>,
    /// Material of the bolt.
    pub material: String,
    /// The hole as found, in each member.
    pub found: Vec<HoleForm>,
    /// The hole as found over its whole depth.
    pub whole: HoleForm,
    /// Whether to ream.
    pub advice: ReamAdvice,
    /// The size the holes are reamed to; `None` when they stay.
    pub reamed_m: Option<f64>,
    /// The bolt.
    pub bolt: BoltDesign,
    /// Drive and draw.
    pub drive: Option<DriveResult>,
    /// Stresses.
    pub stress: Option<BoltStress>,
    /// Which bolt of the group fits which hole, as they are.
    pub matching: Option<Matching>,
    /// Joints of the group, in the order of the hole numbers.
    pub group: Vec<String>,
}

pub(super) fn design_bolt(ask: &mut Ask<'_>, plan: &Plan, out: &mut Design) {
    let what = "the bolt";
    let members = ask.many("members");
    let reamers = ask.many("reamers");
    let cut = ask.one("ream-cut");
    let land_tolerance = ask.one("land-tolerance");
    let slide = ask.one("slide");
    let lead = ask.one("lead");
    let head = head(ask);
    let thread = thread(ask);
    let security = security(ask);
    let wanted = interference(ask);
    if let Err(why) = &wanted {
        out.absent.push(because(what, why));
    }
    let (
        Some(members),
        Some(reamers),
        Some(cut_m),
        Some(land_tolerance_m),
        Some(slide_m),
        Some(lead_m),
        Some(head),
        Some(thread),
        Some(security),
        Ok(wanted),
    ) = (members, reamers, cut, land_tolerance, slide, lead, head, thread, security, wanted)
    else {
        out.absent.push(ask.absent(what));
        return;
    };
    let joint = ask.judgement.engine().joint(ask.joint);
    let names = names(ask, members.len());
    let (found, whole) = match holes(ask, members, &names) {
        Ok(forms) => forms,
        Err(why) => {
            out.absent.push(because(what, why));
            return;
        }
    };
    let centres = match centres(ask, &found, out) {
        Ok(c) => c,
        Err(why) => {
            out.absent.push(because(what, why));
            return;
        }
    };
    let hole = joint.outer;
    let spare = wanted.max_m - wanted.min_m;
    let mut allowed = |measure: Measure, name: &str| {
        form_limit(ask.judgement, hole, measure).unwrap_or_else(|| {
            ask.note(
                name,
                format!("{:.3} mm", 1e3 * spare),
                "the width of the interference wanted: a hole that strays by more cannot hold it",
            );
            spare
        })
    };
    let limits = FormLimits {
        out_of_round_m: allowed(Measure::Ovality, "out-of-round allowed"),
        taper_m: allowed(Measure::Taper, "taper allowed"),
        bell_m: allowed(Measure::Barrel, "bell-mouth allowed"),
        offset_m: 0.5 * spare,
    };
    let most = ask.judgement.engine().feature(hole).most.as_ref().map(|q| q.si());
    let largest_m = most.unwrap_or_else(|| {
        let largest = reamers.iter().copied().fold(0.0, f64::max);
        ask.note(
            "largest hole",
            format!("{:.3} mm", 1e3 * largest),
            "the largest reamer: the hole has no `most`",
        );
        largest
    });
    let ream = ReamWanted { limits, reamers_m: reamers.to_vec(), cut_m, largest_m };
    // The whole depth is one hole to a reamer, and each member is one to the bolt: both are asked.
    let mut forms = vec![whole.clone()];
    forms.extend(found.iter().cloned());
    let mut places = vec![(0.0, 0.0)];
    places.extend(centres.iter().copied());
    let advice = match mb::ream_advice(&forms, &places, &ream) {
        Ok(a) => a,
        Err(e) => {
            out.absent.push(because(what, e));
            return;
        }
    };
    let decided = plan.decided_by.as_ref().and_then(|_| plan.target(hole)).map(|t| t.to_m);
    let reamed_m = decided.or(match advice.decision {
        ReamDecision::Ream { reamer_m, .. } => Some(reamer_m),
        _ => None,
    });
    hole_lines(&found, &whole, &names, &advice, reamed_m, decided.is_some(), out);
    if let (ReamDecision::NoReamer { .. } | ReamDecision::TooLarge { .. }, None) =
        (advice.decision, decided)
    {
        out.absent.push(because(what, "the holes want reaming and no reamer serves: see above"));
        return;
    }
    let reaming_m = ask.judgement.engine().workshop.holds(crate::model::Way::Reaming);
    let after: Result<Vec<HoleForm>, _> = match reamed_m {
        Some(size) => {
            members.iter().map(|l| HoleForm::expected_true(size, *l, reaming_m)).collect()
        }
        None => Ok(found.clone()),
    };
    let u_m = ask
        .judgement
        .joint(ask.joint)
        .measure(Measure::Interference)
        .map_or(whole.size_u_m, |e| e.u());
    let (number, group) = number_in_group(ask);
    let result = after.and_then(|after| {
        let bolt = mb::design_bolt(&BoltWanted {
            hole_number: number,
            members: after
                .iter()
                .zip(&centres)
                .map(|(hole, centre)| DesignMember {
                    hole: hole.clone(),
                    // A reamed line is one line.
                    centre_m: if reamed_m.is_some() { (0.0, 0.0) } else { *centre },
                    interference: wanted,
                    tight_length_m: None,
                    gap_after_m: 0.0,
                })
                .collect(),
            guard_m: GUARD * u_m,
            land_tolerance_m,
            slide_m,
            lead_m,
            reamers_m: reamers.to_vec(),
            head,
            thread,
            security,
        })?;
        Ok((after, bolt))
    });
    let (after, bolt) = match result {
        Ok(pair) => pair,
        Err(e) => {
            out.absent.push(because(what, e));
            return;
        }
    };
    ask.note(
        "guard",
        format!("{:.1} um at each end of a land's band", 1e6 * GUARD * u_m),
        "1.645 standard uncertainties of hole and bolt gauges",
    );
    // The bolt's own lands are finer than one size for all of it: two figures for one surface on
    // one sheet would be made to the wrong one some day.
    out.sections.retain(|s| s.title != super::plan::SIZES);
    bolt_lines(&bolt, &names, reamed_m, out);
    let drive = drive(ask, &bolt, &after, u_m, out);
    let stress = stress(ask, &bolt, members, &names, out);
    let matching = matching(ask, members, wanted, u_m, out);
    for text in bolt.cautions.iter() {
        out.caution(*text);
    }
    let material = ask.material_of(joint.inner).map(|m| m.id.clone()).unwrap_or_default();
    out.detail.bolt = Some(Box::new(BoltDetail {
        number,
        joint: joint.id.clone(),
        names,
        material,
        found,
        whole,
        advice,
        reamed_m,
        bolt,
        drive,
        stress,
        matching,
        group,
    }));
}

fn names(ask: &mut Ask<'_>, n: usize) -> Vec<String> {
    let given = ask.maybe_texts("member-names").unwrap_or(&[]);
    (0..n).map(|i| given.get(i).cloned().unwrap_or_else(|| format!("member {}", i + 1))).collect()
}

fn head(ask: &mut Ask<'_>) -> Option<Head> {
    let word = ask.text("head");
    let across_m = ask.one("head-across");
    if word == Some("countersunk") {
        let angle_rad = ask.one("head-angle");
        return Some(Head::Countersunk { diameter_m: across_m?, angle_rad: angle_rad? });
    }
    let height_m = ask.one("head-height");
    let (word, across_m, height_m) = (word?, across_m?, height_m?);
    Some(match word {
        "square" => Head::Square { across_m, height_m },
        "round" => Head::Round { diameter_m: across_m, height_m },
        _ => Head::Hexagon { across_m, height_m },
    })
}

fn thread(ask: &mut Ask<'_>) -> Option<Thread> {
    let major_m = ask.one("thread-major");
    let pitch_m = ask.one("thread-pitch");
    let length_m = ask.one("thread-length");
    let run_out_m = ask.one("thread-run-out");
    Some(Thread {
        major_m: major_m?,
        pitch_m: pitch_m?,
        length_m: length_m?,
        run_out_m: run_out_m?,
    })
}

fn security(ask: &mut Ask<'_>) -> Option<Security> {
    Some(match ask.text("security")? {
        "split pin" => Security::SplitPin { hole_m: ask.one("security-size")? },
        "cotter" => Security::Cotter { size_m: ask.one("security-size")? },
        "lock nut" => Security::LockNut,
        "locking plate" => Security::LockingPlate,
        _ => Security::None,
    })
}

/// The hole in each member, and over its whole depth.
fn holes(
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
    let reading = |r: &super::wanted::Gauged, start: f64| HoleReading {
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
fn centres(
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

fn hole_lines(
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

fn bolt_lines(bolt: &BoltDesign, names: &[String], reamed_m: Option<f64>, out: &mut Design) {
    let mut lines = vec![Line::words("stamp head and hole", format!("{}", bolt.hole_number))];
    for land in &bolt.lands {
        let name = names.get(land.member).map_or("", String::as_str);
        let role = match land.role {
            LandRole::Fitted => "land in",
            LandRole::Pilot => "pilot in",
            LandRole::Bridge => "plain behind",
        };
        lines.push(
            Line::band(
                format!("{role} {name}"),
                land.diameter_min_m,
                land.diameter_max_m,
                Of::Size,
            )
            .note(format!(
                "{:.1} to {:.1} mm under the head; interference {:+.1} to {:+.1} um",
                1e3 * land.from_m,
                1e3 * land.to_m,
                1e6 * land.interference_m.0,
                1e6 * land.interference_m.1
            )),
        );
    }
    if reamed_m.is_some() {
        lines.push(Line::words(
            "order of work",
            "ream, gauge the reamed holes, and move each land's band by what they differ from the size above",
        ));
    }
    lines.push(Line::one("length under the head", bolt.length_under_head_m, Of::Length));
    lines.push(Line::one("tightens before home by", bolt.tightens_before_home_m, Of::Length).note(
        if bolt.tightens_before_home_m < 0.5 * bolt.grip_m {
            "slides in by hand until then"
        } else {
            "no step: it is driven most of the way"
        },
    ));
    for step in &bolt.slide {
        if let (Some(open), Some(with)) = (step.open_to_m, step.open_with_m) {
            let name = names.get(step.member).map_or("", String::as_str);
            lines.push(
                Line::one(format!("for a step, open {name} to"), open, Of::Size)
                    .note(format!("reamer {:.3} mm", 1e3 * with)),
            );
        }
    }
    for finding in &bolt.findings {
        let name = |i: usize| names.get(i).cloned().unwrap_or_default();
        let words = match finding {
            DesignFinding::TighterInPlaces { member, most_m, wanted_m } => format!(
                "{}: tighter in places, up to {:.1} um where {:.1} is the most wanted",
                name(*member),
                1e6 * most_m,
                1e6 * wanted_m
            ),
            DesignFinding::LooserInPlaces { member, least_m, wanted_m } => format!(
                "{}: looser in places, down to {:.1} um where {:.1} is the least wanted",
                name(*member),
                1e6 * least_m,
                1e6 * wanted_m
            ),
            DesignFinding::DragsThrough { land, through } => {
                format!("the land of {} drags through {}", name(*land), name(*through))
            }
            DesignFinding::ThreadTooLarge { major_m, passes_m } => format!(
                "the thread of {:.2} mm does not pass the holes ({:.2} mm)",
                1e3 * major_m,
                1e3 * passes_m
            ),
            DesignFinding::OutOfLine { offset_m, clearance_m } => format!(
                "the holes are {:.3} mm out of line and the bolt has {:.3} mm of play: ream in line first",
                1e3 * offset_m,
                1e3 * clearance_m
            ),
            _ => continue,
        };
        lines.push(Line::words("look", words).stands(Standing::Look));
    }
    for note in &bolt.notes {
        lines.push(Line::words("note", *note));
    }
    out.sections.push(Section::making("the bolt", lines));
}

fn drive(
    ask: &mut Ask<'_>,
    bolt: &BoltDesign,
    holes: &[HoleForm],
    u_m: f64,
    out: &mut Design,
) -> Option<DriveResult> {
    let what = "force to drive and to draw the bolt";
    let joint = ask.judgement.engine().joint(ask.joint);
    let outer = ask.many("member-outer");
    let rough = (ask.one("roughness-outer"), ask.one("roughness-inner"));
    let breakaway = ask.one("breakaway");
    let bolt_material = ask.strength_of(joint.inner);
    let named = ask.maybe_texts("member-materials");
    let materials: Vec<_> = (0..holes.len())
        .map(|i| match named.and_then(|n| n.get(i)) {
            Some(name) => ask.strength_named(name),
            None => ask.strength_of(joint.outer),
        })
        .collect();
    let friction = ask.friction_band(FrictionBand::OILED_STEEL, "steel driven in oil or tallow");
    let jack = match (ask.maybe("jack-area"), ask.maybe("jack-rating")) {
        (Some(area_m2), Some(rated_pa)) => Some(Jack { area_m2, rated_pa }),
        _ => None,
    };
    let (Some(outer), (Some(outer_rz), Some(inner_rz)), Some(breakaway), Some(bolt_material)) =
        (outer, rough, breakaway, bolt_material)
    else {
        out.absent.push(ask.absent(what));
        return None;
    };
    let Some(materials) = materials.into_iter().collect::<Option<Vec<_>>>() else {
        out.absent.push(ask.absent(what));
        return None;
    };
    if outer.len() != holes.len() {
        out.absent.push(because(
            what,
            format!("member-outer lists {} rings for {} members", outer.len(), holes.len()),
        ));
        return None;
    }
    let loss = match smoothing_loss_m(outer_rz, inner_rz) {
        Ok(loss) => loss,
        Err(e) => {
            out.absent.push(because(what, e));
            return None;
        }
    };
    let input = DriveInput {
        members: holes
            .iter()
            .zip(outer)
            .zip(materials)
            .map(|((hole, outer_m), material)| DriveMember {
                hole: hole.clone(),
                outer_m: *outer_m,
                material,
                gap_after_m: 0.0,
            })
            .collect(),
        bolt_material,
        friction,
        smoothing_loss_m: loss,
        interference_u_m: u_m,
        behaviour: Behaviour::Elastic,
        breakaway,
        jack,
    };
    match mb::drive_bolt(bolt, &input) {
        Ok(drive) => {
            let home = drive.curve.home;
            let mut lines = vec![Line::spread(
                "force to drive it home",
                (home.low_n, home.likely_n, home.high_n),
                Of::Force,
            )];
            if let Some(grips) = drive.grips_before_home_m {
                lines.push(Line::one("may grip before home by", grips, Of::Length));
            }
            lines.push(Line::spread("force to start it out", drive.draw_n, Of::Force));
            if let Some(p) = drive.jack_pa {
                let covers = drive.jack_covers == Some(true);
                lines.push(Line::spread("jack for that", p, Of::Jack).good_if(covers).note(
                    if covers { "within the jack's rating" } else { "above the jack's rating" },
                ));
            }
            lines.push(Line::one("interference lost to smoothing", loss, Of::Film));
            out.sections.push(Section::new("driving and drawing", lines));
            for text in &drive.cautions {
                out.caution(*text);
            }
            Some(drive)
        }
        Err(e) => {
            out.absent.push(because(what, e));
            None
        }
    }
}

fn stress(
    ask: &mut Ask<'_>,
    bolt: &BoltDesign,
    members: &[f64],
    names: &[String],
    out: &mut Design,
) -> Option<BoltStress> {
    let what = "bearing and shear stress";
    let load = ask.one("load");
    let bolts = ask.one("bolts");
    let worst = ask.one("worst-factor");
    let shares = ask.many("member-share");
    let edges = ask.many("member-edge");
    let shear = ask.one("shear-allowed");
    let bearing = ask.one("bearing-allowed");
    let ratio = ask.one("edge-ratio");
    let (
        Some(total_n),
        Some(bolts),
        Some(worst_factor),
        Some(shares),
        Some(edges),
        Some(shear_allowed_pa),
        Some(bearing_allowed_pa),
        Some(edge_ratio_least),
    ) = (load, bolts, worst, shares, edges, shear, bearing, ratio)
    else {
        out.absent.push(ask.absent(what));
        return None;
    };
    if shares.len() != members.len() || edges.len() != members.len() {
        out.absent.push(because(
            what,
            format!(
                "{} shares and {} edges for {} members",
                shares.len(),
                edges.len(),
                members.len()
            ),
        ));
        return None;
    }
    if bolts.fract() != 0.0 || bolts > 1000.0 {
        out.absent.push(because(what, format!("{bolts} bolts is not a count of bolts")));
        return None;
    }
    // The smallest finished land carries the most.
    let land = |i: usize| {
        bolt.lands
            .iter()
            .filter(|l| l.member == i && l.role == LandRole::Fitted)
            .map(|l| l.diameter_min_m)
            .fold(f64::INFINITY, f64::min)
    };
    let input = BoltLoad {
        total_n,
        bolts: bolts as u32,
        worst_factor,
        members: (0..members.len())
            .map(|i| LoadMember {
                share: shares[i],
                land_m: land(i),
                length_m: members[i],
                edge_m: edges[i],
            })
            .collect(),
        shear_allowed_pa,
        bearing_allowed_pa,
        edge_ratio_least,
    };
    match mb::load_bolt(&input) {
        Ok(s) => {
            let mut lines = vec![Line::one("load of the worst bolt", s.bolt_n, Of::Force)];
            for p in &s.planes {
                lines.push(
                    Line::one(
                        format!("shear behind {}", names[p.after_member]),
                        p.shear_pa,
                        Of::Stress,
                    )
                    .good_if(p.shear_pa <= shear_allowed_pa)
                    .note(format!("{:.0} MPa is allowed", 1e-6 * shear_allowed_pa)),
                );
            }
            for (m, name) in s.members.iter().zip(names) {
                lines.push(
                    Line::one(format!("bearing in {name}"), m.bearing_pa, Of::Stress)
                        .good_if(m.bearing_pa <= bearing_allowed_pa)
                        .note(format!(
                            "{:.0} MPa is allowed; edge {:.2} diameters, tear-out {:.1} MPa",
                            1e-6 * bearing_allowed_pa,
                            m.edge_ratio,
                            1e-6 * m.tear_out_pa
                        )),
                );
            }
            if !s.edges_kept {
                lines.push(
                    Line::one(
                        "least edge distance wanted, in diameters",
                        edge_ratio_least,
                        Of::Ratio,
                    )
                    .stands(Standing::Bad),
                );
            }
            out.sections.push(Section::new("stresses under the load given", lines));
            Some(s)
        }
        Err(e) => {
            out.absent.push(because(what, e));
            None
        }
    }
}

/// Number of this joint among its group, and the group.
fn number_in_group(ask: &Ask<'_>) -> (u32, Vec<String>) {
    let group = group(ask);
    let engine = ask.judgement.engine();
    let at = group.iter().position(|j| *j == ask.joint).unwrap_or(0);
    (at as u32 + 1, group.iter().map(|j| engine.joint(*j).id.clone()).collect())
}

fn group(ask: &Ask<'_>) -> Vec<JointIx> {
    let engine = ask.judgement.engine();
    match &engine.joint(ask.joint).group {
        None => vec![ask.joint],
        Some(name) => (0..engine.joints.len())
            .map(JointIx::new)
            .filter(|j| engine.joint(*j).group.as_ref() == Some(name))
            .collect(),
    }
}

/// Which bolt fits which hole, as they are.
fn matching(
    ask: &mut Ask<'_>,
    members: &[f64],
    wanted: Band,
    u_m: f64,
    out: &mut Design,
) -> Option<Matching> {
    let what = "which bolt fits which hole";
    let group = group(ask);
    if group.len() < 2 || group.len() > 60 {
        return None;
    }
    let engine = ask.judgement.engine();
    let by_member = |feature| -> Option<Vec<f64>> {
        let (readings, _) = gauged(ask.judgement, feature);
        let mut start = 0.0;
        let mut means = Vec::new();
        for (i, length) in members.iter().enumerate() {
            let last = i + 1 == members.len();
            let inside: Vec<f64> = readings
                .iter()
                .filter(|r| r.depth_m >= start && (last || r.depth_m < start + length))
                .map(|r| r.size_m)
                .collect();
            if inside.is_empty() {
                return None;
            }
            means.push(inside.iter().sum::<f64>() / inside.len() as f64);
            start += length;
        }
        Some(means)
    };
    let bolts: Option<Vec<Vec<f64>>> =
        group.iter().map(|j| by_member(engine.joint(*j).inner)).collect();
    let holes: Option<Vec<Vec<f64>>> =
        group.iter().map(|j| by_member(engine.joint(*j).outer)).collect();
    let (Some(bolts_m), Some(holes_m)) = (bolts, holes) else {
        out.absent
            .push(because(what, "not every bolt and hole of the group is gauged in every member"));
        return None;
    };
    let input = MatchInput {
        interference: vec![wanted; members.len()],
        u_m,
        tagged: Some((0..group.len()).collect()),
        bolts_m,
        holes_m,
    };
    match mb::match_bolts(&input) {
        Ok(m) => {
            let id = |i: usize| engine.joint(group[i]).id.as_str();
            let mut lines = Vec::new();
            for b in &m.matches {
                let words = match b.hole {
                    None => "no hole".to_owned(),
                    Some(h) => {
                        let least = b.interference_m.iter().copied().fold(f64::INFINITY, f64::min);
                        let most =
                            b.interference_m.iter().copied().fold(f64::NEG_INFINITY, f64::max);
                        format!(
                            "suits hole {} ({}) best: {:+.1} to {:+.1} um, {}",
                            h + 1,
                            id(h),
                            1e6 * least,
                            1e6 * most,
                            if b.fits { "fits" } else { "does not fit" }
                        )
                    }
                };
                let own = b.hole == Some(b.bolt);
                lines.push(
                    Line::words(format!("bolt tagged {} ({})", b.bolt + 1, id(b.bolt)), words)
                        .stands(if b.fits && own { Standing::Good } else { Standing::Look }),
                );
            }
            for ring in &m.swapped {
                let names: Vec<&str> = ring.iter().map(|i| id(*i)).collect();
                lines.push(
                    Line::words("likely changed places", names.join(", ")).stands(Standing::Bad),
                );
            }
            out.sections.push(Section::new("existing bolts of the group, as they are", lines));
            Some(m)
        }
        Err(e) => {
            out.absent.push(because(what, e));
            None
        }
    }
}
