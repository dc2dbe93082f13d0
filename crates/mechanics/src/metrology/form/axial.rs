//! How the size changes along the axis: taper and barrel.

use super::readings::{Grouped, SurfaceKind};
use crate::metrology::least_squares::{self, Solved};
use crate::metrology::{Missing, Weighted};

/// Taper from one end to the other.
#[derive(Debug, Clone, PartialEq)]
pub struct EndToEnd {
    /// Mean diameter at the last station less that at the first, m (stations in axial order).
    pub difference: Weighted,
    /// Distance between the two stations, m, above zero.
    pub length_m: f64,
    /// Whether both ends were compared in the same directions. If not, an ovality may pass for
    /// a taper.
    pub same_directions: bool,
}

/// Name of the shape along the axis.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AxialShape {
    /// A journal larger in the middle than at its ends.
    Barrel,
    /// A journal smaller in the middle than at its ends.
    Waist,
    /// A bore larger at its ends than in the middle.
    BellMouth,
    /// A bore larger in the middle than at its ends.
    BarrelledBore,
    /// No difference in the figures.
    Straight,
}

impl AxialShape {
    /// Names a crown (middle less mean of the ends, in diameter) by its sign.
    pub fn of(kind: SurfaceKind, crown_m: f64) -> Self {
        match kind {
            SurfaceKind::Journal if crown_m > 0.0 => Self::Barrel,
            SurfaceKind::Journal if crown_m < 0.0 => Self::Waist,
            SurfaceKind::Bore if crown_m > 0.0 => Self::BarrelledBore,
            SurfaceKind::Bore if crown_m < 0.0 => Self::BellMouth,
            _ => Self::Straight,
        }
    }
}

/// Results of the one least-squares model `d = c + s (x − xₘ) + q (x − xₘ)² + direction terms`.
pub(super) struct AxialFit {
    pub(super) size: Result<Weighted, Missing>,
    pub(super) taper: Result<Weighted, Missing>,
    pub(super) crown: Result<Weighted, Missing>,
}

pub(super) fn fit(grouped: &Grouped) -> AxialFit {
    let (low, high) = span(grouped);
    let middle = low + 0.5 * (high - low);
    let half = 0.5 * (high - low);
    // Axial places are scaled to −1..1; `half` is zero only where no axial column is used.
    let along: Vec<f64> =
        grouped.axial.iter().map(|x| if half > 0.0 { (x - middle) / half } else { 0.0 }).collect();
    let first = grouped.sizes[0];
    let y: Vec<f64> = grouped.sizes.iter().map(|d| d - first).collect();
    let solve_with = |degree: usize| -> Option<Solved> {
        let mut columns = vec![vec![1.0; y.len()]];
        for power in 1..=degree {
            columns.push(along.iter().map(|t| t.powi(power as i32)).collect());
        }
        columns.extend(direction_columns(grouped));
        least_squares::solve(&columns, &y)
    };
    let weighted = |solved: &Solved, row: usize, factor: f64, offset: f64| Weighted {
        value: offset + factor * solved.coefficients[row],
        weights: (0..y.len()).map(|i| factor * solved.weights[(row, i)]).collect(),
    };
    let straight = solve_with(if grouped.positions >= 2 { 1 } else { 0 });
    AxialFit {
        size: straight.as_ref().map(|s| weighted(s, 0, 1.0, first)).ok_or(Missing::NotSeparable),
        taper: if grouped.positions < 2 {
            Err(Missing::Stations { need: 2, got: grouped.positions })
        } else {
            straight.as_ref().map(|s| weighted(s, 1, 1.0 / half, 0.0)).ok_or(Missing::NotSeparable)
        },
        crown: if grouped.positions < 3 {
            Err(Missing::Stations { need: 3, got: grouped.positions })
        } else {
            // With t from −1 to 1, middle less mean of ends of q t² is −q.
            solve_with(2).map(|s| weighted(&s, 2, -1.0, 0.0)).ok_or(Missing::NotSeparable)
        },
    }
}

/// Columns that take up the ovality so that it does not pass for a taper: the second harmonic
/// with three directions or more, one contrast with two, none if unknown or only one.
fn direction_columns(grouped: &Grouped) -> Vec<Vec<f64>> {
    let Some(groups) = &grouped.direction_groups else { return Vec::new() };
    match grouped.directions.len() {
        0 | 1 => Vec::new(),
        2 => vec![groups.iter().map(|&g| if g == 0 { 1.0 } else { -1.0 }).collect()],
        _ => {
            let of_each = |function: fn(f64) -> f64| {
                let of: Vec<f64> =
                    grouped.directions.iter().map(|direction| function(2.0 * direction)).collect();
                groups.iter().map(|g| of[*g]).collect()
            };
            vec![of_each(f64::cos), of_each(f64::sin)]
        }
    }
}

fn span(grouped: &Grouped) -> (f64, f64) {
    grouped
        .axial
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), x| (lo.min(*x), hi.max(*x)))
}

pub(super) fn end_to_end(grouped: &Grouped) -> Result<EndToEnd, Missing> {
    if grouped.positions < 2 {
        return Err(Missing::Stations { need: 2, got: grouped.positions });
    }
    let (low, high) = span(grouped);
    let at = |place: f64| -> Vec<usize> {
        (0..grouped.axial.len()).filter(|&i| grouped.axial[i] == place).collect()
    };
    let first_end = grouped.by_direction(&at(low));
    let last_end = grouped.by_direction(&at(high));
    let group_of = |members: &Vec<usize>| grouped.direction_groups.as_ref().map(|g| g[members[0]]);
    let shared: Vec<(&Vec<usize>, &Vec<usize>)> = first_end
        .iter()
        .filter_map(|a| {
            let group = group_of(a)?;
            last_end.iter().find(|b| group_of(b) == Some(group)).map(|b| (a, b))
        })
        .collect();
    let same_directions = !shared.is_empty();
    let (firsts, lasts): (Vec<&Vec<usize>>, Vec<&Vec<usize>>) = if same_directions {
        shared.into_iter().unzip()
    } else {
        (first_end.iter().collect(), last_end.iter().collect())
    };
    let mut weights = vec![0.0; grouped.sizes.len()];
    for (sign, side) in [(1.0, &lasts), (-1.0, &firsts)] {
        for members in side {
            for &i in *members {
                weights[i] += sign / (side.len() * members.len()) as f64;
            }
        }
    }
    // Differences from one reading keep the digits; the weights sum to zero.
    let origin = grouped.sizes[0];
    let value = weights.iter().zip(&grouped.sizes).map(|(w, d)| w * (d - origin)).sum();
    Ok(EndToEnd { difference: Weighted { value, weights }, length_m: high - low, same_directions })
}
