//! Balance weights wanted on every wheel, and what is left over at a speed.

use super::error::NoAnswer;
use super::mechanism::{Mechanism, record};
use super::model::MotionModel;
use super::resolve::{Notes, Resolver};
use crate::judge::{FeatureState, Judgement};
use mechanics::balance::{
    AxleBalance, AxleParts, BalanceCylinder, BalanceEffects, BalanceLayout, BalanceWeight,
    MassChange, MassChangeEffect, Planes, RotatingMass, WheelPair, balance_effects,
    balance_weights, lifting_speed_rad_s, mass_change_effect, split_rod,
};
use mechanics::motion::CylinderNo;
use quantity::{Dimension, Quantity};

/// A mass someone proposes to add (or, negative, take off).
#[derive(Clone, Debug, PartialEq)]
pub struct HeavierBy {
    /// As said.
    pub text: String,
    /// The change.
    pub change: MassChange,
}

/// Reads `left reciprocating 5 kg`, `right turning -3 kg`.
///
/// # Errors
/// Says which word is wrong and what may stand there.
pub fn parse_heavier(model: &MotionModel, text: &str) -> Result<HeavierBy, NoAnswer> {
    let how = "write \"left reciprocating 5 kg\" or \"left turning -3 kg\"";
    let words: Vec<&str> = text.split_whitespace().collect();
    let kind_at = words
        .iter()
        .position(|w| matches!(w.to_lowercase().as_str(), "reciprocating" | "turning"))
        .ok_or_else(|| NoAnswer::words(format!("\"{text}\" does not say which mass"), how))?;
    let cylinder = model.cylinder_by_id(&words[..kind_at].join(" ")).ok_or_else(|| {
        let ids: Vec<&str> = model.cylinders.iter().map(|c| c.id.as_str()).collect();
        NoAnswer::words(
            format!("\"{text}\" names no cylinder"),
            format!("there are: {}; {how}", ids.join(", ")),
        )
    })?;
    let mass = words[kind_at + 1..].join(" ");
    let (sign, plain) = match mass.strip_prefix(['-', '\u{2212}']) {
        Some(rest) => (-1.0, rest.trim()),
        None => (1.0, mass.trim_start_matches('+').trim()),
    };
    let q = Quantity::parse_as(plain, Dimension::Mass)
        .map_err(|e| NoAnswer::words(format!("\"{plain}\": {}", e.reason()), e.hint()))?;
    let change_kg = sign * q.si();
    let change = if words[kind_at].eq_ignore_ascii_case("turning") {
        MassChange::Rotating { cylinder, change_kg }
    } else {
        MassChange::Reciprocating { cylinder, change_kg }
    };
    Ok(HeavierBy { text: text.trim().to_owned(), change })
}

/// One axle.
#[derive(Clone, Debug)]
pub struct AxleAnswer {
    /// Position in the engine's list.
    pub axle: usize,
    /// Weights wanted.
    pub wanted: AxleBalance,
    /// Weights fitted, where described.
    pub fitted: Option<WheelPair>,
    /// Radii at which weights are given as masses, left and right, metres.
    pub radii_m: [Option<f64>; 2],
    /// Speed of the engine at which a wheel would lift, m/s, where the wheel load is described.
    pub lifts_at_m_s: Option<f64>,
}

/// Balance of the engine.
#[derive(Clone, Debug)]
pub struct Balancing {
    /// Speed, m/s.
    pub speed_m_s: f64,
    /// Share of the reciprocating masses balanced.
    pub balanced: f64,
    /// Reciprocating and turning mass of each cylinder, the rod's shares in them, kg.
    pub masses_kg: Vec<(f64, f64)>,
    /// Axles.
    pub axles: Vec<AxleAnswer>,
    /// What is left over with the weights fitted (where every axle has them) or those wanted.
    pub left_over: BalanceEffects,
    /// The left-over is with the weights as fitted.
    pub as_fitted: bool,
    /// Greatest hammer blow of a wheel at a list of speeds (m/s, N).
    pub blow_by_speed: Vec<(f64, f64)>,
    /// Effect of the masses proposed.
    pub heavier: Option<MassChangeEffect>,
    /// What it rests on.
    pub notes: Notes,
}

