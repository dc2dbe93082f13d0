//! Minimum-zone and largest inscribed circle of points in a plane.

use super::{Circle, Point, fit_circle, survey};
use crate::metrology::MetrologyError;
use crate::metrology::linear_program::{Extreme, ExtremeFit, extreme_fit};

/// A reference circle fixed by the points that touch it.
#[derive(Debug, Clone, PartialEq)]
pub struct ZoneCircle {
    /// The circle; for a minimum zone its radius is the middle of the zone.
    pub circle: Circle,
    /// Greatest less least departure of the points from it, m: the roundness.
    pub zone_m: f64,
    /// Indices of the points that fix it, rising.
    pub touching: Vec<usize>,
    /// Linear programs solved.
    pub iterations: usize,
}

const MOST_STEPS: usize = 100;

/// The two concentric circles closest together that hold all points between them.
///
/// Each step replaces the distances by their first-order change with the centre, which makes the
/// problem a linear program solved exactly; the step is shortened until the true zone shrinks.
/// It ends when the program finds no shift of the centre that would narrow the zone: the touching
/// points then satisfy the alternation condition (inner and outer in turn around the circle),
/// which is what makes a minimum zone. Source: ISO 12181-1:2011 (minimum zone reference circles;
/// from memory); the alternation condition: Ventura & Yeralan, European Journal of Operational
/// Research 41 (1989) 87-95 (from memory); own derivation of the steps.
///
/// The condition proves a least zone among neighbouring centres. [`prove_minimum_zone`] proves
/// that no other centre in a disc does better.
///
/// # Errors
/// Fewer than four points, figures not finite, points on a line, points that cover too little of
/// the circle to hold the centre; not converged.
pub fn minimum_zone_circle(points: &[Point]) -> Result<ZoneCircle, MetrologyError> {
    search(points, 4, Extreme::NarrowestZone)
}

/// The largest circle with no point inside it, its centre among the points: the reference for the
/// size of a bore that a plug must enter.
///
/// Same steps as [`minimum_zone_circle`]; it ends when the touching points surround the centre,
/// the condition of a largest inscribed circle. This is the largest near the least-squares centre,
/// as ISO 12181-1:2011 means it; for ragged points there may be a larger one elsewhere.
///
/// # Errors
/// As [`minimum_zone_circle`], from three points.
pub fn largest_inscribed_circle(points: &[Point]) -> Result<ZoneCircle, MetrologyError> {
    search(points, 3, Extreme::LargestBelow)
}

fn search(points: &[Point], need: usize, which: Extreme) -> Result<ZoneCircle, MetrologyError> {
    let (_, reach) = survey(points, need)?;
    let start = fit_circle(points)?.circle;
    // All lengths over the reach, about the least-squares centre.
    let scaled: Vec<(f64, f64)> =
        points.iter().map(|p| ((p.x_m - start.x_m) / reach, (p.y_m - start.y_m) / reach)).collect();
    let mut centre = (0.0, 0.0);
    let mut cost = cost_about(&scaled, centre, which);
    let mut gain = f64::INFINITY;
    for iterations in 1..=MOST_STEPS {
        let (fit, distances) = linearised(&scaled, centre, which)?;
        let step = (fit.coefficients[1], fit.coefficients[2]);
        // The program's own zone or radius for that step: a lower bound to first order.
        let promised = match which {
            Extreme::NarrowestZone => 2.0 * fit.half_width,
            _ => -fit.coefficients[0],
        };
        gain = cost - promised;
        let rounding = 64.0 * f64::EPSILON * distances.iter().fold(0.0_f64, |m, d| m.max(*d));
        if gain <= rounding {
            return Ok(finish(points, (start, reach, centre), &fit, (which, iterations)));
        }
        let mut share = 1.0;
        let mut moved = false;
        for _ in 0..50 {
            let next = (centre.0 + share * step.0, centre.1 + share * step.1);
            let next_cost = cost_about(&scaled, next, which);
            if next_cost < cost {
                (centre, cost, moved) = (next, next_cost, true);
                break;
            }
            share *= 0.5;
        }
        if !moved {
            // No shorter step helps: the promise was rounding if it is small beside it.
            if gain <= 1e3 * rounding {
                return Ok(finish(points, (start, reach, centre), &fit, (which, iterations)));
            }
            break;
        }
    }
    Err(MetrologyError::NotConverged {
        what: "reference circle",
        iterations: MOST_STEPS,
        residual: gain * reach,
    })
}

/// Zone width, or minus the inscribed radius, about a centre.
fn cost_about(points: &[(f64, f64)], centre: (f64, f64), which: Extreme) -> f64 {
    let (mut least, mut greatest) = (f64::INFINITY, 0.0_f64);
    for p in points {
        let d = (p.0 - centre.0).hypot(p.1 - centre.1);
        least = least.min(d);
        greatest = greatest.max(d);
    }
    match which {
        Extreme::NarrowestZone => greatest - least,
        _ => -least,
    }
}

