//! A lift in figures and words.

use super::super::figure::Figure;
use super::super::motion::Amount;
use super::shapes::*;
use crate::model::Engine;
use crate::works::{LiftAnswer, SlideAnswer, SlingAnswer};
use mechanics::lifting::{
    DrawFinding, GearFinding, JackFinding, ModeBasis, PartEnd, Stage, StageState, SupportKind,
};
use quantity::Dimension;

fn force(n: f64) -> Amount {
    Amount::new(if n.abs() < 0.05 { 0.0 } else { n }, Dimension::Force)
}

fn mass(kg: f64) -> Amount {
    Amount::new(kg, Dimension::Mass)
}

fn size(m: f64) -> Figure {
    Figure { u_si: None, ..Figure::of_size(m, Some(0.5e-3)) }
}

/// A lift in figures and words.
pub fn lift_view(engine: &Engine, answer: &LiftAnswer) -> LiftView {
    let described = &engine.works.lifts[answer.lift];
    let body = &answer.load.body;
    let users =
        engine.works.works.iter().filter(|w| w.ways.iter().any(|y| y.lift == Some(answer.lift)));
    let mut notes = answer.load.notes.clone();
    if !described.note.is_empty() {
        notes.push(described.note.clone());
    }
    LiftView {
        lift: described.id.clone(),
        name: described.name.clone(),
        datum: described.datum.clone(),
        parts: answer
            .load
            .parts
            .iter()
            .map(|p| LiftPartView {
                part: engine.part(p.part).id.clone(),
                name: engine.part(p.part).name.clone(),
                mass: mass(p.mass_kg),
                how: if p.composed { "from simple solids" } else { "as described" },
            })
            .collect(),
        mass: mass(body.mass_kg()),
        mass_doubt: mass(body.u_mass_kg()),
        balance: body.centre_m().map(size).to_vec(),
        sling: answer.sling.as_ref().map(|s| sling(described.sling.as_ref(), s)),
        slide: answer.slide.as_ref().map(slide),
        jacks: answer.jacks.as_ref().map(|j| JacksView {
            loads: j
                .loads
                .iter()
                .zip(described.jacks.iter().flat_map(|d| &d.supports))
                .enumerate()
                .map(|(i, (l, s))| JackView {
                    support: i + 1,
                    kind: match s.rated_kg {
                        Some(rated_kg) => kind(SupportKind::Jack { rated_kg, side_share: 0.0 }),
                        None => kind(SupportKind::Packed),
                    },
                    load: force(l.even_n),
                    most: force(l.most_n),
                    share_percent: l.share.map(|s| 100.0 * s),
                })
                .collect(),
            margin: size(j.margin_m),
            left: size(j.left_m),
            tip_deg: j.tip_rad.to_degrees(),
            findings: j.findings.iter().map(jack_finding).collect(),
        }),
        draw: answer.draw.as_ref().zip(described.draw.as_ref()).map(|(d, said)| DrawView {
            force: said.force_n.iter().map(|n| force(*n)).collect(),
            source: said.source.clone(),
            pressure: Amount::new(d.pressure_pa.at_likely, Dimension::Pressure),
            pressure_high: Amount::new(d.pressure_pa.at_high, Dimension::Pressure),
            share_percent: 100.0 * d.rating_share.at_likely,
            at_valve: force(d.force_at_valve_n),
            finding: match d.finding {
                DrawFinding::Enough => "within rating and valve, even at the high figure",
                DrawFinding::MayStick => {
                    "at the likely figure yes, at the high one no: it may stick"
                }
                DrawFinding::TooWeak => "not even at the likely figure: another way is wanted",
            },
        }),
        used_by: users.map(|w| w.id.clone()).collect(),
        cautions: answer.cautions.iter().map(|c| c.text()).collect(),
        notes,
    }
}

fn kind(k: SupportKind) -> &'static str {
    match k {
        SupportKind::Jack { .. } => "jack",
        SupportKind::Packed => "packing",
    }
}

fn sling(described: Option<&crate::works::Sling>, s: &SlingAnswer) -> SlingView {
    let legs = s.hang.legs.iter().zip(&s.verdict.leg_share).enumerate();
    SlingView {
        gear: described.map_or(String::new(), |d| d.gear.clone()),
        rated: mass(described.map_or(0.0, |d| d.rated_kg)),
        legs: legs
            .map(|(i, (l, share))| LegView {
                leg: i + 1,
                angle_deg: l.angle_rad.to_degrees(),
                tension: force(l.tension.even_n),
                most: force(l.tension.most_n),
                share_percent: 100.0 * share,
            })
            .collect(),
        tilt_deg: s.hang.tilt_rad.to_degrees(),
        hook_above: size(s.hang.drop_m),
        within_by_statics: s.verdict.within_by_statics,
        within_by_mode: s.verdict.within_by_mode,
        mode_percent: s.verdict.mode_share.map(|m| 100.0 * m),
        findings: s.verdict.findings.iter().map(gear_finding).collect(),
    }
}

