//! Windows on a circle, with wrap-around: the angles at which something can be done.

use super::angle::fold_turn;
use super::bounds::ANGLE;
use super::{Bound, MotionError};
use std::f64::consts::TAU;

/// Windows narrower than this are no windows: a hair of the rim, lost in any reading.
const NARROWEST_RAD: f64 = 1e-9;

/// One window: from an angle forward over a length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arc {
    /// Where it begins, `0 <= angle < 2π`.
    pub from_rad: f64,
    /// How far it goes forward, up to 2π.
    pub length_rad: f64,
}

impl Arc {
    /// Where it ends, `0 <= angle < 2π`.
    pub fn to_rad(&self) -> f64 {
        fold_turn(self.from_rad + self.length_rad)
    }

    /// Its middle, `0 <= angle < 2π`.
    pub fn middle_rad(&self) -> f64 {
        fold_turn(self.from_rad + 0.5 * self.length_rad)
    }

    /// Whether an angle lies in it, ends included.
    pub fn contains(&self, angle_rad: f64) -> bool {
        fold_turn(angle_rad - self.from_rad) <= self.length_rad
            || TAU - fold_turn(angle_rad - self.from_rad) < NARROWEST_RAD
    }
}

/// A set of windows that do not touch, in order of where they begin. Empty: never; a single
/// window of length 2π: always.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Arcs(Vec<Arc>);

impl Arcs {
    /// No window at all.
    pub fn never() -> Self {
        Self(Vec::new())
    }

    /// The whole turn.
    pub fn always() -> Self {
        Self(vec![Arc { from_rad: 0.0, length_rad: TAU }])
    }

    /// Windows given as (from, to), each going *forward* from the first angle to the second
    /// through less than a turn; overlapping ones become one. Angles are folded into a turn, so
    /// (350°, 20°) is a window of 30° over the zero, while (0°, 360°) is the whole turn. A window
    /// narrower than 1e-9 rad is left out.
    ///
    /// # Errors
    /// An angle not finite or beyond ±1e5 rad.
    pub fn from_to(windows: &[(f64, f64)]) -> Result<Self, MotionError> {
        const END: Bound = Bound { what: "end of a window", ..ANGLE };
        let mut spans = Vec::with_capacity(windows.len() + 1);
        for (from, to) in windows {
            let difference = END.check(*to)? - END.check(*from)?;
            let mut length = fold_turn(difference);
            // Ends that fall together to rounding: a whole turn if that is what was said, else
            // nothing.
            if !(NARROWEST_RAD..=TAU - NARROWEST_RAD).contains(&length) {
                length = if 1.0 < difference.abs() { TAU } else { 0.0 };
            }
            push_wrapped(&mut spans, fold_turn(*from), length);
        }
        Ok(Self::join(spans))
    }

    /// The windows.
    pub fn windows(&self) -> &[Arc] {
        &self.0
    }

    /// Whether there is none.
    pub fn is_never(&self) -> bool {
        self.0.is_empty()
    }

    /// Sum of the lengths, rad.
    pub fn total_rad(&self) -> f64 {
        self.0.iter().map(|a| a.length_rad).sum()
    }

    /// Whether an angle lies in one of them.
    pub fn contains(&self, angle_rad: f64) -> bool {
        self.0.iter().any(|a| a.contains(angle_rad))
    }

    /// The same windows turned forward.
    #[must_use]
    pub fn turned(&self, by_rad: f64) -> Self {
        let mut spans = Vec::with_capacity(self.0.len() + 1);
        for a in &self.0 {
            push_wrapped(&mut spans, fold_turn(a.from_rad + by_rad), a.length_rad);
        }
        Self::join(spans)
    }

    /// Angles that lie in both.
    #[must_use]
    pub fn and(&self, other: &Self) -> Self {
        let (mine, theirs) = (self.spans(), other.spans());
        let mut spans = Vec::new();
        for (a, b) in &mine {
            for (c, d) in &theirs {
                let (from, to) = (a.max(*c), b.min(*d));
                if NARROWEST_RAD < to - from {
                    spans.push((from, to));
                }
            }
        }
        Self::join(spans)
    }

    /// Angles that lie in either.
    #[must_use]
    pub fn or(&self, other: &Self) -> Self {
        let mut spans = self.spans();
        spans.extend(other.spans());
        Self::join(spans)
    }

    /// Turn forward from an angle to the near edge of the next window and that window; no turn
    /// when the angle lies in one.
    pub fn next_forward(&self, from_rad: f64) -> Option<(f64, Arc)> {
        self.nearest(|a| fold_turn(a.from_rad - from_rad), from_rad)
    }

    /// Turn *backward* (as a positive figure) from an angle to the near edge of the next window,
    /// and that window; no turn when the angle lies in one.
    pub fn next_backward(&self, from_rad: f64) -> Option<(f64, Arc)> {
        self.nearest(|a| fold_turn(from_rad - a.from_rad - a.length_rad), from_rad)
    }

    fn nearest(&self, turn: impl Fn(&Arc) -> f64, from_rad: f64) -> Option<(f64, Arc)> {
        let turn_of = |a: &Arc| if a.contains(from_rad) { 0.0 } else { turn(a) };
        self.0.iter().map(|a| (turn_of(a), *a)).min_by(|a, b| a.0.total_cmp(&b.0))
    }

