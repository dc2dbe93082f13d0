//! Loads and balance as they are shown.

use super::in_words;
use super::shapes::*;
use crate::judge::Judgement;
use crate::motion::{
    AxleAnswer, Balancing, BearingLoad, BoxWorking, CylinderWorking, FatigueAnswer, LoadPart,
    Mechanism, RodPair, Working, bearings_of,
};
use mechanics::balance::{AxleBlow, BalanceEffects, BalanceWeight, WheelPair};
use mechanics::loads::{BearingDuty, FatigueCriterion};
use mechanics::motion::{CylinderNo, WheelAngle};
use quantity::Dimension as D;

const LOAD_CAUTIONS: &[&str] = &[
    "Loads of rigid parts running steadily: no water in the cylinder, no knock of slack, no slipping wheel, no priming. Each of these can be worse than anything here.",
    "A factor or a share of yield is no release: cracks, fillets, keyways and wear are not considered. The responsible engineer decides.",
];

const BALANCE_CAUTIONS: &[&str] = &[
    "Primary forces of a steady speed. Weights are altered only on the word of the responsible engineer; weigh what was weighed long ago again.",
];

/// Loads at a speed.
pub fn loads_view(judgement: &Judgement, mechanism: &Mechanism, w: &Working) -> LoadsView {
    let engine = judgement.engine();
    let first = engine.motion.cylinders.first().map_or("", |c| c.id.as_str());
    let running = mechanism.running(w.wheel_rad_s);
    let at = |rad: f64| in_words(&mechanism.motion, &running, first, 0, rad);
    let mut missing: Vec<String> = Vec::new();
    let cylinders = w
        .cylinders
        .iter()
        .map(|c| {
            let id = &engine.motion.cylinders[c.cylinder].id;
            cylinder(mechanism, id, c, &mut missing)
        })
        .collect();
    let tractive_standard = keep(&w.standard_n, &mut missing).map(|n| Amount::new(*n, D::Force));
    let coupling = keep(&w.coupling, &mut missing).map_or_else(Vec::new, |c| {
        c.rods.iter().map(|rod| coupling(judgement, rod, &mut Vec::new())).collect()
    });
    let boxes = keep(&w.boxes, &mut missing)
        .map_or_else(Vec::new, |list| list.iter().map(|b| axlebox(judgement, b)).collect());
    let bearings = match bearings_of(engine, mechanism, w) {
        Ok(found) => found.bearings.iter().map(|b| bearing(judgement, b, &at)).collect(),
        Err(e) => {
            missing.push(e.to_string());
            Vec::new()
        }
    };
    let radius = mechanism.tyre().map_or(f64::NAN, |t| 0.5 * t.diameter_m);
    let moment = |n: f64| Amount::new(n * radius, D::Torque);
    missing.sort();
    missing.dedup();
    LoadsView {
        speed: Amount::speed(w.speed_m_s),
        wheels: Amount::new(w.wheel_rad_s, D::AngularSpeed),
        steam: w.steam.clone(),
        cylinders,
        tractive_mean: Amount::new(w.tractive.mean_n, D::Force),
        tractive_least: Amount::new(w.tractive.least_n, D::Force),
        least_at: at(w.tractive.least_at_rad),
        tractive_greatest: Amount::new(w.tractive.greatest_n, D::Force),
        greatest_at: at(w.tractive.greatest_at_rad),
        tractive_standard,
        moment_mean: moment(w.tractive.mean_n),
        moment_least: moment(w.tractive.least_n),
        moment_greatest: moment(w.tractive.greatest_n),
        coupling,
        boxes,
        fatigue: w.fatigue.iter().map(fatigue).collect(),
        bearings,
        missing,
        notes: w.notes.words(engine),
        cautions: LOAD_CAUTIONS.to_vec(),
    }
}

fn keep<'a, T>(part: &'a LoadPart<T>, missing: &mut Vec<String>) -> Option<&'a T> {
    match part {
        Ok(v) => Some(v),
        Err(list) => {
            missing.extend(list.iter().map(ToString::to_string));
            None
        }
    }
}

