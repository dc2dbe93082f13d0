//! Every attitude in which a load can hang from one hook by legs that do not stretch.
//!
//! Own derivation. In the part's frame the body is fixed and the hook h moves. Legs that do not
//! stretch let h lie in every ball |h − e_i| ≤ L_i. For a given h the body turns until its balance
//! point G is straight under the hook, so the energy of the load is −W |h − G|: hanging at rest
//! means that |h − G| is stationary over the intersection of the balls, and hanging stably that it
//! is a local maximum. The condition with multipliers is
//!
//!   h − G = Σ λ_i (h − e_i),  λ_i ≥ 0,
//!
//! which is the balance of forces: leg i pulls with t_i = λ_i L_i W / |h − G|. With one or two legs
//! taut h is free on a sphere or circle; the second derivative of ½|h−G|² − Σ λ_i ½|h−e_i|² there is
//! 1 − Σλ_i in every free direction, so that the load hangs stably only where Σλ_i > 1: the balance
//! point lies below the eye or the line of the eyes. With three legs taut h is a corner and the
//! maximum is strict where all λ_i > 0, wherever G lies.

use super::leg::Legs;
use nalgebra::{DMatrix, DVector, Vector3};

/// Lengths and gaps that are the same within this, m.
pub(super) const SAME_M: f64 = 1e-7;

/// Distance of the balance point from the line of two eyes (or from one eye) below which the load
/// rolls freely, m.
const ROLLS_M: f64 = 1e-6;

pub(super) struct Equilibrium {
    /// The hook in the part's frame.
    pub(super) hook: Vector3<f64>,
    /// The legs that hold it, from 0.
    pub(super) held_by: Vec<usize>,
    pub(super) stable: bool,
    /// How far the balance point lies above what it hangs by, seen along the vertical.
    pub(super) above_m: f64,
}

pub(super) struct Equilibria {
    pub(super) found: Vec<Equilibrium>,
    /// The balance point lies on the eye, or on the line of two eyes that alone hold it.
    pub(super) rolls: bool,
}

pub(super) fn equilibria(legs: &Legs, g: &Vector3<f64>) -> Equilibria {
    let n = legs.eyes.len();
    let mut all = Equilibria { found: Vec::new(), rolls: false };
    for mask in 1_u32..(1 << n) {
        let set: Vec<usize> = (0..n).filter(|i| mask & (1 << i) != 0).collect();
        match set.len() {
            1 => one_leg(legs, g, set[0], &mut all),
            2 => two_legs(legs, g, [set[0], set[1]], &mut all),
            3 => three_legs(legs, g, [set[0], set[1], set[2]], &mut all),
            _ => {}
        }
    }
    all
}

fn one_leg(legs: &Legs, g: &Vector3<f64>, i: usize, all: &mut Equilibria) {
    let away = legs.eyes[i] - g;
    let distance = away.norm();
    if distance < ROLLS_M {
        all.rolls |= legs.eyes.len() == 1;
        return;
    }
    let direction = away / distance;
    for sign in [1.0, -1.0] {
        let hook = legs.eyes[i] + direction * (sign * legs.lengths[i]);
        admit(legs, g, hook, &[i], all);
    }
}

fn two_legs(legs: &Legs, g: &Vector3<f64>, set: [usize; 2], all: &mut Equilibria) {
    let [a, b] = set.map(|i| legs.eyes[i]);
    let [la, lb] = set.map(|i| legs.lengths[i]);
    let span = (b - a).norm();
    let axis = (b - a) / span;
    let along = (la * la - lb * lb + span * span) / (2.0 * span);
    let square = la * la - along * along;
    if square <= 0.0 {
        return;
    }
    let centre = a + axis * along;
    let off = (g - centre) - axis * (g - centre).dot(&axis);
    if off.norm() < ROLLS_M {
        all.rolls |= legs.eyes.len() == 2;
        return;
    }
    for sign in [-1.0, 1.0] {
        let hook = centre + off.normalize() * (sign * square.sqrt());
        admit(legs, g, hook, &set, all);
    }
}

fn three_legs(legs: &Legs, g: &Vector3<f64>, set: [usize; 3], all: &mut Equilibria) {
    let [a, b, c] = set.map(|i| legs.eyes[i]);
    let [la, lb, lc] = set.map(|i| legs.lengths[i]);
    // Three spheres: x along a-b, y in the plane of the three eyes, z across it.
    let span = (b - a).norm();
    let x = (b - a) / span;
    let i = x.dot(&(c - a));
    let across = (c - a) - x * i;
    let j = across.norm();
    if j < 1e-6 * span {
        return;
    }
    let y = across / j;
    let z = x.cross(&y);
    let hx = (la * la - lb * lb + span * span) / (2.0 * span);
    let hy = (la * la - lc * lc + i * i + j * j - 2.0 * i * hx) / (2.0 * j);
    let square = la * la - hx * hx - hy * hy;
    if square <= 0.0 {
        return;
    }
    for sign in [1.0, -1.0] {
        let hook = a + x * hx + y * hy + z * (sign * square.sqrt());
        admit(legs, g, hook, &set, all);
    }
}

/// Keeps the hook where the held legs pull and the others reach.
fn admit(legs: &Legs, g: &Vector3<f64>, hook: Vector3<f64>, set: &[usize], all: &mut Equilibria) {
    let reach = |i: usize| (hook - legs.eyes[i]).norm() - legs.lengths[i];
    if (0..legs.eyes.len()).any(|i| !set.contains(&i) && reach(i) > SAME_M) {
        return;
    }
    let hang = hook - g;
    let drop = hang.norm();
    if drop < ROLLS_M {
        return;
    }
    let columns = DMatrix::from_fn(3, set.len(), |r, c| (hook - legs.eyes[set[c]])[r]);
    let right = DVector::from_iterator(3, hang.iter().copied());
    let Ok(lambda) = columns.clone().svd(true, true).solve(&right, 1e-12) else {
        return;
    };
    if (&columns * &lambda - right).norm() > 1e-6 * drop || lambda.iter().any(|&l| l < -1e-9) {
        return;
    }
    let up = hang / drop;
    let high = set.iter().map(|&i| legs.eyes[i].dot(&up)).fold(f64::NEG_INFINITY, f64::max);
    let above_m = if set.len() == 2 {
        // Along the vertical through G, how far over the plane-wise line of the two eyes.
        let (a, b) = (legs.eyes[set[0]], legs.eyes[set[1]]);
        let axis = (b - a).normalize();
        let foot = a + axis * (g - a).dot(&axis);
        (g - foot).norm() * (g - foot).dot(&up).signum()
    } else {
        g.dot(&up) - high
    };
    let stable = set.len() == 3 || lambda.sum() > 1.0;
    all.found.push(Equilibrium { hook, held_by: set.to_vec(), stable, above_m });
}
