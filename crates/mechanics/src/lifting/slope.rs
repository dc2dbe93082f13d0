//! Rolling or sliding a part on a board down or up a slope.

use super::STANDARD_GRAVITY_M_S2;
use super::error::{LiftingError, MASS, Range};
use crate::wedge::{Friction, Spread};

const ANGLE: Range = Range::new("slope", "rad", 0.0, 1.4);
const RUN: Range = Range::new("length of the slope", "m", 0.0, 1000.0);

/// A part on a sloping board.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OnSlope {
    /// Mass, kg.
    pub mass_kg: f64,
    /// Slope of the board, rad.
    pub slope_rad: f64,
    /// Friction of sliding, or resistance of rolling over weight, low, likely and high.
    pub resistance: Friction,
    /// Length of slope below the part, m.
    pub run_m: f64,
}

/// Whether a part stays on a slope by itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SelfHold {
    /// It stays even at the low resistance. A knock may still start it.
    StaysComputed,
    /// It stays at high and runs at low resistance.
    MayRun,
    /// It runs even at the high resistance.
    Runs,
}

/// Forces along a slope, all at low, likely and high resistance, N.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SlopeForces {
    /// Force up the slope that just holds it back; 0 where it stays by itself.
    pub hold_back_n: Spread,
    /// Push down the slope that starts it; 0 where it runs by itself.
    pub start_down_n: Spread,
    /// Pull up the slope that hauls it up.
    pub haul_up_n: Spread,
    /// Whether it stays by itself.
    pub holds: SelfHold,
    /// Speed at the foot if let go at the top at the low resistance, m/s.
    pub foot_speed_m_s: f64,
    /// How far it then runs on the level at the low resistance, m; infinite without any.
    pub run_out_m: f64,
}

/// Forces to hold, start and haul a part on a slope.
///
/// Equations: `hold = W (sin α − μ cos α)`, `start = W (μ cos α − sin α)`, both not below 0,
/// `haul = W (sin α + μ cos α)`; let go, `v² = 2 g s (sin α − μ cos α)`, and on the level
/// `v² / (2 g μ)`. For rolling μ is the resistance over the weight; the energy of turning is left
/// out, so that a roller comes down slower than computed (a solid one by a fifth, `√(2/3)`).
///
/// Source: block on an incline (Beer & Johnston, Statics, ch. 8, from memory).
///
/// # Errors
/// Slope outside 0 to 1.4 rad, masses and lengths out of range.
pub fn slope_forces(part: &OnSlope) -> Result<SlopeForces, LiftingError> {
    let weight = MASS.check(part.mass_kg)? * STANDARD_GRAVITY_M_S2;
    let (sin, cos) = ANGLE.check(part.slope_rad)?.sin_cos();
    let run = RUN.check(part.run_m)?;
    let r = part.resistance;
    let each = |f: &dyn Fn(f64) -> f64| Spread {
        at_low: f(r.low()),
        at_likely: f(r.likely()),
        at_high: f(r.high()),
    };
    let holds = if sin <= r.low() * cos {
        SelfHold::StaysComputed
    } else if sin <= r.high() * cos {
        SelfHold::MayRun
    } else {
        SelfHold::Runs
    };
    let square = (2.0 * STANDARD_GRAVITY_M_S2 * run * (sin - r.low() * cos)).max(0.0);
    let run_out_m =
        if square == 0.0 { 0.0 } else { square / (2.0 * STANDARD_GRAVITY_M_S2 * r.low()) };
    Ok(SlopeForces {
        hold_back_n: each(&|mu| (weight * (sin - mu * cos)).max(0.0)),
        start_down_n: each(&|mu| (weight * (mu * cos - sin)).max(0.0)),
        haul_up_n: each(&|mu| weight * (sin + mu * cos)),
        holds,
        foot_speed_m_s: square.sqrt(),
        run_out_m,
    })
}

/// What a hand must hold on a rope taken round a post, N, at low, likely and high friction of rope
/// on post.
///
/// Equation: `T₂ = T₁ e^{−μ θ}` (Euler; Beer & Johnston, Statics, belt friction, from memory).
///
/// # Errors
/// Force outside 0 to 1e8 N, turn outside 0 to 40 rad.
///
/// Worked value: two full turns with friction 0.3 hold 150 N against 6.5 kN (Beer & Johnston,
/// Statics, sample problem 8.7: a hawser, 7.5 kN and 150 N give 0.311; from memory).
pub fn rope_round_post(
    pull_n: f64,
    turn_rad: f64,
    friction: Friction,
) -> Result<Spread, LiftingError> {
    let pull = super::error::FORCE.check(pull_n)?;
    let turn = Range::new("angle of the rope round the post", "rad", 0.0, 40.0).check(turn_rad)?;
    let at = |mu: f64| pull * (-mu * turn).exp();
    Ok(Spread {
        at_low: at(friction.low()),
        at_likely: at(friction.likely()),
        at_high: at(friction.high()),
    })
}
