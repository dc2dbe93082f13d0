//! Barring: how far along the rail the engine must go to bring a crank where it is wanted.

use super::angle::fold_turn;
use super::bounds::ANGLE;
use super::{
    Arcs, AxleBoxes, Bound, CylinderNo, CylinderState, Motion, MotionError, Running, WheelAngle,
};
use std::f64::consts::{PI, TAU};

/// Measured driving tyre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tyre {
    /// Diameter on the tread where it runs on the rail, m.
    pub diameter_m: f64,
    /// Its standard uncertainty, m.
    pub diameter_standard_m: f64,
}

/// A position of the wheels, said the way a fitter says it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Wanted {
    /// One crank this far past its front dead centre in forward rotation, rad.
    PastFrontDeadCentre {
        /// Which cylinder.
        cylinder: CylinderNo,
        /// How far past, rad.
        past_rad: f64,
    },
    /// One crank on its front dead centre.
    FrontDeadCentre(CylinderNo),
    /// One crank on its back dead centre.
    BackDeadCentre(CylinderNo),
    /// Crank pin straight in front of the axle.
    PinForward(CylinderNo),
    /// Crank pin at the bottom.
    PinBottom(CylinderNo),
    /// Crank pin straight behind the axle.
    PinBackward(CylinderNo),
    /// Crank pin at the top.
    PinTop(CylinderNo),
    /// Crosshead at a share of its stroke from the front, on the way back (in forward rotation).
    CrossheadGoingBack {
        /// Which cylinder.
        cylinder: CylinderNo,
        /// Share of the stroke from the front end, 0 to 1.
        from_front_share: f64,
    },
    /// Crosshead at a share of its stroke from the front, on the way forward.
    CrossheadGoingForward {
        /// Which cylinder.
        cylinder: CylinderNo,
        /// Share of the stroke from the front end, 0 to 1.
        from_front_share: f64,
    },
    /// A wheel angle.
    Wheel(WheelAngle),
}

/// Where the engine stands now.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StandingAt {
    /// The position.
    pub position: Wanted,
    /// Standard uncertainty of the angle it was read with, rad.
    pub standard_rad: f64,
}

/// Which way the engine goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// Forward.
    Forward,
    /// Backward.
    Backward,
}

/// One way of going there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Move {
    /// Which way.
    pub way: Way,
    /// Turn of the wheels, rad, never negative.
    pub turn_rad: f64,
    /// The same in turns.
    pub turns: f64,
    /// Distance along the rail, m, never negative.
    pub distance_m: f64,
    /// Standard uncertainty of the distance that really brings the crank there, m.
    pub distance_standard_m: f64,
    /// Standard uncertainty of the wheel angle if exactly that distance is gone, rad.
    pub arrival_standard_rad: f64,
    /// Wheel angle on arrival, folded into a turn.
    pub arrival: WheelAngle,
}

/// The shorter way and the other one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MoveChoice {
    /// The shorter (forward when both are alike; no distance at all when already there).
    pub shorter: Move,
    /// The other way round.
    pub other: Move,
}

impl MoveChoice {
    /// The shorter of the moves that fit the rail there is in front and behind, m; `None` when
    /// neither does. The room must be clear rail as the person in charge sees it.
    pub fn within(&self, room_forward_m: f64, room_backward_m: f64) -> Option<Move> {
        let fits = |m: &Move| match m.way {
            Way::Forward => m.distance_m <= room_forward_m,
            Way::Backward => m.distance_m <= room_backward_m,
        };
        [self.shorter, self.other].into_iter().find(fits)
    }
}

/// The motion, its tyre and where its axle stands.
#[derive(Debug, Clone)]
pub struct Barring<'a> {
    motion: &'a Motion,
    tyre: Tyre,
    axle: AxleBoxes,
}

