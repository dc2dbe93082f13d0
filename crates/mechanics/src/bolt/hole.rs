//! What the readings say of one hole: size, roundness, taper, bell-mouth.

use super::BoltError;
use super::error::need;

/// One two-point reading of a hole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HoleReading {
    /// Depth from the member's head-side face (m).
    pub depth_m: f64,
    /// Direction of the diameter read (rad), from the datum direction of the member.
    pub direction_rad: f64,
    /// The diameter read (m).
    pub diameter_m: f64,
}

/// Standard uncertainty of the gauge the hole was read with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GaugeUncertainty {
    /// Own part of each reading: repeatability (m).
    pub own_u_m: f64,
    /// Part that all readings share: the gauge's setting and calibration (m).
    pub shared_u_m: f64,
}

/// The hole at one depth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StationForm {
    /// Depth from the member's head-side face (m).
    pub depth_m: f64,
    /// Mean of the readings (m).
    pub mean_m: f64,
    /// Smallest reading (m).
    pub min_m: f64,
    /// Largest reading (m).
    pub max_m: f64,
    /// Largest less smallest reading (m); `None` with one direction only. A two-point gauge
    /// cannot see odd lobes: three equal humps read as round.
    pub out_of_round_m: Option<f64>,
    /// Direction of the long axis (rad, 0 to pi); `None` unless read in three directions or
    /// more, or when the hole is round.
    pub long_axis_rad: Option<f64>,
}

/// One hole, in figures.
#[derive(Debug, Clone, PartialEq)]
pub struct HoleForm {
    /// Length of the hole (m).
    pub length_m: f64,
    /// Size: mean over the length, straight between stations, carried level to the faces (m).
    pub size_m: f64,
    /// Standard uncertainty of the size (m).
    pub size_u_m: f64,
    /// Smallest reading of all (m).
    pub min_m: f64,
    /// Largest reading of all (m).
    pub max_m: f64,
    /// Greatest out-of-round of the stations (m); `None` when no station has two directions.
    pub out_of_round_m: Option<f64>,
    /// Growth of the diameter over the whole length from the head side, least squares through
    /// the station means (m); negative when it closes; `None` with one station.
    pub taper_m: Option<f64>,
    /// How much the head-side mouth is larger than the middle, taper taken out (m); `None` under
    /// three stations.
    pub bell_head_m: Option<f64>,
    /// How much the far mouth is larger than the middle, taper taken out (m); `None` under three
    /// stations.
    pub bell_far_m: Option<f64>,
    /// The stations, head side first.
    pub stations: Vec<StationForm>,
}

impl HoleForm {
    /// The form of a hole still to be made true: one size from end to end, as a reamer is
    /// expected to leave it. Read the hole afterwards and use [`hole_form`].
    ///
    /// # Errors
    /// [`BoltError::BadNumber`].
    pub fn expected_true(size_m: f64, length_m: f64, size_u_m: f64) -> Result<Self, BoltError> {
        let at = |depth_m| HoleReading { depth_m, direction_rad: 0.0, diameter_m: size_m };
        let gauge = GaugeUncertainty { own_u_m: 0.0, shared_u_m: size_u_m };
        hole_form(&[at(0.0), at(length_m)], length_m, gauge)
    }

    /// Mean diameter at a depth (m), straight between stations, level beyond them.
    pub fn mean_at_m(&self, depth_m: f64) -> f64 {
        let after = self.stations.partition_point(|s| s.depth_m < depth_m);
        match (after.checked_sub(1).and_then(|i| self.stations.get(i)), self.stations.get(after)) {
            (Some(a), Some(b)) => {
                let t = (depth_m - a.depth_m) / (b.depth_m - a.depth_m);
                a.mean_m + (b.mean_m - a.mean_m) * t
            }
            (Some(only), None) | (None, Some(only)) => only.mean_m,
            (None, None) => self.size_m,
        }
    }
}

