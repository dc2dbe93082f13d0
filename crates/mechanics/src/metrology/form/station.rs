//! Size and ovality at one station.

use std::f64::consts::PI;

use super::readings::Grouped;
use crate::metrology::least_squares;
use crate::metrology::{Missing, Weighted};

/// What one station shows.
#[derive(Debug, Clone, PartialEq)]
pub struct StationForm {
    /// Index of the station in the list given.
    pub station: usize,
    /// Its place along the axis.
    pub axial_m: f64,
    /// Number of readings there.
    pub count: usize,
    /// Mean of its readings, directions weighing equally, m.
    pub mean: Weighted,
    /// Index of its largest reading.
    pub largest: usize,
    /// Index of its smallest reading.
    pub smallest: usize,
    /// Largest less smallest diameter, m; repeats in a direction are averaged first.
    pub ovality: Result<Weighted, Missing>,
    /// The same from the best-fitting ellipse-like shape through all directions.
    pub harmonic_ovality: Result<HarmonicOvality, Missing>,
}

/// Ovality from the second harmonic of the diameter around the axis.
///
/// Equation: `d(θ) = d₀ + a cos 2θ + b sin 2θ` by least squares; ovality `= 2√(a² + b²)`;
/// the largest diameter lies at `½ atan2(b, a)`. Valid for three or more directions. Own
/// derivation: a two-point diameter is `r(θ) + r(θ + π)`, so its lowest harmonic is the second.
#[derive(Debug, Clone, PartialEq)]
pub struct HarmonicOvality {
    /// Largest less smallest diameter of the fitted shape, m. The weights are the derivatives;
    /// because the ovality grows in proportion to the readings' differences, they also
    /// reproduce it: `Σ wᵢ dᵢ`.
    pub ovality: Weighted,
    /// Direction of the largest diameter, 0 to π.
    pub largest_at_rad: f64,
    /// Mean diameter `d₀` of the fitted shape, m.
    pub mean: Weighted,
    /// Smallest diameter of the fitted shape in any direction, m.
    pub smallest: Weighted,
    /// Largest diameter of the fitted shape in any direction, m.
    pub largest: Weighted,
    /// Root mean square of what the shape leaves, m, on `count − 3` degrees of freedom; `None`
    /// with three readings, which any such shape fits exactly.
    pub residual_sd_m: Option<f64>,
}

pub(super) fn station_form(
    grouped: &Grouped,
    station: usize,
    axial_m: f64,
    list: &[usize],
) -> StationForm {
    let sizes = &grouped.sizes;
    let by_direction = grouped.by_direction(list);
    // `list` is not empty: a station enters the grouping with its first reading.
    let pick = |better: fn(f64, f64) -> bool| {
        list.iter().copied().fold(
            list[0],
            |best, i| {
                if better(sizes[i], sizes[best]) { i } else { best }
            },
        )
    };
    let mut weights = vec![0.0; sizes.len()];
    let mut value = 0.0;
    let first = sizes[list[0]];
    for members in &by_direction {
        let weight = 1.0 / (by_direction.len() * members.len()) as f64;
        for &i in members {
            weights[i] += weight;
            value += weight * (sizes[i] - first);
        }
    }
    StationForm {
        station,
        axial_m,
        count: list.len(),
        mean: Weighted { value: first + value, weights },
        largest: pick(|a, b| a > b),
        smallest: pick(|a, b| a < b),
        ovality: ovality(grouped, &by_direction),
        harmonic_ovality: harmonic_ovality(grouped, list),
    }
}

fn ovality(grouped: &Grouped, by_direction: &[Vec<usize>]) -> Result<Weighted, Missing> {
    if by_direction.len() < 2 {
        return Err(if grouped.direction_groups.is_some() {
            Missing::Directions { need: 2, got: by_direction.len() }
        } else {
            Missing::Readings { need: 2, got: by_direction.len() }
        });
    }
    let means: Vec<Weighted> =
        by_direction.iter().filter_map(|m| Weighted::mean_of(m, &grouped.sizes)).collect();
    let by_value = |a: &&Weighted, b: &&Weighted| a.value.total_cmp(&b.value);
    let (Some(high), Some(low)) = (means.iter().max_by(by_value), means.iter().min_by(by_value))
    else {
        return Err(Missing::Readings { need: 2, got: 0 });
    };
    let weights = high.weights.iter().zip(&low.weights).map(|(h, l)| h - l).collect();
    Ok(Weighted { value: high.value - low.value, weights })
}

fn harmonic_ovality(grouped: &Grouped, list: &[usize]) -> Result<HarmonicOvality, Missing> {
    let directions: Vec<f64> = list
        .iter()
        .map(|&i| grouped.direction(i))
        .collect::<Option<_>>()
        .ok_or(Missing::NoDirections)?;
    let distinct = grouped.by_direction(list).len();
    if distinct < 3 {
        return Err(Missing::Directions { need: 3, got: distinct });
    }
    let first = grouped.sizes[list[0]];
    let y: Vec<f64> = list.iter().map(|&i| grouped.sizes[i] - first).collect();
    let columns = [
        vec![1.0; list.len()],
        directions.iter().map(|d| (2.0 * d).cos()).collect(),
        directions.iter().map(|d| (2.0 * d).sin()).collect(),
    ];
    let solved = least_squares::solve(&columns, &y).ok_or(Missing::NotSeparable)?;
    let (mean, a, b) = (solved.coefficients[0], solved.coefficients[1], solved.coefficients[2]);
    let amplitude = a.hypot(b);
    // Below the rounding of the diameters themselves there is no shape to speak of.
    if amplitude <= 4.0 * f64::EPSILON * first {
        return Err(Missing::Nothing);
    }
    // d(2√(a²+b²)) = 2 (a da + b db) / √(a²+b²), and da = Σ Waᵢ dyᵢ.
    let spread = |mean_part: f64, amplitude_part: f64| {
        let mut weights = vec![0.0; grouped.sizes.len()];
        for (column, &i) in list.iter().enumerate() {
            let slope =
                (a * solved.weights[(1, column)] + b * solved.weights[(2, column)]) / amplitude;
            weights[i] = mean_part * solved.weights[(0, column)] + amplitude_part * slope;
        }
        let value = mean_part * (first + mean) + amplitude_part * amplitude;
        Weighted { value, weights }
    };
    let spare = list.len().saturating_sub(3);
    Ok(HarmonicOvality {
        ovality: spread(0.0, 2.0),
        largest_at_rad: (0.5 * b.atan2(a)).rem_euclid(PI),
        mean: spread(1.0, 0.0),
        smallest: spread(1.0, -1.0),
        largest: spread(1.0, 1.0),
        residual_sd_m: (spare > 0).then(|| (solved.residuals.norm_squared() / spare as f64).sqrt()),
    })
}