fn cylinder(
    mechanism: &Mechanism,
    id: &str,
    c: &CylinderWorking,
    missing: &mut Vec<String>,
) -> CylinderLoadsView {
    let force = |n: f64| Amount::new(n, D::Force);
    let pin_at_deg = WheelAngle::from_rad(c.polar.greatest_at_rad)
        .and_then(|w| {
            mechanism.motion.cylinder_at(CylinderNo(c.cylinder), w, &mechanism.running(0.0))
        })
        .map_or(f64::NAN, |s| s.past_front_dead_centre_rad.to_degrees());
    let duty = |d: &BearingDuty| DutyView {
        greatest: Amount::new(d.greatest_pa, D::Pressure),
        mean: Amount::new(d.mean_pa, D::Pressure),
        rubbing: Amount::new(d.greatest_rubbing_m_s, D::Speed),
    };
    CylinderLoadsView {
        cylinder: id.to_owned(),
        steam: force(c.steam_n),
        pin: force(c.polar.greatest_n),
        pin_at_deg,
        pin_mean: force(c.polar.mean_n),
        outer_brass: force(c.outer_brass_n),
        inner_brass: force(c.inner_brass_n),
        small_end: force(c.small_end_n),
        upper_bar: force(c.slide.on_upper_n),
        lower_bar: force(c.slide.on_lower_n),
        bar_pressure: keep(&c.slide_pressure_pa, missing).map(|p| Amount::new(*p, D::Pressure)),
        big_end: keep(&c.big_end, missing).map(duty),
        gudgeon: keep(&c.small_end, missing).map(duty),
        rod: keep(&c.rod, missing).map(|r| {
            rod(r.thrust_n, [r.in_plane_n, r.sideways_n], r.whipping_nm, [r.stress_pa, r.yield_pa])
        }),
    }
}

fn rod(
    thrust_n: f64,
    [in_plane_n, sideways_n]: [f64; 2],
    whipping_nm: f64,
    [stress_pa, yield_pa]: [f64; 2],
) -> RodView {
    let force = |n: f64| Amount::new(n, D::Force);
    RodView {
        thrust: force(thrust_n),
        in_plane: force(in_plane_n),
        sideways: force(sideways_n),
        factor: (thrust_n > 0.0).then(|| in_plane_n.min(sideways_n) / thrust_n),
        whipping: Amount::new(whipping_nm, D::Torque),
        stress: Amount::new(stress_pa, D::Pressure),
        yield_percent: 100.0 * stress_pa / yield_pa,
    }
}

fn coupling(judgement: &Judgement, r: &RodPair, missing: &mut Vec<String>) -> CouplingView {
    let axles = &judgement.engine().motion.axles;
    CouplingView {
        front_axle: axles[r.front_axle].id.clone(),
        back_axle: axles[r.front_axle + 1].id.clone(),
        tension: Amount::new(r.tension_n, D::Force),
        thrust: Amount::new(r.thrust_n, D::Force),
        rod: keep(&r.strength, missing).map(|s| {
            rod(r.thrust_n, [s.in_plane_n, s.sideways_n], s.whipping_nm, [s.stress_pa, s.yield_pa])
        }),
    }
}

fn axlebox(judgement: &Judgement, b: &BoxWorking) -> BoxView {
    let most = |sign: f64| b.forward_n.iter().map(|x| sign * x).fold(0.0, f64::max);
    BoxView {
        axle: judgement.engine().motion.axles[b.axle].id.clone(),
        side: if b.left { "left" } else { "right" },
        dead: Amount::new(b.dead_n, D::Force),
        forward: Amount::new(most(1.0), D::Force),
        backward: Amount::new(most(-1.0), D::Force),
        left_out: b.left_out.clone(),
    }
}

fn fatigue(f: &FatigueAnswer) -> FatigueView {
    let (found, missing) = match &f.answer {
        Ok(found) => (Some(found), Vec::new()),
        Err(list) => (None, list.iter().map(ToString::to_string).collect()),
    };
    FatigueView {
        part: f.part.word(),
        of: f.of.clone(),
        greatest: found.map(|u| Amount::new(u.greatest_pa, D::Pressure)),
        least: found.map(|u| Amount::new(u.least_pa, D::Pressure)),
        concentration: found.map(|u| u.concentration),
        criterion: found.map(|u| match u.criterion {
            FatigueCriterion::Goodman => "goodman",
            FatigueCriterion::Soderberg => "soderberg",
            FatigueCriterion::Gerber => "gerber",
        }),
        used_percent: found.map(|u| 100.0 * u.used.fatigue),
        yield_percent: found.map(|u| 100.0 * u.used.first_cycle_yield),
        source: found.map_or_else(String::new, |u| u.used.source.clone()),
        missing,
    }
}