/// Balance at a speed, and with masses changed.
///
/// # Errors
/// Everything that is not described.
pub fn balancing(
    judgement: &Judgement,
    mechanism: &Mechanism,
    speed_m_s: f64,
    heavier: &[HeavierBy],
) -> Result<Balancing, NoAnswer> {
    let engine = judgement.engine();
    let model = &engine.motion;
    let mut r: Resolver<'_, [FeatureState]> = Resolver::new(engine, judgement.features());
    let tyre = mechanism.tyre()?;
    let mut cylinders = Vec::new();
    let mut masses_kg = Vec::new();
    for (at, c) in model.cylinders.iter().enumerate() {
        let of = format!("cylinder {}", c.id);
        let piston = r.want_mass(&c.masses, "piston-mass", &of, &record(c));
        let rod = r.want_mass(&c.masses, "rod-mass", &of, &record(c));
        let crank = r.want_mass(&c.masses, "crank-mass", &of, &record(c));
        let centre = r.want(&c.sizes, "rod-balance-point", &of, &record(c));
        let (Some(piston), Some(rod), Some(crank), Some(centre)) = (piston, rod, crank, centre)
        else {
            continue;
        };
        let line = mechanism.motion.line(CylinderNo(at))?;
        let (to_and_fro, turning) = split_rod(rod, centre.value(), line.rod_centres_m)?;
        masses_kg.push((piston + to_and_fro, crank + turning));
        cylinders.push(BalanceCylinder {
            lateral_m: line.lateral_m,
            throw_m: line.crank_throw_m,
            lag_rad: line.crank_lag_rad,
            incline_rad: line.incline_rad,
            rotating_kg: crank + turning,
            reciprocating_kg: piston + to_and_fro,
        });
    }
    if model.axles.is_empty() {
        r.lack("the axles", "write an [[axle]] for each coupled axle; see docs/motion.md");
    }
    let driver = model.axles.iter().position(|a| a.driven);
    if driver.is_none() && !model.axles.is_empty() {
        r.lack("which axle the cylinders drive", "write driven = true in its [[axle]]");
    }
    let balanced = r.figure(&model.figures, "balanced", "the reciprocating masses", "[motion]");
    let mut axles = Vec::new();
    let mut fitted = Vec::new();
    let mut radii = Vec::new();
    for (at, a) in model.axles.iter().enumerate() {
        let of = format!("axle {}", a.id);
        let rec = format!("[[axle]] id = \"{}\"", a.id);
        let plane = r.want(&a.sizes, "weight-plane", &of, &rec);
        let share = r.figure(&a.figures, "reciprocating-share", &of, &rec);
        let mut masses = Vec::new();
        for m in model.turning_masses.iter().filter(|m| m.axle == at) {
            let (mass, radius) = (r.mass(&m.mass), r.size(&m.radius));
            let from = r.size(&m.from_middle);
            if let (Some(mass_kg), Some(radius), Some(from)) = (mass, radius, from) {
                masses.push(RotatingMass {
                    mass_kg,
                    radius_m: radius.value(),
                    lag_rad: m.lag_rad,
                    lateral_m: if m.left { from.value() } else { -from.value() },
                });
            }
        }
        let weights = [
            ("left-weight", "left-weight-radius", "left-weight-lag"),
            ("right-weight", "right-weight-radius", "right-weight-lag"),
        ]
        .map(|(mass, radius, lag)| {
            if !a.masses.contains_key(mass) {
                return None;
            }
            let mass = r.want_mass(&a.masses, mass, &of, &rec)?;
            let radius = r.want(&a.sizes, radius, &of, &rec)?.value();
            let lag_rad = r.figure(&a.figures, lag, &of, &rec)?;
            Some(BalanceWeight { mass_radius_kg_m: mass * radius, lag_rad })
        });
        radii.push(
            ["left-weight-radius", "right-weight-radius"]
                .map(|n| a.sizes.get(n).and_then(|s| r.size(s)).map(|v| v.value())),
        );
        fitted.push(match weights {
            [Some(left), Some(right)] => Some(WheelPair { left, right }),
            _ => None,
        });
        if let (Some(plane), Some(reciprocating_share)) = (plane, share) {
            let planes = Planes { left_m: plane.value(), right_m: -plane.value() };
            axles.push(AxleParts { planes, masses, reciprocating_share });
        }
    }
    r.done(())?;
    let (Some(driver), Some(reciprocating_balanced)) = (driver, balanced) else {
        return Err(NoAnswer::words("the balance is not described", "see docs/motion.md"));
    };
    let layout = BalanceLayout { cylinders, axles, driver, reciprocating_balanced };
    let wanted = balance_weights(&layout)?;
    let all_fitted: Option<Vec<WheelPair>> = fitted.iter().copied().collect();
    let as_fitted = all_fitted.is_some();
    let weights = all_fitted.unwrap_or_else(|| wanted.iter().map(|w| w.wanted).collect());
    if !as_fitted {
        r.notes.said.insert(
            "the weights fitted are not all described (left-weight, left-weight-radius, left-weight-lag and the right ones of every [[axle]]): what is left over is reckoned with the weights wanted".to_owned(),
        );
    }
    let to_rad = |v: f64| 2.0 * v / tyre.diameter_m;
    let left_over = balance_effects(&layout, &weights, to_rad(speed_m_s))?;
    let most_blow =
        |e: &BalanceEffects| e.blows.iter().map(|b| b.left_n.max(b.right_n)).fold(0.0, f64::max);
    let mut blow_by_speed = Vec::new();
    for step in 1..=5 {
        let v = speed_m_s * f64::from(step) * 0.25;
        blow_by_speed.push((v, most_blow(&balance_effects(&layout, &weights, to_rad(v))?)));
    }
    let mut answers = Vec::new();
    for (at, a) in model.axles.iter().enumerate() {
        let lifts_at_m_s = match a.figures.get("wheel-load") {
            Some(load) => {
                let blow = left_over.blows[at].left_n.max(left_over.blows[at].right_n);
                lifting_speed_rad_s(*load, blow, to_rad(speed_m_s))?
                    .map(|w| 0.5 * w * tyre.diameter_m)
            }
            None => None,
        };
        answers.push(AxleAnswer {
            axle: at,
            wanted: wanted[at],
            fitted: fitted[at],
            radii_m: radii[at],
            lifts_at_m_s,
        });
    }
    let heavier = if heavier.is_empty() {
        None
    } else {
        let changes: Vec<MassChange> = heavier.iter().map(|h| h.change).collect();
        Some(mass_change_effect(&layout, &weights, &changes, to_rad(speed_m_s))?)
    };
    let mut notes = mechanism.notes.clone();
    notes.take(&r.notes);
    Ok(Balancing {
        speed_m_s,
        balanced: reciprocating_balanced,
        masses_kg,
        axles: answers,
        left_over,
        as_fitted,
        blow_by_speed,
        heavier,
        notes,
    })
}
