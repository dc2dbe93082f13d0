//! The area that supports span, and how far a point lies inside it.

use super::super::error::{LiftingError, PLACE, check_count};

/// The area spanned by supports.
#[derive(Debug, Clone, PartialEq)]
pub struct Base {
    corners: Vec<usize>,
    points: Vec<[f64; 2]>,
}

/// The area that supports span (their convex hull, by the monotone chain of Andrew 1979, from
/// memory).
///
/// # Errors
/// Fewer than 3 supports or more than 64; supports in one line; places out of range.
pub fn base_of(points_m: &[[f64; 2]]) -> Result<Base, LiftingError> {
    check_count("supports", points_m.len(), (3, 64))?;
    for p in points_m {
        PLACE.check(p[0])?;
        PLACE.check(p[1])?;
    }
    let mut order: Vec<usize> = (0..points_m.len()).collect();
    order.sort_by(|&a, &b| {
        let (a, b) = (points_m[a], points_m[b]);
        a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1]))
    });
    let half = |order: &mut dyn Iterator<Item = usize>| {
        let mut chain: Vec<usize> = Vec::new();
        for i in order {
            while let [.., a, b] = chain[..] {
                if cross(points_m[a], points_m[b], points_m[i]) <= 1e-12 {
                    chain.pop();
                } else {
                    break;
                }
            }
            chain.push(i);
        }
        chain.pop();
        chain
    };
    let mut corners = half(&mut order.iter().copied());
    corners.extend(half(&mut order.iter().rev().copied()));
    let base = Base { corners, points: points_m.to_vec() };
    let thin = base.thickness();
    if base.corners.len() < 3 || thin < 1e-3 {
        return Err(LiftingError::InLine { what: "supports", spread_m: thin });
    }
    Ok(base)
}

impl Base {
    /// The supports at its corners, anticlockwise seen from above, by their numbers from 0.
    #[must_use]
    pub fn corners(&self) -> &[usize] {
        &self.corners
    }

    /// Distance of a point inside to the nearest side, m, negative outside, and the two supports of
    /// that side.
    #[must_use]
    pub fn margin(&self, point_m: [f64; 2]) -> (f64, [usize; 2]) {
        let mut least = (f64::INFINITY, [0, 0]);
        for (i, &a) in self.corners.iter().enumerate() {
            let b = self.corners[(i + 1) % self.corners.len()];
            let (p, q) = (self.points[a], self.points[b]);
            let long = (q[0] - p[0]).hypot(q[1] - p[1]);
            let inside = cross(p, q, point_m) / long;
            if inside < least.0 {
                least = (inside, [a, b]);
            }
        }
        least
    }

    /// Width across the narrowest way, m.
    fn thickness(&self) -> f64 {
        let mut thin = f64::INFINITY;
        for (i, &a) in self.corners.iter().enumerate() {
            let b = self.corners[(i + 1) % self.corners.len()];
            let (p, q) = (self.points[a], self.points[b]);
            let long = (q[0] - p[0]).hypot(q[1] - p[1]);
            let high = self.corners.iter().map(|&c| cross(p, q, self.points[c]) / long);
            thin = thin.min(high.fold(0.0, f64::max));
        }
        if thin.is_finite() { thin } else { 0.0 }
    }
}

fn cross(o: [f64; 2], a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0])
}
