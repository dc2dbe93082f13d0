//! The smallest circle that holds all points.

use super::{Circle, Point, survey};
use crate::metrology::MetrologyError;

/// The smallest circle around all points: the minimum circumscribed circle, the reference for the
/// size of a journal that must enter a ring.
///
/// Exact, by adding points one at a time and, when one falls outside, rebuilding the circle with
/// it on the rim. Source: Welzl, Lecture Notes in Computer Science 555 (1991) 359-370, in the
/// nested-loop form. The points are taken in a fixed mixed order, so the expected time is linear
/// and the result always the same.
///
/// # Errors
/// Fewer than two points, figures not finite, all points alike.
pub fn smallest_circumscribed_circle(points: &[Point]) -> Result<Circle, MetrologyError> {
    let (mean, reach) = survey(points, 2)?;
    let mut p: Vec<(f64, f64)> =
        points.iter().map(|q| ((q.x_m - mean.x_m) / reach, (q.y_m - mean.y_m) / reach)).collect();
    mix(&mut p);
    // (x, y, r); a point counts as inside if no further out than rounding.
    let inside = |c: (f64, f64, f64), q: (f64, f64)| {
        (q.0 - c.0).hypot(q.1 - c.1) <= c.2 * (1.0 + 1e-14) + 1e-15
    };
    let two = |a: (f64, f64), b: (f64, f64)| {
        (0.5 * (a.0 + b.0), 0.5 * (a.1 + b.1), 0.5 * (a.0 - b.0).hypot(a.1 - b.1))
    };
    let mut circle = (p[0].0, p[0].1, 0.0);
    for i in 1..p.len() {
        if inside(circle, p[i]) {
            continue;
        }
        circle = (p[i].0, p[i].1, 0.0);
        for j in 0..i {
            if inside(circle, p[j]) {
                continue;
            }
            circle = two(p[i], p[j]);
            for k in 0..j {
                if !inside(circle, p[k]) {
                    // Three points on a line cannot call for a circle through all of them: the
                    // outer two hold the third. Rounding may say otherwise; then keep the circle.
                    if let Some(through) = through_three(p[i], p[j], p[k]) {
                        circle = through;
                    }
                }
            }
        }
    }
    Ok(Circle {
        x_m: mean.x_m + reach * circle.0,
        y_m: mean.y_m + reach * circle.1,
        radius_m: reach * circle.2,
    })
}

fn through_three(a: (f64, f64), b: (f64, f64), c: (f64, f64)) -> Option<(f64, f64, f64)> {
    let (bx, by) = (b.0 - a.0, b.1 - a.1);
    let (cx, cy) = (c.0 - a.0, c.1 - a.1);
    let cross = 2.0 * (bx * cy - by * cx);
    if cross.abs() < 1e-15 {
        return None;
    }
    let (b2, c2) = (bx * bx + by * by, cx * cx + cy * cy);
    let (ux, uy) = ((cy * b2 - by * c2) / cross, (bx * c2 - cx * b2) / cross);
    Some((a.0 + ux, a.1 + uy, ux.hypot(uy)))
}

/// Fisher-Yates with a fixed small generator: an order that no neat list of points can spoil.
fn mix(points: &mut [(f64, f64)]) {
    let mut state = 0x9E37_79B9_7F4A_7C15_u64;
    for i in (1..points.len()).rev() {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        let j = (state % (i as u64 + 1)) as usize;
        points.swap(i, j);
    }
}
