//! The smallest circle around points in a plane.
//!
//! Incremental method (Welzl, 1991, in the iterative form of de Berg and others, Computational
//! Geometry, section 4.7, from memory) on the points of the convex hull, which are few for a
//! bore; exact up to rounding.

/// A circle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Circle {
    pub(super) centre: [f64; 2],
    pub(super) radius: f64,
}

impl Circle {
    fn holds(&self, point: &[f64; 2]) -> bool {
        distance(&self.centre, point) <= self.radius * (1.0 + 1e-13) + 1e-300
    }

    fn across(a: &[f64; 2], b: &[f64; 2]) -> Self {
        let centre = [0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])];
        Self { centre, radius: distance(&centre, a).max(distance(&centre, b)) }
    }

    /// Through three points; across the two furthest apart when they lie on a line.
    fn through(a: &[f64; 2], b: &[f64; 2], c: &[f64; 2]) -> Self {
        let (bx, by) = (b[0] - a[0], b[1] - a[1]);
        let (cx, cy) = (c[0] - a[0], c[1] - a[1]);
        let twice_area = 2.0 * (bx * cy - by * cx);
        let (b2, c2) = (bx * bx + by * by, cx * cx + cy * cy);
        let x = (cy * b2 - by * c2) / twice_area;
        let y = (bx * c2 - cx * b2) / twice_area;
        if x.is_finite() && y.is_finite() {
            let centre = [a[0] + x, a[1] + y];
            let radius = distance(&centre, a).max(distance(&centre, b)).max(distance(&centre, c));
            return Self { centre, radius };
        }
        let pairs = [(a, b), (a, c), (b, c)].map(|(p, q)| Self::across(p, q));
        pairs
            .into_iter()
            .fold(pairs[0], |best, next| if next.radius > best.radius { next } else { best })
    }
}

/// The smallest circle that holds all points. Empty input gives a circle of no size at the origin.
pub(super) fn smallest_circle(points: &[[f64; 2]]) -> Circle {
    let hull = convex_hull(points);
    let Some(first) = hull.first() else { return Circle { centre: [0.0; 2], radius: 0.0 } };
    let mut circle = Circle { centre: *first, radius: 0.0 };
    for (i, a) in hull.iter().enumerate() {
        if circle.holds(a) {
            continue;
        }
        circle = Circle { centre: *a, radius: 0.0 };
        for (j, b) in hull[..i].iter().enumerate() {
            if circle.holds(b) {
                continue;
            }
            circle = Circle::across(a, b);
            for c in &hull[..j] {
                if !circle.holds(c) {
                    circle = Circle::through(a, b, c);
                }
            }
        }
    }
    circle
}

/// Convex hull by Andrew's monotone chain (1979), strided so that neighbours do not come one
/// after another, which keeps the incremental search quick on points of a circle.
fn convex_hull(points: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let mut sorted = points.to_vec();
    sorted.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    sorted.dedup();
    if sorted.len() < 3 {
        return sorted;
    }
    let turn = |o: &[f64; 2], a: &[f64; 2], b: &[f64; 2]| {
        (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0])
    };
    let mut hull: Vec<[f64; 2]> = Vec::with_capacity(sorted.len());
    for pass in 0..2 {
        let start = hull.len();
        let chain: Box<dyn Iterator<Item = &[f64; 2]>> =
            if pass == 0 { Box::new(sorted.iter()) } else { Box::new(sorted.iter().rev()) };
        for point in chain {
            while hull.len() >= start + 2
                && turn(&hull[hull.len() - 2], &hull[hull.len() - 1], point) <= 0.0
            {
                hull.pop();
            }
            hull.push(*point);
        }
        hull.pop();
    }
    let stride = (hull.len() / 3).max(1);
    (0..stride).flat_map(|first| hull.iter().skip(first).step_by(stride).copied()).collect()
}

fn distance(a: &[f64; 2], b: &[f64; 2]) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn known_circles() {
        let square = [[0.0, 0.0], [2.0, 0.0], [2.0, 2.0], [0.0, 2.0], [1.0, 1.0]];
        let circle = smallest_circle(&square);
        assert!((circle.radius - 2.0_f64.sqrt()).abs() < 1e-12);
        // An obtuse triangle is held by its longest side.
        let circle = smallest_circle(&[[0.0, 0.0], [4.0, 0.0], [2.0, 0.5]]);
        assert!((circle.radius - 2.0).abs() < 1e-12 && circle.centre == [2.0, 0.0]);
        // Points on a line, one point, none.
        assert!(
            (smallest_circle(&[[0.0, 0.0], [1.0, 1.0], [3.0, 3.0]]).radius - 4.5_f64.sqrt()).abs()
                < 1e-12
        );
        assert_eq!(smallest_circle(&[[1.0, 2.0]]).radius, 0.0);
        assert_eq!(smallest_circle(&[]).radius, 0.0);
    }

    #[test]
    fn smaller_than_any_circle_nearby() {
        // A crooked ring: no centre near the one found has a smaller reach.
        let points: Vec<[f64; 2]> = (0..500)
            .map(|i| {
                let t = f64::from(i) * 0.7;
                let r = 1.0 + 0.05 * (3.0 * t).cos() + 0.02 * (5.0 * t + 1.0).sin();
                [r * t.cos() + 0.3, r * t.sin() - 0.2]
            })
            .collect();
        let circle = smallest_circle(&points);
        let reach =
            |centre: [f64; 2]| points.iter().map(|p| distance(&centre, p)).fold(0.0, f64::max);
        assert!((reach(circle.centre) - circle.radius).abs() < 1e-12);
        for i in 0..64 {
            let t = f64::from(i) * 0.1;
            for step in [1e-6, 1e-3, 0.1] {
                let beside = [circle.centre[0] + step * t.cos(), circle.centre[1] + step * t.sin()];
                assert!(reach(beside) > circle.radius);
            }
        }
    }
}