/// Points of a bearing shown: every fifth degree of the wheel.
const SHOWN: usize = 72;

fn bearing(judgement: &Judgement, b: &BearingLoad, at: &impl Fn(f64) -> String) -> BearingView {
    let force = |n: f64| Amount::new(n, D::Force);
    let step = (b.points.len() / SHOWN).max(1);
    BearingView {
        name: b.name.clone(),
        joint: b.joint.map(|ix| judgement.engine().joint(ix).id.clone()),
        greatest: force(b.greatest_n),
        greatest_at: at(b.greatest_at_rad),
        mean: force(b.mean_n),
        opposite: force(b.opposite_n),
        reverses: b.reverses(),
        frame: b.kind.frame(),
        points_n: b.points.iter().step_by(step).map(|p| [p.along_n, p.across_n]).collect(),
        left_out: b.left_out.clone(),
    }
}

/// Balance at a speed.
pub fn balance_view(judgement: &Judgement, b: &Balancing) -> BalanceView {
    let engine = judgement.engine();
    let speed = Amount::speed;
    let wanted_then = b.heavier.as_ref().map(|h| &h.wanted_after);
    BalanceView {
        speed: speed(b.speed_m_s),
        balanced_percent: 100.0 * b.balanced,
        masses: engine
            .motion
            .cylinders
            .iter()
            .zip(&b.masses_kg)
            .map(|(c, (reciprocating, turning))| CylinderMassView {
                cylinder: c.id.clone(),
                reciprocating: Amount::new(*reciprocating, D::Mass),
                turning: Amount::new(*turning, D::Mass),
            })
            .collect(),
        axles: b
            .axles
            .iter()
            .enumerate()
            .map(|(at, a)| {
                let id = &engine.motion.axles[a.axle].id;
                axle(id, a, &a.wanted.wanted, b.left_over.blows.get(at))
            })
            .collect(),
        as_fitted: b.as_fitted,
        left_over: left_over(&b.left_over),
        by_speed: b
            .blow_by_speed
            .iter()
            .map(|(v, n)| BlowView { speed: speed(*v), blow: Amount::new(*n, D::Force) })
            .collect(),
        heavier: b.heavier.as_ref().map(|h| left_over(&h.after)),
        heavier_wanted: wanted_then.map_or_else(Vec::new, |after| {
            b.axles
                .iter()
                .zip(after)
                .enumerate()
                .map(|(at, (a, w))| {
                    let id = &engine.motion.axles[a.axle].id;
                    let blow = b.heavier.as_ref().and_then(|h| h.after.blows.get(at));
                    axle(id, a, &w.wanted, blow)
                })
                .collect()
        }),
        notes: b.notes.words(engine),
        cautions: BALANCE_CAUTIONS.to_vec(),
    }
}

fn axle(id: &str, a: &AxleAnswer, wanted: &WheelPair, blow: Option<&AxleBlow>) -> AxleView {
    let pair = |p: &WheelPair| {
        vec![weight("left", &p.left, a.radii_m[0]), weight("right", &p.right, a.radii_m[1])]
    };
    AxleView {
        axle: id.to_owned(),
        wanted: pair(wanted),
        fitted: a.fitted.as_ref().map_or_else(Vec::new, pair),
        blow: blow.map_or_else(Vec::new, |x| {
            vec![Amount::new(x.left_n, D::Force), Amount::new(x.right_n, D::Force)]
        }),
        lifts_at: a.lifts_at_m_s.map(Amount::speed),
    }
}

fn weight(side: &'static str, w: &BalanceWeight, radius_m: Option<f64>) -> WeightView {
    WeightView {
        side,
        kg_m: w.mass_radius_kg_m,
        mass: radius_m.and_then(|r| w.mass_kg(r)).map(|m| Amount::new(m, D::Mass)),
        lag_deg: w.lag_rad.to_degrees().rem_euclid(360.0),
    }
}

fn left_over(e: &BalanceEffects) -> LeftOverView {
    let most = e.blows.iter().map(|b| b.left_n.max(b.right_n)).fold(0.0, f64::max);
    LeftOverView {
        greatest_blow: Amount::new(most, D::Force),
        engine_blow: Amount::new(e.engine_blow_n, D::Force),
        tractive_variation: Amount::new(e.tractive_variation_n, D::Force),
        swaying: Amount::new(e.swaying_couple_nm, D::Torque),
    }
}