/// The form of a hole from its readings.
///
/// Per depth (readings within a micrometre of depth belong together): mean, extremes,
/// out-of-round `max - min`, and with three directions or more the long axis of the two-lobed
/// part, from the least-squares fit `d = m + a cos 2t + b sin 2t`: `t = atan2(b, a)/2`. Along
/// the depth: size is the mean over the length; taper the slope of the least-squares line times
/// the length; bell-mouth the mouth's mean above the straight line drawn through the inner
/// stations' mean with that slope. The readings share one gauge: `u^2 = shared^2 + own^2/n`.
///
/// Valid range: at least one reading; directions in any turn. Source: ISO 4292:1985 for what a
/// two-point reading shows (from memory); the rest own, least squares.
///
/// # Errors
/// [`BoltError::TooFew`], [`BoltError::TooMany`] above 10 000 readings, [`BoltError::BadNumber`].
pub fn hole_form(
    readings: &[HoleReading],
    length_m: f64,
    gauge: GaugeUncertainty,
) -> Result<HoleForm, BoltError> {
    let GaugeUncertainty { own_u_m, shared_u_m } = gauge;
    if readings.is_empty() {
        return Err(BoltError::TooFew { what: "hole readings", given: 0, least: 1 });
    }
    if readings.len() > 10_000 {
        let given = readings.len();
        return Err(BoltError::TooMany { what: "hole readings", given, most: 10_000 });
    }
    need("length of the hole", length_m, "m", length_m > 0.0, "above 0")?;
    need("own uncertainty of a reading", own_u_m, "m", own_u_m >= 0.0, "not negative")?;
    need("shared uncertainty", shared_u_m, "m", shared_u_m >= 0.0, "not negative")?;
    for r in readings {
        let depth = r.depth_m;
        let within = (-1e-9..=length_m * (1.0 + 1e-9)).contains(&depth);
        need("depth of a reading", depth, "m", within, "within the hole's length")?;
        need("diameter read", r.diameter_m, "m", r.diameter_m > 0.0, "above 0")?;
        need("direction of a reading", r.direction_rad, "rad", true, "a number")?;
    }
    let mut sorted = readings.to_vec();
    sorted.sort_by(|a, b| a.depth_m.total_cmp(&b.depth_m));
    let stations: Vec<StationForm> =
        sorted.chunk_by(|a, b| (a.depth_m - b.depth_m).abs() < 1e-6).map(station_form).collect();

    let along: Vec<(f64, f64)> = stations.iter().map(|s| (s.depth_m, s.mean_m)).collect();
    let slope = (along.len() > 1).then(|| least_squares_slope(&along));
    let (bell_head_m, bell_far_m) = bells(&along, slope);
    let extreme = |pick: fn(f64, f64) -> f64, start: f64| {
        readings.iter().map(|r| r.diameter_m).fold(start, pick)
    };
    let n = readings.len() as f64;
    Ok(HoleForm {
        length_m,
        size_m: mean_along(&along, length_m),
        size_u_m: (shared_u_m.powi(2) + own_u_m.powi(2) / n).sqrt(),
        min_m: extreme(f64::min, f64::INFINITY),
        max_m: extreme(f64::max, 0.0),
        out_of_round_m: stations.iter().filter_map(|s| s.out_of_round_m).reduce(f64::max),
        taper_m: slope.map(|s| s * length_m),
        bell_head_m,
        bell_far_m,
        stations,
    })
}

fn station_form(group: &[HoleReading]) -> StationForm {
    let n = group.len() as f64;
    let mean_m = group.iter().map(|r| r.diameter_m).sum::<f64>() / n;
    let min_m = group.iter().map(|r| r.diameter_m).fold(f64::INFINITY, f64::min);
    let max_m = group.iter().map(|r| r.diameter_m).fold(0.0, f64::max);
    // Diameters repeat every half turn: 0 and pi are one direction.
    let mut turns: Vec<f64> =
        group.iter().map(|r| r.direction_rad.rem_euclid(std::f64::consts::PI)).collect();
    turns.sort_by(f64::total_cmp);
    turns.dedup_by(|a, b| (*a - *b).abs() < 1e-3);
    let directions = turns.len();
    let out_of_round_m = (directions >= 2).then_some(max_m - min_m);
    let long_axis_rad = if directions >= 3 { long_axis(group) } else { None };
    let depth_m = group.iter().map(|r| r.depth_m).sum::<f64>() / n;
    StationForm { depth_m, mean_m, min_m, max_m, out_of_round_m, long_axis_rad }
}

/// Long axis of the two-lobed part, by the normal equations of `m + a cos 2t + b sin 2t`.
fn long_axis(group: &[HoleReading]) -> Option<f64> {
    let mut normal = nalgebra::Matrix3::<f64>::zeros();
    let mut right = nalgebra::Vector3::<f64>::zeros();
    let datum = group[0].diameter_m;
    for r in group {
        let (sin, cos) = (2.0 * r.direction_rad).sin_cos();
        let row = nalgebra::Vector3::new(1.0, cos, sin);
        normal += row * row.transpose();
        right += row * (r.diameter_m - datum);
    }
    let fit = normal.lu().solve(&right)?;
    let (a, b) = (fit[1], fit[2]);
    // A tenth of a micrometre of ovality has no direction worth naming.
    if a.hypot(b) <= 0.5e-7 {
        return None;
    }
    Some((0.5 * b.atan2(a)).rem_euclid(std::f64::consts::PI))
}

fn least_squares_slope(points: &[(f64, f64)]) -> f64 {
    let n = points.len() as f64;
    let (mx, my) = points.iter().fold((0.0, 0.0), |(x, y), p| (x + p.0 / n, y + p.1 / n));
    let (sxy, sxx) = points.iter().fold((0.0, 0.0), |(xy, xx), p| {
        (xy + (p.0 - mx) * (p.1 - my), xx + (p.0 - mx) * (p.0 - mx))
    });
    if sxx > 0.0 { sxy / sxx } else { 0.0 }
}

fn bells(along: &[(f64, f64)], slope: Option<f64>) -> (Option<f64>, Option<f64>) {
    let (Some(slope), true) = (slope, along.len() >= 3) else { return (None, None) };
    let inner = &along[1..along.len() - 1];
    let n = inner.len() as f64;
    let (mx, my) = inner.iter().fold((0.0, 0.0), |(x, y), p| (x + p.0 / n, y + p.1 / n));
    let above = |p: (f64, f64)| p.1 - (my + slope * (p.0 - mx));
    (Some(above(along[0])), Some(above(along[along.len() - 1])))
}

fn mean_along(along: &[(f64, f64)], length_m: f64) -> f64 {
    let (first, last) = (along[0], along[along.len() - 1]);
    let mut area = first.1 * first.0.max(0.0) + last.1 * (length_m - last.0).max(0.0);
    for pair in along.windows(2) {
        area += 0.5 * (pair[0].1 + pair[1].1) * (pair[1].0 - pair[0].0);
    }
    area / length_m
}
