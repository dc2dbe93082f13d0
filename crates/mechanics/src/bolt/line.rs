//! The line of the holes: what goes through them all, what cleans them all up.

use super::BoltError;
use super::error::need;

/// One member's hole as a circle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Circle {
    /// Centre, x (m), in a frame common to all members.
    pub x_m: f64,
    /// Centre, y (m).
    pub y_m: f64,
    /// Diameter (m).
    pub diameter_m: f64,
}

/// A circle found for the line of holes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LineCircle {
    /// Centre, x (m).
    pub x_m: f64,
    /// Centre, y (m).
    pub y_m: f64,
    /// Diameter (m).
    pub diameter_m: f64,
}

/// How far two holes are out of line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Mismatch {
    /// By this much (m).
    Exactly(f64),
    /// The pin passes as freely as the smaller hole allows: no more than this (m).
    AtMost(f64),
}

/// The largest straight pin, square to the members, that passes all holes.
///
/// `D = 2 max over c of min over i of (r_i - |c - c_i|)`: the greatest circle inside all circles.
/// Two holes: `D = r1 + r2 - e` once the offset e exceeds `|r1 - r2|`, else the smaller hole.
///
/// Valid range: 1 to 1000 holes. Source: own; the function of c is convex, found by halving in
/// both directions to 1e-10 of the spread of the centres.
///
/// # Errors
/// [`BoltError::NothingPasses`], [`BoltError::TooFew`], [`BoltError::TooMany`],
/// [`BoltError::BadNumber`].
pub fn go_through(holes: &[Circle]) -> Result<LineCircle, BoltError> {
    check(holes)?;
    let best = least_greatest(holes, -0.5);
    if best.diameter_m >= 0.0 {
        return Err(BoltError::NothingPasses { short_m: best.diameter_m });
    }
    Ok(LineCircle { diameter_m: -best.diameter_m, ..best })
}

/// The smallest reamer that cleans up all holes in line: the least circle round all circles.
///
/// `D = 2 min over c of max over i of (r_i + |c - c_i|)`. Two holes: `D = r1 + r2 + e` once the
/// offset e exceeds `|r1 - r2|`, else the larger hole. The centre is where the reamer's axis must
/// lie for it: a reamer follows the holes unless it is guided.
///
/// Source, range and errors as [`go_through`], but something always cleans up.
///
/// # Errors
/// [`BoltError::TooFew`], [`BoltError::TooMany`], [`BoltError::BadNumber`].
pub fn clean_up(holes: &[Circle]) -> Result<LineCircle, BoltError> {
    check(holes)?;
    Ok(least_greatest(holes, 0.5))
}

/// How far two holes are out of line, from the largest pin that goes through both.
///
/// `e = (d1 + d2)/2 - D` when the pin is smaller than the smaller hole; a pin as large as the
/// smaller hole says only that `e <= |d1 - d2|/2`.
///
/// Valid range: two holes. Three or more: take them in pairs. Source: own, plane geometry.
///
/// # Errors
/// [`BoltError::BadNumber`] for sizes that are not positive, or a pin larger than either hole.
pub fn mismatch_from_pin(
    first_m: f64,
    second_m: f64,
    largest_pin_m: f64,
) -> Result<Mismatch, BoltError> {
    need("first hole", first_m, "m", first_m > 0.0, "above 0")?;
    need("second hole", second_m, "m", second_m > 0.0, "above 0")?;
    let smaller = first_m.min(second_m);
    // A micrometre of play: gauges disagree by more.
    let passes = largest_pin_m > 0.0 && largest_pin_m <= smaller + 1e-6;
    need("largest pin", largest_pin_m, "m", passes, "above 0 and not above the smaller hole")?;
    if largest_pin_m >= smaller - 1e-9 {
        return Ok(Mismatch::AtMost(0.5 * (first_m - second_m).abs()));
    }
    Ok(Mismatch::Exactly(0.5 * (first_m + second_m) - largest_pin_m))
}

/// Minimum over the plane of `max (|c - c_i| + sign d_i)`, given back as a doubled figure.
pub(super) fn least_greatest(holes: &[Circle], sign: f64) -> LineCircle {
    let bounds = |of: fn(&Circle) -> f64| {
        holes
            .iter()
            .map(of)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), v| (lo.min(v), hi.max(v)))
    };
    let greatest = |x: f64, y: f64| {
        holes
            .iter()
            .map(|h| (x - h.x_m).hypot(y - h.y_m) + sign * h.diameter_m)
            .fold(f64::NEG_INFINITY, f64::max)
    };
    let (y_lo, y_hi) = bounds(|h| h.y_m);
    let along_y = |x: f64| golden(y_lo, y_hi, |y| greatest(x, y));
    let (x_lo, x_hi) = bounds(|h| h.x_m);
    let (x_m, _) = golden(x_lo, x_hi, |x| along_y(x).1);
    let (y_m, value) = along_y(x_m);
    LineCircle { x_m, y_m, diameter_m: 2.0 * value }
}

/// Golden-section search of a convex function: 60 sections leave 3e-13 of the interval.
fn golden(mut lo: f64, mut hi: f64, f: impl Fn(f64) -> f64) -> (f64, f64) {
    let ratio = 0.5 * (5f64.sqrt() - 1.0);
    let (mut a, mut b) = (hi - ratio * (hi - lo), lo + ratio * (hi - lo));
    let (mut fa, mut fb) = (f(a), f(b));
    for _ in 0..60 {
        if fa <= fb {
            hi = b;
            (b, fb) = (a, fa);
            a = hi - ratio * (hi - lo);
            fa = f(a);
        } else {
            lo = a;
            (a, fa) = (b, fb);
            b = lo + ratio * (hi - lo);
            fb = f(b);
        }
    }
    if fa <= fb { (a, fa) } else { (b, fb) }
}

fn check(holes: &[Circle]) -> Result<(), BoltError> {
    if holes.is_empty() {
        return Err(BoltError::TooFew { what: "holes", given: 0, least: 1 });
    }
    if holes.len() > 1000 {
        return Err(BoltError::TooMany { what: "holes", given: holes.len(), most: 1000 });
    }
    for h in holes {
        need("centre of a hole", h.x_m, "m", h.x_m.abs() < 100.0, "within 100 m")?;
        need("centre of a hole", h.y_m, "m", h.y_m.abs() < 100.0, "within 100 m")?;
        need("diameter of a hole", h.diameter_m, "m", h.diameter_m > 0.0, "above 0")?;
    }
    Ok(())
}
