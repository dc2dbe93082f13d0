//! Crank positions at which something can be done.

use std::f64::consts::TAU;

/// An arc of wheel angle, from one angle forward to another, ends included. Radians, forward
/// rotation positive; `from` may be greater than `to` (the arc then runs through 0).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arc {
    /// Where it begins, radians.
    pub from_rad: f64,
    /// Where it ends going forward, radians.
    pub to_rad: f64,
}

impl Arc {
    /// An arc of so much either side of an angle.
    #[must_use]
    pub fn about(angle_rad: f64, either_side_rad: f64) -> Self {
        Self { from_rad: angle_rad - either_side_rad, to_rad: angle_rad + either_side_rad }
    }

    /// Length, radians, 0 to below 2π; an arc written as a whole turn or more counts as 2π.
    #[must_use]
    pub fn length_rad(&self) -> f64 {
        let raw = self.to_rad - self.from_rad;
        if raw >= TAU - 1e-12 { TAU } else { raw.rem_euclid(TAU) }
    }

    /// Whether an angle lies in it, ends included within 1e-9 rad.
    #[must_use]
    pub fn holds(&self, angle_rad: f64) -> bool {
        let on = (angle_rad - self.from_rad).rem_euclid(TAU);
        on <= self.length_rad() + 1e-9 || on >= TAU - 1e-9
    }
}

/// Crank positions at which a way can be done.
#[derive(Debug, Clone, PartialEq)]
pub enum Window {
    /// Any position.
    Any,
    /// Any of these arcs.
    Arcs(Vec<Arc>),
}

impl Window {
    /// So much either side of one angle.
    #[must_use]
    pub fn about(angle_rad: f64, either_side_rad: f64) -> Self {
        Self::Arcs(vec![Arc::about(angle_rad, either_side_rad)])
    }

    /// Whether an angle will do.
    #[must_use]
    pub fn holds(&self, angle_rad: f64) -> bool {
        match self {
            Self::Any => true,
            Self::Arcs(arcs) => arcs.iter().any(|a| a.holds(angle_rad)),
        }
    }

    /// Whether no position will do, or one of the angles is no number.
    #[must_use]
    pub fn is_impossible(&self) -> bool {
        match self {
            Self::Any => false,
            Self::Arcs(arcs) => {
                arcs.is_empty()
                    || arcs.iter().any(|a| !a.from_rad.is_finite() || !a.to_rad.is_finite())
            }
        }
    }
}

/// The shorter arc between two angles, radians, 0 to π.
pub(crate) fn apart_rad(a_rad: f64, b_rad: f64) -> f64 {
    let d = (a_rad - b_rad).rem_euclid(TAU);
    d.min(TAU - d)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    #[test]
    fn an_arc_may_run_through_nought() {
        let a = Arc { from_rad: 6.0, to_rad: 0.5 };
        assert!(a.holds(6.2) && a.holds(0.2) && a.holds(0.2 + TAU) && a.holds(0.5));
        assert!(!a.holds(1.0) && !a.holds(5.9));
    }

    #[test]
    fn the_shorter_way_round() {
        assert!((apart_rad(0.1, TAU - 0.1) - 0.2).abs() < 1e-12);
        assert!((apart_rad(0.0, PI) - PI).abs() < 1e-12);
    }
}