/// Best fit of `d ≈ ρ + u·s` at a centre: a centre shifted by s brings each distance down by u·s.
fn linearised(
    points: &[(f64, f64)],
    centre: (f64, f64),
    which: Extreme,
) -> Result<(ExtremeFit, Vec<f64>), MetrologyError> {
    let mut basis = Vec::with_capacity(points.len());
    let mut distances = Vec::with_capacity(points.len());
    for p in points {
        let (dx, dy) = (p.0 - centre.0, p.1 - centre.1);
        let d = dx.hypot(dy);
        if d == 0.0 {
            return Err(MetrologyError::Undetermined { why: "a point lies at the centre" });
        }
        basis.push(vec![1.0, dx / d, dy / d]);
        distances.push(d);
    }
    Ok((extreme_fit(which, &basis, &distances)?, distances))
}

fn finish(
    points: &[Point],
    frame: (Circle, f64, (f64, f64)),
    fit: &ExtremeFit,
    how: (Extreme, usize),
) -> ZoneCircle {
    let (start, reach, centre) = frame;
    let (which, iterations) = how;
    let at = |radius_m| Circle {
        x_m: start.x_m + reach * centre.0,
        y_m: start.y_m + reach * centre.1,
        radius_m,
    };
    let bare = at(0.0);
    let (mut least, mut greatest) = (f64::INFINITY, 0.0_f64);
    for &p in points {
        let d = bare.departure_m(p);
        least = least.min(d);
        greatest = greatest.max(d);
    }
    let mut touching: Vec<usize> = fit.touching.iter().map(|(i, _)| *i).collect();
    touching.sort_unstable();
    touching.dedup();
    ZoneCircle {
        circle: at(match which {
            Extreme::NarrowestZone => 0.5 * (least + greatest),
            _ => least,
        }),
        zone_m: greatest - least,
        touching,
        iterations,
    }
}

/// What was proved about all centres in a disc.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ZoneProof {
    /// No circle whose centre lies in the disc has a zone narrower than this, m.
    pub no_narrower_than_m: f64,
    /// Radius of the disc around the zone's centre, m.
    pub disc_radius_m: f64,
    /// Squares looked at.
    pub squares: usize,
}

/// How far to go in proving a minimum zone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ZoneSearch {
    /// Stop when no zone narrower by more than this is possible, m, above zero.
    pub gap_m: f64,
    /// Stop after this many squares of centres; each costs one pass over the points.
    pub most_squares: usize,
}

/// Proves how far a zone is from the least for all centres within half a radius of its own.
///
/// The zone about a centre changes by at most twice the shift of the centre, because every
/// distance changes by at most the shift. So a square of centres with half diagonal h holds none
/// with a zone below (zone at its middle) − 2h. Squares that cannot beat the zone are dropped,
/// the others quartered, the most promising first, until the gap is closed or the number of squares
/// is used up: the bound returned holds either way. Own derivation (branch and bound).
///
/// # Errors
/// As [`minimum_zone_circle`]; a gap not above zero.
pub fn prove_minimum_zone(
    points: &[Point],
    zone: &ZoneCircle,
    search: &ZoneSearch,
) -> Result<ZoneProof, MetrologyError> {
    survey(points, 3)?;
    crate::metrology::error::positive("gap", search.gap_m, "m")?;
    crate::metrology::error::positive("radius", zone.circle.radius_m, "m")?;
    let disc_radius_m = 0.5 * zone.circle.radius_m;
    let about = |x: f64, y: f64| {
        Circle { x_m: zone.circle.x_m + x, y_m: zone.circle.y_m + y, radius_m: 0.0 }.zone_m(points)
    };
    let bound = |x: f64, y: f64, half: f64| about(x, y) - 2.0 * half * std::f64::consts::SQRT_2;
    let mut open = std::collections::BinaryHeap::new();
    open.push(Square {
        bound: bound(0.0, 0.0, disc_radius_m),
        x: 0.0,
        y: 0.0,
        half: disc_radius_m,
    });
    let mut squares = 1;
    // Squares that cannot beat the zone by more than the gap are dropped, so the least bound of
    // what is left, or zone − gap if nothing is, holds for the whole disc.
    let target = zone.zone_m - search.gap_m;
    while let Some(square) = open.pop() {
        if square.bound >= target {
            return Ok(ZoneProof { no_narrower_than_m: target, disc_radius_m, squares });
        }
        if squares + 4 > search.most_squares {
            return Ok(ZoneProof {
                no_narrower_than_m: square.bound.max(0.0),
                disc_radius_m,
                squares,
            });
        }
        let half = 0.5 * square.half;
        for (sx, sy) in [(-1.0, -1.0), (-1.0, 1.0), (1.0, -1.0), (1.0, 1.0)] {
            let (x, y) = (square.x + sx * half, square.y + sy * half);
            squares += 1;
            open.push(Square { bound: bound(x, y, half), x, y, half });
        }
    }
    Ok(ZoneProof { no_narrower_than_m: target, disc_radius_m, squares })
}

/// A square of centres, ordered so that the least bound comes out of the heap first.
struct Square {
    bound: f64,
    x: f64,
    y: f64,
    half: f64,
}

impl PartialEq for Square {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}
impl Eq for Square {}
impl PartialOrd for Square {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Square {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        other.bound.total_cmp(&self.bound)
    }
}
