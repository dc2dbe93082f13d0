//! Forces on a wedge: to drive it, to start it out, and whether it stays by itself.

use super::error::{Range, WedgeError};
use super::friction::{Friction, Spread};
use super::taper::Taper;

const PRELOAD: Range = Range::new("preload across the wedge", "N", 0.0, 1e9);
const DRIVE: Range = Range::new("driving force", "N", 0.0, 1e9);
const LOAD: Range = Range::new("load on the block", "N", 0.0, 1e9);
/// Driving a face steeper than this against friction is called jammed, rad.
const JAM_RAD: f64 = 89.0 * std::f64::consts::PI / 180.0;

/// One face of a wedge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Face {
    /// Its slope to the line of driving.
    pub taper: Taper,
    /// Its friction.
    pub friction: Friction,
}

/// A wedge or cotter between two faces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wedge {
    /// One face.
    pub first: Face,
    /// The face opposite.
    pub second: Face,
}

impl Wedge {
    /// A wedge straight on one side and tapered on the other, the same friction on both.
    #[must_use]
    pub fn one_sided(taper: Taper, friction: Friction) -> Self {
        Self { first: Face { taper: Taper::STRAIGHT, friction }, second: Face { taper, friction } }
    }

    /// Both slopes together: take-up for each unit of drive.
    #[must_use]
    pub fn slope(&self) -> f64 {
        self.first.taper.slope() + self.second.taper.slope()
    }

    /// `tan(p1 + sign t1) + tan(p2 + sign t2)` at low, likely and high friction.
    fn tangents(&self, sign: f64) -> Result<[f64; 3], WedgeError> {
        let mut sums = [0.0; 3];
        for face in [self.first, self.second] {
            for (sum, angle) in sums.iter_mut().zip(face.friction.angles_rad()) {
                let angle = angle + sign * face.taper.angle_rad();
                if angle >= JAM_RAD {
                    return Err(WedgeError::Jams { angle_deg: angle.to_degrees() });
                }
                *sum += angle.tan();
            }
        }
        Ok(sums)
    }
}

/// Does a wedge stay where it was driven?
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Holding {
    /// Even at low friction.
    Holds,
    /// Holds at high friction, slips out at low: it needs a lock.
    DependsOnFriction,
    /// Even at high friction it slips out.
    SlipsOut,
}

impl Holding {
    /// The finding in plain words.
    #[must_use]
    pub fn text(self) -> &'static str {
        match self {
            Self::Holds => "holds by friction alone",
            Self::DependsOnFriction => "holds or slips out as friction has it: lock it",
            Self::SlipsOut => "slips out unless it is held",
        }
    }
}

/// Whether a wedge holds by itself.
///
/// **Equation.** It holds while `t1 + t2 < p1 + p2` (tapers and friction angles of both faces).
/// **Units.** rad. **Source.** Statics; Beer & Johnston, Vector Mechanics for Engineers: Statics,
/// chapter on friction (from memory). **Worked value.** Friction 0.10 on both faces: steeper than
/// 1 in 4.95 slips; 0.12: 1 in 4.11; 0.15: 1 in 3.26.
#[must_use]
pub fn holding(wedge: &Wedge) -> Holding {
    let tapers = wedge.first.taper.angle_rad() + wedge.second.taper.angle_rad();
    let [low, _, high] = {
        let first = wedge.first.friction.angles_rad();
        let second = wedge.second.friction.angles_rad();
        std::array::from_fn::<f64, 3, _>(|i| first[i] + second[i])
    };
    if tapers < low {
        Holding::Holds
    } else if tapers < high {
        Holding::DependsOnFriction
    } else {
        Holding::SlipsOut
    }
}

/// Force to drive a wedge home against a preload, N.
///
/// **Equation.** `N (tan(p1 + t1) + tan(p2 + t2))`; with one straight face and equal friction
/// `N (tan p + tan(p + t))`. **Units.** `N` the force across the wedge, square to the line of
/// driving, N. **Range.** Taper and friction angle of a face together below 89 degrees.
/// **Source.** Statics, as above. **Worked value.** 100 kN, friction 0.1, 1 in 24: 24.23 kN in.
///
/// # Errors
///
/// [`WedgeError::OutOfRange`] on the preload, [`WedgeError::Jams`] on the angles.
pub fn drive_force_n(wedge: &Wedge, preload_n: f64) -> Result<Spread, WedgeError> {
    let preload = PRELOAD.check(preload_n)?;
    Ok(Spread::from_three(wedge.tangents(1.0)?.map(|sum| preload * sum)))
}

/// Force to start a wedge out, N. Negative: it comes out by itself and that much holds it in.
///
/// **Equation.** `N (tan(p1 - t1) + tan(p2 - t2))`. **Units, source.** As [`drive_force_n`].
/// **Worked value.** 100 kN, friction 0.1, 1 in 24: 15.81 kN out. A wedge that wants heavy effort
/// to draw points to packing behind it or a face out of true (common practice).
///
/// # Errors
///
/// As [`drive_force_n`].
pub fn start_out_force_n(wedge: &Wedge, preload_n: f64) -> Result<Spread, WedgeError> {
    let preload = PRELOAD.check(preload_n)?;
    Ok(Spread::from_three(wedge.tangents(-1.0)?.map(|sum| preload * sum)))
}

