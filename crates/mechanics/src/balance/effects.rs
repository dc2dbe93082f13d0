//! What is left over at a speed: hammer blow, swaying couple, variation of tractive effort.

use super::two_plane::{Vector, opposite};
use super::{BalanceError, BalanceLayout, WheelPair};
use crate::motion::Bound;

const SPEED: Bound = Bound::new("angular speed", "rad/s", -1e3, 1e3);

/// Hammer blow of one axle, N: the rail is loaded and unloaded by this once a turn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AxleBlow {
    /// Left wheel.
    pub left_n: f64,
    /// Right wheel.
    pub right_n: f64,
    /// Both wheels together (not their sum: they do not strike at the same moment).
    pub axle_n: f64,
}

/// Primary forces left over at one speed. All are amplitudes: the force swings between plus and
/// minus this once a turn.
#[derive(Debug, Clone, PartialEq)]
pub struct BalanceEffects {
    /// Hammer blow of each axle.
    pub blows: Vec<AxleBlow>,
    /// Hammer blow of the whole engine on the rails, N.
    pub engine_blow_n: f64,
    /// Variation of the tractive effort, N.
    pub tractive_variation_n: f64,
    /// Swaying couple about an upright axis through the engine's middle, N·m.
    pub swaying_couple_nm: f64,
    /// Upright force of inclined cylinders on the frames, N (0 with level cylinders). It is not a
    /// hammer blow: it comes through the springs.
    pub inclined_lift_n: f64,
}

/// Forces left over with the weights fitted, at an angular speed of the wheels.
///
/// Equation: with `V` the vector of a wheel's weight less what its turning masses want,
/// hammer blow `ω² |V|`; along the road `ω² |Σ m r cos b e^(lag - b) + Σ V|` over reciprocating
/// masses and weights; couple the same with each term times its plane. Classical primary balance
/// (Khurmi & Gupta, *Theory of Machines*, ch. 22), extended to inclined lines (own derivation: the
/// primary force of a piston is `m r ω² cos(a - lag + b)` along a line that rises by `b`).
/// Units: N, N·m. Worked value: reference case SC-10.
/// Valid range: primary forces of a steady speed.
///
/// # Errors
/// A value not finite or out of range; as many pairs of weights as axles are wanted.
pub fn balance_effects(
    layout: &BalanceLayout,
    fitted: &[WheelPair],
    speed_rad_s: f64,
) -> Result<BalanceEffects, BalanceError> {
    layout.check()?;
    let w2 = SPEED.check(speed_rad_s)?.powi(2);
    let over = over_balance(layout, fitted)?;
    let mut blows = Vec::with_capacity(over.len());
    let (mut engine, mut along, mut couple) =
        (Vector::default(), Vector::default(), Vector::default());
    let mut lift = Vector::default();
    for (pair, axle) in over.iter().zip(&layout.axles) {
        let both = pair[0].plus(pair[1], 1.0);
        blows.push(AxleBlow {
            left_n: w2 * pair[0].amount(),
            right_n: w2 * pair[1].amount(),
            axle_n: w2 * both.amount(),
        });
        engine = engine.plus(both, 1.0);
        along = along.plus(both, 1.0);
        couple = couple.plus(pair[0], axle.planes.left_m).plus(pair[1], axle.planes.right_m);
    }
    for c in &layout.cylinders {
        let (sin_b, cos_b) = c.incline_rad.sin_cos();
        let v = Vector::new(c.reciprocating_kg * c.throw_m, c.lag_rad - c.incline_rad);
        along = along.plus(v, cos_b);
        couple = couple.plus(v, cos_b * c.lateral_m);
        lift = lift.plus(v, sin_b);
    }
    Ok(BalanceEffects {
        blows,
        engine_blow_n: w2 * engine.amount(),
        tractive_variation_n: w2 * along.amount(),
        swaying_couple_nm: w2 * couple.amount(),
        inclined_lift_n: w2 * lift.amount(),
    })
}

/// What is left over at each of several road speeds, for a curve against speed.
///
/// Equation: [`balance_effects`] at `ω = v/(D/2)`; everything grows with the square of the speed.
/// Units: m, m/s.
///
/// # Errors
/// As [`balance_effects`]; a tyre diameter outside 0.3 to 3 m; more than 10 000 speeds.
pub fn effects_against_speed(
    layout: &BalanceLayout,
    fitted: &[WheelPair],
    tyre_diameter_m: f64,
    road_speeds_m_s: &[f64],
) -> Result<Vec<BalanceEffects>, BalanceError> {
    const TYRE: Bound = Bound::new("tyre diameter", "m", 0.3, 3.0);
    const ROAD: Bound = Bound::new("road speed", "m/s", -150.0, 150.0);
    let radius = 0.5 * TYRE.check(tyre_diameter_m)?;
    if 10_000 < road_speeds_m_s.len() {
        let count = road_speeds_m_s.len();
        return Err(BalanceError::Count { what: "road speeds", count, low: 0, high: 10_000 });
    }
    road_speeds_m_s
        .iter()
        .map(|v| balance_effects(layout, fitted, ROAD.check(*v)? / radius))
        .collect()
}

/// Weights less what the turning masses want, per wheel of each axle.
pub(crate) fn over_balance(
    layout: &BalanceLayout,
    fitted: &[WheelPair],
) -> Result<Vec<[Vector; 2]>, BalanceError> {
    let axles = layout.axles.len();
    if fitted.len() != axles {
        return Err(BalanceError::Count {
            what: "pairs of weights fitted",
            count: fitted.len(),
            low: axles,
            high: axles,
        });
    }
    fitted
        .iter()
        .enumerate()
        .map(|(i, pair)| {
            pair.left.check()?;
            pair.right.check()?;
            let wanted = opposite(layout.axles[i].planes.share(layout.rotating(i))?);
            Ok([
                pair.left.vector().plus(wanted.left.vector(), -1.0),
                pair.right.vector().plus(wanted.right.vector(), -1.0),
            ])
        })
        .collect()
}

/// Angular speed at which a wheel's hammer blow equals its load on the rail: the wheel would lift.
///
/// Equation: `ω = sqrt(W/|V|)`, `V` the over-balance, found from a blow at a known speed:
/// `ω = ω1 sqrt(W/blow1)`. Textbook.
/// Units: N, rad/s; `None` when there is no blow.
///
/// # Errors
/// A value not finite or out of range.
pub fn lifting_speed_rad_s(
    wheel_load_n: f64,
    blow_n: f64,
    at_speed_rad_s: f64,
) -> Result<Option<f64>, BalanceError> {
    const LOAD: Bound = Bound::new("wheel load", "N", 0.0, 1e6);
    const BLOW: Bound = Bound::new("hammer blow", "N", 0.0, 1e8);
    let (load, blow) = (LOAD.check(wheel_load_n)?, BLOW.check(blow_n)?);
    let speed = SPEED.check(at_speed_rad_s)?.abs();
    Ok((0.0 < blow).then(|| speed * (load / blow).sqrt()))
}
