//! Loads of every cylinder through a revolution.

use super::forces::{Body, goes_back};
use super::steam::SteamForce;
use super::{CylinderLoad, LoadError};
use crate::motion::{CylinderNo, Grid, Motion, Place, RodLine, Running, SliderCrank};

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
/// Units: N, N·m. For many revolutions (a sweep over speeds) see [`RepeatedLoads`].
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
    let mut once = RepeatedLoads::new(steps)?;
    once.run(motion, loads, running)?;
    Ok(once.out)
}

/// Revolution after revolution in the same room: no memory is asked for after the first one.
#[derive(Debug, Clone)]
pub struct RepeatedLoads {
    grid: Grid,
    out: LoadRevolution,
}

impl RepeatedLoads {
    /// Room for revolutions of so many steps.
    ///
    /// # Errors
    /// Fewer than 1 or more than 2 000 000 steps.
    pub fn new(steps: usize) -> Result<Self, LoadError> {
        let grid = Grid::new(steps)?;
        let out = LoadRevolution {
            wheel_angle_rad: grid.wheel_angle_rad.clone(),
            cylinders: Vec::new(),
            moment_nm: vec![0.0; steps],
        };
        Ok(Self { grid, out })
    }

    /// Works out one revolution; the answer stays until the next one.
    ///
    /// # Errors
    /// As [`load_revolution`]; the answer of the run before is then gone.
    pub fn run(
        &mut self,
        motion: &Motion,
        loads: &[CylinderLoad],
        running: &Running,
    ) -> Result<&LoadRevolution, LoadError> {
        if loads.len() != motion.cylinders() {
            return Err(LoadError::Unequal { loads: loads.len(), cylinders: motion.cylinders() });
        }
        running.check()?;
        for load in loads {
            load.check()?;
        }
        self.out.cylinders.resize_with(loads.len(), CylinderLoadTrace::empty);
        self.out.moment_nm.fill(0.0);
        for (i, (load, trace)) in loads.iter().zip(&mut self.out.cylinders).enumerate() {
            fill(trace, motion, CylinderNo(i), load, running, &self.grid)?;
            for (total, one) in self.out.moment_nm.iter_mut().zip(&trace.moment_nm) {
                *total += one;
            }
        }
        Ok(&self.out)
    }
}

impl CylinderLoadTrace {
    fn empty() -> Self {
        Self {
            place: Place::Middle,
            from_front_share: Vec::new(),
            steam_n: Vec::new(),
            slide_bar_n: Vec::new(),
            small_end_n: Vec::new(),
            small_end_thrust_n: Vec::new(),
            pin_along_n: Vec::new(),
            pin_across_n: Vec::new(),
            moment_nm: Vec::new(),
        }
    }
}

/// One quantity of a block of steps.
type Lane = [f64; BLOCK];

/// A block of steps, one array a quantity, so that the compiler works on several steps at once.
/// Loops always run over the whole block; what lies beyond the last step is worked out and left.
struct Block {
    sin: Lane,
    cos: Lane,
    s: Lane,
    ds: Lane,
    dds: Lane,
    u: Lane,
    q: Lane,
    iq: Lane,
    dg: Lane,
    ddg: Lane,
    share: Lane,
    steam: Lane,
    slide_bar: Lane,
    small_end: Lane,
    thrust: Lane,
    along: Lane,
    across: Lane,
    moment: Lane,
}

impl Block {
    fn new() -> Self {
        let zero = [0.0; BLOCK];
        Self {
            sin: zero,
            // Angle zero, so that even unused places hold a rod that can be worked out.
            cos: [1.0; BLOCK],
            s: zero,
            ds: zero,
            dds: zero,
            u: zero,
            q: zero,
            iq: zero,
            dg: zero,
            ddg: zero,
            share: zero,
            steam: zero,
            slide_bar: zero,
            small_end: zero,
            thrust: zero,
            along: zero,
            across: zero,
            moment: zero,
        }
    }

