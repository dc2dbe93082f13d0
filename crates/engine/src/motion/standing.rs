//! Where everything is, and how far to bar the engine to have it elsewhere.

use super::error::NoAnswer;
use super::mechanism::Mechanism;
use super::said::Said;
use mechanics::motion::{
    Barring, Caution, CylinderState, MoveChoice, StandingAt, Wanted, WheelAngle, barring_cautions,
};

/// Everything at one wheel angle.
#[derive(Clone, Debug)]
pub struct Standing {
    /// As it was said.
    pub said: Said,
    /// The wheel angle.
    pub wheel: WheelAngle,
    /// Every cylinder, in the engine's order.
    pub cylinders: Vec<CylinderState>,
}

/// Where everything is at a position.
///
/// # Errors
/// An angle out of range.
pub fn standing(mechanism: &Mechanism, said: &Said) -> Result<Standing, NoAnswer> {
    let wheel = said.wheel_angle(mechanism)?;
    let cylinders = mechanism.motion.at(wheel, &mechanism.running(0.0))?;
    Ok(Standing { said: said.clone(), wheel, cylinders })
}

/// The move from one position to another.
#[derive(Clone, Debug)]
pub struct Bringing {
    /// Where the engine stands.
    pub from: Standing,
    /// Where it will stand.
    pub to: Standing,
    /// Both ways, the shorter first.
    pub moves: MoveChoice,
    /// Everything to be gone through before the engine is moved.
    pub cautions: &'static [Caution],
}

/// How far along the rail to go.
///
/// `doubt_rad` is the standard uncertainty of the angle at which the engine stands now.
///
/// # Errors
/// The tyre is not described; an angle out of range.
pub fn bring(
    mechanism: &Mechanism,
    from: &Said,
    doubt_rad: f64,
    to: &Said,
) -> Result<Bringing, NoAnswer> {
    let barring = Barring::new(&mechanism.motion, mechanism.tyre()?, mechanism.axle)?;
    let from = standing(mechanism, from)?;
    let to = standing(mechanism, to)?;
    let now = StandingAt { position: Wanted::Wheel(from.wheel), standard_rad: doubt_rad };
    let moves = barring.moves(now, Wanted::Wheel(to.wheel))?;
    Ok(Bringing { from, to, moves, cautions: barring_cautions() })
}
