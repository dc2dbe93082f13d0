//! A plan as it is stored between two commands: by the ids of works and ways.

use super::model::Stage;
use super::scheme::Assembled;
use crate::model::Engine;
use sequence::{Cost, Move, Objective, Plan, Step};
use serde::{Deserialize, Serialize};

/// The plans of an engine, one a stage.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct KeptPlans {
    /// Of the strip.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub strip: Option<Kept>,
    /// Of the build.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub build: Option<Kept>,
}

impl KeptPlans {
    /// That of a stage.
    pub fn of(&self, stage: Stage) -> Option<&Kept> {
        match stage {
            Stage::Strip => self.strip.as_ref(),
            Stage::Build => self.build.as_ref(),
        }
    }

    /// Puts one in.
    pub fn put(&mut self, stage: Stage, kept: Kept) {
        match stage {
            Stage::Strip => self.strip = Some(kept),
            Stage::Build => self.build = Some(kept),
        }
    }
}

/// A plan as stored.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Kept {
    /// Seed that it was made with.
    pub seed: u64,
    /// What it goes to; everything when `None`.
    pub only_to: Option<String>,
    /// Of the scheme that it was made for.
    pub scheme: u64,
    /// How many records of what happened it knows.
    pub records: usize,
    /// Steps.
    pub steps: Vec<KeptStep>,
    /// Moves.
    pub moves: Vec<KeptMove>,
    /// Elapsed minutes, moves, set-ups, people-minutes.
    pub cost: [u64; 4],
    /// The same, proven.
    pub bound: [u64; 4],
    /// Proven to be the best.
    pub optimal: bool,
    /// Plans tried.
    pub tried: u64,
}

/// A step as stored.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct KeptStep {
    /// Work.
    pub work: String,
    /// Way.
    pub way: String,
    /// From and until, working minutes.
    pub min: [u64; 2],
}

/// A move as stored.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct KeptMove {
    /// From and to, radians.
    pub rad: [f64; 2],
    /// From and until, working minutes.
    pub min: [u64; 2],
}

fn four(c: &Cost) -> [u64; 4] {
    [c.elapsed_min, c.moves, c.set_ups, c.people_min]
}

fn cost(f: &[u64; 4]) -> Cost {
    Cost { elapsed_min: f[0], moves: f[1], set_ups: f[2], people_min: f[3] }
}

impl Kept {
    /// A plan for storing.
    pub(crate) fn of(
        engine: &Engine,
        assembled: &Assembled,
        plan: &Plan,
        (seed, only_to, records): (u64, Option<String>, usize),
    ) -> Kept {
        let step = |s: &Step| {
            let work = assembled.works.get(s.work.0).map(|w| &engine.works.works[*w])?;
            let way = work.ways.get(s.way)?;
            Some(KeptStep {
                work: work.id.clone(),
                way: way.id.clone(),
                min: [s.start_min, s.end_min],
            })
        };
        let moves = plan
            .moves
            .iter()
            .map(|m| KeptMove { rad: [m.from_rad, m.to_rad], min: [m.start_min, m.end_min] });
        Kept {
            seed,
            only_to,
            scheme: fingerprint(assembled),
            records,
            steps: plan.steps.iter().filter_map(step).collect(),
            moves: moves.collect(),
            cost: four(&plan.cost),
            bound: four(&plan.bound),
            optimal: plan.optimal,
            tried: plan.steps_searched,
        }
    }

    /// The plan; steps of works or ways that are no longer described are left out.
    pub(crate) fn plan(&self, engine: &Engine, assembled: &Assembled) -> Plan {
        let step = |s: &KeptStep| {
            let work = engine.works.work_by_id(&s.work)?;
            let way = engine.works.works[work].ways.iter().position(|w| w.id == s.way)?;
            let id = assembled.id_of(work)?;
            Some(Step { work: id, way, start_min: s.min[0], end_min: s.min[1] })
        };
        let moves = self.moves.iter().filter(|m| m.rad.iter().all(|r| r.is_finite()));
        Plan {
            steps: self.steps.iter().filter_map(step).collect(),
            moves: moves
                .map(|m| Move {
                    from_rad: m.rad[0],
                    to_rad: m.rad[1],
                    start_min: m.min[0],
                    end_min: m.min[1],
                })
                .collect(),
            cost: cost(&self.cost),
            bound: cost(&self.bound),
            objective: Objective::InOrder,
            optimal: self.optimal,
            steps_searched: self.tried,
        }
    }
}

/// Tells a scheme from another: FNV-1a of everything in it but where the engine is to be got to.
pub(crate) fn fingerprint(assembled: &Assembled) -> u64 {
    let text = format!("{:?}", assembled.scheme);
    text.bytes()
        .fold(0xcbf2_9ce4_8422_2325, |h, b| (h ^ u64::from(b)).wrapping_mul(0x0000_0100_0000_01b3))
}
