//! Masses and balance points of parts: weighed, or composed from simple solids.

use super::model::Lift;
use super::no_plan::NoPlan;
use crate::model::{Engine, PartIx};
use mechanics::lifting::{
    Body, Density, DensityNo, LiftingError, PartSign, Piece, PieceKind, Placement, compose,
};

/// The mass of one part and where it comes from.
#[derive(Clone, Debug, PartialEq)]
pub struct PartMass {
    /// Part.
    pub part: PartIx,
    /// Mass, kg.
    pub mass_kg: f64,
    /// Its standard uncertainty, kg; `None`: nobody said.
    pub doubt_kg: Option<f64>,
    /// It is composed from solids, not weighed.
    pub composed: bool,
}

/// What hangs on the hook.
#[derive(Clone, Debug)]
pub struct Load {
    /// Mass and balance point.
    pub body: Body,
    /// The parts.
    pub parts: Vec<PartMass>,
    /// What was taken for granted.
    pub notes: Vec<String>,
}

/// Share of a density by which steel of a kind differs from a handbook, taken where a material says
/// nothing of it: common practice.
const DENSITY_DOUBT: f64 = 0.004;

/// Mass and, where it is known, balance point of a part by itself.
///
/// # Errors
/// Neither a mass nor solids are described; solids that cannot be.
pub fn part_body(engine: &Engine, part: PartIx) -> Result<(PartMass, Option<Body>), NoPlan> {
    let p = engine.part(part);
    let bad = |e: LiftingError| NoPlan::Lift { lift: p.name.clone(), why: e.to_string() };
    let solids: Vec<_> = engine.works.solids.iter().filter(|s| s.of == part).collect();
    let composed = if solids.is_empty() {
        None
    } else {
        let mut densities: Vec<(crate::model::MaterialIx, Density)> = Vec::new();
        let mut pieces = Vec::new();
        for s in &solids {
            let at = match densities.iter().position(|d| d.0 == s.material) {
                Some(at) => at,
                None => {
                    let kg_m3 =
                        engine.materials[s.material.index()].density_kg_m3.unwrap_or_default();
                    let u_kg_m3 = kg_m3 * DENSITY_DOUBT;
                    densities.push((s.material, Density { kg_m3, u_kg_m3 }));
                    densities.len() - 1
                }
            };
            pieces.push(Piece {
                solid: s.solid.clone(),
                density: DensityNo(at),
                kind: if s.hole { PieceKind::Hole } else { PieceKind::Metal },
                placement: Placement { origin_m: s.at_m, turn_rad: s.turned_rad },
                u_place_m: s.doubt_m,
            });
        }
        let densities: Vec<Density> = densities.into_iter().map(|d| d.1).collect();
        Some(compose(&pieces, &densities).map_err(bad)?.body)
    };
    let ties = engine.works.parts.get(&part);
    let weighed = p.mass.as_ref().map(quantity::Quantity::si);
    let doubt_kg = ties.and_then(|t| t.mass_doubt_kg);
    let balance = ties.and_then(|t| t.balance_m.map(|b| (b, t.balance_doubt_m)));
    let (mass_kg, doubt_kg, by_solids) = match (weighed, &composed) {
        (Some(m), _) => (m, doubt_kg, false),
        (None, Some(b)) => (b.mass_kg(), Some(b.u_mass_kg()), true),
        (None, None) => {
            return Err(NoPlan::Lift {
                lift: p.name.clone(),
                why: format!(
                    "its mass is not known; weigh it and write mass = \"...\" in [[part]] id = \"{}\", or describe [[solid]]s of it",
                    p.id
                ),
            });
        }
    };
    let centre = balance.or_else(|| composed.as_ref().map(|b| (b.centre_m(), b.u_centre_m())));
    let body = match centre {
        Some((c, u)) => Some(Body::weighed((mass_kg, doubt_kg.unwrap_or(0.0)), c, u).map_err(bad)?),
        None => None,
    };
    Ok((PartMass { part, mass_kg, doubt_kg, composed: by_solids }, body))
}

/// What a lift has on the hook.
///
/// # Errors
/// A part without a mass; a balance point that nobody has given and that cannot be composed.
pub fn load_of(engine: &Engine, lift: &Lift) -> Result<Load, NoPlan> {
    let bad = |e: LiftingError| NoPlan::Lift { lift: lift.name.clone(), why: e.to_string() };
    let mut parts = Vec::new();
    let mut bodies = Vec::new();
    let mut notes = Vec::new();
    for p in &lift.parts {
        let (mass, body) = part_body(engine, *p)?;
        if mass.doubt_kg.is_none() && lift.mass_doubt_kg.is_none() {
            notes.push(format!(
                "how well the mass of {} is known is not said: taken as exact",
                engine.part(*p).name
            ));
        }
        parts.push(mass);
        bodies.push(body);
    }
    let mass_kg = parts.iter().map(|m| m.mass_kg).sum::<f64>() + lift.and_kg;
    let by_parts = parts.iter().filter_map(|m| m.doubt_kg).map(|u| u * u).sum::<f64>().sqrt();
    let doubt_kg = lift.mass_doubt_kg.unwrap_or(by_parts);
    let body = match lift.balance_m {
        Some(at) => Body::weighed((mass_kg, doubt_kg), at, lift.balance_doubt_m).map_err(bad)?,
        None => {
            let all: Option<Vec<(Body, PartSign)>> =
                bodies.into_iter().map(|b| b.map(|b| (b, PartSign::On))).collect();
            let Some(all) = all else {
                return Err(NoPlan::Lift {
                    lift: lift.name.clone(),
                    why: format!(
                        "its balance point is not known; find it by hanging or weighing and write balance = [\"...\", \"...\", \"...\"] in [[lift]] id = \"{}\"",
                        lift.id
                    ),
                });
            };
            if lift.and_kg > 0.0 {
                notes.push("what hangs on besides is not in the balance point".to_owned());
            }
            Body::assembled(&all).map_err(bad)?
        }
    };
    Ok(Load { body, parts, notes })
}
