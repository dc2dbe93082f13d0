//! What each leg of a sling carries when there are more legs than statics can tell apart.

use super::super::error::{LiftingError, Range, check_count};
use nalgebra::{DMatrix, DVector, Matrix3, Vector3};

/// Leg tensions at a given attitude, N.
#[derive(Debug, Clone, PartialEq)]
pub struct LegShares {
    /// Tension of each leg if all are of one stretch per length and just fit; `None` where even so
    /// the legs that statics would want to push have been left out to no answer.
    pub even_n: Vec<f64>,
    /// Least each leg can carry in any balance of forces.
    pub least_n: Vec<f64>,
    /// Most each leg can carry in any balance of forces: a leg a little long or short makes it so.
    pub most_n: Vec<f64>,
}

/// Tensions of legs that meet in one hook, from their directions.
///
/// `pulls` are vectors from the eyes to the hook, m; `weight_n` acts straight down along `-up`.
///
/// Equation: `Σ t_i u_i = W up`, `t_i ≥ 0`. With three legs that span space this has one answer;
/// with four it has a family. The range is taken over its corners (at most three legs carrying), so
/// `most_n` is what a leg carries when the worst of the others hang slack. The even answer makes
/// the strain energy `Σ t_i² L_i / 2EA` least (Castigliano's theorem of least work; Beer & Johnston,
/// Mechanics of Materials, from memory), E A the same in all legs.
///
/// # Errors
/// No leg or more than 16, no balance with legs that only pull, vectors of no length, weights out of
/// range.
///
/// Worked value: two legs at 60 degrees to the vertical carry the whole weight each (statics).
pub fn leg_shares(
    pulls_m: &[[f64; 3]],
    up: [f64; 3],
    weight_n: f64,
) -> Result<LegShares, LiftingError> {
    check_count("legs", pulls_m.len(), (1, 16))?;
    let weight = Range::new("weight", "N", 1e-6, 1e8).check(weight_n)?;
    let long = Range::new("length of a leg", "m", 1e-3, 1000.0);
    let up = Vector3::from(up);
    let length = Range::new("length of the upward direction", "(ratio)", 1e-6, 1e6);
    let up = up / length.check(up.norm())?;
    let mut units = Vec::new();
    let mut lengths = Vec::new();
    for pull in pulls_m {
        let pull = Vector3::from(*pull);
        let l = long.check(pull.norm())?;
        units.push(pull / l);
        lengths.push(l);
    }
    shares(&units, &lengths, &(up * weight))
}

pub(in super::super) fn shares(
    units: &[Vector3<f64>],
    lengths: &[f64],
    lift: &Vector3<f64>,
) -> Result<LegShares, LiftingError> {
    let n = units.len();
    let (mut least, mut most) = (vec![f64::INFINITY; n], vec![0.0_f64; n]);
    let mut worst_push = (0, 0.0);
    let mut any = false;
    for mask in 1_u32..(1 << n) {
        if mask.count_ones() > 3 {
            continue;
        }
        let set: Vec<usize> = (0..n).filter(|i| mask & (1 << i) != 0).collect();
        let Some(t) = solve(units, &set, lift) else { continue };
        for (&i, &t) in set.iter().zip(t.iter()) {
            if t < worst_push.1 {
                worst_push = (i, t);
            }
        }
        if t.iter().any(|&t| t < -1e-9 * lift.norm()) {
            continue;
        }
        any = true;
        for i in 0..n {
            let here = set.iter().position(|&k| k == i).map_or(0.0, |p| t[p].max(0.0));
            least[i] = least[i].min(here);
            most[i] = most[i].max(here);
        }
    }
    if !any {
        let (number, force_n) = worst_push;
        return Err(LiftingError::WrongWay { what: "leg", number, force_n });
    }
    Ok(LegShares { even_n: even(units, lengths, lift), least_n: least, most_n: most })
}

/// The one balance of a set of legs, where it has one.
fn solve(units: &[Vector3<f64>], set: &[usize], lift: &Vector3<f64>) -> Option<DVector<f64>> {
    let columns = DMatrix::from_fn(3, set.len(), |r, c| units[set[c]][r]);
    let svd = columns.clone().svd(true, true);
    if svd.singular_values.min() < 1e-9 {
        return None;
    }
    let right = DVector::from_iterator(3, lift.iter().copied());
    let t = svd.solve(&right, 1e-12).ok()?;
    ((&columns * &t - right).norm() < 1e-7 * lift.norm()).then_some(t)
}

/// Least work with legs that only pull: a leg that would push is left out, the worst first.
///
/// From stationarity, `t = D Aᵀ μ` with `D = diag(1/L)` and `A D Aᵀ μ = lift`.
fn even(units: &[Vector3<f64>], lengths: &[f64], lift: &Vector3<f64>) -> Vec<f64> {
    let mut out = vec![false; units.len()];
    loop {
        let mut stiff = Matrix3::zeros();
        for ((u, l), _) in units.iter().zip(lengths).zip(&out).filter(|(_, out)| !**out) {
            stiff += u * u.transpose() / *l;
        }
        let mu = stiff.svd(true, true).solve(lift, 1e-12).unwrap_or_else(|_| Vector3::zeros());
        let t: Vec<f64> = units
            .iter()
            .zip(lengths)
            .zip(&out)
            .map(|((u, l), out)| if *out { 0.0 } else { u.dot(&mu) / l })
            .collect();
        let worst = (0..t.len()).min_by(|&a, &b| t[a].total_cmp(&t[b]));
        match worst {
            Some(i) if t[i] < -1e-9 * lift.norm() => out[i] = true,
            _ => return t.iter().map(|t| t.max(0.0)).collect(),
        }
    }
}