/// What the effort to draw a wedge says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DrawEffort {
    /// Between the figures at low and high friction.
    AsFrictionHasIt,
    /// More than high friction explains.
    HeavierThanFriction,
    /// Less than low friction explains.
    LighterThanFriction,
}

impl DrawEffort {
    /// The finding in plain words.
    #[must_use]
    pub fn text(self) -> &'static str {
        match self {
            Self::AsFrictionHasIt => "draws as friction has it",
            Self::HeavierThanFriction => {
                "draws heavier than friction explains: look for packing behind it, a face out of \
                 true or a burr"
            }
            Self::LighterThanFriction => {
                "draws lighter than friction explains: it was not up to its preload, or is oiled \
                 more than thought"
            }
        }
    }
}

/// Compares the force it took to start a wedge out with what friction explains.
///
/// **Equation.** The force seen beside the spread of [`start_out_force_n`]. **Source.** Common
/// practice: a split-bearing wedge holds by friction alone and is set by light blows; one that wants
/// heavy effort to draw points to packing behind it or a face out of true.
///
/// # Errors
///
/// As [`start_out_force_n`].
pub fn judge_draw_effort(
    wedge: &Wedge,
    preload_n: f64,
    seen_n: f64,
) -> Result<DrawEffort, WedgeError> {
    let seen = DRIVE.check(seen_n)?;
    let out = start_out_force_n(wedge, preload_n)?;
    Ok(if seen > out.greatest() {
        DrawEffort::HeavierThanFriction
    } else if seen < out.least() {
        DrawEffort::LighterThanFriction
    } else {
        DrawEffort::AsFrictionHasIt
    })
}

/// Preload that a driving force makes, N: the less friction, the more.
///
/// # Errors
///
/// As [`drive_force_n`]; also [`WedgeError::OutOfRange`] when neither taper nor friction resists.
pub fn preload_from_drive_n(wedge: &Wedge, drive_n: f64) -> Result<Spread, WedgeError> {
    const RESISTANCE: Range =
        Range::new("sum of tangents of taper and friction", "(ratio)", 1e-6, 1e3);
    let drive = DRIVE.check(drive_n)?;
    let sums = wedge.tangents(1.0)?;
    RESISTANCE.check(sums[0])?;
    Ok(Spread::from_three(sums.map(|sum| drive / sum)))
}

/// A block kept upright by a guide and carried on a wedge that slides on a base: a driving-box
/// wedge in its horn, a packing wedge under a jack.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GuidedBlock {
    /// Load pressing the block on the wedge, N.
    pub load_n: f64,
    /// Slope of the face between block and wedge.
    pub taper: Taper,
    /// Friction between block and wedge.
    pub on_wedge: Friction,
    /// Friction between block and guide.
    pub on_guide: Friction,
    /// Friction between wedge and base.
    pub on_base: Friction,
}

/// Which way the block moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BlockMotion {
    /// The wedge is driven in and the block rises.
    Raise,
    /// The wedge is drawn out and the block comes down.
    Lower,
}

/// Force on the wedge and what the wedge face carries.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GuidedForce {
    /// Force on the wedge along its base, N: in to raise, out to lower. Negative when lowering:
    /// it slips by itself and must be held.
    pub force_n: Spread,
    /// Whole force between block and wedge, N.
    pub wedge_reaction_n: Spread,
}

/// Force to move a guided block with a wedge.
///
/// **Equation.** Own derivation by force triangles; friction angles `p` (wedge face), `g` (guide),
/// `b` (base), taper `t`. Raise: `R = W cos g / cos(t + p + g)`, `Q = R sin(t + p + b) / cos b`.
/// Lower: `R = W cos g / cos(p - t - g)`, `Q = R sin(p - t + b) / cos b`. **Units.** N, rad.
/// **Range.** `t + p + g` below 89 degrees. **Source.** Checked on Beer & Johnston, Statics, sample
/// problem 8.4 (from memory). **Worked value.** 400 lbf, 8 degrees, friction 0.35 everywhere: raise
/// 423 lbf, lower 206 lbf.
///
/// # Errors
///
/// [`WedgeError::OutOfRange`] on the load; [`WedgeError::Jams`] when the guide locks the block.
pub fn guided_block_force(
    block: &GuidedBlock,
    motion: BlockMotion,
) -> Result<GuidedForce, WedgeError> {
    let load = LOAD.check(block.load_n)?;
    let taper = block.taper.angle_rad();
    let (wedge, guide, base) =
        (block.on_wedge.angles_rad(), block.on_guide.angles_rad(), block.on_base.angles_rad());
    let (mut force, mut reaction) = ([0.0; 3], [0.0; 3]);
    for i in 0..3 {
        let (p, g, b) = (wedge[i], guide[i], base[i]);
        let (lean, push) = match motion {
            BlockMotion::Raise => (taper + p + g, taper + p + b),
            BlockMotion::Lower => (p - taper - g, p - taper + b),
        };
        if lean.abs() >= JAM_RAD {
            return Err(WedgeError::Jams { angle_deg: lean.to_degrees() });
        }
        reaction[i] = load * g.cos() / lean.cos();
        force[i] = reaction[i] * push.sin() / b.cos();
    }
    Ok(GuidedForce {
        force_n: Spread::from_three(force),
        wedge_reaction_n: Spread::from_three(reaction),
    })
}
