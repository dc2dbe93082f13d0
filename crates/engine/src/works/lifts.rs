//! A lift computed: legs, tilt, gear, load transfer stage by stage, jacks, draw, cautions.

use super::masses::{Load, load_of};
use super::model::{Draw, Jacks, Lift, Slide, Sling};
use super::no_plan::NoPlan;
use crate::model::Engine;
use mechanics::lifting::{
    Caution, DrawCheck, DrawJack, GearVerdict, Handling, Hands, Hang, HangSpread, Hitch, Hook,
    HookKeep, JackLoads, Jacking, JudgeBy, Leg, LegGear, LiftingError, Packing, RamArea, Release,
    ReleaseInput, STANDARD_GRAVITY_M_S2, Seat, SeatHold, SmoothHook, SmoothLimit, Stage, Support,
    SupportKind, Transfer, TransferEvent, check_draw, handling_cautions, hang, hang_spread,
    jack_loads, judge_gear, release, smooth_hook, transfer_events, transfer_stages,
};
use mechanics::wedge::{Friction, Spread};

/// Rows of the table of a load transfer.
const STAGES: usize = 7;
/// Timber across the grain, and piles no taller than three widths: common practice.
const TIMBER_PA: f64 = 2.0e6;
const SLENDER: f64 = 3.0;

/// How the load hangs.
#[derive(Clone, Debug)]
pub struct SlingAnswer {
    /// Legs as drawn.
    pub legs: Vec<Leg>,
    /// How it hangs.
    pub hang: Hang,
    /// How well that is known.
    pub spread: Option<HangSpread>,
    /// What the gear says.
    pub verdict: GearVerdict,
}

/// How the part comes off its seat.
#[derive(Clone, Debug)]
pub struct SlideAnswer {
    /// The case.
    pub transfer: Transfer,
    /// Stages, seated to off.
    pub stages: Vec<Stage>,
    /// Where it comes to stand otherwise.
    pub events: Vec<TransferEvent>,
    /// The same if the hook hung slack.
    pub slack: Vec<TransferEvent>,
    /// Where the hook belongs.
    pub smooth: Option<SmoothHook>,
    /// How it swings when free.
    pub release: Option<Release>,
}

/// A lift computed.
#[derive(Clone, Debug)]
pub struct LiftAnswer {
    /// Position in the engine's lifts.
    pub lift: usize,
    /// What hangs.
    pub load: Load,
    /// Slings.
    pub sling: Option<SlingAnswer>,
    /// Load transfer.
    pub slide: Option<SlideAnswer>,
    /// Jacks.
    pub jacks: Option<JackLoads>,
    /// Draw.
    pub draw: Option<DrawCheck>,
    /// What to go through before.
    pub cautions: Vec<Caution>,
}

/// Computes a lift.
///
/// # Errors
/// A mass or balance point that is not known; rigging that cannot be balanced, with the reason.
pub fn lift(engine: &Engine, at: usize) -> Result<LiftAnswer, NoPlan> {
    let described = engine.works.lifts.get(at).ok_or_else(|| NoPlan::NoTarget {
        name: at.to_string(),
        mend: "there is no such lift".to_owned(),
    })?;
    let load = load_of(engine, described)?;
    let bad = |what: &str, e: LiftingError| NoPlan::Lift {
        lift: described.name.clone(),
        why: format!("{what}: {e}"),
    };
    let mut handlings = Vec::new();
    let sling = match &described.sling {
        Some(s) => {
            handlings.push(Handling::Lift);
            Some(slung(&load, s).map_err(|e| bad("slings", e))?)
        }
        None => None,
    };
    let slide = match &described.slide {
        Some(s) => {
            handlings.push(Handling::Transfer);
            Some(slid(&load, described, s, sling.as_ref()).map_err(|e| bad("sliding off", e))?)
        }
        None => None,
    };
    let jacks = match &described.jacks {
        Some(j) => {
            handlings.push(Handling::Jacking);
            Some(jacked(&load, j).map_err(|e| bad("jacks", e))?)
        }
        None => None,
    };
    let draw = match &described.draw {
        Some(d) => {
            handlings.push(Handling::Drawing);
            Some(drawn(d).map_err(|e| bad("drawing", e))?)
        }
        None => None,
    };
    let mut cautions: Vec<Caution> = Vec::new();
    for c in handlings.into_iter().flat_map(handling_cautions) {
        if !cautions.contains(c) {
            cautions.push(*c);
        }
    }
    Ok(LiftAnswer { lift: at, load, sling, slide, jacks, draw, cautions })
}