    /// As pieces of the straight line from 0 to 2π.
    fn spans(&self) -> Vec<(f64, f64)> {
        let mut spans = Vec::with_capacity(self.0.len() + 1);
        for a in &self.0 {
            push_wrapped(&mut spans, a.from_rad, a.length_rad);
        }
        spans
    }

    fn join(mut spans: Vec<(f64, f64)>) -> Self {
        spans.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut joined: Vec<(f64, f64)> = Vec::with_capacity(spans.len());
        for (from, to) in spans {
            match joined.last_mut() {
                Some(last) if from <= last.1 + NARROWEST_RAD => last.1 = last.1.max(to),
                _ => joined.push((from, to)),
            }
        }
        // A piece that ends at 2π and one that begins at 0 are one window.
        if let (Some(first), Some(last)) = (joined.first().copied(), joined.last().copied()) {
            let touches = first.0 <= NARROWEST_RAD && TAU - NARROWEST_RAD <= last.1;
            if touches && 1 < joined.len() {
                joined.remove(0);
                if let Some(end) = joined.last_mut() {
                    end.1 = TAU + first.1;
                }
            }
        }
        let arcs = joined
            .into_iter()
            .map(|(from, to)| Arc { from_rad: from, length_rad: (to - from).min(TAU) })
            .collect();
        Self(arcs)
    }
}

fn push_wrapped(spans: &mut Vec<(f64, f64)>, from: f64, length: f64) {
    if length < NARROWEST_RAD {
        return;
    }
    let to = from + length;
    if to <= TAU {
        spans.push((from, to));
    } else {
        spans.push((from, TAU));
        spans.push((0.0, to - TAU));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn degrees(windows: &[(f64, f64)]) -> Arcs {
        let rad: Vec<_> = windows.iter().map(|(a, b)| (a.to_radians(), b.to_radians())).collect();
        Arcs::from_to(&rad).unwrap()
    }

    #[test]
    fn wraps_round_the_zero() {
        let a = degrees(&[(350.0, 20.0), (90.0, 120.0)]);
        assert_eq!(a.windows().len(), 2);
        assert!(a.contains(0.0) && a.contains(355.0_f64.to_radians()));
        assert!(!a.contains(21.0_f64.to_radians()));
        assert!((a.total_rad().to_degrees() - 60.0).abs() < 1e-9);
        let b = degrees(&[(10.0, 95.0)]);
        let both = a.and(&b);
        assert_eq!(both.windows().len(), 2);
        assert!((both.total_rad().to_degrees() - 15.0).abs() < 1e-9);
        let (turn, _) = a.next_forward(1.0).unwrap();
        assert!((turn - (90.0_f64.to_radians() - 1.0)).abs() < 1e-12);
        let (turn, arc) = a.next_backward(80.0_f64.to_radians()).unwrap();
        assert!((turn.to_degrees() - 60.0).abs() < 1e-9);
        assert!((arc.from_rad.to_degrees() - 350.0).abs() < 1e-9);
        assert!(Arcs::never().next_forward(0.0).is_none());
        assert_eq!(degrees(&[(0.0, 360.0)]), Arcs::always());
        assert!((degrees(&[(200.0, 560.0)]).total_rad() - TAU).abs() < 1e-12);
        assert!(degrees(&[(77.0, 77.0)]).is_never());
        assert_eq!(Arcs::always().and(&b), b);
        assert_eq!(Arcs::always().turned(1.0).total_rad(), TAU);
    }

    proptest! {
        /// Membership of the result of "and", "or" and "turned" is what it must be, point by point.
        #[test]
        fn sets_are_what_their_points_say(
            w in proptest::collection::vec((0.0..360.0_f64, 1.0..200.0_f64), 0..4),
            v in proptest::collection::vec((0.0..360.0_f64, 1.0..200.0_f64), 0..4),
            turn in -10.0..10.0_f64,
        ) {
            let make = |x: &[(f64, f64)]| {
                degrees(&x.iter().map(|(f, l)| (*f, f + l)).collect::<Vec<_>>())
            };
            let (a, b) = (make(&w), make(&v));
            let (and, or, turned) = (a.and(&b), a.or(&b), a.turned(turn));
            for i in 0..360 {
                // Off the whole degrees, where random ends do not fall.
                let x = (f64::from(i) + 0.123_456_7).to_radians();
                prop_assert_eq!(and.contains(x), a.contains(x) && b.contains(x));
                prop_assert_eq!(or.contains(x), a.contains(x) || b.contains(x));
                prop_assert_eq!(turned.contains(x + turn), a.contains(x));
                if let Some((t, _)) = a.next_forward(x) {
                    prop_assert!(a.contains(x + t + 1e-7));
                    prop_assert!(t == 0.0 || !a.contains(x + 0.5 * t));
                }
                if let Some((t, _)) = a.next_backward(x) {
                    prop_assert!(a.contains(x - t - 1e-7));
                    prop_assert!(t == 0.0 || !a.contains(x - 0.5 * t));
                }
            }
        }
    }
}
