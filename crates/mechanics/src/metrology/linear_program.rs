//! A small linear program and the three best fits that rest on it: the narrowest zone, the
//! largest shape below all points and the smallest above them.
//!
//! Minimum-zone, inscribed and circumscribed circles and cylinders, with the centre's shift taken
//! to first order, are linear programs in three to six unknowns with one or two constraints a
//! point. They are solved exactly, at a vertex, by the dual simplex method: start from a basis of
//! wide bounds on the unknowns, bring in the most violated constraint, drop the one that keeps the
//! multipliers from going negative. Source: Lemke, Naval Research Logistics Quarterly 1 (1954)
//! 36-47 (the method; from memory); Bland, Mathematics of Operations Research 2 (1977) 103-107
//! (the rule against cycling; from memory).

use nalgebra::{DMatrix, DVector};

use super::MetrologyError;

/// Unknowns are scaled to order one by the callers; an unknown that runs to this bound has no
/// bound of its own.
const BOUND: f64 = 1e7;
/// Violation, in scaled units, below which a constraint counts as met.
const FEASIBLE: f64 = 1e-11;

struct Vertex {
    unknowns: Vec<f64>,
    /// Constraints that hold with equality there, with their multipliers.
    active: Vec<(usize, f64)>,
}

/// Maximises `objective · x` subject to `rows[i] · x ≤ bounds[i]`.
fn maximise(
    objective: &[f64],
    rows: &[Vec<f64>],
    bounds: &[f64],
) -> Result<Vertex, MetrologyError> {
    let k = objective.len();
    let m = rows.len();
    // Constraints m..m+k are x ≤ BOUND, m+k..m+2k are −x ≤ BOUND.
    let entry = |i: usize, j: usize| match i.checked_sub(m) {
        None => rows[i][j],
        Some(e) if e < k => f64::from(u8::from(e == j)),
        Some(e) => -f64::from(u8::from(e - k == j)),
    };
    let bound = |i: usize| if i < m { bounds[i] } else { BOUND };
    let mut basis: Vec<usize> =
        (0..k).map(|j| if objective[j] >= 0.0 { m + j } else { m + k + j }).collect();
    let target = DVector::from_column_slice(objective);
    let limit = 200 + 20 * (m + k);
    let mut best = f64::INFINITY;
    let mut stalled = 0_usize;
    let mut worst = f64::INFINITY;
    for _ in 0..limit {
        let matrix = DMatrix::from_fn(k, k, |r, c| entry(basis[r], c));
        let right = DVector::from_fn(k, |r, _| bound(basis[r]));
        let factors = matrix.clone().lu();
        let transposed = matrix.transpose().lu();
        let (Some(x), Some(multipliers)) = (factors.solve(&right), transposed.solve(&target))
        else {
            return Err(MetrologyError::Undetermined {
                why: "the points do not fix the best shape",
            });
        };
        let value = target.dot(&x);
        if value < best - 1e-13 * best.abs().min(1.0) {
            best = value;
            stalled = 0;
        } else {
            stalled += 1;
        }
        let bland = stalled > 4 * k;
        let mut entering = None;
        worst = FEASIBLE;
        for i in 0..m + 2 * k {
            let left: f64 = match rows.get(i) {
                Some(row) => row.iter().zip(x.iter()).map(|(a, b)| a * b).sum(),
                None => (0..k).map(|j| entry(i, j) * x[j]).sum(),
            };
            // Bounds far out carry rounding of their own size.
            let slack = if i < m { 0.0 } else { BOUND * 1e-9 };
            if left - bound(i) > worst + slack && !basis.contains(&i) {
                entering = Some(i);
                if bland {
                    break;
                }
                worst = left - bound(i);
            }
        }
        let Some(entering) = entering else {
            if basis.iter().zip(multipliers.iter()).any(|(&i, &y)| i >= m && y.abs() > 1e-9) {
                return Err(MetrologyError::Undetermined {
                    why: "the points lie on one side, so the best shape runs away",
                });
            }
            return Ok(Vertex {
                unknowns: x.iter().copied().collect(),
                active: basis.iter().copied().zip(multipliers.iter().copied()).collect(),
            });
        };
        let column = DVector::from_fn(k, |j, _| entry(entering, j));
        let Some(direction) = transposed.solve(&column) else {
            return Err(MetrologyError::Undetermined {
                why: "the points do not fix the best shape",
            });
        };
        let leaving = (0..k)
            .filter(|&j| direction[j] > 1e-11)
            .map(|j| (multipliers[j].max(0.0) / direction[j], basis[j], j))
            .min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        let Some((_, _, leaving)) = leaving else {
            return Err(MetrologyError::Undetermined {
                why: "no shape of this kind meets all the points",
            });
        };
        basis[leaving] = entering;
    }
    Err(MetrologyError::NotConverged {
        what: "best-fit linear program",
        iterations: limit,
        residual: worst,
    })
}