// Own derivation: rolling without slip, distance x = turn * D/2. With the start angle known to
// u0 and the diameter to uD (the wanted position is exact):
//   u(x)² = (D/2)² u0² + (turn/2)² uD²
//   going exactly x:  u(arrival)² = u0² + (turn uD/D)²
impl<'a> Barring<'a> {
    /// Barring questions for one motion.
    ///
    /// # Errors
    /// Tyre diameter outside 0.3 to 3 m or its uncertainty outside 0 to 0.1 m; an axle movement
    /// out of range.
    pub fn new(motion: &'a Motion, tyre: Tyre, axle: AxleBoxes) -> Result<Self, MotionError> {
        const DIAMETER: Bound = Bound::new("tyre diameter", "m", 0.3, 3.0);
        const UNSURE: Bound = Bound::new("uncertainty of the tyre diameter", "m", 0.0, 0.1);
        DIAMETER.check(tyre.diameter_m)?;
        UNSURE.check(tyre.diameter_standard_m)?;
        for i in 0..motion.cylinders() {
            motion.dead_centres(CylinderNo(i), &axle)?;
        }
        Ok(Self { motion, tyre, axle })
    }

    /// Wheel angle of a position, folded into a turn.
    ///
    /// Equation: dead centres and crosshead positions by the exact slider-crank and its inverse;
    /// pin directions `a = 0, π/2, π, 3π/2` for front, bottom, back, top, wheel angle `a + lag`.
    ///
    /// # Errors
    /// No cylinder of that number; an angle out of range; a share outside 0 to 1.
    pub fn wheel_angle(&self, position: Wanted) -> Result<WheelAngle, MotionError> {
        const SHARE: Bound = Bound::new("share of the stroke from the front", "", 0.0, 1.0);
        const PAST: Bound = Bound { what: "angle past front dead centre", ..ANGLE };
        let ends = |c| self.motion.dead_centres(c, &self.axle);
        let pin = |c: CylinderNo, absolute_rad: f64| -> Result<WheelAngle, MotionError> {
            let lag = self.motion.line(c)?.crank_lag_rad;
            Ok(WheelAngle::from_rad(absolute_rad + lag)?.folded())
        };
        let crosshead = |c: CylinderNo, share: f64, pick: usize| {
            let line = self.motion.checked_line(c)?;
            let (sc, _) = line.with_axle(self.axle.at(line.line.lateral_m)?)?;
            let e = sc.dead_centres();
            let s = e.front_m - SHARE.check(share)? * e.stroke_m();
            self.motion.wheel_angle(c, sc.crank_angles_at(s)?[pick])
        };
        match position {
            Wanted::PastFrontDeadCentre { cylinder, past_rad } => {
                let crank = ends(cylinder)?.front_crank_rad + PAST.check(past_rad)?;
                self.motion.wheel_angle(cylinder, crank)
            }
            Wanted::FrontDeadCentre(c) => self.motion.wheel_angle(c, ends(c)?.front_crank_rad),
            Wanted::BackDeadCentre(c) => self.motion.wheel_angle(c, ends(c)?.back_crank_rad),
            Wanted::PinForward(c) => pin(c, 0.0),
            Wanted::PinBottom(c) => pin(c, 0.5 * PI),
            Wanted::PinBackward(c) => pin(c, PI),
            Wanted::PinTop(c) => pin(c, 1.5 * PI),
            Wanted::CrossheadGoingBack { cylinder, from_front_share } => {
                crosshead(cylinder, from_front_share, 0)
            }
            Wanted::CrossheadGoingForward { cylinder, from_front_share } => {
                crosshead(cylinder, from_front_share, 1)
            }
            Wanted::Wheel(angle) => Ok(angle.folded()),
        }
    }

