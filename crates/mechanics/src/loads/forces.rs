//! Forces in the motion of one cylinder at one angle: rigid-body dynamics of crosshead and rod.

use super::steam::SteamForce;
use super::{CylinderLoad, LoadError, MovingParts};
use crate::motion::{CylinderNo, Motion, RodLine, Running, SliderCrank, WheelAngle};

/// Forces of one cylinder at one angle; signs as in the [module](super).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CylinderForces {
    /// Steam on the piston, N, positive towards the front.
    pub steam_n: f64,
    /// What steam, friction of the piston and inertia of the piston set leave for the crosshead
    /// pin along the line, N, positive towards the front (the "net piston load" of the books).
    pub crosshead_n: f64,
    /// Slide bars on the crosshead, N, positive upwards.
    pub slide_bar_n: f64,
    /// Rod on the crank pin along the line, N.
    pub pin_along_n: f64,
    /// Rod on the crank pin square to the line, N, positive upwards.
    pub pin_across_n: f64,
    /// Thrust of the rod at its small end, N, positive in compression.
    pub small_end_thrust_n: f64,
    /// Thrust of the rod at its big end, N, positive in compression.
    pub big_end_thrust_n: f64,
    /// Load on the small-end pin, whatever its direction, N.
    pub small_end_n: f64,
    /// Turning moment about the axle, N·m, positive forward.
    pub moment_nm: f64,
}

impl CylinderForces {
    /// Load on the crank pin, whatever its direction, N.
    pub fn pin_n(&self) -> f64 {
        self.pin_along_n.hypot(self.pin_across_n)
    }
}

/// What does not change along a revolution.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Body {
    set_kg: f64,
    rod_kg: f64,
    centre_m: f64,
    big_side_m: f64,
    inertia_kg_m2: f64,
    throw_m: f64,
    inv_rod: f64,
    fall_along: f64,
    fall_across: f64,
    slide_friction: f64,
    piston_friction_n: f64,
    speed: f64,
    speed2: f64,
    spin_up: f64,
}

impl Body {
    pub(crate) fn new(
        sc: &SliderCrank,
        parts: &MovingParts,
        incline_rad: f64,
        running: &Running,
    ) -> Self {
        let l = sc.rod_centres_m();
        let (sin, cos) = incline_rad.sin_cos();
        Self {
            set_kg: parts.piston_set_kg,
            rod_kg: parts.rod.mass_kg,
            centre_m: parts.rod.centre_from_small_end_m,
            big_side_m: l - parts.rod.centre_from_small_end_m,
            inertia_kg_m2: parts.rod.inertia_kg_m2(l),
            throw_m: sc.crank_throw_m(),
            inv_rod: 1.0 / l,
            fall_along: -parts.gravity_m_s2 * sin,
            fall_across: -parts.gravity_m_s2 * cos,
            slide_friction: parts.slide_friction,
            piston_friction_n: parts.piston_friction_n,
            speed: running.speed_rad_s,
            speed2: running.speed_rad_s * running.speed_rad_s,
            spin_up: running.acceleration_rad_s2,
        }
    }