fn slide(s: &SlideAnswer) -> SlideView {
    let mut advice = Vec::new();
    if let Some(h) = &s.smooth {
        advice.push(format!(
            "hook over the balance point, {} along, pulling {}: it then comes off without a jerk; still smooth with the hook {} out, or the pull {} out",
            size(h.at_m).both(),
            both(&force(h.tension_n)),
            size(h.out_by_m).both(),
            both(&force(h.tension_out_by_n)),
        ));
    }
    if let Some(r) = &s.release {
        advice.push(match r.drops {
            None => "with the hook where it is set nothing drops as it comes free".to_owned(),
            Some(end) => format!(
                "with the hook where it is set the {} end drops as it comes free: it swings to {:.1} deg",
                end_word(end),
                r.tilt_rad.to_degrees()
            ),
        });
    }
    if s.transfer.hook.is_none() {
        advice.push("no hook: it is carried by seat and hands".to_owned());
    }
    let event = |how: &'static str| {
        move |e: &mechanics::lifting::TransferEvent| {
            let (out, after) = (size(e.slid_m).both(), state_words(e.after).0);
            format!("{how}{out} out: {after}")
        }
    };
    let mut events: Vec<String> = s.events.iter().map(event("")).collect();
    events.extend(s.slack.iter().map(event("if the hook hung slack, ")));
    SlideView { stages: s.stages.iter().map(stage).collect(), events, advice }
}

fn both(a: &Amount) -> String {
    format!("{} ({})", a.metric, a.imperial)
}

fn end_word(end: PartEnd) -> &'static str {
    match end {
        PartEnd::Inner => "inner",
        PartEnd::Outer => "outer",
    }
}

fn state_words(s: StageState) -> (&'static str, bool) {
    match s {
        StageState::Seated => ("bears on its seat", false),
        StageState::Binds => ("binds: the seat holds one edge down", false),
        StageState::HeldByHands => ("stays only by hands", true),
        StageState::Tips(PartEnd::Inner) => ("TIPS: the inner end drops", true),
        StageState::Tips(PartEnd::Outer) => ("TIPS: the outer end drops", true),
        StageState::Lifts => ("LIFTS off its seat: the hook pulls too hard", true),
        StageState::Free => ("free, on the hook", false),
        StageState::Drops => ("DROPS: nothing carries it", true),
    }
}

fn stage(s: &Stage) -> StageView {
    let (state, bad) = state_words(s.state);
    StageView {
        out: size(s.slid_m),
        seat_inner: force(s.seat_n[0]),
        seat_outer: force(s.seat_n[1]),
        crane: force(s.hook_n),
        hands: force(s.hands_n),
        pull: force(s.pull_n.at_likely),
        pull_high: force(s.pull_n.at_high),
        state,
        bad,
    }
}

fn gear_finding(f: &GearFinding) -> String {
    match f {
        GearFinding::LegOver { leg, share } => {
            format!("leg {}: over its rating, {:.0} %", leg + 1, 100.0 * share)
        }
        GearFinding::OverIfOthersSlack { leg, share } => {
            format!("leg {}: {:.0} % of its rating if others hang slack", leg + 1, 100.0 * share)
        }
        GearFinding::ModeOver { share, basis } => format!(
            "{:.0} % of the rating by mode factor{}",
            100.0 * share,
            match basis {
                ModeBasis::AllLegs => "",
                ModeBasis::OneLegInDoubt => ", the legs being unlike: one leg is counted",
            }
        ),
        GearFinding::TooFlat { leg, angle_rad } => format!(
            "leg {}: {:.0} deg from the vertical is too flat, no rating holds past 60",
            leg + 1,
            angle_rad.to_degrees()
        ),
        GearFinding::TooUpright { leg, angle_rad } => format!(
            "leg {}: {:.0} deg from the vertical, nearly upright: the load swings and legs share badly",
            leg + 1,
            angle_rad.to_degrees()
        ),
        GearFinding::BarelyLoaded { leg } => format!("leg {} carries hardly anything", leg + 1),
        GearFinding::HangsSlack { leg, gap_m } => {
            format!("leg {} hangs slack by {}", leg + 1, size(*gap_m).both())
        }
        GearFinding::BalanceAboveEyes { above_m } => format!(
            "the balance point lies {} above the eyes: only the legs keep it from turning over",
            size(*above_m).both()
        ),
        GearFinding::Tilts { tilt_rad, most_rad } => format!(
            "tilts by {:.1} deg, more than the {:.1} allowed",
            tilt_rad.to_degrees(),
            most_rad.to_degrees()
        ),
        other => format!("{other:?}"),
    }
}

fn jack_finding(f: &JackFinding) -> String {
    match f {
        JackFinding::Over { support, share } => {
            format!("support {}: over its rating, {:.0} %", support + 1, 100.0 * share)
        }
        JackFinding::SideLoad { support, share, .. } => format!(
            "support {}: side load {:.1} % of what it carries; the jack is to take none",
            support + 1,
            100.0 * share
        ),
        JackFinding::Slides { share, friction } => {
            format!("it may slide off its heads: {share:.2} against a friction of {friction:.2}")
        }
        JackFinding::Tips { left_m } => {
            format!("it may tip: {} of margin left", size(*left_m).both())
        }
        JackFinding::Slender { support, ratio, allowed } => format!(
            "packing {}: {ratio:.1} times as high as wide, {allowed:.1} allowed",
            support + 1
        ),
        JackFinding::Crushed { support, share } => format!(
            "packing {}: pressed to {:.0} % of what timber bears",
            support + 1,
            100.0 * share
        ),
        JackFinding::MayStandFree { support } => {
            format!("support {} may carry nothing while the others carry its load", support + 1)
        }
        other => format!("{other:?}"),
    }
}