fn slung(load: &Load, s: &Sling) -> Result<SlingAnswer, LiftingError> {
    let legs: Vec<Leg> = s.eyes_m.iter().zip(&s.legs_m).map(|(e, l)| Leg::new(*e, *l)).collect();
    let hang = hang(&load.body, &legs)?;
    // A choke under load runs back at about 120 degrees (a load that hangs free; see `SlingUse`).
    let hitch = if s.choked { Hitch::Choked(120.0_f64.to_radians()) } else { Hitch::Straight };
    let gear = vec![LegGear { one_leg_kg: s.rated_kg, hitch, edge: s.edge }; legs.len()];
    let by = JudgeBy { most_tilt_rad: s.most_tilt_rad, four: s.four };
    let verdict = judge_gear(&hang, &gear, &by)?;
    let spread = hang_spread(&load.body, &legs).ok();
    Ok(SlingAnswer { legs, hang, spread, verdict })
}

fn slid(
    load: &Load,
    lift: &Lift,
    s: &Slide,
    sling: Option<&SlingAnswer>,
) -> Result<SlideAnswer, LiftingError> {
    let mass_kg = load.body.mass_kg();
    let weight_n = mass_kg * STANDARD_GRAVITY_M_S2;
    let pull = s.pull_n.unwrap_or(weight_n);
    let keep = if s.height { HookKeep::Height(pull) } else { HookKeep::Tension(pull) };
    let friction = Friction::new(s.friction[0], s.friction[1], s.friction[2])
        .map_err(|_| LiftingError::NothingLeft { mass_kg });
    let transfer = Transfer {
        mass_kg,
        balance_m: s.balance_m.unwrap_or(load.body.centre_m()[0]),
        fit_m: s.fit_m,
        seat: Seat {
            inner_m: s.seat_m[0],
            outer_m: s.seat_m[1],
            hold: if s.grips { SeatHold::Grips } else { SeatHold::BearsOnly },
        },
        hook: s.hook_m.map(|at_m| Hook { at_m, keep }),
        hands: s.hands.map(|(at_m, most_n)| Hands { at_m, most_n }),
        incline_rad: s.incline_rad,
        friction: friction?,
    };
    let stages = transfer_stages(&transfer, STAGES)?;
    let events = transfer_events(&transfer)?;
    let slack = match transfer.hook {
        Some(_) => transfer_events(&Transfer { hook: None, ..transfer })?,
        None => Vec::new(),
    };
    // The pivot of the swing is the eye over the balance point; without slings nothing swings.
    let above = sling.map(|a| -a.hang.above_eyes_m).filter(|a| *a > 1e-3);
    let (mut smooth, mut free) = (None, None);
    if let Some(pivot_above_m) = above {
        let last_overlap_m = 0.1 * (s.fit_m[1] - s.fit_m[0]);
        let limit = SmoothLimit {
            most_pull_n: 0.2 * weight_n,
            last_overlap_m,
            most_tilt_rad: lift.sling.as_ref().map_or(0.087, |x| x.most_tilt_rad),
            pivot_above_m,
        };
        smooth = Some(smooth_hook(&transfer, &limit)?);
        if let Some(hook) = transfer.hook {
            free = Some(release(&ReleaseInput {
                mass_kg,
                balance_m: transfer.balance_m,
                hook_m: hook.at_m,
                pivot_above_m,
                ends_m: s.ends_m,
                last_overlap_m,
            })?);
        }
    }
    Ok(SlideAnswer { transfer, stages, events, slack, smooth, release: free })
}

fn jacked(load: &Load, j: &Jacks) -> Result<JackLoads, LiftingError> {
    let supports = j.supports.iter().map(|s| Support {
        at_m: s.at_m,
        kind: match s.rated_kg {
            // Many makers allow no side load at all.
            Some(rated_kg) => SupportKind::Jack { rated_kg, side_share: 0.0 },
            None => SupportKind::Packed,
        },
        packing: s.packing.map(|(height_m, width_m, area_m2)| Packing {
            height_m,
            width_m,
            area_m2,
            most_pressure_pa: TIMBER_PA,
            most_slenderness: SLENDER,
        }),
    });
    // Steel on timber or steel heads, common practice.
    let heads = Friction::new(0.15, 0.25, 0.4)
        .map_err(|_| LiftingError::NothingLeft { mass_kg: load.body.mass_kg() })?;
    jack_loads(&Jacking {
        body: load.body,
        supports: supports.collect(),
        heads_m: j.heads_m,
        side_n: j.side_n,
        side_above_heads_m: 0.0,
        grade_rad: j.grade_rad,
        heads,
    })
}

fn drawn(d: &Draw) -> Result<DrawCheck, LiftingError> {
    let jack = DrawJack {
        ram: RamArea::Maker { area_m2: d.area_m2 },
        jacks: d.jacks,
        // Seals and return spring: common practice.
        efficiency: 0.95,
        rated_n: d.rated_n,
        valve_pa: d.valve_pa,
        stroke_m: d.stroke_m,
    };
    let [at_low, at_likely, at_high] = d.force_n;
    check_draw(&jack, Spread { at_low, at_likely, at_high })
}