/// A shape linear in its coefficients, fitted by extremes.
#[derive(Debug, Clone)]
pub(crate) struct ExtremeFit {
    pub(crate) coefficients: Vec<f64>,
    /// Half the width of the zone; zero for one-sided fits.
    pub(crate) half_width: f64,
    /// Points that touch, each with the side it touches from (+1 above, −1 below).
    pub(crate) touching: Vec<(usize, i8)>,
}

/// Which best fit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Extreme {
    /// Least half width `h` with `|y − Φβ| ≤ h`.
    NarrowestZone,
    /// Greatest first coefficient with `Φβ ≤ y`.
    LargestBelow,
    /// Least first coefficient with `Φβ ≥ y`.
    SmallestAbove,
}

/// Best fit of `y ≈ Φ β`; `basis[i]` holds the values of the shape's terms at point i, the first
/// of which is the size term.
pub(crate) fn extreme_fit(
    which: Extreme,
    basis: &[Vec<f64>],
    y: &[f64],
) -> Result<ExtremeFit, MetrologyError> {
    let k = basis.first().map_or(0, Vec::len);
    let mean = y.iter().sum::<f64>() / y.len().max(1) as f64;
    let spread = y.iter().fold(0.0_f64, |s, v| s.max((v - mean).abs()));
    let terms: Vec<f64> =
        (0..k).map(|j| basis.iter().fold(0.0_f64, |s, row| s.max(row[j].abs()))).collect();
    if terms.iter().any(|t| !t.is_finite() || *t == 0.0) {
        return Err(MetrologyError::Undetermined { why: "a term of the shape is nowhere present" });
    }
    // With all values equal any scale will do.
    let scale = if spread > 0.0 { spread } else { 1.0 };
    let zone = which == Extreme::NarrowestZone;
    let unknowns = if zone { k + 1 } else { k };
    let mut rows = Vec::new();
    let mut bounds = Vec::new();
    let mut origin = Vec::new();
    for (i, (row, value)) in basis.iter().zip(y).enumerate() {
        let scaled = (value - mean) / scale;
        let sides: &[f64] = match which {
            Extreme::NarrowestZone => &[1.0, -1.0],
            Extreme::LargestBelow => &[-1.0],
            Extreme::SmallestAbove => &[1.0],
        };
        for &side in sides {
            // side +1: y ≤ Φβ + h, that is −Φβ − h ≤ −y; side −1 the mirror of it.
            let mut left: Vec<f64> = row.iter().zip(&terms).map(|(v, t)| -side * v / t).collect();
            if zone {
                left.push(-1.0);
            }
            rows.push(left);
            bounds.push(-side * scaled);
            origin.push((i, if side > 0.0 { 1_i8 } else { -1 }));
        }
    }
    let mut objective = vec![0.0; unknowns];
    match which {
        Extreme::NarrowestZone => objective[k] = -1.0,
        Extreme::LargestBelow => objective[0] = 1.0,
        Extreme::SmallestAbove => objective[0] = -1.0,
    }
    let vertex = maximise(&objective, &rows, &bounds)?;
    let mut coefficients: Vec<f64> =
        vertex.unknowns.iter().zip(&terms).map(|(x, t)| x * scale / t).collect();
    coefficients[0] += mean / terms[0];
    Ok(ExtremeFit {
        coefficients,
        half_width: if zone { vertex.unknowns[k] * scale } else { 0.0 },
        touching: vertex
            .active
            .iter()
            .filter(|(i, multiplier)| *i < origin.len() && *multiplier > 1e-12)
            .map(|(i, _)| origin[*i])
            .collect(),
    })
}