    /// Sines and cosines of the wheel turned back by the crank's lag.
    fn turn(&mut self, sins: &[f64], coss: &[f64], sin_k: f64, cos_k: f64) {
        let out = self.sin.iter_mut().zip(&mut self.cos);
        for ((sin, cos), (s, c)) in out.zip(sins.iter().zip(coss)) {
            *sin = s * cos_k - c * sin_k;
            *cos = c * cos_k + s * sin_k;
        }
    }

    fn rods(&mut self, sc: &SliderCrank, front_m: f64, inv_stroke: f64) {
        for i in 0..BLOCK {
            let rod = sc.rod_line(self.sin[i], self.cos[i]);
            self.s[i] = rod.s;
            self.ds[i] = rod.ds;
            self.dds[i] = rod.dds;
            self.u[i] = rod.u;
            self.q[i] = rod.q;
            self.iq[i] = rod.iq;
            self.dg[i] = rod.dg;
            self.ddg[i] = rod.ddg;
            self.share[i] = (front_m - rod.s) * inv_stroke;
        }
    }

    fn forces(&mut self, body: &Body) {
        for i in 0..BLOCK {
            let rod = RodLine {
                s: self.s[i],
                ds: self.ds[i],
                dds: self.dds[i],
                u: self.u[i],
                q: self.q[i],
                iq: self.iq[i],
                dg: self.dg[i],
                ddg: self.ddg[i],
            };
            let f = body.forces(&rod, self.sin[i], self.cos[i], self.steam[i]);
            self.slide_bar[i] = f.slide_bar_n;
            self.small_end[i] = f.small_end_n;
            self.thrust[i] = f.small_end_thrust_n;
            self.along[i] = f.pin_along_n;
            self.across[i] = f.pin_across_n;
            self.moment[i] = f.moment_nm;
        }
    }
}

fn fill(
    out: &mut CylinderLoadTrace,
    motion: &Motion,
    cylinder: CylinderNo,
    load: &CylinderLoad,
    running: &Running,
    grid: &Grid,
) -> Result<(), LoadError> {
    let line = motion.checked_line(cylinder)?;
    let (sc, _) = line.with_axle(running.axle.at(line.line.lateral_m)?)?;
    let ends = sc.dead_centres();
    let inv_stroke = 1.0 / ends.stroke_m();
    let body = Body::new(&sc, &load.parts, line.line.incline_rad, running);
    let (sin_k, cos_k) = line.crank_behind_wheel_rad().sin_cos();
    let mut steam = SteamForce::new(load);
    out.place = line.line.place;
    let n = grid.sin.len();
    for array in [
        &mut out.from_front_share,
        &mut out.steam_n,
        &mut out.slide_bar_n,
        &mut out.small_end_n,
        &mut out.small_end_thrust_n,
        &mut out.pin_along_n,
        &mut out.pin_across_n,
        &mut out.moment_nm,
    ] {
        array.clear();
        array.reserve_exact(n);
    }
    let mut b = Block::new();
    for (sins, coss) in grid.sin.chunks(BLOCK).zip(grid.cos.chunks(BLOCK)) {
        let m = sins.len();
        b.turn(sins, coss, sin_k, cos_k);
        b.rods(&sc, ends.front_m, inv_stroke);
        for i in 0..m {
            b.steam[i] = steam.at(b.share[i], goes_back(b.ds[i], running.speed_rad_s));
        }
        b.forces(&body);
        out.from_front_share.extend_from_slice(&b.share[..m]);
        out.steam_n.extend_from_slice(&b.steam[..m]);
        out.slide_bar_n.extend_from_slice(&b.slide_bar[..m]);
        out.small_end_n.extend_from_slice(&b.small_end[..m]);
        out.small_end_thrust_n.extend_from_slice(&b.thrust[..m]);
        out.pin_along_n.extend_from_slice(&b.along[..m]);
        out.pin_across_n.extend_from_slice(&b.across[..m]);
        out.moment_nm.extend_from_slice(&b.moment[..m]);
    }
    Ok(())
}