    /// Distance along the rail from where the engine stands to a wanted position, both ways.
    ///
    /// Equation: `x = turn D/2` (no slip), uncertainty as shown in the source (own derivation,
    /// first order).
    /// Units: rad, m. Worked value: tyre 1.600 m, a quarter turn: 1.2566 m.
    ///
    /// # Errors
    /// As [`Barring::wheel_angle`]; an uncertainty of the angle outside 0 to 1 rad.
    pub fn moves(&self, standing: StandingAt, wanted: Wanted) -> Result<MoveChoice, MotionError> {
        let from = self.wheel_angle(standing.position)?;
        let to = self.wheel_angle(wanted)?;
        let mut forward_turn = fold_turn(to.rad() - from.rad());
        // A full turn less a hair is rounding, not a move.
        if TAU - forward_turn < 1e-12 {
            forward_turn = 0.0;
        }
        let forward = self.one_move(standing, from, Way::Forward, forward_turn)?;
        let backward = self.one_move(standing, from, Way::Backward, TAU - forward_turn)?;
        Ok(if forward_turn <= PI {
            MoveChoice { shorter: forward, other: backward }
        } else {
            MoveChoice { shorter: backward, other: forward }
        })
    }

    /// Moves into the nearest of a set of wheel-angle windows (as given by
    /// [`Barring::wheel_windows`] or [`common_window`](super::common_window)), forward and then
    /// backward: to its near edge, with a margin of angle inside it. A window narrower than
    /// twice the margin is gone into by half its width. `None` when there is no window.
    ///
    /// # Errors
    /// As [`Barring::moves`]; a margin outside 0 to π.
    pub fn moves_into(
        &self,
        standing: StandingAt,
        windows: &Arcs,
        margin_rad: f64,
    ) -> Result<Option<[Move; 2]>, MotionError> {
        const MARGIN: Bound = Bound::new("margin inside the window", "rad", 0.0, PI);
        let margin_rad = MARGIN.check(margin_rad)?;
        let from = self.wheel_angle(standing.position)?;
        let turn = |found: Option<(f64, super::Arc)>| {
            found.map(|(turn, arc)| {
                let already = turn == 0.0;
                if already { 0.0 } else { turn + margin_rad.min(0.5 * arc.length_rad) }
            })
        };
        let forward = turn(windows.next_forward(from.rad()));
        let backward = turn(windows.next_backward(from.rad()));
        match (forward, backward) {
            (Some(f), Some(b)) => Ok(Some([
                self.one_move(standing, from, Way::Forward, f)?,
                self.one_move(standing, from, Way::Backward, b)?,
            ])),
            _ => Ok(None),
        }
    }

    /// Windows of one crank (angles past its own front dead centre in forward rotation, each
    /// going forward from the first to the second) as windows of the wheel angle.
    ///
    /// # Errors
    /// No cylinder of that number; an angle not finite or out of range.
    pub fn wheel_windows(
        &self,
        cylinder: CylinderNo,
        past_front_dead_centre_rad: &[(f64, f64)],
    ) -> Result<Arcs, MotionError> {
        let zero = self.wheel_angle(Wanted::FrontDeadCentre(cylinder))?;
        Ok(Arcs::from_to(past_front_dead_centre_rad)?.turned(zero.rad()))
    }

    /// Where every crank, crosshead and piston will be on arrival.
    ///
    /// # Errors
    /// As [`Motion::at`].
    pub fn positions(&self, arrival: WheelAngle) -> Result<Vec<CylinderState>, MotionError> {
        self.motion.at(arrival, &Running { axle: self.axle, ..Running::STANDING })
    }

    fn one_move(
        &self,
        standing: StandingAt,
        from: WheelAngle,
        way: Way,
        turn_rad: f64,
    ) -> Result<Move, MotionError> {
        const UNSURE: Bound = Bound::new("uncertainty of the angle", "rad", 0.0, 1.0);
        let u0 = UNSURE.check(standing.standard_rad)?;
        let (d, ud) = (self.tyre.diameter_m, self.tyre.diameter_standard_m);
        let signed = match way {
            Way::Forward => turn_rad,
            Way::Backward => -turn_rad,
        };
        Ok(Move {
            way,
            turn_rad,
            turns: turn_rad / TAU,
            distance_m: 0.5 * d * turn_rad,
            distance_standard_m: (0.5 * d * u0).hypot(0.5 * turn_rad * ud),
            arrival_standard_rad: u0.hypot(turn_rad * ud / d),
            arrival: WheelAngle::unchecked(fold_turn(from.rad() + signed)),
        })
    }
}
