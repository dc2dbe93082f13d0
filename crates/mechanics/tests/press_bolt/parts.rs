//! What the bolt tests share: comparisons and made-up holes.

use std::f64::consts::PI;

use mechanics::bolt::{BoltError, Circle, GaugeUncertainty, HoleForm, HoleReading, hole_form};

pub(crate) fn near(got: f64, expected: f64, relative: f64) {
    assert!((got / expected - 1.0).abs() < relative, "got {got}, expected {expected}");
}

pub(crate) fn close(got: f64, expected: f64) {
    assert!((got - expected).abs() < 1e-9, "got {got}, expected {expected}");
}

pub(crate) fn reading(depth_m: f64, direction_rad: f64, diameter_m: f64) -> HoleReading {
    HoleReading { depth_m, direction_rad, diameter_m }
}

/// Readings of a hole `d(z, t) = size + taper z/l + bell at the mouths + oval cos 2(t - axis)`.
pub(crate) fn synthetic(
    size: f64,
    taper: f64,
    bell: f64,
    oval: f64,
    axis: f64,
) -> Vec<HoleReading> {
    let length = 0.060;
    let mut all = Vec::new();
    for i in 0..5 {
        let depth = length * f64::from(i) / 4.0;
        for k in 0..4 {
            let t = PI * f64::from(k) / 4.0;
            let mouth = if i == 0 || i == 4 { bell } else { 0.0 };
            let d = size
                + taper * (depth / length - 0.5)
                + mouth
                + 0.5 * oval * (2.0 * (t - axis)).cos();
            all.push(reading(depth, t, d));
        }
    }
    all
}

pub(crate) fn circle(x_m: f64, y_m: f64, diameter_m: f64) -> Circle {
    Circle { x_m, y_m, diameter_m }
}

pub(crate) fn true_hole(size_m: f64, length_m: f64) -> HoleForm {
    HoleForm::expected_true(size_m, length_m, 1e-6).unwrap()
}

pub(crate) fn read_hole(
    readings: &[HoleReading],
    length_m: f64,
    own_u_m: f64,
    shared_u_m: f64,
) -> Result<HoleForm, BoltError> {
    hole_form(readings, length_m, GaugeUncertainty { own_u_m, shared_u_m })
}