    // Own derivation (Newton and Euler for two rigid bodies), in the coordinates of the motion
    // module: g rod angle, t = tan g, q = l cos g, c centre of mass from the small end.
    //
    // Crosshead and piston, mass mc, move along s only. R is the rod's force on them, N the bars',
    // f the bars' friction coefficient, d = sign of the velocity, (gs, gw) free fall:
    //   s:  F - Fp d + Rs - f d |N| + mc gs = mc a
    //   w:  N + Rw + mc gw = 0
    // Rod, mass m, centre of mass G at S - c (cos g, sin g):
    //   aG = (a + c (sin g g'' + cos g g'²),  -c (cos g g'' - sin g g'²))
    //   moments about the crank pin:
    //   l (sin g Rs - cos g Rw) = I g'' + m (l - c) (cos g (aGw - gw) - sin g (aGs - gs)) =: M
    // so Rw = t Rs - M/q, and with Rs = Rs0 + f d |N|, Rs0 = mc (a - gs) - F + Fp d:
    //   N = (-t Rs0 + M/q - mc gw) - t f d |N|
    // whose sign is that of the bracket because |t f| < 1. The rod's force on the crank pin:
    //   Q = -R - m (aG - g)
    // and its moment about the axle, forward (clockwise in s, w) positive:
    //   T = -r (cos f Qw + sin f Qs)
    #[inline(always)]
    pub(crate) fn forces(
        &self,
        rod: &RodLine,
        sin_f: f64,
        cos_f: f64,
        steam_n: f64,
    ) -> CylinderForces {
        let velocity = rod.ds * self.speed;
        let a = rod.dds * self.speed2 + rod.ds * self.spin_up;
        let turn2 = rod.dg * rod.dg * self.speed2;
        let turn_up = rod.ddg * self.speed2 + rod.dg * self.spin_up;
        let (sin_g, cos_g, tan_g) = (rod.u * self.inv_rod, rod.q * self.inv_rod, rod.u * rod.iq);

        let way = if velocity == 0.0 { 0.0 } else { 1.0_f64.copysign(velocity) };
        let rod_along =
            self.rod_kg * (a + self.centre_m * (sin_g * turn_up + cos_g * turn2) - self.fall_along);
        let rod_across =
            self.rod_kg * (self.centre_m * (sin_g * turn2 - cos_g * turn_up) - self.fall_across);
        let moment_m = self.inertia_kg_m2 * turn_up
            + self.big_side_m * (cos_g * rod_across - sin_g * rod_along);

        let rs0 = self.set_kg * (a - self.fall_along) - steam_n + self.piston_friction_n * way;
        let set_weight = self.set_kg * self.fall_across;
        let bar0 = moment_m * rod.iq - tan_g * rs0 - set_weight;
        let drag = self.slide_friction * way;
        let slide_bar_n = bar0 / (1.0 + tan_g * drag * 1.0_f64.copysign(bar0));
        let rs = rs0 + drag * slide_bar_n.abs();
        let rw = -slide_bar_n - set_weight;
        let (pin_along_n, pin_across_n) = (-rs - rod_along, -rw - rod_across);
        CylinderForces {
            steam_n,
            crosshead_n: -rs0,
            slide_bar_n,
            pin_along_n,
            pin_across_n,
            small_end_thrust_n: rs * cos_g + rw * sin_g,
            big_end_thrust_n: -(pin_along_n * cos_g + pin_across_n * sin_g),
            small_end_n: (rs * rs + rw * rw).sqrt(),
            moment_nm: -self.throw_m * (cos_f * pin_across_n + sin_f * pin_along_n),
        }
    }
}

/// Forces of one cylinder at one wheel angle.
///
/// Equation: Newton's and Euler's equations of crosshead set and rod, derivation in the source;
/// with a rod without mass and no friction it is the textbook construction (piston load less
/// inertia, divided by the rod's obliquity; Khurmi & Gupta, *Theory of Machines*, ch. 15).
/// Units: N, N·m; signs as in the [module](super).
/// Worked value: case SC-02 of the reference list, 49.4 kN net, guides 10.96 kN, rod 50.6 kN,
/// moment 14.48 kN·m (in the tests).
///
/// # Errors
/// No cylinder of that number; an input not finite or out of range.
pub fn forces_at(
    motion: &Motion,
    cylinder: CylinderNo,
    load: &CylinderLoad,
    wheel: WheelAngle,
    running: &Running,
) -> Result<CylinderForces, LoadError> {
    running.check()?;
    load.check()?;
    let line = motion.checked_line(cylinder)?;
    let (sc, _) = line.with_axle(running.axle.at(line.line.lateral_m)?)?;
    let crank = wheel.rad() - line.crank_behind_wheel_rad();
    let (sin_f, cos_f) = crank.sin_cos();
    let rod = sc.rod_line(sin_f, cos_f);
    let ends = sc.dead_centres();
    let share = (ends.front_m - rod.s) / ends.stroke_m();
    let mut steam = SteamForce::new(load);
    let steam_n = steam.at(share, goes_back(rod.ds, running.speed_rad_s));
    let body = Body::new(&sc, &load.parts, line.line.incline_rad, running);
    Ok(body.forces(&rod, sin_f, cos_f, steam_n))
}

/// Whether the piston goes back, judged as if running forward when standing.
#[inline(always)]
pub(crate) fn goes_back(position_per_rad_m: f64, speed_rad_s: f64) -> bool {
    if speed_rad_s < 0.0 { 0.0 < position_per_rad_m } else { position_per_rad_m <= 0.0 }
}
