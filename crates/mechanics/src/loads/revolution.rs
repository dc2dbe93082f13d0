//! Loads of every cylinder through a revolution.

use super::forces::{Body, goes_back};
use super::steam::SteamForce;
use super::{CylinderLoad, LoadError};
use crate::motion::{CylinderNo, Grid, Motion, Place, RodLine, Running};

/// One cylinder's loads, one entry a step; signs as in the [module](super).
#[derive(Debug, Clone, PartialEq)]
pub struct CylinderLoadTrace {
    /// Where the cylinder sits.
    pub place: Place,
    /// Piston from the front end of its stroke as a share of it.
    pub from_front_share: Vec<f64>,
    /// Steam on the piston, N.
    pub steam_n: Vec<f64>,
    /// Slide bars on the crosshead, N.
    pub slide_bar_n: Vec<f64>,
    /// Load on the small-end pin, N.
    pub small_end_n: Vec<f64>,
    /// Thrust of the rod at its small end, N, positive in compression.
    pub small_end_thrust_n: Vec<f64>,
    /// Rod on the crank pin along the line, N.
    pub pin_along_n: Vec<f64>,
    /// Rod on the crank pin square to the line, N.
    pub pin_across_n: Vec<f64>,
    /// Turning moment about the axle, N·m.
    pub moment_nm: Vec<f64>,
}

/// All cylinders' loads in equal steps of one revolution, from wheel angle 0.
#[derive(Debug, Clone, PartialEq)]
pub struct LoadRevolution {
    /// Wheel angle of each step, rad.
    pub wheel_angle_rad: Vec<f64>,
    /// The cylinders in the order of the motion.
    pub cylinders: Vec<CylinderLoadTrace>,
    /// Turning moment of all cylinders together, N·m.
    pub moment_nm: Vec<f64>,
}

impl LoadRevolution {
    /// One cylinder's trace, once it is sure that it belongs to the motion and has an entry for
    /// every step (the fields are open to everybody).
    pub(crate) fn trace(
        &self,
        motion: &Motion,
        cylinder: CylinderNo,
    ) -> Result<&CylinderLoadTrace, LoadError> {
        motion.checked_line(cylinder)?;
        let (loads, cylinders) = (self.cylinders.len(), motion.cylinders());
        let trace = self
            .cylinders
            .get(cylinder.0)
            .filter(|_| loads == cylinders)
            .ok_or(LoadError::Unequal { loads, cylinders })?;
        let steps = self.wheel_angle_rad.len();
        for count in [trace.pin_along_n.len(), trace.pin_across_n.len(), trace.small_end_n.len()] {
            if count != steps {
                let what = "entries of a load trace";
                return Err(LoadError::Count { what, count, low: steps, high: steps });
            }
        }
        Ok(trace)
    }
}

/// Steps worked on together: small enough to stay in the nearest cache.
const BLOCK: usize = 128;

/// Loads of every cylinder at `steps` equal steps of one revolution.
///
/// Equation: as [`forces_at`](super::forces_at), with sine and cosine taken once a step.
/// Units: N, N·m.
///
/// # Errors
/// A list of loads as long as the list of cylinders is wanted; inputs not finite or out of range;
/// fewer than 1 or more than 2 000 000 steps.
pub fn load_revolution(
    motion: &Motion,
    loads: &[CylinderLoad],
    running: &Running,
    steps: usize,
) -> Result<LoadRevolution, LoadError> {
    if loads.len() != motion.cylinders() {
        return Err(LoadError::Unequal { loads: loads.len(), cylinders: motion.cylinders() });
    }
    running.check()?;
    let grid = Grid::new(steps)?;
    let mut moment_nm = vec![0.0; steps];
    let mut cylinders = Vec::with_capacity(loads.len());
    for (i, load) in loads.iter().enumerate() {
        load.check()?;
        let trace = trace(motion, CylinderNo(i), load, running, &grid)?;
        for (total, one) in moment_nm.iter_mut().zip(&trace.moment_nm) {
            *total += one;
        }
        cylinders.push(trace);
    }
    Ok(LoadRevolution { wheel_angle_rad: grid.wheel_angle_rad, cylinders, moment_nm })
}

const NO_ROD: RodLine =
    RodLine { s: 0.0, ds: 0.0, dds: 0.0, u: 0.0, q: 1.0, iq: 1.0, dg: 0.0, ddg: 0.0 };

fn trace(
    motion: &Motion,
    cylinder: CylinderNo,
    load: &CylinderLoad,
    running: &Running,
    grid: &Grid,
) -> Result<CylinderLoadTrace, LoadError> {
    let line = motion.checked_line(cylinder)?;
    let (sc, _) = line.with_axle(running.axle.at(line.line.lateral_m)?)?;
    let ends = sc.dead_centres();
    let inv_stroke = 1.0 / ends.stroke_m();
    let body = Body::new(&sc, &load.parts, line.line.incline_rad, running);
    let (sin_k, cos_k) = line.crank_behind_wheel_rad().sin_cos();
    let mut steam = SteamForce::new(load);

    let n = grid.sin.len();
    let room = || Vec::with_capacity(n);
    let mut out = CylinderLoadTrace {
        place: line.line.place,
        from_front_share: room(),
        steam_n: room(),
        slide_bar_n: room(),
        small_end_n: room(),
        small_end_thrust_n: room(),
        pin_along_n: room(),
        pin_across_n: room(),
        moment_nm: room(),
    };
    let mut rods = [NO_ROD; BLOCK];
    let mut turned = [(0.0, 0.0); BLOCK];
    for (sins, coss) in grid.sin.chunks(BLOCK).zip(grid.cos.chunks(BLOCK)) {
        let m = sins.len();
        for i in 0..m {
            let (sin, cos) = (sins[i] * cos_k - coss[i] * sin_k, coss[i] * cos_k + sins[i] * sin_k);
            turned[i] = (sin, cos);
            rods[i] = sc.rod_line(sin, cos);
        }
        for rod in &rods[..m] {
            let share = (ends.front_m - rod.s) * inv_stroke;
            out.from_front_share.push(share);
            out.steam_n.push(steam.at(share, goes_back(rod.ds, running.speed_rad_s)));
        }
        let from = out.moment_nm.len();
        for i in 0..m {
            let (sin, cos) = turned[i];
            let f = body.forces(&rods[i], sin, cos, out.steam_n[from + i]);
            out.slide_bar_n.push(f.slide_bar_n);
            out.small_end_n.push(f.small_end_n);
            out.small_end_thrust_n.push(f.small_end_thrust_n);
            out.pin_along_n.push(f.pin_along_n);
            out.pin_across_n.push(f.pin_across_n);
            out.moment_nm.push(f.moment_nm);
        }
    }
    Ok(out)
}
